// Package imports holds the packages of the module to their one-way imports.
package imports

import (
	"bytes"
	"encoding/json"
	"errors"
	"io"
	"os/exec"
	"slices"
	"strings"
	"testing"
)

const module = "axleend.example/"

// allowed lists what each package may import, its tests left out: packages of
// this module without the module path, and third-party packages. The standard
// library is free to all. A package that is not listed fails the test.
var allowed = map[string][]string{
	"dotcode":             {},
	"rules/origin":        {},
	"internal/quantity":   {"rules/origin", "github.com/shopspring/decimal"},
	"internal/strictyaml": {"rules/origin", "gopkg.in/yaml.v3"},
	"weight":              {"internal/quantity", "rules/origin", "github.com/shopspring/decimal"},
	"inflation":           {"internal/quantity", "internal/strictyaml", "rules/origin", "weight", "github.com/shopspring/decimal"},
	"rules":               {"internal/quantity", "internal/strictyaml", "rules/origin"},
	"rules/packs":         {},
	"inspect":             {"dotcode", "inflation", "internal/quantity", "internal/strictyaml", "rules", "rules/origin", "rules/packs", "weight"},
	"inspect/sheet":       {"dotcode", "inflation", "inspect", "rules", "rules/origin", "weight"},
	"examples/axleend":    {"dotcode", "inflation", "inspect", "inspect/sheet", "rules", "rules/origin", "rules/packs", "weight"},
	"internal/imports":    {},
}

// thirdParty lists every third-party module that may stand behind a
// package, however far back.
var thirdParty = map[string][]string{
	"dotcode":           {},
	"rules/origin":      {},
	"internal/quantity": {"github.com/shopspring/decimal"},
	"weight":            {"github.com/shopspring/decimal"},
	"rules/packs":       {},
	"internal/imports":  {},
}

type pkg struct {
	ImportPath string
	Standard   bool
	Imports    []string
	Deps       []string
}

func list(t *testing.T) []pkg {
	t.Helper()
	cmd := exec.Command("go", "list", "-json=ImportPath,Standard,Imports,Deps", module+"...")
	var errw bytes.Buffer
	cmd.Stderr = &errw
	out, err := cmd.Output()
	if err != nil {
		if errors.Is(err, exec.ErrNotFound) {
			t.Skip("no go command on this machine")
		}
		t.Fatalf("go list: %v\n%s", err, errw.Bytes())
	}
	var all []pkg
	for dec := json.NewDecoder(bytes.NewReader(out)); ; {
		var p pkg
		if err := dec.Decode(&p); err == io.EOF {
			return all
		} else if err != nil {
			t.Fatal(err)
		}
		all = append(all, p)
	}
}

// outside reports whether a path is of another module: its first element has
// a dot, which no package of the standard library has.
func outside(path string) bool {
	first, _, _ := strings.Cut(path, "/")
	return strings.Contains(first, ".") && !strings.HasPrefix(path, module)
}

func TestImportsPointOneWay(t *testing.T) {
	pkgs := list(t)
	if len(pkgs) < len(allowed) {
		t.Errorf("go list names %d packages, the table here %d", len(pkgs), len(allowed))
	}
	for _, p := range pkgs {
		name := strings.TrimPrefix(p.ImportPath, module)
		may, listed := allowed[name]
		if !listed {
			t.Errorf("%s is not in the table: say here what it may import", name)
			continue
		}
		for _, imp := range p.Imports {
			if ours := strings.HasPrefix(imp, module); ours || outside(imp) {
				if !slices.Contains(may, strings.TrimPrefix(imp, module)) {
					t.Errorf("%s imports %s, which its place in the layout does not allow", name, imp)
				}
			}
		}
		if mods, ok := thirdParty[name]; ok {
			for _, dep := range p.Deps {
				if outside(dep) && !slices.Contains(mods, dep) {
					t.Errorf("%s pulls in %s", name, dep)
				}
			}
		}
	}
}

func TestYAMLIsReadInOnePlace(t *testing.T) {
	for _, p := range list(t) {
		if slices.Contains(p.Imports, "gopkg.in/yaml.v3") && p.ImportPath != module+"internal/strictyaml" {
			t.Errorf("%s imports gopkg.in/yaml.v3", p.ImportPath)
		}
	}
}
