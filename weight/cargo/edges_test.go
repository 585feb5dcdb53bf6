package cargo_test

import (
	"errors"
	"maps"
	"slices"
	"strings"
	"testing"

	"axleend.example/internal/rigtest"
	"axleend.example/rules/origin"
	"axleend.example/weight"
	"axleend.example/weight/cargo"
)

// What a label has to say, at the least figure that says it. All of this is computed.
func TestLabelAtItsEdges(t *testing.T) {
	for _, c := range []struct {
		name  string
		label cargo.Label
		want  weight.Mass
		bad   bool
	}{
		{"NCC of nothing unloaded", cargo.Label{Kind: cargo.NCC, GVWR: 3}, 0, true},
		{"NCC without GVWR", cargo.Label{Kind: cargo.NCC, UVW: 1}, 0, true},
		{"NCC of the least", cargo.Label{Kind: cargo.NCC, GVWR: 1, UVW: 1}, 0, false},
		{"NCC that is overloaded empty", cargo.Label{Kind: cargo.NCC, GVWR: 1, UVW: 3}, -2, false},
		{"NCC below nothing", cargo.Label{Kind: cargo.NCC, GVWR: -1, UVW: -1}, 0, true},
		{"stated, the least", cargo.Label{Kind: cargo.OCCC, Stated: 1}, 1, false},
		{"stated below nothing", cargo.Label{Kind: cargo.OCCC, Stated: -1}, 0, true},
		{"stated goes before the parts", cargo.Label{Kind: cargo.NCC, Stated: 1, GVWR: 9, UVW: 3}, 1, false},
		{"CCC of the least", cargo.Label{Kind: cargo.CCC, GVWR: 1, UVW: 1}, 0, false},
		{"CCC without GVWR", cargo.Label{Kind: cargo.CCC, UVW: 1}, 0, true},
		{"CCC without UVW", cargo.Label{Kind: cargo.CCC, GVWR: 1}, 0, true},
		{"CCC with water below nothing", cargo.Label{Kind: cargo.CCC, GVWR: 1, UVW: 1, Water: -1}, 0, true},
		{"CCC with gas below nothing", cargo.Label{Kind: cargo.CCC, GVWR: 1, UVW: 1, LPTank: -1}, 0, true},
		{"CCC with places below nothing", cargo.Label{Kind: cargo.CCC, GVWR: 1, UVW: 1, SleepingPlaces: -1}, 0, true},
		{"CCC that sleeps one", cargo.Label{Kind: cargo.CCC, GVWR: 300 * lb, UVW: 100 * lb, SleepingPlaces: 1}, 46 * lb, false},
		{"CCC that sleeps a thousand", cargo.Label{Kind: cargo.CCC, GVWR: 154_001 * lb, UVW: lb, SleepingPlaces: 1_000}, 0, false},
		{"CCC that sleeps one more", cargo.Label{Kind: cargo.CCC, GVWR: 154_001 * lb, UVW: lb, SleepingPlaces: 1_001}, 0, true},
	} {
		if got, err := c.label.Capacity(); got != c.want || errors.Is(err, cargo.ErrLabel) != c.bad || (err != nil) != c.bad {
			t.Errorf("%s: %d ng, %v, want %d", c.name, got, err, c.want)
		}
	}
	// Gas that passes the range of a mass, in a tank that no vehicle has.
	gas := cargo.Label{Kind: cargo.CCC, GVWR: 1, UVW: 1, LPTank: 1<<63 - 1}
	occc := cargo.Label{Kind: cargo.OCCC, GVWR: 1, Stated: 1, LPTank: 1<<63 - 1}
	if m, err := cargo.LabelLPGas(gas.LPTank, weight.US); err == nil {
		if got, err := gas.Capacity(); err != nil || got != -m {
			t.Errorf("a huge tank: %s, %v", got, err)
		}
	} else if _, err := gas.Capacity(); !errors.Is(err, origin.ErrRange) {
		t.Errorf("a huge tank: %v", err)
	} else if _, err := occc.Compare(weight.Estimate{}, cargo.Aboard{}); !errors.Is(err, origin.ErrRange) {
		t.Errorf("a huge tank of an OCCC: %v", err)
	}
}

