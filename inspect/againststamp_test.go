package inspect_test

import (
	"slices"
	"strings"
	"testing"

	"axleend.example/inspect/report"
	"axleend.example/internal/visittest"
)

// TestHeldToTheStampOfItsFitment: where neither last set nor placard is known a tire is
// held to the pressure stamped for its own fitment, one of a pair to the dual one. 80
// psi is 80 % of 100 and more than 80 % of 90 (29 CFR 1910.177(f)(2)(i), as guidance).
func TestHeldToTheStampOfItsFitment(t *testing.T) {
	for _, x := range []struct {
		single, dual string
		want         string // the tire that is asked about
	}{
		{"100 psi", "90 psi", "steer-left"},
		{"90 psi", "100 psi", "drive-left-outer"},
	} {
		r := assessed(t, "visit: 1\ndate: 2026-10-03\ncold: yes\nnothing_since_set: yes\naxles: [{id: steer, fitment: single}, {id: drive, fitment: dual}]\n"+
			"every_tire: {class: truck, single: 4000 lb at "+x.single+", dual: 3600 lb at "+x.dual+"}\n"+
			"gauge_tolerance: 0.1 psi\ntires: [{at: steer-left, found: 79 psi}, {at: drive-left-outer, found: 79 psi}]\n")
		asked := ""
		for _, it := range r.Todo {
			if strings.Contains(strings.Join(it.Rules, " "), "coach-care/below-stamp") {
				asked += it.Where
			}
		}
		if asked != x.want {
			t.Errorf("single at %s, dual at %s: asked of %q, want %q; low %s, %s", x.single, x.dual, asked, x.want, tireOf(t, r, "steer-left").Low, tireOf(t, r, "drive-left-outer").Low)
		}
		if low := tireOf(t, r, x.want).Low; low != report.LowAsked {
			t.Errorf("%s: %s", x.want, low)
		}
	}
}

// TestBelowItsStampAsksForWhatIsMissing: with the placard read only the last set is asked
// for, in words that are true; with it not read, both; with its last set known and the
// placard read, or none there, neither.
func TestBelowItsStampAsksForWhatIsMissing(t *testing.T) {
	for _, x := range []struct {
		name, placard, found, last string
		rule, advice               string
	}{
		{"placard read, at the stamp's 80 %", ", placard: 90 psi", "88 psi", "", "below-stamp-last-set", "Find out what it was last set to, before any air."},
		{"placard read, just above", ", placard: 90 psi", "88.5 psi", "", "", ""},
		{"no placard on the coach", ", placard: none", "88 psi", "", "below-stamp-last-set", "Find out what it was last set to, before any air."},
		{"placard not read", "", "88 psi", "", "below-stamp", "Read the placard, and find out what it was last set to, before any air."},
		{"placard read, last set known", ", placard: 90 psi", "88 psi", ", last_set: 90 psi", "", ""},
	} {
		r := assessed(t, "visit: 1\ndate: 2026-10-03\ncold: yes\nnothing_since_set: yes\ndriven_since: yes\naxles: [{id: steer, fitment: single"+x.placard+"}]\n"+
			"every_tire: {class: truck, single: 4940 lb at 110 psi}\ngauge_tolerance: 0.1 psi\ntires: [{at: steer-left, found: "+x.found+x.last+"}]\n")
		got, advice := "", ""
		for _, rule := range [...]string{"below-stamp", "below-stamp-last-set"} {
			if it, ok := has(r, "steer-left", rule); ok {
				got, advice = rule, it.Advice
				if strings.Contains(it.What, "nothing says") != (rule == "below-stamp") {
					t.Errorf("%s: %s", x.name, it.What)
				}
			}
		}
		if got != x.rule || !strings.Contains(advice, x.advice) {
			t.Errorf("%s: %q, %q; want %q, %q", x.name, got, advice, x.rule, x.advice)
		}
		if low := tireOf(t, r, "steer-left").Low; (low == report.LowAsked) != (x.rule != "") {
			t.Errorf("%s: low %s", x.name, low)
		}
	}
}

// TestLoadRangeAgainstThePressure: LT-metric tires of load range C have their maximum load
// at 50 psi, of E at 80 psi (as quoted in inflation); sizes of other kinds differ.
func TestLoadRangeAgainstThePressure(t *testing.T) {
	t.Parallel()
	for _, x := range []struct {
		tire  string
		asked bool
	}{
		{"size: LT225/75R16, load_range: C, single: 2680 lb at 80 psi", true},
		{"size: LT225/75R16, load_range: E, single: 2680 lb at 80 psi", false},
		{"size: LT225/75R16, single: 2680 lb at 80 psi", false},
		{"size: XV250/72R21, load_range: C, single: 2680 lb at 80 psi", false},
	} {
		r := visittest.Assess(t, visittest.Read(t, bare("", "tires: [{at: steer-left, class: light truck, "+x.tire+"}]\n")))
		if got := slices.ContainsFunc(r.Todo, func(it report.Item) bool { return it.What == "Stamps on its sidewall contradict each other" }); got != x.asked {
			t.Errorf("%s: asked %t, want %t", x.tire, got, x.asked)
		}
	}
}
