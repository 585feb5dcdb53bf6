package inflation_test

import (
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"

	"axleend.example/inflation"
	"axleend.example/inflation/caution"
	"axleend.example/weight"
)

func weighed(load, pm int) inflation.Load {
	return inflation.Load{Load: weight.Mass(load) * lb, PlusMinus: weight.Mass(pm) * lb, State: inflation.Weighed}
}

func assumed(load int) inflation.Load {
	return inflation.Load{Load: weight.Mass(load) * lb, State: inflation.Assumed}
}

func ends(left, right inflation.Load) inflation.AxleLoad {
	return inflation.AxleLoad{Left: left, Right: right}
}

// codes lists cautions without the one that is always there.
func codes(s caution.Set) string {
	var out []string
	for c := range s.All() {
		if c != caution.ColdOnly {
			out = append(out, c.String())
		}
	}
	return strings.Join(out, " ")
}

func shorts(s inflation.Setting) string {
	var out []string
	for _, x := range s.Short {
		out = append(out, fmt.Sprintf("%s %s %s: %s at %s, over %s", x.Side, x.Limit.Part, x.Limit.Name, x.Limit.Load, x.Limit.Pressure, x.Over))
	}
	return strings.Join(out, "; ")
}

// listed is a tire of the invented table, all stamps read.
func listed(t testing.TB, name string) inflation.Tire {
	return inflation.Tire{Name: name, Size: "ax240/75 r20", LoadRange: "F", Table: invented(t),
		Single: inflation.Rating{Load: 3640 * lb, Pressure: 95 * psi}, Dual: inflation.Rating{Load: 3415 * lb, Pressure: 95 * psi}}
}

var goodWheel = inflation.Wheel{Name: "wheel", MaxLoad: 4000 * lb, MaxPressure: 110 * psi}

