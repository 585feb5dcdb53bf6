package history_test

import (
	"fmt"
	"slices"
	"testing"

	"axleend.example/inflation"
	"axleend.example/inspect"
	"axleend.example/inspect/history"
	"axleend.example/inspect/record"
	"axleend.example/inspect/report"
	"axleend.example/internal/visittest"
	"axleend.example/rules/packs"
	"axleend.example/weight"
)

// Two full numbers of invented makers, of 2022 and 2025.
const numberX, numberZ = "1M3 AX1 DEM 2222", "4B9 AX7 DEM 3025"

// onTires builds a visit from its tires alone.
func onTires(t testing.TB, date, tires string) *record.Visit {
	t.Helper()
	return onVisit(t, date, "air_temperature: 60 F\ngauge_tolerance: 0.5 psi\nevery_tire: {hot: no}\ntires: ["+tires+"]")
}

// TestWearLimitsAreThoseOfTheLastProbing: of where the tire ran when it was
// last probed, each once. 4/32 in on the steer axle and 2/32 in elsewhere are
// the packs' (49 CFR 393.75(b),(c)).
func TestWearLimitsAreThoseOfTheLastProbing(t *testing.T) {
	probed := func(at string) []*record.Visit {
		return []*record.Visit{
			onTires(t, "2026-01-01", "{at: drive-left-outer, number: "+numberX+", tread: 10/32 in}"),
			onTires(t, "2026-02-01", "{at: "+at+", number: "+numberX+", tread: 9/32 in}, {at: drive-left-outer, number: "+numberZ+"}"),
			onTires(t, "2026-03-01", "{at: "+at+", number: "+numberX+", tread: 8/32 in}"),
		}
	}
	for _, x := range []struct {
		name   string
		visits []*record.Visit
		at     string
	}{
		{"moved to the steer axle and probed", probed("steer-left"), "steer-left"},
		{"not probed again", append(probed("steer-left"), onTires(t, "2026-04-01", "{at: steer-left, number: "+numberX+"}")), "steer-left"},
		{"moved on and not probed", append(probed("steer-left"), onTires(t, "2026-04-01", "{at: drive-left-outer, number: "+numberX+"}, {at: steer-left, number: "+numberZ+"}")), "drive-left-outer"},
	} {
		t.Run(x.name, func(t *testing.T) {
			w, ok := tireAt(t, compare(t, x.visits...), x.at).Wear.Get()
			if !ok || len(w.Limits) != 1 {
				t.Fatalf("%+v, %t", w, ok)
			}
			l := w.Limits[0]
			if l.Depth != 4*record.ThirtySecond || w.To != day("2026-03-01") {
				t.Errorf("%s, probed on %s", l.Depth, w.To)
			}
			if rules := slices.Clone(l.Rules); len(rules) == 0 || len(slices.Compact(slices.Sorted(slices.Values(rules)))) != len(rules) {
				t.Errorf("each rule once: %q", rules)
			}
		})
	}
}

// TestWearLimitsAreOfTreadAlone: what other rules hold a tire to is no depth of tread.
func TestWearLimitsAreOfTreadAlone(t *testing.T) {
	keys := func(tread string) string {
		return "{at: steer-left, number: " + numberX + ", class: truck, construction: radial, single: 4940 lb at 110 psi, wheel: 5000 lb at 120 psi, last_set: 100 psi, found: 99 psi, left: 100 psi, seen: weather cracking, crack_depth: 1/64 in, tread: " + tread + "}"
	}
	h := compare(t, onTires(t, "2026-01-01", keys("10/32 in")), onTires(t, "2026-03-01", keys("9/32 in")))
	w, ok := tireAt(t, h, "steer-left").Wear.Get()
	if !ok || len(w.Limits) == 0 {
		t.Fatalf("%+v", w)
	}
	for _, l := range w.Limits {
		if l.Depth <= 0 || l.Depth > 20*record.ThirtySecond {
			t.Errorf("%s by %q", l.Depth, l.Rules)
		}
	}
}