// What was loaded, at the least figures of the label and of what is aboard. All of
// this is computed.
func TestCompareAtItsEdges(t *testing.T) {
	weighed := weight.Estimate{Load: 1_000, State: weight.Determined}
	gas, err := cargo.LabelLPGas(weight.USGallon, weight.US) // 0.8 x 4.2 lb, 3.36 lb
	if err != nil || gas != 336*lb/100 {
		t.Fatalf("a gallon's tank: %s, %v", gas, err)
	}
	for _, c := range []struct {
		name   string
		label  cargo.Label
		aboard cargo.Aboard
		want   weight.Mass
		bad    bool
	}{
		{"NCC counts all", cargo.Label{Kind: cargo.NCC, Stated: 9, UVW: 1}, cargo.Aboard{People: 100, Water: 20, LPGas: 3}, 999, false},
		{"CCC leaves out what is aboard", cargo.Label{Kind: cargo.CCC, Stated: 9, UVW: 1}, cargo.Aboard{People: 100, Water: 20, LPGas: 3}, 876, false},
		{"CCC without UVW", cargo.Label{Kind: cargo.CCC, Stated: 9}, cargo.Aboard{}, 0, true},
		{"NCC without UVW", cargo.Label{Kind: cargo.NCC, Stated: 9}, cargo.Aboard{}, 0, true},
		{"people below nothing", cargo.Label{Kind: cargo.CCC, Stated: 9, UVW: 1}, cargo.Aboard{People: -1}, 0, true},
		{"water below nothing", cargo.Label{Kind: cargo.CCC, Stated: 9, UVW: 1}, cargo.Aboard{Water: -1}, 0, true},
		{"gas below nothing", cargo.Label{Kind: cargo.CCC, Stated: 9, UVW: 1}, cargo.Aboard{LPGas: -1}, 0, true},
		{"OCCC by GVWR", cargo.Label{Kind: cargo.OCCC, Stated: 9, GVWR: 10}, cargo.Aboard{People: 100}, 999, false},
		{"OCCC by UVW", cargo.Label{Kind: cargo.OCCC, Stated: 9, UVW: 1}, cargo.Aboard{People: 100}, 999, false},
		{"OCCC by the smaller, UVW", cargo.Label{Kind: cargo.OCCC, Stated: 9, GVWR: 50, UVW: 40}, cargo.Aboard{}, 960, false},
		{"OCCC by the smaller, GVWR", cargo.Label{Kind: cargo.OCCC, Stated: 9, GVWR: 50, UVW: 42}, cargo.Aboard{}, 959, false},
		{"OCCC, both alike", cargo.Label{Kind: cargo.OCCC, Stated: 9, GVWR: 50, UVW: 41}, cargo.Aboard{}, 959, false},
		{"OCCC with the least GVWR", cargo.Label{Kind: cargo.OCCC, Stated: 9, GVWR: 1}, cargo.Aboard{}, 1_008, false},
		{"OCCC by neither", cargo.Label{Kind: cargo.OCCC, Stated: 9}, cargo.Aboard{}, 0, true},
		{"OCCC with half of its gas", cargo.Label{Kind: cargo.OCCC, Stated: 9, UVW: 1, LPTank: weight.USGallon}, cargo.Aboard{LPGas: gas / 2}, 999 + gas/2, false},
		{"OCCC with its gas", cargo.Label{Kind: cargo.OCCC, Stated: 9, UVW: 1, LPTank: weight.USGallon}, cargo.Aboard{LPGas: gas}, 999, false},
		{"OCCC with a little less", cargo.Label{Kind: cargo.OCCC, Stated: 9, UVW: 1, LPTank: weight.USGallon}, cargo.Aboard{LPGas: gas - 1}, 1_000, false},
		{"OCCC with a little more", cargo.Label{Kind: cargo.OCCC, Stated: 9, UVW: 1, LPTank: weight.USGallon}, cargo.Aboard{LPGas: gas + 1}, 999, false},
	} {
		m, err := c.label.Compare(weighed, c.aboard)
		if m.Estimate.Load != c.want || errors.Is(err, cargo.ErrLabel) != c.bad || (err != nil) != c.bad {
			t.Errorf("%s: %d ng, %v, want %d", c.name, m.Estimate.Load, err, c.want)
		}
		if !c.bad && (m.Limit.Rating != 9 || m.Limit.Name != c.label.Kind.String() || m.Room != 9-c.want) {
			t.Errorf("%s: %+v", c.name, m)
		}
	}
	// A capacity that GVWR leaves no mass for.
	if _, err := (cargo.Label{Kind: cargo.OCCC, Stated: 1<<63 - 1, GVWR: 1}).Compare(weight.Estimate{Load: 9, State: weight.Determined}, cargo.Aboard{}); !errors.Is(err, origin.ErrRange) {
		t.Errorf("past the range: %v", err)
	}
}

