package inspect_test

import (
	"testing"

	"axleend.example/inspect"
	"axleend.example/inspect/report"
	"axleend.example/rules"
	"axleend.example/rules/packs"
)

type (
	lows = map[string]report.Low
	airs = map[string]report.Air
	sets = map[string]string
)

// The answers, short.
const (
	mustNotMove   = report.MustNotMove
	notAtPressure = report.NotAtThisPressure
	beforeTheTrip = report.BeforeTheTrip
	nothingFound  = report.NothingFound
)

// everydays are the everyday visits, by the subject that they are about.
func everydays() []everyday {
	var out []everyday
	for _, list := range [...][]everyday{
		warmthVisits(), gaugeVisits(), pastVisits(), fallVisits(), loadVisits(), scaleVisits(), flatVisits(), softVisits(), towedVisits(), airVisits(), driveVisits(), setVisits(), hardlyVisits(),
	} {
		out = append(out, list...)
	}
	return out
}

// unweighed is a coach of which nobody knows what it carries: last set and placard
// alone say what its tires need.
func unweighed(e everyday) everyday {
	e.weighing = "none"
	if e.steer == "" {
		e.steer = "placard: 90 psi"
	}
	if e.drive == "" {
		e.drive = "placard: 105 psi"
	}
	return e
}

func warmthVisits() []everyday {
	return []everyday{
		{name: "sound/all read, weighed as driven, set by the table", table: true, drives: nothingFound,
			low: lows{"": report.NotLow}, air: airs{"": report.AirFree}, set: sets{"steer": "85 psi", "drive": "100 psi"}},
		{name: "warmth/rolled into the bay", table: true, visit: "cold: -; stood: 10 min; moved: yes", drives: nothingFound, low: lows{"": report.NotLow}},
		{name: "warmth/hot at the fuel stop", table: true, visit: "cold: -; stood: 20 min", drives: nothingFound,
			tires: map[string]string{"steer": "found: 104 psi", "drive": "found: 118 psi"}, not: lows{"": report.NotLow}, lacks: []string{"below-set at drive-left-outer"}},
		{name: "warmth/hot, on stronger tires than the placard names, no table", visit: "cold: -; stood: 20 min", every: "single: -; dual: -; service: -", drive: "placard_load_range: F", readings: "steer-left: 4100 lb; steer-right: 4020 lb; drive-left: 8760 lb; drive-right: 8200 lb",
			drives: beforeTheTrip, tires: map[string]string{"steer": "found: 104 psi", "drive": "found: 125 psi"}, lacks: []string{"load-at-found-pressure at drive-left-outer"}},
		unweighed(everyday{name: "warmth/a hot 84 of 105", visit: "cold: -; stood: 20 min", drives: mustNotMove,
			tires: map[string]string{"": "found: 112 psi", "drive-right-inner": "found: 84 psi"},
			low:   lows{"drive-right-inner": report.Flat}, air: airs{"drive-right": report.AirForbidden}}),
		{name: "warmth/in the sun makes no other tire look low", table: true, drives: nothingFound,
			tires: map[string]string{"drive": "found: 104 psi", "drive-right-outer": "found: 110 psi; in_sun: yes"}, lacks: []string{"found-spread-of-some at drive", "found-spread at drive", "pair-found-apart at drive-right"}},
		{name: "warmth/nobody said", table: true, visit: "cold: -", drives: nothingFound, low: lows{"": report.NotLow}, lines: map[string]int{"cold": 1}},
		{name: "warmth/hot, and not driven on since", table: true, visit: "cold: -; stood: 20 min; driven_since: no", drives: nothingFound,
			tires: map[string]string{"steer": "found: 104 psi", "drive": "found: 118 psi"}, not: lows{"": report.NotLow}, lacks: []string{"it was found low"}},
		{name: "warmth/fast over a short way is warm", table: true, visit: "cold: -; stood: 10 min; moved: no", drives: nothingFound, not: lows{"": report.NotLow}},
	}
}

func gaugeVisits() []everyday {
	return []everyday{
		{name: "gauge/1 psi off and set to the number", table: true, visit: "gauge_tolerance: 1 psi", drives: nothingFound,
			tires: map[string]string{"steer": "last_set: 85 psi; found: 85 psi", "drive": "last_set: 100 psi; found: 100 psi"},
			lacks: []string{"below-set at steer-left", "below-set at drive-left-outer"}},
		unweighed(everyday{name: "gauge/84.4 of 105 within its tolerance", drives: mustNotMove, tires: map[string]string{"drive-right-inner": "found: 84.4 psi"},
			air: airs{"drive-right": report.AirForbidden}}),
		unweighed(everyday{name: "gauge/84.6 of 105 beyond its tolerance", drives: beforeTheTrip, tires: map[string]string{"drive-right-inner": "found: 84.6 psi"},
			low: lows{"": report.NotLow}, has: []string{"below-set at drive-right-inner"}}),
		unweighed(everyday{name: "gauge/tolerance not written, 87 of 105", visit: "gauge_tolerance: -", drives: beforeTheTrip, tires: map[string]string{"drive-right-inner": "found: 87 psi"},
			low: lows{"drive-right-inner": report.LowAsked}, air: airs{"drive-right": report.AirNotKnown}}),
		unweighed(everyday{name: "gauge/tolerance not written, 95 of 105", visit: "gauge_tolerance: -", drives: beforeTheTrip, tires: map[string]string{"drive-right-inner": "found: 95 psi"},
			low: lows{"drive-right-inner": report.NotLow}}),
		{name: "gauge/off by more than 5 psi", table: true, visit: "gauge_tolerance: 6 psi", drives: beforeTheTrip},
	}
}

