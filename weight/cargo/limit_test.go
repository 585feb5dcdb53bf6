package cargo_test

import (
	"testing"

	"axleend.example/internal/rigtest"
	"axleend.example/weight"
	"axleend.example/weight/cargo"
)

func TestMargins(t *testing.T) {
	e := weight.Estimate{Load: 5_000 * lb, PlusMinus: 40 * lb, State: weight.Determined}
	for _, c := range []struct {
		rating  weight.Mass
		e       weight.Estimate
		verdict string
		room    weight.Mass
	}{
		{5_040 * lb, e, "kept", 0},
		{5_040*lb - 1, e, "too close", -1},
		{5_000 * lb, e, "too close", -40 * lb},
		{4_960 * lb, e, "too close", -80 * lb},
		{4_960*lb - 1, e, "over", -80*lb - 1},
		{6_000 * lb, e, "kept", 960 * lb},
		{0, e, "not known", 0},
		{-1, e, "not known", 0},
		{5_000 * lb, weight.Estimate{}, "not known", 0},
		{6_000 * lb, weight.Estimate{Load: 5_000 * lb, PlusMinus: 40 * lb, State: weight.Disputed}, "too close", 960 * lb},
		{4_000 * lb, weight.Estimate{Load: 5_000 * lb, PlusMinus: 40 * lb, State: weight.Disputed}, "over", -1_040 * lb},
		{6_000 * lb, weight.Estimate{Load: 5_000 * lb, PlusMinus: 40 * lb, State: weight.Assumed}, "kept", 960 * lb},
		{5_100 * lb, weight.Estimate{Load: 5_000 * lb, PlusMinus: 101 * lb, FromSlope: 61 * lb, State: weight.Determined}, "too close", -lb},
		{4_900 * lb, weight.Estimate{Load: 5_000 * lb, PlusMinus: 100 * lb, FromSlope: 60 * lb, State: weight.Determined}, "too close", -200 * lb},
		{lb, weight.Estimate{Load: 1<<63 - 1, PlusMinus: 1<<63 - 1, State: weight.Determined}, "too close", lb - (1<<63 - 1)},
		{1<<63 - 1, weight.Estimate{Load: -(1<<63 - 1), PlusMinus: 1, State: weight.Determined}, "kept", 1<<63 - 1},
	} {
		limit := cargo.Limit{Name: "GAWR", Rating: c.rating}
		m := cargo.MarginOf(limit, c.e)
		if verdict(m) != c.verdict || m.Room != c.room || m.Limit != limit || m.Estimate != c.e {
			t.Errorf("%s against %+v: %s, room %d; want %s, room %d", c.rating, c.e, verdict(m), m.Room, c.verdict, c.room)
		}
	}
	if (weight.Estimate{Load: -5, PlusMinus: 3, State: weight.Determined}).AtLeast() != -8 {
		t.Error("least of a negative load")
	}
}

// verdict says what a margin is.
func verdict(m cargo.Margin) string {
	switch {
	case !m.Known():
		return "not known"
	case m.Kept() && m.Over():
		return "both"
	case m.Kept():
		return "kept"
	case m.Over():
		return "over"
	}
	return "too close"
}

// axleLimits are an axle's GAWR, and half of it at each end as shops hold it
// (common practice).
func axleLimits(axle int, name string, gawr weight.Mass) []cargo.Limit {
	return []cargo.Limit{
		{Name: "GAWR, " + name, Rating: gawr, On: weight.AxleOf(axle), Source: invented},
		{Name: "half GAWR, " + name + ", left end", Rating: gawr / 2, On: weight.EndOf(axle, weight.Left), Source: invented},
		{Name: "half GAWR, " + name + ", right end", Rating: gawr / 2, On: weight.EndOf(axle, weight.Right), Source: invented},
	}
}

func TestMarginsOfAWeighing(t *testing.T) {
	// A 5,000 lb axle is 2,500 lb an end, a 10,000 lb dual axle 5,000 lb an
	// end (common practice); 3,000 + 2,000 is wrong although the sum is right.
	limits := axleLimits(0, "steer", 5_000*lb)
	rig := rigtest.Coach()
	pads := weight.Scale{Kind: weight.Pads, Rule: weight.ToleranceRule{Step: lb}}
	sol := mustSolve(t, rig, []weight.Reading{pads.Reading("left", 3_000*lb, weight.EndOf(0, weight.Left)), pads.Reading("right", 1_990*lb, weight.EndOf(0, weight.Right))}, pads)
	want := []string{"kept", "over", "kept"}
	for i, m := range cargo.Margins(sol, limits) {
		if verdict(m) != want[i] {
			t.Errorf("%s: %s, want %s", m.Limit.Name, verdict(m), want[i])
		}
	}
	// GCWR counts everything rolling: coach and towed unit (571.3; common practice).
	rig = rigtest.TaggedWithTrailer()
	sol = mustSolve(t, rig, []weight.Reading{pads.Reading("coach", 30_000*lb, rig.Coach()), pads.Reading("trailer", 9_000*lb, rig.Towed())}, pads)
	gcwr := cargo.Limit{Name: "GCWR", Rating: 38_000 * lb, On: rig.All()}
	gvwr := cargo.Limit{Name: "GVWR", Rating: 32_000 * lb, On: rig.Coach()}
	if m := cargo.Margins(sol, []cargo.Limit{gcwr, gvwr}); !m[0].Over() || !m[1].Kept() {
		t.Errorf("GCWR %s, GVWR %s", verdict(m[0]), verdict(m[1]))
	}
}
