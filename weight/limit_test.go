package weight_test

import (
	"errors"
	"math/big"
	"math/rand/v2"
	"slices"
	"testing"

	"axleend.example/rules/origin"
	"axleend.example/weight"
)

func TestScaleTolerances(t *testing.T) {
	// NIST Handbook 44 T.N.3 at 20 lb: 20 lb to 10,000 lb, 40 to 20,000, 60 to
	// 30,000, 80 to 40,000; acceptance is half (FACTS section 3, from memory).
	scale := weight.Scale{Division: 20 * lb}
	fresh := weight.Scale{Division: 20 * lb, Rule: weight.AcceptanceIIIL(20 * lb)}
	for _, c := range []struct{ load, want weight.Mass }{
		{1, 20}, {10_000, 20}, {10_001, 40}, {20_000, 40}, {20_001, 60}, {26_000, 60}, {30_000, 60}, {30_001, 80}, {40_000, 80},
	} {
		if got := scale.ToleranceFor(c.load * lb); got != c.want*lb {
			t.Errorf("%d lb: plus/minus %s, want %d lb", c.load, got, c.want)
		}
		if got := fresh.ToleranceFor(c.load * lb); got != c.want*lb/2 {
			t.Errorf("%d lb, acceptance: plus/minus %s, want %d lb", c.load, got, c.want/2)
		}
	}
	if got := scale.MinimumLoad(); got != 1_000*lb {
		t.Errorf("minimum load %s, want 1000 lb (UR.3.7, from memory)", got)
	}
	for _, s := range []origin.Source{scale.Tolerance().Source, fresh.Tolerance().Source, weight.MinimumSource()} {
		if s.Grade != origin.FromMemory || s.Title != "NIST Handbook 44" || s.Check() != nil {
			t.Errorf("source %s", s)
		}
	}
	// The zero Scale, and rules without a step, are never exact.
	for _, s := range []weight.Scale{{}, {Division: -1}, {Rule: weight.ToleranceRule{Per: lb}}, {Rule: weight.ToleranceRule{Step: -1}}, {Rule: weight.ToleranceRule{Step: 1, Per: -1}}} {
		if got := s.ToleranceFor(26_000 * lb); got != 60*lb {
			t.Errorf("%+v: plus/minus %s", s, got)
		}
	}
	// A stated tolerance that does not depend on the load.
	pads := weight.Scale{Kind: weight.Pads, Rule: weight.ToleranceRule{Step: 25 * lb}}
	if pads.ToleranceFor(1) != 25*lb || pads.ToleranceFor(1<<62) != 25*lb {
		t.Error("a fixed tolerance moves")
	}
	if got := (weight.Scale{Rule: weight.ToleranceRule{Step: 1 << 50, Per: 1}}).ToleranceFor(1 << 60); got != 1<<63-1 {
		t.Errorf("a tolerance past the range: %d", got)
	}
	odd := weight.AcceptanceIIIL(3)
	if odd.Step != 2 {
		t.Errorf("half of 3 rounds to %d", odd.Step)
	}
	if r := scale.Reading("x", 26_000*lb, 1); r.Tolerance != 60*lb || r.Load != 26_000*lb || r.Name != "x" || r.On != 1 {
		t.Errorf("reading %+v", r)
	}
}

