package inspect_test

import (
	"errors"
	"io/fs"
	"os"
	"slices"
	"strings"
	"testing"

	"axleend.example/inspect"
	"axleend.example/inspect/report"
	"axleend.example/rules/origin"
	"axleend.example/rules/packs"
)

// TestShippedPacksProveThemselves runs the cases of every shipped pack, each
// of which names its source, and fails when a rule or one of its edges has no
// case.
func TestShippedPacksProveThemselves(t *testing.T) {
	for _, name := range packs.Names() {
		t.Run(name, func(t *testing.T) {
			report, err := inspect.CheckPack(packs.FS(), name)
			if err != nil {
				var ps *origin.Problems
				if errors.As(err, &ps) {
					for _, p := range ps.All() {
						t.Error(p)
					}
				}
				t.Fatal(err)
			}
			for _, p := range report.Failures {
				t.Error(p)
			}
			for _, g := range report.Gaps {
				t.Errorf("%s: no case covers %s", g.Rule, g.Missing)
			}
		})
	}
}

// TestNothingHangsOnMemory: what stops a coach or comes before the trip has
// better support than somebody's memory, and whatever rests on memory is on the
// contributors' page with what would settle it.
func TestNothingHangsOnMemory(t *testing.T) {
	guide, err := os.ReadFile("../DEVELOPERS.md")
	if err != nil {
		t.Fatal(err)
	}
	remembered := 0
	for _, name := range packs.Names() {
		program, err := inspect.CompilePacks(packs.FS(), name)
		if err != nil {
			t.Fatal(err)
		}
		for _, r := range program.Rules() {
			for _, s := range r.Sources() {
				if s.Grade != origin.FromMemory {
					continue
				}
				remembered++
				if report.Action(r.Action().Name) != report.Plan {
					t.Errorf("%s: %s, and rests on memory: %s", r.Name(), r.Action().Name, s.Title)
				}
				if !strings.Contains(string(guide), "| "+s.Title+" |") {
					t.Errorf("%s: DEVELOPERS.md does not say what would settle %q", r.Name(), s.Title)
				}
			}
		}
	}
	if remembered == 0 {
		t.Error("nothing rests on memory any more: take the table out of DEVELOPERS.md")
	}
}

// gradeWords are files that speak of the grade itself.
var gradeWords = []string{"inflation/tablefile/outline.go", "rules/origin/source.go"}

// TestMemoryOfTheCode: what the code has from memory is on the contributors' page,
// file by file, and no file is there that has nothing from memory any more.
func TestMemoryOfTheCode(t *testing.T) {
	guide, err := os.ReadFile("../DEVELOPERS.md")
	if err != nil {
		t.Fatal(err)
	}
	_, table, _ := strings.Cut(string(guide), "| in the code |")
	table, _, _ = strings.Cut(table, "\n\n")
	module, found := os.DirFS(".."), 0
	err = fs.WalkDir(module, ".", func(file string, d fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case d.IsDir() && (d.Name() == "testdata" || file == "examples"):
			return fs.SkipDir
		case !strings.HasSuffix(file, ".go") || strings.HasSuffix(file, "_test.go") || slices.Contains(gradeWords, file):
			return nil
		}
		text, err := fs.ReadFile(module, file)
		remembers := strings.Contains(string(text), "from memory") || strings.Contains(string(text), "origin.FromMemory")
		switch listed := strings.Contains(table, "`"+file+"`"); {
		case remembers && !listed:
			t.Errorf("%s: something is from memory, and DEVELOPERS.md does not say what would settle it", file)
		case listed && !remembers:
			t.Errorf("DEVELOPERS.md: nothing in %s is from memory", file)
		case listed:
			found++
		}
		return err
	})
	if files := strings.Count(table, ".go`"); err != nil || found != files || found < 5 {
		t.Errorf("%v; %d of the %d files on the page are there", err, found, files)
	}
}

// TestPublishedIsLocated: what a pack takes from a published text says where in it;
// a letter is one page.
func TestPublishedIsLocated(t *testing.T) {
	for _, name := range packs.Names() {
		program, err := inspect.CompilePacks(packs.FS(), name)
		if err != nil {
			t.Fatal(err)
		}
		for _, r := range program.Rules() {
			for _, s := range r.Sources() {
				if s.Grade == origin.Published && s.Locator == "" && !strings.HasPrefix(s.Title, "NHTSA letter ") {
					t.Errorf("%s: where in %s?", r.Name(), s.Title)
				}
			}
		}
	}
}
