package tablefile_test

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"axleend.example/inflation"
	"axleend.example/inflation/tablefile"
	"axleend.example/internal/strictyaml"
	"axleend.example/internal/tabletest"
	"axleend.example/rules/origin"
	"axleend.example/weight"
)

const (
	psi = inflation.PSI
	kPa = inflation.Kilopascal
	lb  = weight.Pound
	kg  = weight.Kilogram
)

func TestLoadYAML(t *testing.T) {
	table := tabletest.Invented(t)
	p, l := table.Units()
	if table.Name() != "Invented table AX240/75R20" || table.File() != "invented.yaml" || table.Size() != "AX240/75R20" ||
		table.Class() != inflation.Truck || table.Construction() != inflation.Radial || p != psi || l != lb ||
		table.LoadsPer(weight.Single) != inflation.PerTire || table.LoadsPer(0) != 0 || table.Minimum() != 65*psi || table.System() != weight.US ||
		table.Source() != (origin.Source{Grade: origin.Invented, Title: "Axleend demonstration table"}) {
		t.Errorf("header: %s %v", tablefile.Text(table), table.Source())
	}
	if rows := slices.Collect(table.Rows(weight.Dual)); len(rows) != 7 || rows[6] != (inflation.Row{Pressure: 95 * psi, Load: 3415 * lb}) {
		t.Errorf("rows: %v", rows)
	}
	if rows := slices.Collect(table.Rows(0)); rows != nil {
		t.Errorf("rows of no fitment: %v", rows)
	}
	for range table.Rows(weight.Single) {
		break
	}
	for lr, p := range table.Caps() {
		if lr != "F" || p != 95*psi {
			t.Errorf("cap %s %s", lr, p)
		}
		break
	}
	if !table.Serves("") || !table.Serves("F") || table.Serves("G") {
		t.Error("serves the wrong load ranges")
	}
	if lo, hi, err := table.Range(weight.Single, "F"); err != nil || lo.Pressure != 65*psi || hi.Load != 3640*lb {
		t.Errorf("range %v %v %v", lo, hi, err)
	}
	if _, _, err := table.Range(weight.Single, "A"); !errors.Is(err, inflation.ErrLoadRange) {
		t.Errorf("range of another load range: %v", err)
	}
}

func TestLoadCSV(t *testing.T) {
	table := tabletest.Pairs(t)
	if table.Class() != inflation.LightTruck || table.Construction() != 0 || table.LoadsPer(weight.Dual) != inflation.PerEnd ||
		table.Minimum() != 350*kPa || table.System() != weight.Metric ||
		table.Source() != (origin.Source{Grade: origin.Invented, Title: "Axleend demonstration table", Locator: "second"}) {
		t.Errorf("header: %s", tablefile.Text(table))
	}
	if !strings.HasSuffix(tablefile.Text(table), "     550      1285      2340\n") {
		t.Errorf("shown, but not as printed:\n%s", tablefile.Text(table))
	}
	if rows := slices.Collect(table.Rows(weight.Dual)); len(rows) != 6 || rows[5].Load != 1170*kg {
		t.Errorf("rows: %v", rows)
	}
	if lo, hi, err := table.Range(weight.Single, "D"); err != nil || lo.Pressure != 350*kPa || hi.Pressure != 450*kPa {
		t.Errorf("range %v %v %v", lo, hi, err)
	}
	// The same sheet as other programs save it.
	text := tabletest.PairsCSV
	for name, other := range map[string]string{
		"byte-order mark and CRLF": "\xef\xbb\xbf" + strings.ReplaceAll(text, "\n", "\r\n"),
		"semicolons":               strings.ReplaceAll(strings.ReplaceAll(text, `"caps: D 450, E 550"`, "caps: D 450, E 550"), ",", ";"),
		"tabs":                     strings.ReplaceAll(strings.ReplaceAll(text, `"caps: D 450, E 550"`, "caps: D 450; E 550"), ",", "\t"),
		"keys and values in cells": strings.ReplaceAll(strings.ReplaceAll(text, ": ", ":,"), `"caps:,D 450, E 550"`, "caps:,D 450,E 550"),
		"comments and empty lines": "# pasted\n\n" + strings.ReplaceAll(text, "pressure,single", "\n,,,\n# rows\nPressure,Single"),
		"figures with units":       strings.ReplaceAll(text, "550,1285,2340", "5.5 bar,1285 kg,\"2,340\""),
		"blanks before cells":      strings.ReplaceAll(text, "550,1285,2340", "550, 1285, \"2340\""),
		"dual column first":        strings.ReplaceAll(text, "pressure,single,dual\n300,845,1540\n350,940,1710\n400,1030,1880\n450,1120,2040\n500,1200,2190\n550,1285,2340", "dual,pressure,single\n1540,300,845\n1710,350,940\n1880,400,1030\n2040,450,1120\n2190,500,1200\n2340,550,1285"),
	} {
		got, err := tablefile.Read("other.csv", []byte(other))
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if tablefile.Text(got) != tablefile.Text(table) {
			t.Errorf("%s:\n%s", name, tablefile.Text(got))
		}
	}
}