func pastVisits() []everyday {
	alike := map[string]string{"": "air_added: yes", "drive": "found: 106 psi"}
	return []everyday{
		{name: "past/nobody asked", table: true, visit: "nothing_since_set: -", drives: nothingFound, low: lows{"": report.NotLow}},
		unweighed(everyday{name: "past/20 psi added to 104", visit: "nothing_since_set: -", drives: mustNotMove,
			tires: map[string]string{"drive-right-inner": "found: 104 psi; air_added: yes; air_added_by: 20 psi"}, low: lows{"drive-right-inner": report.Flat}}),
		unweighed(everyday{name: "past/read at 84 before air was added", visit: "nothing_since_set: -", drives: mustNotMove,
			tires: map[string]string{"drive-right-inner": "found: 104 psi; air_added: yes; before_air: 84 psi"}, low: lows{"drive-right-inner": report.Flat}}),
		unweighed(everyday{name: "past/30 psi added to 70 after it was parked", visit: "nothing_since_set: -; driven_since: no", drives: mustNotMove,
			tires: map[string]string{"drive-right-inner": "found: 100 psi; air_added: yes; air_added_by: 30 psi"}, low: lows{"drive-right-inner": report.Flat}, air: airs{"drive-right": report.AirForbidden}}),
		unweighed(everyday{name: "past/2 psi added to 103 after it was parked", visit: "nothing_since_set: -; driven_since: no", drives: nothingFound, or: beforeTheTrip,
			tires: map[string]string{"drive-right-inner": "air_added: yes; air_added_by: 2 psi"}, low: lows{"drive-right-inner": report.NotLow}}),
		unweighed(everyday{name: "past/2 psi added to 105", visit: "nothing_since_set: -", drives: nothingFound, or: beforeTheTrip,
			tires: map[string]string{"drive-right-inner": "air_added: yes; air_added_by: 2 psi"}, low: lows{"drive-right-inner": report.NotLow}}),
		{name: "past/topped up all around", table: true, visit: "nothing_since_set: -", drives: nothingFound, tires: alike,
			not: lows{"": report.NotLow}, air: airs{"": report.AirFree}, has: []string{"before adding"}},
		{name: "past/one tire topped up, nobody knows by how much", table: true, visit: "nothing_since_set: -", drives: beforeTheTrip,
			tires: map[string]string{"drive-right-inner": "air_added: yes"}, low: lows{"drive-right-inner": report.LowAsked}, air: airs{"drive-right": report.AirNotKnown}},
		{name: "past/read at 60, and nobody reached its valve", table: true, drives: mustNotMove, tires: map[string]string{"drive-right-inner": "found: 60 psi; read_at: not reached"},
			low: lows{"drive-right-inner": report.Flat}, air: airs{"drive-right": report.AirForbidden}, has: []string{"Read again: its pressure"}},
		{name: "past/read at 105, and nobody reached its valve", table: true, drives: beforeTheTrip, tires: map[string]string{"drive-right-inner": "found: 105 psi; read_at: not reached"},
			not: lows{"drive-right-inner": report.NotLow}, air: airs{"drive-right": report.AirNotKnown}},
		{name: "past/one side topped up", table: true, visit: "nothing_since_set: -", drives: beforeTheTrip,
			tires: map[string]string{"drive-right": "air_added: yes"}, low: lows{"drive-right": report.LowAsked}},
		{name: "past/a monitor's low alarm", table: true, visit: "nothing_since_set: -", drives: beforeTheTrip,
			tires: map[string]string{"steer-left": "low_alarm: yes"}, low: lows{"steer-left": report.LowAsked}, air: airs{"steer-left": report.AirNotKnown}},
		{name: "past/read at 0 before, 105 now", table: true, visit: "nothing_since_set: -", drives: mustNotMove, tires: map[string]string{"drive-left-outer": "read_zero: yes"},
			low: lows{"drive-left-outer": report.Flat}, air: airs{"drive-left": report.AirForbidden}},
		{name: "past/zipper signs at full pressure", table: true, drives: mustNotMove, tires: map[string]string{"drive-left-outer": "seen: zipper signs"},
			air: airs{"drive-left": report.AirForbidden}, has: []string{"seen-zipper-signs at drive-left-outer"}, lacks: []string{"may be aired"}},
	}
}

func fallVisits() []everyday {
	winter := "last_set_on: 2026-04-01; last_set_air: 90 F; air_temperature: 30 F; stood: 150 days"
	all87 := map[string]string{"": "last_set: 110 psi; found: 87 psi"}
	return []everyday{
		unweighed(everyday{name: "fall/parked over winter, six at 87, not driven since", visit: winter + "; driven_since: no", steer: "placard: 110 psi", drive: "placard: 110 psi", tires: all87, drives: beforeTheTrip,
			not: lows{"": report.Flat}, air: airs{"": report.AirFree}}),
		unweighed(everyday{name: "fall/parked over winter, six at 87, nobody said whether it was driven", visit: winter + "; driven_since: -", steer: "placard: 110 psi", drive: "placard: 110 psi", tires: all87, drives: beforeTheTrip,
			low: lows{"": report.LowAsked}, has: []string{"fallen-alike-last-set at steer-left", "fallen-alike-placard at steer-left"}}),
		unweighed(everyday{name: "fall/one of the six at 60", visit: winter, steer: "placard: 110 psi", drive: "placard: 110 psi", drives: mustNotMove,
			tires: map[string]string{"": "last_set: 110 psi; found: 87 psi", "drive-right-outer": "found: 60 psi"}, low: lows{"drive-right-outer": report.Flat}}),
		{name: "fall/set to 60 all around, of which one lost 1", table: true, visit: winter + "; driven_since: -", drives: mustNotMove,
			tires: map[string]string{"": "last_set: 60 psi; found: 60 psi", "steer-right": "found: 59 psi"}, low: lows{"steer-left": report.Flat}, lacks: []string{"fallen-alike"}},
		unweighed(everyday{name: "fall/went down while it was parked", visit: "driven_since: -", drives: beforeTheTrip,
			tires: map[string]string{"drive-right-outer": "found: 45 psi; lowest: 105 psi; driven_since: no"}, low: lows{"drive-right-outer": report.Leaking},
			air: airs{"drive-right": report.AirNotKnown}, has: []string{"empty-after-parking at drive-right-outer", "low-after-parking at drive-right-outer"}, lacks: []string{"mate-run-low at drive-right-inner"}}),
		unweighed(everyday{name: "fall/driven on at 45", drives: mustNotMove, tires: map[string]string{"drive-right-outer": "found: 45 psi"},
			low: lows{"drive-right-outer": report.Flat}, air: airs{"drive-right": report.AirForbidden}, has: []string{"mate-run-low at drive-right-inner"}}),
		unweighed(everyday{name: "fall/went down while it was parked, against the placard", visit: "driven_since: no", drives: beforeTheTrip, tires: map[string]string{"drive": "last_set: -", "drive-right-outer": "found: 80 psi"},
			low: lows{"drive-right-outer": report.Leaking}, has: []string{"low-after-parking-placard at drive-right-outer"}}),
		unweighed(everyday{name: "fall/went down while it was parked, against its stamp", visit: "driven_since: no", drive: "placard: -", drives: beforeTheTrip, tires: map[string]string{"drive": "last_set: -; found: 110 psi", "drive-right-outer": "found: 80 psi"},
			low: lows{"drive-right-outer": report.Leaking}, has: []string{"low-after-parking-stamp at drive-right-outer"}}),
		{name: "fall/went down while it was parked, for its load", table: true, visit: "driven_since: no", drives: notAtPressure, tires: map[string]string{"drive-right-outer": "found: 75 psi"},
			low: lows{"drive-right-outer": report.Leaking}, has: []string{"low-after-parking-need at drive-right-outer"}},
		{name: "fall/driven at 60 before it was parked", table: true, visit: "driven_since: no", drives: mustNotMove,
			tires: map[string]string{"drive-right-outer": "found: 100 psi; air_added: yes; before_air: 60 psi"}, low: lows{"drive-right-outer": report.Flat}},
		unweighed(everyday{name: "fall/a whole axle empty", drives: mustNotMove, tires: map[string]string{"drive": "last_set: -; found: 80 psi", "drive-right-inner": "found: 0 psi"},
			low: lows{"drive-right-inner": report.Flat}}),
		{name: "fall/4 psi in two months", table: true, visit: "last_set_on: 2026-08-01", drives: nothingFound,
			tires: map[string]string{"steer": "last_set: 94 psi", "drive": "last_set: 109 psi"}, low: lows{"": report.NotLow}},
	}
}

