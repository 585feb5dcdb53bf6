package inspect_test

import (
	"encoding/json"
	"slices"
	"testing"

	"axleend.example/inflation"
	"axleend.example/inspect"
	"axleend.example/inspect/record"
	"axleend.example/internal/visittest"
)

// TestStoredVisitHasTheSameAnswer: a visit that went through a file is answered to
// the byte as before, whichever of its tires have no entry: nothing is said of those
// in the file that nobody said.
func TestStoredVisitHasTheSameAnswer(t *testing.T) {
	whole, setup := visittest.Demo(t)
	for out := range len(whole.Tires) + 1 {
		for _, every := range []record.Tire{whole.EveryTire, {}} {
			v := copied(whole)
			v.EveryTire = every
			for i := range v.Tires { // said of each by itself
				v.Tires[i].Fill(&whole.EveryTire)
				v.Tires[i].LastSet = record.Record(95 * inflation.PSI)
			}
			if out < len(v.Tires) {
				v.Tires = slices.Delete(v.Tires, out, out+1)
			}
			data, err := record.Marshal(v)
			if err != nil {
				t.Fatal(err)
			}
			again, err := record.Read("v.yaml", data)
			if err != nil {
				t.Fatal(err)
			}
			before, err := inspect.Assess(v, setup)
			if err != nil {
				t.Fatal(err)
			}
			after, err := inspect.Assess(again, setup)
			if err != nil {
				t.Fatal(err)
			}
			x, err1 := json.Marshal(before)
			y, err2 := json.Marshal(after)
			if err1 != nil || err2 != nil || string(x) != string(y) {
				t.Errorf("without tire %d: %v, %v\n%s\n%s\n%s", out, err1, err2, data, x, y)
			}
		}
	}
}