// TestMetricPace: how far a coach goes in a month is whole kilometers of a metric
// coach, rounded up: 1,000 km in 59 days are 508.5 in 30 (computed).
func TestMetricPace(t *testing.T) {
	metric := func(date, odometer string) *record.Visit {
		return onVisit(t, date, "units: metric\nodometer: "+odometer+"\ntires: [{at: steer-left, tread: 7 mm}]")
	}
	h := compare(t, metric("2026-01-01", "10000 km"), metric("2026-03-01", "11000 km"))
	if pace, ok := h.PerMonth.Get(); !ok || pace != 509*weight.Kilometer {
		t.Errorf("%s a month", h.PerMonth)
	}
}

// TestProbeInSixtyFourths: a probe that reads 1/64 in may be off by half of that:
// 20/64 to 16/64 in is 4/64 +/- 1/64 (computed).
func TestProbeInSixtyFourths(t *testing.T) {
	h := compare(t, onTires(t, "2026-01-01", "{at: steer-left, tread: 21/64 in}"), onTires(t, "2026-03-01", "{at: steer-left, tread: 17/64 in}"))
	const step = record.ThirtySecond / 2
	if w, ok := tireAt(t, h, "steer-left").Wear.Get(); !ok || w.Least != 3*step || w.Most != 5*step {
		t.Errorf("%s to %s", w.Least, w.Most)
	}
}

// TestProbeInHundredths: a probe that reads 0.01 in may be off by half of that: 0.33 in
// less 0.26 in is 0.07 +/- 0.01 in (computed).
func TestProbeInHundredths(t *testing.T) {
	h := compare(t, onTires(t, "2026-01-01", "{at: steer-left, tread: 0.33 in}"), onTires(t, "2026-03-01", "{at: steer-left, tread: 0.26 in}"))
	const step = weight.Inch / 100
	if w, ok := tireAt(t, h, "steer-left").Wear.Get(); !ok || w.Least != 6*step || w.Most != 8*step {
		t.Errorf("%s to %s", w.Least, w.Most)
	}
}

// TestDriveNeedsSomethingThatWasLookedAt: of the last visit something was kept, or its
// answer is no "nothing found".
func TestDriveNeedsSomethingThatWasLookedAt(t *testing.T) {
	kept, err := inspect.CompilePacks(packs.FS(), "qc-wheels")
	if err != nil {
		t.Fatal(err)
	}
	for tires, want := range map[string]report.Drive{
		"{at: steer-left, seen: nothing, tread: 9/32 in}": report.NothingFound,
		"{at: spare, note: not looked at}":                report.BeforeTheTrip,
	} {
		visits := []*record.Visit{onTires(t, "2026-01-01", tires), onTires(t, "2026-03-01", tires)}
		h, err := history.Compare(visits, inspect.Setup{Program: kept})
		if err != nil || h.Drive != want {
			t.Errorf("%s: %s, want %s; %v", tires, h.Drive, want, err)
		}
	}
}

// TestMatesLostAirOverTheSameTime: who was not read at the visit before is no
// mate, and a spare's mates are all the coach's tires, not the other spares.
func TestMatesLostAirOverTheSameTime(t *testing.T) {
	const left, found = ", left: 100 psi", ", found: 98 psi, left: 100 psi"
	h := compare(t,
		onTires(t, "2026-01-01", "{at: steer-left"+left+"}, {at: steer-right"+left+"}"),
		onTires(t, "2026-02-01", "{at: steer-left"+found+"}"),
		onTires(t, "2026-03-01", "{at: steer-left"+found+"}, {at: steer-right"+found+"}"))
	for at, leaks := range map[string]int{"steer-left": 2, "steer-right": 1} {
		list := tireAt(t, h, at).Leaks
		if len(list) != leaks || list[leaks-1].Mates != 0 || list[leaks-1].OverMates.Is() {
			t.Errorf("%s: %+v", at, list)
		}
	}
	h = compare(t,
		onTires(t, "2026-01-01", "{at: steer-left"+left+"}, {at: spare"+left+"}, {at: spare-2"+left+"}"),
		onTires(t, "2026-02-01", "{at: steer-left"+found+"}, {at: spare"+found+"}, {at: spare-2"+found+"}"))
	for _, at := range []string{"steer-left", "spare", "spare-2"} {
		if list := tireAt(t, h, at).Leaks; len(list) != 1 || list[0].Mates != 2 {
			t.Errorf("%s: %+v", at, list)
		}
	}
}