func loadVisits() []everyday {
	return []everyday{
		{name: "capacity/75 is below the first row", table: true, drives: notAtPressure, tires: map[string]string{"steer-left": "found: 75 psi"},
			has: []string{"load-at-found-pressure at steer-left"}, not: lows{"steer-left": report.Flat}, air: airs{"steer-left": report.AirFree}},
		{name: "capacity/75, and set to 90 before it left", table: true, drives: beforeTheTrip, tires: map[string]string{"steer-left": "found: 75 psi", "": "left: 90 psi", "drive": "left: 105 psi"},
			lacks: []string{"load-at-found-pressure at steer-left"}},
		{name: "capacity/axle slip at the placard, no table", readings: "steer: 8100 lb; drive: 16400 lb", weighing: "scale: whole axles", drives: nothingFound,
			tires: map[string]string{"steer": "last_set: 100 psi; found: 100 psi", "drive": "last_set: 110 psi; found: 110 psi"}, set: sets{"steer": "100 psi", "drive": "110 psi"}, low: lows{"": report.NotLow}},
		{name: "capacity/more on an axle than all its tires may carry", readings: "steer: 8100 lb; drive: 18400 lb", weighing: "scale: whole axles", drives: mustNotMove,
			tires: map[string]string{"steer": "last_set: 100 psi; found: 100 psi", "drive": "last_set: 110 psi; found: 110 psi"}},
		{name: "capacity/more on an axle than its tires may carry, no axle rating", drive: "gawr: -", readings: "steer: 8100 lb; drive: 18400 lb", weighing: "scale: whole axles", drives: mustNotMove, visit: "ratings: {gvwr: 28000 lb}",
			tires: map[string]string{"steer": "last_set: 100 psi; found: 100 psi", "drive": "last_set: 110 psi; found: 110 psi"}, has: []string{"axle-over-its-tires at drive"}},
		{name: "capacity/more on an axle than its wheels are stamped for", every: "wheel: 4040 lb at 120 psi", readings: "steer: 7900 lb; drive: 16400 lb", weighing: "scale: whole axles", drives: mustNotMove,
			tires: map[string]string{"steer": "last_set: 100 psi; found: 100 psi", "drive": "last_set: 110 psi; found: 110 psi"}, has: []string{"axle-over-its-wheels at drive"}},
		{name: "capacity/left at 75", table: true, drives: notAtPressure, tires: map[string]string{"steer-left": "left: 75 psi", "steer-right": "left: 90 psi"}, has: []string{"load-at-left-pressure at steer-left", "left-below-set at steer-left", "equal-across-axle at steer"}},
		{name: "capacity/a trailer tire under the coach", every: "class: trailer; service: -", drives: beforeTheTrip, or: mustNotMove, tires: map[string]string{"": "last_set: 110 psi; found: 110 psi"}, has: []string{"odd-class at steer"}},
		{name: "capacity/half an axle against one weak tire", readings: "steer: 8100 lb; drive: 16400 lb", weighing: "scale: whole axles", drives: beforeTheTrip,
			tires: map[string]string{"steer": "last_set: 100 psi; found: 100 psi", "drive": "last_set: 110 psi; found: 110 psi", "drive-left-outer": "dual: 4000 lb at 110 psi; service: not read"}, has: []string{"pressure-too-close at drive"}},
		{name: "capacity/overload although the total is fine", table: true, readings: "steer-left: 4860 lb; steer-right: 3400 lb; drive-left: 8300 lb; drive-right: 8200 lb", drives: beforeTheTrip,
			tires: map[string]string{"steer": "last_set: 110 psi; found: 110 psi"}, has: []string{"half-gawr at steer-left"}},
		{name: "capacity/a tire over its rating", table: true, readings: "steer-left: 5000 lb; steer-right: 4020 lb; drive-left: 8300 lb; drive-right: 8200 lb", drives: mustNotMove,
			tires: map[string]string{"steer": "last_set: 110 psi; found: 110 psi"}, set: sets{"steer": ""}, has: []string{"tire-capacity at steer-left", "no-pressure at steer"}},
		{name: "capacity/a wheel too weak", table: true, every: "wheel: 4000 lb at 120 psi", drives: mustNotMove, has: []string{"wheel-capacity at steer-left"}},
		{name: "capacity/a wheel that allows less pressure than the load needs", table: true, every: "wheel: 5000 lb at 80 psi", drives: mustNotMove, set: sets{"steer": ""}, lacks: []string{"More air does not make up for it"}},
		{name: "capacity/a placard that promises more than the table", table: true, steer: "gawr: 9800 lb", drives: beforeTheTrip, has: []string{"placard-promises-more at steer"}},
		{name: "capacity/stamps that contradict count as the lower", table: true, every: "single: 4400 lb at 110 psi; service: -", readings: "steer-left: 4440 lb; steer-right: 4400 lb; drive-left: 8300 lb; drive-right: 8200 lb", drives: mustNotMove},
	}
}

