package inspect_test

import (
	"regexp"
	"slices"
	"strings"
	"testing"

	"axleend.example/inflation"
	"axleend.example/inspect"
	"axleend.example/inspect/report"
	"axleend.example/internal/visittest"
	"axleend.example/weight"
)

// inOneUnit is a coach whose slip, label and stamps are in pounds. Its slip lets 100
// psi be set on the steer axle, below the placard's 110.
const inOneUnit = `
visit: 1
date: 2026-10-03
axles:
  - {id: steer, fitment: single, gawr: 9500 lb, placard: 110 psi}
  - {id: drive, fitment: dual, gawr: 17500 lb, placard: 110 psi}
ratings: {gvwr: 26000 lb, gcwr: 31000 lb}
every_tire: {size: XV250/72R21, load_range: G, class: truck, single: 4940 lb at 110 psi, dual: 4540 lb at 110 psi, wheel: 5000 lb at 120 psi}
tires: [{at: steer-left}, {at: steer-right}, {at: drive-left-outer}, {at: drive-left-inner}, {at: drive-right-outer}, {at: drive-right-inner}]
weighing:
  as_driven: yes
  division: 20 lb
  readings:
    - {load: 4000 lb, on: steer-left}
    - {load: 4020 lb, on: steer-right}
    - {load: 7000 lb, on: drive-left}
    - {load: 7040 lb, on: drive-right}
`