// TestLeakThatIsMissing is said of the last leak alone, and of no tire that
// left the coach.
func TestLeakThatIsMissing(t *testing.T) {
	x := func(date, more string) *record.Visit {
		return onTires(t, date, "{at: steer-left, number: "+numberX+more+"}")
	}
	lacking := []*record.Visit{x("2026-01-01", ", left: 100 psi"), x("2026-02-01", ", left: 100 psi")}
	if h := compare(t, lacking...); !missing(h, "steer-left", "its leak: its pressure, read at the stem, on 2026-02-01") {
		t.Errorf("%+v", h.Unjudged)
	}
	for name, last := range map[string]*record.Visit{
		"judged since": x("2026-03-01", ", found: 99 psi"),
		"replaced":     onTires(t, "2026-03-01", "{at: steer-left, number: "+numberZ+"}"),
	} {
		if h := compare(t, append(slices.Clone(lacking), last)...); missing(h, "steer-left", "its leak") {
			t.Errorf("%s: %+v", name, h.Unjudged)
		}
	}
}

// TestTwoWeighings give one change a load, not the same one twice.
func TestTwoWeighings(t *testing.T) {
	weighed := func(date string) *record.Visit {
		return onVisit(t, date, "weighing: {as_driven: all, scale: pads, tolerance: 20 lb, level: yes, readings: [{load: 4000 lb, on: steer-left}]}")
	}
	if h := compare(t, weighed("2026-01-01"), weighed("2026-02-01")); len(h.Loads) != 1 || h.Loads[0].Name != "steer-left" {
		t.Errorf("%+v", h.Loads)
	}
}

// TestTowedLoadsAreNotCompared: it may tow another car every time, and its own loads
// are compared all the same.
func TestTowedLoadsAreNotCompared(t *testing.T) {
	weighed := func(date string) *record.Visit {
		return visittest.Read(t, "visit: 1\ndate: "+date+"\naxles: [{id: steer, fitment: single}, {id: car, fitment: single, towed: yes}]\n"+
			"weighing: {as_driven: all, scale: pads, tolerance: 20 lb, level: yes, readings: [{load: 4000 lb, on: steer-left}, {load: 4000 lb, on: steer-right}, {load: 900 lb, on: car-left}, {load: 900 lb, on: car-right}]}")
	}
	h := compare(t, weighed("2026-01-01"), weighed("2026-02-01"))
	var got []string
	for _, c := range h.Loads {
		got = append(got, c.Name)
	}
	if !slices.Equal(got, []string{"steer-left", "steer-right", "steer", "coach"}) || len(h.Weighed) != len(got) {
		t.Errorf("%q, %d with all weighings", got, len(h.Weighed))
	}
}

// TestThreeHoursAreCold, and less are not (common practice).
func TestThreeHoursAreCold(t *testing.T) {
	for stood, leaks := range map[string]int{"2 h": 0, "3 h": 1} {
		read := func(date, as string) *record.Visit {
			return onVisit(t, date, "air_temperature: 60 F\ngauge_tolerance: 0.5 psi\nstood: "+stood+"\ntires: [{at: steer-left, "+as+": 100 psi}]")
		}
		if list := tireAt(t, compare(t, read("2026-01-01", "left"), read("2026-03-01", "found")), "steer-left").Leaks; len(list) != leaks {
			t.Errorf("stood %s: %+v", stood, list)
		}
	}
}

