// Package visittest has what the tests of several rooms of inspect share: a
// visit read from its text, the demo, and packs of a test's own.
package visittest

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"axleend.example/inflation"
	"axleend.example/inflation/tablefile"
	"axleend.example/inspect"
	"axleend.example/inspect/record"
	"axleend.example/inspect/report"
	"axleend.example/rules"
	"axleend.example/weight"
)

// Read reads a visit.
func Read(t testing.TB, text string) *record.Visit {
	t.Helper()
	v, err := record.Read("visit.yaml", []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// Files reads visits that have to be right, each from its file.
func Files(t testing.TB, names ...string) []*record.Visit {
	t.Helper()
	out := make([]*record.Visit, len(names))
	for i, name := range names {
		data, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		if out[i], err = record.Read(name, data); err != nil {
			t.Fatal(err)
		}
	}
	return out
}

// Assess judges a visit by the default packs, without tables.
func Assess(t testing.TB, v *record.Visit) report.Report {
	t.Helper()
	r, err := inspect.Assess(v, inspect.Setup{})
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// DemoFolder is the folder of the demo, from wherever the test runs.
func DemoFolder(t testing.TB) string {
	t.Helper()
	dir, err := os.Getwd()
	for ; err == nil; dir = filepath.Dir(dir) {
		if _, missing := os.Stat(filepath.Join(dir, "go.mod")); missing == nil {
			return filepath.Join(dir, "examples", "demo")
		}
		if dir == filepath.Dir(dir) {
			t.Fatal("no go.mod in this folder nor above it")
		}
	}
	t.Fatal(err)
	return ""
}

// Demo is the demo visit with its tables.
func Demo(t testing.TB) (*record.Visit, inspect.Setup) {
	t.Helper()
	dir := DemoFolder(t)
	data, err := os.ReadFile(filepath.Join(dir, "visit.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	tables, err := tablefile.LoadFolder(os.DirFS(dir))
	if err != nil {
		t.Fatal(err)
	}
	return Read(t, string(data)), inspect.Setup{Tables: tables}
}

// DemoLines are n visits as JSON lines: the demo with other pressures, treads,
// loads and numbers in each.
func DemoLines(t testing.TB, n int) []byte {
	t.Helper()
	v, _ := Demo(t)
	var out []byte
	for i := range n {
		w := *v
		w.Coach = fmt.Sprintf("Invented coach <%d> & trailer", i)
		w.Odometer = record.Record(weight.Length(10_000+i) * weight.Mile)
		w.Tires = append([]record.Tire(nil), v.Tires...)
		for k := range w.Tires {
			t := &w.Tires[k]
			if found, ok := t.Found.Get(); ok {
				t.Found = record.Record(found - inflation.Pressure((i+3*k)%40)*inflation.PSI/2)
			}
			t.Tread = record.Record(record.Treads{Anywhere: []weight.Length{weight.Length(2+(i*7+k)%14) * record.ThirtySecond}})
			t.Number = record.Record(fmt.Sprintf("%02d%02d", 1+(i+k)%52, (10+i+k)%27))
		}
		w.Weighing.Readings = append([]record.Reading(nil), v.Weighing.Readings...)
		for k := range w.Weighing.Readings {
			w.Weighing.Readings[k].Load += weight.Mass((i*13+k*7)%41-20) * 20 * weight.Pound
		}
		line, err := json.Marshal(w)
		if err != nil {
			t.Fatal(err)
		}
		out = append(append(out, line...), '\n')
	}
	return out
}

// Compile compiles a pack of these rules alone.
func Compile(t testing.TB, text string) *rules.Program {
	t.Helper()
	pack, err := rules.ReadPack("own.yaml", []byte("format: 1\npack: own\ntitle: Own\nrules:\n"+text))
	if err != nil {
		t.Fatal(err)
	}
	program, err := rules.Compile(inspect.Vocabulary(), pack)
	if err != nil {
		t.Fatal(err)
	}
	return program
}