// TestPackagePage: the table on the package's page loads as it stands there.
func TestPackagePage(t *testing.T) {
	page, err := os.ReadFile("doc.go")
	if err != nil {
		t.Fatal(err)
	}
	var text strings.Builder
	for line := range strings.Lines(string(page)) {
		if code, ok := strings.CutPrefix(line, "//\t"); ok && (text.Len() > 0 || strings.HasPrefix(code, "table: 1")) {
			text.WriteString(code)
		} else if text.Len() > 0 {
			break
		}
	}
	table := tabletest.Load(t, "doc.yaml", text.String())
	if lo, hi, err := table.Range(weight.Dual, "G"); err != nil || lo.Load != 3175*lb || hi.Pressure != 90*psi {
		t.Errorf("%v %v %v", lo, hi, err)
	}
}

// TestBases: one table printed on every basis answers alike.
func TestBases(t *testing.T) {
	rows := [][2]int{{80, 3250}, {95, 3640}}
	dual := [2]int{3050, 3415}
	for _, s := range []struct {
		basis string
		n     int
	}{{"per tire", 1}, {"tire", 1}, {"per end", 1}, {"per axle", 2}, {"Per Axle", 2}} {
		for _, d := range []struct {
			basis string
			n     int
		}{{"per tire", 1}, {"per pair", 2}, {"dual pair", 2}, {"per end", 2}, {"per axle", 4}} {
			sp := tabletest.Spec{Name: "x", Size: "AX1", Class: "truck", PressureUnit: "psi", LoadUnit: "lb", Single: s.basis, Dual: d.basis}
			for i, r := range rows {
				sp.Rows = append(sp.Rows, []string{fmt.Sprint(r[0]), fmt.Sprint(r[1] * s.n), fmt.Sprint(dual[i] * d.n)})
			}
			table := tabletest.Load(t, "x.yaml", sp.YAML())
			if got, err := table.CapacityAt(95*psi, weight.Single, inflation.Options{}); got != 3640*lb || err != nil {
				t.Errorf("single %s: %s %v", s.basis, got, err)
			}
			if got, err := table.CapacityAt(95*psi, weight.Dual, inflation.Options{}); got != 3415*lb || err != nil {
				t.Errorf("dual %s: %s %v", d.basis, got, err)
			}
			if page, want := strings.Join(strings.Fields(tablefile.Text(table)), " "), fmt.Sprintf(" 95 %d %d", 3640*s.n, 3415*d.n); !strings.Contains(page, want) {
				t.Errorf("single %s, dual %s: %q is not shown as printed:\n%s", s.basis, d.basis, want, page)
			}
		}
	}
}

// TestGaps: a column may begin later or end earlier than the other.
func TestGaps(t *testing.T) {
	s := tabletest.Spec{Name: "gaps", Size: "AX1", Class: "truck", PressureUnit: "psi", LoadUnit: "lb", Single: "per tire", Dual: "per tire",
		Caps: "{G: 85, H: 95}", Rows: [][]string{{"75", "none", "2925"}, {"80", "3250", "3050"}, {"85", "3385", "3175"}, {"90", "3515", "none"}, {"95", "3640", `"-"`}}}
	table := tabletest.Load(t, "gaps.yaml", s.YAML())
	a, err := table.PressureFor(100*lb, weight.Single, inflation.Options{LoadRange: "H"})
	if err != nil || a.Pressure != 80*psi {
		t.Errorf("single from 80: %v %v", a.Pressure, err)
	}
	if _, err = table.PressureFor(3176*lb, weight.Dual, inflation.Options{LoadRange: "H"}); !errors.Is(err, inflation.ErrOverload) {
		t.Errorf("dual ends at 85: %v", err)
	}
	if got, err := table.CapacityAt(95*psi, weight.Dual, inflation.Options{LoadRange: "H"}); got != 3175*lb || err != nil {
		t.Errorf("dual at 95: %s %v", got, err)
	}
	want := `gaps
size AX1, truck
source: test (invented)
load range G: to 85 psi
load range H: to 95 psi
lowest row to be used: 75 psi
loads in lb, single per tire, dual per tire

     psi    single      dual
      75      none      2925
      80      3250      3050
      85      3385      3175
      90      3515      none
      95      3640      none
`
	if got := tablefile.Text(table); got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
	// A cap below the column's first row leaves nothing.
	s.Caps, s.Rows = "{F: 75, G: 95}", [][]string{{"75", "none", "2925"}, {"80", "3250", "3050"}, {"95", "3640", "3415"}}
	table = tabletest.Load(t, "gaps.yaml", s.YAML())
	if _, err = table.PressureFor(100*lb, weight.Single, inflation.Options{LoadRange: "F"}); !errors.Is(err, inflation.ErrFitment) {
		t.Errorf("nothing left: %v", err)
	}
}

