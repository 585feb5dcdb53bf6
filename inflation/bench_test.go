package inflation_test

import (
	"fmt"
	"testing"
	"testing/fstest"

	"axleend.example/inflation"
	"axleend.example/weight"
)

// twentyRows is an invented table of the length that published ones have.
func twentyRows(csv bool) string {
	s := spec{name: "twenty rows", size: "AX1", class: "truck", loadRange: "H", pressureUnit: "psi", loadUnit: "lb", single: "per tire", dual: "per pair"}
	for i := range 20 {
		load := 3000 + 110*i
		s.rows = append(s.rows, []string{fmt.Sprint(35 + 5*i), fmt.Sprint(load), fmt.Sprint(load * 9 / 5)})
	}
	if !csv {
		return s.yaml()
	}
	text := "table: 1\nname: twenty rows\nsize: AX1\nclass: truck\nload_range: H\npressure_unit: psi\nload_unit: lb\nsingle: per tire\ndual: per pair\ngrade: invented\nsource: test\npressure,single,dual\n"
	for _, r := range s.rows {
		text += r[0] + "," + r[1] + "," + r[2] + "\n"
	}
	return text
}

func BenchmarkPressureFor(b *testing.B) {
	table := mustLoad(b, "twenty.yaml", twentyRows(false))
	for _, bb := range []struct {
		name string
		opt  inflation.Options
	}{
		{"next row", inflation.Options{LoadRange: "H"}},
		{"interpolated", inflation.Options{LoadRange: "H", Method: inflation.Interpolated, Step: psi}},
	} {
		b.Run(bb.name, func(b *testing.B) {
			b.ReportAllocs()
			load := 3100 * lb
			for b.Loop() {
				if _, err := table.PressureFor(load, weight.Single, bb.opt); err != nil {
					b.Fatal(err)
				}
				if load += 7 * lb; load > 5000*lb {
					load = 3100 * lb
				}
			}
		})
	}
}

func BenchmarkCapacityAt(b *testing.B) {
	table := mustLoad(b, "twenty.yaml", twentyRows(false))
	b.ReportAllocs()
	p := 50 * psi
	for b.Loop() {
		if _, err := table.CapacityAt(p, weight.Dual, inflation.Options{LoadRange: "H", Method: inflation.Interpolated}); err != nil {
			b.Fatal(err)
		}
		if p += psi / 10; p > 120*psi {
			p = 50 * psi
		}
	}
}

func BenchmarkSetAxle(b *testing.B) {
	table := mustLoad(b, "twenty.yaml", twentyRows(false))
	tire := inflation.Tire{LoadRange: "H", Table: table, Single: inflation.Rating{Load: 5000 * lb, Pressure: 120 * psi}, Dual: inflation.Rating{Load: 4500 * lb, Pressure: 120 * psi}}
	worn := tire
	worn.Dual.Load = 4400 * lb
	wheel := inflation.Wheel{MaxLoad: 5000 * lb, MaxPressure: 125 * psi}
	same := inflation.AxleInput{Fitment: weight.Dual, Tires: []inflation.Tire{tire, tire, tire, tire}, Wheels: []inflation.Wheel{wheel, wheel, wheel, wheel},
		Weighed: ends(weighed(6800, 80), weighed(7100, 80)), Heaviest: ends(assumed(7000), assumed(7200)), Placard: 100 * psi,
		Ratings: []inflation.Limit{{Name: "half GAWR", Load: 8500 * lb}}}
	differ := same
	differ.Tires = []inflation.Tire{tire, worn, tire, worn}
	for _, bb := range []struct {
		name string
		in   inflation.AxleInput
	}{{"four alike", same}, {"four that differ", differ}} {
		b.Run(bb.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := inflation.SetAxle(bb.in); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

func BenchmarkLoadTable(b *testing.B) {
	for _, name := range []string{"twenty.yaml", "twenty.csv"} {
		data := []byte(twentyRows(name == "twenty.csv"))
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := inflation.LoadTable(name, data); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

func BenchmarkFind(b *testing.B) {
	ts, err := inflation.LoadTables(fstest.MapFS{"a.yaml": {Data: []byte(twentyRows(false))}, "b.yaml": {Data: []byte(readFile(b, "testdata/invented.yaml"))}})
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := ts.Find("ax240/75 r20", "F"); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkParseSidewall(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if _, err := inflation.ParseSidewall("LT225/75R16 115/112Q load range E; max load single 2680 lb at 80 psi cold; max load dual 2470 lb at 80 psi cold"); err != nil {
			b.Fatal(err)
		}
	}
}