// TestFollowingThroughThreeVisits: which tire is taken for the one that stood
// there before, where nothing is read that would say so.
func TestFollowingThroughThreeVisits(t *testing.T) {
	onRight := onTires(t, "2026-02-01", "{at: steer-left}, {at: steer-right, number: "+numberX+"}")
	both := onTires(t, "2026-01-01", "{at: steer-left, number: "+numberX+"}, {at: steer-right, number: "+numberZ+"}")
	h := compare(t, both, onRight)
	if x := tireAt(t, h, "steer-right"); x.Number != "1M3AX1DEM2222" || len(x.Sightings) != 2 {
		t.Errorf("the one with the number did not move: %+v", x)
	}
	if x := tireAt(t, h, "steer-left"); x.Number != "" || len(x.Sightings) != 1 {
		t.Errorf("one tire at two places: %+v", x)
	}
	// The tire that stood at steer-right left; its place has another's history.
	h = compare(t, both, onRight, onTires(t, "2026-03-01", "{at: steer-right}"))
	if x := tireAt(t, h, "steer-right"); x.Number != "1M3AX1DEM2222" || len(x.Sightings) != 3 {
		t.Errorf("%+v", x)
	}
}

// TestNumberThatTellsNothing: one that two tires carry, and one that the other
// sidewall contradicts.
func TestNumberThatTellsNothing(t *testing.T) {
	for name, visits := range map[string][]*record.Visit{
		"two at one visit":         {onTires(t, "2026-01-01", "{at: steer-left, number: "+numberX+"}, {at: steer-right, number: "+numberX+"}")},
		"one at each":              {onTires(t, "2026-01-01", "{at: steer-left, number: "+numberX+"}"), onTires(t, "2026-02-01", "{at: steer-right, number: "+numberX+"}")},
		"two only later":           {onTires(t, "2026-01-01", "{at: steer-left, number: "+numberX+"}"), onTires(t, "2026-02-01", "{at: steer-left, number: "+numberX+"}, {at: steer-right, number: "+numberX+"}")},
		"sidewalls that disagree":  {onTires(t, "2026-01-01", "{at: steer-left, number: "+numberX+", other_number: 1M3 AX9 DEM 2222}")},
		"a part that is not of it": {onTires(t, "2026-01-01", "{at: steer-left, number: "+numberX+", other_number: 3025}")},
	} {
		for _, x := range compare(t, visits...).Tires {
			if x.ByNumber {
				t.Errorf("%s: %+v", name, x)
			}
		}
	}
	h := compare(t, onTires(t, "2026-01-01", "{at: steer-left, number: "+numberX+", other_number: 1M3 AX1 DEM}"))
	if x := tireAt(t, h, "steer-left"); !x.ByNumber || x.Number != "1M3AX1DEM2222" {
		t.Errorf("a part that is of it: %+v", x)
	}
}

// TestLoadSetRightAsLeft: what a tire carries at the pressure it was left at
// settles a load too high for the pressure found.
func TestLoadSetRightAsLeft(t *testing.T) {
	soft := func(date, more string) *record.Visit {
		return onVisit(t, date, "tires: [{at: steer-left, hot: no, class: light truck, single: 3640 lb at 95 psi, last_set: 95 psi, found: 77 psi"+more+"}]\nweighing: {as_driven: all, scale: pads, tolerance: 20 lb, level: yes, readings: [{load: 3000 lb, on: steer-left}]}")
	}
	first := soft("2026-01-01", "")
	for _, x := range []struct {
		left string
		open bool
	}{{"77 psi", true}, {"95 psi", false}} {
		h := compare(t, first, soft("2026-02-01", ", left: "+x.left))
		if _, open := advisedBy(h.Open, "steer-left", "load-at-found-pressure"); open != x.open {
			t.Errorf("left at %s: open %t", x.left, open)
		}
		if ad, closed := advisedBy(h.Closed, "steer-left", "load-at-found-pressure"); closed == x.open || closed && ad.How != history.ClosedByLeftAt {
			t.Errorf("left at %s: %+v", x.left, ad)
		}
	}
}