func TestCurve(t *testing.T) {
	want := `     psi   load on one tire: s single, d dual
      95 |                              d        s
      90 |                          d       s
      85 |                     d       s
      80 |                d       s
      75 |           d       s
      70 |      d       s
      65 | d      s
         +----------------------------------------
           2655                            3640 lb
`
	if got := tablefile.Curve(tabletest.Invented(t), 51); got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
	for _, width := range []int{-1, 0, 80, 1 << 30} {
		for l := range strings.Lines(tablefile.Curve(tabletest.Invented(t), width)) {
			if len(l) > 200 || width == 80 && len(l) > 81 {
				t.Errorf("width %d: a line of %d", width, len(l))
			}
		}
	}
	one := tabletest.Spec{Name: "one", Size: "AX1", Class: "truck", PressureUnit: "bar", LoadUnit: "kg", Single: "per tire", Dual: "per tire", Rows: [][]string{{"6.5", "1000", "1000"}}}
	if got := tablefile.Curve(tabletest.Load(t, "one.yaml", one.YAML()), 40); !strings.Contains(got, "6.5 | *") {
		t.Errorf("one row:\n%s", got)
	}
	if got := tablefile.Curve(new(inflation.Table), 80); got != "" {
		t.Errorf("zero table: %q", got)
	}
}

// good is the invented table as text, to be broken in one place.
const good = `table: 1
name: test
size: AX1
class: truck
load_range: F
pressure_unit: psi
load_unit: lb
single: per tire
dual: per pair
source: {grade: invented, title: test}
columns: [pressure, single, dual]
rows:
  - [80, 3250, 6100]
  - [85, 3385, 6350]
  - [90, 3515, 6590]
  - [95, 3640, 6830]
`

const goodCSV = `table: 1
name: test
size: AX1
class: truck
load_range: F
pressure_unit: psi
load_unit: lb
single: per tire
dual: per pair
grade: invented
source: test
pressure,single,dual
80,3250,6100
85,3385,6350
90,3515,6590
95,3640,6830
`

type problem struct {
	pos  string
	code string
	is   error
}

func check(t *testing.T, name string, err error, want []problem) {
	t.Helper()
	var ps *origin.Problems
	if !errors.As(err, &ps) {
		t.Errorf("%s: %v is no *origin.Problems", name, err)
		return
	}
	got := ps.All()
	if len(got) != len(want) {
		t.Errorf("%s: %d problems, want %d:\n%v", name, len(got), len(want), err)
		return
	}
	for i, p := range got {
		if p.Position.String() != want[i].pos || p.Code != want[i].code || !errors.Is(p, want[i].is) {
			t.Errorf("%s: %s, code %s; want %s %s %v", name, p, p.Code, want[i].pos, want[i].code, want[i].is)
		}
	}
}

