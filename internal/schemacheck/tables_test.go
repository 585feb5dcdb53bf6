package schemacheck_test

import (
	"os"
	"strings"
	"testing"

	"axleend.example/inflation/tablefile"
)

// A made-up size with made-up loads.
const goodTable = `table: 1
name: invented AX240/75R20
size: AX240/75R20
class: truck
construction: radial
caps: {F: 90, G: 95}
minimum: 85
pressure_unit: psi
load_unit: lb
single: per tire
dual: per pair
source: {grade: invented, title: made up for this test, locator: page 1}
columns: [pressure, single, dual]
rows:
  - [85, 3385, 6350]
  - [90, 3515, 6590]
  - [95, 3640, none]
`

func tableFormat(t *testing.T) format {
	return format{compile(t, os.DirFS("../../inflation/tablefile"), "table.schema.json"), func(data []byte) error {
		_, err := tablefile.Read("table.yaml", data)
		return err
	}}
}

// TestGoodTables has what the format allows taken by schema and reader alike.
func TestGoodTables(t *testing.T) {
	f := tableFormat(t)
	f.taken(t, "the good table", []byte(goodTable))
	demo, err := os.ReadFile("../../examples/demo/xv250.yaml")
	if err != nil {
		t.Fatal(err)
	}
	f.taken(t, "the demo's table", demo)
	for _, s := range []swap{
		{"a quoted version", "table: 1", "table: '1'"},
		{"a name that is a number", "name: invented AX240/75R20", "name: 2026"},
		{"a class in capitals", "class: truck", "class: TRUCK"},
		{"no construction", "construction: radial\n", ""},
		{"one load range", "caps: {F: 90, G: 95}", "load_range: load range g"},
		{"no load range", "caps: {F: 90, G: 95}\n", ""},
		{"no minimum", "minimum: 85\n", ""},
		{"a minimum with its unit", "minimum: 85", "minimum: 85 psi"},
		{"a basis without per", "dual: per pair", "dual: Dual Pair"},
		{"a basis by end", "dual: per pair", "dual: per end"},
		{"columns in capitals", "[pressure, single, dual]", "[Pressure, SINGLE, dual]"},
		{"another word for none", "3640, none", "3640, '-'"},
		{"a figure with its unit", "3640, none", "3640 lb, none"},
		{"a fraction", "[85, 3385, 6350]", "[85.5, 3385, 6350]\n  - [86, 3400, 6360]"},
		{"a source from memory", "{grade: invented, title: made up for this test, locator: page 1}", "{grade: from memory}"},
	} {
		if s.name == "a fraction" {
			f.taken(t, s.name, []byte(strings.Replace(string(s.in(t, goodTable)), "minimum: 85\n", "", 1)))
			continue
		}
		f.taken(t, s.name, s.in(t, goodTable))
	}
}

// TestBadTables has each kind of wrong shape refused by schema and reader
// alike.
func TestBadTables(t *testing.T) {
	f := tableFormat(t)
	for _, s := range []swap{
		{"no version", "table: 1\n", ""},
		{"a newer version", "table: 1", "table: 2"},
		{"an unknown key", "minimum: 85", "lowest: 85"},
		{"no name", "name: invented AX240/75R20\n", ""},
		{"an empty name", "name: invented AX240/75R20", "name: ''"},
		{"a name of two lines", "name: invented AX240/75R20", "name: \"invented\\nAX240/75R20\""},
		{"a name too long", "name: invented", "name: " + strings.Repeat("x", 101)},
		{"no size", "size: AX240/75R20\n", ""},
		{"a size too long", "size: AX240/75R20", "size: AX240/75R20" + strings.Repeat("x", 40)},
		{"an unknown class", "class: truck", "class: lorry"},
		{"an unknown construction", "construction: radial", "construction: cross"},
		{"an unknown load range", "caps: {F: 90, G: 95}", "caps: {I: 90, G: 95}"},
		{"caps that are a list", "caps: {F: 90, G: 95}", "caps: [F, G]"},
		{"a cap that is a word", "caps: {F: 90, G: 95}", "caps: {F: ninety, G: 95}"},
		{"no unit of pressure", "pressure_unit: psi\n", ""},
		{"an unknown unit of pressure", "pressure_unit: psi", "pressure_unit: PSI"},
		{"an unknown unit of load", "load_unit: lb", "load_unit: lbs"},
		{"an unknown basis", "dual: per pair", "dual: per two"},
		{"no source", "source: {grade: invented, title: made up for this test, locator: page 1}\n", ""},
		{"an unknown grade", "grade: invented", "grade: hearsay"},
		{"an invented table without a title", "title: made up for this test, ", ""},
		{"an unknown key of the source", "locator: page 1", "page: 1"},
		{"no columns", "columns: [pressure, single, dual]\n", ""},
		{"an unknown column", "[pressure, single, dual]", "[pressure, single, triple]"},
		{"the pressure alone", "[pressure, single, dual]", "[pressure]"},
		{"a load below zero", "3640, none", "-3640, none"},
		{"a load of zero", "3640, none", "0, none"},
		{"a load that is a word", "3640, none", "much, none"},
		{"a row of one figure", "[95, 3640, none]", "[95]"},
		{"a row of four figures", "[95, 3640, none]", "[95, 3640, none, none]"},
		{"a row that is a mapping", "[95, 3640, none]", "{pressure: 95}"},
	} {
		f.refused(t, s.name, s.in(t, goodTable))
	}
	f.refused(t, "no row", []byte(goodTable[:strings.Index(goodTable, "rows:")]+"rows: []\n"))
	f.refused(t, "too many rows", []byte(goodTable+strings.Repeat("  - [96, 3650, none]\n", 200)))
	f.refused(t, "no basis at all", []byte(strings.Replace(strings.Replace(goodTable, "single: per tire\n", "", 1), "dual: per pair\n", "", 1)))
	f.refused(t, "a list", []byte("[table, 1]\n"))
}

// TestEveryChangeOfATable changes the good table in one place after another:
// whatever the reader still takes, the schema must take.
func TestEveryChangeOfATable(t *testing.T) {
	everyChange(t, tableFormat(t), []byte(goodTable), false)
}