func TestSetAxle(t *testing.T) {
	tire := listed(t, "tire")
	other := func(name string, change func(*inflation.Tire)) inflation.Tire {
		x := listed(t, name)
		change(&x)
		return x
	}
	noTable := other("tire", func(x *inflation.Tire) { x.Table, x.Class, x.Size = nil, inflation.Truck, "" })
	passenger := other("tire", func(x *inflation.Tire) {
		*x = inflation.Tire{Name: "tire", Size: "P225/75R15", Single: inflation.Rating{Load: 1760 * lb}, MaxPressure: 44 * psi}
	})
	trailer := inflation.Tire{Name: "tire", Size: "ST205/75D15", Single: inflation.Rating{Load: 1820 * lb, Pressure: 50 * psi}}
	const single, dual = weight.Single, weight.Dual
	in := func(change func(*inflation.AxleInput)) inflation.AxleInput {
		x := inflation.AxleInput{Name: "drive", Fitment: single, Weighed: ends(weighed(3100, 0), weighed(2900, 0)), Tires: []inflation.Tire{tire},
			Wheels: []inflation.Wheel{goodWheel}, Placard: 90 * psi, AsDriven: true}
		change(&x)
		return x
	}
	tests := []struct {
		name                string
		in                  inflation.AxleInput
		outcome             inflation.Outcome
		set, minimum, plain inflation.Pressure
		side                weight.Side
		grounds             string
		cautions            string
		short               string
	}{
		{"the heavier end governs", in(func(x *inflation.AxleInput) {}),
			inflation.CanSet, 75 * psi, 75 * psi, 75 * psi, weight.Left, "ends weighed, table", "this-load-only below-placard", ""},
		{"the right end heavier", in(func(x *inflation.AxleInput) { x.Weighed = ends(weighed(2900, 0), weighed(3100, 0)) }),
			inflation.CanSet, 75 * psi, 75 * psi, 75 * psi, weight.Right, "ends weighed, table", "this-load-only below-placard", ""},
		{"both alike", in(func(x *inflation.AxleInput) { x.Weighed = ends(weighed(3100, 0), weighed(3100, 0)) }),
			inflation.CanSet, 75 * psi, 75 * psi, 75 * psi, 0, "ends weighed, table", "this-load-only below-placard", ""},
		{"plus/minus changes the row", in(func(x *inflation.AxleInput) { x.Weighed = ends(weighed(3100, 40), weighed(2900, 40)) }),
			inflation.CanSet, 80 * psi, 80 * psi, 75 * psi, weight.Left, "ends weighed, table", "this-load-only plus-minus below-placard", ""},
		{"plus/minus does not change the row", in(func(x *inflation.AxleInput) { x.Weighed = ends(weighed(3100, 20), weighed(2900, 20)) }),
			inflation.CanSet, 75 * psi, 75 * psi, 75 * psi, weight.Left, "ends weighed, table", "this-load-only below-placard", ""},
		{"the lighter end's larger plus/minus governs", in(func(x *inflation.AxleInput) { x.Weighed = ends(weighed(3100, 0), weighed(3000, 200)) }),
			inflation.CanSet, 80 * psi, 80 * psi, 75 * psi, weight.Right, "ends weighed, table", "this-load-only plus-minus below-placard", ""},
		{"dual: half of the end on each tire", in(func(x *inflation.AxleInput) {
			x.Fitment, x.Weighed = dual, ends(weighed(5850, 0), weighed(5851, 0))
		}), inflation.CanSet, 80 * psi, 80 * psi, 80 * psi, weight.Right, "ends weighed, table", "this-load-only below-placard", ""},
		{"dual: exactly a row", in(func(x *inflation.AxleInput) { x.Fitment, x.Weighed = dual, ends(weighed(5850, 0), weighed(5000, 0)) }),
			inflation.CanSet, 75 * psi, 75 * psi, 75 * psi, weight.Left, "ends weighed, table", "this-load-only below-placard", ""},
		{"interpolated to the gauge's step", in(func(x *inflation.AxleInput) {
			x.Weighed = ends(weighed(3300, 0), weighed(2900, 0))
			x.Method, x.Step = inflation.Interpolated, 2*psi
		}), inflation.CanSet, 82 * psi, 82 * psi, 82 * psi, weight.Left, "ends weighed, table", "this-load-only below-placard", ""},
		{"interpolated, and a step further", in(func(x *inflation.AxleInput) {
			x.Weighed = ends(weighed(3270, 0), weighed(2900, 0)) // 80.74 psi
			x.Method, x.Step = inflation.Interpolated, 2*psi
		}), inflation.CanSet, 82 * psi, 82 * psi, 82 * psi, weight.Left, "ends weighed, table", "this-load-only below-placard", ""},
		{"a placard at the cap", in(func(x *inflation.AxleInput) { x.Placard = 95 * psi }),
			inflation.CanSet, 75 * psi, 75 * psi, 75 * psi, weight.Left, "ends weighed, table", "this-load-only below-placard", ""},
		{"a placard above the cap", in(func(x *inflation.AxleInput) { x.Placard = 96 * psi }),
			inflation.CanSet, 75 * psi, 75 * psi, 75 * psi, weight.Left, "ends weighed, table", "this-load-only placard-above-cap", ""},
		{"above the placard", in(func(x *inflation.AxleInput) { x.Placard = 70 * psi }),
			inflation.CanSet, 75 * psi, 75 * psi, 75 * psi, weight.Left, "ends weighed, table", "this-load-only", ""},
		{"heaviest state governs", in(func(x *inflation.AxleInput) { x.Heaviest = ends(assumed(3500), assumed(3000)) }),
			inflation.CanSet, 90 * psi, 90 * psi, 90 * psi, weight.Left, "ends weighed, table", "", ""},
		{"heaviest state of one end only", in(func(x *inflation.AxleInput) { x.Heaviest = ends(inflation.Load{}, assumed(3500)) }),
			inflation.CanSet, 90 * psi, 90 * psi, 90 * psi, weight.Right, "ends weighed, table", "this-load-only", ""},
		{"a heaviest state that is lighter", in(func(x *inflation.AxleInput) { x.Heaviest = ends(assumed(2000), assumed(2000)) }),
			inflation.CanSet, 75 * psi, 75 * psi, 75 * psi, weight.Left, "ends weighed, table", "below-placard", ""},
		{"cushion", in(func(x *inflation.AxleInput) { x.Cushion, x.Placard = 5*psi, 0 }),
			inflation.CanSet, 80 * psi, 75 * psi, 75 * psi, weight.Left, "ends weighed, table", "this-load-only", ""},
		{"cushion cut at the cap", in(func(x *inflation.AxleInput) { x.Cushion, x.Placard = 30*psi, 0 }),
			inflation.CanSet, 95 * psi, 75 * psi, 75 * psi, weight.Left, "ends weighed, table", "this-load-only cushion-cut", ""},
		{"the lower of two pressures on the sidewall is the cap", in(func(x *inflation.AxleInput) {
			x.Cushion, x.Placard = 30*psi, 0
			x.Tires = []inflation.Tire{other("tire", func(t *inflation.Tire) { t.MaxPressure = 92 * psi })}
		}), inflation.CanSet, 92 * psi, 75 * psi, 75 * psi, weight.Left, "ends weighed, table", "this-load-only cushion-cut", ""},
		{"the other way around", in(func(x *inflation.AxleInput) {
			x.Cushion, x.Placard = 30*psi, 0
			x.Tires = []inflation.Tire{other("tire", func(t *inflation.Tire) { t.MaxPressure, t.Single.Pressure = 94*psi, 91*psi })}
		}), inflation.CanSet, 91 * psi, 75 * psi, 75 * psi, weight.Left, "ends weighed, table", "this-load-only cushion-cut", ""},
		{"no cushion on a wheel not read", in(func(x *inflation.AxleInput) {
			x.Cushion, x.Placard, x.Wheels = 5*psi, 0, []inflation.Wheel{goodWheel, {Name: "inner"}}
		}), inflation.CanSet, 75 * psi, 75 * psi, 75 * psi, weight.Left, "ends weighed, table",
			"this-load-only tires-differ wheel-pressure-not-read wheel-load-not-read cushion-cut", ""},
		{"no cushion on a sidewall not read", in(func(x *inflation.AxleInput) {
			x.Cushion, x.Placard, x.Tires = 5*psi, 0, []inflation.Tire{other("tire", func(t *inflation.Tire) { t.Single = inflation.Rating{} })}
		}), inflation.CanSet, 75 * psi, 75 * psi, 75 * psi, weight.Left, "ends weighed, table",
			"this-load-only tire-pressure-not-read tire-load-not-read cushion-cut", ""},
		{"wheel's pressure is the cap between two rows, and carries it", in(func(x *inflation.AxleInput) {
			x.Weighed, x.Placard = ends(weighed(3440, 0), weighed(0, 0)), 0
			x.Wheels = []inflation.Wheel{{Name: "weak", MaxPressure: 88 * psi, MaxLoad: 4000 * lb}}
		}), inflation.CanSet, 88 * psi, 88 * psi, 88 * psi, weight.Left, "ends weighed, table", "this-load-only", ""},
		{"wheel's pressure too low", in(func(x *inflation.AxleInput) {
			x.Weighed, x.Placard = ends(weighed(3500, 0), weighed(3480, 0)), 0
			x.Wheels = []inflation.Wheel{{Name: "weak", MaxPressure: 88 * psi, MaxLoad: 4000 * lb}}
		}), inflation.Short, 0, 0, 0, weight.Left, "ends weighed, not known", "this-load-only",
			"left wheel pressure weak: 3463 lb at 88 psi, over 37 lb; right wheel pressure weak: 3463 lb at 88 psi, over 17 lb"},
		{"wheel's pressure below all data", in(func(x *inflation.AxleInput) {
			x.Placard, x.Wheels = 0, []inflation.Wheel{{Name: "weak", MaxPressure: 60 * psi, MaxLoad: 4000 * lb}}
			x.Weighed = ends(weighed(0, 0), weighed(100, 0))
		}), inflation.TooClose, 60 * psi, 0, 0, weight.Right, "ends weighed, table", "this-load-only too-close",
			"left wheel pressure weak: 0 lb at 60 psi, over 0 lb; right wheel pressure weak: 0 lb at 60 psi, over 100 lb"},
		{"the same with nothing on the axle", in(func(x *inflation.AxleInput) {
			x.Placard, x.Wheels = 0, []inflation.Wheel{{Name: "weak", MaxPressure: 60 * psi, MaxLoad: 4000 * lb}}
			x.Weighed = ends(weighed(0, 0), weighed(0, 0))
		}), inflation.TooClose, 60 * psi, 0, 0, 0, "ends weighed, table", "this-load-only too-close",
			"left wheel pressure weak: 0 lb at 60 psi, over 0 lb; right wheel pressure weak: 0 lb at 60 psi, over 0 lb"},
		{"wheel's load too low", in(func(x *inflation.AxleInput) {
			x.Wheels, x.Placard = []inflation.Wheel{goodWheel, {Name: "weak", MaxPressure: 100 * psi, MaxLoad: 3000 * lb}}, 0
		}), inflation.Short, 0, 0, 0, weight.Left, "ends weighed, not known", "this-load-only tires-differ", "left wheel load weak: 3000 lb at 0 psi, over 100 lb"},
		{"wheel's load too close to call", in(func(x *inflation.AxleInput) {
			x.Wheels, x.Placard = []inflation.Wheel{{Name: "weak", MaxPressure: 100 * psi, MaxLoad: 3100 * lb}}, 0
			x.Weighed = ends(weighed(3100, 40), weighed(2900, 40))
		}), inflation.TooClose, 80 * psi, 80 * psi, 75 * psi, weight.Left, "ends weighed, table", "this-load-only plus-minus too-close", "left wheel load weak: 3100 lb at 0 psi, over 40 lb"},
		{"tire too close to call", in(func(x *inflation.AxleInput) { x.Weighed = ends(weighed(3640, 40), weighed(2900, 40)) }),
			inflation.TooClose, 95 * psi, 0, 95 * psi, weight.Left, "ends weighed, table", "this-load-only plus-minus too-close",
			"left tire rating tire: 3640 lb at 95 psi, over 40 lb; left tire pressure tire: 3640 lb at 95 psi, over 40 lb"},
		{"tire over as read, but not surely", in(func(x *inflation.AxleInput) { x.Weighed = ends(weighed(3680, 40), weighed(2900, 40)) }),
			inflation.Short, 0, 0, 0, weight.Left, "ends weighed, not known", "this-load-only",
			"left tire rating tire: 3640 lb at 95 psi, over 80 lb; left tire pressure tire: 3640 lb at 95 psi, over 80 lb"},
		{"tire surely over", in(func(x *inflation.AxleInput) { x.Weighed = ends(weighed(3681, 40), weighed(2900, 40)) }),
			inflation.Short, 0, 0, 0, weight.Left, "ends weighed, not known", "this-load-only",
			"left tire rating tire: 3640 lb at 95 psi, over 81 lb; left tire pressure tire: 3640 lb at 95 psi, over 81 lb"},
		{"surely over in one state, and perhaps over by more in the other", in(func(x *inflation.AxleInput) {
			x.Weighed, x.Heaviest = ends(weighed(3660, 0), weighed(2900, 40)), ends(weighed(3680, 60), weighed(2900, 40))
		}), inflation.Short, 0, 0, 0, weight.Left, "ends weighed, not known", "",
			"left tire rating tire: 3640 lb at 95 psi, over 100 lb; left tire pressure tire: 3640 lb at 95 psi, over 100 lb"},
		{"a stamped rating below the table's", in(func(x *inflation.AxleInput) {
			x.Weighed = ends(weighed(3200, 0), weighed(2900, 0))
			x.Tires = []inflation.Tire{other("old", func(t *inflation.Tire) { t.Single.Load = 3000 * lb })}
		}), inflation.Short, 0, 0, 0, weight.Left, "ends weighed, not known", "this-load-only",
			"left tire rating old: 3000 lb at 95 psi, over 200 lb; left tire pressure old: 3000 lb at 95 psi, over 200 lb"},
		{"tires differ: highest need, weakest cap", in(func(x *inflation.AxleInput) {
			x.Tires = []inflation.Tire{tire, other("odd", func(t *inflation.Tire) {
				t.Table, t.Class, t.Size = nil, inflation.LightTruck, ""
				t.Single = inflation.Rating{Load: 3300 * lb, Pressure: 90 * psi}
			})}
			x.Placard, x.PlacardNone = 0, true
			// 90 x 1.05 x 3,100/3,300 = 88.8: the estimate of the odd tire
		}), inflation.CanSet, 90 * psi, 90 * psi, 90 * psi, weight.Left, "ends weighed, estimate", "this-load-only estimated tires-differ", ""},
		{"estimate", in(func(x *inflation.AxleInput) { x.Tires, x.Placard, x.PlacardNone = []inflation.Tire{noTable}, 0, true }),
			// 95 x 1.05 x 3,100/3,640 = 84.95
			inflation.CanSet, 85 * psi, 85 * psi, 85 * psi, weight.Left, "ends weighed, estimate", "this-load-only estimated", ""},
		{"estimate at its floor", in(func(x *inflation.AxleInput) {
			x.Placard, x.PlacardNone = 0, true
			x.Tires, x.Weighed = []inflation.Tire{noTable}, ends(weighed(1000, 0), weighed(900, 0))
		}), inflation.CanSet, 80 * psi, 80 * psi, 80 * psi, weight.Left, "ends weighed, estimate", "this-load-only estimated no-table-floor", ""},
		{"estimate for duals without a dual stamp: placard", in(func(x *inflation.AxleInput) {
			no := noTable
			no.Dual = inflation.Rating{}
			x.Tires, x.Fitment = []inflation.Tire{no}, dual
		}), inflation.CanSet, 90 * psi, 0, 0, weight.Left, "ends weighed, placard", "this-load-only tire-pressure-not-read tire-load-not-read", ""},
		{"axle total: 55 % on one end, not below the placard", in(func(x *inflation.AxleInput) { x.Weighed = inflation.AxleLoad{Total: weighed(5000, 0)} }),
			inflation.CanSet, 90 * psi, 65 * psi, 65 * psi, 0, "55 % of the axle assumed on one end, placard", "this-load-only share-assumed", ""},
		// Common practice: on one 6,400 lb axle a 50/50 split and a 55/45 one
		// are rows apart: 3,200 and 3,520 lb.
		{"axle total above the placard", in(func(x *inflation.AxleInput) { x.Weighed = inflation.AxleLoad{Total: weighed(6400, 0)} }),
			inflation.CanSet, 95 * psi, 95 * psi, 95 * psi, 0, "55 % of the axle assumed on one end, table", "this-load-only share-assumed", ""},
		{"axle total with plus/minus", in(func(x *inflation.AxleInput) { x.Weighed = inflation.AxleLoad{Total: weighed(6380, 40)} }),
			inflation.CanSet, 95 * psi, 95 * psi, 90 * psi, 0, "55 % of the axle assumed on one end, table", "this-load-only share-assumed plus-minus", ""},
		{"axle total, no placard: sidewall within the wheel", in(func(x *inflation.AxleInput) {
			x.Weighed, x.Placard = inflation.AxleLoad{Total: weighed(5000, 0)}, 0
		}), inflation.CanSet, 95 * psi, 65 * psi, 65 * psi, 0, "55 % of the axle assumed on one end, sidewall", "this-load-only share-assumed", ""},
		{"axle total, no placard, wheel not read", in(func(x *inflation.AxleInput) {
			x.Weighed, x.Placard, x.Wheels = inflation.AxleLoad{Total: weighed(5000, 0)}, 0, nil
		}), inflation.NotJudged, 0, 65 * psi, 65 * psi, 0, "55 % of the axle assumed on one end, table",
			"this-load-only share-assumed wheel-pressure-not-read wheel-load-not-read no-data", ""},
		{"axle total that only 55 % is too much for", in(func(x *inflation.AxleInput) { x.Weighed = inflation.AxleLoad{Total: weighed(7000, 0)} }),
			inflation.TooClose, 95 * psi, 0, 0, 0, "55 % of the axle assumed on one end, table", "this-load-only share-assumed too-close",
			"not known tire rating tire: 3640 lb at 95 psi, over 210 lb; not known tire pressure tire: 3640 lb at 95 psi, over 210 lb"},
		{"axle total that is too much however it stands", in(func(x *inflation.AxleInput) { x.Weighed = inflation.AxleLoad{Total: weighed(7281, 0)} }),
			inflation.Short, 0, 0, 0, 0, "55 % of the axle assumed on one end, not known", "this-load-only share-assumed",
			"not known tire rating tire: 3640 lb at 95 psi, over 364.55 lb; not known wheel load wheel: 4000 lb at 0 psi, over 4.55 lb; not known tire pressure tire: 3640 lb at 95 psi, over 364.55 lb"},
		{"one end and the total", in(func(x *inflation.AxleInput) {
			x.Weighed = inflation.AxleLoad{Left: weighed(2800, 20), Total: weighed(5900, 20)}
		}), inflation.CanSet, 80 * psi, 80 * psi, 75 * psi, weight.Right, "ends weighed, table", "this-load-only plus-minus below-placard", ""},
		{"the other end and an assumed total", in(func(x *inflation.AxleInput) {
			x.Weighed = inflation.AxleLoad{Right: weighed(2800, 0), Total: assumed(5900)}
		}), inflation.CanSet, 90 * psi, 75 * psi, 75 * psi, weight.Left, "ends assumed, placard", "this-load-only load-assumed", ""},
		{"ends assumed: not below the placard", in(func(x *inflation.AxleInput) { x.Weighed = ends(assumed(3100), assumed(3100)) }),
			inflation.CanSet, 90 * psi, 75 * psi, 75 * psi, 0, "ends assumed, placard", "this-load-only load-assumed", ""},
		{"one end only", in(func(x *inflation.AxleInput) { x.Weighed = ends(weighed(3600, 0), inflation.Load{}) }),
			inflation.CanSet, 95 * psi, 95 * psi, 95 * psi, weight.Left, "one end only, table", "this-load-only not-weighed", ""},
		{"unweighed: the placard", in(func(x *inflation.AxleInput) { x.Weighed = inflation.AxleLoad{} }),
			inflation.CanSet, 90 * psi, 0, 0, 0, "unweighed, placard", "not-weighed", ""},
		{"unweighed, no placard: the sidewall", in(func(x *inflation.AxleInput) { x.Weighed, x.Placard = inflation.AxleLoad{}, 0 }),
			inflation.CanSet, 95 * psi, 0, 0, 0, "unweighed, sidewall", "not-weighed", ""},
		{"unweighed, no placard: within the wheel's limit", in(func(x *inflation.AxleInput) {
			x.Weighed, x.Placard, x.Wheels = inflation.AxleLoad{}, 0, []inflation.Wheel{{Name: "weak", MaxPressure: 80 * psi, MaxLoad: 4000 * lb}}
		}), inflation.CanSet, 80 * psi, 0, 0, 0, "unweighed, sidewall", "not-weighed", ""},
		{"unweighed, nothing read", in(func(x *inflation.AxleInput) {
			x.Weighed, x.Placard, x.Wheels, x.Tires = inflation.AxleLoad{}, 0, nil, []inflation.Tire{{}}
		}), inflation.NotJudged, 0, 0, 0, 0, "unweighed, not known",
			"not-weighed tire-pressure-not-read tire-load-not-read wheel-pressure-not-read wheel-load-not-read class-not-known no-data", ""},
		{"unweighed, the placard above the wheel's limit", in(func(x *inflation.AxleInput) {
			x.Weighed, x.Wheels = inflation.AxleLoad{}, []inflation.Wheel{{Name: "weak", MaxPressure: 80 * psi, MaxLoad: 4000 * lb}}
		}), inflation.CanSet, 80 * psi, 0, 0, 0, "unweighed, placard", "not-weighed placard-above-cap", ""},
		{"passenger tire without a table: placard", in(func(x *inflation.AxleInput) {
			x.Weighed, x.Placard, x.Tires = ends(weighed(1600, 0), weighed(1500, 0)), 41*psi, []inflation.Tire{passenger}
		}), inflation.CanSet, 41 * psi, 0, 0, weight.Left, "ends weighed, placard", "this-load-only derated", ""},
		{"passenger tire without a table: nothing for a cushion to go on, its wheel not read", in(func(x *inflation.AxleInput) {
			x.Weighed, x.Placard, x.Tires = ends(weighed(1600, 0), weighed(1500, 0)), 41*psi, []inflation.Tire{passenger}
			x.Cushion, x.Wheels = 5*psi, []inflation.Wheel{{Name: "wheel", MaxLoad: 4000 * lb}}
		}), inflation.CanSet, 41 * psi, 0, 0, weight.Left, "ends weighed, placard", "this-load-only wheel-pressure-not-read derated", ""},
		{"passenger tire over its derated rating", in(func(x *inflation.AxleInput) {
			x.Weighed, x.Placard, x.Tires = ends(weighed(1601, 0), weighed(1500, 0)), 41*psi, []inflation.Tire{passenger}
		}), inflation.Short, 0, 0, 0, weight.Left, "ends weighed, not known", "this-load-only derated",
			"left tire rating tire: 1600 lb at 0 psi, over 1 lb"},
		{"the same on a passenger car", in(func(x *inflation.AxleInput) {
			x.Weighed, x.Placard, x.Tires, x.OnPassengerCar = ends(weighed(1601, 0), weighed(1500, 0)), 41*psi, []inflation.Tire{passenger}, true
		}), inflation.CanSet, 41 * psi, 0, 0, weight.Left, "ends weighed, placard", "this-load-only", ""},
		{"trailer tire without a table or placard: sidewall", in(func(x *inflation.AxleInput) {
			x.Weighed, x.Placard, x.Tires = ends(weighed(1600, 0), weighed(1500, 0)), 0, []inflation.Tire{trailer}
		}), inflation.CanSet, 50 * psi, 0, 0, weight.Left, "ends weighed, sidewall", "this-load-only", ""},
		{"load range not read", in(func(x *inflation.AxleInput) {
			x.Tires = []inflation.Tire{other("tire", func(t *inflation.Tire) { t.LoadRange = "" })}
		}), inflation.CanSet, 75 * psi, 75 * psi, 75 * psi, weight.Left, "ends weighed, table", "this-load-only below-placard load-range-not-read", ""},
		{"nothing on the axle", in(func(x *inflation.AxleInput) { x.Weighed = ends(weighed(0, 0), weighed(0, 0)) }),
			inflation.CanSet, 65 * psi, 65 * psi, 65 * psi, 0, "ends weighed, table", "this-load-only below-placard", ""},
	}
	for _, tt := range tests {
		s, err := inflation.SetAxle(tt.in)
		if err != nil {
			t.Errorf("%s: %v", tt.name, err)
			continue
		}
		got := s.Grounds.Load.String() + ", " + s.Grounds.Pressure.String()
		if s.Outcome != tt.outcome || s.Set != tt.set || s.Minimum != tt.minimum || s.PlainMinimum != tt.plain || s.Governing != tt.side ||
			got != tt.grounds || codes(s.Cautions) != tt.cautions || shorts(s) != tt.short || s.Placard != tt.in.Placard {
			t.Errorf("%s:\n%s, set %s, minimum %s (%s), %s\n%s\n%s\n%s", tt.name, s.Outcome, s.Set, s.Minimum, s.PlainMinimum, s.Governing, got, codes(s.Cautions), shorts(s))
		}
		if s.Grounds.Pressure != 0 && s.Grounds.Source.Check() != nil {
			t.Errorf("%s: source %v", tt.name, s.Grounds.Source)
		}
		if s.PlusMinusMatters() != s.Cautions.Has(caution.PlusMinus) {
			t.Errorf("%s: plus/minus matters: %v", tt.name, s.PlusMinusMatters())
		}
		data, err := json.Marshal(s)
		var back inflation.Setting
		if err = errors.Join(err, json.Unmarshal(data, &back)); err != nil {
			t.Errorf("%s: %v", tt.name, err)
			continue
		}
		if again, _ := json.Marshal(back); string(again) != string(data) {
			t.Errorf("%s: JSON\n%s\nreads back as\n%s", tt.name, data, again)
		}
	}
}