func scaleVisits() []everyday {
	placard := map[string]string{"steer": "last_set: 100 psi; found: 100 psi", "drive": "last_set: 110 psi; found: 110 psi"}
	stations := "trip:\n  track: 78 in\n  stations:\n    - {name: tank, behind_steer: 150 in}\n    - {name: rear rack, behind_steer: 330 in}\n  changes:\n"
	return []everyday{
		{name: "weighing/dry, nothing said of tanks", table: true, clears: true, weighing: "as_driven: -", drives: nothingFound, tires: placard, set: sets{"steer": "100 psi", "drive": "110 psi"}},
		{name: "weighing/dry and over stays over", table: true, weighing: "as_driven: no", tires: map[string]string{"steer": "last_set: 110 psi; found: 110 psi", "drive": "last_set: 110 psi; found: 110 psi"}, readings: "steer-left: 4860 lb; steer-right: 4020 lb; drive-left: 8300 lb; drive-right: 8200 lb",
			drives: beforeTheTrip, has: []string{"half-gawr at steer-left"}},
		{name: "weighing/88 of 110 where the table asks for 85, and only the people were not as driven", table: true, weighing: "as_driven: -; tanks_as_driven: yes; fuel_as_driven: yes; people_as_driven: no", drives: mustNotMove,
			tires: map[string]string{"steer": "last_set: 110 psi; found: 110 psi", "drive": "last_set: 110 psi; found: 110 psi", "steer-left": "last_set: 110 psi; found: 88 psi"}, low: lows{"steer-left": report.Flat}},
		{name: "weighing/1 lb that is planned tells nothing of the people that were missing", table: true, weighing: "as_driven: -; tanks_as_driven: yes; fuel_as_driven: yes; people_as_driven: no", drives: mustNotMove,
			more: stations + "    - {name: box, at: tank, add: 1 lb}\n", clears: true,
			tires: map[string]string{"steer": "last_set: 110 psi; found: 110 psi", "drive": "last_set: 110 psi; found: 110 psi", "steer-left": "last_set: 110 psi; found: 88 psi"}, low: lows{"steer-left": report.Flat}},
		{name: "weighing/people who come aboard do", table: true, weighing: "as_driven: -; tanks_as_driven: yes; fuel_as_driven: yes; people_as_driven: no", drives: beforeTheTrip,
			more:  stations + "    - {name: the two of them, at: tank, add: 10 lb, people: yes}\n",
			tires: map[string]string{"steer": "last_set: 110 psi; found: 110 psi", "drive": "last_set: 110 psi; found: 110 psi", "steer-left": "last_set: 110 psi; found: 88 psi"}, low: lows{"steer-left": report.Leaking}},
		{name: "weighing/the same weighed as driven leaks", table: true, drives: beforeTheTrip,
			tires: map[string]string{"steer": "last_set: 110 psi; found: 110 psi", "drive": "last_set: 110 psi; found: 110 psi", "steer-left": "last_set: 110 psi; found: 88 psi"}, low: lows{"steer-left": report.Leaking}},
		{name: "weighing/dry with a trip that says what is added", table: true, weighing: "as_driven: -; tanks_as_driven: no; fuel_as_driven: yes; people_as_driven: yes", drives: nothingFound, tires: placard,
			more: stations + "    - {name: water, at: tank, fill: 40 gal, fluid: water}\n", set: sets{"steer": "90 psi", "drive": "100 psi"}},
		{name: "weighing/two years old", table: true, weighing: "date: 2024-09-01", drives: beforeTheTrip, tires: placard, set: sets{"steer": "100 psi", "drive": "110 psi"}},
		{name: "weighing/springs were changed since", table: true, weighing: "work_since: yes", drives: beforeTheTrip, tires: placard, set: sets{"steer": "100 psi", "drive": "110 psi"}},
		{name: "weighing/cargo that lifts the steer axle releases nothing", table: true, readings: "steer-left: 4860 lb; steer-right: 4020 lb; drive-left: 8000 lb; drive-right: 8000 lb", drives: beforeTheTrip,
			tires: map[string]string{"steer": "last_set: 110 psi; found: 110 psi"}, more: stations + "    - {name: rack, at: rear rack, add: 600 lb}\n", has: []string{"half-gawr at steer-left"}},
		unflat(everyday{name: "weighing/planned cargo releases no flat", more: stations + "    - {name: rack, at: rear rack, add: 600 lb}\n"}),
		{name: "weighing/a heavy diagonal, ride height not known", table: true, weighing: "ride_height: -", readings: "steer-left: 4400 lb; steer-right: 3700 lb; drive-left: 7400 lb; drive-right: 8850 lb", drives: beforeTheTrip,
			tires: map[string]string{"": "last_set: 110 psi; found: 110 psi"}, has: []string{"ride height", "half-gawr at drive-right"}},
		{name: "weighing/whole axles, and 60 % of each assumed on one end, stops nothing", table: true, weighing: "scale: whole axles; heavier_share: 60 %", readings: "steer: 8120 lb; drive: 16000 lb", drives: nothingFound,
			tires: map[string]string{"": "last_set: 110 psi; found: 110 psi"}, has: []string{"? drive-left: its load: weigh it"}},
		{name: "weighing/nor does 51 % of them clear an end", table: true, weighing: "scale: whole axles; heavier_share: 51 %", readings: "steer: 8120 lb; drive: 16000 lb", drives: nothingFound,
			tires: map[string]string{"": "last_set: 110 psi; found: 110 psi"}, has: []string{"? steer-left: its load: weigh it", "? drive-left: its load: weigh it"}},
		{name: "weighing/on a day after the visit", table: true, weighing: "date: 2027-10-03", drives: beforeTheTrip, clears: true, tires: placard, set: sets{"steer": "100 psi", "drive": "110 psi"}, has: []string{"Read again: the day of the weighing"}},
		{name: "weighing/an axle that was raised shows 0", table: true, weighing: "raised: drive", readings: "steer-left: 4100 lb; steer-right: 4020 lb; drive-left: 0 lb; drive-right: 0 lb", drives: nothingFound, or: beforeTheTrip,
			tires: map[string]string{"": "last_set: 110 psi; found: 110 psi"}, lacks: []string{"reading that cannot be"}},
		{name: "weighing/one that was not", table: true, readings: "steer-left: 4100 lb; steer-right: 4020 lb; drive-left: 0 lb; drive-right: 0 lb", drives: beforeTheTrip, has: []string{"reading that cannot be"}},
		{name: "weighing/an axle that was raised shows 8,300 lb", table: true, weighing: "raised: drive", drives: beforeTheTrip, has: []string{"Read again: its load, of an axle that was raised"}},
		{name: "weighing/nothing on an end by subtraction", table: true, weighing: "scale: platform", readings: "steer-left: 4100 lb; steer-right: 4020 lb; drive-left: 8300 lb; right: 4010 lb", drives: beforeTheTrip},
		{name: "weighing/tolerance not written, 4,590 of 4,600", table: true, weighing: "tolerance: -", readings: "steer-left: 4590 lb; steer-right: 4020 lb; drive-left: 8300 lb; drive-right: 8200 lb", drives: beforeTheTrip,
			tires: map[string]string{"steer": "last_set: 110 psi; found: 110 psi"}, has: []string{"half-gawr at steer-left"}},
	}
}