func TestCrossfall(t *testing.T) {
	in := weight.Inch
	for _, c := range []struct {
		load          weight.Mass
		slope         weight.Share
		height, track weight.Length
		want          weight.Mass
	}{
		// FACTS section 3 (computed): about 360 lb on 26,000 lb.
		{26_000 * lb, 2 * weight.Percent, 54 * in, 78 * in, 360 * lb},
		{26_000 * lb, weight.UsualCrossfall, 0, 0, 360 * lb},
		{26_000 * lb, 0, 54 * in, 78 * in, 0},
		{0, 2 * weight.Percent, 0, 0, 0},
		{78 * lb, weight.Whole, in, 78 * in, lb},
	} {
		if got, err := weight.Crossfall(c.load, c.slope, c.height, c.track); err != nil || got != c.want {
			t.Errorf("%+v: got %s, %v", c, got, err)
		}
	}
	for _, c := range []struct {
		load          weight.Mass
		slope         weight.Share
		height, track weight.Length
	}{{-1, 1, in, in}, {1, -1, in, in}, {1, 1, -in, in}, {1, 1, in, -in}, {1, 1, 2 * weight.Kilometer, in}, {1 << 62, weight.Whole, weight.Kilometer, in}} {
		if _, err := weight.Crossfall(c.load, c.slope, c.height, c.track); !errors.Is(err, origin.ErrRange) {
			t.Errorf("%+v: %v", c, err)
		}
	}
	// Never less than the exact moment.
	r := rand.New(rand.NewPCG(8, 6))
	for range 2_000 {
		load := weight.Mass(r.Int64N(int64(40_000 * lb)))
		slope, h, tr := weight.Share(r.IntN(1000)), weight.Length(1+r.Int64N(int64(3*weight.Meter))), weight.Length(1+r.Int64N(int64(3*weight.Meter)))
		got, err := weight.Crossfall(load, slope, h, tr)
		if err != nil {
			continue
		}
		exact := big.NewRat(int64(load), 1)
		exact.Mul(exact, big.NewRat(int64(slope), int64(weight.Whole))).Mul(exact, big.NewRat(int64(h), int64(tr)))
		if new(big.Rat).SetInt64(int64(got)).Cmp(exact) < 0 {
			t.Fatalf("%s, %s, %s, %s: %s is less than %s", load, slope, h, tr, got, exact.FloatString(1))
		}
	}
}

func TestStandCautions(t *testing.T) {
	yes := weight.Stand{Level: weight.Yes, RideHeight: weight.Yes, LevelersUp: weight.Yes, SlidesIn: weight.Yes, Tanks: weight.Yes, Fuel: weight.Yes, People: weight.Yes, Hitched: weight.Yes}
	rig := taggedWithTrailer()
	if got := yes.Cautions(rig); got != nil {
		t.Errorf("all as driven: %v", got)
	}
	all := []weight.Caution{weight.NotLevel, weight.NotAtRideHeight, weight.LevelersDown, weight.SlidesOut, weight.TanksNotAsDriven, weight.FuelNotAsDriven, weight.PeopleNotAsDriven, weight.NotHitched}
	if got := (weight.Stand{}).Cautions(rig); !slices.Equal(got, all) {
		t.Errorf("nothing said: %v", got)
	}
	no := yes
	no.SlidesIn, no.Tanks = weight.No, weight.No
	if got := no.Cautions(rig); !slices.Equal(got, []weight.Caution{weight.SlidesOut, weight.TanksNotAsDriven}) {
		t.Errorf("slides and tanks: %v", got)
	}
	alone := coach()
	alone.Air = weight.No
	if got := (weight.Stand{}).Cautions(alone); slices.Contains(got, weight.NotAtRideHeight) || slices.Contains(got, weight.NotHitched) {
		t.Errorf("no air, nothing towed: %v", got)
	}
}

func TestMargins(t *testing.T) {
	e := weight.Estimate{Load: 5_000 * lb, PlusMinus: 40 * lb, State: weight.Determined}
	for _, c := range []struct {
		rating  weight.Mass
		e       weight.Estimate
		verdict weight.Verdict
		room    weight.Mass
	}{
		{5_040 * lb, e, weight.Kept, 0},
		{5_040*lb - 1, e, weight.TooClose, -1},
		{5_000 * lb, e, weight.TooClose, -40 * lb},
		{4_960 * lb, e, weight.TooClose, -80 * lb},
		{4_960*lb - 1, e, weight.Over, -80*lb - 1},
		{6_000 * lb, e, weight.Kept, 960 * lb},
		{0, e, weight.NotKnown, 0},
		{-1, e, weight.NotKnown, 0},
		{5_000 * lb, weight.Estimate{}, weight.NotKnown, 0},
		{6_000 * lb, weight.Estimate{Load: 5_000 * lb, PlusMinus: 40 * lb, State: weight.Disputed}, weight.TooClose, 960 * lb},
		{4_000 * lb, weight.Estimate{Load: 5_000 * lb, PlusMinus: 40 * lb, State: weight.Disputed}, weight.Over, -1_040 * lb},
		{6_000 * lb, weight.Estimate{Load: 5_000 * lb, PlusMinus: 40 * lb, State: weight.Assumed}, weight.Kept, 960 * lb},
		{5_100 * lb, weight.Estimate{Load: 5_000 * lb, PlusMinus: 40 * lb, Tilt: 61 * lb, State: weight.Determined}, weight.TooClose, -lb},
		{4_900 * lb, weight.Estimate{Load: 5_000 * lb, PlusMinus: 40 * lb, Tilt: 60 * lb, State: weight.Determined}, weight.TooClose, -200 * lb},
		{lb, weight.Estimate{Load: 1<<63 - 1, PlusMinus: 1<<63 - 1, State: weight.Determined}, weight.TooClose, lb - (1<<63 - 1)},
		{1<<63 - 1, weight.Estimate{Load: -(1<<63 - 1), PlusMinus: 1, State: weight.Determined}, weight.Kept, 1<<63 - 1},
	} {
		limit := weight.Limit{Kind: weight.GAWR, Rating: c.rating}
		m := weight.MarginOf(limit, c.e)
		if m.Verdict != c.verdict || m.Room != c.room || m.Limit != limit || m.Estimate != c.e {
			t.Errorf("%s against %+v: %s, room %d; want %s, room %d", c.rating, c.e, m.Verdict, m.Room, c.verdict, c.room)
		}
	}
	if (weight.Estimate{Load: -5, PlusMinus: 3, State: weight.Determined}).AtLeast() != -8 {
		t.Error("least of a negative load")
	}
}