func TestBadYAML(t *testing.T) {
	tabletest.Load(t, "f", good)
	tests := []struct {
		name     string
		from, to string
		want     []problem
	}{
		{"unknown key", "class:", "clas:", []problem{{"f:1:1", "missing", strictyaml.ErrMissing}, {"f:4:1", "unknown-key", strictyaml.ErrUnknown}}},
		{"version", "table: 1", "table: 2", []problem{{"f:1:8", "value", inflation.ErrInput}}},
		{"no name", "name: test\n", "", []problem{{"f:1:1", "missing", strictyaml.ErrMissing}}},
		{"long name", "name: test", "name: " + strings.Repeat("x", 101), []problem{{"f:2:7", "value", inflation.ErrInput}}},
		{"no size", "size: AX1\n", "", []problem{{"f:1:1", "missing", strictyaml.ErrMissing}}},
		{"no class, and the size does not tell", "class: truck\n", "", []problem{{"f:1:1", "missing", strictyaml.ErrMissing}}},
		{"class", "class: truck", "class: lorry", []problem{{"f:4:8", "value", inflation.ErrWord}}},
		{"class against the size", "size: AX1", "size: LT225/75R16", []problem{{"f:4:8", "table", inflation.ErrTable}}},
		{"P size as light truck", "size: AX1\nclass: truck", "size: P225/75R16\nclass: light truck", []problem{{"f:4:8", "table", inflation.ErrTable}}},
		{"construction against the size", "size: AX1", "size: 11R22.5\nconstruction: bias", []problem{{"f:4:15", "table", inflation.ErrTable}}},
		{"construction", "size: AX1", "size: AX1\nconstruction: woven", []problem{{"f:4:15", "value", inflation.ErrWord}}},
		{"no units", "pressure_unit: psi\nload_unit: lb\n", "", []problem{{"f:1:1", "missing", strictyaml.ErrMissing}, {"f:1:1", "missing", strictyaml.ErrMissing}}},
		{"units", "pressure_unit: psi\nload_unit: lb\n", "pressure_unit: atm\nload_unit: st\n", []problem{{"f:6:16", "value", inflation.ErrWord}, {"f:7:12", "value", inflation.ErrWord}}},
		{"no basis", "dual: per pair\n", "", []problem{{"f:1:1", "missing", strictyaml.ErrMissing}}},
		{"basis", "dual: per pair", "dual: per car", []problem{{"f:9:7", "value", inflation.ErrWord}}},
		{"basis without its column", "columns: [pressure, single, dual]\nrows:\n  - [80, 3250, 6100]\n  - [85, 3385, 6350]\n  - [90, 3515, 6590]\n  - [95, 3640, 6830]", "columns: [pressure, single]\nrows: [[95, 3640]]", []problem{{"f:9:7", "table", inflation.ErrTable}}},
		{"no source", "source: {grade: invented, title: test}\n", "", []problem{{"f:1:1", "missing", origin.ErrSource}}},
		{"no grade", "grade: invented, ", "", []problem{{"f:1:1", "missing", origin.ErrSource}}},
		{"grade", "grade: invented", "grade: sure", []problem{{"f:10:17", "value", origin.ErrGrade}}},
		{"no title", ", title: test", "", []problem{{"f:1:1", "missing", origin.ErrSource}}},
		{"source as text", "{grade: invented, title: test}", "test", []problem{{"f:1:1", "missing", origin.ErrSource}, {"f:10:9", "shape", strictyaml.ErrShape}}},
		{"column", "[pressure, single, dual]", "[pressure, single, duel]", []problem{{"f:9:7", "table", inflation.ErrTable}, {"f:11:29", "value", inflation.ErrWord}}},
		{"column twice", "[pressure, single, dual]", "[pressure, dual, dual]", []problem{{"f:8:9", "table", inflation.ErrTable}, {"f:11:27", "duplicate-key", strictyaml.ErrDuplicate}}},
		{"no pressure column", "[pressure, single, dual]", "[single, dual]", []problem{{"f:11:11", "missing", strictyaml.ErrMissing}}},
		{"no columns", "columns: [pressure, single, dual]\n", "", []problem{{"f:1:1", "missing", strictyaml.ErrMissing}}},
		{"columns empty", "columns: [pressure, single, dual]", "columns: []", []problem{{"f:11:10", "missing", strictyaml.ErrMissing}}},
		{"no rows", good[strings.Index(good, "  - [80"):], "  []\n", []problem{{"f:1:1", "missing", strictyaml.ErrMissing}}},
		{"rows as text", good[strings.Index(good, "rows:"):], "rows: many\n", []problem{{"f:1:1", "missing", strictyaml.ErrMissing}, {"f:12:7", "shape", strictyaml.ErrShape}}},
		{"row too short", "[85, 3385, 6350]", "[85, 3385]", []problem{{"f:14:5", "shape", strictyaml.ErrShape}}},
		{"row too long", "[85, 3385, 6350]", "[85, 3,385, 6350]", []problem{{"f:14:5", "shape", strictyaml.ErrShape}}},
		{"pressure unit in a cell", "[85, 3385", "[85 lb, 3385", []problem{{"f:14:6", "value", origin.ErrUnit}}},
		{"figures", "[85, 3385, 6350]", "[85, x, 0]", []problem{{"f:14:10", "value", origin.ErrSyntax}, {"f:14:13", "value", inflation.ErrInput}}},
		{"huge load", "3385", "99999999999", []problem{{"f:14:10", "value", origin.ErrRange}}},
		{"large load", "3385", "9999999", []problem{{"f:14:10", "value", inflation.ErrInput}}},
		{"pressure not there", "[85,", "[none,", []problem{{"f:14:6", "value", origin.ErrSyntax}}},
		{"pressures typed as kPa", "[80, 3250, 6100]", "[550, 3250, 6100]", []problem{{"f:13:6", "value", inflation.ErrInput}}},
		{"psi typed where kPa is stated", "pressure_unit: psi", "pressure_unit: kPa", []problem{{"f:16:6", "value", inflation.ErrInput}}},
		{"pressures fall", "[85, 3385", "[79, 3385", []problem{{"f:14:6", "order", inflation.ErrOrder}}},
		{"pressure twice", "[85, 3385", "[80, 3385", []problem{{"f:14:6", "order", inflation.ErrOrder}}},
		{"loads fall", "3385", "3245", []problem{{"f:14:10", "order", inflation.ErrOrder}}},
		{"load twice", "3385", "3250", []problem{{"f:14:10", "order", inflation.ErrOrder}}},
		{"a digit too many", "3640", "36400", []problem{{"f:16:10", "order", inflation.ErrOrder}, {"f:16:17", "order", inflation.ErrOrder}}},
		{"load rises faster than the pressure", "3640", "3840", []problem{{"f:16:10", "order", inflation.ErrOrder}}},
		{"gap", "[85, 3385, 6350]", "[85, none, 6350]", []problem{{"f:15:10", "order", inflation.ErrOrder}}},
		{"no single figure at all", good[strings.Index(good, "rows:"):], "rows: [[80, none, 6100], [85, none, 6350]]\n", []problem{{"f:8:9", "table", inflation.ErrTable}}},
		{"finer than the basis divides", "dual: per pair", "dual: per axle", []problem{{"f:13:16", "basis", inflation.ErrLoadPer}}},
		{"pairs stated as tires", "dual: per pair", "dual: per tire", []problem{{"f:13:16", "basis", inflation.ErrLoadPer}}},
		{"load range twice", "load_range: F", "load_range: F\ncaps: {F: 95}", []problem{{"f:5:13", "table", inflation.ErrTable}, {"f:6:8", "duplicate-key", strictyaml.ErrDuplicate}}},
		{"load range", "load_range: F", "load_range: K", []problem{{"f:5:13", "value", inflation.ErrWord}}},
		{"cap on no row", "load_range: F", "caps: {E: 82, F: 95}", []problem{{"f:5:11", "table", inflation.ErrTable}}},
		{"cap's load range", "load_range: F", "caps: {EE: 85, F: 95}", []problem{{"f:5:8", "value", inflation.ErrWord}}},
		{"cap's pressure", "load_range: F", "caps: {E: low, F: 95}", []problem{{"f:5:11", "value", origin.ErrSyntax}}},
		{"caps the wrong way around", "load_range: F", "caps: {E: 95, F: 85}", []problem{{"f:5:18", "table", inflation.ErrTable}}},
		{"minimum on no row", "load_range: F", "load_range: F\nminimum: 70", []problem{{"f:6:10", "table", inflation.ErrTable}}},
		{"minimum above a cap", "load_range: F", "caps: {E: 80, F: 95}\nminimum: 85", []problem{{"f:6:10", "table", inflation.ErrTable}}},
		{"anchor", "name: test", "name: &a test", []problem{{"f:2:7", "forbidden", strictyaml.ErrForbidden}}},
		{"two documents", "table: 1", "table: 1\n---\ntable: 1", []problem{{"f:2:1", "forbidden", strictyaml.ErrForbidden}}},
		{"syntax", "name: test", "name: [", []problem{{"", "syntax", strictyaml.ErrSyntax}}},
	}
	for _, tt := range tests {
		text := strings.Replace(good, tt.from, tt.to, 1)
		if text == good {
			t.Fatalf("%s: nothing replaced", tt.name)
		}
		table, err := tablefile.Read("f", []byte(text))
		if table != nil {
			t.Errorf("%s: a table came back", tt.name)
		}
		if tt.want[0].pos == "" {
			if !errors.Is(err, tt.want[0].is) {
				t.Errorf("%s: %v", tt.name, err)
			}
			continue
		}
		check(t, tt.name, err, tt.want)
	}
}

