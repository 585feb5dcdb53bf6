// Package golden holds what a test makes to a file that is read like code:
//
//	var update = flag.Bool("update", false, "write the golden files anew")
//	...
//	golden.Check(t, filepath.Join("testdata", "page.txt"), page, *update)
package golden

import (
	"os"
	"strings"
	"testing"
)

// Check fails t at the first line in which got is another than the file has it, and says
// how to write the file anew; with update it does that instead.
func Check(t testing.TB, file, got string, update bool) {
	t.Helper()
	if update {
		if err := os.WriteFile(file, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if got == string(want) {
		return
	}
	test, _, _ := strings.Cut(t.Name(), "/")
	g, w := strings.Split(got, "\n"), strings.Split(string(want), "\n")
	for i := range max(len(g), len(w)) {
		if i >= len(g) || i >= len(w) || g[i] != w[i] {
			t.Fatalf("%s, line %d%s: got\n%s\nwant\n%s\nIf it is meant: go test . -run '^%s$' -update; then read the difference.", file, i+1, head(w, i),
				strings.Join(g[min(i, len(g)):min(i+3, len(g))], "\n"), strings.Join(w[min(i, len(w)):min(i+3, len(w))], "\n"), test)
		}
	}
}

// head is the line that an indented one stands under.
func head(lines []string, i int) string {
	for i = min(i, len(lines)-1); i >= 0 && strings.HasPrefix(lines[i], " "); i-- {
	}
	if i < 0 {
		return ""
	}
	return ", under " + lines[i]
}
