package main

import (
	"strings"
	"testing"

	"axleend.example/inspect"
	"axleend.example/inspect/record"
)

func TestHouseMeasure(t *testing.T) {
	var out strings.Builder
	if err := run([]string{"40mi", "100 mi", "180 mi"}, &out); err != nil {
		t.Fatal(err)
	}
	want := "wheel 1: kept: Wheel nuts not checked again (40 mi)\n" +
		"wheel 2: kept: Wheel nuts not checked again (100 mi)\n" +
		"wheel 3: breached: Wheel nuts not checked again (180 mi)\n"
	if out.String() != want {
		t.Errorf("%s\nwant\n%s", out.String(), want)
	}
	if err := run([]string{"40 psi"}, &out); err == nil {
		t.Error("a distance in psi is taken")
	}
}

// The house's steer tread limit holds in a whole visit, in place of the one
// that is shipped (4/32 in).
func TestHouseLimitInAVisit(t *testing.T) {
	p, err := program()
	if err != nil {
		t.Fatal(err)
	}
	visit, err := record.Read("v.yaml", []byte("visit: 1\ndate: 2026-10-03\naxles: [{id: steer, fitment: single}]\ntires: [{at: steer-left, tread: 5/32 in}]\n"))
	if err != nil {
		t.Fatal(err)
	}
	for _, tc := range []struct {
		setup inspect.Setup
		want  bool
	}{{inspect.Setup{Program: p}, true}, {inspect.Setup{}, false}} {
		report, err := inspect.Assess(visit, tc.setup)
		if err != nil {
			t.Fatal(err)
		}
		found := false
		for _, it := range report.Todo {
			found = found || strings.Contains(strings.Join(it.Rules, " "), "tread-steer") && strings.Contains(it.Bound, "6/32 in")
		}
		if found != tc.want {
			t.Errorf("5/32 in on the steer axle: breached %v, want %v: %+v", found, tc.want, report.Todo)
		}
	}
}