func TestRatingRulesAtTheirEdges(t *testing.T) {
	// 1.5 % of GVWR, rounded down to a nanogram, and 100 lb at most (72 FR 68442).
	for _, c := range []struct{ gvwr, want weight.Mass }{
		{0, 0}, {1, 0}, {66, 0}, {67, 1}, {100, 1}, {200, 3}, {20_000 * lb / 3, 100*lb - 1}, {20_000*lb/3 + 34, 100 * lb}, {20_000*lb/3 + 200, 100 * lb},
	} {
		if got, err := cargo.AddedWeightLimit(c.gvwr); err != nil || got != c.want {
			t.Errorf("GVWR %d ng: %d ng, %v, want %d", c.gvwr, got, err, c.want)
		}
	}
	// 150 lb a seat (36 FR 14583 in aiam0613); no coach seats more than a thousand.
	for _, c := range []struct {
		seats int
		want  weight.Mass
		bad   bool
	}{{-1, 0, true}, {0, 3, false}, {1, 150*lb + 3, false}, {1_000, 150_000*lb + 3, false}, {1_001, 0, true}} {
		if got, err := cargo.LeastGVWR(1, 2, c.seats); got != c.want || errors.Is(err, cargo.ErrLabel) != c.bad || (err != nil) != c.bad {
			t.Errorf("%d seats: %d ng, %v, want %d", c.seats, got, err, c.want)
		}
	}
	// The GAWRs fall short by the difference, and by nothing when they do not (571.3).
	for _, c := range []struct{ gvwr, want weight.Mass }{{5, 0}, {6, 0}, {7, 1}, {8, 2}} {
		if got, err := cargo.GAWRShortfall(c.gvwr, 2, 4); err != nil || got != c.want {
			t.Errorf("GVWR %d ng: %d, %v, want %d", c.gvwr, got, err, c.want)
		}
	}
	if _, err := cargo.GAWRShortfall(1<<63-1, -1<<62); !errors.Is(err, origin.ErrRange) {
		t.Errorf("past the range: %v", err)
	}
}

// A load of a volume is rounded up, once, and what does not fit is refused. Computed.
func TestFluidAtItsEdges(t *testing.T) {
	ng := cargo.Fluid{Name: "thin", PerGallon: weight.Gram} // a gram a gallon
	for _, c := range []struct {
		v    weight.Volume
		s    weight.System
		want weight.Mass
	}{
		{0, weight.Metric, 0}, {1, weight.Metric, weight.Gram}, {weight.USGallon, weight.Metric, weight.Gram}, {weight.USGallon + 1, weight.Metric, 2 * weight.Gram},
		{-1, weight.Metric, 0}, {-weight.USGallon, weight.Metric, -weight.Gram}, {-weight.USGallon - 1, weight.Metric, -weight.Gram},
		{1, weight.US, lb / 100}, {5 * weight.USGallon, weight.US, 2 * lb / 100},
	} {
		if got, err := ng.Mass(c.v, c.s); err != nil || got != c.want {
			t.Errorf("%d pl, %s: %s, %v, want %s", c.v, c.s, got, err, c.want)
		}
	}
	// The greatest mass is no whole number of grams: rounded up, it fits in no Mass.
	heavy := cargo.Fluid{Name: "heavy", PerGallon: 1<<63 - 1}
	if got, err := heavy.Mass(weight.USGallon, weight.Metric); !errors.Is(err, origin.ErrRange) {
		t.Errorf("the greatest mass, rounded up: %d, %v", got, err)
	}
	if got, err := heavy.Mass(-weight.USGallon, weight.Metric); err != nil || got != -(1<<63-1)/weight.Gram*weight.Gram {
		t.Errorf("the greatest mass, taken out: %d, %v", got, err)
	}
	if _, err := heavy.Mass(2*weight.USGallon, weight.Metric); !errors.Is(err, origin.ErrRange) {
		t.Errorf("twice the greatest mass: %v", err)
	}
}

