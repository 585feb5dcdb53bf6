package inflation_test

import (
	"fmt"
	"maps"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"axleend.example/inflation"
	"axleend.example/weight"
)

func asks(s inflation.Setting) string {
	var out []string
	for what, asked := range map[string]bool{"placard": s.AskPlacard, "tire": s.AskTirePressure, "wheel": s.AskWheelPressure} {
		if asked {
			out = append(out, what)
		}
	}
	slices.Sort(out)
	return strings.Join(out, " ")
}

// TestWhy: every way to a pressure, by its type. The laws between pressure and
// load are those of TestNeedHoldsEveryLaw; a placard's pressure carries half the
// GAWR (49 CFR 571.120 S5.3.1); the rest is common practice.
func TestWhy(t *testing.T) {
	tire := listed(t, "tire") // 75 psi carry 3,120 lb single, 95 psi 3,640 lb
	stamped := tire           // 80 psi carry 3,065.26 to 3,340.28 lb by the laws; 85 psi is the estimate for 3,100 lb
	stamped.Table, stamped.Class, stamped.Size = nil, inflation.Truck, ""
	base := inflation.AxleInput{Fitment: weight.Single, Weighed: ends(weighed(3100, 0), weighed(2900, 0)), Tires: []inflation.Tire{tire},
		Wheels: []inflation.Wheel{goodWheel}, Placard: 90 * psi, AsDriven: true, GAWR: 7000 * lb, GVWR: 16_000 * lb}
	est := base
	est.Tires, est.Placard = []inflation.Tire{stamped}, 80*psi
	in := func(x inflation.AxleInput, change func(*inflation.AxleInput)) inflation.AxleInput {
		change(&x)
		return x
	}
	for _, x := range []struct {
		name  string
		in    inflation.AxleInput
		set   inflation.Pressure
		why   inflation.Why
		asks  string
		least inflation.Pressure // Minimum
	}{
		{"table, ends weighed as driven: below the placard", base, 75 * psi, inflation.WhyNeed, "", 75 * psi},
		{"not said to be as driven", in(base, func(x *inflation.AxleInput) { x.AsDriven = false }), 90 * psi, inflation.WhyPlacard, "", 75 * psi},
		{"as driven, and more than was read", in(base, func(x *inflation.AxleInput) { x.Weighed.Left.OpenAbove = true }), 90 * psi, inflation.WhyPlacard, "", 75 * psi},
		{"what was missing is in the plan", in(base, func(x *inflation.AxleInput) {
			x.Weighed.Left.OpenAbove, x.Heaviest = true, ends(assumed(3200), assumed(2900))
		}), 80 * psi, inflation.WhyNeed, "", 80 * psi},
		{"the need by table above the placard", in(base, func(x *inflation.AxleInput) { x.AsDriven, x.Placard = false, 70*psi }), 75 * psi, inflation.WhyNeedAbovePlacard, "", 75 * psi},
		{"placard not read, with a table", in(base, func(x *inflation.AxleInput) { x.AsDriven, x.Placard = false, 0 }), 95 * psi, inflation.WhyUntilPlacardRead,
			"placard", 75 * psi},
		{"placard not read, within the wheel's limit", in(base, func(x *inflation.AxleInput) {
			x.AsDriven, x.Placard, x.Wheels = false, 0, []inflation.Wheel{{MaxLoad: 4000 * lb, MaxPressure: 88 * psi}}
		}), 88 * psi, inflation.WhyUntilPlacardRead, "placard", 75 * psi},
		{"placard not read, nor the wheel's pressure", in(base, func(x *inflation.AxleInput) { x.AsDriven, x.Placard, x.Wheels = false, 0, nil }), 0, 0,
			"placard wheel", 75 * psi},
		{"placard not read, nor a stamp", in(base, func(x *inflation.AxleInput) {
			x.AsDriven, x.Placard = false, 0
			x.Tires = []inflation.Tire{{Table: tire.Table, LoadRange: "F"}}
		}), 0, 0, "placard tire", 75 * psi},
		{"placard not read, and not needed", in(base, func(x *inflation.AxleInput) { x.Placard = 0 }), 75 * psi, inflation.WhyNeed, "", 75 * psi},
		{"no placard: the need alone", in(base, func(x *inflation.AxleInput) { x.AsDriven, x.Placard, x.PlacardNone = false, 0, true }), 75 * psi, inflation.WhyNoPlacard, "", 75 * psi},
		{"no placard, not weighed", in(base, func(x *inflation.AxleInput) {
			x.Placard, x.PlacardNone, x.Weighed = 0, true, inflation.AxleLoad{}
		}), 95 * psi, inflation.WhyNoPlacardNoNeed, "", 0},
		{"no placard, and only one end weighed: the other may be heavier", in(base, func(x *inflation.AxleInput) {
			x.Placard, x.PlacardNone, x.Weighed = 0, true, ends(weighed(3100, 0), inflation.Load{})
		}), 95 * psi, inflation.WhyNoPlacardNoNeed, "", 75 * psi},
		{"no placard: the estimate alone", in(est, func(x *inflation.AxleInput) { x.Placard, x.PlacardNone = 0, true }), 85 * psi, inflation.WhyNoPlacard, "", 85 * psi},
		{"an estimate is never below the placard", in(est, func(x *inflation.AxleInput) { x.Placard = 90 * psi }), 90 * psi, inflation.WhyPlacard, "", 85 * psi},
		{"an estimate above the placard is not sure enough", est, 80 * psi, inflation.WhyPlacard, "", 85 * psi},
		{"an end over half the GAWR", in(est, func(x *inflation.AxleInput) { x.GAWR = 6000 * lb }), 85 * psi, inflation.WhyOverHalfGAWR, "", 85 * psi},
		{"half the GAWR exactly", in(est, func(x *inflation.AxleInput) { x.GAWR = 6200 * lb }), 80 * psi, inflation.WhyPlacard, "", 85 * psi},
		{"the GAWR not read", in(est, func(x *inflation.AxleInput) { x.GAWR = 0 }), 85 * psi, inflation.WhyGAWRNotRead, "", 85 * psi},
		{"weaker tires than the placard's", in(est, func(x *inflation.AxleInput) { x.Fitted = inflation.WeakerThanPlacard }), 85 * psi, inflation.WhyWeakerTires, "", 85 * psi},
		{"no accepted law carries it at the placard", in(est, func(x *inflation.AxleInput) { x.Weighed.Left = weighed(3341, 0) }), 95 * psi, inflation.WhyLawsFallShort, "", 95 * psi},
		{"some law carries it at the placard", in(est, func(x *inflation.AxleInput) { x.Weighed.Left = weighed(3340, 0) }), 80 * psi, inflation.WhyPlacard, "", 95 * psi},
		{"only the axle: GAWR and tires say nothing of an end", in(est, func(x *inflation.AxleInput) {
			x.GAWR, x.Weighed = 0, inflation.AxleLoad{Total: weighed(6000, 0)}
		}), 80 * psi, inflation.WhyPlacard, "", 95 * psi},
		{"only the axle: 55 % that no law carries", in(est, func(x *inflation.AxleInput) { x.Weighed = inflation.AxleLoad{Total: weighed(6100, 0)} }), 95 * psi, inflation.WhyLawsFallShort, "", 95 * psi},
		{"class not read: raises as a truck tire's", in(est, func(x *inflation.AxleInput) {
			x.GAWR, x.Tires = 0, []inflation.Tire{{Single: stamped.Single}}
			x.Weighed = ends(weighed(3100, 0), weighed(2900, 0))
		}), 85 * psi, inflation.WhyGAWRNotRead, "", 0},
		{"class not read, no placard: an estimate clears nothing", in(est, func(x *inflation.AxleInput) {
			x.Placard, x.PlacardNone, x.Tires = 0, true, []inflation.Tire{{Single: stamped.Single}}
		}), 95 * psi, inflation.WhyNoPlacardNoNeed, "", 0},
		{"a placard above what the wheel allows is capped", in(est, func(x *inflation.AxleInput) {
			x.Wheels = []inflation.Wheel{{MaxLoad: 4000 * lb, MaxPressure: 78 * psi}}
		}), 78 * psi, inflation.WhyPlacard, "", 78 * psi},
	} {
		s, err := inflation.SetAxle(x.in)
		if err != nil || s.Set != x.set || s.Why != x.why || asks(s) != x.asks || s.Minimum != x.least {
			t.Errorf("%s: set %s, %s, asks %q, least %s, %v\nwant %s, %s, %q, %s", x.name, s.Set, s.Why, asks(s), s.Minimum, err, x.set, x.why, x.asks, x.least)
		}
		if (s.Set == 0) != (s.Outcome == inflation.NotJudged) {
			t.Errorf("%s: %s with %s", x.name, s.Outcome, s.Set)
		}
	}
	both := base
	both.PlacardNone = true
	if _, err := inflation.SetAxle(both); err == nil {
		t.Error("a placard of 90 psi, and none")
	}
}