// TestPoundsBesideKilograms: a slip, a label or a sidewall in two units is asked
// about; meanwhile the coach may weigh more than was read and a rating counts as no
// more than was read, until somebody says that it is right (common practice).
func TestPoundsBesideKilograms(t *testing.T) {
	_, setup := visittest.Demo(t)
	assess := func(old, new string) report.Report {
		t.Helper()
		text := strings.Replace(inOneUnit, old, new, 1)
		if old != "" && text == inOneUnit {
			t.Fatalf("%q is not there", old)
		}
		r, err := inspect.Assess(visittest.Read(t, text), setup)
		if err != nil {
			t.Fatal(err)
		}
		return r
	}
	again := func(r report.Report) string {
		var out []string
		for _, it := range r.Todo {
			if rest, ok := strings.CutPrefix(it.What, "Read again: "); ok && it.Action == report.BeforeTrip && !slices.Contains(out, rest) {
				out = append(out, rest)
			}
		}
		return strings.Join(out, "; ")
	}
	set := func(r report.Report, axle string) inflation.Pressure {
		for _, s := range r.Settings {
			if s.Name == axle {
				return s.Set
			}
		}
		return 0
	}
	sound := assess("", "")
	if got := again(sound); got != "" || set(sound, "steer") >= 110*inflation.PSI || set(sound, "drive") >= 110*inflation.PSI {
		t.Fatalf("asked %q, SET %s and %s", got, set(sound, "steer"), set(sound, "drive"))
	}
	const scale, step = "the scale's readings and its division, in pounds and in kilograms", "a scale's reading that is no multiple of its division"
	const ratings, stamps = "the ratings, in pounds and in kilograms", "the loads stamped on it and its wheel, in pounds and in kilograms"
	for _, x := range []struct {
		old, new, asked string
		placard         bool // at least the placard is set again on both axles
	}{
		{"load: 4000 lb", "load: 1820 kg", scale + "; " + step, true}, // 4,012 lb: the ends are not apart
		{"load: 4000 lb", "load: 1820 kg, sure: yes", "", false},
		{"division: 20 lb", "division: 20 kg", scale + "; " + step, true},
		{"division: 20 lb", "division: 30 lb", step, false},
		{"division: 20 lb", "scale: platform\n  division: 2 lb", "the scale's division", false},
		{"division: 20 lb", "scale: platform\n  division: 5 lb", "", false},
		{"division: 20 lb", "scale: pads\n  division: 2 lb", "", false},
		{"visit: 1", "visit: 1\nsure: [division]", "", false},
		{"load: 4000 lb", "load: 4010 lb", step, false},
		{"load: 4000 lb", "load: 4010 lb, sure: yes", "", false},
		{"load: 4000 lb", "load: 2000 lb", "the loads of its ends, which are far apart", true},
		{"gawr: 9500 lb", "gawr: 9500 kg", ratings, false},
		{"gawr: 9500 lb", "gawr: 9500 kg, sure: [gawr]", "", false},
		{"gcwr: 31000 lb", "gcwr: 31000 kg", ratings, false},
		{"gvwr: 26000 lb", "gvwr: 26000 kg", ratings, false},
		{"dual: 4540 lb", "dual: 4540 kg", stamps, false},
		{"wheel: 5000 lb", "wheel: 5000 kg", stamps, false},
		{"{at: steer-left}", "{at: steer-left, wheel: 5000 kg at 120 psi}", stamps, false},
		{"{at: steer-left}", "{at: steer-left, wheel: 5000 kg at 120 psi, sure: [wheel]}", "", false},
		{"wheel: 5000 lb", "wheel: 50000 lb", "the load on its wheel, which is more than twice its axle's GAWR", false},
		{"{at: steer-left}", "{at: steer-left, wheel: 19000 lb at 120 psi}", "", false},
		{"{at: steer-left}", "{at: steer-left, wheel: 19010 lb at 120 psi}", "the load on its wheel, which is more than twice its axle's GAWR", false},
		{"{at: steer-left}", "{at: steer-left, wheel: 50000 lb at 120 psi, sure: [wheel]}", "", false},
		// A figure too many: an axle is rated for no more than its coach, nor a coach for
		// half as much again as its axles.
		{"gawr: 9500 lb", "gawr: 26010 lb", "its GAWR", false},
		{"gawr: 9500 lb", "gawr: 26000 lb", "", false},
		{"gawr: 9500 lb", "gawr: 26010 lb, sure: [gawr]", "", false},
		{"gvwr: 26000 lb, gcwr: 31000 lb", "gvwr: 17500 lb, gcwr: 31000 lb", "", false},
		{"gvwr: 26000 lb, gcwr: 31000 lb", "gvwr: 17490 lb, gcwr: 31000 lb", "its GAWR", false},
		{"gvwr: 26000 lb, gcwr: 31000 lb", "gvwr: 40500 lb, gcwr: 51000 lb", "", false},
		{"gvwr: 26000 lb, gcwr: 31000 lb", "gvwr: 40510 lb, gcwr: 51000 lb", "its GVWR", false},
		{"visit: 1", "visit: 1\nsure: [gvwr]", "", false},
	} {
		r := assess(x.old, x.new)
		if got := again(r); got != x.asked {
			t.Errorf("%s: asked %q, want %q", x.new, got, x.asked)
		}
		if x.placard && (set(r, "steer") < 110*inflation.PSI || set(r, "drive") < 110*inflation.PSI) {
			t.Errorf("%s: SET %s and %s, below the placard", x.new, set(r, "steer"), set(r, "drive"))
		}
		if set(r, "steer") < set(sound, "steer") || set(r, "drive") < set(sound, "drive") {
			t.Errorf("%s: SET %s and %s, lower than without the slip", x.new, set(r, "steer"), set(r, "drive"))
		}
	}
	// A step that no reading fits is no measure of the scale's doubt: the usual 20 lb is.
	for _, l := range assess("division: 20 lb", "division: 3 lb").Loads {
		if l.Name == "steer-left" && l.Estimate.PlusMinus < 20*weight.Pound {
			t.Errorf("plus/minus %s", l.Estimate.PlusMinus)
		}
	}
	// All in kilograms is one unit, a wheel that carries nothing included.
	metric := regexp.MustCompile(`(\d+) lb`).ReplaceAllString(strings.Replace(inOneUnit, "visit: 1", "visit: 1\nunits: metric", 1), "$1 kg")
	metric = strings.Replace(metric, "load: 4000 kg", "load: 0 kg", 1)
	if r, err := inspect.Assess(visittest.Read(t, metric), setup); err != nil || strings.Contains(again(r), "in pounds") {
		t.Errorf("all in kilograms: %v, %s", err, again(r))
	}
	// Kilograms taken for pounds, all alike: no coach weighs less than half of what it, or
	// all of its axles, are rated for.
	light := strings.NewReplacer("division: 20 lb", "division: 10 lb", "4000 lb", "1810 lb", "4020 lb", "1820 lb", "7000 lb", "3180 lb", "7040 lb", "3190 lb")
	const half = "the scale's readings, which are less than half of what the coach is rated for"
	for _, x := range []struct {
		old, new, asked string
	}{
		{"", "", half},
		{"ratings: {gvwr: 26000 lb, gcwr: 31000 lb}", "ratings: {}", half},
		{"gawr: 9500 lb, ", "", half},
		{"visit: 1", "visit: 1\nsure: [readings]", ""},
		{"load: 3180 lb", "load: 6580 lb, sure: yes", "the loads of its ends, which are far apart; " + half}, // 13,400 lb in all, and half of 27,000 lb is 13,500
		{"load: 3180 lb", "load: 6660 lb, sure: yes", "the loads of its ends, which are far apart"},          // 13,480 lb, or a little more
	} {
		text := strings.Replace(light.Replace(inOneUnit), x.old, x.new, 1)
		r, err := inspect.Assess(visittest.Read(t, text), setup)
		if err != nil {
			t.Fatal(err)
		}
		if got := again(r); got != x.asked {
			t.Errorf("%s: asked %q, want %q", x.new, got, x.asked)
		}
		if x.asked != "" && (set(r, "steer") < 110*inflation.PSI || set(r, "drive") < 110*inflation.PSI) {
			t.Errorf("%s: SET %s and %s, below the placard", x.new, set(r, "steer"), set(r, "drive"))
		}
	}
	// A rating in doubt keeps nothing, and what is over it as read stays over.
	for gawr, want := range map[string]string{"9480 lb": "nothing", "3700 kg": "not judged: its GAWR, from the ratings label", "3600 kg": string(report.DoNotDrive)} { // 8,157 and 7,937 lb; weighed 8,020 lb +/- 40 lb
		if got := ofRule(assess("gawr: 9500 lb", "gawr: "+gawr), "label/gawr"); got != want {
			t.Errorf("GAWR of %s: %s, want %s", gawr, got, want)
		}
	}
}