func TestBadCSV(t *testing.T) {
	table := tabletest.Load(t, "f.csv", goodCSV)
	if other := tabletest.Load(t, "f.yaml", good); tablefile.Text(other) != tablefile.Text(table) {
		t.Fatalf("the two formats differ:\n%s\n%s", tablefile.Text(table), tablefile.Text(other))
	}
	tests := []struct {
		name     string
		from, to string
		want     []problem
	}{
		{"unknown key", "class:", "clas:", []problem{{"f.csv:1:1", "missing", strictyaml.ErrMissing}, {"f.csv:4:1", "unknown-key", strictyaml.ErrUnknown}}},
		{"very unknown key", "class: truck", "class: truck\nowner: x", []problem{{"f.csv:5:1", "unknown-key", strictyaml.ErrUnknown}}},
		{"key twice", "name: test", "name: test\nname: again", []problem{{"f.csv:3:1", "duplicate-key", strictyaml.ErrDuplicate}}},
		{"no colon", "name: test", "name test", []problem{{"f.csv:1:1", "missing", strictyaml.ErrMissing}, {"f.csv:2:1", "syntax", tablefile.ErrCSV}}},
		{"empty value", "name: test", "name:,,", []problem{{"f.csv:1:1", "missing", strictyaml.ErrMissing}, {"f.csv:2:1", "forbidden", strictyaml.ErrForbidden}}},
		{"no grade", "grade: invented\n", "", []problem{{"f.csv:1:1", "missing", origin.ErrSource}}},
		{"no title", "source: test\n", "", []problem{{"f.csv:1:1", "missing", origin.ErrSource}}},
		{"source as given twice", "source: test", "source: test\nsource: x", []problem{{"f.csv:12:1", "duplicate-key", strictyaml.ErrDuplicate}}},
		{"caps twice", "load_range: F", "caps: F 95\ncaps: G 95", []problem{{"f.csv:6:1", "duplicate-key", strictyaml.ErrDuplicate}}},
		{"cap without pressure", "load_range: F", "caps: F", []problem{{"f.csv:5:1", "value", origin.ErrSyntax}}},
		{"thousands comma", "90,3515,6590", "90,3,515,6590", []problem{{"f.csv:15:1", "shape", strictyaml.ErrShape}}},
		{"short row", "90,3515,6590", "90,3515", []problem{{"f.csv:15:1", "shape", strictyaml.ErrShape}}},
		{"bad figure", "90,3515,6590", "90,35l5,6590", []problem{{"f.csv:15:4", "value", origin.ErrUnit}}},
		{"decimal comma", "pressure,single,dual\n80,3250,6100", "pressure;single;dual\n80;3250,5;6100", []problem{
			{"f.csv:13:4", "value", origin.ErrSyntax}, {"f.csv:14:1", "shape", strictyaml.ErrShape}, {"f.csv:15:1", "shape", strictyaml.ErrShape}, {"f.csv:16:1", "shape", strictyaml.ErrShape}}},
		{"no column line", "pressure,single,dual\n", "", []problem{{"f.csv:1:1", "missing", strictyaml.ErrMissing},
			{"f.csv:12:1", "syntax", tablefile.ErrCSV}, {"f.csv:13:1", "syntax", tablefile.ErrCSV}, {"f.csv:14:1", "syntax", tablefile.ErrCSV}, {"f.csv:15:1", "syntax", tablefile.ErrCSV}}},
		{"quote", "name: test", `name: te"st`, []problem{{"f.csv:2:9", "syntax", tablefile.ErrCSV}}},
		{"not UTF-8", "name: test", "name: t\xe9st", []problem{{"f.csv:2:8", "encoding", strictyaml.ErrEncoding}}},
		{"UTF-16", "name: test", "n\x00ame: test", []problem{{"f.csv:2:2", "encoding", strictyaml.ErrEncoding}}},
		{"wide characters before", "90,3515,6590", "90,\"3515 lbß\",6590", []problem{{"f.csv:15:4", "value", origin.ErrUnit}}},
	}
	for _, tt := range tests {
		text := strings.Replace(goodCSV, tt.from, tt.to, 1)
		if text == goodCSV {
			t.Fatalf("%s: nothing replaced", tt.name)
		}
		table, err := tablefile.Read("f.csv", []byte(text))
		if table != nil {
			t.Errorf("%s: a table came back", tt.name)
		}
		check(t, tt.name, err, tt.want)
	}
}

