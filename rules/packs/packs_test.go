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

// TestClausesWhole holds the lists to the places that their sources number: a
// clause that nobody thought of is missing from both its rules and its reasons.
func TestClausesWhole(t *testing.T) {
	const benchmark = " (a benchmark for a private coach)"
	numbered := func(before string, n int) (out string) {
		for i := range n {
			out += fmt.Sprintf(" %s(%d)", before, i+1)
		}
		return out
	}
	quebec := "Regulation respecting safety standards for road vehicles (Quebec, chapter C-24.2, r. 32)"
	for _, x := range []struct{ pack, title, places string }{
		{"us-commercial", "49 CFR 393.75" + benchmark, numbered("(a)", 4) + " (b) (c) (d) (e) (f) (g) (h)" + numbered("(i)", 2)},
		{"us-commercial", "49 CFR part 396 appendix A" + benchmark, numbered("10.a", 14) + numbered("10.b", 8) + " 10.c 11.a 11.b 11.c" + numbered("11.d", 4)},
		{"us-in-use", "49 CFR 570.62", "(a) (a)(1) (b) (b)(1) (c) (c)(1) (d) (d)(1) (e) (e)(1)"},
		{"us-in-use", "49 CFR 570.63", "(a) (a)(1) (b) (b)(1) (c)"},
		{"us-in-use-light", "49 CFR 570.9", "(a) (a)(1) (b) (b)(1) (c) (c)(1) (d) (d)(1)"},
		{"us-in-use-light", "49 CFR 570.10", "(a) (a)(1) (b) (b)(1) (c)"},
		{"nz-virm-heavy", "Vehicle inspection requirements manual: in-service certification, heavy vehicles (New Zealand)", "10-1.1 10-1.2 10-1.3(a) 10-1.3(b) 10-1.3(c) 10-1.4 10-1.5(a) 10-1.5(b) 10-1.5(c) 10-1.5(d) 10-1.5(e) 10-1.5(f) 10-1.6"},
		{"qc-wheels", quebec, numbered("120", 7) + numbered("121", 8) + numbered("170", 8)},
		{"qc-wheels-light", quebec, numbered("120", 7) + numbered("121", 8) + numbered("170", 8)},
		{"servicing-safety", "29 CFR 1910.177", "(a) (b) (c) (d) (e) (f)(1) (f)(2)(i) (f)(2)(ii) (f)(3) (f)(4) (g)"},
	} {
		clauses, err := rules.LoadClauses(packs.FS(), x.pack)
		if err != nil {
			t.Fatal(err)
		}
		var have []string
		for _, c := range clauses.All() {
			if place, _, _ := strings.Cut(c.At, " "); c.Title == x.title && !slices.Contains(have, place) {
				have = append(have, place)
			}
		}
		want := strings.Fields(x.places)
		slices.Sort(have)
		slices.Sort(want)
		if !slices.Equal(have, want) {
			t.Errorf("%s, %s: the list has %v, the text %v", x.pack, x.title, have, want)
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
	clauses, err := rules.ReadClauses("wrong", []byte(wrong))
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
	loaded, err := rules.ReadPack("north-yard.yaml", []byte(pack))
	if err != nil {
		fmt.Println(err)
		return
	}
	proofs, err := rules.ReadCases("north-yard.cases.yaml", []byte(cases))
	fmt.Println(loaded.Name(), proofs.Pack(), err)
	// Output: north-yard north-yard <nil>
}

// TestPacksInABrowser: what is compiled for a browser has each pack, and no more.
func TestPacksInABrowser(t *testing.T) {
	source, err := os.ReadFile("files_js.go")
	if err != nil {
		t.Fatal(err)
	}
	_, list, _ := strings.Cut(string(source), "//go:embed ")
	list, _, _ = strings.Cut(list, "\n")
	if want := strings.Join(packs.Names(), ".yaml ") + ".yaml"; list != want {
		t.Errorf("compiled for a browser: %s, want %s", list, want)
	}
}
