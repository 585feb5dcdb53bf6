package cargo_test

import (
	"testing"

	"axleend.example/internal/rigtest"
	"axleend.example/rules/origin"
	"axleend.example/weight"
	"axleend.example/weight/cargo"
)

func TestMargins(t *testing.T) {
	e := weight.Estimate{Load: 5_000 * lb, PlusMinus: 40 * lb, State: weight.Determined}
	for _, c := range []struct {
		rating  weight.Mass
		e       weight.Estimate
		verdict cargo.Verdict
		room    weight.Mass
	}{
		{5_040 * lb, e, cargo.Kept, 0},
		{5_040*lb - 1, e, cargo.TooClose, -1},
		{5_000 * lb, e, cargo.TooClose, -40 * lb},
		{4_960 * lb, e, cargo.TooClose, -80 * lb},
		{4_960*lb - 1, e, cargo.Over, -80*lb - 1},
		{6_000 * lb, e, cargo.Kept, 960 * lb},
		{0, e, cargo.NotKnown, 0},
		{-1, e, cargo.NotKnown, 0},
		{5_000 * lb, weight.Estimate{}, cargo.NotKnown, 0},
		{6_000 * lb, weight.Estimate{Load: 5_000 * lb, PlusMinus: 40 * lb, State: weight.Disputed}, cargo.TooClose, 960 * lb},
		{4_000 * lb, weight.Estimate{Load: 5_000 * lb, PlusMinus: 40 * lb, State: weight.Disputed}, cargo.Over, -1_040 * lb},
		{6_000 * lb, weight.Estimate{Load: 5_000 * lb, PlusMinus: 40 * lb, State: weight.Assumed}, cargo.Kept, 960 * lb},
		{5_100 * lb, weight.Estimate{Load: 5_000 * lb, PlusMinus: 101 * lb, FromSlope: 61 * lb, State: weight.Determined}, cargo.TooClose, -lb},
		{4_900 * lb, weight.Estimate{Load: 5_000 * lb, PlusMinus: 100 * lb, FromSlope: 60 * lb, State: weight.Determined}, cargo.TooClose, -200 * lb},
		{lb, weight.Estimate{Load: 1<<63 - 1, PlusMinus: 1<<63 - 1, State: weight.Determined}, cargo.TooClose, lb - (1<<63 - 1)},
		{1<<63 - 1, weight.Estimate{Load: -(1<<63 - 1), PlusMinus: 1, State: weight.Determined}, cargo.Kept, 1<<63 - 1},
	} {
		limit := cargo.Limit{Kind: cargo.GAWR, Rating: c.rating}
		m := cargo.MarginOf(limit, c.e)
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
	limits := cargo.AxleLimits(0, "steer", 5_000*lb, src)
	rig := rigtest.Coach()
	pads := weight.Scale{Kind: weight.Pads, Rule: weight.ToleranceRule{Step: lb}}
	sol := mustSolve(t, rig, []weight.Reading{pads.Reading("left", 3_000*lb, weight.EndOf(0, weight.Left)), pads.Reading("right", 1_990*lb, weight.EndOf(0, weight.Right))}, pads)
	want := []cargo.Verdict{cargo.Kept, cargo.Over, cargo.Kept}
	for i, m := range cargo.Margins(sol, limits) {
		if m.Verdict != want[i] {
			t.Errorf("%s: %s, want %s", m.Limit.Name, m.Verdict, want[i])
		}
	}
	if limits[1].Rating != 2_500*lb || limits[0].Source != src || limits[1].Source.Grade != origin.CommonPractice {
		t.Errorf("limits %+v", limits)
	}
	if got := cargo.AxleLimits(0, "odd", 5, src); got[1].Rating != 2 {
		t.Errorf("half of 5 is rounded to %d", got[1].Rating)
	}
	// GCWR counts everything rolling: coach and towed unit (571.3; common practice).
	rig = rigtest.TaggedWithTrailer()
	sol = mustSolve(t, rig, []weight.Reading{pads.Reading("coach", 30_000*lb, rig.Coach()), pads.Reading("trailer", 9_000*lb, rig.Towed())}, pads)
	gcwr := cargo.Limit{Kind: cargo.GCWR, Rating: 38_000 * lb, On: rig.All()}
	gvwr := cargo.Limit{Kind: cargo.GVWR, Rating: 32_000 * lb, On: rig.Coach()}
	if m := cargo.Margins(sol, []cargo.Limit{gcwr, gvwr}); m[0].Verdict != cargo.Over || m[1].Verdict != cargo.Kept {
		t.Errorf("GCWR %s, GVWR %s", m[0].Verdict, m[1].Verdict)
	}
}
