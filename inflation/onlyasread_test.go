package inflation_test

import (
	"testing"

	"axleend.example/inflation"
	"axleend.example/weight"
)

// TestOverOnlyAsRead: a load over a rating within its plus/minus has no pressure, and is
// not surely over.
func TestOverOnlyAsRead(t *testing.T) {
	t.Parallel()
	left := func(load, off int) inflation.AxleLoad {
		return inflation.AxleLoad{Left: weighed(load, off), Right: weighed(2900, 40)}
	}
	for _, x := range []struct {
		name              string
		weighed, heaviest inflation.AxleLoad
		only              bool
		outcome           inflation.Outcome
	}{
		{"as read at the rating", left(3640, 40), inflation.AxleLoad{}, false, inflation.TooClose},
		{"over as read", left(3641, 40), inflation.AxleLoad{}, true, inflation.Short},
		{"over by all of its doubt", left(3680, 40), inflation.AxleLoad{}, true, inflation.Short},
		{"surely over", left(3681, 40), inflation.AxleLoad{}, false, inflation.Short},
		{"surely over in the lighter state", left(3660, 0), left(3680, 60), false, inflation.Short},
	} {
		in := inflation.AxleInput{Name: "drive", Fitment: weight.Single, Weighed: x.weighed, Heaviest: x.heaviest, Tires: []inflation.Tire{listed(t, "tire")},
			Wheels: []inflation.Wheel{goodWheel}, Placard: 90 * psi, AsDriven: true}
		s, err := inflation.SetAxle(in)
		if err != nil || s.Outcome != x.outcome || s.OnlyAsRead != x.only || s.Set != 0 && s.Outcome == inflation.Short {
			t.Errorf("%s: %v, only as read %v, set %v, %v", x.name, s.Outcome, s.OnlyAsRead, s.Set, err)
		}
	}
}