func TestSetAxleDetails(t *testing.T) {
	in := inflation.AxleInput{Name: "drive", AsDriven: true, Fitment: weight.Dual, Tires: []inflation.Tire{listed(t, "inner"), listed(t, "outer")}, Wheels: []inflation.Wheel{goodWheel},
		Weighed: ends(weighed(6000, 60), weighed(5001, 60)), Heaviest: ends(weighed(5500, 0), weighed(5600, 0)),
		Ratings: []inflation.Limit{{Name: "half GAWR", Load: 6500 * lb}, {Name: "not read"}}, Placard: 95 * psi}
	s, err := inflation.SetAxle(in)
	if err != nil {
		t.Fatal(err)
	}
	// 6,060 / 2 = 3,030 on each: the 80 psi row; the right end's heaviest is 5,600.
	if s.Set != 80*psi || s.TireLoad != 3030*lb || s.Tire != "inner" || s.HeaviestGoverns || s.Governing != weight.Left || s.Name != "drive" || s.Fitment != weight.Dual ||
		s.LookUp.Upper != (inflation.Row{Pressure: 80 * psi, Load: 3050 * lb}) || s.LookUp.Lower.Load != 2925*lb || s.Grounds.Table != "Invented table AX240/75R20" {
		t.Errorf("%+v", s)
	}
	if want := (inflation.EndRoom{Load: weighed(6000, 60), Capacity: 6100 * lb, Room: 40 * lb, Known: true, RatingRoom: 440 * lb}); s.Left != want {
		t.Errorf("left %+v, want %+v", s.Left, want)
	}
	if want := (inflation.EndRoom{Load: weighed(5600, 0), Capacity: 6100 * lb, Room: 500 * lb, Known: true, RatingRoom: 900 * lb}); s.Right != want {
		t.Errorf("right %+v, want %+v", s.Right, want)
	}
	if want := (inflation.Limit{Part: inflation.OtherRating, Name: "half GAWR", Load: 6500 * lb}); s.Lowest != want {
		t.Errorf("lowest %+v", s.Lowest)
	}
	if want := (inflation.Limit{Part: inflation.TirePressure, Name: "inner", Pressure: 95 * psi}); s.Cap != want || s.Capped {
		t.Errorf("cap %+v %v", s.Cap, s.Capped)
	}
	in.Ratings, in.Wheels = nil, []inflation.Wheel{{Name: "weak", MaxLoad: 3200 * lb, MaxPressure: 85 * psi}}
	if s, _ = inflation.SetAxle(in); s.Lowest != (inflation.Limit{Part: inflation.WheelLoad, Name: "weak", Load: 6400 * lb}) || s.Cap.Part != inflation.WheelPressure {
		t.Errorf("lowest %+v, cap %+v", s.Lowest, s.Cap)
	}
	// The heaviest state governs.
	in.Heaviest.Left = weighed(6200, 0)
	if s, _ = inflation.SetAxle(in); !s.HeaviestGoverns || s.TireLoad != 3100*lb || s.Left.Load.Load != 6200*lb {
		t.Errorf("%+v", s)
	}
	// A wheel that carries less than the tires limits the room at the pressure.
	in.Weighed, in.Heaviest, in.Wheels = ends(weighed(5000, 0), weighed(5000, 0)), inflation.AxleLoad{}, []inflation.Wheel{{Name: "weak", MaxLoad: 2600 * lb, MaxPressure: 110 * psi}}
	if s, _ = inflation.SetAxle(in); s.Left.Capacity != 5200*lb || s.Left.Room != 200*lb {
		t.Errorf("%+v", s.Left)
	}
	// An odd load on a pair goes up to the grid on each tire.
	in.Weighed.Left.Load, in.Wheels = 5000*lb+lb/100, nil
	if s, _ = inflation.SetAxle(in); s.TireLoad != 2500*lb+lb/100 {
		t.Errorf("tire load %s", s.TireLoad)
	}
	// Metric: 2,270.5 kg on the pair, steps of 10 kPa.
	two := inflation.Tire{Name: "tire", LoadRange: "E", Table: pairs(t)}
	in = inflation.AxleInput{Fitment: weight.Dual, AsDriven: true, System: weight.Metric, Tires: []inflation.Tire{two}, Method: inflation.Interpolated,
		Weighed: ends(inflation.Load{Load: 22705 * kg / 10, State: inflation.Weighed}, inflation.Load{State: inflation.Weighed})}
	// (1,135.25 - 1,095) / (1,170 - 1,095) x 50 + 500 = 526.8
	if s, err = inflation.SetAxle(in); err != nil || s.Set != 530*kPa || s.TireLoad != 113525*kg/100 {
		t.Errorf("metric: %s for %s, %v", s.Set, s.TireLoad, err)
	}
	// A trailer tire's room: its rating at the stamped pressure.
	in = inflation.AxleInput{Fitment: weight.Single, Tires: []inflation.Tire{{Size: "ST205/75D15", Single: inflation.Rating{Load: 1820 * lb, Pressure: 50 * psi}}},
		Wheels: []inflation.Wheel{goodWheel}, Weighed: ends(weighed(1600, 0), weighed(1500, 0))}
	if s, _ = inflation.SetAxle(in); !s.Left.Known || s.Left.Room != 220*lb {
		t.Errorf("trailer %+v", s.Left)
	}
	if in.Placard = 45 * psi; in.Placard > 0 {
		if s, _ = inflation.SetAxle(in); s.Set != 45*psi || s.Left.Known || s.Left.Capacity != 0 || s.Left.RatingRoom != 220*lb {
			t.Errorf("trailer at its placard %s %+v", s.Set, s.Left)
		}
	}
}

