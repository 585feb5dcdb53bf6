package imports

import (
	"fmt"
	"go/ast"
	"go/types"
	"iter"
	"slices"
	"strconv"
	"strings"
	"testing"

	"axleend.example/internal/gosource"
)

// library reports whether a package is part of what users compile in.
func library(m *gosource.Module, p *gosource.Package) bool {
	for _, q := range m.Packages {
		if q.Public() && (q == p || slices.Contains(q.Deps, p.Path)) {
			return true
		}
	}
	return false
}

// A library that users embed reads what it is handed and nothing else.
var (
	noPackage = []string{"os", "log", "net", "syscall", "unsafe", "plugin", "flag", "runtime", "expvar", "testing", "path/filepath", "io/ioutil", "math/rand", "crypto/rand", "reflect"}
	noClock   = map[string][]string{
		"time":    {"Now", "Since", "Until", "After", "AfterFunc", "Tick", "NewTicker", "NewTimer", "Sleep", "Local", "LoadLocation"},
		"context": {"WithTimeout", "WithTimeoutCause", "WithDeadline", "WithDeadlineCause"},
	}
	exempt = []string{
		"log/slog", // its values only: a report says what it is to whoever logs it
	}
)

// uses gives what the package's files use of other packages.
func uses(m *gosource.Module, p *gosource.Package) iter.Seq2[*ast.Ident, types.Object] {
	return func(yield func(*ast.Ident, types.Object) bool) {
		for _, f := range p.Files {
			for n := range ast.Preorder(f) {
				id, is := n.(*ast.Ident)
				if !is {
					continue
				}
				obj := m.Info.Uses[id]
				if obj == nil || obj.Pkg() == nil || obj.Pkg() == p.Types || obj.Parent() != obj.Pkg().Scope() {
					continue
				}
				if !yield(id, obj) {
					return
				}
			}
		}
	}
}

func TestLibraryUsesOnlyWhatItIsHanded(t *testing.T) {
	m := module(t)
	checked := 0
	for _, p := range m.Packages {
		if !library(m, p) {
			continue
		}
		checked++
		for _, path := range p.Imports {
			for _, no := range noPackage {
				plans := path == "reflect" && p.Name == "internal/jsonappend" // types, once, for what writes them
				if (path == no || strings.HasPrefix(path, no+"/")) && !slices.Contains(exempt, path) && !plans {
					t.Errorf("%s imports %s", p.Name, path)
				}
			}
		}
		for id, obj := range uses(m, p) {
			if slices.Contains(noClock[obj.Pkg().Path()], obj.Name()) {
				t.Errorf("%s: %s.%s", m.Fset.Position(id.Pos()), obj.Pkg().Name(), obj.Name())
			}
			if _, function := obj.(*types.Func); obj.Pkg().Path() == "log/slog" && function && !strings.HasSuffix(obj.Name(), "Value") && !slices.Contains([]string{"String", "Int", "Bool", "Any", "Group", "Int64"}, obj.Name()) {
				t.Errorf("%s: slog.%s writes a log line", m.Fset.Position(id.Pos()), obj.Name())
			}
		}
		for _, f := range p.Files {
			for _, d := range f.Decls {
				if fn, is := d.(*ast.FuncDecl); is && fn.Recv == nil && fn.Name.Name == "init" {
					t.Errorf("%s: init", m.Fset.Position(fn.Pos()))
				}
			}
		}
	}
	if checked < 10 {
		t.Errorf("checked %d packages", checked)
	}
}

// readers are the functions of the standard library that a table may be handed
// to: they do not write to it.
var readers = []string{"strings.Join", "slices.Index", "slices.Contains", "slices.BinarySearch", "slices.BinarySearchFunc", "slices.IndexFunc", "slices.Clone", "slices.Values", "slices.All", "fmt.Errorf", "fmt.Sprintf"}

// state holds package-level variables to be constants in all but name: a
// variable is a sentinel error, a memo of a pure function, or unexported and
// never written, neither whole nor in part, neither here nor by a function of
// this module that it is handed to.
type state struct {
	m       *gosource.Module
	decls   map[types.Object]*ast.FuncDecl
	info    *types.Info
	parents map[ast.Node]ast.Node
	uses    map[types.Object][]*ast.Ident
	asked   map[types.Object][]string
}

func newState(m *gosource.Module) *state {
	s := &state{m: m, decls: map[types.Object]*ast.FuncDecl{}, info: m.Info,
		parents: map[ast.Node]ast.Node{}, uses: map[types.Object][]*ast.Ident{}, asked: map[types.Object][]string{}}
	for _, p := range m.Packages {
		for _, f := range p.Files {
			var stack []ast.Node
			ast.Inspect(f, func(n ast.Node) bool {
				if n == nil {
					stack = stack[:len(stack)-1]
					return true
				}
				if len(stack) > 0 {
					s.parents[n] = stack[len(stack)-1]
				}
				stack = append(stack, n)
				return true
			})
			for _, d := range f.Decls {
				if fn, is := d.(*ast.FuncDecl); is {
					s.decls[m.Info.Defs[fn.Name]] = fn
				}
			}
		}
	}
	for id, obj := range m.Info.Uses {
		if v, is := obj.(*types.Var); is {
			s.uses[v.Origin()] = append(s.uses[v.Origin()], id)
		}
	}
	return s
}