// unflat is a tire at 80 of the 100 that its load needs.
func unflat(e everyday) everyday {
	e.table, e.drives = true, mustNotMove
	e.weighing, e.readings = "tolerance: 0 lb", "steer-left: 4100 lb; steer-right: 4020 lb; drive-left: 8490 lb; drive-right: 8200 lb" // on the row of 100 psi
	e.tires = map[string]string{"drive-right-outer": "found: 80 psi; last_set: 95 psi"}
	e.low = lows{"drive-right-outer": report.Flat}
	return e
}

func flatVisits() []everyday {
	return []everyday{
		unflat(everyday{name: "flat/80 of the 100 that its load needs, set low before"}),
		{name: "fine/83 of the 100 that its load needs, set to 95", table: true, drives: notAtPressure, tires: map[string]string{"drive-right-outer": "found: 83 psi; last_set: 95 psi"}, low: lows{"drive-right-outer": report.NotLow}},
		unweighed(everyday{name: "flat/0 at the stem, nothing else known", drives: mustNotMove, steer: "placard: -", drive: "placard: -",
			tires: map[string]string{"": "last_set: -", "steer": "found: 110 psi", "drive": "found: 110 psi", "drive-left-outer": "found: 0 psi"}, low: lows{"drive-left-outer": report.Flat}}),
		{name: "flat/0 through an extension", table: true, drives: beforeTheTrip, tires: map[string]string{"drive-left-outer": "found: 0 psi; read_at: extension"},
			not: lows{"drive-left-outer": report.NotLow}, air: airs{"drive-left": report.AirNotKnown}, lacks: []string{"mate-run-low at drive-left-inner"}},
		unweighed(everyday{name: "flat/aired up although it ran low", drives: mustNotMove, tires: map[string]string{"drive-right-inner": "found: 80 psi; left: 105 psi"}, low: lows{"drive-right-inner": report.Flat}, has: []string{"aired-up-flat at drive-right-inner"}}),
		{name: "flat/nobody reached the valve", table: true, drives: beforeTheTrip, tires: map[string]string{"drive-left-inner": "found: -; read_at: not reached"},
			not: lows{"drive-left-inner": report.NotLow}, air: airs{"drive-left": report.AirNotKnown}},
		unweighed(everyday{name: "flat/84 of 105 and its mate", drives: mustNotMove, tires: map[string]string{"drive-right-inner": "found: 84 psi"},
			low: lows{"drive-right-inner": report.Flat, "": report.NotLow}, air: airs{"drive-right": report.AirForbidden, "drive-left": report.AirFree},
			has: []string{"mate-run-low at drive-right-outer"}, lacks: []string{"below-set at drive-right-inner", "below-set at drive-right-outer"}}),
		unweighed(everyday{name: "flat/79 is no milder than 80", drives: mustNotMove, tires: map[string]string{"drive-right-inner": "found: 79 psi"}, low: lows{"drive-right-inner": report.Flat}}),
		unweighed(everyday{name: "flat/88 of a placard of 110, last set not known", drive: "placard: 110 psi", drives: mustNotMove,
			tires: map[string]string{"drive": "last_set: -; found: 110 psi", "drive-right-inner": "found: 88 psi"}, low: lows{"drive-right-inner": report.Flat}}),
		unweighed(everyday{name: "flat/a whole axle at 88 of a placard of 110", drive: "placard: 110 psi", drives: beforeTheTrip,
			tires: map[string]string{"drive": "last_set: -; found: 88 psi"}, low: lows{"drive": report.LowAsked}, has: []string{"placard-question at drive-left-outer"}}),
		{name: "flat/packs without a rule on running low", table: true, program: withPacks("dual-matching"), drives: nothingFound,
			tires: map[string]string{"drive-right-inner": "found: 40 psi"}, not: lows{"": report.NotLow}, has: []string{"not judged by these packs"}},
	}
}