func TestSetAxleRefuses(t *testing.T) {
	good := inflation.AxleInput{Name: "drive", Fitment: weight.Single, Tires: []inflation.Tire{listed(t, "tire")}, Weighed: ends(weighed(3000, 0), weighed(3000, 0))}
	tests := []struct {
		name   string
		change func(*inflation.AxleInput)
		want   error
	}{
		{"fitment", func(x *inflation.AxleInput) { x.Fitment = 0 }, inflation.ErrFitment},
		{"no tire", func(x *inflation.AxleInput) { x.Tires = nil }, inflation.ErrInput},
		{"negative placard", func(x *inflation.AxleInput) { x.Placard = -1 }, inflation.ErrInput},
		{"negative step", func(x *inflation.AxleInput) { x.Step = -1 }, inflation.ErrInput},
		{"negative cushion", func(x *inflation.AxleInput) { x.Cushion = -1 }, inflation.ErrInput},
		{"huge cushion", func(x *inflation.AxleInput) { x.Cushion = 1 << 62 }, inflation.ErrInput},
		{"negative load", func(x *inflation.AxleInput) { x.Weighed.Left.Load = -1 }, inflation.ErrInput},
		{"negative plus/minus", func(x *inflation.AxleInput) { x.Heaviest.Total = weighed(1, -1) }, inflation.ErrInput},
		{"huge load", func(x *inflation.AxleInput) { x.Weighed.Right.Load = 1 << 62 }, inflation.ErrInput},
		{"huge plus/minus", func(x *inflation.AxleInput) { x.Weighed.Right.PlusMinus = 1 << 62 }, inflation.ErrInput},
		{"negative wheel", func(x *inflation.AxleInput) { x.Wheels = []inflation.Wheel{{MaxLoad: -1}} }, inflation.ErrInput},
		{"negative wheel pressure", func(x *inflation.AxleInput) { x.Wheels = []inflation.Wheel{{MaxPressure: -1}} }, inflation.ErrInput},
		{"negative rating", func(x *inflation.AxleInput) { x.Ratings = []inflation.Limit{{Load: -1}} }, inflation.ErrInput},
		{"negative stamp", func(x *inflation.AxleInput) { x.Tires[0].Dual.Load = -1 }, inflation.ErrInput},
		{"negative pressure", func(x *inflation.AxleInput) { x.Tires[0].MaxPressure = -1 }, inflation.ErrInput},
		{"negative lowest permitted", func(x *inflation.AxleInput) { x.Tires[0].LowestPermitted = -1 }, inflation.ErrInput},
		{"another size's table", func(x *inflation.AxleInput) { x.Tires[0].Size = "LT225/75R16" }, inflation.ErrInput},
		{"another class's table", func(x *inflation.AxleInput) { x.Tires[0].Class = inflation.Passenger }, inflation.ErrInput},
		{"another load range's table", func(x *inflation.AxleInput) { x.Tires[0].LoadRange = "A" }, inflation.ErrLoadRange},
		{"a table without the fitment", func(x *inflation.AxleInput) {
			x.Fitment, x.Tires[0] = weight.Dual, inflation.Tire{Table: jatmaTable(t)}
		}, inflation.ErrFitment},
	}
	for _, tt := range tests {
		in := good
		in.Tires = slices.Clone(good.Tires)
		tt.change(&in)
		if s, err := inflation.SetAxle(in); !errors.Is(err, tt.want) || s.Outcome != 0 {
			t.Errorf("%s: %+v, %v; want %v", tt.name, s, err, tt.want)
		}
	}
	// A load that is not known may hold anything.
	good.Heaviest.Left = inflation.Load{Load: -5}
	if _, err := inflation.SetAxle(good); err != nil {
		t.Error(err)
	}
}

