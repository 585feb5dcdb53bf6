package imports

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// TestWhatComesFromOthers: every module that a go.mod file asks for, and the one
// that the check installs, is told of with its version and license.
func TestWhatComesFromOthers(t *testing.T) {
	page, err := os.ReadFile("../../DEVELOPERS.md")
	if err != nil {
		t.Fatal(err)
	}
	files, err := filepath.Glob("../*/go.mod")
	if err != nil || len(files) == 0 {
		t.Fatal(files, err)
	}
	n := 0
	for _, file := range append(files, "../../go.mod") {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		for line := range strings.Lines(string(data)) {
			line = strings.TrimSpace(strings.TrimPrefix(strings.TrimSpace(line), "require "))
			path, version, ok := strings.Cut(line, " ")
			if !ok || !strings.HasPrefix(version, "v") || strings.HasPrefix(path, "axleend.example") {
				continue
			}
			version, comment, _ := strings.Cut(version, " ")
			n++
			told := path + " " + version
			if strings.Contains(comment, "indirect") {
				told = path
			}
			if !strings.Contains(string(page), told) {
				t.Errorf("%s asks for %s, which DEVELOPERS.md does not name", file, told)
			}
		}
	}
	if n < 6 {
		t.Errorf("only %d modules were found", n)
	}
	check, err := os.ReadFile("../../.ci/run")
	if err != nil {
		t.Fatal(err)
	}
	for _, word := range strings.Fields(string(check)) {
		if path, version, ok := strings.Cut(word, "@"); ok && strings.Contains(path, ".") && strings.HasPrefix(version, "v") {
			path = strings.Join(strings.Split(path, "/")[:3], "/")
			if !strings.Contains(string(page), path+" "+version) {
				t.Errorf(".ci/run installs %s %s, which DEVELOPERS.md does not name", path, version)
			}
		}
	}
}