func TestBasisIsExplained(t *testing.T) {
	for _, tt := range []struct{ from, to, want string }{
		{"dual: per pair", "dual: per tire",
			`f:13:16: rows[0][2]: wrong basis: a dual load of 6100 lb on one tire is above the single load of 3250 lb, which no tire allows: the figure printed, 6100 lb, makes sense as "per end" (3050 lb on one tire); see how the column is headed`},
		{"dual: per pair", "dual: per axle",
			`f:13:16: rows[0][2]: wrong basis: a dual load of 1525 lb on one tire is below 60 % of the single load of 3250 lb, which no table has: the figure printed, 6100 lb, makes sense as "per end" (3050 lb on one tire); see how the column is headed`},
		{"single: per tire\ndual: per pair", "single: per axle\ndual: per tire",
			`f:13:16: rows[0][2]: wrong basis: a dual load of 6100 lb on one tire is above the single load of 1625 lb, which no tire allows: the figure printed, 6100 lb, makes sense as "per axle" (1525 lb on one tire); see how the column is headed`},
		{"single: per tire\ndual: per pair", "single: per axle\ndual: per pair",
			`f:13:16: rows[0][2]: wrong basis: a dual load of 3050 lb on one tire is above the single load of 1625 lb, which no tire allows: the figure printed, 6100 lb, makes sense as "per axle" (1525 lb on one tire); see how the column is headed`},
		{"6590", "7040", `f:15:16: rows[2][2]: rows out of order: the load rises from 3175 lb to 3520 lb on a tire, faster than the pressure from 85 psi to 90 psi: no tire does that; check these two rows
f:15:16: rows[2][2]: rows out of order: a dual load of 3520 lb on one tire is above the single load of 3515 lb, which no tire allows: check this row
f:16:16: rows[3][2]: rows out of order: the load on a tire is 3415 lb after 3520 lb: loads have to rise from row to row`},
		{"dual: per pair", "dual: per tire\n# wrong", ""},
	} {
		_, err := tablefile.Read("f", []byte(strings.Replace(good, tt.from, tt.to, 1)))
		if err == nil || tt.want != "" && err.Error() != tt.want {
			t.Errorf("got  %v\nwant %s", err, tt.want)
		}
	}
	none := strings.NewReplacer("6100", "20000", "6350", "20300", "6590", "20600", "6830", "20900").Replace(good)
	if _, err := tablefile.Read("f", []byte(none)); !errors.Is(err, inflation.ErrLoadPer) || !strings.HasSuffix(err.Error(), "see how both columns are headed") {
		t.Errorf("no basis makes sense: %v", err)
	}
	fine := strings.NewReplacer("per pair", "per axle", "6100", "12200.0001", "6350", "12700", "6590", "13180", "6830", "13660").Replace(good)
	if _, err := tablefile.Read("f", []byte(fine)); !errors.Is(err, origin.ErrPrecision) {
		t.Errorf("finer than four tires divide: %v", err)
	}
}

func TestSizeLimits(t *testing.T) {
	for _, name := range []string{"f.yaml", "f.csv"} {
		text := good
		if name == "f.csv" {
			text = goodCSV
		}
		big := []byte(text + "#" + strings.Repeat("x", tablefile.DefaultSize))
		_, err := tablefile.Read(name, big)
		check(t, name, err, []problem{{name, "size", strictyaml.ErrSize}})
		if _, err = (tablefile.Loader{MaxBytes: 1 << 20}).Read(name, big); err != nil {
			t.Errorf("%s with a higher limit: %v", name, err)
		}
		if _, err = (tablefile.Loader{MaxBytes: 10}).Read(name, []byte(text)); !errors.Is(err, strictyaml.ErrSize) {
			t.Errorf("%s with a lower limit: %v", name, err)
		}
	}
	var rows strings.Builder
	for i := range 201 {
		fmt.Fprintf(&rows, "%d,%d,%d\n", 80+i, 3250+i, 6100+i)
	}
	head := goodCSV[:strings.Index(goodCSV, "80,3250")]
	if _, err := tablefile.Read("f.csv", []byte(head+rows.String())); !errors.Is(err, strictyaml.ErrSize) {
		t.Errorf("201 rows of CSV: %v", err)
	}
	yaml := good[:strings.Index(good, "  - [80")]
	for l := range strings.Lines(rows.String()) {
		yaml += "  - [" + strings.TrimSpace(l) + "]\n"
	}
	if _, err := tablefile.Read("f", []byte(yaml)); !errors.Is(err, strictyaml.ErrSize) {
		t.Errorf("201 rows of YAML: %v", err)
	}
	if _, err := tablefile.Read("f", nil); err == nil {
		t.Error("an empty file is a table")
	}
	if _, err := tablefile.Read("f.csv", nil); err == nil {
		t.Error("an empty CSV file is a table")
	}
}

