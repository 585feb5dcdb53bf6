package weight_test

import (
	"errors"
	"math/big"
	"math/rand/v2"
	"slices"
	"testing"

	"axleend.example/internal/rigtest"
	"axleend.example/rules/origin"
	"axleend.example/weight"
)

func TestScaleTolerances(t *testing.T) {
	// NIST Handbook 44 T.N.3 at 20 lb: 20 lb to 10,000 lb, 40 to 20,000, 60 to
	// 30,000, 80 to 40,000; acceptance is half (NIST Handbook 44, from memory).
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
	for _, s := range []origin.Source{scale.Tolerance().Source, fresh.Tolerance().Source, weight.MinimumLoadSource()} {
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
		// Computed from moments: about 360 lb on 26,000 lb.
		{26_000 * lb, 2 * weight.Percent, 54 * in, 78 * in, 360 * lb},
		{26_000 * lb, weight.UsualCrossfall, 0, 0, 360 * lb},
		{26_000 * lb, 0, 54 * in, 78 * in, 0},
		{0, 2 * weight.Percent, 0, 0, 0},
		{78 * lb, weight.Whole, in, 78 * in, lb},
	} {
		if got, err := weight.CrossfallShift(c.load, c.slope, c.height, c.track); err != nil || got != c.want {
			t.Errorf("%+v: got %s, %v", c, got, err)
		}
	}
	for _, c := range []struct {
		load          weight.Mass
		slope         weight.Share
		height, track weight.Length
	}{{-1, 1, in, in}, {1, -1, in, in}, {1, 1, -in, in}, {1, 1, in, -in}, {1, 1, 2 * weight.Kilometer, in}, {1 << 62, weight.Whole, weight.Kilometer, in}} {
		if _, err := weight.CrossfallShift(c.load, c.slope, c.height, c.track); !errors.Is(err, origin.ErrRange) {
			t.Errorf("%+v: %v", c, err)
		}
	}
	// Never less than the exact moment.
	r := rand.New(rand.NewPCG(8, 6))
	for range 2_000 {
		load := weight.Mass(r.Int64N(int64(40_000 * lb)))
		slope, h, tr := weight.Share(r.IntN(1000)), weight.Length(1+r.Int64N(int64(3*weight.Meter))), weight.Length(1+r.Int64N(int64(3*weight.Meter)))
		got, err := weight.CrossfallShift(load, slope, h, tr)
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
	yes := weight.Stance{Level: weight.Yes, RideHeight: weight.Yes, LevelersUp: weight.Yes, SlidesIn: weight.Yes, Tanks: weight.Yes, Fuel: weight.Yes, People: weight.Yes, Hitched: weight.Yes}
	rig := rigtest.TaggedWithTrailer()
	if got := yes.Cautions(rig); got != nil {
		t.Errorf("all as driven: %v", got)
	}
	all := []weight.Caution{weight.NotLevel, weight.NotAtRideHeight, weight.LevelersDown, weight.SlidesOut, weight.TanksNotAsDriven, weight.FuelNotAsDriven, weight.PeopleNotAsDriven, weight.NotHitched}
	if got := (weight.Stance{}).Cautions(rig); !slices.Equal(got, all) {
		t.Errorf("nothing said: %v", got)
	}
	no := yes
	no.SlidesIn, no.Tanks = weight.No, weight.No
	if got := no.Cautions(rig); !slices.Equal(got, []weight.Caution{weight.SlidesOut, weight.TanksNotAsDriven}) {
		t.Errorf("slides and tanks: %v", got)
	}
	alone := rigtest.Coach()
	alone.Air = weight.No
	if got := (weight.Stance{}).Cautions(alone); slices.Contains(got, weight.NotAtRideHeight) || slices.Contains(got, weight.NotHitched) {
		t.Errorf("no air, nothing towed: %v", got)
	}
}
