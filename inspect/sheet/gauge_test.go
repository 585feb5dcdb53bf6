package sheet_test

import (
	"strings"
	"testing"

	"axleend.example/inspect"
	"axleend.example/inspect/record"
	"axleend.example/inspect/sheet"
)

// TestFlatByTheGauge: a tire that is a flat only because the gauge may be off
// (common practice) does not stand there as if 76.5 were 76 or less.
func TestFlatByTheGauge(t *testing.T) {
	for found, want := range map[string]string{
		"76.5 psi": "found 76.5 psi, FLAT (at 76 psi or less, of last set, 95 psi; the gauge may be off by as much)",
		"76 psi":   "found 76 psi, FLAT (at 76 psi or less, of last set, 95 psi)\n",
		"78 psi":   "found 78 psi",
	} {
		v, err := record.Read("v.yaml", []byte("visit: 1\ndate: 2026-10-03\ngauge_tolerance: 1 psi\naxles: [{id: steer, fitment: single}]\n"+
			"tires: [{at: steer-left, last_set: 95 psi, found: "+found+"}]\n"))
		if err != nil {
			t.Fatal(err)
		}
		r, err := inspect.Assess(v, inspect.Setup{})
		if err != nil {
			t.Fatal(err)
		}
		page := strings.ReplaceAll(strings.Join(strings.Fields(strings.ReplaceAll(sheet.Text(r, sheet.TextOptions{Full: true}), "\n    tread", " ¶ tread")), " "), " ¶", "\n")
		if !strings.Contains(page, want) {
			t.Errorf("%s: %q is not on the page:\n%s", found, want, page)
		}
	}
}
