package inflation_test

import (
	"testing"
	"testing/fstest"

	"axleend.example/inflation"
	"axleend.example/inflation/tablefile"
	"axleend.example/internal/tabletest"
	"axleend.example/weight"
)

func BenchmarkPressureFor(b *testing.B) {
	table := mustLoad(b, "twenty.yaml", tabletest.TwentyRows(false))
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
	table := mustLoad(b, "twenty.yaml", tabletest.TwentyRows(false))
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
	table := mustLoad(b, "twenty.yaml", tabletest.TwentyRows(false))
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

func BenchmarkFind(b *testing.B) {
	ts, err := tablefile.LoadFolder(fstest.MapFS{"a.yaml": {Data: []byte(tabletest.TwentyRows(false))}, "b.yaml": {Data: []byte(tabletest.InventedYAML)}})
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
