package cargo_test

import (
	"context"
	"testing"

	"axleend.example/weight"
)

const lb = weight.Pound

var ctx = context.Background()

func mustSolve(t testing.TB, rig weight.Rig, readings []weight.Reading, scale weight.Scale) weight.Solution {
	t.Helper()
	sol, err := weight.Solve(rig, readings, scale)
	if err != nil {
		t.Fatal(err)
	}
	return sol
}
