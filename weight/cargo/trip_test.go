package cargo_test

import (
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"axleend.example/internal/rigtest"
	"axleend.example/rules/origin"
	"axleend.example/weight"
	"axleend.example/weight/cargo"
)

// weighedOnPads is a solution with every end read to 20 lb.
func weighedOnPads(t testing.TB, rig weight.Rig, lbs ...weight.Mass) weight.Solution {
	t.Helper()
	pads := weight.Scale{Kind: weight.Pads, Rule: weight.ToleranceRule{Step: 20 * lb}, Stance: weight.Stance{Level: weight.Yes}}
	var out []weight.Reading
	for i, m := range lbs {
		on := weight.EndOf(i/2, weight.Side(1+i%2))
		out = append(out, pads.Reading(rig.Name(on), m*lb, on))
	}
	return mustSolve(t, rig, out, pads)
}

func mustTrip(t testing.TB, sol weight.Solution, stages ...cargo.Stage) cargo.Trip {
	t.Helper()
	trip, err := cargo.PlanTrip(sol, stages...)
	if err != nil {
		t.Fatal(err)
	}
	return trip
}

func one(name string, m weight.Mass, at cargo.Station) cargo.Stage {
	return cargo.Stage{Name: name, Changes: []cargo.Change{{Name: name, Mass: m, At: at}}}
}

func TestMoments(t *testing.T) {
	// Weight x distance from the other axle / wheelbase;
	// behind the rear axle the front gets lighter. Wheelbase 252 in.
	rig, in := rigtest.Coach(), weight.Inch
	sol := weighedOnPads(t, rig, 4_600, 4_400, 8_600, 8_400)
	for _, c := range []struct {
		behind      weight.Length
		front, rear weight.Mass // of 504 lb
	}{
		{0, 504, 0}, {252, 0, 504}, {126, 252, 252}, {63, 378, 126}, {378, -252, 756}, {-63, 630, -126},
	} {
		trip := mustTrip(t, sol, one("box", 504*lb, cargo.Station{Behind: c.behind * in}))
		f, r := trip.At(1, weight.AxleOf(0)), trip.At(1, weight.AxleOf(1))
		if f.Load != (9_000+c.front)*lb || r.Load != (17_000+c.rear)*lb || f.PlusMinus != 40*lb || r.State != weight.Determined {
			t.Errorf("%d in behind: front %s, rear %s", c.behind, f.Load, r.Load)
		}
		if e := trip.At(1, rig.All()); e.Load != 26_504*lb || e.PlusMinus != 80*lb {
			t.Errorf("gross %+v", e)
		}
	}
	// Off the centerline by an eighth of the track: 5/8 to the right.
	trip := mustTrip(t, sol, one("box", 400*lb, cargo.Station{Behind: 252 * in, Offset: rig.Track / 8}))
	if l, r := trip.At(1, weight.EndOf(1, weight.Left)), trip.At(1, weight.EndOf(1, weight.Right)); l.Load != 8_750*lb || r.Load != 8_650*lb {
		t.Errorf("off the centerline: %s and %s", l.Load, r.Load)
	}
	// An axle's own track goes before the rig's.
	narrow := rigtest.Coach()
	narrow.Axles[1].Track = rig.Track / 2
	trip = mustTrip(t, weighedOnPads(t, narrow, 4_600, 4_400, 8_600, 8_400), one("box", 400*lb, cargo.Station{Behind: 252 * in, Offset: rig.Track / 8}))
	if l := trip.At(1, weight.EndOf(1, weight.Left)); l.Load != 8_700*lb {
		t.Errorf("own track: %s", l.Load)
	}
	// Taken off again.
	trip = mustTrip(t, sol, one("tank emptied", -400*lb, cargo.Station{Behind: 252 * in}))
	if e := trip.At(1, weight.AxleOf(1)); e.Load != 16_600*lb {
		t.Errorf("emptied: %s", e.Load)
	}
	// A share that is off the grid: the plus/minus covers the rounding.
	trip = mustTrip(t, sol, one("box", lb, cargo.Station{Behind: 84 * in}))
	if e := trip.At(1, weight.AxleOf(0)); e.Load != 9_000*lb+67*lb/100 || e.PlusMinus != 40*lb+lb/100 {
		t.Errorf("two thirds of a pound: %+v", e)
	}
}

