package tablefile_test

import (
	"errors"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"axleend.example/inflation"
	"axleend.example/inflation/tablefile"
	"axleend.example/internal/tabletest"
	"axleend.example/rules/origin"
	"axleend.example/weight"
)

// sound holds a table that loaded to what every table has to keep.
func sound(t *testing.T, table *inflation.Table) {
	t.Helper()
	if table.Name() == "" || table.Size() == "" || table.Class() == 0 || table.Source().Check() != nil {
		t.Fatalf("incomplete: %q %q %s %s", table.Name(), table.Size(), table.Class(), table.Source())
	}
	single := slices.Collect(table.Rows(weight.Single))
	dual := slices.Collect(table.Rows(weight.Dual))
	if len(single)+len(dual) == 0 {
		t.Fatal("no rows")
	}
	for fit, rows := range map[weight.Fitment][]inflation.Row{weight.Single: single, weight.Dual: dual} {
		for i, r := range rows {
			if r.Pressure <= 0 || r.Load <= 0 || i > 0 && (r.Pressure <= rows[i-1].Pressure || r.Load <= rows[i-1].Load) {
				t.Fatalf("%s rows %v", fit, rows)
			}
			for _, m := range []inflation.Method{inflation.NextRow, inflation.Interpolated} {
				opt := inflation.Options{Method: m, OnPassengerCar: true}
				a, err := table.PressureFor(r.Load, fit, opt)
				if err != nil {
					continue // above a cap
				}
				if a.Pressure < r.Pressure {
					t.Fatalf("%s: %s for the row %v", fit, a.Pressure, r)
				}
				if back, err := table.CapacityAt(a.Pressure, fit, opt); err != nil || back < r.Load {
					t.Fatalf("%s: %v carries %s, %v", fit, r, back, err)
				}
			}
		}
	}
	for i, r := range single {
		for _, d := range dual {
			if d.Pressure == r.Pressure && d.Load > r.Load {
				t.Fatalf("row %d: dual %s above single %s", i, d.Load, r.Load)
			}
		}
	}
	if tablefile.Text(table) == "" || tablefile.Curve(table, 80) == "" {
		t.Fatal("nothing to show")
	}
}

// refused holds an error of a table file to its promise.
func refused(t *testing.T, err error) {
	t.Helper()
	ps, ok := errors.AsType[*origin.Problems](err)
	if !ok || ps.Len() == 0 {
		t.Fatalf("%v is no *origin.Problems", err)
	}
	for _, p := range ps.All() {
		if p.Code == "" || p.Err == nil || len(p.Error()) > 1200 {
			t.Fatalf("problem %+v", p)
		}
	}
}

func FuzzTableYAML(f *testing.F) {
	f.Add(tabletest.InventedYAML)
	f.Add(good)
	f.Add("table: 1\nrows: [[80, none]]\ncolumns: [pressure, dual]\ncaps: {E: 80 psi}\nminimum: 5.5 bar\n")
	f.Add(`{"table": 1, "name": "x", "rows": [["80", "1"]]}`)
	f.Fuzz(func(t *testing.T, text string) {
		table, err := tablefile.Read("f.yaml", []byte(text))
		if err != nil {
			refused(t, err)
			return
		}
		sound(t, table)
	})
}

func FuzzTableCSV(f *testing.F) {
	f.Add(tabletest.PairsCSV)
	f.Add(goodCSV)
	f.Add("table: 1;;\npressure;dual\n80;6,5\n")
	f.Add("\xef\xbb\xbftable:\t1\npressure\tsingle\n80\t\"1,000\"\n")
	f.Fuzz(func(t *testing.T, text string) {
		table, err := tablefile.Read("f.csv", []byte(text))
		if err != nil {
			refused(t, err)
			return
		}
		sound(t, table)
	})
}

func BenchmarkLoadTable(b *testing.B) {
	for _, name := range []string{"twenty.yaml", "twenty.csv"} {
		data := []byte(tabletest.TwentyRows(name == "twenty.csv"))
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := tablefile.Read(name, data); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// FuzzFolder: of whatever stands in a folder, every table that comes back is
// sound, each name is there once, and a file is a table, passed over or told of.
func FuzzFolder(f *testing.F) {
	f.Add(tabletest.InventedYAML, tabletest.PairsCSV, "visit: 1\n")
	f.Add(good, good, goodCSV)
	f.Add("table: 1\n", "table: 2\nname: x\n", "table: 1;;\npressure;dual\n80;6,5\n")
	f.Fuzz(func(t *testing.T, a, b, c string) {
		folder := fstest.MapFS{"a.yaml": {Data: []byte(a)}, "b.yml": {Data: []byte(b)}, "c.csv": {Data: []byte(c)}}
		tables, err := tablefile.LoadFolder(folder)
		if err != nil {
			refused(t, err)
		}
		names := map[string]bool{}
		for table := range tables.All() {
			sound(t, table)
			if name := strings.ToLower(table.Name()); names[name] {
				t.Errorf("two tables of the name %q", name)
			} else {
				names[name] = true
			}
			if _, err := tables.Find(table.Size(), ""); errors.Is(err, inflation.ErrNoTable) {
				t.Errorf("the table %q is not found by its size", table.Name())
			}
		}
		if err == nil && tables.Len()+len(tables.Skipped()) != len(folder) {
			t.Errorf("%d tables and %q of %d files", tables.Len(), tables.Skipped(), len(folder))
		}
	})
}
