// Package tabletest makes load and inflation tables for tests: invented ones of
// an invented size.
//
//	table := tabletest.Invented(t)
//	answer, err := table.PressureFor(3250*weight.Pound, weight.Single, inflation.Options{})
package tabletest

import (
	_ "embed"
	"fmt"
	"strings"
	"testing"

	"axleend.example/inflation"
	"axleend.example/inflation/tablefile"
)

// InventedYAML and PairsCSV are the files of [Invented] and [Pairs].
var (
	//go:embed invented.yaml
	InventedYAML string
	//go:embed invented-pairs.csv
	PairsCSV string
)

// Load reads a table file, or fails the test.
func Load(t testing.TB, name, text string) *inflation.Table {
	t.Helper()
	table, err := tablefile.Read(name, []byte(text))
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	return table
}

// Invented is a table in psi and lb, 65 to 95 psi, single and dual per tire.
func Invented(t testing.TB) *inflation.Table {
	t.Helper()
	return Load(t, "invented.yaml", InventedYAML)
}

// Pairs is a table in kPa and kg, 300 to 550 kPa, its dual loads per pair.
func Pairs(t testing.TB) *inflation.Table {
	t.Helper()
	return Load(t, "invented-pairs.csv", PairsCSV)
}

// A Spec is a table to be written as a file; what is empty is left out.
type Spec struct {
	Name, Size, Class, LoadRange, Caps, Minimum string
	PressureUnit, LoadUnit                      string
	// Single and Dual are the bases.
	Single, Dual string
	Rows         [][]string
}

// YAML writes the file; what is empty is left out.
func (s Spec) YAML() string {
	var b strings.Builder
	put := func(key, value string) {
		if value != "" {
			fmt.Fprintf(&b, "%s: %s\n", key, value)
		}
	}
	put("table", "1")
	put("name", s.Name)
	put("size", s.Size)
	put("class", s.Class)
	put("load_range", s.LoadRange)
	put("caps", s.Caps)
	put("minimum", s.Minimum)
	put("pressure_unit", s.PressureUnit)
	put("load_unit", s.LoadUnit)
	put("single", s.Single)
	put("dual", s.Dual)
	put("source", "{grade: invented, title: test}")
	columns := []string{"pressure"}
	if s.Single != "" {
		columns = append(columns, "single")
	}
	if s.Dual != "" {
		columns = append(columns, "dual")
	}
	put("columns", "["+strings.Join(columns, ", ")+"]")
	b.WriteString("rows:\n")
	for _, r := range s.Rows {
		b.WriteString("  - [" + strings.Join(r, ", ") + "]\n")
	}
	return b.String()
}

// TwentyRows is an invented table of the length that published ones have,
// as YAML or CSV.
func TwentyRows(csv bool) string {
	s := Spec{Name: "twenty rows", Size: "AX1", Class: "truck", LoadRange: "H", PressureUnit: "psi", LoadUnit: "lb", Single: "per tire", Dual: "per pair"}
	for i := range 20 {
		load := 3000 + 110*i
		s.Rows = append(s.Rows, []string{fmt.Sprint(35 + 5*i), fmt.Sprint(load), fmt.Sprint(load * 9 / 5)})
	}
	if !csv {
		return s.YAML()
	}
	text := "table: 1\nname: twenty rows\nsize: AX1\nclass: truck\nload_range: H\npressure_unit: psi\nload_unit: lb\nsingle: per tire\ndual: per pair\ngrade: invented\nsource: test\npressure,single,dual\n"
	for _, r := range s.Rows {
		text += r[0] + "," + r[1] + "," + r[2] + "\n"
	}
	return text
}
