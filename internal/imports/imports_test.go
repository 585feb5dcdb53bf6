// Package imports holds the packages of the module to their one-way imports,
// and the library to what it may use: no state, clock, log, network or
// environment.
package imports

import (
	"errors"
	"slices"
	"strings"
	"sync"
	"testing"

	"axleend.example/internal/gosource"
)

// allowed lists what each package may import, its tests left out: packages of
// this module without the module path, and third-party packages. The standard
// library is free to all. A package that is not listed fails the test.
var allowed = map[string][]string{
	"dotcode":                  {"internal/word"},
	"rules/origin":             {"internal/word"},
	"internal/quantity":        {"rules/origin", "github.com/shopspring/decimal"},
	"internal/jsonappend":      {},
	"internal/document":        {"inspect/record", "internal/strictyaml", "rules/origin"},
	"internal/problem":         {"internal/word"},
	"internal/strictyaml":      {"internal/problem", "internal/word", "rules/origin", "gopkg.in/yaml.v3"},
	"internal/word":            {},
	"internal/rigtest":         {"weight"},
	"internal/golden":          {},
	"internal/testsize":        {},
	"internal/tabletest":       {"inflation", "inflation/tablefile"},
	"weight":                   {"internal/quantity", "internal/word", "rules/origin", "github.com/shopspring/decimal"},
	"weight/cargo":             {"internal/word", "rules/origin", "weight"},
	"inflation":                {"inflation/caution", "internal/problem", "internal/quantity", "internal/word", "rules/origin", "weight", "github.com/shopspring/decimal"},
	"inflation/caution":        {"internal/word"},
	"inflation/cold":           {"inflation", "internal/quantity", "rules/origin", "weight"},
	"inflation/sidewall":       {"inflation", "internal/word", "rules/origin", "weight"},
	"inflation/tablefile":      {"inflation", "internal/problem", "internal/strictyaml", "rules/origin", "weight"},
	"rules":                    {"internal/quantity", "internal/strictyaml", "internal/word", "rules/origin"},
	"rules/packs":              {},
	"inspect":                  {"inflation", "inspect/record", "inspect/report", "internal/judge", "internal/strictyaml", "rules", "rules/packs"},
	"inspect/sheet":            {"dotcode", "inflation", "inflation/caution", "inflation/cold", "inflation/sidewall", "inspect/batch", "inspect/history", "inspect/record", "inspect/report", "rules", "rules/origin", "weight", "weight/cargo"},
	"examples/browser":         {"inflation", "inflation/tablefile", "inspect", "inspect/record", "inspect/sheet", "rules/origin"},
	"examples/housepack":       {"inspect", "inspect/record", "rules/packs"},
	"examples/pressures":       {"inflation", "inflation/caution", "rules/origin", "weight"},
	"examples/visit":           {"dotcode", "inflation", "inspect", "inspect/record", "inspect/report", "weight"},
	"examples/script":          {"inspect", "inspect/record", "inspect/sheet"},
	"examples/service":         {"inflation/tablefile", "inspect", "inspect/record", "inspect/sheet", "rules/origin"},
	"examples/slipimport":      {"rules/origin", "weight"},
	"examples/axleend":         {"dotcode", "inflation", "inflation/caution", "inflation/cold", "inflation/sidewall", "inflation/tablefile", "inspect", "inspect/batch", "inspect/history", "inspect/loading", "inspect/placement", "inspect/record", "inspect/report", "inspect/sheet", "rules", "rules/origin", "rules/packs", "weight", "weight/cargo"},
	"internal/api":             {"internal/gosource"},
	"internal/gosource":        {},
	"internal/imports":         {},
	"inspect/record/condition": {"internal/strictyaml"},
	"inspect/record":           {"dotcode", "inflation", "inflation/sidewall", "inspect/record/condition", "internal/jsonappend", "internal/quantity", "internal/strictyaml", "internal/word", "rules/origin", "weight", "weight/cargo"},
	"inspect/report":           {"dotcode", "inflation", "inflation/sidewall", "inspect/record", "inspect/record/condition", "internal/document", "internal/jsonappend", "internal/strictyaml", "internal/word", "rules", "rules/origin", "weight"},
	"internal/judge":           {"dotcode", "inflation", "inflation/caution", "inflation/cold", "inflation/sidewall", "inspect/record", "inspect/record/condition", "inspect/report", "internal/strictyaml", "rules", "rules/origin", "rules/packs", "weight", "weight/cargo"},
	"inspect/placement":        {"inflation", "inspect", "inspect/record", "inspect/record/condition", "inspect/report", "internal/document", "internal/judge", "internal/word", "rules", "rules/origin", "weight"},
	"inspect/history":          {"dotcode", "inflation", "inflation/cold", "inflation/sidewall", "inspect", "inspect/record", "inspect/record/condition", "inspect/report", "internal/document", "internal/judge", "internal/quantity", "internal/strictyaml", "internal/word", "rules", "rules/origin", "weight"},
	"inspect/loading":          {"inspect", "inspect/record", "inspect/report", "internal/document", "internal/judge", "internal/strictyaml", "rules", "rules/origin", "weight", "weight/cargo"},
	"inspect/batch":            {"dotcode", "inflation/tablefile", "inspect", "inspect/record", "inspect/report", "internal/strictyaml", "rules/origin"},
	"internal/visittest":       {"dotcode", "inflation", "inflation/tablefile", "inspect", "inspect/record", "inspect/record/condition", "inspect/report", "rules", "rules/origin", "weight"},
}

