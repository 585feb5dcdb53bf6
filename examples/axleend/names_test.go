package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// privateVisit is a visit with everything that tells whose coach it is.
const privateVisit = `
visit: 1
invented: yes
date: 2026-10-03
coach: an invented coach
names: {customer: invented-customer, technician: invented-technician, last_set_by: invented-setter, plate: INVPLATE, unit_number: invented-unit, work_order: invented-order}
axles: [{id: steer, fitment: single}]
tires: [{at: steer-left, found: 95 psi, inspected_by: invented-inspector}, {at: steer-right, found: 95 psi}]
`

var privateWords = []string{"invented-customer", "invented-technician", "invented-setter", "INVPLATE", "invented-unit", "invented-order", "invented-inspector"}

// TestWithoutNames: nothing that tells whose coach it is stands in any answer with
// -without-names; the sheet has all of it without the flag, and its coach with it.
func TestWithoutNames(t *testing.T) {
	dir := t.TempDir()
	file := filepath.Join(dir, "visit.yaml")
	if err := os.WriteFile(file, []byte(privateVisit), 0o600); err != nil {
		t.Fatal(err)
	}
	none := func(what, page string) {
		t.Helper()
		if !strings.Contains(page, "steer") && !strings.Contains(page, "an invented coach") {
			t.Errorf("%s says nothing of the coach: %s", what, page)
		}
		for _, word := range privateWords {
			if strings.Contains(page, word) {
				t.Errorf("%s has %s", what, word)
			}
		}
	}
	for _, args := range [][]string{
		{"assess", "-as", "text", "-full"}, {"assess", "-as", "json"}, {"assess", "-as", "html"}, {"assess", "-as", "html", "-one-sheet"}, {"assess", "-as", "ics"},
		{"history", "-as", "text", "-full"}, {"history", "-as", "json"}, {"history", "-as", "html"}, {"history", "-as", "ics"},
	} {
		_, page, _ := axleend(t, "", append(args, "-without-names", file)...)
		none(strings.Join(args, " "), page)
	}
	sheets := filepath.Join(t.TempDir(), "sheets")
	for _, as := range []string{"json", "list", "csv"} {
		code, page, errw := axleend(t, "", "batch", "-as", as, "-sheets", sheets, "-force", "-without-names", dir)
		if code == exitMisuse || errw != "" {
			t.Fatalf("batch -as %s: exit status %d, %s", as, code, errw)
		}
		none("batch -as "+as, page)
		data, err := os.ReadFile(filepath.Join(sheets, "visit.html"))
		if err != nil {
			t.Fatal(err)
		}
		none("the sheet of a batch", string(data))
	}
	_, page, _ := axleend(t, "", "assess", "-as", "html", file)
	for _, word := range privateWords {
		if !strings.Contains(page, word) {
			t.Errorf("the sheet with names has no %s", word)
		}
	}
	if code, out, errw := axleend(t, "", "batch", "-as", "list", "-call", "-without-names", dir); code != exitMisuse || out != "" || !strings.Contains(errw, "-without-names") {
		t.Errorf("-call beside -without-names: exit status %d, %s%s", code, out, errw)
	}
}