func TestLoadTables(t *testing.T) {
	file := func(text string) *fstest.MapFile { return &fstest.MapFile{Data: []byte(text)} }
	second := strings.Replace(good, "name: test", "name: second", 1)
	folder := fstest.MapFS{
		"a.yaml":            file("# a comment\n\n" + good),
		"b.csv":             file(strings.Replace(goodCSV, "name: test", "name: by CSV", 1)),
		"c.YML":             file("---\n" + second),
		"d.csv":             file("\"table: 1\",,\n" + strings.Replace(strings.SplitN(goodCSV, "\n", 2)[1], "test", "quoted", 1)),
		"visit.yaml":        file("visit: 1\ntable: 1\n"),
		"notes.csv":         file("a,b\n1,2\n"),
		"empty.yaml":        file(""),
		"readme.txt":        file("table: 1"),
		"sub/inside.yaml":   file(good),
		"folder.yaml/x.txt": file(""),
	}
	ts, err := tablefile.LoadFolder(folder)
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	for table := range ts.All() {
		names = append(names, table.Name()+" "+table.File())
	}
	if want := []string{"by CSV b.csv", "quoted d.csv", "second c.YML", "test a.yaml"}; !slices.Equal(names, want) || ts.Len() != 4 {
		t.Errorf("tables %q, want %q", names, want)
	}
	if got, want := ts.Skipped(), []string{"empty.yaml", "notes.csv", "visit.yaml"}; !slices.Equal(got, want) {
		t.Errorf("skipped %q, want %q", got, want)
	}
	if _, ok := ts.Named("SECOND"); !ok {
		t.Error("no table named second")
	}
	if _, ok := ts.Named("third"); ok {
		t.Error("a table named third")
	}

	// All problems of all files at once; the tables without one are there, and
	// none whose name another has.
	folder["a.yaml"] = file(strings.Replace(good, "3385", "3245", 1))
	folder["b.csv"] = file(strings.Replace(goodCSV, "name: test", "name: Second", 1))
	folder["big.yaml"] = file(good + "#" + strings.Repeat("x", tablefile.DefaultSize))
	ts, err = tablefile.LoadFolder(folder)
	check(t, "folder", err, []problem{{"a.yaml:14:10", "order", inflation.ErrOrder}, {"big.yaml", "size", strictyaml.ErrSize}, {"c.YML", "duplicate-key", inflation.ErrName}})
	names = nil
	for table := range ts.All() {
		names = append(names, table.Name())
	}
	if want := []string{"quoted"}; !slices.Equal(names, want) {
		t.Errorf("tables %q, want %q", names, want)
	}
	if _, err = (tablefile.Loader{MaxBytes: 20}).LoadFolder(folder); !errors.Is(err, strictyaml.ErrSize) {
		t.Errorf("with a limit: %v", err)
	}
	if _, err = tablefile.LoadFolder(badFS{}); !errors.Is(err, errDisk) {
		t.Errorf("unreadable folder: %v", err)
	}
	if _, err = tablefile.LoadFolder(badFS{fstest.MapFS{"x.yaml": file(good)}}); !errors.Is(err, errDisk) {
		t.Errorf("unreadable file: %v", err)
	}
	if ts, err = tablefile.LoadFolder(fstest.MapFS{}); err != nil || ts.Len() != 0 {
		t.Errorf("empty folder: %v %v", ts.Len(), err)
	}
}

// TestOnlyFilesAreOpened: a folder's pipes, devices and sockets are passed over
// unopened, and so is a link to one; a link to a table is a table.
func TestOnlyFilesAreOpened(t *testing.T) {
	folder := openFS{t, fstest.MapFS{
		"a.yaml":      {Data: []byte(good)},
		"device.yaml": {Data: []byte(good), Mode: fs.ModeDevice | fs.ModeCharDevice},
		"pipe.csv":    {Data: []byte(goodCSV), Mode: fs.ModeNamedPipe},
		"socket.yml":  {Data: []byte(good), Mode: fs.ModeSocket},
		"link.yaml":   {Data: []byte("pipe.csv"), Mode: fs.ModeSymlink},
		"good.yml":    {Data: []byte("sub/b.yaml"), Mode: fs.ModeSymlink},
		"sub/b.yaml":  {Data: []byte(strings.Replace(good, "name: test", "name: linked", 1))},
	}}
	ts, err := tablefile.LoadFolder(folder)
	if err != nil {
		t.Fatal(err)
	}
	if got, want := ts.Skipped(), []string{"device.yaml", "link.yaml", "pipe.csv", "socket.yml"}; !slices.Equal(got, want) || ts.Len() != 2 {
		t.Errorf("%d tables, skipped %q, want %q", ts.Len(), got, want)
	}
	folder.MapFS["nowhere.csv"] = &fstest.MapFile{Data: []byte("none"), Mode: fs.ModeSymlink}
	if ts, err = tablefile.LoadFolder(folder); !errors.Is(err, fs.ErrNotExist) || ts.Len() != 2 {
		t.Errorf("a link to nothing: %d tables, %v", ts.Len(), err)
	}
}