// behind lists everything outside the standard library that stands behind
// each package a user may import, however far back: what is compiled into a
// program that imports this package alone.
var behind = map[string][]string{
	"dotcode":                  {"internal/word"},
	"rules/origin":             {"internal/word"},
	"rules/packs":              {},
	"weight":                   {"internal/quantity", "internal/word", "rules/origin", "github.com/shopspring/decimal"},
	"weight/cargo":             {"internal/quantity", "internal/word", "rules/origin", "weight", "github.com/shopspring/decimal"},
	"inflation":                {"inflation/caution", "internal/problem", "internal/quantity", "internal/word", "rules/origin", "weight", "github.com/shopspring/decimal"},
	"inflation/caution":        {"internal/word"},
	"inflation/cold":           {"inflation", "inflation/caution", "internal/problem", "internal/quantity", "internal/word", "rules/origin", "weight", "github.com/shopspring/decimal"},
	"inflation/sidewall":       {"inflation", "inflation/caution", "internal/problem", "internal/quantity", "internal/word", "rules/origin", "weight", "github.com/shopspring/decimal"},
	"inflation/tablefile":      {"inflation", "inflation/caution", "internal/problem", "internal/quantity", "internal/strictyaml", "internal/word", "rules/origin", "weight", "github.com/shopspring/decimal", "gopkg.in/yaml.v3"},
	"rules":                    {"internal/problem", "internal/quantity", "internal/strictyaml", "internal/word", "rules/origin", "github.com/shopspring/decimal", "gopkg.in/yaml.v3"},
	"inspect":                  {"dotcode", "inflation", "inflation/caution", "inflation/cold", "inflation/sidewall", "inspect/record", "inspect/record/condition", "inspect/report", "internal/document", "internal/jsonappend", "internal/judge", "internal/problem", "internal/quantity", "internal/strictyaml", "internal/word", "rules", "rules/origin", "rules/packs", "weight", "weight/cargo", "github.com/shopspring/decimal", "gopkg.in/yaml.v3"},
	"inspect/sheet":            {"dotcode", "inflation", "inflation/caution", "inflation/cold", "inflation/sidewall", "inflation/tablefile", "inspect", "inspect/batch", "inspect/history", "inspect/record", "inspect/record/condition", "inspect/report", "internal/document", "internal/jsonappend", "internal/judge", "internal/problem", "internal/quantity", "internal/strictyaml", "internal/word", "rules", "rules/origin", "rules/packs", "weight", "weight/cargo", "github.com/shopspring/decimal", "gopkg.in/yaml.v3"},
	"inspect/record/condition": {"internal/problem", "internal/strictyaml", "internal/word", "rules/origin", "gopkg.in/yaml.v3"},
	"inspect/record":           {"dotcode", "inflation", "inflation/caution", "inflation/sidewall", "inspect/record/condition", "internal/jsonappend", "internal/problem", "internal/quantity", "internal/strictyaml", "internal/word", "rules/origin", "weight", "weight/cargo", "github.com/shopspring/decimal", "gopkg.in/yaml.v3"},
	"inspect/report":           {"dotcode", "inflation", "inflation/caution", "inflation/sidewall", "inspect/record", "inspect/record/condition", "internal/document", "internal/jsonappend", "internal/problem", "internal/quantity", "internal/strictyaml", "internal/word", "rules", "rules/origin", "weight", "weight/cargo", "github.com/shopspring/decimal", "gopkg.in/yaml.v3"},
	"inspect/placement":        {"dotcode", "inflation", "inflation/caution", "inflation/cold", "inflation/sidewall", "inspect", "inspect/record", "inspect/record/condition", "inspect/report", "internal/document", "internal/jsonappend", "internal/judge", "internal/problem", "internal/quantity", "internal/strictyaml", "internal/word", "rules", "rules/origin", "rules/packs", "weight", "weight/cargo", "github.com/shopspring/decimal", "gopkg.in/yaml.v3"},
	"inspect/history":          {"dotcode", "inflation", "inflation/caution", "inflation/cold", "inflation/sidewall", "inspect", "inspect/record", "inspect/record/condition", "inspect/report", "internal/document", "internal/jsonappend", "internal/judge", "internal/problem", "internal/quantity", "internal/strictyaml", "internal/word", "rules", "rules/origin", "rules/packs", "weight", "weight/cargo", "github.com/shopspring/decimal", "gopkg.in/yaml.v3"},
	"inspect/loading":          {"dotcode", "inflation", "inflation/caution", "inflation/cold", "inflation/sidewall", "inspect", "inspect/record", "inspect/record/condition", "inspect/report", "internal/document", "internal/jsonappend", "internal/judge", "internal/problem", "internal/quantity", "internal/strictyaml", "internal/word", "rules", "rules/origin", "rules/packs", "weight", "weight/cargo", "github.com/shopspring/decimal", "gopkg.in/yaml.v3"},
	"inspect/batch":            {"dotcode", "inflation", "inflation/caution", "inflation/cold", "inflation/sidewall", "inflation/tablefile", "inspect", "inspect/record", "inspect/record/condition", "inspect/report", "internal/document", "internal/jsonappend", "internal/judge", "internal/problem", "internal/quantity", "internal/strictyaml", "internal/word", "rules", "rules/origin", "rules/packs", "weight", "weight/cargo", "github.com/shopspring/decimal", "gopkg.in/yaml.v3"},
}