// A difference of two weighings is known where both are, and is no better than the
// worse of them. Computed.
func TestTongueAtItsEdges(t *testing.T) {
	a := weight.Estimate{Load: 10, PlusMinus: 3, FromSlope: 2, State: weight.Determined, Drafts: 2}
	b := weight.Estimate{Load: 4, PlusMinus: 5, FromSlope: 1, State: weight.Assumed, Drafts: 5}
	state := max(a.State, b.State)
	for name, from := range map[string]func(a, b weight.Estimate) (weight.Estimate, error){"coach": cargo.TongueFromCoach, "towed": cargo.TongueFromTowed} {
		for _, c := range []struct{ a, b, want weight.Estimate }{
			{a, b, weight.Estimate{Load: 6, PlusMinus: 8, FromSlope: 3, State: state, Drafts: 7, Subtracted: true}},
			{b, a, weight.Estimate{Load: -6, PlusMinus: 8, FromSlope: 3, State: state, Drafts: 7, Subtracted: true}},
			{a, weight.Estimate{}, weight.Estimate{}},
			{weight.Estimate{}, b, weight.Estimate{}},
		} {
			if got, err := from(c.a, c.b); err != nil || got != c.want {
				t.Errorf("%s: %+v less %+v: %+v, %v", name, c.a, c.b, got, err)
			}
		}
	}
	// What is towed on a tow bar, or weighed alone, has no tongue to shift; a hitch
	// over the axles carries nothing.
	for name, c := range map[string]struct {
		change func(*weight.Rig)
		want   error
	}{
		"over the axles": {func(r *weight.Rig) { r.Hitch = (r.Axles[3].Behind + r.Axles[4].Behind) / 2 }, cargo.ErrPlan},
		"just ahead":     {func(r *weight.Rig) { r.Hitch = (r.Axles[3].Behind+r.Axles[4].Behind)/2 - 1 }, nil},
		"tow bar":        {func(r *weight.Rig) { r.Coupling = weight.TowBar }, cargo.ErrPlan},
		"fifth wheel":    {func(r *weight.Rig) { r.Coupling = weight.FifthWheel }, nil},
	} {
		rig := rigtest.TaggedWithTrailer()
		c.change(&rig)
		if _, err := cargo.Hitching(mustSolve(t, rig, nil, weight.Scale{}), lb); !errors.Is(err, c.want) {
			t.Errorf("%s: %v, want %v", name, err, c.want)
		}
	}
}

// Masses and distances that a plan takes, at their bounds: a thousand tons in all, a
// kilometer from the first axle and from the centerline.
func TestTripAtItsBounds(t *testing.T) {
	most := 1_000_000 * weight.Kilogram
	sol := weighedOnPads(t, rigtest.Coach(), 4_600, 4_400, 8_600, 8_400)
	stage := func(masses ...weight.Mass) (st cargo.Stage) {
		for _, m := range masses {
			st.Changes = append(st.Changes, cargo.Change{Name: "x", Mass: m})
		}
		return st
	}
	for _, c := range []struct {
		name  string
		stage cargo.Stage
		want  error
	}{
		{"all of it", stage(most), nil},
		{"a nanogram more", stage(most + 1), origin.ErrRange},
		{"all of it, taken off", stage(-most), nil},
		{"a nanogram more, taken off", stage(-most - 1), origin.ErrRange},
		{"in two", stage(most-1, 1), nil},
		{"in two, and more", stage(most, 1), origin.ErrRange},
		{"on and off", stage(most, -1), origin.ErrRange},
		{"nothing", stage(most, 0), nil},
		{"many times the range of a mass", stage(1<<62, 1<<62, 1<<62, 1<<62), origin.ErrRange},
		{"far behind", cargo.Stage{Changes: []cargo.Change{{At: cargo.Station{Behind: weight.Kilometer}}}}, nil},
		{"farther behind", cargo.Stage{Changes: []cargo.Change{{At: cargo.Station{Behind: weight.Kilometer + 1}}}}, cargo.ErrPlan},
		{"far ahead", cargo.Stage{Changes: []cargo.Change{{At: cargo.Station{Behind: -weight.Kilometer}}}}, nil},
		{"farther ahead", cargo.Stage{Changes: []cargo.Change{{At: cargo.Station{Behind: -weight.Kilometer - 1}}}}, cargo.ErrPlan},
		{"far right", cargo.Stage{Changes: []cargo.Change{{At: cargo.Station{Offset: weight.Kilometer}}}}, nil},
		{"farther right", cargo.Stage{Changes: []cargo.Change{{At: cargo.Station{Offset: weight.Kilometer + 1}}}}, cargo.ErrPlan},
		{"far left", cargo.Stage{Changes: []cargo.Change{{At: cargo.Station{Offset: -weight.Kilometer}}}}, nil},
		{"farther left", cargo.Stage{Changes: []cargo.Change{{At: cargo.Station{Offset: -weight.Kilometer - 1}}}}, cargo.ErrPlan},
	} {
		if _, err := cargo.PlanTrip(sol, c.stage); !errors.Is(err, c.want) {
			t.Errorf("%s: %v, want %v", c.name, err, c.want)
		}
	}
}

