package inflation_test

import (
	"testing"

	"axleend.example/inflation"
	"axleend.example/weight"
)

// TestLoadOf: what the readings do not settle is not known, which is not 0 lb.
func TestLoadOf(t *testing.T) {
	t.Parallel()
	for _, x := range []struct {
		name string
		e    weight.Estimate
		want inflation.Load
	}{
		{"weighed", weight.Estimate{Load: 3000 * lb, PlusMinus: 20 * lb, State: weight.Determined}, weighed(3000, 20)},
		{"disputed", weight.Estimate{Load: 3000 * lb, PlusMinus: 90 * lb, State: weight.Disputed}, weighed(3000, 90)},
		{"assumed", weight.Estimate{Load: 3000 * lb, State: weight.Assumed}, assumed(3000)},
		{"nothing at all, weighed", weight.Estimate{State: weight.Determined}, inflation.Load{State: inflation.Weighed}},
		{"not settled", weight.Estimate{}, inflation.Load{}},
		{"not settled, whatever it says", weight.Estimate{Load: 3000 * lb, PlusMinus: 20 * lb}, inflation.Load{}},
		{"perhaps nothing", weight.Estimate{Load: -5 * lb, PlusMinus: 40 * lb, State: weight.Determined}, weighed(0, 35)},
		{"less than nothing", weight.Estimate{Load: -200 * lb, PlusMinus: 40 * lb, State: weight.Determined}, inflation.Load{}},
	} {
		if got := inflation.LoadOf(x.e); got != x.want {
			t.Errorf("%s: %+v, want %+v", x.name, got, x.want)
		}
	}
	one := weight.Estimate{Load: 3000 * lb, PlusMinus: 20 * lb, State: weight.Determined}
	if got := weighed(6000, 0).WithDuals(one, weight.Estimate{}); got != weighed(6000, 0) {
		t.Errorf("one of a pair: %+v", got)
	}
	if got := (inflation.Load{}).WithDuals(one, one); got != (inflation.Load{}) {
		t.Errorf("a pair under an end that is not known: %+v", got)
	}
	wide := weight.Estimate{Load: 2990 * lb, PlusMinus: 60 * lb, State: weight.Determined}
	if got := weighed(6000, 0).WithDuals(one, wide); got.HeavierTire != 3000*lb || got.HeavierPlusMinus != 50*lb {
		t.Errorf("the lighter one's doubt reaches higher: %+v", got)
	}
}

// TestOnTire: the load of one tire under the heavier end, and its open sides.
// Half of an axle is not safe: 55 % is assumed on one end (common practice).
func TestOnTire(t *testing.T) {
	t.Parallel()
	open := weighed(2900, 0)
	open.OpenAbove = true
	unread, least := weighed(1000, 0), weighed(1000, 0)
	unread.HeavierPlusMinus = 2000 * lb
	least.HeavierTire, least.HeavierPlusMinus = 1, 2000*lb
	below := weighed(3100, 10)
	below.OpenBelow, below.AtLeast = true, 1000*lb
	for _, x := range []struct {
		name  string
		load  inflation.AxleLoad
		fit   weight.Fitment
		want  inflation.Load
		basis inflation.LoadFrom
	}{
		{"nothing", inflation.AxleLoad{}, weight.Single, inflation.Load{}, 0},
		{"no fitment", ends(weighed(3000, 0), weighed(2900, 0)), 0, inflation.Load{}, 0},
		{"ends", ends(weighed(3000, 20), weighed(2900, 40)), weight.Single, weighed(3000, 20), inflation.EndsWeighed},
		{"the lighter end's doubt reaches higher", ends(weighed(3000, 20), weighed(2990, 40)), weight.Single, weighed(3000, 30), inflation.EndsWeighed},
		{"duals", ends(weighed(3000, 20), weighed(2900, 0)), weight.Dual, weighed(1500, 10), inflation.EndsWeighed},
		{"duals, neither read", ends(unread, weighed(0, 0)), weight.Dual, weighed(500, 0), inflation.EndsWeighed},
		{"duals, one read at hardly anything", ends(least, weighed(0, 0)), weight.Dual,
			inflation.Load{Load: 500 * lb, PlusMinus: 1500*lb + lb/100, State: inflation.Weighed}, inflation.EndsWeighed},
		{"one assumed", ends(assumed(3000), weighed(2900, 0)), weight.Single, assumed(3000), inflation.EndsAssumed},
		{"one end", ends(weighed(3000, 20), inflation.Load{}), weight.Single,
			inflation.Load{Load: 3000 * lb, PlusMinus: 20 * lb, State: inflation.Weighed, OpenAbove: true}, inflation.OneEnd},
		{"an end that may be more", ends(weighed(3000, 0), open), weight.Single,
			inflation.Load{Load: 3000 * lb, State: inflation.Weighed, OpenAbove: true}, inflation.EndsWeighed},
		{"an end that may be less", ends(below, weighed(2000, 0)), weight.Single,
			inflation.Load{Load: 3100 * lb, PlusMinus: 10 * lb, State: inflation.Weighed, OpenBelow: true, AtLeast: 2000 * lb}, inflation.EndsWeighed},
		{"the axle alone", inflation.AxleLoad{Total: weighed(6000, 40)}, weight.Single,
			inflation.Load{Load: 3300 * lb, PlusMinus: 22 * lb, State: inflation.Assumed, OpenBelow: true, AtLeast: 3020 * lb}, inflation.AxleShare},
		{"the axle and one end", inflation.AxleLoad{Left: weighed(3200, 20), Total: weighed(6000, 40)}, weight.Single, weighed(3200, 20), inflation.EndsWeighed},
		{"the axle that may be more", inflation.AxleLoad{Left: weighed(2000, 0), Total: inflation.Load{Load: 6000 * lb, State: inflation.Weighed, OpenAbove: true}}, weight.Single,
			inflation.Load{Load: 4000 * lb, State: inflation.Weighed, OpenAbove: true}, inflation.EndsWeighed},
	} {
		if got, basis := x.load.OnTire(x.fit, weight.US); got != x.want || basis != x.basis {
			t.Errorf("%s: %+v, %s; want %+v, %s", x.name, got, basis, x.want, x.basis)
		}
	}
}
