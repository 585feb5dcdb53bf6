package main

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"strconv"
	"strings"
)

// A mutant is one small change of one file.
type mutant struct {
	file         string // as it was named
	line, column int
	function     string // in which it is, "" outside of any
	what         string // such as "< becomes <="
	text         string // the line as it is, without the space around it

	start, end int // the bytes that are replaced
	with       string
}

// key names a mutant also when lines above it move.
func (m mutant) key() string { return strings.Join([]string{m.file, m.function, m.text, m.what}, "\t") }

// apply gives the changed file.
func (m mutant) apply(src []byte) []byte {
	out := append([]byte{}, src[:m.start]...)
	out = append(out, m.with...)
	return append(out, src[m.end:]...)
}

// swaps are what an operator becomes.
var swaps = map[token.Token][]token.Token{
	token.LSS:  {token.LEQ, token.GEQ},
	token.LEQ:  {token.LSS, token.GTR},
	token.GTR:  {token.GEQ, token.LEQ},
	token.GEQ:  {token.GTR, token.LSS},
	token.EQL:  {token.NEQ},
	token.NEQ:  {token.EQL},
	token.LAND: {token.LOR},
	token.LOR:  {token.LAND},
	token.ADD:  {token.SUB},
	token.SUB:  {token.ADD},
	token.MUL:  {token.QUO},
	token.QUO:  {token.MUL},
	token.REM:  {token.MUL},
	token.AND:  {token.OR},
	token.OR:   {token.AND},
	token.SHL:  {token.SHR},
	token.SHR:  {token.SHL},

	token.ADD_ASSIGN: {token.SUB_ASSIGN},
	token.SUB_ASSIGN: {token.ADD_ASSIGN},
	token.MUL_ASSIGN: {token.QUO_ASSIGN},
	token.QUO_ASSIGN: {token.MUL_ASSIGN},
	token.AND_ASSIGN: {token.OR_ASSIGN},
	token.OR_ASSIGN:  {token.AND_ASSIGN},
}

// A finder collects the mutants of one file.
type finder struct {
	fset     *token.FileSet
	name     string
	src      []byte
	lines    []string
	function string
	fails    bool           // its last result is an error
	seen     map[string]int // keys so far
	out      []mutant
}

// find gives every mutant of a file, in its order. Some of them do not build.
func find(name string, src []byte) ([]mutant, error) {
	f := &finder{fset: token.NewFileSet(), name: name, src: src, lines: strings.Split(string(src), "\n"), seen: map[string]int{}}
	file, err := parser.ParseFile(f.fset, name, src, parser.SkipObjectResolution)
	if err != nil {
		return nil, err
	}
	for _, decl := range file.Decls {
		f.function, f.fails = "", false
		switch d := decl.(type) {
		case *ast.FuncDecl:
			f.function, f.fails = nameOf(d), fails(d)
		case *ast.GenDecl:
			if d.Tok == token.IMPORT || d.Tok == token.TYPE {
				continue
			}
		}
		ast.Inspect(decl, f.visit)
	}
	return f.out, nil
}

func fails(d *ast.FuncDecl) bool {
	if d.Type.Results == nil {
		return false
	}
	list := d.Type.Results.List
	last, ok := list[len(list)-1].Type.(*ast.Ident)
	return ok && last.Name == "error"
}

func nameOf(d *ast.FuncDecl) string {
	if d.Recv == nil || len(d.Recv.List) == 0 {
		return d.Name.Name
	}
	t := d.Recv.List[0].Type
	for {
		switch u := t.(type) {
		case *ast.StarExpr:
			t = u.X
		case *ast.IndexExpr:
			t = u.X
		case *ast.Ident:
			return u.Name + "." + d.Name.Name
		default:
			return d.Name.Name
		}
	}
}

