package main

import (
	"strings"
	"testing"
)

// TestPressures: 4,400 lb with the scale's plus/minus of 20 needs the row of 4,620
// lb; half of 8,450 + 20 lb needs that of 4,300 lb; 4,050 + 20 lb that of 4,280 lb
// (read off the invented table).
func TestPressures(t *testing.T) {
	var out strings.Builder
	if err := run(&out, 4400, 4250, 8450, 8100, 3900, 4050); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{
		"steer  can set, 4420 lb on its heavier tires: SET 100 psi\n",
		"drive  can set, 4235 lb on its heavier tires: SET 100 psi\n",
		"tag    can set, 4070 lb on its heavier tires: SET 90 psi\n",
		"Set it cold", "below the placard",
	} {
		if !strings.Contains(out.String(), want) {
			t.Errorf("no %q in\n%s", want, out.String())
		}
	}
}

// TestNoPressure: a load that no row carries has no pressure to set; weights of a
// fourth axle, or none, are an error.
func TestNoPressure(t *testing.T) {
	var out strings.Builder
	if err := run(&out, 5000, 4250, 8450, 8100, 3900, 4050); err != nil || !strings.HasPrefix(out.String(), "steer  short, 5020 lb on its heavier tires\n") {
		t.Errorf("%v\n%s", err, out.String())
	}
	if err := run(&out, 4400, 4250, 8450, 8100, 3900, 4050, 3000); err == nil {
		t.Error("a fourth axle is weighed")
	}
}