// TestRearAxlesShareIsSaid where two axles share what no plate tells apart, the
// coach's or the trailer's, and nowhere else.
func TestRearAxlesShareIsSaid(t *testing.T) {
	rig := rigtest.TaggedWithTrailer()
	oneTrailerAxle, threeOfCoach := rig, rig
	oneTrailerAxle.Axles = []weight.Axle{rig.Axles[0], rig.Axles[1], rig.Axles[3]}
	twoTrailerAxles := rig
	twoTrailerAxles.Axles = []weight.Axle{rig.Axles[0], rig.Axles[1], rig.Axles[3], rig.Axles[4]}
	threeOfCoach.Axles, threeOfCoach.Coupling, threeOfCoach.Hitch = rig.Axles[:3], 0, 0
	for name, x := range map[string]struct {
		rig  weight.Rig
		says bool
	}{"two axles": {rigtest.Coach(), false}, "a tag axle": {threeOfCoach, true}, "one axle towed": {oneTrailerAxle, false}, "two axles towed": {twoTrailerAxles, true}} {
		loads := make([]weight.Mass, 2*len(x.rig.Axles))
		for i := range loads {
			loads[i] = 4000
		}
		trip := mustTrip(t, weighedOnPads(t, x.rig, loads...), one("box", 100*lb, cargo.Station{Behind: 100 * weight.Inch}))
		if got := slices.Contains(trip.Cautions(), weight.RearAxlesShare); got != x.says {
			t.Errorf("%s: said %v, want %v", name, got, x.says)
		}
	}
}

func TestThreeAxles(t *testing.T) {
	rig, in := rigtest.TaggedWithTrailer(), weight.Inch
	sol := weighedOnPads(t, rig, 6_000, 6_000, 7_500, 7_500, 2_500, 2_500, 2_400, 2_400, 2_100, 2_100)
	// Drive 15,000 and tag 5,000: one support at 260 + 50/4 = 272.5 in, 3 to 1.
	trip := mustTrip(t, sol, one("box", 545*lb, cargo.Station{Behind: 272*in + in/2}))
	for i, want := range []weight.Mass{0, 40_875, 13_625} {
		before, after := trip.At(0, weight.AxleOf(i)), trip.At(1, weight.AxleOf(i))
		if got := after.Load - before.Load; got != want*lb/100 {
			t.Errorf("axle %d: %s", i+1, got)
		}
	}
	if !slices.Contains(trip.Cautions(), weight.RearAxlesShare) || !slices.Contains(trip.Cautions(), weight.WeighAgain) || !slices.Contains(trip.Cautions(), weight.SharedByMoments) {
		t.Errorf("cautions %v", trip.Cautions())
	}
	// In the trailer, over its axles: (4,800 x 590 + 4,200 x 625) / 9,000.
	// Halfway between them and the hitch half goes to the hitch, which stands
	// behind the coach's last axle and lightens the steer axle.
	center := (4_800*590*in + 4_200*625*in) / 9_000
	hitch := rig.Hitch
	trip = mustTrip(t, sol, one("box", 1_000*lb, cargo.Station{Behind: (center + hitch) / 2, Towed: true}))
	gain := func(set weight.Set) float64 { return float64(trip.At(1, set).Load-trip.At(0, set).Load) / float64(lb) }
	if g := gain(rig.Towed()); math.Abs(g-500) > 0.02 {
		t.Errorf("trailer axles gain %v", g)
	}
	if g := gain(rig.Coach()); math.Abs(g-500) > 0.02 {
		t.Errorf("coach gains %v", g)
	}
	if g := gain(weight.AxleOf(0)); math.Abs(g-500*(272.5-440)/272.5) > 0.02 {
		t.Errorf("steer axle gains %v", g)
	}
	// Off the centerline the trailer's own axles take all of the roll.
	trip = mustTrip(t, sol, one("box", 1_000*lb, cargo.Station{Behind: (center + hitch) / 2, Offset: 8 * in, Towed: true}))
	roll := gain(rig.Towed()&weight.SideOf(weight.Right)) - gain(rig.Towed()&weight.SideOf(weight.Left))
	if math.Abs(roll-1_000*8*2/80.) > 0.05 {
		t.Errorf("the trailer rolls by %v", roll)
	}
	if g := gain(weight.EndOf(1, weight.Left)) - gain(weight.EndOf(1, weight.Right)); g != 0 {
		t.Errorf("the coach rolls by %v", g)
	}
	// A car on a tow bar carries its own load between its axles.
	rig.Coupling = weight.TowBar
	sol = weighedOnPads(t, rig, 6_000, 6_000, 7_500, 7_500, 2_500, 2_500, 900, 900, 800, 800)
	trip = mustTrip(t, sol, one("box", 100*lb, cargo.Station{Behind: 590*in + 35*in/4, Towed: true}))
	if gain(rig.Coach()) != 0 || gain(weight.AxleOf(3)) != 75 || gain(weight.AxleOf(4)) != 25 {
		t.Errorf("tow bar: %v %v %v", gain(rig.Coach()), gain(weight.AxleOf(3)), gain(weight.AxleOf(4)))
	}
}

