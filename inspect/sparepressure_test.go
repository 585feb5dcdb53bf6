package inspect_test

import (
	"testing"

	"axleend.example/inspect/report"
	"axleend.example/internal/visittest"
)

// TestSpareAboveItsStamps: a spare above what its sidewall or its wheel states is listed,
// and stands in nobody's way; it may run alone or as a dual, so the higher of the two
// counts.
func TestSpareAboveItsStamps(t *testing.T) {
	for _, x := range []struct {
		name, spare string
		rule        string // empty: none
		asked       bool   // for the pressure on its sidewall
	}{
		{"at its stamp", "single: 3000 lb at 80 psi, found: 80 psi", "", false},
		{"just above it", "single: 3000 lb at 80 psi, found: 81 psi", "most-pressure-spare", false},
		{"far above it", "single: 3000 lb at 80 psi, found: 100 psi", "most-pressure-spare", false},
		{"above its wheel's", "single: 3000 lb at 110 psi, wheel: 5000 lb at 90 psi, found: 91 psi", "most-pressure-spare", false},
		{"above the lower of its two", "single: 3000 lb at 80 psi, dual: 2700 lb at 75 psi, found: 78 psi", "", false},
		{"above both", "single: 3000 lb at 75 psi, dual: 2700 lb at 80 psi, found: 81 psi", "most-pressure-spare", false},
		{"left above it", "single: 3000 lb at 80 psi, found: 78 psi, left: 81 psi", "most-pressure-spare-left", false},
		{"above it, and read at 0 before", "single: 3000 lb at 80 psi, found: 85 psi, read_zero: yes", "most-pressure-spare", false},
		{"hot, at most what was read", "single: 3000 lb at 80 psi, found: 85 psi, hot: yes", "", false},
		{"no stamp read", "found: 100 psi", "", true},
		{"not read, nor its stamp", "tread: 9/32 in", "", true},
	} {
		text := bare("", "tires: [{at: spare, "+x.spare+"}]\n")
		r := visittest.Assess(t, visittest.Read(t, text))
		rule := ""
		for _, name := range [...]string{"most-pressure-spare", "most-pressure-spare-left"} {
			if it, ok := has(r, "spare", name); ok {
				rule = name
				if it.Stops || it.Action != report.Plan {
					t.Errorf("%s: %+v", x.name, it)
				}
			}
		}
		if asked := unjudged(r, "spare", "the maximum pressure on its sidewall"); rule != x.rule || asked != x.asked {
			t.Errorf("%s: %q, want %q; asked %t, want %t", x.name, rule, x.rule, asked, x.asked)
		}
	}
}
