package rules_test

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"strings"
	"testing"
	"testing/fstest"

	"axleend.example/rules"
	"axleend.example/rules/origin"
)

// clausesText is a list for a pack of that name: a source, its clauses, and
// what stands beyond them.
func clausesText(pack, title, list, beyond string) string {
	out := "clauses: " + pack + "\nformat: 1\nsources:\n  - {title: " + title + ", edition: invented, list: [" + list + "]}\n"
	if beyond != "" {
		out += "beyond: {" + beyond + "}\n"
	}
	return out
}

const ruledText = `pack: ruled
format: 1
title: Two rules of one source
rules:
  age: {title: t, subject: valve, measure: stem_age, at_most: 6 years, action: watch, advice: a, source: {grade: published, title: Code, locator: "(a)(1) and (c)"}}
  drops: {title: t, subject: valve, measure: bubbles, is: no, action: watch, advice: a, source: [{grade: common practice}, {grade: published, title: Code, locator: "(d), as amended"}]}
`

// Each text is held against a pack whose rule age cites Code (a)(1) and (c),
// and whose rule drops cites Code (d).
func TestCheckClauses(t *testing.T) {
	const (
		age   = `{at: (a)(1), says: s, rules: [age]}`
		drops = `{at: (d), says: s, rules: [drops]}`
	)
	pack := loaded(t, ruledText)[0]
	for _, test := range []struct {
		name, text string
		want       string // part of the error; empty for none
		is         error
	}{
		{"all fit", clausesText("ruled", "Code", age+", "+drops+", {at: (b), says: s, left_out: not recorded}", ""), "", nil},
		{"two places of one rule", clausesText("ruled", "Code", age+", {at: (c), says: s, rules: [age]}, "+drops, ""), "", nil},
		{"a part of a place", clausesText("ruled", "Code", age+", {at: (d) bubbles, says: s, rules: [drops]}", ""), "", nil},
		{"beyond another source", clausesText("ruled", "Other", "{at: (a), says: s, left_out: r}", "age: r, drops: r"), "", nil},
		{"place not cited", clausesText("ruled", "Code", `{at: (a), says: s, rules: [age]}, `+drops, ""), `rule "age" does not cite Code (a)`, rules.ErrClause},
		{"source not cited", clausesText("ruled", "Codex", age+", "+drops, ""), `rule "age" does not cite Codex (a)(1)`, rules.ErrClause},
		{"no such rule", clausesText("ruled", "Code", age+", {at: (d), says: s, rules: [drop]}", "drops: r"), `did you mean "drops"`, rules.ErrName},
		{"a rule that nobody asks for", clausesText("ruled", "Code", drops, ""), `no clause asks for rule "age"`, rules.ErrClause},
		{"cited, and no clause", clausesText("ruled", "Code", drops, "age: r"), `rule "age" cites`, rules.ErrClause},
		{"another pack's", clausesText("other", "Code", age+", "+drops, ""), `unknown pack "other"`, rules.ErrName},
	} {
		t.Run(test.name, func(t *testing.T) {
			clauses, err := rules.ReadClauses("c.yaml", []byte(test.text))
			if err != nil {
				t.Fatal(err)
			}
			err = rules.CheckClauses(pack, clauses)
			if test.want == "" {
				if err != nil {
					t.Error(err)
				}
				return
			}
			if err == nil || !strings.Contains(err.Error(), test.want) || !errors.Is(err, test.is) {
				t.Errorf("got %v, want %q", err, test.want)
			}
		})
	}
	if err := rules.CheckClauses(pack, rules.Clauses{}); err == nil {
		t.Error("no clauses at all hold a pack")
	}
}