// Which axles a station's load needs: whoever leaves one out is told which. Distances
// and loads are invented, the shares computed.
func TestWhatStationsNeed(t *testing.T) {
	in := weight.Inch
	coach, trailer := cargo.Station{Behind: 100 * in}, cargo.Station{Behind: 600 * in, Towed: true}
	off := func(s cargo.Station) cargo.Station { s.Offset = in; return s }
	for _, c := range []struct {
		name   string
		change func(*weight.Rig)
		at     cargo.Station
		want   error
		says   string
	}{
		{"all known", func(*weight.Rig) {}, coach, nil, ""},
		{"drive axle", func(r *weight.Rig) { r.Axles[1].Behind = 0 }, coach, cargo.ErrGeometry, "the drive axle stands"},
		{"tag axle", func(r *weight.Rig) { r.Axles[2].Behind = 0 }, coach, cargo.ErrGeometry, "the tag axle stands"},
		{"trailer axles, of no matter", func(r *weight.Rig) { r.Axles[3].Behind, r.Axles[4].Behind, r.Hitch, r.Coupling = 0, 0, 0, 0 }, coach, nil, ""},
		{"front trailer axle", func(r *weight.Rig) { r.Axles[3].Behind = 0 }, trailer, cargo.ErrGeometry, "the front trailer axle stands"},
		{"rear trailer axle", func(r *weight.Rig) { r.Axles[4].Behind = 0 }, trailer, cargo.ErrGeometry, "the rear trailer axle stands"},
		{"on a tow bar, front", func(r *weight.Rig) { r.Coupling = weight.TowBar; r.Axles[3].Behind = 0 }, trailer, cargo.ErrGeometry, "the front trailer axle stands"},
		{"on a tow bar, rear", func(r *weight.Rig) { r.Coupling = weight.TowBar; r.Axles[4].Behind = 0 }, trailer, cargo.ErrGeometry, "the rear trailer axle stands"},
		{"on a tow bar, no hitch", func(r *weight.Rig) { r.Coupling = weight.TowBar; r.Hitch = 0 }, trailer, nil, ""},
		{"on a tow bar, a coach of one axle", func(r *weight.Rig) {
			r.Coupling, r.Axles = weight.TowBar, []weight.Axle{r.Axles[0], r.Axles[3], r.Axles[4]}
		}, trailer, nil, ""},
		{"on a tongue, a coach of one axle", func(r *weight.Rig) { r.Axles = []weight.Axle{r.Axles[0], r.Axles[3], r.Axles[4]} }, trailer, cargo.ErrGeometry, "two axles"},
		{"coupling", func(r *weight.Rig) { r.Coupling = 0 }, trailer, cargo.ErrGeometry, "coupled"},
		{"coupling of no kind", func(r *weight.Rig) { r.Coupling = 9 }, trailer, cargo.ErrGeometry, "coupled"},
		{"hitch", func(r *weight.Rig) { r.Hitch = 0 }, trailer, cargo.ErrGeometry, "where the hitch is"},
		{"hitch over the axles", func(r *weight.Rig) { r.Axles, r.Hitch = r.Axles[:4], r.Axles[3].Behind }, trailer, cargo.ErrPlan, "the hitch stands behind"},
		{"hitch just ahead of them", func(r *weight.Rig) { r.Axles, r.Hitch = r.Axles[:4], r.Axles[3].Behind-1 }, trailer, nil, ""},
		{"nothing towed", func(r *weight.Rig) { r.Axles = r.Axles[:3] }, trailer, cargo.ErrPlan, "without axles"},
		{"steer track", func(r *weight.Rig) { r.Track = 0 }, off(coach), cargo.ErrGeometry, "track of the steer axle"},
		{"drive track", func(r *weight.Rig) { r.Axles[0].Track, r.Track = 80*in, 0 }, off(coach), cargo.ErrGeometry, "track of the drive axle"},
		{"trailer tracks, their own", func(r *weight.Rig) { r.Axles[3].Track, r.Axles[4].Track, r.Track = 80*in, 80*in, 0 }, off(trailer), nil, ""},
		{"no track, on the centerline", func(r *weight.Rig) { r.Track = 0 }, trailer, nil, ""},
	} {
		rig := rigtest.TaggedWithTrailer()
		c.change(&rig)
		_, err := cargo.PlanTrip(mustSolve(t, rig, nil, weight.Scale{}), one("box", lb, c.at))
		if !errors.Is(err, c.want) || err != nil && !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: %v, want %v that says %q", c.name, err, c.want, c.says)
		}
	}
}