// TestTripWithADotForThousands: of what is put aboard, and of the least on the steer axle,
// both that may be meant are shown where nobody weighs so finely; a tenth of a pound or of a
// kilogram is one.
func TestTripWithADotForThousands(t *testing.T) {
	t.Parallel()
	for _, x := range []struct{ trip, of, meant string }{
		{"least_on_steer: 8.525 lb", "the least on the steer axle", "was 8,525 lb meant, or 8.525 lb"},
		{"changes: [{name: stones, at: shelf, add: 4.380 lb}]", "stones", "was 4,380 lb meant, or 4.38 lb"},
		{"changes: [{name: stones, at: shelf, take_off: 4.380 lb}]", "stones", "was 4,380 lb meant, or 4.38 lb"},
		{"items: [{name: stones, at: shelf, mass: 1.985 kg, may_go_to: nook}]", "stones", "was 1,985 kg meant, or 1.985 kg"},
		{"changes: [{name: stones, at: shelf, add: 4.3 lb}]", "", ""},
		{"changes: [{name: stones, at: shelf, add: 4.3 kg}]", "", ""},
		{"changes: [{name: stones, at: shelf, add: 10.125 lb}]", "", ""},
	} {
		v := visittest.Read(t, `visit: 1
date: 2026-10-03
axles: [{id: steer, fitment: single}, {id: drive, fitment: dual, behind_steer: 200 in}]
weighing: {as_driven: all, scale: pads, readings: [{load: 9000 lb, on: steer}, {load: 15000 lb, on: drive}]}
trip: {track: 80 in, stations: [{name: shelf, behind_steer: 100 in}, {name: nook, behind_steer: 10 in}], `+x.trip+`}
`)
		of, advice := "", ""
		for _, it := range visittest.Assess(t, v).Todo {
			if name, ok := strings.CutPrefix(it.What, "Read again: what the trip says of "); ok {
				of, advice = name, it.Advice
			}
		}
		if of != x.of || !strings.Contains(advice, x.meant) {
			t.Errorf("%s: asked %q, want %q: %s", x.trip, of, x.of, advice)
		}
	}
}
