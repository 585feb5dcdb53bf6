package dotcode_test

import (
	"go/parser"
	"go/token"
	"os"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// The package needs only the standard library and the codec of words, reads no clock and counts in whole numbers.
func TestImports(t *testing.T) {
	forbidden := regexp.MustCompile(`time\.(Now|Since|Until|After|Tick)\b|float(32|64)|func init\(`)
	entries, err := os.ReadDir(".")
	if err != nil {
		t.Fatal(err)
	}
	checked := 0
	for _, entry := range entries {
		name := entry.Name()
		if !strings.HasSuffix(name, ".go") || strings.HasSuffix(name, "_test.go") {
			continue
		}
		checked++
		source, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		file, err := parser.ParseFile(token.NewFileSet(), name, source, parser.ImportsOnly)
		if err != nil {
			t.Fatal(err)
		}
		for _, spec := range file.Imports {
			path, _ := strconv.Unquote(spec.Path.Value)
			if first, _, _ := strings.Cut(path, "/"); strings.Contains(first, ".") && path != "axleend.example/internal/word" {
				t.Errorf("%s imports %s", name, path)
			}
			if path == "os" || path == "log" {
				t.Errorf("%s imports %s", name, path)
			}
		}
		if found := forbidden.Find(source); found != nil {
			t.Errorf("%s: %s", name, found)
		}
	}
	if checked < 8 {
		t.Errorf("checked %d files", checked)
	}
}
