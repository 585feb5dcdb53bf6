package cargo_test

import (
	"context"
	"testing"

	"axleend.example/weight"
)

const lb = weight.Pound

var ctx = context.Background()

// coach is an invented coach: steer and drive.
func coach() weight.Rig {
	return weight.Rig{
		Axles: []weight.Axle{
			{ID: "steer", Fitment: weight.Single},
			{ID: "drive", Fitment: weight.Dual, Behind: 252 * weight.Inch},
		},
		Track: 78 * weight.Inch, Height: 54 * weight.Inch,
	}
}

// taggedWithTrailer is an invented coach with a tag axle and a two-axle trailer.
func taggedWithTrailer() weight.Rig {
	in := weight.Inch
	return weight.Rig{
		Axles: []weight.Axle{
			{ID: "steer", Fitment: weight.Single},
			{ID: "drive", Fitment: weight.Dual, Behind: 260 * in},
			{ID: "tag", Fitment: weight.Single, Behind: 310 * in},
			{ID: "front trailer", Fitment: weight.Single, Behind: 590 * in, Towed: true},
			{ID: "rear trailer", Fitment: weight.Single, Behind: 625 * in, Towed: true},
		},
		Coupling: weight.Tongue, Hitch: 440 * in, Track: 80 * in, Height: 54 * in,
	}
}

func axles(from, to int) weight.Set {
	var s weight.Set
	for a := from; a <= to; a++ {
		s |= weight.AxleOf(a)
	}
	return s
}

func mustSolve(t testing.TB, rig weight.Rig, readings []weight.Reading, scale weight.Scale) weight.Solution {
	t.Helper()
	sol, err := weight.Solve(rig, readings, scale)
	if err != nil {
		t.Fatal(err)
	}
	return sol
}
