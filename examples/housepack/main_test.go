package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// TestHouse: the shop's measure and its steer tread limit (6/32 in, in place of the
// shipped 4/32 in) are judged in a whole visit; what it has not read is not judged.
func TestHouse(t *testing.T) {
	var out strings.Builder
	if err := run("visit.yaml", &out); err != nil {
		t.Fatal(err)
	}
	want := []string{
		"steer-left: Wheel nuts not checked again, found 180 mi, wanted at most 100 mi",
		"steer-left: Steer tire worn out, found 5/32 in, wanted at least 6/32 in",
		"steer-right: not judged, write down whether its nuts were checked since then (own: nuts_again)",
	}
	for _, w := range want {
		if !strings.Contains(out.String(), w) {
			t.Errorf("no %q in\n%s", w, out.String())
		}
	}
	if n := strings.Count(out.String(), "\n"); n != len(want) {
		t.Errorf("%d lines, want %d:\n%s", n, len(want), out.String())
	}
}

// TestHouseRefuses: a distance in psi is a problem at its place.
func TestHouseRefuses(t *testing.T) {
	text, err := os.ReadFile("visit.yaml")
	if err != nil {
		t.Fatal(err)
	}
	bad := filepath.Join(t.TempDir(), "visit.yaml")
	if err := os.WriteFile(bad, []byte(strings.Replace(string(text), "180 mi", "180 psi", 1)), 0o600); err != nil {
		t.Fatal(err)
	}
	if err := run(bad, &strings.Builder{}); err == nil || !strings.Contains(err.Error(), "steer-left.own.since_mounted: ") {
		t.Errorf("a distance in psi: %v", err)
	}
}