func softVisits() []everyday {
	return []everyday{
		{name: "leaking/84 of 105 where the load needs 100", table: true, drives: notAtPressure, tires: map[string]string{"drive-right-inner": "found: 84 psi"},
			low: lows{"drive-right-inner": report.Leaking, "drive-right-outer": report.NotLow}, air: airs{"drive-right": report.AirNotKnown}, lacks: []string{"mate-run-low at drive-right-outer", "mate-run-low at drive-right-inner"}},
		{name: "fine/set by the table under the placard", table: true, drives: nothingFound,
			tires: map[string]string{"steer": "last_set: 85 psi; found: 85 psi", "drive": "last_set: 100 psi; found: 100 psi"}, low: lows{"": report.NotLow}, set: sets{"steer": "85 psi", "drive": "100 psi"}},
		unweighed(everyday{name: "leaking/104 of 130, and the placard asks for 100", drive: "placard: 100 psi", drives: beforeTheTrip, every: "single: 4940 lb at 130 psi; dual: 4540 lb at 130 psi; wheel: 5000 lb at 135 psi; load_range: -; service: -",
			tires: map[string]string{"drive": "last_set: 130 psi; found: 130 psi", "drive-right-inner": "found: 104 psi"}, low: lows{"drive-right-inner": report.Leaking}}),
		unweighed(everyday{name: "asked/85 of 95, and the placard asks for 110", drive: "placard: 110 psi", drives: beforeTheTrip,
			tires: map[string]string{"drive": "last_set: 95 psi; found: 95 psi", "drive-right-inner": "found: 85 psi"}, low: lows{"drive-right-inner": report.LowAsked}, air: airs{"drive-right": report.AirNotKnown}}),
		unweighed(everyday{name: "asked/80 of a stamp of 110, nothing else known", steer: "placard: -", drive: "placard: -", drives: beforeTheTrip,
			tires: map[string]string{"": "last_set: -", "steer": "found: 100 psi", "drive": "found: 110 psi", "drive-right-inner": "found: 80 psi"}, low: lows{"drive-right-inner": report.LowAsked}}),
		unweighed(everyday{name: "asked/nothing to hold it against", steer: "placard: -", drive: "placard: -", every: "single: -; dual: -; service: -; load_range: -; wheel: -", drives: beforeTheTrip,
			tires: map[string]string{"": "last_set: -", "steer": "found: 90 psi", "drive": "found: 90 psi"}, not: lows{"": report.NotLow}, has: []string{"nothing-to-hold-it-against at steer-left"}}),
		{name: "spare/never read", table: true, drives: nothingFound, tires: map[string]string{"spare": "found: -"}, lines: map[string]int{"spare": 1}},
		{name: "spare/at 40", table: true, drives: nothingFound, tires: map[string]string{"spare": "found: 40 psi"}},
		{name: "spare/at 70, and on the road since", table: true, drives: nothingFound, tires: map[string]string{"spare": "found: 70 psi; driven_since: yes"}, has: []string{"spare-low at spare"}},
		{name: "spare/read at 0 before, 110 now", table: true, drives: nothingFound, tires: map[string]string{"spare": "found: 110 psi; read_zero: yes"}, has: []string{"spare-low at spare"}, air: airs{"spare": report.AirForbidden}},
		{name: "spare/at 50 before air was added", table: true, drives: nothingFound, tires: map[string]string{"spare": "found: 110 psi; before_air: 50 psi"}, has: []string{"spare-low at spare"}},
		{name: "spare/at 40 before 70 psi were added, never on the road", table: true, drives: nothingFound, tires: map[string]string{"spare": "found: 110 psi; air_added_by: 70 psi; driven_since: no"}, has: []string{"spare-half at spare"}},
		{name: "spare/2 psi added", table: true, drives: nothingFound, tires: map[string]string{"spare": "found: 110 psi; air_added_by: 2 psi"}, low: lows{"spare": report.NotLow}, lacks: []string{"spare-low at spare"}},
		{name: "spare/once read cold at 109, hot at 112 now", table: true, drives: nothingFound, tires: map[string]string{"spare": "found: 112 psi; lowest: 109 psi; hot: yes"},
			not: lows{"spare": report.NotLow}, air: airs{"spare": report.AirNotKnown}},
		{name: "spare/read hot", table: true, drives: nothingFound, tires: map[string]string{"spare": "found: 110 psi; hot: yes"}, not: lows{"spare": report.NotLow}, air: airs{"spare": report.AirNotKnown}},
		{name: "spare/at 75, never on the road", table: true, drives: nothingFound, tires: map[string]string{"spare": "found: 75 psi; driven_since: no"}, has: []string{"spare-low-never-driven at spare"}},
		{name: "spare/at 40, never on the road", table: true, drives: nothingFound, tires: map[string]string{"spare": "found: 40 psi; driven_since: no"}, has: []string{"spare-half at spare"}},
		{name: "asked/between what any law asks, no table", drives: beforeTheTrip, steer: "placard: 90 psi", tires: map[string]string{"steer": "last_set: 85 psi; found: 79 psi", "drive": "last_set: 110 psi; found: 110 psi"},
			low: lows{"steer": report.LowAsked}, has: []string{"between-laws at steer-left"}},
		{name: "asked/duals whose makes nobody wrote down", table: true, every: "model: -", drives: nothingFound, low: lows{"": report.NotLow}, has: []string{"? the make and model of duals"}},
		{name: "sound/the same, measured", table: true, every: "model: -", tires: map[string]string{"drive": "circumference: 120 in"}, drives: nothingFound, lacks: []string{"the make and model of duals"}},
		{name: "spare/at 95", table: true, drives: nothingFound, tires: map[string]string{"spare": "found: 110 psi"}},
	}
}

func towedVisits() []everyday {
	car := func(e everyday, found string) everyday {
		e.table, e.car = true, "gawr: 2600 lb"
		e.visit += "; tows: car"
		e.tires = map[string]string{"car-left": "found: " + found}
		return e
	}
	noPlacard := func(e everyday, found string) everyday {
		e = car(e, found)
		e.car += "; placard: -"
		return e
	}
	return []everyday{
		noPlacard(everyday{name: "towed car/28 of 35 last set, placard not read", drives: beforeTheTrip, low: lows{"car-left": report.Leaking}, has: []string{"car-tire-low-last-set at car-left"}}, "28 psi"),
		noPlacard(everyday{name: "towed car/17 of 35 last set, placard not read", drives: mustNotMove, low: lows{"car-left": report.Flat}, has: []string{"car-tire-flat-last-set at car-left"}}, "17 psi"),
		noPlacard(everyday{name: "towed car/neither placard nor last set", drives: beforeTheTrip, not: lows{"car-left": report.NotLow}, has: []string{"car-tire-not-held at car-left"}}, "34 psi; last_set: -"),
		car(everyday{name: "towed car/on a cold morning", visit: "air_temperature: 20 F; last_set_air: 70 F", drives: beforeTheTrip, low: lows{"car-left": report.NotLow}, air: airs{"car": report.AirFree}}, "31 psi"),
		car(everyday{name: "towed car/ratings of the hitch written down, and no pack on them", more: "towing: {hitch: 5000 lb, hitch_tongue: 500 lb, tongue: 600 lb}\n", drives: nothingFound, has: []string{"? hitch, ball mount, tow bar and coupler"}}, "35 psi"),
		car(everyday{name: "towed car/the same with one", more: "towing: {hitch: 5000 lb, hitch_tongue: 500 lb, tongue: 600 lb}\n", drives: mustNotMove, or: beforeTheTrip, program: withPacks("coach-care", "towing"), lacks: []string{"? hitch, ball mount, tow bar and coupler"}}, "35 psi"),
		{name: "towed car/nothing is towed", table: true, car: "gawr: 2600 lb", visit: "tows: nothing", drives: beforeTheTrip, has: []string{"Read again: what it tows"}},
		car(everyday{name: "towed car/at 26, to which it was set, is no slip", drives: beforeTheTrip, lacks: []string{"Read again"}}, "26 psi; last_set: 26 psi"),
		car(everyday{name: "towed car/28 of 35", drives: beforeTheTrip, low: lows{"car-left": report.Leaking}}, "28 psi"),
		car(everyday{name: "towed car/17 of 35", drives: mustNotMove, low: lows{"car-left": report.Flat}, air: airs{"car-left": report.AirForbidden}}, "17 psi"),
		car(everyday{name: "towed car/27 of 35 with a rippled sidewall", drives: mustNotMove, air: airs{"car-left": report.AirForbidden}}, "27 psi; seen: zipper signs"),
	}
}

