package tablefile_test

import (
	"errors"
	"fmt"
	"strings"
	"testing/fstest"

	"axleend.example/inflation"
	"axleend.example/inflation/tablefile"
	"axleend.example/weight"
)

// An invented table of an invented size.
const exampleTable = `table: 1
name: invented AX240/75R20
size: AX240/75R20
class: truck
load_range: F
pressure_unit: psi
load_unit: lb
single: per tire
dual: per pair
source: {grade: invented, title: made up for this example}
columns: [pressure, single, dual]
rows:
  - [75, 3120, 5850]
  - [80, 3250, 6100]
  - [85, 3385, 6350]
  - [90, 3515, 6590]
  - [95, 3640, 6830]
`

func ExampleLoader() {
	own := tablefile.Loader{MaxBytes: 200} // of what strangers upload
	_, err := own.Read("table.yaml", []byte(exampleTable))
	fmt.Println(err)
	tables, err := tablefile.Loader{}.LoadFolder(fstest.MapFS{"own.yaml": {Data: []byte(exampleTable)}, "notes.txt": {Data: []byte("read me")}})
	fmt.Println(tables.Len(), err)
	// Output:
	// table.yaml: file is too large: 350 bytes, at most 200 are read
	// 1 <nil>
}

func ExampleIsTable() {
	fmt.Println(tablefile.IsTable([]byte("# typed in on Monday\n"+exampleTable)), tablefile.IsTable([]byte("visit: 1\n")))
	// Output: true false
}

func ExampleOutline_CSV() {
	text, err := tablefile.Outline{Name: "own", Size: "AX240/75R20", Class: inflation.Truck, Single: inflation.PerTire}.CSV()
	head, _, _ := strings.Cut(string(text), "\n")
	fmt.Println(head, err)
	// Output: # A load and inflation table typed in as it is printed: nothing is converted. <nil>
}

func ExampleLoad() {
	// The dual loads are per pair, but somebody wrote per tire.
	wrong := []byte(`table: 1
name: wrong
size: AX240/75R20
class: truck
pressure_unit: psi
load_unit: lb
single: per tire
dual: per tire
source: {grade: invented, title: made up for this example}
columns: [pressure, single, dual]
rows:
  - [80, 3250, 6100]
  - [95, 3640, 6830]
`)
	_, err := tablefile.Read("wrong.yaml", wrong)
	fmt.Println(err)
	fmt.Println(errors.Is(err, inflation.ErrLoadPer))
	// Output:
	// wrong.yaml:12:16: rows[0][2]: wrong basis: a dual load of 6100 lb on one tire is above the single load of 3250 lb, which no tire allows: the figure printed, 6100 lb, makes sense as "per end" (3050 lb on one tire); see how the column is headed
	// true
}

func ExampleLoad_csv() {
	sheet := `table: 1,,
name: pasted,,
size: AX240/75R20,,
class: truck,,
pressure_unit: kPa,,
load_unit: kg,,
single: per tire,,
dual: per pair,,
grade: invented,,
source: made up for this example,,
pressure,single,dual
550,1475,2770
600,1560,2930
650,1650,3100
`
	table, err := tablefile.Read("sheet.csv", []byte(sheet))
	if err != nil {
		fmt.Println(err)
		return
	}
	capacity, err := table.CapacityAt(600*inflation.Kilopascal, weight.Dual, inflation.Options{})
	fmt.Println(capacity.In(weight.Kilogram, 0, weight.Floor), "kg on each tire", err)
	// Output: 1465 kg on each tire <nil>
}

func ExampleLoadFolder() {
	folder := fstest.MapFS{ // or os.DirFS("tables")
		"ax240.yaml": {Data: []byte(exampleTable)},
		"visit.yaml": {Data: []byte("visit: 1\n")},
	}
	tables, err := tablefile.LoadFolder(folder)
	if err != nil {
		fmt.Println(err)
		return
	}
	table, err := tables.Find("ax 240/75 r20", "F")
	fmt.Println(table.Name(), err)
	fmt.Println(tables.Skipped())
	// Output:
	// invented AX240/75R20 <nil>
	// [visit.yaml]
}

func ExampleCurve() {
	table, err := tablefile.Read("table.yaml", []byte(exampleTable))
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Print(tablefile.Curve(table, 48))
	// Output:
	//      psi   load on one tire: s single, d dual
	//       95 |                         d          s
	//       90 |                   d          s
	//       85 |             d          s
	//       80 |       d         s
	//       75 | d         s
	//          +-------------------------------------
	//            2925                         3640 lb
}

func ExampleOutline_YAML() {
	outline := tablefile.Outline{Name: "mine", Size: "LT225/75R16", LoadRange: "E", Single: inflation.PerTire, Dual: inflation.PerTire,
		Lowest: 75 * inflation.PSI, Highest: 80 * inflation.PSI, Step: 5 * inflation.PSI}
	data, err := outline.YAML()
	if err != nil {
		fmt.Println(err)
		return
	}
	_, err = tablefile.Read("mine.yaml", data) // what is still to be filled in
	fmt.Println(err)
	// Output:
	// mine.yaml:2:1: source.grade: incomplete source: say where the figures come from
	// mine.yaml:25:10: rows[0][1]: mass "fill-in": malformed number: want a number and lb or kg, such as "3640 lb"
	// mine.yaml:25:19: rows[0][2]: mass "fill-in": malformed number: want a number and lb or kg, such as "3640 lb"
	// mine.yaml:26:10: rows[1][1]: mass "fill-in": malformed number: want a number and lb or kg, such as "3640 lb"
	// mine.yaml:26:19: rows[1][2]: mass "fill-in": malformed number: want a number and lb or kg, such as "3640 lb"
}