// Forces and moments balance for random rigs and loads, in floats.
func TestMomentsBalance(t *testing.T) {
	r := rand.New(rand.NewPCG(8, 11))
	for range 300 {
		rig, in := rigtest.TaggedWithTrailer(), weight.Inch
		rig.Coupling = weight.Coupling(1 + r.IntN(3))
		loads := make([]weight.Mass, 10)
		for i := range loads {
			loads[i] = weight.Mass(500 + r.IntN(6_000))
		}
		towed := r.IntN(2) == 0
		st := cargo.Station{Behind: weight.Length(r.IntN(700)) * in, Offset: weight.Length(r.IntN(90)-45) * in, Towed: towed}
		m := weight.Mass(r.IntN(2_000)-500) * lb
		trip := mustTrip(t, weighedOnPads(t, rig, loads...), one("x", m, st))
		var force, pitch, roll float64
		for a := range rig.Axles {
			l := float64(trip.At(1, weight.EndOf(a, weight.Left)).Load - trip.At(0, weight.EndOf(a, weight.Left)).Load)
			g := float64(trip.At(1, weight.EndOf(a, weight.Right)).Load - trip.At(0, weight.EndOf(a, weight.Right)).Load)
			force += l + g
			pitch += (l + g) * float64(rig.Axles[a].Behind)
			roll += (g - l) * float64(rig.Track) / 2
		}
		w := float64(m)
		tol := float64(lb) / 2
		if math.Abs(force-w) > tol || math.Abs(pitch-w*float64(st.Behind)) > tol*700*float64(in) || math.Abs(roll-w*float64(st.Offset)) > tol*40*float64(in) {
			t.Fatalf("%+v at %+v by %s: force %v of %v, pitch %v, roll %v", m, st, rig.Coupling, force, w, pitch/float64(in), roll/float64(in))
		}
	}
}

