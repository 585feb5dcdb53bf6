package record_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"axleend.example/inspect/record"
)

// TestSlips: the slips that people make most, each with what it is told; the
// problems of a file stand beside it.
func TestSlips(t *testing.T) {
	files, err := filepath.Glob("testdata/slips/*.yaml")
	if err != nil || len(files) < 40 {
		t.Fatalf("%d files, %v", len(files), err)
	}
	for _, file := range files {
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		_, err = record.Read("", text)
		if err == nil {
			t.Errorf("%s is no slip", file)
			continue
		}
		got := err.Error() + "\n"
		beside := strings.TrimSuffix(file, ".yaml") + ".txt"
		if *update {
			if err := os.WriteFile(beside, []byte(got), 0o644); err != nil {
				t.Error(err)
			}
			continue
		}
		want, err := os.ReadFile(beside)
		if err != nil || got != string(want) {
			t.Errorf("%s, %v:\n%s\nwant\n%s", file, err, got, want)
		}
		for _, word := range []string{"mapping", "scalar", "token", "tires[", "axles[", "readings["} {
			if strings.Contains(got, word) {
				t.Errorf("%s: nobody in a yard says %q:\n%s", file, word, got)
			}
		}
	}
}
