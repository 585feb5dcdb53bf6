package inspect_test

import (
	"slices"
	"testing"

	"axleend.example/inspect"
	"axleend.example/internal/visittest"
)

// TestPressuresAsPrinted: in the unit that the visit asks for a bound is rounded to the
// stricter side, and what was found away from it. 81 psi are 558.475 kPa, 70 psi 482.63,
// 100 psi 689.48 and 78 psi 537.79; a bar is 100 kPa (NIST SP 811).
func TestPressuresAsPrinted(t *testing.T) {
	t.Parallel()
	program := visittest.Compile(t, `
  more: {title: more, subject: tire, measure: found, more_than: 81 % of last_set, action: before_trip, advice: A, source: {grade: computed}}
  less: {title: less, subject: tire, measure: found, less_than: 70 % of last_set, action: before_trip, advice: A, source: {grade: computed}}
`)
	for unit, want := range map[string][]string{
		"psi": {"more than 81 psi (81 % of last set, 100 psi): 78 psi", "less than 70 psi (70 % of last set, 100 psi): 78 psi"},
		"kPa": {"more than 559 kPa (81 % of last set, 690 kPa): 537 kPa", "less than 482 kPa (70 % of last set, 689 kPa): 538 kPa"},
		"bar": {"more than 5.59 bar (81 % of last set, 6.9 bar): 5.37 bar", "less than 4.82 bar (70 % of last set, 6.89 bar): 5.38 bar"},
	} {
		r, err := inspect.Assess(visittest.Read(t, "visit: 1\ndate: 2026-10-03\npressure_unit: "+unit+"\naxles: [{id: steer, fitment: single}]\ntires: [{at: steer-left, last_set: 100 psi, found: 78 psi}]\n"), inspect.Setup{Program: program})
		if err != nil {
			t.Fatal(err)
		}
		var got []string
		for _, it := range r.Todo {
			got = append(got, it.Bound+": "+it.Found)
		}
		if !slices.Equal(got, want) {
			t.Errorf("%s: %q, want %q", unit, got, want)
		}
	}
}
