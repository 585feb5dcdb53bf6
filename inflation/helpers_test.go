package inflation_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"testing"

	"axleend.example/inflation"
	"axleend.example/internal/tabletest"
	"axleend.example/weight"
)

const (
	psi = inflation.PSI
	kPa = inflation.Kilopascal
	lb  = weight.Pound
	kg  = weight.Kilogram
)

func mustLoad(t testing.TB, name, text string) *inflation.Table { return tabletest.Load(t, name, text) }

func readFile(t testing.TB, name string) string {
	t.Helper()
	data, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

func invented(t testing.TB) *inflation.Table { return tabletest.Invented(t) }

func pairs(t testing.TB) *inflation.Table { return tabletest.Pairs(t) }

// synthetic is a table of rows from lowest to top psi in steps of 5 whose
// loads grow with pressure to the power n (0.5 to 1.0: standards bodies, as quoted), the
// top row exactly max pounds, the others rounded down to 5 lb as charts are.
func synthetic(t testing.TB, class string, lowest, top, maxLoad int, n float64) *inflation.Table {
	t.Helper()
	s := tabletest.Spec{Name: "synthetic", Size: "AX240/75R20", Class: class, PressureUnit: "psi", LoadUnit: "lb", Single: "per tire"}
	for p := lowest; p <= top; p += 5 {
		load := maxLoad
		if p < top {
			load = int(math.Floor(float64(maxLoad)*math.Pow(float64(p)/float64(top), n)/5)) * 5
		}
		s.Rows = append(s.Rows, []string{fmt.Sprint(p), fmt.Sprint(load)})
	}
	return mustLoad(t, "synthetic.yaml", s.YAML())
}

func random() *rand.Rand { return rand.New(rand.NewPCG(2026, 4)) }