// TestSetAxleIsSafe: on random axles the pressure to set carries every end
// with its plus/minus on every tire, is above no cap, never below the placard
// without weighed ends, and more load never means less pressure.
func TestSetAxleIsSafe(t *testing.T) {
	r := random()
	table, two := invented(t), pairs(t)
	outcomes := map[inflation.Outcome]int{}
	for range times(20_000) {
		stamp := func() inflation.Rating {
			return inflation.Rating{Load: weight.Mass(2500+r.IntN(1500)) * lb, Pressure: inflation.Pressure(75+r.IntN(40)) * psi}
		}
		var tires []inflation.Tire
		for i := range 1 + r.IntN(3) {
			x := inflation.Tire{Name: fmt.Sprint(i), Single: stamp()}
			x.Dual = inflation.Rating{Load: x.Single.Load * 9 / 10, Pressure: x.Single.Pressure}
			switch r.IntN(4) {
			case 0:
				x.Class = []inflation.Class{inflation.LightTruck, inflation.Truck}[r.IntN(2)]
			case 1:
				x.Table, x.LoadRange = two, []inflation.LoadRange{"D", "E", ""}[r.IntN(3)]
			default:
				x.Table = table
			}
			tires = append(tires, x)
		}
		var wheels []inflation.Wheel
		for range r.IntN(3) {
			wheels = append(wheels, inflation.Wheel{MaxLoad: weight.Mass(r.IntN(3)) * 1800 * lb, MaxPressure: inflation.Pressure(r.IntN(2)*(80+r.IntN(40))) * psi})
		}
		in := inflation.AxleInput{Fitment: weight.Fitment(1 + r.IntN(2)), Tires: tires, Wheels: wheels, Method: inflation.Method(r.IntN(2)),
			Placard: inflation.Pressure(r.IntN(2)*(70+r.IntN(30))) * psi, Step: []inflation.Pressure{0, psi, 5 * psi}[r.IntN(3)], Cushion: inflation.Pressure(r.IntN(2)*5) * psi}
		in.AsDriven, in.PlacardNone = r.IntN(2) == 0, in.Placard == 0 && r.IntN(2) == 0
		in.GAWR, in.GVWR, in.Fitted = weight.Mass(r.IntN(3)*4000)*lb, weight.Mass(r.IntN(2)*14_000)*lb, inflation.Fitted(r.IntN(3))
		n := weight.Mass(in.Fitment)
		load := func() inflation.Load {
			l := weighed((500+r.IntN(3500))*int(n), r.IntN(80))
			if r.IntN(3) == 0 { // from half of the end to 70 % of it
				l.HeavierTire, l.HeavierPlusMinus = l.Load*weight.Mass(50+r.IntN(21))/100, weight.Mass(r.IntN(40))*lb
			}
			return l
		}
		switch r.IntN(4) {
		case 0:
			in.Weighed.Total = load()
			in.Weighed.Total.Load *= 2
		case 1:
			in.Weighed.Left = load()
		default:
			in.Weighed = ends(load(), load())
		}
		s, err := inflation.SetAxle(in)
		if err != nil {
			t.Fatalf("%+v: %v", in, err)
		}
		outcomes[s.Outcome]++
		// Each tire and wheel once more, beside its like, changes nothing.
		twice := in
		twice.Tires, twice.Wheels = doubled(tires), doubled(wheels)
		if again, err := inflation.SetAxle(twice); err != nil || !reflect.DeepEqual(again, s) {
			t.Fatalf("%+v\n%+v\ndoubled\n%+v, %v", in, s, again, err)
		}
		if s.Outcome != inflation.CanSet {
			if (s.Set == 0) != (s.Outcome != inflation.TooClose) || (len(s.Short) > 0) != (s.Outcome == inflation.Short || s.Cautions.Has(caution.TooClose)) {
				t.Fatalf("%+v\n%+v", in, s)
			}
			continue
		}
		// What an end would carry if both its tires carried as much as the heavier.
		most := make([]weight.Mass, 2)
		for k, l := range []inflation.Load{in.Weighed.Left, in.Weighed.Right} {
			if most[k] = l.Load + l.PlusMinus; n > 1 {
				most[k] = max(most[k], n*(l.HeavierTire+l.HeavierPlusMinus))
			}
		}
		for _, x := range tires {
			c, err := x.Carries(s.Set, in.Fitment, inflation.Placard{}, inflation.Options{}, weight.US)
			carried := c.Low
			if c.From == inflation.FromEstimate { // the most that any law allows
				carried = c.High
			}
			if err != nil || carried*n < max(most[0], most[1]) {
				t.Fatalf("%+v\n%+v\ntire %+v carries %+v, %v", in, s, x, c, err)
			}
			if stamped, _ := x.RatedLoad(in.Fitment, false, weight.US); s.Set > x.Single.Pressure || stamped*n < max(most[0], most[1]) {
				t.Fatalf("%+v\n%+v\nabove the stamp of %+v", in, s, x)
			}
		}
		for _, w := range wheels {
			if w.MaxPressure > 0 && s.Set > w.MaxPressure || w.MaxLoad > 0 && w.MaxLoad*n < max(most[0], most[1]) {
				t.Fatalf("%+v\n%+v\nabove the stamp of %+v", in, s, w)
			}
		}
		if s.Set < s.Minimum && !s.LookUp.Estimated || s.Minimum < s.PlainMinimum || s.Set < min(in.Placard, s.Cap.Pressure) && s.Why != inflation.WhyNeed ||
			s.Why == 0 || s.Why == inflation.WhyNeed && (!in.AsDriven || s.Grounds.Load != inflation.EndsWeighed || s.Grounds.Pressure != inflation.FromTable) {
			t.Fatalf("%+v\n%+v", in, s)
		}
		for _, e := range []inflation.EndRoom{s.Left, s.Right} {
			if e.Known && (e.Room < 0 || e.RatingRoom < e.Room) {
				t.Fatalf("%+v\n%+v", in, s)
			}
		}
		in.Weighed.Left.Load += weight.Mass(r.IntN(100)) * lb
		in.Weighed.Left.HeavierTire += weight.Mass(r.IntN(100)) * lb
		if more, err := inflation.SetAxle(in); err != nil || more.Outcome == inflation.CanSet && (more.Set < s.Set || more.Minimum < s.Minimum) && in.Weighed.Left.State != 0 {
			t.Fatalf("%+v\n%+v\nwith more load\n%+v, %v", in, s, more, err)
		}
	}
	for o := inflation.CanSet; o <= inflation.NotJudged; o++ {
		if outcomes[o] < times(100) {
			t.Errorf("%s: only %d times", o, outcomes[o])
		}
	}
}