var load = sync.OnceValues(gosource.Load)

func module(t *testing.T) *gosource.Module {
	t.Helper()
	m, err := load()
	if errors.Is(err, gosource.ErrNoGo) {
		t.Skip(err)
	}
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// ours reports whether a path is of this module, and gives it without the
// module path.
func ours(m *gosource.Module, path string) (string, bool) {
	return strings.CutPrefix(path, m.Path+"/")
}

// outside reports whether a path is of another module: its first element has
// a dot, which no package of the standard library has.
func outside(m *gosource.Module, path string) bool {
	first, _, _ := strings.Cut(path, "/")
	_, own := ours(m, path)
	return strings.Contains(first, ".") && !own
}

// named leaves out the standard library.
func named(m *gosource.Module, paths []string) []string {
	out := []string{}
	for _, path := range paths {
		if name, own := ours(m, path); own || outside(m, path) {
			out = append(out, name)
		}
	}
	slices.Sort(out)
	return out
}

func TestImportsPointOneWay(t *testing.T) {
	m := module(t)
	seen := map[string]bool{}
	for _, p := range m.Packages {
		seen[p.Name] = true
		may, listed := allowed[p.Name]
		if !listed {
			t.Errorf("%s is not in the table: say here what it may import", p.Name)
			continue
		}
		for _, name := range named(m, p.Imports) {
			if !slices.Contains(may, name) {
				t.Errorf("%s imports %s, which its place in the layout does not allow", p.Name, name)
			}
		}
	}
	for name := range allowed {
		if !seen[name] && name != "internal/imports" { // tests alone
			t.Errorf("%s is in the table and not in the module", name)
		}
	}
}

func TestOnlyWhatYouUse(t *testing.T) {
	m := module(t)
	for _, p := range m.Packages {
		if !p.Public() {
			continue
		}
		want, listed := behind[p.Name]
		if !listed {
			t.Errorf("%s is not in the table: say here what stands behind it", p.Name)
			continue
		}
		want = slices.Sorted(slices.Values(want))
		if got := named(m, p.Deps); !slices.Equal(got, want) {
			t.Errorf("behind %s stand\n%q, and the table says\n%q", p.Name, got, want)
		}
	}
}

func TestYAMLIsReadInOnePlace(t *testing.T) {
	for _, p := range module(t).Packages {
		if slices.Contains(p.Imports, "gopkg.in/yaml.v3") && p.Name != "internal/strictyaml" {
			t.Errorf("%s imports gopkg.in/yaml.v3", p.Name)
		}
	}
}
