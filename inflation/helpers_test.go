package inflation_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"strings"
	"testing"

	"axleend.example/inflation"
	"axleend.example/weight"
)

const (
	psi = inflation.PSI
	kPa = inflation.Kilopascal
	lb  = weight.Pound
	kg  = weight.Kilogram
)

func mustLoad(t testing.TB, name, text string) *inflation.Table {
	t.Helper()
	table, err := inflation.LoadTable(name, []byte(text))
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	return table
}

func readFile(t testing.TB, name string) string {
	t.Helper()
	data, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

func invented(t testing.TB) *inflation.Table {
	t.Helper()
	return mustLoad(t, "invented.yaml", readFile(t, "testdata/invented.yaml"))
}

func pairs(t testing.TB) *inflation.Table {
	t.Helper()
	return mustLoad(t, "invented-pairs.csv", readFile(t, "testdata/invented-pairs.csv"))
}

// spec is a table to be written as a file.
type spec struct {
	name, size, class, loadRange, caps, minimum string
	pressureUnit, loadUnit                      string
	single, dual                                string // bases
	rows                                        [][]string
}

// yaml writes the file; what is empty is left out.
func (s spec) yaml() string {
	var b strings.Builder
	put := func(key, value string) {
		if value != "" {
			fmt.Fprintf(&b, "%s: %s\n", key, value)
		}
	}
	put("table", "1")
	put("name", s.name)
	put("size", s.size)
	put("class", s.class)
	put("load_range", s.loadRange)
	put("caps", s.caps)
	put("minimum", s.minimum)
	put("pressure_unit", s.pressureUnit)
	put("load_unit", s.loadUnit)
	put("single", s.single)
	put("dual", s.dual)
	put("source", "{grade: invented, title: test}")
	columns := []string{"pressure"}
	if s.single != "" {
		columns = append(columns, "single")
	}
	if s.dual != "" {
		columns = append(columns, "dual")
	}
	put("columns", "["+strings.Join(columns, ", ")+"]")
	b.WriteString("rows:\n")
	for _, r := range s.rows {
		b.WriteString("  - [" + strings.Join(r, ", ") + "]\n")
	}
	return b.String()
}

// synthetic is a table of rows from lowest to top psi in steps of 5 whose
// loads grow with pressure to the power n (FACTS section 4: 0.5 to 1.0), the
// top row exactly max pounds, the others rounded down to 5 lb as charts are.
func synthetic(t testing.TB, class string, lowest, top, maxLoad int, n float64) *inflation.Table {
	t.Helper()
	s := spec{name: "synthetic", size: "AX240/75R20", class: class, pressureUnit: "psi", loadUnit: "lb", single: "per tire"}
	for p := lowest; p <= top; p += 5 {
		load := maxLoad
		if p < top {
			load = int(math.Floor(float64(maxLoad)*math.Pow(float64(p)/float64(top), n)/5)) * 5
		}
		s.rows = append(s.rows, []string{fmt.Sprint(p), fmt.Sprint(load)})
	}
	return mustLoad(t, "synthetic.yaml", s.yaml())
}

func random() *rand.Rand { return rand.New(rand.NewPCG(2026, 4)) }