// TestShortSaysWhich: what keeps an axle from its load is named, and only where
// it is a wheel's pressure alone would more air do.
func TestShortSaysWhich(t *testing.T) {
	tire := listed(t, "tire")
	stamped := tire
	stamped.Table, stamped.Class, stamped.Size = nil, inflation.Truck, ""
	wheel := func(load, pressure int) inflation.Wheel {
		return inflation.Wheel{Name: "wheel", MaxLoad: weight.Mass(load) * lb, MaxPressure: inflation.Pressure(pressure) * psi}
	}
	for _, x := range []struct {
		name    string
		tire    inflation.Tire
		wheel   inflation.Wheel
		load    inflation.Load
		outcome inflation.Outcome
		parts   []inflation.Part
		forbids bool
	}{
		{"tire", tire, wheel(4000, 110), weighed(3700, 0), inflation.Short, []inflation.Part{inflation.TireRating, inflation.TirePressure}, false},
		{"wheel's load", tire, wheel(3000, 110), weighed(3100, 0), inflation.Short, []inflation.Part{inflation.WheelLoad}, false},
		{"wheel's pressure: 80 psi carry 3,250 lb", tire, wheel(4000, 80), weighed(3300, 0), inflation.Short, []inflation.Part{inflation.WheelPressure}, true},
		{"wheel's pressure and load", tire, wheel(3000, 80), weighed(3300, 0), inflation.Short, []inflation.Part{inflation.WheelLoad, inflation.WheelPressure}, false},
		// 3,640 x 80/95 = 3,065.26, x sqrt(80/95) = 3,340.28: computed
		{"wheel's pressure, by every law", stamped, wheel(4000, 80), weighed(3341, 0), inflation.Short, []inflation.Part{inflation.WheelPressure}, true},
		{"by every law with its plus/minus", stamped, wheel(4000, 80), weighed(3330, 20), inflation.TooClose, []inflation.Part{inflation.WheelPressure}, true},
		{"not by every law: at the placard", stamped, wheel(4000, 80), weighed(3340, 0), inflation.CanSet, nil, false},
	} {
		in := inflation.AxleInput{Fitment: weight.Single, Tires: []inflation.Tire{x.tire}, Wheels: []inflation.Wheel{x.wheel}, Placard: 80 * psi, AsDriven: true,
			GAWR: 7000 * lb, Weighed: ends(x.load, weighed(2000, 0))}
		s, err := inflation.SetAxle(in)
		var parts []inflation.Part
		for _, short := range s.Short {
			parts = append(parts, short.Limit.Part)
		}
		if err != nil || s.Outcome != x.outcome || !slices.Equal(parts, x.parts) || s.WheelForbids() != x.forbids {
			t.Errorf("%s: %s %v, wheel forbids %v, %v; want %s %v, %v", x.name, s.Outcome, parts, s.WheelForbids(), err, x.outcome, x.parts, x.forbids)
		}
	}
	// Ends weighed, the GAWR not read: the estimate of 95 psi is asked for, and a
	// wheel allows 90: nobody knows whether that carries it.
	in := inflation.AxleInput{Fitment: weight.Single, Tires: []inflation.Tire{stamped}, Wheels: []inflation.Wheel{wheel(4000, 90)}, Placard: 80 * psi,
		Weighed: ends(weighed(3340, 0), weighed(2000, 0))}
	right := in
	right.Weighed = ends(weighed(2000, 0), weighed(3340, 0))
	if s, err := inflation.SetAxle(right); err != nil || len(s.Short) != 1 || s.Short[0].Side != weight.Right || s.Short[0].Limit.Pressure != 90*psi {
		t.Errorf("%+v, %v", s.Short, err)
	}
	both := in
	both.Weighed = ends(weighed(3340, 0), weighed(3340, 0))
	if s, err := inflation.SetAxle(both); err != nil || len(s.Short) != 2 || s.Short[0].Side != weight.Left || s.Short[1].Side != weight.Right {
		t.Errorf("both ends alike: %+v, %v", s.Short, err)
	}
	if s, err := inflation.SetAxle(in); err != nil || s.Outcome != inflation.TooClose || s.Set != 90*psi || len(s.Short) != 1 || s.Short[0].Side != weight.Left || s.Why != inflation.WhyGAWRNotRead || !s.WheelForbids() {
		t.Errorf("%+v, %v", s, err)
	}
}

