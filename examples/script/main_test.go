package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

func TestScript(t *testing.T) {
	var out strings.Builder
	if err := check("../demo/visit.yaml", &out); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"Invented demo coach, two axles", "drive-right-inner", "Do not air it up"} {
		if !strings.Contains(out.String(), want) {
			t.Errorf("the page does not say %q:\n%s", want, out.String())
		}
	}
	bad := filepath.Join(t.TempDir(), "bad.yaml")
	if err := os.WriteFile(bad, []byte("visit: 1\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	for file, want := range map[string]string{"none.yaml": "none.yaml", bad: "axles: missing"} {
		if err := check(file, &out); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v, want %q", file, err, want)
		}
	}
}
