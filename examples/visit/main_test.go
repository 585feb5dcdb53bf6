package main

import (
	"os"
	"strings"
	"testing"
)

// TestVisit: 70 psi is less than 80 % of 95 (76 psi): flat (29 CFR
// 1910.177(f)(2)(i)); 8,900 lb is over half of 17,500 lb by more than the scale's 20.
func TestVisit(t *testing.T) {
	dir := t.TempDir()
	var out strings.Builder
	if err := run(&out, dir); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{
		"the coach stays here: must not move\n",
		"drive-left-inner: flat; air: forbidden\n",
		"drive-left: 8900 lb +/- 20 lb, half GAWR of 8750 lb: breached\n",
		"Do not air it up.",
		"read back, the same: true\n",
	} {
		if !strings.Contains(out.String(), want) {
			t.Errorf("no %q in\n%s", want, out.String())
		}
	}
	if entries, err := os.ReadDir(dir); err != nil || len(entries) != 2 {
		t.Errorf("%d files are stored, %v", len(entries), err)
	}
	if err := run(&out, dir+"/none"); err == nil {
		t.Error("it is stored where there is no folder")
	}
}