// TestNeedOfAnAxle: the need beside the pressure to set is from half of an axle
// weighed as a whole to 55 % of it (common practice), of ends their heavier one's,
// and of no cap.
func TestNeedOfAnAxle(t *testing.T) {
	tire := listed(t, "tire") // 70 psi carry 2,980 lb, 80 psi 3,250 lb, 90 psi 3,515 lb
	low := goodWheel
	low.MaxPressure = 80 * psi
	for _, x := range []struct {
		name  string
		load  inflation.AxleLoad
		wheel inflation.Wheel
		want  inflation.Need
	}{
		{"the axle", inflation.AxleLoad{Total: weighed(6200, 40)}, goodWheel, inflation.Need{Low: 75 * psi, High: 90 * psi, From: inflation.FromTable}},
		{"its ends", ends(weighed(3240, 20), weighed(2960, 20)), goodWheel, inflation.Need{Low: 85 * psi, High: 85 * psi, From: inflation.FromTable}},
		{"one end", ends(weighed(3240, 20), inflation.Load{}), goodWheel, inflation.Need{Low: 85 * psi, High: 85 * psi, OpenAbove: true, From: inflation.FromTable}},
		{"whatever the wheel allows", ends(weighed(3600, 0), weighed(2960, 20)), low, inflation.Need{Low: 95 * psi, High: 95 * psi, From: inflation.FromTable}},
		{"beyond the last row", ends(weighed(3700, 0), weighed(2960, 20)), goodWheel, inflation.Need{Low: 95 * psi, High: 95 * psi, OpenAbove: true, From: inflation.FromTable}},
		{"nothing weighed", inflation.AxleLoad{}, goodWheel, inflation.Need{}},
	} {
		s, err := inflation.SetAxle(inflation.AxleInput{Fitment: weight.Single, Weighed: x.load, Tires: []inflation.Tire{tire}, Wheels: []inflation.Wheel{x.wheel}, Placard: 80 * psi})
		if err != nil || s.Need != x.want {
			t.Errorf("%s: %+v, want %+v, %v", x.name, s.Need, x.want, err)
		}
	}
}

