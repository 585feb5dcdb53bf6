package inflation_test

import (
	"errors"
	"slices"
	"testing"

	"axleend.example/inflation"
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
	if table.Text() == "" || table.Curve(80) == "" {
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
	f.Add(readFile(f, "testdata/invented.yaml"))
	f.Add(good)
	f.Add("table: 1\nrows: [[80, none]]\ncolumns: [pressure, dual]\ncaps: {E: 80 psi}\nminimum: 5.5 bar\n")
	f.Add(`{"table": 1, "name": "x", "rows": [["80", "1"]]}`)
	f.Fuzz(func(t *testing.T, text string) {
		table, err := inflation.LoadTable("f.yaml", []byte(text))
		if err != nil {
			refused(t, err)
			return
		}
		sound(t, table)
	})
}

func FuzzTableCSV(f *testing.F) {
	f.Add(readFile(f, "testdata/invented-pairs.csv"))
	f.Add(goodCSV)
	f.Add("table: 1;;\npressure;dual\n80;6,5\n")
	f.Add("\xef\xbb\xbftable:\t1\npressure\tsingle\n80\t\"1,000\"\n")
	f.Fuzz(func(t *testing.T, text string) {
		table, err := inflation.LoadTable("f.csv", []byte(text))
		if err != nil {
			refused(t, err)
			return
		}
		sound(t, table)
	})
}

func FuzzParseSize(f *testing.F) {
	for _, s := range []string{"LT225/75R16", "11R22.5", "7.50-16LT", "37x12.50R17LT", "ST205/75D15", "225/50ZR17", "10.00-20", "33×9.50R15LT", "8-14.5MH"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		s, err := inflation.ParseSize(text)
		if err != nil {
			if !errors.Is(err, inflation.ErrSize) || s != (inflation.Size{}) {
				t.Fatalf("%q: %v %v", text, s, err)
			}
			return
		}
		again, err := inflation.ParseSize(s.String())
		if err != nil || again != s || s.RimDiameter() <= 0 || s.Construction() == 0 {
			t.Fatalf("%q is %q, which reads back as %q, %v", text, s, again, err)
		}
		if n := inflation.NormalizeSize(text); n != s.String() {
			t.Fatalf("%q normalizes to %q, not %q", text, n, s)
		}
	})
}

func FuzzParseSidewall(f *testing.F) {
	for _, s := range []string{"LT225/75R16 115/112Q E", "11R22.5 14PR 144/142L", "225/75R16 XL 104H", "P225/75R15 max load 615 kg (1356 lbs) max press 300 kPa (44 psi)",
		"LT225/75R16 MAX. LOAD SINGLE 1650 KG (3640 LBS) AT 660 KPA (95 PSI) COLD. MAX. LOAD DUAL 1550 KG (3415 LBS) AT 660 KPA (95 PSI) COLD."} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		s, err := inflation.ParseSidewall(text)
		if err != nil {
			if !errors.Is(err, inflation.ErrSize) && !errors.Is(err, inflation.ErrStamp) || s != (inflation.Sidewall{}) || len(err.Error()) > 500 {
				t.Fatalf("%q: %v %v", text, s, err)
			}
			return
		}
		again, err := inflation.ParseSidewall(s.String())
		if err != nil || again != s {
			t.Fatalf("%q is %q, which reads back as %+v, %v", text, s, again, err)
		}
		s.Doubts(65 * inflation.MilePerHour)
	})
}

func FuzzWords(f *testing.F) {
	for _, s := range []string{"E", "load range xl", "per pair", "light truck", "bias-belted", "125", "A8", "interpolated", `["cold-only"]`} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		if lr, err := inflation.ParseLoadRange(text); err == nil {
			if again, err := inflation.ParseLoadRange(string(lr)); err != nil || again != lr {
				t.Fatalf("load range %q: %q %v", text, again, err)
			}
		}
		if b, err := inflation.ParseBasis(text); err == nil {
			if again, err := inflation.ParseBasis(b.String()); err != nil || again != b {
				t.Fatalf("basis %q: %q %v", text, again, err)
			}
		}
		if c, err := inflation.ParseClass(text); err == nil && c == 0 {
			t.Fatalf("class %q is none", text)
		}
		if s, err := inflation.ParseSpeedSymbol(text); err == nil && s.Speed() == 0 {
			t.Fatalf("symbol %q has no speed", text)
		}
		if li, err := inflation.ParseLoadIndex(text); err == nil && li.Load() == 0 {
			t.Fatalf("index %q has no load", text)
		}
		var s inflation.Cautions
		if s.UnmarshalJSON([]byte(text)) == nil {
			data, err := s.MarshalJSON()
			var again inflation.Cautions
			if err != nil || again.UnmarshalJSON(data) != nil || again != s {
				t.Fatalf("cautions %q: %s", text, data)
			}
		}
	})
}