func doubled[T any](list []T) []T {
	var out []T
	for _, x := range list {
		out = append(out, x, x)
	}
	return out
}

// TestHeavierEnd: on one 6,400 lb axle a 50/50 split needs 80 psi, 55/45 needs
// 95 (common practice, of a common table; the invented one is made alike).
func TestHeavierEnd(t *testing.T) {
	in := inflation.AxleInput{Fitment: weight.Single, AsDriven: true, Tires: []inflation.Tire{listed(t, "tire")}, Weighed: ends(weighed(3200, 0), weighed(3200, 0))}
	even, err1 := inflation.SetAxle(in)
	in.Weighed = ends(weighed(3520, 0), weighed(2880, 0))
	uneven, err2 := inflation.SetAxle(in)
	if even.Set != 80*psi || uneven.Set != 95*psi || err1 != nil || err2 != nil {
		t.Errorf("%s %s %v %v", even.Set, uneven.Set, err1, err2)
	}
	// 100 gal of water over one dual axle can move the row from 70 to 80 psi:
	// 5,580 lb on each end, and 415 lb of water (8.3 lb/gal) more on each.
	in = inflation.AxleInput{Fitment: weight.Dual, AsDriven: true, Tires: []inflation.Tire{listed(t, "tire")}, Weighed: ends(weighed(5580, 0), weighed(5580, 0))}
	dry, err1 := inflation.SetAxle(in)
	in.Heaviest = ends(assumed(5580+415), assumed(5580+415))
	wet, err2 := inflation.SetAxle(in)
	if dry.Set != 70*psi || wet.Set != 80*psi || err1 != nil || err2 != nil {
		t.Errorf("%s %s %v %v", dry.Set, wet.Set, err1, err2)
	}
}

