package record_test

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"

	"axleend.example/dotcode"
	"axleend.example/inflation"
	"axleend.example/inspect/record"
	"axleend.example/weight"
)

// TestBlankPages holds three blanks to the pages that were read through when they were
// made: one of US units with duals, a towed car and two spares, of which something is
// known; a metric one; and one that asks for bar.
func TestBlankPages(t *testing.T) {
	t.Parallel()
	day := dotcode.Date{Year: 2026, Month: 10, Day: 3}
	steer, drive := record.Axle{ID: "steer", Fitment: weight.Single}, record.Axle{ID: "drive", Fitment: weight.Dual}
	known := drive
	known.GAWR, known.Placard, known.Behind = record.Record(17500*weight.Pound), record.Record(record.PlacardAt(110*inflation.PSI)), record.Record(weight.Length(228*weight.Inch))
	for name, b := range map[string]record.Blank{
		"us":     {Date: day, Axles: []record.Axle{steer, known, {ID: "car-front", Fitment: weight.Single, Towed: true}}, Spares: 2},
		"metric": {Date: day, System: weight.Metric, Axles: []record.Axle{steer, drive}},
		"bar":    {Date: day, System: weight.Metric, PressureUnit: "bar", Axles: []record.Axle{steer}, Spares: 1},
	} {
		page, err := b.YAML()
		if err != nil {
			t.Fatal(err)
		}
		file := filepath.Join("testdata", "blank-"+name+".yaml")
		if *update {
			if err := os.WriteFile(file, page, 0o644); err != nil {
				t.Fatal(err)
			}
		}
		want, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		got, lines := bytes.Split(page, []byte("\n")), bytes.Split(want, []byte("\n"))
		for i := range max(len(got), len(lines)) {
			var a, b []byte
			if i < len(got) {
				a = got[i]
			}
			if i < len(lines) {
				b = lines[i]
			}
			if !bytes.Equal(a, b) {
				t.Errorf("%s, line %d: %q, want %q; if it was meant to change, go test ./inspect/record -run BlankPages -update, then read it", file, i+1, a, b)
				break
			}
		}
		if _, err := record.Read(file, page); err != nil {
			t.Error(err)
		}
	}
}