// How axles that stand as one support share: as they were weighed, and alike where one
// of them was not, or carries nothing. Computed.
func TestGroupsShare(t *testing.T) {
	in := weight.Inch
	drive, tag := weight.AxleOf(1), weight.AxleOf(2)
	for _, c := range []struct {
		name     string
		readings map[weight.Set]weight.Mass // lb
		behind   weight.Length
		want     map[weight.Set]weight.Mass // lb, of 1,200 lb over the support
	}{
		{"as weighed", map[weight.Set]weight.Mass{drive: 6_000, tag: 2_000}, 260*in + 50*in/4, map[weight.Set]weight.Mass{weight.AxleOf(0): 0, drive: 900, tag: 300}},
		{"the tag axle not weighed", map[weight.Set]weight.Mass{drive: 6_000}, 285 * in, map[weight.Set]weight.Mass{weight.AxleOf(0): 0, drive: 600}},
		{"the drive axle not weighed", map[weight.Set]weight.Mass{tag: 2_000}, 285 * in, map[weight.Set]weight.Mass{weight.AxleOf(0): 0, tag: 600}},
		{"the tag axle carries nothing", map[weight.Set]weight.Mass{drive: 6_000, drive | tag: 6_000}, 285 * in, map[weight.Set]weight.Mass{weight.AxleOf(0): 0, drive: 600, tag: 600}},
		{"the drive axle carries nothing", map[weight.Set]weight.Mass{tag: 2_000, drive | tag: 2_000}, 285 * in, map[weight.Set]weight.Mass{weight.AxleOf(0): 0, drive: 600, tag: 600}},
		{"the tag axle carries a pound", map[weight.Set]weight.Mass{drive: 5_999, drive | tag: 6_000}, 260*in + 50*in/6_000, map[weight.Set]weight.Mass{weight.AxleOf(0): 0}},
	} {
		rig := rigtest.TaggedWithTrailer()
		rig.Axles, rig.Coupling, rig.Hitch = rig.Axles[:3], 0, 0
		pads := weight.Scale{Kind: weight.Pads, Stance: weight.Stance{Level: weight.Yes}, Rule: weight.ToleranceRule{Step: lb}}
		readings := []weight.Reading{pads.Reading("steer", 6_000*lb, weight.AxleOf(0))}
		for _, on := range slices.Sorted(maps.Keys(c.readings)) {
			readings = append(readings, pads.Reading(rig.Name(on), c.readings[on]*lb, on))
		}
		sol := mustSolve(t, rig, readings, pads)
		trip := mustTrip(t, sol, one("box", 1_200*lb, cargo.Station{Behind: c.behind}))
		for on, want := range c.want {
			before, after := sol.Of(on), trip.At(1, on)
			if d := after.Load - before.Load; !after.Known() || d < want*lb-lb/50 || d > want*lb+lb/50 {
				t.Errorf("%s: %s gains %s, want %d lb: %+v", c.name, rig.Name(on), d, want, after)
			}
		}
	}
}

