package inspect_test

import (
	"errors"
	"os"
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