// writes gives where v may be written, or handed to what may write it.
func (s *state) writes(v types.Object) []string {
	if out, is := s.asked[v]; is {
		return out
	}
	s.asked[v] = nil // for a function that calls itself
	var out []string
	for _, id := range s.uses[v] {
		if why := s.written(id); why != "" {
			out = append(out, fmt.Sprintf("%s: %s", s.m.Fset.Position(id.Pos()), why))
		}
	}
	s.asked[v] = out
	return out
}

// shares reports whether a copy of a value of the type leads to the same
// memory.
func shares(t types.Type) bool {
	switch u := t.Underlying().(type) {
	case *types.Basic, *types.Signature:
		return false
	case *types.Array:
		return shares(u.Elem())
	case *types.Struct:
		for f := range u.Fields() {
			if shares(f.Type()) {
				return true
			}
		}
		return false
	}
	return true
}

func (s *state) written(id *ast.Ident) string {
	var n ast.Expr = id
	for {
		switch up := s.parents[n].(type) {
		case *ast.ParenExpr:
			n = up
		case *ast.StarExpr:
			n = up
		case *ast.IndexExpr:
			if up.X != n {
				return "" // an index
			}
			n = up
		case *ast.SliceExpr:
			if up.X != n {
				return ""
			}
			n = up
		case *ast.SelectorExpr:
			if up.Sel == n {
				n = up
				continue
			}
			if fn, is := s.info.Uses[up.Sel].(*types.Func); is {
				return s.handed(fn, fn.Signature().Recv(), s.receiver(fn))
			}
			n = up
		case *ast.UnaryExpr:
			if up.Op.String() == "&" {
				return "its address is taken"
			}
			return ""
		case *ast.IncDecStmt:
			return "it is counted"
		case *ast.AssignStmt:
			if slices.Contains(up.Lhs, n) {
				return "it is assigned"
			}
			if shares(s.info.TypeOf(n)) {
				return "it gets a second name"
			}
			return ""
		case *ast.RangeStmt:
			if up.X != n {
				return "it is assigned"
			}
			if up.Value != nil {
				var elem types.Type
				if v, is := up.Value.(*ast.Ident); is && s.info.Defs[v] != nil {
					elem = s.info.Defs[v].Type()
				}
				if elem != nil && shares(elem) {
					return s.alias(up.Value)
				}
			}
			return ""
		case *ast.CallExpr:
			if up.Fun == n {
				return ""
			}
			return s.argument(up, n)
		case *ast.ReturnStmt, *ast.CompositeLit, *ast.KeyValueExpr, *ast.ValueSpec, *ast.SendStmt:
			if shares(s.info.TypeOf(n)) {
				return "it is handed on"
			}
			return ""
		default:
			return ""
		}
	}
}

// alias follows an element that a loop gives a name.
func (s *state) alias(value ast.Expr) string {
	if w := s.writes(s.info.Defs[value.(*ast.Ident)]); len(w) > 0 {
		return "an element: " + w[0]
	}
	return ""
}

func (s *state) receiver(fn *types.Func) *ast.Ident {
	d := s.decls[fn.Origin()]
	if d == nil || d.Recv == nil || len(d.Recv.List[0].Names) == 0 {
		return nil
	}
	return d.Recv.List[0].Names[0]
}

// handed asks whether a function writes to what comes in as one parameter.
func (s *state) handed(fn *types.Func, param *types.Var, name *ast.Ident) string {
	if !shares(param.Type()) {
		return ""
	}
	d := s.decls[fn.Origin()]
	if d == nil {
		if full := fn.Pkg().Path() + "." + fn.Name(); slices.Contains(readers, full) {
			return ""
		}
		return "it is handed to " + fn.FullName()
	}
	if name == nil || name.Name == "_" {
		return "" // not used there
	}
	if w := s.writes(s.info.Defs[name]); len(w) > 0 {
		return "through " + fn.Name() + ": " + w[0]
	}
	return ""
}