// TestClosedTheLastFirst, whatever was closed when.
func TestClosedTheLastFirst(t *testing.T) {
	places := []string{"steer-left", "steer-right", "drive-left-outer", "drive-right-outer"}
	var visits []*record.Visit
	for k := range len(places) + 1 {
		tires := ""
		for i, at := range places {
			seen := "loose extension"
			if i < k {
				seen = "nothing"
			}
			tires += fmt.Sprintf("{at: %s, seen: %s}, ", at, seen)
		}
		visits = append(visits, onTires(t, fmt.Sprintf("2026-0%d-01", k+1), tires))
	}
	var got []string
	for _, ad := range compare(t, visits...).Closed {
		got = append(got, ad.At+" "+ad.Closed.String())
	}
	want := []string{"drive-right-outer 2026-05-01", "drive-left-outer 2026-04-01", "steer-right 2026-03-01", "steer-left 2026-02-01"}
	if !slices.Equal(got, want) {
		t.Errorf("%q", got)
	}
}

// TestWearBegins anew where a tire ran as a spare, or its tread contradicts
// what was before; a tread is held against the least there was.
func TestWearBegins(t *testing.T) {
	x := func(date, at, tread string) *record.Visit {
		return onTires(t, date, "{at: "+at+", number: "+numberX+", tread: "+tread+"/32 in}")
	}
	toSpare := onTires(t, "2026-02-01", "{at: spare, number: "+numberX+", tread: 10/32 in}, {at: steer-left, number: "+numberZ+"}")
	back := onTires(t, "2026-03-01", "{at: steer-left, number: "+numberX+", tread: 9/32 in}, {at: spare, number: "+numberZ+"}")
	h := compare(t, x("2026-01-01", "steer-left", "12"), toSpare, back)
	if w := tireAt(t, h, "steer-left").Wear; w.Is() || !missing(h, "steer-left", "its tread at two visits") {
		t.Errorf("worn as a spare: %+v", w)
	}
	h = compare(t, x("2026-01-01", "steer-left", "8"), x("2026-02-01", "steer-left", "12"), x("2026-03-01", "steer-left", "10"))
	if w, ok := tireAt(t, h, "steer-left").Wear.Get(); !ok || w.From != day("2026-02-01") || len(h.Contradictions) != 1 {
		t.Errorf("%+v %+v", w, h.Contradictions)
	}
	h = compare(t, x("2026-01-01", "steer-left", "10"), x("2026-02-01", "steer-left", "7"), x("2026-03-01", "steer-left", "9"))
	if !contradicted(h, "steer-left", "tread 9/32 in, deeper than 7/32 in on 2026-02-01") {
		t.Errorf("%+v", h.Contradictions)
	}
}

// TestLeakBeginsWhereAirWasSet, though nobody read what was there before; and
// what was lost before the last visit stays advised of until the tire is read cold again.
func TestLeakBeginsWhereAirWasSet(t *testing.T) {
	h := compare(t,
		onTires(t, "2026-01-01", "{at: steer-left, left: 100 psi}"),
		onTires(t, "2026-01-31", "{at: steer-left, left: 110 psi}"),
		onTires(t, "2026-03-02", "{at: steer-left, found: 98 psi}"),
		onTires(t, "2026-04-01", "{at: steer-left}"))
	leaks := tireAt(t, h, "steer-left").Leaks
	if len(leaks) != 1 || leaks[0].From != day("2026-01-31") || leaks[0].PerMonth != 12*inflation.PSI {
		t.Errorf("%+v", leaks)
	}
	if len(h.Todo) != 1 || !slices.Contains(h.Todo[0].Rules, "coach-care/leak") || !missing(h, "steer-left", "its leak") {
		t.Errorf("%+v %+v", h.Todo, h.Unjudged)
	}
}

// TestTiresStandInTheOrderOfTheirPositions, whenever each was first seen.
func TestTiresStandInTheOrderOfTheirPositions(t *testing.T) {
	h := compare(t, onTires(t, "2026-01-01", "{at: drive-right-outer}, {at: spare}"),
		onTires(t, "2026-02-01", "{at: spare}, {at: drive-right-outer}, {at: steer-right}, {at: steer-left}"))
	var got []string
	for _, x := range h.Tires {
		got = append(got, x.At)
	}
	if !slices.Equal(got, []string{"steer-left", "steer-right", "drive-right-outer", "spare"}) {
		t.Errorf("%q", got)
	}
}

