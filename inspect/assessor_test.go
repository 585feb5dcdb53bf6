package inspect_test

import (
	"encoding/json"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"testing"

	"axleend.example/inflation/tablefile"
	"axleend.example/inspect"
	"axleend.example/weight"
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
	tables, err := tablefile.LoadFolder(os.DirFS("../examples/demo"))
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
	lender, err := inspect.NewAssessor(setup)
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
			lent, err3 := lender.Lend(list[i])
			if err3 != nil {
				lent = &inspect.Report{}
			}
			if got := text(*lent, err3); got != before {
				t.Errorf("visit %d, lent: got %s\nwant %s", i, got, before)
			}
			own, err4 := lender.Assess(list[j])
			if _, err := lender.Lend(list[i]); (err == nil) != (err3 == nil) {
				t.Errorf("visit %d, lent twice: %v, then %v", i, err3, err)
			}
			if got, want := text(own, err4), text(second, err2); got != want {
				t.Errorf("visit %d between two lent reports: got %s\nwant %s", j, got, want)
			}
			if text(first, err1) != before {
				t.Errorf("the report on visit %d changed with visit %d", i, j)
			}
		}
	}
	if _, err := one.Assess(&inspect.Visit{}); err == nil {
		t.Error("an empty visit has been judged")
	}
	if _, err := one.Lend(&inspect.Visit{}); err == nil {
		t.Error("an empty visit has been judged, and its report lent")
	}
}

// TestAssessorSeesOtherAxles: the layout is kept only while the axles are the
// same ones.
func TestAssessorSeesOtherAxles(t *testing.T) {
	t.Parallel()
	first, err := inspect.ReadVisit("ten.yaml", []byte(ten))
	if err != nil {
		t.Fatal(err)
	}
	one, err := inspect.NewAssessor(inspect.Setup{})
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		name   string
		change func(axles []inspect.Axle) []inspect.Axle
		bad    bool // the tires and readings stand where there is no such place
	}{
		{"nothing", func(a []inspect.Axle) []inspect.Axle { return a }, false},
		{"a rating", func(a []inspect.Axle) []inspect.Axle { a[1].GAWR = inspect.Record(9000 * weight.Pound); return a }, false},
		{"an id", func(a []inspect.Axle) []inspect.Axle { a[2].ID = "tag"; return a }, true},
		{"a fitment", func(a []inspect.Axle) []inspect.Axle { a[2].Fitment = weight.Single; return a }, true},
		{"towed", func(a []inspect.Axle) []inspect.Axle { a[2].Towed = true; return a }, false},
		{"an axle more", func(a []inspect.Axle) []inspect.Axle {
			return append(a, inspect.Axle{ID: "last", Fitment: weight.Single})
		}, false},
		{"an axle less", func(a []inspect.Axle) []inspect.Axle { return a[:2] }, true},
		{"no axle", func(a []inspect.Axle) []inspect.Axle { return nil }, true},
		{"two of a name", func(a []inspect.Axle) []inspect.Axle { a[2].ID = "drive"; return a }, true},
		{"no fitment", func(a []inspect.Axle) []inspect.Axle { a[0].Fitment = 0; return a }, true},
	} {
		v := *first
		v.Axles = c.change(slices.Clone(first.Axles))
		for _, visit := range []*inspect.Visit{first, &v, &v, first} {
			got, err1 := one.Assess(visit)
			want, err2 := inspect.Assess(visit, inspect.Setup{})
			if !reflect.DeepEqual(got, want) || !reflect.DeepEqual(err1, err2) {
				t.Errorf("%s: got %v, %v\nwant %v, %v", c.name, got, err1, want, err2)
			}
			if (err1 != nil) != (c.bad && visit == &v) {
				t.Errorf("%s: got %v", c.name, err1)
			}
		}
	}
}
