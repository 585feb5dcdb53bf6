package imports

import (
	"go/ast"
	"testing"
)

// What somebody can still see through (our own rule): of code, not of its tests.
const (
	mostFile = 600
	mostFunc = 80
)

// TestNothingGrowsTooLong holds files and functions to their length.
func TestNothingGrowsTooLong(t *testing.T) {
	m := module(t)
	for _, p := range m.Packages {
		for _, f := range p.Files {
			end := m.Fset.Position(f.FileEnd)
			if end.Line > mostFile {
				t.Errorf("%s has %d lines, want %d at most", end.Filename, end.Line, mostFile)
			}
			for _, d := range f.Decls {
				fn, ok := d.(*ast.FuncDecl)
				if !ok {
					continue
				}
				if from := m.Fset.Position(fn.Pos()); m.Fset.Position(fn.End()).Line-from.Line+1 > mostFunc {
					t.Errorf("%s: %s is longer than %d lines", from, fn.Name.Name, mostFunc)
				}
			}
		}
	}
}