func airVisits() []everyday {
	seen := func(what string, drives report.Drive, air report.Air) everyday {
		return everyday{name: "air/" + what, table: true, drives: drives, tires: map[string]string{"drive-left-outer": "seen: " + what}, air: airs{"drive-left-outer": air, "drive-right": report.AirFree}}
	}
	return []everyday{
		seen("cracked wheel", mustNotMove, report.AirForbidden),
		seen("bulge", mustNotMove, report.AirForbidden),
		seen("exposed cord", mustNotMove, report.AirForbidden),
		seen("bent wheel", beforeTheTrip, report.AirForbidden),
		seen("alone on a block", mustNotMove, report.AirForbidden),
		seen("loose lug nut", mustNotMove, report.AirFree),
		seen("touching the vehicle", mustNotMove, report.AirFree),
		seen("missing cap", nothingFound, report.AirFree),
		unweighed(everyday{name: "air/a house pack that only plans for a flat", drives: mustNotMove, or: beforeTheTrip, tires: map[string]string{"drive-right-inner": "found: 84 psi"},
			program: milderPack, quiet: true, air: airs{"drive-right": report.AirForbidden}, lacks: []string{"below-set at drive-right-inner"}}),
	}
}

func driveVisits() []everyday {
	return []everyday{
		{name: "drive/nothing looked at", table: true, every: "seen: -; sidewalls: -", drives: nothingFound, or: beforeTheTrip, has: []string{"? a look at"}},
		{name: "drive/tire not read at all", table: true, drives: beforeTheTrip, tires: map[string]string{"steer-left": "found: -"}, not: lows{"steer-left": report.NotLow}},
		{name: "drive/air first where the state is not known", table: true, drives: notAtPressure,
			tires: map[string]string{"steer-left": "last_set: 110 psi; found: 75 psi; low_alarm: yes"}, visit: "nothing_since_set: -", air: airs{"steer-left": report.AirNotKnown}},
		{name: "drive/cracks seen and not measured", table: true, drives: nothingFound, tires: map[string]string{"steer-left": "seen: weather cracking"}, has: []string{"seen-weather-cracking at steer-left", "? steer-left: how deep its cracks are"}},
		{name: "drive/cracks of 0.4 mm", table: true, drives: nothingFound, tires: map[string]string{"steer-left": "seen: weather cracking; crack_depth: 0.4 mm"}, lacks: []string{"? steer-left: how deep its cracks are"}},
		{name: "drive/worn out in front", table: true, drives: beforeTheTrip, tires: map[string]string{"steer-left": "tread: 3/32 in"}, has: []string{"tread-steer at steer-left"}},
		{name: "drive/facing sidewalls of duals not seen", table: true, every: "sidewalls: outer", drives: nothingFound, has: []string{"? sidewall"}},
	}
}

func setVisits() []everyday {
	placard := map[string]string{"steer": "last_set: 100 psi; found: 100 psi", "drive": "last_set: 110 psi; found: 110 psi"}
	top := map[string]string{"": "last_set: 110 psi; found: 110 psi"}
	return []everyday{
		unweighed(everyday{name: "set/unweighed to the placard", drives: nothingFound, or: beforeTheTrip, tires: placard, set: sets{"steer": "100 psi", "drive": "110 psi"}, steer: "placard: 100 psi", drive: "placard: 110 psi"}),
		{name: "set/placard not read, not weighed as driven", table: true, weighing: "as_driven: -", steer: "placard: -", drive: "placard: -", drives: nothingFound, or: beforeTheTrip, tires: top, set: sets{"steer": "110 psi", "drive": "110 psi"}, has: []string{"placard-not-read at steer"}},
		{name: "set/placard not read, weighed as driven", table: true, steer: "placard: -", drive: "placard: -", drives: nothingFound, or: beforeTheTrip, set: sets{"steer": "85 psi", "drive": "100 psi"}},
		{name: "set/no placard there, by the need alone", table: true, steer: "placard: none", drive: "placard: none", drives: nothingFound, set: sets{"steer": "85 psi", "drive": "100 psi"}},
		unweighed(everyday{name: "set/neither placard nor stamp", steer: "placard: -", drive: "placard: -", every: "single: -; dual: -", drives: beforeTheTrip, or: nothingFound, tires: top, set: sets{"steer": "", "drive": ""}}),
		unweighed(everyday{name: "set/placard above what the wheel allows", drive: "placard: 110 psi", every: "wheel: 5000 lb at 105 psi", drives: nothingFound, or: beforeTheTrip, set: sets{"drive": "105 psi"}, tires: map[string]string{"drive": "last_set: 105 psi; found: 105 psi"}, has: []string{"placard-above-stamps at drive"}}),
		{name: "set/the most any law allows falls short at the placard", visit: "ratings: {gvwr: 27000 lb}", steer: "placard: 80 psi; gawr: -", readings: "steer-left: 4800 lb; steer-right: 4700 lb; drive-left: 8300 lb; drive-right: 8200 lb", drives: beforeTheTrip,
			tires: top, set: sets{"steer": "110 psi"}, has: []string{"ESTIMATE", "ratings-not-read at coach"}},
		{name: "set/above what the axle is weighed as driven for", table: true, weighing: "as_driven: no", drives: nothingFound, tires: placard, set: sets{"steer": "100 psi", "drive": "110 psi"}},
		{name: "set/below the pressure to set", table: true, drives: beforeTheTrip, tires: map[string]string{"drive": "last_set: 100 psi; found: 98 psi"}, has: []string{"below-set at drive-left-outer"}, low: lows{"": report.NotLow}, air: airs{"": report.AirFree}},
	}
}