// TestHeavierDual: where each of a pair was weighed, the pressure is that for two
// of the heavier one (computed), and the axle's rating is held against the end.
func TestHeavierDual(t *testing.T) {
	t.Parallel()
	of := func(fit weight.Fitment, left inflation.Load) inflation.Setting {
		s, err := inflation.SetAxle(inflation.AxleInput{Fitment: fit, AsDriven: true, Tires: []inflation.Tire{listed(t, "tire")}, Wheels: []inflation.Wheel{goodWheel},
			Weighed: ends(left, weighed(5000, 0)), Ratings: []inflation.Limit{{Part: inflation.OtherRating, Name: "half", Load: 6200 * lb}}})
		if err != nil {
			t.Fatal(err)
		}
		return s
	}
	shared := func(load, heavier, pm int) inflation.Load {
		l := weighed(load, 0)
		l.HeavierTire, l.HeavierPlusMinus = weight.Mass(heavier)*lb, weight.Mass(pm)*lb
		return l
	}
	even, doubled, got := of(weight.Dual, weighed(6000, 0)), of(weight.Dual, weighed(6600, 0)), of(weight.Dual, shared(6000, 3280, 20))
	if got.Set != doubled.Set || got.Minimum != doubled.Minimum || got.Set <= even.Set || got.TireLoad != 3300*lb || got.Governing != weight.Left {
		t.Errorf("3,300 lb on the heavier dual: %+v, want the pressures of %+v", got, doubled)
	}
	if got.Left.RatingRoom != 200*lb || got.Left.Room != got.Left.Capacity-6600*lb || got.Left.Load != shared(6000, 3280, 20) {
		t.Errorf("rooms of the end: %+v", got.Left)
	}
	if got.PlainMinimum > got.Minimum || got.PlainMinimum < even.Minimum {
		t.Errorf("without its plus/minus %s, of %s", got.PlainMinimum, got.Minimum)
	}
	for _, x := range []struct {
		fit  weight.Fitment
		load inflation.Load
	}{{weight.Dual, shared(6000, 3000, 0)}, {weight.Dual, shared(6000, 100, 20)}, {weight.Single, shared(3000, 2900, 2000)}} {
		got, want := of(x.fit, x.load), of(x.fit, weighed(int(x.load.Load/lb), 0))
		if got.Left.Load = want.Left.Load; !reflect.DeepEqual(got, want) {
			t.Errorf("%+v: got %+v, want %+v", x, got, want)
		}
	}
	// 3,415 lb is the stamp as a dual: one that carries more fits at no pressure.
	if got := of(weight.Dual, shared(6000, 3416, 0)); got.Outcome != inflation.Short || got.Set != 0 {
		t.Errorf("over its stamp: %+v", got)
	}
	if got := of(weight.Dual, shared(6000, 3410, 20)); got.Outcome != inflation.TooClose {
		t.Errorf("perhaps over its stamp: %+v", got)
	}
	if _, err := inflation.SetAxle(inflation.AxleInput{Fitment: weight.Dual, Tires: []inflation.Tire{listed(t, "tire")}, Weighed: ends(shared(6000, -1, 0), weighed(1, 0))}); !errors.Is(err, inflation.ErrInput) {
		t.Errorf("less than nothing on a tire: %v", err)
	}
}

