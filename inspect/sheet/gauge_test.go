package sheet_test

import (
	"strings"
	"testing"

	"axleend.example/dotcode"
	"axleend.example/inflation"
	"axleend.example/inspect"
	"axleend.example/inspect/record"
	"axleend.example/inspect/report"
	"axleend.example/inspect/sheet"
)

// TestFlatByTheGauge: a tire that is a flat only because the gauge may be off
// (common practice) does not stand there as if 76.5 were 76 or less.
func TestFlatByTheGauge(t *testing.T) {
	for found, want := range map[string]string{
		"76.5 psi": "found 76.5 psi, FLAT (at 76 psi or less: 80 % of the 95 psi it was last set to; the gauge may be off by as much)",
		"76 psi":   "found 76 psi, FLAT (at 76 psi or less: 80 % of the 95 psi it was last set to)\n",
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

// TestFlatSaysOfWhat: each reference has a sentence of its own (80 % and, of a towed
// car, 50 %: the packs), and one that is not what decided is left out.
func TestFlatSaysOfWhat(t *testing.T) {
	for _, x := range []struct {
		from     string
		by, flat int64
		want     string
	}{
		{"for its load", 110, 88, "FLAT (at 88 psi or less: 80 % of the 110 psi that its load needs)"},
		{"last set", 105, 84, "FLAT (at 84 psi or less: 80 % of the 105 psi it was last set to)"},
		{"placard", 110, 88, "FLAT (at 88 psi or less: 80 % of the placard's 110 psi)"},
		{"placard", 36, 18, "FLAT (at 18 psi or less: 50 % of the placard's 36 psi)"},
		{"kept ready at", 100, 80, "FLAT (at 80 psi or less: 80 % of the 100 psi it is kept ready at)"},
		{"for its load", 100, 84, "FLAT (at 84 psi or less)"}, // of 105 psi, what it was last set to
	} {
		psi := func(n int64) record.Recorded[inflation.Pressure] {
			return record.Record(inflation.Pressure(n) * inflation.PSI)
		}
		r := report.Report{Date: dotcode.Date{Year: 2026, Month: 10, Day: 3}, Tires: []report.TireLine{{At: "steer-left", Axle: "steer",
			Found: psi(10), Low: report.Flat, Reference: psi(x.by), ReferenceFrom: x.from, FlatAt: psi(x.flat)}}}
		page := strings.Join(strings.Fields(sheet.Text(r, sheet.TextOptions{Full: true})), " ")
		if want := "found 10 psi, " + x.want; !strings.Contains(page, want) {
			t.Errorf("%q is not on the page:\n%s", want, page)
		}
	}
}
