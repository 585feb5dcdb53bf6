package packs_test

import (
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"slices"
	"strings"
	"testing"

	"axleend.example/rules"
	"axleend.example/rules/packs"
)

func Example() {
	shipped, err := rules.Load(packs.FS(), packs.Default()...)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, p := range shipped {
		fmt.Println(p.Name())
	}
	// Output:
	// coach-care
	// dual-matching
	// label
	// servicing-safety
}

// Every shipped pack is readable by itself, says what it is about, and has its
// cases beside it. What its rules mean is for those who have the vocabulary.
func TestShipped(t *testing.T) {
	names := packs.Names()
	for _, name := range packs.Default() {
		if !slices.Contains(names, name) {
			t.Errorf("the default pack %s is not there", name)
		}
	}
	for _, name := range names {
		loaded, err := rules.Load(packs.FS(), name)
		if err != nil {
			t.Error(err)
			continue
		}
		if p := loaded[len(loaded)-1]; p.Name() != name || p.Title() == "" || p.About() == "" {
			t.Errorf("%s: %q, %q, %q", name, p.Name(), p.Title(), p.About())
		}
		if c, err := rules.LoadCases(packs.FS(), name); err != nil || c.Pack() != name {
			t.Errorf("cases of %s: %q, %v", name, c.Pack(), err)
		}
	}
	for _, name := range []string{"pack.schema.json", "cases.schema.json", "clauses.schema.json"} {
		data, err := fs.ReadFile(packs.FS(), name)
		if err != nil || !json.Valid(data) {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// TestAbout: each pack says what it does not cover, which packs are meant to run
// beside it, and that it is not the last word.
func TestAbout(t *testing.T) {
	for _, name := range packs.Names() {
		loaded, err := rules.Load(packs.FS(), name)
		if err != nil {
			t.Fatal(err)
		}
		about := loaded[0].About()
		for _, want := range []string{"Not covered: ", "trained, licensed people decide."} {
			if !strings.Contains(about, want) {
				t.Errorf("%s: %q is missing", name, want)
			}
		}
		_, beside, _ := strings.Cut(about, "Run ")
		beside, _, ok := strings.Cut(beside, " beside it")
		named := strings.FieldsFunc(strings.ReplaceAll(beside, " and ", " "), func(r rune) bool { return r == ' ' || r == ',' })
		for _, other := range named {
			if !slices.Contains(packs.Names(), other) || other == name {
				t.Errorf("%s: to be run beside %q", name, other)
			}
		}
		for _, other := range packs.Default() {
			if other != name && !slices.Contains(named, other) {
				t.Errorf("%s: %s runs beside every other, and is not named", name, other)
			}
		}
		if !ok {
			t.Errorf("%s: it does not say what to run beside it", name)
		}
	}
}

// practice are the packs that are named after no regulation.
var practice = []string{"coach-care"}

// TestClauses holds each pack to the clauses of its sources: what a source says
// is judged by a rule that cites it there, or left out for a reason that is
// written down. A pack that is named after a regulation has such a list.
func TestClauses(t *testing.T) {
	for _, name := range packs.Names() {
		clauses, err := rules.LoadClauses(packs.FS(), name)
		if errors.Is(err, fs.ErrNotExist) && slices.Contains(practice, name) {
			continue
		}
		if err != nil {
			t.Error(err)
			continue
		}
		loaded, err := rules.Load(packs.FS(), name)
		if err != nil {
			t.Error(err)
			continue
		}
		if err := rules.CheckClauses(loaded[len(loaded)-1], clauses); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// TestClausesTell: a list that leaves a clause to a rule which does not cite it
// fails.
func TestClausesTell(t *testing.T) {
	data, err := fs.ReadFile(packs.FS(), "us-in-use.clauses.yaml")
	if err != nil {
		t.Fatal(err)
	}
	wrong := strings.Replace(string(data), "at: (c)\n", "at: (x)\n", 1)
	clauses, err := rules.ParseClauses("wrong", []byte(wrong))
	if err != nil || wrong == string(data) {
		t.Fatalf("%v, changed: %t", err, wrong != string(data))
	}
	loaded, err := rules.Load(packs.FS(), "us-in-use")
	if err != nil {
		t.Fatal(err)
	}
	if err := rules.CheckClauses(loaded[0], clauses); !errors.Is(err, rules.ErrClause) {
		t.Errorf("a clause that no rule cites passed: %v", err)
	}
}

// TestPage: the page on packs opens with the very files that are written for a
// new one, and has every key that a rule and a pack can have.
func TestPage(t *testing.T) {
	page, err := os.ReadFile("packs.md")
	if err != nil {
		t.Fatal(err)
	}
	pack, cases := packs.Starter("my-shop")
	for _, text := range []string{pack, cases} {
		if !strings.Contains(string(page), "```yaml\n"+text+"```") {
			t.Errorf("not on the page as it is written:\n%s", text)
		}
	}
	data, err := fs.ReadFile(packs.FS(), "pack.schema.json")
	if err != nil {
		t.Fatal(err)
	}
	var schema struct {
		Properties map[string]any
		Defs       map[string]struct{ Properties map[string]any } `json:"$defs"`
	}
	if err := json.Unmarshal(data, &schema); err != nil {
		t.Fatal(err)
	}
	keys := slices.Concat(slices.Collect(maps.Keys(schema.Properties)), slices.Collect(maps.Keys(schema.Defs["rule"].Properties)))
	if len(keys) < 20 {
		t.Fatalf("only %d keys", len(keys))
	}
	for _, key := range keys {
		if !strings.Contains(string(page), "`"+key+"`") && !strings.Contains(string(page), key+":") {
			t.Errorf("%s is not on the page", key)
		}
	}
}

func ExampleStarter() {
	pack, cases := packs.Starter("north-yard")
	loaded, err := rules.LoadPack("north-yard.yaml", []byte(pack))
	if err != nil {
		fmt.Println(err)
		return
	}
	proofs, err := rules.ParseCases("north-yard.cases.yaml", []byte(cases))
	fmt.Println(loaded.Name(), proofs.Pack(), err)
	// Output: north-yard north-yard <nil>
}
