package inspect_test

import (
	"slices"
	"strings"
	"testing"

	"axleend.example/inspect"
	"axleend.example/internal/visittest"
	"axleend.example/rules"
)

// TestNeedsAreWords: what is missing is said in words of the shop, never by the name
// that a measure has in the rules.
func TestNeedsAreWords(t *testing.T) {
	t.Parallel()
	names := map[string]bool{}
	for _, s := range inspect.Vocabulary().Definition().Subjects {
		for _, m := range s.Measures {
			names[strings.ReplaceAll(m.Name, "_", " ")] = true
		}
	}
	said := 0
	for seed := range uint64(40) {
		c := visittest.NewCoach(7_000_000 + seed)
		visits := []step{{after: c.Write()}}
		visits = append(visits, steps(c)...)
		for i, v := range visits {
			if i%5 != 0 {
				continue
			}
			r, err := inspect.Assess(v.after, c.Setup())
			if err != nil {
				continue
			}
			for _, g := range r.Unjudged {
				if said++; names[g.Need] {
					t.Errorf("%s: %q is a measure's name; rules %v", g.Where, g.Need, g.Rules)
				}
			}
		}
	}
	if said < 1000 {
		t.Errorf("%d things were missing, too few to tell", said)
	}
}

// TestDoubtedPressureClearsNoLoad: a reading that can hardly be is at most what the tire
// has, and what it would carry at that is no load it carries.
func TestDoubtedPressureClearsNoLoad(t *testing.T) {
	t.Parallel()
	const weighed = "weighing: {scale: pads, level: yes, as_driven: yes, readings: [{load: 4000 lb, on: steer-left}, {load: 4000 lb, on: steer-right}]}\n"
	for found, want := range map[string]rules.Verdict{"100 psi": rules.Kept, "745 psi": rules.NotRecorded} {
		text := one("steer-left", "found: "+found+", size: XV250/72R21, load_range: G, class: truck, construction: radial, single: 4940 lb at 110 psi, wheel: 5000 lb at 120 psi") + weighed
		_, setup := visittest.Demo(t)
		setup.EveryVerdict = true
		r, err := inspect.Assess(visittest.Read(t, text), setup)
		if err != nil {
			t.Fatal(err)
		}
		got := rules.Verdict(0)
		for _, v := range r.Verdicts {
			if v.Where == "steer-left" && v.Rule == "coach-care/load-at-found-pressure" {
				got = v.Verdict
			}
		}
		if got != want {
			t.Errorf("found %s: %s, want %s", found, got, want)
		}
	}
}

// TestLoadsOfAWholeAxleAreNamed: an axle weighed whole is held to what all its tires and
// wheels carry, under that name and not that of the breach.
func TestLoadsOfAWholeAxleAreNamed(t *testing.T) {
	t.Parallel()
	text := "visit: 1\ndate: 2026-10-03\naxles: [{id: steer, fitment: single, gawr: 12000 lb}]\n" +
		"every_tire: {size: XV250/72R21, load_range: G, class: truck, construction: radial, single: 4940 lb at 110 psi, wheel: 5000 lb at 120 psi}\n" +
		"tires: [{at: steer-left, found: 100 psi}, {at: steer-right, found: 100 psi}]\nweighing: {scale: platform, as_driven: yes, readings: [{load: 8000 lb, on: steer}]}\n"
	_, setup := visittest.Demo(t)
	line := func(text string) (names []string) {
		r, err := inspect.Assess(visittest.Read(t, text), setup)
		if err != nil {
			t.Fatal(err)
		}
		for _, g := range r.Load("steer").Ratings {
			names = append(names, g.Name)
		}
		return names
	}
	want := []string{"GAWR", "all its tires, as rated", "all its tires, at the pressure as found", "all its wheels, as rated"}
	got := line(text)
	for _, name := range want {
		if !slices.Contains(got, name) {
			t.Errorf("%q, want %q among them", got, name)
		}
	}
	if got := line(strings.ReplaceAll(text, "found: 100 psi", "found: 100 psi, left: 105 psi")); !slices.Contains(got, "all its tires, at the pressure as left") {
		t.Errorf("%q", got)
	}
}