func hardlyVisits() []everyday {
	return []everyday{
		{name: "hardly/tread of 40/32", table: true, drives: beforeTheTrip, tires: map[string]string{"steer-left": "tread: 40/32 in"}},
		{name: "hardly/tread of 40/32, read again", table: true, drives: nothingFound, tires: map[string]string{"steer-left": "tread: 40/32 in; sure: [tread]"}},
		{name: "hardly/tread of 8 inches", table: true, drives: beforeTheTrip, tires: map[string]string{"steer-left": "tread: 8 in"}},
		{name: "hardly/160 psi cold", table: true, drives: beforeTheTrip, tires: map[string]string{"steer-left": "found: 160 psi"}},
		{name: "hardly/air of 140 F", table: true, visit: "air_temperature: 140 F", drives: beforeTheTrip},
		{name: "hardly/gauge that is off by nothing", table: true, visit: "gauge_tolerance: 0 psi", drives: beforeTheTrip},
		{name: "hardly/crack of 3 inches", table: true, drives: beforeTheTrip, tires: map[string]string{"steer-left": "crack_depth: 3 in"}},
		{name: "hardly/ends further apart than 3 to 2", table: true, readings: "steer-left: 4560 lb; steer-right: 2900 lb; drive-left: 8300 lb; drive-right: 8200 lb", drives: beforeTheTrip, tires: map[string]string{"steer": "last_set: 105 psi; found: 105 psi"}},
		{name: "hardly/195 psi hot", table: true, visit: "cold: -; stood: 20 min", drives: beforeTheTrip, tires: map[string]string{"steer": "found: 104 psi", "drive": "found: 109 psi", "drive-left-outer": "found: 195 psi"}},
		{name: "hardly/a load below its own doubt", table: true, readings: "steer-left: 4100 lb; steer-right: 4020 lb; drive-left: 15 lb; drive-right: 8200 lb", drives: beforeTheTrip},
		unweighed(everyday{name: "hardly/placard of 7.2 for bar", drive: "placard: 7.2 psi", drives: beforeTheTrip, set: sets{"drive": "110 psi"}, has: []string{"Read again: the placard's pressure"}}),
		unweighed(everyday{name: "hardly/wheels for 8.3 for bar", every: "wheel: 5000 lb at 8.3 psi", drives: beforeTheTrip, set: sets{"steer": "", "drive": ""}, lacks: []string{"most-pressure at steer-left"}}),
		{name: "hardly/wheels over their rating, at 830 psi for kPa", table: true, every: "wheel: 4000 lb at 830 psi", drives: mustNotMove, has: []string{"wheel-capacity at drive-left-outer"}},
		{name: "hardly/tires over their rating, at 760 psi for kPa", every: "dual: 4000 lb at 760 psi; service: -", drives: mustNotMove, has: []string{"tire-capacity at drive-left-outer"}},
		{name: "hardly/the figure of a pair, over the load index", every: "dual: 8800 lb at 110 psi; service: 136/127L", drives: mustNotMove, has: []string{"tire-capacity at drive-left-outer"}},
		{name: "hardly/the load index alone, over it", table: true, every: "single: -; dual: -; service: 136/127L", drives: mustNotMove, has: []string{"tire-capacity at drive-left-outer"}},
		{name: "hardly/the load index alone clears nothing", table: true, every: "single: -; dual: -", drives: nothingFound, has: []string{"? the maximum load and pressure on its sidewall"}},
		unweighed(everyday{name: "hardly/last set to 7.2 for bar", drives: mustNotMove, tires: map[string]string{"drive-right-inner": "last_set: 7.2 psi; found: 80 psi"}, low: lows{"drive-right-inner": report.Flat}}),
		unweighed(everyday{name: "hardly/last set ten years ago", visit: "last_set_on: 2016-09-20", drives: beforeTheTrip,
			tires: map[string]string{"drive-right-inner": "found: 70 psi; lowest: 105 psi; driven_since: no"}, low: lows{"drive-right-inner": report.Leaking}, has: []string{"Read again: the day on which the tires were last set"}}),
		{name: "hardly/last set after the visit", table: true, visit: "last_set_on: 2026-12-20", drives: beforeTheTrip},
		{name: "hardly/driven at 720 for kPa, before it stood", table: true, visit: "driven_since: no", drives: beforeTheTrip, tires: map[string]string{"steer-left": "lowest: 720 psi"}, not: lows{"steer-left": report.Flat}, has: []string{"Read again: the lowest pressure it was driven at"}},
		{name: "hardly/720 for kPa before air was added", table: true, visit: "nothing_since_set: -", drives: beforeTheTrip, tires: map[string]string{"steer-left": "before_air: 720 psi"}, low: lows{"steer-left": report.LowAsked}},
		{name: "hardly/nuts checked after the visit", table: true, drives: beforeTheTrip, tires: map[string]string{"steer-left": "wheel_on: 2026-10-01; torque_checked: 2027-10-02"}, has: []string{"torque-due at steer-left"}},
		{name: "hardly/made after the visit", table: true, drives: beforeTheTrip, tires: map[string]string{"steer-left": "number: 1M3 ABCDEF 5026"}},
		{name: "hardly/a rating read as thousands", table: true, steer: "gawr: 9.500 lb", drives: beforeTheTrip, or: mustNotMove},
	}
}

// milderPack is the default packs and one that only plans for a flat tire.
func milderPack(t *testing.T) *rules.Program {
	t.Helper()
	return housePack(t, "change:\n  run-low: {action: plan, source: {grade: common practice}}\n  mate-run-low: {action: plan, source: {grade: common practice}}\n")
}

// housePack is the default packs and one that changes or drops some of their rules.
func housePack(t testing.TB, text string) *rules.Program {
	t.Helper()
	list, err := rules.Load(packs.FS(), packs.Default()...)
	if err != nil {
		t.Fatal(err)
	}
	own, err := rules.ReadPack("house.yaml", []byte("format: 1\npack: house\ntitle: House\nextends: [coach-care]\n"+text))
	if err != nil {
		t.Fatal(err)
	}
	program, err := rules.Compile(inspect.Vocabulary(), append(list, own)...)
	if err != nil {
		t.Fatal(err)
	}
	return program
}
