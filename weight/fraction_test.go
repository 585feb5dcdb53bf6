package weight_test

import (
	"errors"
	"math/big"
	"testing"

	"axleend.example/rules/origin"
	"axleend.example/weight"
)

// A fraction goes to the grid in the direction that is asked for, on both sides of
// nothing. Computed.
func TestMassOfRat(t *testing.T) {
	for _, c := range []struct {
		num, den             int64
		grid                 weight.Mass
		floor, ceil, nearest weight.Mass
	}{
		{0, 1, 10, 0, 0, 0},
		{30, 1, 10, 30, 30, 30}, {-30, 1, 10, -30, -30, -30},
		{1, 3, 10, 0, 10, 0}, {-1, 3, 10, -10, 0, 0},
		{24, 1, 10, 20, 30, 20}, {-24, 1, 10, -30, -20, -20},
		{25, 1, 10, 20, 30, 30}, {-25, 1, 10, -30, -20, -30},
		{26, 1, 10, 20, 30, 30}, {-26, 1, 10, -30, -20, -30},
		{49, 2, 10, 20, 30, 20}, {51, 2, 10, 20, 30, 30}, {-49, 2, 10, -30, -20, -20}, {-51, 2, 10, -30, -20, -30},
		{1, 2, 1, 0, 1, 1}, {-1, 2, 1, -1, 0, -1}, {3, 2, 1, 1, 2, 2}, {-3, 2, 1, -2, -1, -2},
		{1<<63 - 1, 1, 1, 1<<63 - 1, 1<<63 - 1, 1<<63 - 1}, {-1 << 63, 1, 1, -1 << 63, -1 << 63, -1 << 63},
	} {
		for r, want := range map[weight.Rounding]weight.Mass{weight.Floor: c.floor, weight.Ceiling: c.ceil, weight.Nearest: c.nearest} {
			if got, err := weight.MassOfRat(big.NewRat(c.num, c.den), c.grid, r); err != nil || got != want {
				t.Errorf("%d/%d on %d, rounding %d: %d, %v, want %d", c.num, c.den, c.grid, r, got, err, want)
			}
		}
	}
	for _, c := range []struct {
		num  int64
		grid weight.Mass
		r    weight.Rounding
		want error
	}{
		{1, 0, weight.Floor, origin.ErrUnit}, {1, -1, weight.Floor, origin.ErrUnit},
		{1<<63 - 1, 10, weight.Ceiling, origin.ErrRange}, {1<<63 - 1, 10, weight.Floor, nil}, {-1 << 63, 10, weight.Floor, origin.ErrRange}, {-1 << 63, 10, weight.Ceiling, nil},
	} {
		if _, err := weight.MassOfRat(big.NewRat(c.num, 1), c.grid, c.r); !errors.Is(err, c.want) {
			t.Errorf("%d on %d, rounding %d: %v, want %v", c.num, c.grid, c.r, err, c.want)
		}
	}
}
