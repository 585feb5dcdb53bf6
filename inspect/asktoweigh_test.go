package inspect_test

import (
	"strings"
	"testing"

	"axleend.example/inspect"
	"axleend.example/internal/visittest"
)

// TestBelowSetAsksForWhatIsMissing: of an axle that was weighed whole it is asked whether
// a tire is below what it needs: its ends are to be weighed, and the placard is to be
// read where nobody did. Surely below is no question.
func TestBelowSetAsksForWhatIsMissing(t *testing.T) {
	tables := radialTables(t)
	const weigh = "Weigh each axle end, to know whether it is below what it needs."
	for _, x := range []struct{ name, placard, found, rule, advice string }{
		{"no placard", ", placard: none", "99 psi", "below-set-by-share", weigh},
		{"no placard, surely below", ", placard: none", "89 psi", "below-set-by-share", "Look for the cause."},
		{"no placard, enough", ", placard: none", "110 psi", "", ""},
		{"placard read", ", placard: 95 psi", "99 psi", "below-set-by-share", weigh},
		{"placard not read", "", "99 psi", "below-set", "Read the placard and weigh each axle end, to know whether it is below what it needs."},
	} {
		r, err := inspect.Assess(visittest.Read(t, "visit: 1\ndate: 2026-10-03\ncold: yes\nnothing_since_set: yes\ndriven_since: yes\naxles: [{id: steer, fitment: single, gawr: 9500 lb"+x.placard+"}]\n"+
			"every_tire: {size: XV250/72R21, load_range: G, class: truck, single: 4940 lb at 110 psi, wheel: 5000 lb at 120 psi, seen: nothing}\ngauge_tolerance: 0.1 psi\n"+
			"tires: [{at: steer-left, last_set: 100 psi, found: "+x.found+"}, {at: steer-right, last_set: 100 psi, found: "+x.found+"}]\n"+
			"weighing: {date: 2026-10-01, as_driven: all, work_since: no, tolerance: 20 lb, readings: [{load: 8500 lb, on: steer}]}\n"), inspect.Setup{Tables: tables})
		if err != nil {
			t.Fatal(err)
		}
		got, advice := "", ""
		for _, rule := range [...]string{"below-set", "below-set-by-share"} {
			if it, ok := has(r, "steer-left", rule); ok {
				got, advice = rule, it.Advice
			}
		}
		if got != x.rule || !strings.Contains(advice, x.advice) {
			t.Errorf("%s: %q, %q; want %q, %q; %+v", x.name, got, advice, x.rule, x.advice, r.Setting("steer"))
		}
	}
}
