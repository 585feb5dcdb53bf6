package inspect_test

import (
	"fmt"
	"slices"
	"testing"

	"axleend.example/inspect"
	"axleend.example/inspect/record"
	"axleend.example/inspect/report"
	"axleend.example/rules"
	"axleend.example/weight"
)

const duals = `
visit: 1
date: 2026-10-03
axles: [{id: drive, fitment: dual}]
tires:
  - {at: drive-left-outer, number: "%s"}
  - {at: drive-left-inner, number: "%s"}
weighing: {scale: platform, division: 20 lb, readings: [{load: %s, on: drive-left}]}
`

func assessed(t *testing.T, text string) report.Report {
	t.Helper()
	v, err := record.Read("v.yaml", []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	r, err := inspect.Assess(v, inspect.Setup{})
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// TestDualsMadeApart: from the latest day of the older tire to the earliest of
// the other, up to from the earliest to the latest day of all (weeks by 49 CFR
// 574.5). Code 1819 is 5 to 11 May 2019, 0523 is 29 January to 4 February 2023;
// 439 is 28 October 1979 at the earliest and 30 October 1999 at the latest, 450
// lies between, 451 is 7 November 1971 at the earliest.
func TestDualsMadeApart(t *testing.T) {
	t.Parallel()
	for _, x := range []struct{ a, b, want string }{
		{"1819", "0523", "3 years 8 months 18 days to 3 years 8 months 30 days"},
		{"439", "450", "0 days to 20 years 2 days"},
		{"439", "451", "0 days to 27 years 11 months 23 days"},
		{"1819", "1819", ""},
		{"1819", "", ""},
	} {
		for range 2 {
			r := assessed(t, fmt.Sprintf(duals, x.a, x.b, "8000 lb"))
			got := ""
			for _, it := range r.Todo {
				if slices.Contains(it.Rules, "coach-care/pair-age") {
					got = it.Found
				}
			}
			if got != x.want {
				t.Errorf("%q beside %q: got %q, want %q", x.a, x.b, got, x.want)
			}
			x.a, x.b = x.b, x.a
		}
	}
}

// TestHalvesOfADual: the two tires of a pair never carry less together than
// their end, whatever the figure that was read (computed).
func TestHalvesOfADual(t *testing.T) {
	t.Parallel()
	for cents := range 9 {
		load := 8000*weight.Pound + weight.Mass(cents)*weight.Pound/100
		r := assessed(t, fmt.Sprintf(duals, "1819", "1819", load))
		sum := weight.Mass(0)
		for _, tire := range r.Tires {
			if tire.Side == weight.Left {
				sum += tire.Load.AtMost()
			}
		}
		if end := r.Loads[0].Estimate; end.Load != load || sum < end.AtMost() || sum > end.AtMost()+4*weight.Pound/100 {
			t.Errorf("%s on the end (%s with its plus/minus), %s on both tires", load, end.AtMost(), sum)
		}
	}
}

// TestMeasuredSizesThatDisagree: where by diameter the one dual is larger and by
// circumference the other, nobody is told which belongs inside, but to measure
// again; where one of the two measures is the same on both, the other decides
// (US Army TM 9-2610-200-14, para 2-11: the larger one outside).
func TestMeasuredSizesThatDisagree(t *testing.T) {
	t.Parallel()
	for _, x := range []struct {
		outer, inner string
		inside       string
		larger       bool // the larger one runs inside
		doubt        bool
	}{
		{"diameter: 39.9 in, circumference: 126 in", "diameter: 40 in, circumference: 125.5 in", "", false, true},
		{"diameter: 40 in, circumference: 125.5 in", "diameter: 39.9 in, circumference: 126 in", "", false, true},
		{"diameter: 39.9 in, circumference: 125.5 in", "diameter: 40 in, circumference: 125.5 in", "drive-left-outer", true, false},
		{"diameter: 40 in, circumference: 125.5 in", "diameter: 40 in, circumference: 125.8 in", "drive-left-outer", true, false},
		{"diameter: 40 in, circumference: 125.8 in", "diameter: 39.9 in, circumference: 125.5 in", "drive-left-inner", false, false},
	} {
		r := assessed(t, fmt.Sprintf(`
visit: 1
date: 2026-10-03
axles: [{id: drive, fitment: dual}]
tires:
  - {at: drive-left-outer, tread: 8/32 in, %s}
  - {at: drive-left-inner, tread: 7/32 in, %s}
`, x.outer, x.inner))
		if got := r.Pairs[0].Inside; got != x.inside {
			t.Errorf("%s beside %s: %q belongs inside, want %q", x.outer, x.inner, got, x.inside)
		}
		larger, doubt := false, false
		for _, it := range r.Todo {
			larger = larger || slices.Contains(it.Rules, "dual-matching/larger-outside")
			doubt = doubt || it.Where == "drive-left" && it.Verdict == rules.NotRecorded && it.Action == report.BeforeTrip
		}
		if larger != x.larger || doubt != x.doubt {
			t.Errorf("%s beside %s: larger inside %t, in doubt %t, want %t, %t", x.outer, x.inner, larger, doubt, x.larger, x.doubt)
		}
	}
}

// TestPairsShowTheWorst: a pair made years apart, which is to be planned for, and
// found far apart in pressure, which is for now: the line of the pair has the worse.
func TestPairsShowTheWorst(t *testing.T) {
	t.Parallel()
	r := assessed(t, `
visit: 1
date: 2026-10-03
axles: [{id: drive, fitment: dual}]
tires:
  - {at: drive-left-outer, number: "1819", found: 100 psi}
  - {at: drive-left-inner, number: "0523", found: 90 psi}
`)
	var actions []report.Action
	for _, it := range r.Todo {
		if it.Where == "drive-left" {
			actions = append(actions, it.Action)
		}
	}
	if got := r.Pairs[0].Worst; got != report.BeforeTrip || actions[0] != got || !slices.Contains(actions, report.Plan) {
		t.Errorf("the pair's worst is %q of %q, want %q", got, actions, report.BeforeTrip)
	}
}
