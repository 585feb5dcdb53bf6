package inspect_test

import (
	"encoding/json"
	"os"
	"path/filepath"
	"testing"

	"axleend.example/inflation"
	"axleend.example/inspect"
)

// visits reads every visit of the demo folder and of the tests.
func visits(t testing.TB) []*inspect.Visit {
	t.Helper()
	var out []*inspect.Visit
	for _, pattern := range []string{"../examples/demo/*.yaml", "testdata/*.yaml"} {
		files, err := filepath.Glob(pattern)
		if err != nil {
			t.Fatal(err)
		}
		for _, name := range files {
			data, err := os.ReadFile(name)
			if err != nil {
				t.Fatal(err)
			}
			if v, err := inspect.ReadVisit(name, data); err == nil { // the folder holds tables too
				out = append(out, v)
			}
		}
	}
	for _, text := range []string{metric, bare("", "")} {
		if v, err := inspect.ReadVisit("visit.yaml", []byte(text)); err == nil {
			out = append(out, v)
		}
	}
	if len(out) < 3 {
		t.Fatalf("%d visits, want more", len(out))
	}
	return out
}

// TestAssessorForgets: whatever it judged before, an Assessor answers as a new
// one does, and what it answered stays as it was.
func TestAssessorForgets(t *testing.T) {
	t.Parallel()
	tables, err := inflation.LoadTables(os.DirFS("../examples/demo"))
	if err != nil {
		t.Fatal(err)
	}
	setup := inspect.Setup{Tables: tables}
	text := func(r inspect.Report, err error) string {
		data, err2 := json.Marshal(r)
		if err2 != nil {
			t.Fatal(err2)
		}
		if err != nil {
			return err.Error()
		}
		return string(data)
	}
	list := visits(t)
	one, err := inspect.NewAssessor(setup)
	if err != nil {
		t.Fatal(err)
	}
	for i := range list {
		for j := range list {
			first, err1 := one.Assess(list[i])
			before := text(first, err1)
			if want := text(inspect.Assess(list[i], setup)); before != want {
				t.Errorf("visit %d after others: got %s\nwant %s", i, before, want)
			}
			second, err2 := one.Assess(list[j])
			if got, want := text(second, err2), text(inspect.Assess(list[j], setup)); got != want {
				t.Errorf("visit %d after %d: got %s\nwant %s", j, i, got, want)
			}
			if text(first, err1) != before {
				t.Errorf("the report on visit %d changed with visit %d", i, j)
			}
		}
	}
	if _, err := one.Assess(&inspect.Visit{}); err == nil {
		t.Error("an empty visit has been judged")
	}
}