// What is seen of a trip: the stages by their index, no more and no less of them.
func TestTripStagesAtTheirEdges(t *testing.T) {
	drive := weight.AxleOf(1)
	sol := weighedOnPads(t, rigtest.Coach(), 4_600, 4_400, 8_600, 8_400)
	at := cargo.Station{Name: "bay", Behind: 252 * weight.Inch, Most: 100 * lb}
	trip := mustTrip(t, sol, one("same", 0, at), one("heavy", 50*lb, at), one("alike", 50*lb, at))
	for stage, want := range map[int]weight.Mass{-1: 0, 0: 17_000, 1: 17_000, 2: 17_050, 3: 17_050, 4: 0} {
		if got := trip.At(stage, drive); got.Load != want*lb || got.Known() != (want > 0) {
			t.Errorf("stage %d: %+v", stage, got)
		}
		room, err := trip.RoomAt(stage, at, nil, nil)
		if wrong := want == 0; wrong != errors.Is(err, cargo.ErrPlan) || wrong == room.Known {
			t.Errorf("room at stage %d: %+v, %v", stage, room, err)
		}
		if want > 0 && (room.Mass != 100*lb-(want-17_000)*lb || room.LimitedBy != "bay" || room.LimitedOn != 0) {
			t.Errorf("room at stage %d: %+v", stage, room)
		}
	}
	// The first of those that are alike is the heaviest.
	if e, stage := trip.Heaviest(drive); stage != 2 || e.Load != 17_050*lb {
		t.Errorf("heaviest: %+v at %d", e, stage)
	}
	if e, stage := mustTrip(t, sol, one("same", 0, at)).Heaviest(drive); stage != 0 || e.Load != 17_000*lb {
		t.Errorf("heaviest: %+v at %d", e, stage)
	}
	if e, stage := trip.Heaviest(weight.AxleOf(5)); stage != 0 || e.Known() {
		t.Errorf("an axle that is not there: %+v at %d", e, stage)
	}
	if got := trip.Margins(2, []cargo.Limit{{Name: "a", Rating: 17_090 * lb, On: drive}, {Name: "b", Rating: 17_089 * lb, On: drive}}); len(got) != 2 || !got[0].Kept() || got[1].Kept() || got[1].Limit.Name != "b" {
		t.Errorf("margins: %+v", got)
	}
	if got := (cargo.Trip{}).Cautions(); !slices.Contains(got, weight.SharedByMoments) || !slices.Contains(got, weight.WeighAgain) || slices.Contains(got, weight.RearAxlesShare) {
		t.Errorf("cautions of no trip: %v", got)
	}
}