// randomAxle is an axle of which anything may be known.
func randomAxle(t *testing.T, r *rand.Rand) inflation.AxleInput {
	table, two := invented(t), pairs(t)
	stamp := func() inflation.Rating {
		return inflation.Rating{Load: weight.Mass(2500+r.IntN(1500)) * lb, Pressure: inflation.Pressure(75+r.IntN(40)) * psi}
	}
	in := inflation.AxleInput{Fitment: weight.Fitment(1 + r.IntN(2)), Method: inflation.Method(r.IntN(2)), AsDriven: r.IntN(2) == 0, System: randomSystem(r),
		Placard: inflation.Pressure(r.IntN(2)*(60+r.IntN(40))) * psi, Step: []inflation.Pressure{0, psi, 5 * psi}[r.IntN(3)], Cushion: inflation.Pressure(r.IntN(2)*5) * psi,
		GAWR: weight.Mass(r.IntN(2)*(2000+r.IntN(5000))) * lb, GVWR: weight.Mass(r.IntN(2)*16_000) * lb, Fitted: inflation.Fitted(r.IntN(3))}
	in.GAWR *= weight.Mass(in.Fitment)
	in.PlacardNone = in.Placard == 0 && r.IntN(2) == 0
	for i := range 1 + r.IntN(2) {
		x := inflation.Tire{Name: fmt.Sprint(i), Single: stamp()}
		x.Dual = inflation.Rating{Load: x.Single.Load * 9 / 10, Pressure: x.Single.Pressure}
		switch r.IntN(6) {
		case 0:
			x.Class = inflation.LightTruck
		case 1:
			x.Class = inflation.Truck
		case 2: // class not read
		case 3:
			x.Class = [...]inflation.Class{inflation.Passenger, inflation.Trailer}[r.IntN(2)]
		case 4:
			x.Table, x.LoadRange = two, []inflation.LoadRange{"D", "E", ""}[r.IntN(3)]
		default:
			x.Table = table
		}
		in.Tires = append(in.Tires, x)
	}
	for range r.IntN(3) {
		in.Wheels = append(in.Wheels, inflation.Wheel{MaxLoad: weight.Mass(r.IntN(3)) * 1800 * lb, MaxPressure: inflation.Pressure(r.IntN(2)*(80+r.IntN(40))) * psi})
	}
	n := int(in.Fitment)
	load := func() inflation.Load { return weighed((500+r.IntN(3200))*n, r.IntN(80)) }
	switch r.IntN(5) {
	case 0:
		in.Weighed.Total = load()
		in.Weighed.Total.Load *= 2
	case 1:
		in.Weighed.Left = load()
	case 2:
		in.Weighed = ends(assumed(1500*n), assumed(1800*n))
	default:
		in.Weighed = ends(load(), load())
	}
	return in
}