// What is no list of clauses is refused with its place.
func TestReadClauses(t *testing.T) {
	for _, test := range []struct{ name, text, want string }{
		{"both", clausesText("ruled", "Code", "{at: (a), says: s, rules: [age], left_out: r}", ""), "want either rules or left_out"},
		{"neither", clausesText("ruled", "Code", "{at: (a), says: s}", ""), "want either rules or left_out"},
		{"no place", clausesText("ruled", "Code", "{says: s, rules: [age]}", ""), "at"},
		{"an unknown key", clausesText("ruled", "Code", "{at: (a), says: s, rule: age}", ""), "rule"},
		{"an empty reason", clausesText("ruled", "Code", `{at: (a), says: s, left_out: ""}`, ""), "empty"},
		{"a long place", clausesText("ruled", "Code", "{at: "+strings.Repeat("a", 121)+", says: s, left_out: r}", ""), "longer than"},
		{"a long reason beyond", clausesText("ruled", "Code", "", "own: "+strings.Repeat("a", 121)), "longer than"},
		{"no reason beyond", clausesText("ruled", "Code", "", `own: ""`), "empty"},
		{"a misspelled rule beyond", clausesText("ruled", "Code", "", "Own: a"), "misspelled"},
		{"another version", strings.Replace(clausesText("ruled", "Code", "", ""), "format: 1", "format: 2", 1), "unknown version"},
		{"no map", "- 1\n", ""},
		{"no YAML", "a: [", ""},
	} {
		t.Run(test.name, func(t *testing.T) {
			_, err := rules.ReadClauses("c.yaml", []byte(test.text))
			var problems *origin.Problems
			if !errors.As(err, &problems) || !strings.Contains(err.Error(), test.want) {
				t.Errorf("got %v, want %q", err, test.want)
			}
		})
	}
}

func TestLoadClauses(t *testing.T) {
	if _, err := rules.LoadClauses(fstest.MapFS{}, "none"); !errors.Is(err, fs.ErrNotExist) {
		t.Error(err)
	}
	if _, err := (rules.Loader{MaxBytes: 10}).LoadClauses(os.DirFS("testdata"), "valve-care"); err == nil {
		t.Error("a file above the limit is read")
	}
	if (rules.Clauses{}).Pack() != "" || (rules.Clauses{}).All() != nil {
		t.Error("the zero clauses are of a pack")
	}
}

func ExampleLoadClauses() {
	fsys := os.DirFS("testdata")
	clauses, err := rules.LoadClauses(fsys, "valve-care")
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, c := range clauses.All() {
		if c.LeftOut != "" {
			fmt.Printf("%s, %s: %s (%s)\n", c.Title, c.At, c.Says, c.LeftOut)
		}
	}
	packs, err := rules.Load(fsys, clauses.Pack())
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(rules.CheckClauses(packs[0], clauses))
	// Output:
	// the made-up shop's handbook, page 5: the color of caps (nobody has been hurt by one)
	// <nil>
}

func ExampleReadClauses() {
	text := []byte("clauses: own\nformat: 1\nsources:\n  - {title: t, edition: e, list: [{at: page 1, says: s}]}\n")
	_, err := rules.ReadClauses("own.clauses.yaml", text)
	_, small := rules.Loader{MaxBytes: 10}.ReadClauses("own.clauses.yaml", text)
	fmt.Println(err)
	fmt.Println(errors.Is(small, rules.ErrClause))
	// Output:
	// own.clauses.yaml:4:35: sources[0].list[0]: pack and clause do not fit: want either rules or left_out
	// false
}

// Whatever the file: no panic; an error is problems with places; what was read
// can be held against a pack.
func FuzzReadClauses(f *testing.F) {
	sample, err := os.ReadFile("testdata/valve-care.clauses.yaml")
	if err != nil {
		f.Fatal(err)
	}
	f.Add(sample)
	f.Add([]byte(clausesText("ruled", "Code", "{at: (a), says: s}", "age: r")))
	pack := loaded(f, ruledText)[0]
	f.Fuzz(func(t *testing.T, data []byte) {
		clauses, err := rules.ReadClauses("c.yaml", data)
		var problems *origin.Problems
		if err != nil && (!errors.As(err, &problems) || problems.Len() == 0) {
			t.Fatalf("no problems: %v", err)
		}
		if err == nil && clauses.Pack() == "" {
			t.Fatal("clauses of no pack")
		}
		_ = rules.CheckClauses(pack, clauses)
	})
}