// openFS fails the test that opens what is no file.
type openFS struct {
	t *testing.T
	fstest.MapFS
}

func (o openFS) Open(name string) (fs.File, error) {
	if info, err := o.MapFS.Stat(name); err == nil && !info.Mode().IsRegular() && !info.IsDir() {
		o.t.Errorf("%s was opened", name)
	}
	return o.MapFS.Open(name)
}

var errDisk = errors.New("disk on fire")

// badFS lists files but opens none.
type badFS struct{ inner fs.FS }

func (b badFS) Open(string) (fs.File, error) { return nil, errDisk }

func (b badFS) ReadDir(name string) ([]fs.DirEntry, error) {
	if b.inner == nil {
		return nil, errDisk
	}
	return fs.ReadDir(b.inner, name)
}

func TestOutline(t *testing.T) {
	o := tablefile.Outline{Name: "Invented", Size: "LT225/75R16", LoadRange: "E", Single: inflation.PerTire, Dual: inflation.PerEnd,
		Lowest: 65 * psi, Highest: 80 * psi, Step: 5 * psi}
	yaml, err := o.YAML()
	if err != nil {
		t.Fatal(err)
	}
	csv, err := o.CSV()
	if err != nil {
		t.Fatal(err)
	}
	// As written, the file asks for what is missing and nothing else.
	for name, data := range map[string][]byte{"new.yaml": yaml, "new.csv": csv} {
		_, err := tablefile.Read(name, data)
		var ps *origin.Problems
		if !errors.As(err, &ps) || ps.Len() != 1+4*2 || !errors.Is(err, origin.ErrSource) {
			t.Errorf("%s: %v", name, err)
		}
	}
	// Filled in, it loads, and says the same in both formats.
	figures := []string{"2330", "4300", "2450", "4510", "2570", "4720", "2680", "4940"}
	fill := func(data []byte) []byte {
		for _, f := range figures {
			data = bytes.Replace(data, []byte("fill-in"), []byte(f), 1)
		}
		for _, line := range [...][2]string{{"# source: {grade: published, title: \"\"", "source: {grade: invented, title: \"x\""}, {"# grade:", "grade: invented"}, {"# source:", "source: x"}, {"# locator:", "locator: p. 1"}} {
			data = bytes.Replace(data, []byte(line[0]), []byte(line[1]), 1)
		}
		return bytes.Replace(data, []byte(`locator: ""`), []byte("locator: p. 1"), 1)
	}
	y, c := tabletest.Load(t, "new.yaml", string(fill(yaml))), tabletest.Load(t, "new.csv", string(fill(csv)))
	if tablefile.Text(y) != tablefile.Text(c) || y.Class() != inflation.LightTruck || !y.Serves("E") || y.Serves("D") {
		t.Errorf("YAML\n%s\nCSV\n%s", tablefile.Text(y), tablefile.Text(c))
	}

	empty, err := tablefile.Outline{PressureUnit: inflation.Bar, LoadUnit: kg}.YAML()
	if err != nil || !bytes.Contains(empty, []byte("- [fill-in, fill-in, fill-in]")) || !bytes.Contains(empty, []byte("pressure_unit: bar")) || !bytes.Contains(empty, []byte("load_unit: kg")) {
		t.Errorf("empty outline: %s, %v", empty, err)
	}
	metric, err := tablefile.Outline{PressureUnit: kPa, Lowest: 350 * kPa, Highest: 550 * kPa, Step: 25 * kPa}.CSV()
	if err != nil || !bytes.Contains(metric, []byte("\n375,fill-in,fill-in\n")) {
		t.Errorf("metric outline: %s, %v", metric, err)
	}
	for name, bad := range map[string]tablefile.Outline{
		"unit":           {PressureUnit: 2 * psi},
		"load unit":      {LoadUnit: 2 * lb},
		"step":           {Lowest: 1, Highest: 2},
		"too many rows":  {Lowest: psi, Highest: 100 * psi, Step: psi / 10},
		"upside down":    {Lowest: 100 * psi, Highest: psi, Step: psi},
		"name":           {Name: "a\nb"},
		"size":           {Size: strings.Repeat("x", 200)},
		"no such height": {Lowest: psi, Highest: 5000 * psi, Step: 100 * psi},
	} {
		if _, err := bad.YAML(); !errors.Is(err, inflation.ErrInput) {
			t.Errorf("%s: %v", name, err)
		}
		if _, err := bad.CSV(); !errors.Is(err, inflation.ErrInput) {
			t.Errorf("%s in CSV: %v", name, err)
		}
	}
	if _, err := (tablefile.Outline{Name: "a,b"}).CSV(); !errors.Is(err, inflation.ErrInput) {
		t.Errorf("comma in CSV: %v", err)
	}
}
