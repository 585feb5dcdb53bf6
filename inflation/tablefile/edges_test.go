package tablefile_test

import (
	"bytes"
	"errors"
	"fmt"
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

// What is text in CSV: everything but control characters and what is not UTF-8.
func TestCSVIsText(t *testing.T) {
	for _, x := range []struct {
		name string
		pos  string // of the problem; empty is none
	}{
		{"a tilde ~", ""}, {"a blank", ""}, {"ü", ""}, {"a\u00a0b", ""}, {"\ufffd", ""},
		{"a\x7fb", "f.csv:2:8"}, {"a\x1fb", "f.csv:2:8"}, {"a\x00b", "f.csv:2:8"}, {"ü\x01", "f.csv:2:8"}, {"\xff", "f.csv:2:7"}, {"ü\xc3", "f.csv:2:8"},
	} {
		_, err := tablefile.Read("f.csv", []byte(strings.Replace(goodCSV, "name: test", "name: "+x.name, 1)))
		if x.pos == "" {
			if err != nil {
				t.Errorf("%q: %v", x.name, err)
			}
			continue
		}
		check(t, x.name, err, []problem{{x.pos, "encoding", strictyaml.ErrEncoding}})
	}
	if _, err := tablefile.Read("f.csv", []byte(strings.ReplaceAll(goodCSV, ",", "\t"))); err != nil {
		t.Errorf("tabs: %v", err)
	}
}

// Cells that are empty: a whole line of them, those at a line's end, and those in a
// column.
func TestEmptyCells(t *testing.T) {
	rows := func(text string) string { return goodCSV[:strings.Index(goodCSV, "80,")] + text }
	for _, x := range []struct {
		text string
		want []problem
		dual int // rows
	}{
		{"80,3250,6100\n,,\n85,3385,6350\n", nil, 2},
		{"80,3250,6100\n,,,,\n\n , ,\n85,3385,6350\n", nil, 2},
		{"80,3250,6100,,\n85,3385,6350,\n", nil, 2},
		{"80,3250,\n85,3385,6350\n", nil, 1},
		{"80,3250,none\n85,3385,-\n90,3515,–\n95,3640,None\n100,3700,6900\n", nil, 1},
		{"80,3250,6100,1\n", []problem{{"f.csv:13:1", "shape", strictyaml.ErrShape}}, 0},
		{"80,3250\n", []problem{{"f.csv:13:1", "shape", strictyaml.ErrShape}}, 0},
		{",3250,6100\n", []problem{{"f.csv:13:1", "value", origin.ErrSyntax}}, 0},
	} {
		table, err := tablefile.Read("f.csv", []byte(rows(x.text)))
		if x.want != nil {
			check(t, x.text, err, x.want)
			continue
		}
		if err != nil {
			t.Errorf("%q: %v", x.text, err)
			continue
		}
		if n := len(slices.Collect(table.Rows(weight.Dual))); n != x.dual {
			t.Errorf("%q: %d dual rows, want %d", x.text, n, x.dual)
		}
	}
}

// One row is a table like any other: its load range and its minimum count.
func TestOneRow(t *testing.T) {
	one := tabletest.Spec{Name: "one", Size: "AX1", Class: "truck", PressureUnit: "psi", LoadUnit: "lb", Single: "per tire", LoadRange: "F", Rows: [][]string{{"80", "3250"}}}
	table := tabletest.Load(t, "one.yaml", one.YAML())
	if !table.Serves("F") || table.Serves("G") || table.Minimum() != 80*psi {
		t.Errorf("load range or minimum: %s", tablefile.Text(table))
	}
	_, err := tablefile.Read("one.yaml", []byte(strings.Replace(one.YAML(), "name: one", "name: one\nminimum: 85", 1)))
	check(t, "a minimum on no row", err, []problem{{"one.yaml:3:10", "table", inflation.ErrTable}})
}

// As many problems as are listed, and the rest counted.
func TestManyProblems(t *testing.T) {
	for _, n := range []int{99, 100, 101, 150} {
		var rows strings.Builder
		for i := range n {
			fmt.Fprintf(&rows, "  - [%d, 9999999, none]\n", 30+i) // more than a thousand tons
		}
		text := good[:strings.Index(good, "  - [80")] + rows.String()
		text = strings.Replace(text, "dual: per pair\n", "", 1)
		text = strings.Replace(strings.Replace(text, ", dual]", "]", 1), ", none]", "]", -1)
		_, err := tablefile.Read("f", []byte(text))
		var ps *origin.Problems
		if !errors.As(err, &ps) || ps.Len() != n || len(ps.All()) != min(n, origin.MaxProblems) || ps.More() != max(n-origin.MaxProblems, 0) {
			t.Errorf("%d problems: %d listed and %d more", n, len(ps.All()), ps.More())
		}
	}
}

// As many bytes as are read, and one more; and how far the first key may stand behind
// comments.
func TestSizesAtTheirBounds(t *testing.T) {
	for name, text := range map[string]string{"f.yaml": good, "f.csv": goodCSV} {
		for _, more := range []int{0, 1} {
			data := []byte(text + "#" + strings.Repeat("x", tablefile.DefaultSize-len(text)-1+more))
			_, err := tablefile.Read(name, data)
			if errors.Is(err, strictyaml.ErrSize) != (more == 1) || (err != nil) != (more == 1) {
				t.Errorf("%s of %d bytes: %v", name, len(data), err)
			}
			ts, err := tablefile.LoadFolder(fstest.MapFS{name: {Data: data}})
			if errors.Is(err, strictyaml.ErrSize) != (more == 1) || ts.Len() != 1-more {
				t.Errorf("%s of %d bytes in a folder: %d tables, %v", name, len(data), ts.Len(), err)
			}
			if _, err := (tablefile.Loader{MaxBytes: len(text) - more}).Read(name, []byte(text)); errors.Is(err, strictyaml.ErrSize) != (more == 1) {
				t.Errorf("%s of %d bytes, %d read: %v", name, len(text), len(text)-more, err)
			}
		}
		for _, before := range []int{4096 - len("table:"), 4096 - len("table:") + 1} {
			data := []byte("#" + strings.Repeat("x", before-2) + "\n" + text)
			ts, err := tablefile.LoadFolder(fstest.MapFS{name: {Data: data}})
			if err != nil || ts.Len() != 1-len(ts.Skipped()) || (ts.Len() == 1) != (before+len("table:") <= 4096) {
				t.Errorf("%s after %d bytes of comments: %d tables, %q, %v", name, before, ts.Len(), ts.Skipped(), err)
			}
		}
	}
}

// What declares itself a table.
func TestIsTable(t *testing.T) {
	for text, want := range map[string]bool{
		"table: 1": true, "table : 1": true, "\"table\": 1": true, "{\"table\": 1}": true, "{ table: 1 }": true, "table:": true,
		"\xef\xbb\xbftable: 1": true, "# a comment\n\n---\ntable: 1": true, "  table: 1": true, "\"table: 1\",,": true,
		"": false, "\n\n": false, "# table: 1": false, "tables: 1": false, "a table: 1": false, "visit: 1\ntable: 1": false, "table": false, "tab: 1": false,
	} {
		if got := tablefile.IsTable([]byte(text)); got != want {
			t.Errorf("%q: %v", text, got)
		}
	}
}

// A new file's rows: from the lowest to the highest by the step, 200 at the most.
func TestOutlineRowsAtTheirBounds(t *testing.T) {
	for _, x := range []struct {
		low, high, step inflation.Pressure
		rows            int // 0 is refused
		last            string
	}{
		{0, 0, 0, 3, "fill-in"},
		{1 * psi, 200 * psi, psi, 200, "200"},
		{1 * psi, 201 * psi, psi, 0, ""},
		{80 * psi, 80 * psi, psi, 1, "80"},
		{80 * psi, 80*psi - 1, psi, 0, ""},
		{80 * psi, 84 * psi, 5 * psi, 1, "80"},
		{80 * psi, 85 * psi, 5 * psi, 2, "85"},
		{1, 1, 1, 1, "0"},
		{0, 80 * psi, 5 * psi, 0, ""}, {-psi, 80 * psi, 5 * psi, 0, ""},
		{80 * psi, 90 * psi, 0, 0, ""}, {80 * psi, 90 * psi, -psi, 0, ""},
		{80 * psi, 0, 5 * psi, 0, ""},
		{990 * psi, 1000 * psi, 5 * psi, 3, "1000"}, {990 * psi, 1000*psi + 1, 5 * psi, 0, ""},
	} {
		o := tablefile.Outline{Lowest: x.low, Highest: x.high, Step: x.step}
		yaml, err := o.YAML()
		csv, err2 := o.CSV()
		if (err != nil) != (x.rows == 0) || (err2 != nil) != (x.rows == 0) || err != nil && !errors.Is(err, inflation.ErrInput) {
			t.Errorf("%s to %s by %s: %v, %v", x.low, x.high, x.step, err, err2)
			continue
		}
		if x.rows == 0 {
			continue
		}
		if n, m := bytes.Count(yaml, []byte("\n  - [")), bytes.Count(csv, []byte(",fill-in,fill-in\n")); n != x.rows || m != x.rows {
			t.Errorf("%s to %s by %s: %d rows, %d in CSV, want %d", x.low, x.high, x.step, n, m, x.rows)
		}
		if !bytes.HasSuffix(yaml, []byte("  - ["+x.last+", fill-in, fill-in]\n")) || !bytes.HasSuffix(csv, []byte("\n"+x.last+",fill-in,fill-in\n")) {
			t.Errorf("%s to %s by %s: it ends\n%s", x.low, x.high, x.step, yaml[len(yaml)-80:])
		}
	}
}

// What an outline says of its class, and how long its name may be.
func TestOutlineHead(t *testing.T) {
	for _, x := range []struct {
		o    tablefile.Outline
		want string
	}{
		{tablefile.Outline{Size: "LT225/75R16"}, "\nclass: light truck\n"},
		{tablefile.Outline{Size: "LT225/75R16", Class: inflation.Trailer}, "\nclass: trailer\n"},
		{tablefile.Outline{Size: "AX1"}, "\n# class:\n"},
		{tablefile.Outline{Size: "AX1", Class: inflation.Truck}, "\nclass: truck\n"},
		{tablefile.Outline{}, "\n# name:\n"},
		{tablefile.Outline{LoadRange: "E"}, "\nload_range: E\n"},
		{tablefile.Outline{Single: inflation.PerAxle}, "\nsingle: per axle\n"},
		{tablefile.Outline{}, "\npressure_unit: psi\n"},
		{tablefile.Outline{PressureUnit: kPa, LoadUnit: kg}, "\npressure_unit: kPa\n"},
		{tablefile.Outline{PressureUnit: inflation.Bar}, "\nload_unit: lb\n"},
	} {
		yaml, err := x.o.YAML()
		csv, err2 := x.o.CSV()
		if err != nil || err2 != nil || !bytes.Contains(yaml, []byte(x.want)) || !bytes.Contains(csv, []byte(x.want)) {
			t.Errorf("%+v: %v, %v, want %q in\n%s", x.o, err, err2, x.want, yaml)
		}
	}
	for _, n := range []int{100, 101} {
		for _, o := range []tablefile.Outline{{Name: strings.Repeat("x", n)}, {Size: strings.Repeat("x", n)}} {
			if _, err := o.YAML(); errors.Is(err, inflation.ErrInput) != (n > 100) {
				t.Errorf("%d bytes: %v", n, err)
			}
		}
	}
	for _, o := range []tablefile.Outline{{Name: `a"b`}, {Size: "a,b"}} {
		if _, err := o.CSV(); !errors.Is(err, inflation.ErrInput) {
			t.Errorf("%+v: %v", o, err)
		}
		if _, err := o.YAML(); err != nil {
			t.Errorf("%+v: %v", o, err)
		}
	}
}

// A curve is 40 to 200 wide, its widest row and its line below as wide as asked.
func TestCurveWidths(t *testing.T) {
	for width, want := range map[int]int{-5: 40, 39: 40, 40: 40, 41: 41, 199: 199, 200: 200, 201: 200} {
		widest := 0
		for l := range strings.Lines(tablefile.Curve(tabletest.Invented(t), width)) {
			if !strings.Contains(l, "load on one tire") {
				widest = max(widest, len(strings.TrimRight(l, "\n")))
			}
		}
		if widest != want-1 {
			t.Errorf("width %d: %d, want %d", width, widest, want-1)
		}
	}
	// One load, single and dual, stands on the left; the greatest on the right.
	s := tabletest.Spec{Name: "x", Size: "AX1", Class: "truck", PressureUnit: "psi", LoadUnit: "lb", Single: "per tire", Rows: [][]string{{"80", "3000"}, {"90", "3100"}, {"100", "3200"}}}
	want := "     100 | " + strings.Repeat(" ", 27) + "s\n      90 | " + strings.Repeat(" ", 14) + "s\n      80 | s\n"
	if got := tablefile.Curve(tabletest.Load(t, "x.yaml", s.YAML()), 40); !strings.Contains(got, want) {
		t.Errorf("got\n%s\nwant in it\n%s", got, want)
	}
	s.Rows = [][]string{{"80", "3000"}}
	if got := tablefile.Curve(tabletest.Load(t, "x.yaml", s.YAML()), 40); !strings.Contains(got, "      80 | s\n") || !strings.Contains(got, "3000"+strings.Repeat(" ", 17)+"3000 lb\n") {
		t.Errorf("one row:\n%s", got)
	}
}

// An outline has a line for each key of a table, filled in or as a comment.
func TestOutlineHasEveryKey(t *testing.T) {
	yaml, err := tablefile.Outline{}.YAML()
	csv, err2 := tablefile.Outline{}.CSV()
	if err != nil || err2 != nil {
		t.Fatal(err, err2)
	}
	for _, x := range []struct {
		data []byte
		keys string
	}{
		{yaml, "table name size class load_range caps minimum pressure_unit load_unit single dual source columns rows"},
		{csv, "table name size class load_range caps minimum pressure_unit load_unit single dual grade source locator"},
	} {
		for _, key := range strings.Fields(x.keys) {
			if !bytes.Contains(x.data, []byte("\n"+key+":")) && !bytes.Contains(x.data, []byte("\n# "+key+":")) {
				t.Errorf("no %s in\n%s", key, x.data)
			}
		}
	}
	if !bytes.Contains(csv, []byte("\npressure,single,dual\n")) {
		t.Errorf("no column names in\n%s", csv)
	}
}