// What binds a place: of two that bind alike the first; nothing where nothing is
// pressed on; and no more than a plan takes. Computed.
func TestRoomAtItsEdges(t *testing.T) {
	drive, in := weight.AxleOf(1), weight.Inch
	over := cargo.Station{Behind: 252 * in}
	sol := weighedOnPads(t, rigtest.Coach(), 4_600, 4_400, 8_600, 8_400) // drive: 17,000 lb, 40 lb of doubt
	trip := mustTrip(t, sol)
	limit := func(name string, rating weight.Mass, on weight.Set) cargo.Limit {
		return cargo.Limit{Name: name, Rating: rating, On: on}
	}
	for _, c := range []struct {
		name   string
		at     cargo.Station
		limits []cargo.Limit
		leasts []cargo.LeastLoad
		want   cargo.Room
	}{
		{"nothing asked", over, nil, nil, cargo.Room{}},
		{"the first of two alike", over, []cargo.Limit{limit("a", 17_100*lb, drive), limit("b", 17_100*lb, drive)}, nil, cargo.Room{Mass: 60 * lb, LimitedBy: "a", LimitedOn: drive, Known: true}},
		{"the tighter of two", over, []cargo.Limit{limit("a", 17_100*lb, drive), limit("b", 17_099*lb, drive)}, nil, cargo.Room{Mass: 59 * lb, LimitedBy: "b", LimitedOn: drive, Known: true}},
		{"a step below the grid", over, []cargo.Limit{limit("a", 17_040*lb+lb/100-1, drive)}, nil, cargo.Room{LimitedBy: "a", LimitedOn: drive, Known: true}},
		{"a step of the grid", over, []cargo.Limit{limit("a", 17_040*lb+lb/100, drive)}, nil, cargo.Room{Mass: lb / 100, LimitedBy: "a", LimitedOn: drive, Known: true}},
		{"just kept", over, []cargo.Limit{limit("a", 17_040*lb, drive)}, nil, cargo.Room{LimitedBy: "a", LimitedOn: drive, Known: true}},
		{"not pressed on", over, []cargo.Limit{limit("a", 1, weight.AxleOf(0))}, nil, cargo.Room{}},
		{"lightened", cargo.Station{Behind: 300 * in}, []cargo.Limit{limit("a", 1, weight.AxleOf(0))}, nil, cargo.Room{}},
		{"pressed on", cargo.Station{Behind: 300 * in}, nil, []cargo.LeastLoad{{Name: "drive", Load: 99_999 * lb, On: drive}}, cargo.Room{}},
		{"neither pressed on nor lightened", over, nil, []cargo.LeastLoad{{Name: "steer", Load: 99_999 * lb, On: weight.AxleOf(0)}}, cargo.Room{}},
		{"far from everything", over, []cargo.Limit{limit("a", 1<<62, drive)}, nil, cargo.Room{Mass: 1_000_000 * weight.Kilogram, LimitedBy: "a", LimitedOn: drive, Known: true}},
		{"hardly pressed on", cargo.Station{Behind: 1}, []cargo.Limit{limit("a", 1<<61, drive)}, nil, cargo.Room{Mass: 1_000_000 * weight.Kilogram, LimitedBy: "a", LimitedOn: drive, Known: true}},
		{"over, and hardly pressed on", cargo.Station{Behind: 1}, []cargo.Limit{limit("a", 17_000*lb, drive)}, nil, cargo.Room{LimitedBy: "a", LimitedOn: drive, Known: true}},
		{"just kept, and hardly pressed on", cargo.Station{Behind: 1}, []cargo.Limit{limit("a", 17_040*lb, drive)}, nil, cargo.Room{LimitedBy: "a", LimitedOn: drive, Known: true}},
		{"at its least, and hardly lightened", cargo.Station{Behind: 252*in + 1}, nil, []cargo.LeastLoad{{Name: "steer", Load: 8_960 * lb, On: weight.AxleOf(0)}}, cargo.Room{LimitedBy: "steer", LimitedOn: weight.AxleOf(0), Known: true}},
		{"a place of no more", cargo.Station{Behind: 252 * in, Name: "bay", Most: 1}, nil, nil, cargo.Room{LimitedBy: "bay", Known: true}},
		{"a place without a figure", cargo.Station{Behind: 252 * in, Name: "bay"}, nil, nil, cargo.Room{}},
	} {
		got, err := trip.RoomAt(0, c.at, c.limits, c.leasts)
		if err != nil || got.Mass != c.want.Mass || got.LimitedBy != c.want.LimitedBy || got.LimitedOn != c.want.LimitedOn || got.Known != c.want.Known || got.NotJudged != nil {
			t.Errorf("%s: %+v, %v", c.name, got, err)
		}
	}
}

// A load that readings dispute leaves no room, however little of what is loaded it takes.
func TestNoRoomOnDisputed(t *testing.T) {
	in := weight.Inch
	pads := weight.Scale{Kind: weight.Pads, Stance: weight.Stance{Level: weight.Yes}}
	for axle, at := range map[int]cargo.Station{0: {Behind: 252*in + 1}, 1: {Behind: 1}} {
		on := weight.AxleOf(axle)
		sol := mustSolve(t, rigtest.Coach(), []weight.Reading{pads.Reading("a", 9_000*lb, on), pads.Reading("b", 9_900*lb, on)}, pads)
		var limits []cargo.Limit
		var leasts []cargo.LeastLoad
		if axle == 0 {
			leasts = []cargo.LeastLoad{{Name: "steer", Load: lb, On: on}}
		} else {
			limits = []cargo.Limit{{Name: "drive", Rating: 20_000 * lb, On: on}}
		}
		if room, err := mustTrip(t, sol).RoomAt(0, at, limits, leasts); err != nil || room.Mass != 0 || !room.Known || room.LimitedOn != on || room.NotJudged != nil {
			t.Errorf("axle %d: %+v, %v", axle+1, room, err)
		}
	}
}
