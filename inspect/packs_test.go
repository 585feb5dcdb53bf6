package inspect_test

import (
	"errors"
	"testing"

	"axleend.example/inspect"
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
