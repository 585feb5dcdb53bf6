package rules_test

import (
	"errors"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"axleend.example/rules"
	"axleend.example/rules/origin"
)

var update = flag.Bool("update", false, "write what is said of the bad packs anew")

// Every bad pack of testdata/refused is refused with the problems that stand
// beside it, a line each: line, column, code, path and cause. Packs that extend
// others find base and other of help_test.go.
func TestRefused(t *testing.T) {
	t.Parallel()
	files, err := filepath.Glob("testdata/refused/*.yaml")
	if err != nil || len(files) < 100 {
		t.Fatalf("%d bad packs, %v", len(files), err)
	}
	for _, file := range files {
		beside := strings.TrimSuffix(file, ".yaml") + ".txt"
		t.Run(filepath.Base(file), func(t *testing.T) {
			t.Parallel()
			text, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			got := refusal(t, filepath.Base(file), text) + "\n"
			if *update {
				if err := os.WriteFile(beside, []byte(got), 0o644); err != nil {
					t.Fatal(err)
				}
			}
			if want, err := os.ReadFile(beside); err != nil || got != string(want) {
				t.Errorf("in\n%s\ngot\n%swant\n%s%v", text, got, want, err)
			}
		})
	}
	if texts, err := filepath.Glob("testdata/refused/*.txt"); err != nil || len(texts) != len(files) {
		t.Errorf("%d bad packs, and problems of %d", len(files), len(texts))
	}
}

// refusal loads and compiles a pack, with others where it extends any, and
// gives all problems.
func refusal(t *testing.T, file string, text []byte) string {
	t.Helper()
	var packs []rules.Pack
	if strings.Contains(string(text), "extends") {
		packs = loaded(t, baseText, otherText)
	}
	p, loading := rules.ReadPack(file, text)
	_, err := rules.Compile(mustVocabulary(t), append(packs, p)...)
	var all *origin.Problems
	if !errors.As(err, &all) {
		t.Fatalf("no *origin.Problems but %v", err)
	}
	if first := (*origin.Problems)(nil); errors.As(loading, &first) && !strings.Contains(err.Error(), first.All()[0].Error()) {
		t.Errorf("what loading found is missing: %v in %v", loading, err)
	}
	var lines []string
	for _, p := range all.All() {
		if p.Position.File != file {
			t.Errorf("file of %v", p)
		}
		line := fmt.Sprintf("%d:%d %s %s", p.Position.Line, p.Position.Column, p.Code, p.Path)
		// What is no YAML of ours is strictyaml's to word.
		if !slices.Contains([]string{"syntax", "encoding", "forbidden"}, p.Code) {
			line += fmt.Sprintf(": %v", p.Err)
		}
		lines = append(lines, line)
	}
	return strings.Join(lines, "\n")
}

// TestContradictionNamesTheFirst: of two rules with one bound the first is named
// beside the one that neither can be kept with.
func TestContradictionNamesTheFirst(t *testing.T) {
	rule := func(name, bound string) string {
		return "  " + name + ": {title: t, subject: hose, measure: weight, " + bound + ", action: watch, advice: a, source: {grade: computed}}\n"
	}
	for _, x := range []struct{ one, other string }{{"at_least: 5 lb", "at_most: 4 lb"}, {"at_most: 4 lb", "at_least: 5 lb"}} {
		p, err := rules.ReadPack("p.yaml", []byte("pack: p\nformat: 1\ntitle: t\nrules:\n"+rule("first", x.one)+rule("second", x.one)+rule("third", x.other)))
		if err != nil {
			t.Fatal(err)
		}
		if _, err = rules.Compile(hosed(t), p); !errors.Is(err, rules.ErrContradiction) || !strings.Contains(err.Error(), `rule "first"`) {
			t.Errorf("%s, then %s: %v", x.one, x.other, err)
		}
	}
}