func TestStages(t *testing.T) {
	rig, in := rigtest.Coach(), weight.Inch
	sol := weighedOnPads(t, rig, 4_600, 4_400, 8_600, 8_400)
	full, err := cargo.Water().Mass(100*weight.USGallon, weight.US)
	if err != nil {
		t.Fatal(err)
	}
	tank := cargo.Station{Name: "fresh tank", Behind: 252 * in}
	trip := mustTrip(t, sol,
		cargo.Stage{Name: "leaving", Changes: []cargo.Change{{Name: "fresh water", Mass: full, At: tank}, {Name: "people", Mass: 300 * lb, At: cargo.Station{Behind: 0}}}},
		one("dry", -100*lb, tank))
	if got := trip.Stages(); !slices.Equal(got, []string{"as weighed", "leaving", "dry"}) {
		t.Errorf("stages %v", got)
	}
	rear := weight.AxleOf(1)
	if e, at := trip.Heaviest(rear); at != 1 || e.Load != 17_835*lb {
		t.Errorf("heaviest: %+v at %d", e, at)
	}
	// The weighed state counts: it may be the heaviest.
	light := mustTrip(t, sol, one("dry", -100*lb, tank))
	if e, at := light.Heaviest(rear); at != 0 || e.Load != 17_000*lb {
		t.Errorf("heaviest: %+v at %d", e, at)
	}
	limit := cargo.Limit{Name: "GAWR", Rating: 17_500 * lb, On: rear}
	for stage, want := range []string{"kept", "over", "kept"} {
		if got := verdict(trip.Margins(stage, []cargo.Limit{limit})[0]); got != want {
			t.Errorf("stage %d: %s, want %s", stage, got, want)
		}
	}
	if trip.At(3, rear).Known() || trip.At(-1, rear).Known() || trip.At(1, weight.WheelOf(1, weight.Left, weight.Inner)).Known() {
		t.Error("what is not there is known")
	}
	// One wheel of a pair: known as weighed, not once something changed.
	pads := weight.Scale{Kind: weight.Pads}
	w := weight.WheelOf(1, weight.Left, weight.Inner)
	wheels := mustSolve(t, rig, []weight.Reading{pads.Reading("inner", 4_000*lb, w)}, pads)
	trip = mustTrip(t, wheels, one("box", lb, tank))
	if !trip.At(0, w).Known() || trip.At(1, w).Known() {
		t.Errorf("one wheel: %+v then %+v", trip.At(0, w), trip.At(1, w))
	}
	if trip.At(1, rear).Known() {
		t.Error("an open axle is known once planned")
	}
}

func TestPlanTripErrors(t *testing.T) {
	in := weight.Inch
	st := cargo.Station{Behind: 100 * in, Offset: 10 * in}
	towed := cargo.Station{Behind: 600 * in, Towed: true}
	for name, c := range map[string]struct {
		change func(r *weight.Rig)
		stage  cargo.Stage
		want   error
	}{
		"axle":           {func(r *weight.Rig) { r.Axles[2].Behind = 0 }, one("x", lb, st), cargo.ErrGeometry},
		"track":          {func(r *weight.Rig) { r.Track = 0 }, one("x", lb, st), cargo.ErrGeometry},
		"hitch":          {func(r *weight.Rig) { r.Hitch = 0 }, one("x", lb, towed), cargo.ErrGeometry},
		"hitch far":      {func(r *weight.Rig) { r.Hitch = 700 * in }, one("x", lb, towed), cargo.ErrPlan},
		"coupling":       {func(r *weight.Rig) { r.Coupling = 0 }, one("x", lb, towed), cargo.ErrGeometry},
		"towed axle":     {func(r *weight.Rig) { r.Axles[4].Behind = 0 }, one("x", lb, towed), cargo.ErrGeometry},
		"towed track":    {func(r *weight.Rig) { r.Track = 0 }, one("x", lb, cargo.Station{Behind: 600 * in, Offset: in, Towed: true}), cargo.ErrGeometry},
		"coach of towed": {func(r *weight.Rig) { r.Axles[1].Behind = 0 }, one("x", lb, towed), cargo.ErrGeometry},
		"tow bar":        {func(r *weight.Rig) { r.Coupling = weight.TowBar; r.Axles = r.Axles[:4] }, one("x", lb, towed), cargo.ErrGeometry},
		"tow bar axle":   {func(r *weight.Rig) { r.Coupling = weight.TowBar; r.Axles[3].Behind = 0 }, one("x", lb, towed), cargo.ErrGeometry},
		"nothing towed":  {func(r *weight.Rig) { r.Axles = r.Axles[:3] }, one("x", lb, towed), cargo.ErrPlan},
		"one axle":       {func(r *weight.Rig) { r.Axles = r.Axles[:1] }, one("x", lb, st), cargo.ErrGeometry},
		"far":            {func(r *weight.Rig) {}, one("x", lb, cargo.Station{Behind: 2 * weight.Kilometer}), cargo.ErrPlan},
		"heavy":          {func(r *weight.Rig) {}, one("x", 1<<62, st), origin.ErrRange},
		"most negative":  {func(r *weight.Rig) {}, one("x", -1<<63, st), origin.ErrRange},
	} {
		rig := rigtest.TaggedWithTrailer()
		c.change(&rig)
		sol := mustSolve(t, rig, nil, weight.Scale{})
		if _, err := cargo.PlanTrip(sol, c.stage); !errors.Is(err, c.want) {
			t.Errorf("%s: %v, want %v", name, err, c.want)
		}
	}
	if _, err := cargo.PlanTrip(weight.Solution{}); !errors.Is(err, cargo.ErrPlan) {
		t.Errorf("nothing weighed: %v", err)
	}
	// A trailer alone stands on its jack: no coach to carry the tongue.
	rig := rigtest.TaggedWithTrailer()
	alone := weight.Rig{Axles: []weight.Axle{{Towed: true}, {Towed: true, Behind: 35 * in}}, Coupling: weight.Tongue, Hitch: rig.Hitch, Track: rig.Track}
	if _, err := cargo.PlanTrip(weighedOnPads(t, alone, 1, 1, 1, 1), one("x", lb, towed)); !errors.Is(err, cargo.ErrPlan) {
		t.Errorf("a hitch behind a trailer alone: %v", err)
	}
}

