package sheet_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
)

var (
	inMarkup = regexp.MustCompile(`<[^>]*>?|[a-z-]+="[^"]*"?|^[^<]*>`)
	reads    = regexp.MustCompile(`[A-Za-z]{2,},? [A-Za-z]{2,}|[A-Z][a-z]+`)
)

// TestTextsStandInOnePlace: what a person reads stands among the constants of a file
// of words, or at the top of the file of a page that has no more of them, so that it
// can be read through and translated.
func TestTextsStandInOnePlace(t *testing.T) {
	// Classes of the style sheet, words that the report has, a unit.
	other := []string{"end dashed", "trace second", "for its load", "last set", "kept ready at", "kPa"}
	files, err := filepath.Glob("*.go")
	if err != nil {
		t.Fatal(err)
	}
	looked := 0
	for _, name := range files {
		if strings.HasSuffix(name, "_test.go") || strings.HasSuffix(name, "style.go") {
			continue
		}
		set := token.NewFileSet()
		file, err := parser.ParseFile(set, name, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		for _, decl := range file.Decls {
			if gen, ok := decl.(*ast.GenDecl); ok && gen.Tok != token.FUNC {
				continue // imports, types, and texts at the top
			}
			ast.Inspect(decl, func(n ast.Node) bool {
				lit, ok := n.(*ast.BasicLit)
				if !ok || lit.Kind != token.STRING {
					return true
				}
				looked++
				text, err := strconv.Unquote(lit.Value)
				if err != nil {
					t.Fatal(err)
				}
				if reads.MatchString(inMarkup.ReplaceAllString(text, " ")) && !slices.Contains(other, text) {
					t.Errorf("%s: %q is a text: say it in a file of words", set.Position(lit.Pos()), text)
				}
				return true
			})
		}
	}
	if looked < 300 || !reads.MatchString(inMarkup.ReplaceAllString("<p>Not weighed.</p>", " ")) {
		t.Errorf("%d strings were looked at, too few", looked)
	}
}
