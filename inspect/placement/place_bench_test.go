package placement_test

import (
	"context"
	"math/rand/v2"
	"testing"

	"axleend.example/inflation"
	"axleend.example/inspect"
	"axleend.example/inspect/placement"
	"axleend.example/inspect/record"
	"axleend.example/inspect/record/condition"
	"axleend.example/weight"
)

// BenchmarkPlaceNine finds places for nine tires: steer, four drive tires, a
// tag pair and a spare. Any may run beside any, so that nothing is cut
// short.
func BenchmarkPlaceNine(b *testing.B) {
	x := newTrial(rand.New(rand.NewPCG(1, 0)), true, 1)
	for i := range x.visit.Tires {
		t := &x.visit.Tires[i]
		*t = record.Tire{At: t.At, Size: "AX240/75R20", Class: t.Class, Construction: x.visit.Tires[0].Construction,
			LastSet: t.LastSet, Found: t.LastSet, Number: record.Record("2223"), Seen: record.Record(condition.Set(0)),
			Wheel: t.Wheel, Single: record.Record(record.Stamp{Load: 4000 * weight.Pound, At: 110 * inflation.PSI}), Model: "alpha",
			Tread: record.Record(record.Treads{Anywhere: []weight.Length{weight.Length(6+i%5) * record.ThirtySecond}})}
		t.Dual = t.Single
	}
	setup := inspect.Setup{}
	for b.Loop() {
		if _, err := placement.Find(context.Background(), x.visit, setup); err != nil {
			b.Fatal(err)
		}
	}
}