func (s *state) argument(call *ast.CallExpr, arg ast.Expr) string {
	if !shares(s.info.TypeOf(arg)) {
		return ""
	}
	if s.info.Types[call.Fun].IsType() {
		return "it is converted"
	}
	fun := ast.Unparen(call.Fun)
	if idx, is := fun.(*ast.IndexExpr); is {
		fun = idx.X
	}
	var id *ast.Ident
	switch f := fun.(type) {
	case *ast.Ident:
		id = f
	case *ast.SelectorExpr:
		id = f.Sel
	default:
		return "it is handed to a function value"
	}
	i := slices.Index(call.Args, arg)
	switch fn := s.info.Uses[id].(type) {
	case *types.Builtin:
		if name := fn.Name(); name == "len" || name == "cap" || name == "min" || name == "max" || (name == "append" || name == "copy") && i > 0 {
			return ""
		}
		return "it is handed to " + fn.Name()
	case *types.Func:
		params := fn.Origin().Signature().Params()
		i = min(i, params.Len()-1)
		var name *ast.Ident
		if d := s.decls[fn.Origin()]; d != nil {
			at := 0
			for _, field := range d.Type.Params.List {
				for _, nm := range field.Names {
					if at == i {
						name = nm
					}
					at++
				}
			}
		}
		return s.handed(fn, params.At(i), name)
	}
	return "it is handed to a function value"
}

// called gives "errors.New" for a call of it.
func called(info *types.Info, e ast.Expr) string {
	call, is := ast.Unparen(e).(*ast.CallExpr)
	if !is {
		return ""
	}
	fun := call.Fun
	if idx, is := fun.(*ast.IndexExpr); is {
		fun = idx.X
	}
	sel, is := fun.(*ast.SelectorExpr)
	if !is {
		return ""
	}
	fn, is := info.Uses[sel.Sel].(*types.Func)
	if !is || fn.Pkg() == nil {
		return ""
	}
	return fn.Pkg().Path() + "." + fn.Name()
}

// known lists the variables that the rules below cannot see to be constants,
// each with the reason why it is one.
var known = map[string]string{
	"weight.lengthCodec":           codec,
	"weight.massCodec":             codec,
	"weight.shareCodec":            codec,
	"weight.volumeCodec":           codec,
	"inflation.pressureCodec":      codec,
	"inflation.speedCodec":         codec,
	"inflation.temperatureCodec":   codec,
	"inspect/record.standingCodec": codec,
	"inspect/record.torqueCodec":   codec,
	"rules/packs.files":            "filled by go:embed",
	"rules/packs.starterPack":      "filled by go:embed",
	"rules/packs.starterCases":     "filled by go:embed",
}

const (
	codec = "a codec of internal/quantity points into itself and only reads"
	words = "rules.NewVocabulary copies the words it is given"
)

// sentinelOf reports whether a value is a sentinel of another package of this
// module, which is held to the same.
func sentinelOf(m *gosource.Module, value ast.Expr) bool {
	sel, is := value.(*ast.SelectorExpr)
	if !is || m.Info.Uses[sel.Sel] == nil || m.Info.Uses[sel.Sel].Pkg() == nil {
		return false
	}
	_, own := ours(m, m.Info.Uses[sel.Sel].Pkg().Path())
	return own && strings.HasPrefix(sel.Sel.Name, "Err")
}

func TestNoMutablePackageState(t *testing.T) {
	m := module(t)
	s := newState(m)
	seen, vars := map[string]bool{}, 0
	for _, p := range m.Packages {
		if !library(m, p) {
			continue
		}
		for _, f := range p.Files {
			for _, d := range f.Decls {
				gen, is := d.(*ast.GenDecl)
				if !is {
					continue
				}
				for _, sp := range gen.Specs {
					spec, is := sp.(*ast.ValueSpec)
					if !is || gen.Tok.String() != "var" {
						continue
					}
					for i, id := range spec.Names {
						if id.Name == "_" {
							continue
						}
						vars++
						name := p.Name + "." + id.Name
						how := ""
						if i < len(spec.Values) {
							how = called(m.Info, spec.Values[i])
						}
						writes := s.writes(m.Info.Defs[id])
						sentinel := strings.HasPrefix(strings.ToLower(id.Name), "err") && (how == "errors.New" || how == "fmt.Errorf" || i < len(spec.Values) && sentinelOf(m, spec.Values[i]))
						memo := how == "sync.OnceValue" || how == "sync.OnceValues"
						why, listed := known[name]
						switch {
						case sentinel || memo:
							// Nobody assigns it; what an error or a function leads to is
							// out of everyone's reach.
							for _, w := range writes {
								if strings.HasSuffix(w, "it is assigned") || strings.HasSuffix(w, "its address is taken") {
									t.Errorf("%s is written: %s", name, w)
								}
							}
						case id.IsExported():
							t.Errorf("%s is exported and no sentinel error", name)
						case listed:
							seen[name] = true
							if len(writes) == 0 && len(spec.Values) > 0 {
								t.Errorf("%s is on the list (%s) and needs not be", name, why)
							}
						case len(spec.Values) == 0:
							t.Errorf("%s has no value to begin with, so somebody gives it one later", name)
						case len(writes) > 0:
							t.Errorf("%s may be written:\n\t%s", name, strings.Join(writes, "\n\t"))
						}
					}
				}
			}
		}
	}
	for name := range known {
		if !seen[name] {
			t.Errorf("%s is on the list and not in the library", name)
		}
	}
	if vars < 50 {
		t.Errorf("only %s variables were seen", strconv.Itoa(vars))
	}
}