// TestSecondColdReading: a leak that was found is closed once the tire was set and read
// again after 24 hours, and lost nothing that colder air does not explain; less keeps it
// open, and so does a reading that nobody took, or took in air that nobody knows (common
// practice).
func TestSecondColdReading(t *testing.T) {
	visit := func(date, air, tire string) *record.Visit {
		return onVisit(t, date, "air_temperature: 60 F\n"+air+"gauge_tolerance: 1 psi\ncold: yes\nnothing_since_set: yes\ndriven_since: no\ntires: [{at: steer-left, number: "+numberX+", seen: nothing, last_set: 100 psi, found: 70 psi"+tire+"}]")
	}
	const same = "next_day_air: 60 F\n"
	for _, x := range []struct {
		name, air, tire string
		closed          bool
	}{
		{"held", same, ", left: 100 psi, next_day: 100 psi", true},
		{"held in colder air, in which 100 psi read 95.6", "next_day_air: 40 F\n", ", left: 100 psi, next_day: 96 psi", true},
		{"fell", same, ", left: 100 psi, next_day: 97 psi", false},
		{"fell by 1 psi, which shows no leak and ends none", same, ", left: 100 psi, next_day: 99 psi", false},
		{"not read again", same, ", left: 100 psi", false},
		{"not written down what it was left at", same, ", next_day: 100 psi", false},
		{"in air that nobody knows", "", ", left: 100 psi, next_day: 100 psi", false},
	} {
		t.Run(x.name, func(t *testing.T) {
			h := compare(t, visit("2026-01-01", "", ""), visit("2026-01-02", x.air, x.tire))
			closed, isClosed := advisedBy(h.Closed, "steer-left", "low-after-parking")
			_, isOpen := advisedBy(h.Open, "steer-left", "low-after-parking")
			if n := len(h.Closed); x.closed && n != 1 {
				t.Errorf("one entry was closed, and is said %d times: %+v", n, h.Closed)
			}
			if isClosed != x.closed || isOpen == x.closed || x.closed && (closed.How != history.ClosedByHeld || closed.Closed != day("2026-01-02")) {
				t.Errorf("closed %t, open %t: %+v", isClosed, isOpen, closed)
			}
		})
	}
	t.Run("air alone ends no leak", func(t *testing.T) {
		h := compare(t, visit("2026-01-01", "", ", left: 100 psi"))
		if _, open := advisedBy(h.Open, "steer-left", "low-after-parking"); !open || len(h.Closed) > 0 {
			t.Errorf("open %t, closed %+v", open, h.Closed)
		}
	})
	t.Run("nor does the next visit that finds less than tires lose", func(t *testing.T) {
		for found, open := range map[string]bool{"100 psi": false, "99 psi": false, "90 psi": true} { // 2 psi a month
			next := onVisit(t, "2026-01-31", "air_temperature: 60 F\ngauge_tolerance: 1 psi\ncold: yes\nnothing_since_set: yes\ndriven_since: no\nlast_set_on: 2026-01-01\nlast_set_air: 60 F\n"+
				"tires: [{at: steer-left, number: "+numberX+", seen: nothing, last_set: 100 psi, found: "+found+"}]")
			h := compare(t, visit("2026-01-01", "", ", left: 100 psi"), next)
			if _, got := advisedBy(h.Open, "steer-left", "low-after-parking"); got != open {
				t.Errorf("found %s: open %t, want %t", found, got, open)
			}
		}
	})
	t.Run("nor what is explained by a day before it was found, or by no day at all", func(t *testing.T) {
		for set, open := range map[string]bool{"2025-01-01": true, "2025-12-31": true, "2026-01-01": false, "2026-01-11": true} { // a year explains 24 psi
			next := onVisit(t, "2026-01-11", "air_temperature: 60 F\ngauge_tolerance: 1 psi\ncold: yes\nnothing_since_set: yes\ndriven_since: no\nlast_set_on: "+set+"\nlast_set_air: 60 F\n"+
				"tires: [{at: steer-left, number: "+numberX+", seen: nothing, last_set: 100 psi, found: 100 psi}]")
			h := compare(t, visit("2026-01-01", "", ", left: 100 psi"), next)
			if _, got := advisedBy(h.Open, "steer-left", "low-after-parking"); got != open {
				t.Errorf("last set on %s: open %t, want %t", set, got, open)
			}
		}
	})
	t.Run("what was lost stays open until it holds", func(t *testing.T) {
		lost := visit("2026-01-01", same, ", left: 100 psi, next_day: 90 psi")
		for tire, open := range map[string]bool{"": true, ", left: 100 psi": true, ", left: 100 psi, next_day: 98 psi": true, ", left: 100 psi, next_day: 100 psi": false} {
			h := compare(t, lost, visit("2026-02-01", same, tire))
			if _, got := advisedBy(h.Open, "steer-left", "lost-next-day"); got != open {
				t.Errorf("%q: open %t, want %t", tire, got, open)
			}
		}
	})
}