func TestShareOf(t *testing.T) {
	for _, tt := range []struct {
		load  weight.Mass
		basis inflation.LoadPer
		fit   weight.Fitment
		sys   weight.System
		want  string
		tire  weight.Mass
	}{
		{9400 * lb, inflation.PerEnd, weight.Dual, weight.US, "9400 lb on the end = 4700 lb on each tire", 4700 * lb},
		{9401*lb + lb/100, inflation.PerEnd, weight.Dual, weight.US, "9401.01 lb on the end = 4700.51 lb on each tire", 470051 * lb / 100},
		{4700 * lb, inflation.PerEnd, weight.Single, weight.US, "4700 lb on the end = 4700 lb on its one tire", 4700 * lb},
		{4700 * lb, inflation.PerTire, weight.Dual, weight.US, "4700 lb on each tire", 4700 * lb},
		{12800 * lb, inflation.PerAxle, weight.Dual, weight.US, "12800 lb on the axle, 55 % assumed on one end = 7040 lb = 3520 lb on each tire", 3520 * lb},
		{3001 * kg, inflation.PerAxle, weight.Single, weight.Metric, "3001 kg on the axle, 55 % assumed on one end = 1650.55 kg = 1650.55 kg on each tire", 165055 * kg / 100},
		{0, inflation.PerAxle, weight.Single, weight.US, "0 lb on the axle, 55 % assumed on one end = 0 lb = 0 lb on each tire", 0},
	} {
		s, err := inflation.ShareOf(tt.load, tt.basis, tt.fit, tt.sys)
		if err != nil || s.String() != tt.want || s.Tire != tt.tire || s.Assumed != (tt.basis == inflation.PerAxle) || s.Tire*weight.Mass(s.Tires) < s.End {
			t.Errorf("%s %s: %s, %v; want %s", tt.load, tt.basis, s, err, tt.want)
		}
	}
	for _, tt := range []struct {
		load  weight.Mass
		basis inflation.LoadPer
		fit   weight.Fitment
		want  error
	}{{lb, inflation.PerEnd, 0, inflation.ErrFitment}, {lb, 0, weight.Dual, inflation.ErrInput}, {lb, 9, weight.Dual, inflation.ErrInput},
		{-1, inflation.PerEnd, weight.Dual, inflation.ErrInput}, {math.MaxInt64, inflation.PerTire, weight.Dual, inflation.ErrInput}} {
		if s, err := inflation.ShareOf(tt.load, tt.basis, tt.fit, weight.US); !errors.Is(err, tt.want) || s != (inflation.TireShare{}) {
			t.Errorf("%+v: %+v, %v", tt, s, err)
		}
	}
	if s := (inflation.TireShare{}).String(); s != "not known" {
		t.Errorf("zero share: %s", s)
	}
}

func TestTireCapacity(t *testing.T) {
	inter := inflation.Options{Method: inflation.Interpolated, LoadRange: "ignored"}
	tire := listed(t, "tire")
	tire.Single.Load = 3300 * lb
	if got, err := tire.CapacityAt(90*psi, weight.Single, inter, weight.US); err != nil || got != 3300*lb {
		t.Errorf("stamped below the table: %s, %v", got, err)
	}
	if got, err := tire.CapacityAt(80*psi, weight.Single, inter, weight.US); err != nil || got != 3250*lb {
		t.Errorf("table below the stamp: %s, %v", got, err)
	}
	if _, err := tire.CapacityAt(60*psi, weight.Single, inter, weight.US); !errors.Is(err, inflation.ErrBelowFirstRow) || !strings.HasPrefix(err.Error(), `tire "tire" at 60 psi: `) {
		t.Errorf("below the table: %v", err)
	}
	bare := inflation.Tire{Size: "LT225/75R16", Single: inflation.Rating{Load: 2680 * lb, Pressure: 80 * psi}}
	if got, err := bare.CapacityAt(60*psi, weight.Single, inter, weight.US); err != nil || got != 2010*lb {
		t.Errorf("estimate: %s, %v", got, err)
	}
	if _, err := bare.CapacityAt(60*psi, weight.Dual, inter, weight.US); !errors.Is(err, inflation.ErrNoEstimate) {
		t.Errorf("no dual stamp: %v", err)
	}
	if _, err := bare.CapacityAt(60*psi, 0, inter, weight.US); !errors.Is(err, inflation.ErrFitment) {
		t.Errorf("no fitment: %v", err)
	}
	car := inflation.Tire{Size: "P225/75R15", Single: inflation.Rating{Load: 1760 * lb}}
	if got, ok := car.RatedLoad(weight.Single, false, weight.US); !ok || got != 1600*lb {
		t.Errorf("1,760 lb / 1.10: %s", got)
	}
	if got, ok := car.RatedLoad(weight.Single, true, weight.US); !ok || got != 1760*lb {
		t.Errorf("on a passenger car: %s", got)
	}
	if _, ok := car.RatedLoad(weight.Dual, false, weight.US); ok {
		t.Error("a dual rating out of nowhere")
	}
	if _, ok := car.RatedLoad(0, false, weight.US); ok {
		t.Error("a rating for no fitment")
	}
	if got, _ := (inflation.Tire{Single: inflation.Rating{Load: 1000 * kg}}).RatedLoad(weight.Single, false, weight.Metric); got != 909_090*weight.Gram {
		t.Errorf("class not known: %s", got)
	}
	trailer := inflation.Tire{Class: inflation.Trailer, Single: inflation.Rating{Load: 1820 * lb, Pressure: 50 * psi}}
	if got, err := trailer.CapacityAt(50*psi, weight.Single, inter, weight.US); err != nil || got != 1820*lb {
		t.Errorf("trailer: %s, %v", got, err)
	}
	if got, err := trailer.CapacityAt(50*psi-1, weight.Single, inter, weight.US); !errors.Is(err, inflation.ErrBelowFirstRow) || got != 0 {
		t.Errorf("trailer below its stamp: %s, %v", got, err)
	}
}

func TestCautionsOfLookups(t *testing.T) {
	share, err := inflation.ShareOf(6000*lb, inflation.PerAxle, weight.Single, weight.US)
	if err != nil {
		t.Fatal(err)
	}
	always := "this-load-only "
	for _, tt := range []struct {
		name  string
		table *inflation.Table
		a     inflation.LookUp
		opt   inflation.Options
		want  string
	}{
		{"table", invented(t), inflation.LookUp{}, inflation.Options{LoadRange: "F"}, "share-assumed tire-pressure-not-read tire-load-not-read wheel-pressure-not-read wheel-load-not-read"},
		{"no load range", pairs(t), inflation.LookUp{}, inflation.Options{}, "share-assumed tire-pressure-not-read tire-load-not-read wheel-pressure-not-read wheel-load-not-read load-range-not-read"},
		{"passenger", jatmaTable(t), inflation.LookUp{}, inflation.Options{}, "share-assumed tire-pressure-not-read tire-load-not-read wheel-pressure-not-read wheel-load-not-read derated"},
		{"estimate", nil, inflation.LookUp{}, inflation.Options{}, "share-assumed estimated wheel-pressure-not-read wheel-load-not-read"},
		{"estimate at its floor", nil, inflation.LookUp{AtFloor: true}, inflation.Options{}, "share-assumed estimated no-table-floor wheel-pressure-not-read wheel-load-not-read"},
	} {
		if got := codes(tt.a.Cautions(share, tt.table, tt.opt)); got != always+tt.want {
			t.Errorf("%s: %s", tt.name, got)
		}
	}
}