// TestSetAxleNeverMilder: with more load, more doubt or less known the pressure
// to set is no lower, or there is none and what to read is said, or a part is
// short. (Forgotten stamps of tires without a table, classes and tables may end
// an estimate or a need, a load stamp what is too close, a weighing that is forgotten may end what only weighed
// ends raise, and a cushion is left out where a limit was not read:
// those are not here.)
func TestSetAxleNeverMilder(t *testing.T) {
	r := random()
	changes := map[string]func(*inflation.AxleInput){
		"more load": func(in *inflation.AxleInput) {
			more := weight.Mass(1+r.IntN(400)) * lb
			for _, l := range []*inflation.Load{&in.Weighed.Left, &in.Weighed.Right, &in.Weighed.Total}[r.IntN(2):] {
				l.Load += more
			}
		},
		"more doubt": func(in *inflation.AxleInput) {
			for _, l := range []*inflation.Load{&in.Weighed.Left, &in.Weighed.Right, &in.Weighed.Total}[r.IntN(2):] {
				l.PlusMinus += weight.Mass(1+r.IntN(200)) * lb
			}
		},
		"a heavier dual": func(in *inflation.AxleInput) {
			in.Weighed.Left.HeavierTire = in.Weighed.Left.Load*weight.Mass(40+r.IntN(30))/100 + 1
		},
		"more than was read": func(in *inflation.AxleInput) { in.Weighed.Right.OpenAbove, in.Weighed.Total.OpenAbove = true, true },
		"a heavier plan": func(in *inflation.AxleInput) {
			in.Heaviest = in.Weighed
			in.Heaviest.Left.Load += weight.Mass(r.IntN(400)) * lb
		},
		"as driven":    func(in *inflation.AxleInput) { in.AsDriven = false },
		"placard":      func(in *inflation.AxleInput) { in.Placard = 0 },
		"no placard":   func(in *inflation.AxleInput) { in.PlacardNone = false },
		"GAWR":         func(in *inflation.AxleInput) { in.GAWR = 0 },
		"GVWR":         func(in *inflation.AxleInput) { in.GVWR = 0 },
		"a lower GAWR": func(in *inflation.AxleInput) { in.GAWR -= in.GAWR / 10 },
		"weaker tires": func(in *inflation.AxleInput) { in.Fitted = inflation.WeakerThanPlacard },
		"wheel pressure": func(in *inflation.AxleInput) {
			in.Wheels = append([]inflation.Wheel{{MaxLoad: 4000 * lb}}, in.Wheels...)
		},
		"wheels":     func(in *inflation.AxleInput) { in.Wheels = nil },
		"load range": func(in *inflation.AxleInput) { in.Tires[0].LoadRange = "" },
		"stamped pressure of a tire with a table": func(in *inflation.AxleInput) {
			if in.Tires[0].Table != nil {
				in.Tires[0].Single.Pressure, in.Tires[0].Dual.Pressure = 0, 0
			}
		},
	}
	names := slices.Sorted(maps.Keys(changes))
	seen := map[inflation.Why]int{}
	for range times(4000) {
		in := randomAxle(t, r)
		in.Cushion = 0
		base, err := inflation.SetAxle(in)
		if err != nil {
			t.Fatal(err)
		}
		seen[base.Why]++
		if p := base.Set; p > 0 {
			for _, w := range in.Wheels {
				if w.MaxPressure > 0 && p > w.MaxPressure {
					t.Fatalf("%+v\n%+v\nabove a wheel's %s", in, base, w.MaxPressure)
				}
			}
			for _, x := range in.Tires {
				if p > x.Single.Pressure {
					t.Fatalf("%+v\n%+v\nabove a stamp's %s", in, base, x.Single.Pressure)
				}
			}
		}
		for _, name := range names {
			change := changes[name]
			worse := in
			worse.Tires = slices.Clone(in.Tires)
			change(&worse)
			s, err := inflation.SetAxle(worse)
			if err != nil {
				t.Fatal(err)
			}
			switch {
			case s.Outcome == inflation.Short:
			case s.Outcome == inflation.NotJudged && asks(s) == "" && !worse.PlacardNone:
				t.Fatalf("%s: %+v\n%+v\nnothing to read, before\n%+v", name, worse, s, base)
			case s.Outcome != inflation.NotJudged && s.Set < base.Set && s.Cap.Pressure >= base.Set:
				t.Fatalf("%s: %+v\n%+v\nlower than before\n%+v", name, worse, s, base)
			}
		}
	}
	for why := inflation.WhyNeed; why <= inflation.WhyNoPlacardNoNeed; why++ {
		if seen[why] < times(5) {
			t.Errorf("%s: only %d times", why, seen[why])
		}
	}
}

// TestNoStampIsNoCap: where no stamp was read the placard counts as it is (common practice).
func TestNoStampIsNoCap(t *testing.T) {
	in := inflation.AxleInput{Fitment: weight.Single, Tires: []inflation.Tire{{Name: "left", Class: inflation.Truck}, {Name: "right", Class: inflation.Truck}}, Placard: 90 * psi}
	s, err := inflation.SetAxle(in)
	if err != nil || s.Set != 90*psi || s.Capped || s.Cap.Part != 0 {
		t.Errorf("set %s, capped %t, %+v; %v", s.Set, s.Capped, s.Cap, err)
	}
}