func TestAxleLimits(t *testing.T) {
	// A 5,000 lb axle is 2,500 lb an end, a 10,000 lb dual axle 5,000 lb an
	// end (common practice); 3,000 + 2,000 is wrong although the sum is right.
	src := origin.Source{Grade: origin.Invented, Title: "an invented ratings label"}
	limits := weight.AxleLimits(0, "steer", 5_000*lb, src)
	rig := coach()
	pads := weight.Scale{Kind: weight.Pads, Rule: weight.ToleranceRule{Step: lb}}
	sol := mustSolve(t, rig, []weight.Reading{pads.Reading("left", 3_000*lb, weight.EndOf(0, weight.Left)), pads.Reading("right", 1_990*lb, weight.EndOf(0, weight.Right))}, pads)
	want := []weight.Verdict{weight.Kept, weight.Over, weight.Kept}
	for i, m := range sol.Margins(limits) {
		if m.Verdict != want[i] {
			t.Errorf("%s: %s, want %s", m.Limit.Name, m.Verdict, want[i])
		}
	}
	if limits[1].Rating != 2_500*lb || limits[0].Source != src || limits[1].Source.Grade != origin.CommonPractice {
		t.Errorf("limits %+v", limits)
	}
	if got := weight.AxleLimits(0, "odd", 5, src); got[1].Rating != 2 {
		t.Errorf("half of 5 is rounded to %d", got[1].Rating)
	}
	// GCWR counts everything rolling: coach and towed unit (571.3; common practice).
	rig = taggedWithTrailer()
	sol = mustSolve(t, rig, []weight.Reading{pads.Reading("coach", 30_000*lb, rig.Coach()), pads.Reading("trailer", 9_000*lb, rig.Towed())}, pads)
	gcwr := weight.Limit{Kind: weight.GCWR, Rating: 38_000 * lb, On: rig.All()}
	gvwr := weight.Limit{Kind: weight.GVWR, Rating: 32_000 * lb, On: rig.Coach()}
	if m := sol.Margins([]weight.Limit{gcwr, gvwr}); m[0].Verdict != weight.Over || m[1].Verdict != weight.Kept {
		t.Errorf("GCWR %s, GVWR %s", m[0].Verdict, m[1].Verdict)
	}
}