// TestLeakCountsAddedAir: what a tire lost is told by the reading before air was added, or
// by the air itself; cold is said of all tires at once, too; and what was set anew in
// between is compared with nothing.
func TestLeakCountsAddedAir(t *testing.T) {
	t.Parallel()
	const common = "cold: yes\ngauge_tolerance: 0.5 psi\nair_temperature: 60 F\n"
	left := onVisit(t, "2026-01-01", common+"tires: [{at: steer-left, number: "+numberX+", found: 100 psi, left: 100 psi}]")
	for lines, want := range map[string]string{
		"tires: [{at: steer-left, number: " + numberX + ", found: 99 psi}]":                                           "0.5 psi",
		"tires: [{at: steer-left, number: " + numberX + ", found: 99 psi, before_air: 85 psi}]":                       "7.5 psi",
		"tires: [{at: steer-left, number: " + numberX + ", found: 99 psi, air_added: yes, air_added_by: 14 psi}]":     "7.5 psi",
		"tires: [{at: steer-left, number: " + numberX + ", found: 99 psi, before_air: 90 psi, air_added_by: 14 psi}]": "7.5 psi",
		"tires: [{at: steer-left, number: " + numberX + ", found: 99 psi, air_added: yes}]":                           "",
		"last_set_on: 2026-02-20\ntires: [{at: steer-left, number: " + numberX + ", found: 99 psi}]":                  "",
		"last_set_on: 2025-12-20\ntires: [{at: steer-left, number: " + numberX + ", found: 99 psi}]":                  "0.5 psi",
		"last_set_on: 2026-01-01\ntires: [{at: steer-left, number: " + numberX + ", found: 99 psi}]":                  "0.5 psi",
	} {
		leaks := tireAt(t, compare(t, left, onVisit(t, "2026-03-02", common+lines)), "steer-left").Leaks
		got := ""
		if len(leaks) > 0 {
			got = leaks[0].PerMonth.String()
		}
		if got != want {
			t.Errorf("%s: %q a month, want %q", lines, got, want)
		}
	}
}

// TestLeakOfAFewDays: what two readings of a gauge may be off is no leak only because few
// days lie between them.
func TestLeakOfAFewDays(t *testing.T) {
	t.Parallel()
	const common = "cold: yes\ngauge_tolerance: 1 psi\nair_temperature: 60 F\ntires: [{at: steer-left, number: " + numberX + ", found: "
	for found, leaks := range map[string]bool{"100 psi": false, "99 psi": false, "98 psi": false, "95 psi": true} {
		h := compare(t, onVisit(t, "2026-03-02", common+"100 psi, left: 100 psi}]"), onVisit(t, "2026-03-10", common+found+"}]"))
		if is := slices.ContainsFunc(h.Todo, func(it report.Item) bool { return it.Where == "steer-left" }); is != leaks || missing(h, "steer-left", "a longer time") == leaks {
			t.Errorf("%s: leaks %t, want %t: %+v, %+v", found, is, leaks, h.Todo, h.Unjudged)
		}
	}
}
