package api_test

import (
	"errors"
	"flag"
	"go/ast"
	"go/doc"
	"go/types"
	"maps"
	"os"
	"slices"
	"strings"
	"sync"
	"testing"

	"axleend.example/internal/api"
	"axleend.example/internal/gosource"
)

var update = flag.Bool("update", false, "write api.txt anew")

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

// TestAPI fails when what users can depend on is not what api.txt says.
func TestAPI(t *testing.T) {
	if testing.Short() {
		t.Skip("for the check: whoever is still at work need not write it anew each time")
	}
	got := api.Text(module(t))
	if *update {
		if err := os.WriteFile("api.txt", []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	data, err := os.ReadFile("api.txt")
	if err != nil {
		t.Fatal(err)
	}
	if got == string(data) {
		return
	}
	was, is := map[string]bool{}, map[string]bool{}
	for line := range strings.Lines(string(data)) {
		was[line] = true
	}
	for line := range strings.Lines(got) {
		is[line] = true
	}
	var diff strings.Builder
	for _, line := range slices.Sorted(maps.Keys(was)) {
		if !is[line] {
			diff.WriteString("- " + line)
		}
	}
	for _, line := range slices.Sorted(maps.Keys(is)) {
		if !was[line] {
			diff.WriteString("+ " + line)
		}
	}
	t.Errorf("the exported API is not what internal/api/api.txt says (-: gone, +: new).\n"+
		"If that is meant, write it anew, and look at the change in review:\n\tgo test ./internal/api -update\n%s", diff.String())
}

// TestEverythingIsDocumented: every exported constant, variable, type,
// function and method of a public package has a comment, those of one group
// of constants or errors at least one together; every package opens with one.
func TestEverythingIsDocumented(t *testing.T) {
	m := module(t)
	checked := 0
	for _, p := range m.Packages {
		opened := false
		for _, f := range p.Files {
			opened = opened || f.Doc != nil && strings.HasPrefix(f.Doc.Text(), "Package "+p.Types.Name()+" ") || p.Types.Name() == "main" && f.Doc != nil
			if !p.Public() {
				continue
			}
			said := func(id *ast.Ident, docs ...*ast.CommentGroup) {
				if !id.IsExported() {
					return
				}
				checked++
				for _, d := range docs {
					if d.Text() != "" {
						return
					}
				}
				t.Errorf("%s: %s has no doc comment", m.Fset.Position(id.Pos()), id.Name)
			}
			for _, d := range f.Decls {
				switch d := d.(type) {
				case *ast.FuncDecl:
					if d.Recv == nil || ast.IsExported(receiver(d.Recv.List[0].Type)) {
						said(d.Name, d.Doc)
						if d.Name.IsExported() && d.Doc != nil && !strings.HasPrefix(d.Doc.Text(), d.Name.Name) {
							t.Errorf("%s: the comment of %s does not begin with its name", m.Fset.Position(d.Pos()), d.Name.Name)
						}
					}
				case *ast.GenDecl:
					for _, s := range d.Specs {
						switch s := s.(type) {
						case *ast.TypeSpec:
							said(s.Name, d.Doc, s.Doc)
						case *ast.ValueSpec:
							for _, id := range s.Names {
								said(id, d.Doc, s.Doc, s.Comment)
							}
						}
					}
				}
			}
		}
		if !opened && p.Name != "internal/imports" { // tests alone
			t.Errorf("%s: no package comment", p.Name)
		}
	}
	if checked < 500 {
		t.Errorf("only %d identifiers were seen", checked)
	}
}

// TestEveryFieldIsDocumented: every exported field of an exported struct of a
// public package has a comment of its own.
func TestEveryFieldIsDocumented(t *testing.T) {
	m := module(t)
	checked := 0
	for _, p := range m.Packages {
		if !p.Public() {
			continue
		}
		for _, f := range p.Files {
			for n := range ast.Preorder(f) {
				spec, is := n.(*ast.TypeSpec)
				if !is || !spec.Name.IsExported() {
					continue
				}
				fields, is := spec.Type.(*ast.StructType)
				if !is {
					continue
				}
				for _, field := range fields.Fields.List {
					for _, id := range field.Names {
						if !id.IsExported() {
							continue
						}
						if checked++; field.Doc.Text() == "" && field.Comment.Text() == "" {
							t.Errorf("%s: %s.%s has no comment", m.Fset.Position(id.Pos()), spec.Name.Name, id.Name)
						}
					}
				}
			}
		}
	}
	if checked < 800 {
		t.Errorf("only %d fields were seen", checked)
	}
}

// mostNames is how many names a public package may have: more is a house that nobody
// finds anything in.
const mostNames = 130

// TestNamesOfAPackage: no public package has more constants, variables, types and
// functions than that.
func TestNamesOfAPackage(t *testing.T) {
	seen := 0
	for _, p := range module(t).Packages {
		if !p.Public() {
			continue
		}
		n := 0
		for _, name := range p.Types.Scope().Names() {
			if ast.IsExported(name) {
				n++
			}
		}
		if seen += n; n > mostNames {
			t.Errorf("%s has %d exported names, want at most %d", p.Name, n, mostNames)
		}
	}
	if seen < 500 {
		t.Errorf("only %d names were seen", seen)
	}
}

func receiver(e ast.Expr) string {
	switch e := e.(type) {
	case *ast.StarExpr:
		return receiver(e.X)
	case *ast.IndexExpr:
		return receiver(e.X)
	case *ast.Ident:
		return e.Name
	}
	return ""
}

// customs are the methods that Go programs know by their names alone.
var customs = []string{"String", "Error", "Unwrap", "Is", "As", "IsZero", "AppendText", "MarshalText", "UnmarshalText", "MarshalJSON", "AppendJSON", "UnmarshalJSON", "LogValue"}

// told lists what needs no example of its own, each with the reason.
var told = map[string]string{}

// TestEveryComputationHasAnExample: what an example of some package calls is
// shown; every exported function and method has to be, but for the customs of
// Go, and those that only hand out a field.
func TestEveryComputationHasAnExample(t *testing.T) {
	if testing.Short() {
		t.Skip("for the check, as above")
	}
	m := module(t)
	shown, examples := map[types.Object]bool{}, 0
	for _, p := range m.Packages {
		if !p.Public() {
			continue
		}
		for _, e := range doc.Examples(p.Examples...) {
			if e.Output == "" && !e.EmptyOutput {
				t.Errorf("%s: Example%s is not run: it has no output", p.Name, e.Name)
				continue
			}
			examples++
		}
		for _, f := range p.Examples {
			for n := range ast.Preorder(f) {
				if id, is := n.(*ast.Ident); is {
					if fn, is := m.Info.Uses[id].(*types.Func); is {
						shown[fn.Origin()] = true
					}
				}
			}
		}
	}
	if examples < 40 {
		t.Errorf("%d examples are run, want at least 40", examples)
	}
	computes := 0
	for _, p := range m.Packages {
		if !p.Public() {
			continue
		}
		for _, f := range p.Files {
			for _, d := range f.Decls {
				fn, is := d.(*ast.FuncDecl)
				if !is || !fn.Name.IsExported() {
					continue
				}
				name := p.Name + "." + fn.Name.Name
				if fn.Recv != nil {
					recv := receiver(fn.Recv.List[0].Type)
					if !ast.IsExported(recv) || slices.Contains(customs, fn.Name.Name) || hands(fn) {
						continue
					}
					name = p.Name + "." + recv + "." + fn.Name.Name
				}
				computes++
				why, listed := told[name]
				switch is := shown[m.Info.Defs[fn.Name]]; {
				case is && listed:
					t.Errorf("%s is on the list (%s) and has an example", name, why)
				case !is && !listed:
					t.Errorf("no example calls %s", name)
				}
			}
		}
	}
	t.Logf("%d examples show %d functions and methods", examples, computes)
}

// hands reports whether a method only returns a field of its receiver.
func hands(fn *ast.FuncDecl) bool {
	if fn.Type.Params.NumFields() > 0 || len(fn.Body.List) != 1 {
		return false
	}
	ret, is := fn.Body.List[0].(*ast.ReturnStmt)
	if !is {
		return false
	}
	for _, r := range ret.Results {
		if _, is := r.(*ast.SelectorExpr); !is {
			return false
		}
	}
	return true
}