func TestTongueWeight(t *testing.T) {
	est := func(load, pm weight.Mass) weight.Estimate {
		return weight.Estimate{Load: load * lb, PlusMinus: pm * lb, State: weight.Determined, Drafts: 1}
	}
	// A difference carries both tolerances (computed).
	got, err := weight.TongueFromCoach(est(31_200, 80), est(30_000, 60))
	if want := (weight.Estimate{Load: 1_200 * lb, PlusMinus: 140 * lb, State: weight.Determined, Drafts: 2, Subtracted: true}); err != nil || got != want {
		t.Errorf("from the coach: %+v, %v", got, err)
	}
	got, err = weight.TongueFromTowed(est(9_000, 20), est(7_800, 20))
	if err != nil || got.Load != 1_200*lb || got.PlusMinus != 40*lb {
		t.Errorf("from the trailer: %+v, %v", got, err)
	}
	if got, err := weight.TongueFromCoach(est(31_200, 80), weight.Estimate{}); err != nil || got.Known() {
		t.Errorf("one weighing: %+v, %v", got, err)
	}
	disputed := est(30_000, 60)
	disputed.State = weight.Disputed
	if got, _ := weight.TongueFromCoach(est(31_200, 80), disputed); got.State != weight.Disputed {
		t.Errorf("from a disputed weighing: %s", got.State)
	}
	if got, _ := weight.TongueFromCoach(est(30_000, 20), est(30_100, 20)); got.Load != -100*lb {
		t.Errorf("a tongue that lifts: %+v", got)
	}
	huge := weight.Estimate{Load: 1<<63 - 1, PlusMinus: 1<<63 - 1, Tilt: 1<<63 - 1, State: weight.Determined}
	for _, pair := range [][2]weight.Estimate{{huge, {Load: -1, State: weight.Determined}}, {huge, {Load: 1, PlusMinus: 1, State: weight.Determined}}, {huge, {Load: 1, Tilt: 1, State: weight.Determined}}} {
		if _, err := weight.TongueFromCoach(pair[0], pair[1]); !errors.Is(err, origin.ErrRange) {
			t.Errorf("past the range: %v", err)
		}
	}

	// Tongue 10 to 15 % of the loaded trailer, pin 15 to 25 % (common practice).
	tongue, pin := weight.TongueBand(), weight.PinBand()
	if tongue.Low != 10*weight.Percent || tongue.High != 15*weight.Percent || pin.Low != 15*weight.Percent || pin.High != 25*weight.Percent ||
		tongue.Source.Grade != origin.CommonPractice || pin.Source.Grade != origin.CommonPractice {
		t.Errorf("bands %+v %+v", tongue, pin)
	}
	trailer := est(10_000, 0)
	for _, c := range []struct {
		part weight.Estimate
		of   weight.Estimate
		want weight.BandVerdict
	}{
		{est(1_000, 0), trailer, weight.Within},
		{est(1_500, 0), trailer, weight.Within},
		{est(999, 0), trailer, weight.Below},
		{est(1_501, 0), trailer, weight.Above},
		{est(1_000, 1), trailer, weight.BandTooClose},
		{est(1_200, 100), trailer, weight.Within},
		{est(1_500, 1), trailer, weight.BandTooClose},
		{est(1_000, 0), est(10_000, 1), weight.BandTooClose},
		{est(-100, 20), trailer, weight.Below},
		{est(-100, 2_000), trailer, weight.BandTooClose},
		{est(1_200, 0), weight.Estimate{}, weight.BandNotKnown},
		{weight.Estimate{}, trailer, weight.BandNotKnown},
		{est(1_200, 0), est(10, 20), weight.BandNotKnown},
	} {
		if got := tongue.Judge(c.part, c.of); got != c.want {
			t.Errorf("%s +- %s of %s: %s, want %s", c.part.Load, c.part.PlusMinus, c.of.Load, got, c.want)
		}
	}
	d := est(1_200, 0)
	d.State = weight.Disputed
	if got := tongue.Judge(d, trailer); got != weight.BandTooClose {
		t.Errorf("disputed: %s", got)
	}
	// Exact worst case against fractions, corner by corner.
	r := rand.New(rand.NewPCG(8, 7))
	for range 3_000 {
		part, whole := est(weight.Mass(r.IntN(2_400)-200), weight.Mass(r.IntN(300))), est(weight.Mass(8_000+r.IntN(3_000)), weight.Mass(r.IntN(300)))
		below, above := 0, 0
		for _, p := range []weight.Mass{part.AtLeast(), part.AtMost()} {
			for _, w := range []weight.Mass{whole.AtLeast(), whole.AtMost()} {
				q := big.NewRat(int64(p), int64(w))
				if q.Cmp(big.NewRat(10, 100)) < 0 {
					below++
				}
				if q.Cmp(big.NewRat(15, 100)) > 0 {
					above++
				}
			}
		}
		want := weight.BandTooClose
		switch {
		case below == 4:
			want = weight.Below
		case above == 4:
			want = weight.Above
		case below+above == 0:
			want = weight.Within
		}
		if got := tongue.Judge(part, whole); got != want {
			t.Fatalf("%+v of %+v: %s, want %s", part, whole, got, want)
		}
	}
	for _, odd := range []weight.Band{{Low: -weight.Percent, High: weight.Percent}, {Low: 2 * weight.Percent, High: weight.Percent}} {
		if got := odd.Judge(est(1_200, 0), trailer); got != weight.BandNotKnown {
			t.Errorf("an impossible band: %s", got)
		}
	}
}