func (f *finder) visit(n ast.Node) bool {
	switch n := n.(type) {
	case *ast.ArrayType, *ast.StructType, *ast.InterfaceType:
		return false // how much room there is tells nobody anything
	case *ast.CallExpr:
		if fun, ok := n.Fun.(*ast.Ident); ok && fun.Name == "make" {
			for _, arg := range n.Args[1:min(len(n.Args), 2)] {
				if _, ok := n.Args[0].(*ast.ArrayType); ok {
					ast.Inspect(arg, f.visit)
				}
			}
			return false // nor is the room asked for ahead
		}
	case *ast.ReturnStmt:
		if last := len(n.Results) - 1; last > 0 && f.worthless(n.Results[last]) {
			ast.Inspect(n.Results[last], f.visit)
			return false // nobody looks at what is returned beside an error, or a no
		}
	case *ast.BinaryExpr:
		f.swap(n.OpPos, n.Op)
	case *ast.AssignStmt:
		f.swap(n.TokPos, n.Tok)
	case *ast.UnaryExpr:
		if n.Op == token.NOT || n.Op == token.SUB {
			f.add(n.OpPos, n.OpPos+1, "", n.Op.String()+" is left out")
		}
	case *ast.Ident:
		switch n.Name {
		case "true":
			f.add(n.Pos(), n.End(), "false", "true becomes false")
		case "false":
			f.add(n.Pos(), n.End(), "true", "false becomes true")
		}
	case *ast.BasicLit:
		f.number(n)
	case *ast.IfStmt:
		f.add(n.Cond.Pos(), n.Cond.End(), "!("+f.source(n.Cond)+")", "the condition becomes its opposite")
	case *ast.BlockStmt:
		f.statements(n.List)
	case *ast.CaseClause:
		f.statements(n.Body)
	case *ast.CommClause:
		f.statements(n.Body)
	}
	return true
}

// worthless reports whether a last result says that the others mean nothing:
// false, or, of a function that may fail, anything but nil.
func (f *finder) worthless(last ast.Expr) bool {
	name, _ := last.(*ast.Ident)
	if f.fails {
		return name == nil || name.Name != "nil"
	}
	return name != nil && name.Name == "false"
}

func (f *finder) swap(at token.Pos, op token.Token) {
	for _, to := range swaps[op] {
		f.add(at, at+token.Pos(len(op.String())), to.String(), op.String()+" becomes "+to.String())
	}
}

func (f *finder) number(n *ast.BasicLit) {
	v, err := strconv.ParseInt(n.Value, 0, 64)
	if n.Kind != token.INT || err != nil {
		return
	}
	f.add(n.Pos(), n.End(), fmt.Sprint(v+1), fmt.Sprintf("%s becomes %d", n.Value, v+1))
	if v > 0 {
		f.add(n.Pos(), n.End(), fmt.Sprint(v-1), fmt.Sprintf("%s becomes %d", n.Value, v-1))
	}
}

// statements leaves out one statement after the other; those that declare
// something would not build.
func (f *finder) statements(list []ast.Stmt) {
	for _, s := range list {
		switch s := s.(type) {
		case *ast.AssignStmt:
			if s.Tok == token.DEFINE {
				continue
			}
		case *ast.IfStmt:
			if s.Else != nil {
				continue
			}
		case *ast.ExprStmt, *ast.IncDecStmt, *ast.BranchStmt, *ast.RangeStmt, *ast.ForStmt:
		default:
			continue
		}
		// Lines stay where they are.
		f.add(s.Pos(), s.End(), strings.Repeat("\n", strings.Count(f.source(s), "\n")), "is left out")
	}
}

func (f *finder) source(n ast.Node) string {
	return string(f.src[f.fset.Position(n.Pos()).Offset:f.fset.Position(n.End()).Offset])
}

func (f *finder) add(from, to token.Pos, with, what string) {
	at := f.fset.Position(from)
	m := mutant{file: f.name, line: at.Line, column: at.Column, function: f.function, what: what,
		text:  strings.ReplaceAll(strings.TrimSpace(f.lines[at.Line-1]), "\t", " "),
		start: at.Offset, end: f.fset.Position(to).Offset, with: with}
	key := fmt.Sprint(m.key(), m.line)
	if f.seen[key]++; f.seen[key] > 1 {
		m.what += fmt.Sprintf(" (%d)", f.seen[key])
	}
	f.out = append(f.out, m)
}