func TestRoomAt(t *testing.T) {
	rig, in := rigtest.Coach(), weight.Inch
	sol := weighedOnPads(t, rig, 4_600, 4_400, 8_600, 8_400)
	invented := origin.Source{Grade: origin.Invented, Title: "an invented label"}
	limits := []cargo.Limit{
		{Name: "GAWR, steer", Rating: 10_000 * lb, On: weight.AxleOf(0), Source: invented},
		{Name: "GAWR, drive", Rating: 18_000 * lb, On: weight.AxleOf(1), Source: invented},
		{Name: "GVWR, coach", Rating: 27_080 * lb, On: rig.All(), Source: invented},
	}
	leasts := []cargo.LeastLoad{{Name: "steer axle", Load: 8_800 * lb, On: weight.AxleOf(0)}}
	trip := mustTrip(t, sol, one("leaving", 500*lb, cargo.Station{Behind: 252 * in, Name: "bay"}))
	for _, c := range []struct {
		name  string
		stage int
		at    cargo.Station
		mass  weight.Mass
		binds string
	}{
		// Rooms: steer 960, drive 960 (460 leaving), coach 1,000 (500 leaving).
		{"over the steer axle", 0, cargo.Station{Behind: 0}, 960, "GAWR, steer"},
		{"midway", 0, cargo.Station{Behind: 126 * in}, 1_000, "GVWR, coach"},
		{"over the drive axle", 0, cargo.Station{Behind: 252 * in}, 960, "GAWR, drive"},
		{"over the drive axle, leaving", 1, cargo.Station{Behind: 252 * in}, 460, "GAWR, drive"},
		// 126 in behind the drive axle: 1.5 on it; the steer axle has 160 lb
		// over its least and loses half.
		{"tail", 0, cargo.Station{Behind: 378 * in}, 320, "steer axle"},
		{"its own limit", 0, cargo.Station{Name: "bay", Behind: 252 * in, Most: 700 * lb}, 700, "bay"},
		{"its own limit, leaving", 1, cargo.Station{Name: "bay", Behind: 252 * in, Most: 700 * lb}, 200, "bay"},
	} {
		room, err := trip.RoomAt(c.stage, c.at, limits, leasts)
		if err != nil || room.Mass != c.mass*lb || room.LimitedBy != c.binds || !room.Known {
			t.Errorf("%s: %+v, %v", c.name, room, err)
			continue
		}
		// Loading it keeps all; a grid step more breaks the one that binds.
		for _, extra := range []weight.Mass{0, lb / 50} {
			at := c.at
			kept := true
			var changes []cargo.Change
			if c.stage == 1 {
				changes = append(changes, cargo.Change{Mass: 500 * lb, At: cargo.Station{Behind: 252 * in}})
			}
			next := mustTrip(t, sol, cargo.Stage{Changes: append(changes, cargo.Change{Mass: room.Mass + extra, At: at})})
			for _, m := range next.Margins(1, limits) {
				kept = kept && m.Kept()
			}
			kept = kept && next.At(1, leasts[0].On).AtLeast() >= leasts[0].Load
			if c.at.Most == 0 && kept != (extra == 0) {
				t.Errorf("%s: %s and %s more: kept %v", c.name, room.Mass, extra, kept)
			}
		}
	}
	// Already not surely kept: nothing more goes there.
	tight := []cargo.Limit{{Name: "GAWR, drive", Rating: 17_020 * lb, On: weight.AxleOf(1)}}
	if room, _ := trip.RoomAt(0, cargo.Station{Behind: 252 * in}, tight, nil); room.Mass != 0 || !room.Known || room.LimitedBy != "GAWR, drive" {
		t.Errorf("too close to call: %+v", room)
	}
	low := []cargo.LeastLoad{{Name: "steer axle", Load: 9_000 * lb, On: weight.AxleOf(0)}}
	if room, _ := trip.RoomAt(0, cargo.Station{Behind: 378 * in}, nil, low); room.Mass != 0 || !room.Known {
		t.Errorf("steer axle at its least: %+v", room)
	}
	// What is not known is named, not passed.
	open := []cargo.Limit{{Name: "hitch rating, ball", Rating: lb}, {Name: "GVWR", On: rig.All()}, {Name: "wheel rating", Rating: lb, On: weight.WheelOf(1, weight.Left, weight.Inner)}}
	room, err := trip.RoomAt(0, cargo.Station{Behind: 252 * in}, open, []cargo.LeastLoad{{Name: "far", On: weight.AxleOf(7)}, {Name: "wheel", On: weight.WheelOf(1, weight.Left, weight.Inner)}})
	if err != nil || room.Known || room.Mass != 0 || !slices.Equal(room.NotJudged, []string{"hitch rating, ball", "GVWR", "wheel rating", "wheel"}) {
		t.Errorf("not judged: %+v, %v", room, err)
	}
	if room, _ := trip.RoomAt(0, cargo.Station{Behind: 252 * in}, append(open, limits...), nil); room.Mass != 960*lb || len(room.NotJudged) != 3 {
		t.Errorf("some judged: %+v", room)
	}
	// A disputed steer axle has no sure least.
	pads := weight.Scale{Kind: weight.Pads, Stance: weight.Stance{Level: weight.Yes}}
	disputed := mustSolve(t, rig, []weight.Reading{pads.Reading("a", 9_000*lb, weight.AxleOf(0)), pads.Reading("b", 9_900*lb, weight.AxleOf(0))}, pads)
	if room, _ := mustTrip(t, disputed).RoomAt(0, cargo.Station{Behind: 378 * in}, nil, leasts); room.Mass != 0 || !room.Known {
		t.Errorf("disputed: %+v", room)
	}
	emptied := mustTrip(t, sol, one("emptied", -lb, cargo.Station{Name: "bay", Behind: 252 * in}))
	if _, err := emptied.RoomAt(1, cargo.Station{Name: "bay", Behind: 252 * in, Most: 1<<63 - 1}, nil, nil); !errors.Is(err, origin.ErrRange) {
		t.Errorf("a place without bounds: %v", err)
	}
	for _, stage := range []int{-1, 2} {
		if _, err := trip.RoomAt(stage, cargo.Station{}, nil, nil); !errors.Is(err, cargo.ErrPlan) {
			t.Errorf("stage %d: %v", stage, err)
		}
	}
	if _, err := trip.RoomAt(0, cargo.Station{Towed: true}, nil, nil); !errors.Is(err, cargo.ErrGeometry) {
		t.Errorf("no coupling: %v", err)
	}
	if _, err := trip.RoomAt(0, cargo.Station{Behind: 378 * in}, nil, []cargo.LeastLoad{{Load: -(1<<63 - 1), On: weight.AxleOf(0)}}); !errors.Is(err, origin.ErrRange) {
		t.Errorf("past the range: %v", err)
	}
}
