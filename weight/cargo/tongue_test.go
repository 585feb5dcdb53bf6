package cargo_test

import (
	"errors"
	"math/rand/v2"
	"testing"

	"axleend.example/internal/rigtest"
	"axleend.example/rules/origin"
	"axleend.example/weight"
	"axleend.example/weight/cargo"
)

func TestTongueWeight(t *testing.T) {
	est := func(load, pm weight.Mass) weight.Estimate {
		return weight.Estimate{Load: load * lb, PlusMinus: pm * lb, State: weight.Determined, Drafts: 1}
	}
	// A difference carries both tolerances (computed).
	got, err := cargo.TongueFromCoach(est(31_200, 80), est(30_000, 60))
	if want := (weight.Estimate{Load: 1_200 * lb, PlusMinus: 140 * lb, State: weight.Determined, Drafts: 2, Subtracted: true}); err != nil || got != want {
		t.Errorf("from the coach: %+v, %v", got, err)
	}
	got, err = cargo.TongueFromTowed(est(9_000, 20), est(7_800, 20))
	if err != nil || got.Load != 1_200*lb || got.PlusMinus != 40*lb {
		t.Errorf("from the trailer: %+v, %v", got, err)
	}
	if got, err := cargo.TongueFromCoach(est(31_200, 80), weight.Estimate{}); err != nil || got.Known() {
		t.Errorf("one weighing: %+v, %v", got, err)
	}
	disputed := est(30_000, 60)
	disputed.State = weight.Disputed
	if got, _ := cargo.TongueFromCoach(est(31_200, 80), disputed); got.State != weight.Disputed {
		t.Errorf("from a disputed weighing: %s", got.State)
	}
	if got, _ := cargo.TongueFromCoach(est(30_000, 20), est(30_100, 20)); got.Load != -100*lb {
		t.Errorf("a tongue that lifts: %+v", got)
	}
	huge := weight.Estimate{Load: 1<<63 - 1, PlusMinus: 1<<63 - 1, FromSlope: 1<<63 - 1, State: weight.Determined}
	for _, pair := range [][2]weight.Estimate{{huge, {Load: -1, State: weight.Determined}}, {huge, {Load: 1, PlusMinus: 1, State: weight.Determined}}, {huge, {Load: 1, FromSlope: 1, State: weight.Determined}}} {
		if _, err := cargo.TongueFromCoach(pair[0], pair[1]); !errors.Is(err, origin.ErrRange) {
			t.Errorf("past the range: %v", err)
		}
	}
}

// A coach of 30,000 lb and a trailer of 9,000 lb weighed apart are 39,000 lb
// together, whatever of it rests on the hitch: what the coach gains, the trailer's
// axles lose (571.3; moments). Only added to the coach, the tongue would count twice.
func TestHitching(t *testing.T) {
	rig := rigtest.TaggedWithTrailer()
	apart := weighedOnPads(t, rig, 6_000, 6_000, 6_500, 6_500, 2_500, 2_500, 2_250, 2_250, 2_250, 2_250)
	changes, err := cargo.Hitching(apart, 900*lb)
	if err != nil {
		t.Fatal(err)
	}
	trip := mustTrip(t, apart, cargo.Stage{Name: "hitched", Changes: changes})
	for _, c := range []struct {
		name string
		on   weight.Set
		want weight.Mass
	}{{"all", rig.All(), 39_000}, {"coach", rig.Coach(), 30_900}, {"trailer", rig.Towed(), 8_100}, {"one end of the trailer", weight.EndOf(3, weight.Left), 2_025}} {
		// The trailer's axles are one support, placed to the nanometer.
		if got := trip.At(1, c.on); got.Load < c.want*lb-lb/100 || got.Load > c.want*lb+lb/100 {
			t.Errorf("%s: %s, want %d lb", c.name, got.Load, c.want)
		}
	}
	// The hitch stands behind the last axle of the coach, so the steer axle gets lighter.
	if steer := trip.At(1, weight.AxleOf(0)); steer.Load >= 12_000*lb {
		t.Errorf("steer axle: %s", steer.Load)
	}
	for name, change := range map[string]func(*weight.Rig){
		"tow bar":  func(r *weight.Rig) { r.Coupling = weight.TowBar },
		"nothing":  func(r *weight.Rig) { r.Axles = r.Axles[:3] },
		"coupling": func(r *weight.Rig) { r.Coupling = 0 },
		"hitch":    func(r *weight.Rig) { r.Hitch = 0 },
		"axle":     func(r *weight.Rig) { r.Axles[4].Behind = 0 },
	} {
		other := rigtest.TaggedWithTrailer()
		change(&other)
		want := cargo.ErrGeometry
		if name == "tow bar" || name == "nothing" {
			want = cargo.ErrPlan
		}
		if _, err := cargo.Hitching(mustSolve(t, other, nil, weight.Scale{}), lb); !errors.Is(err, want) {
			t.Errorf("%s: %v, want %v", name, err, want)
		}
	}
	if _, err := cargo.Hitching(weight.Solution{}, lb); !errors.Is(err, cargo.ErrPlan) {
		t.Errorf("nothing weighed: %v", err)
	}
}

// Nothing gets lost or counted twice: whatever is put at any station of any rig,
// all axles together gain just that.
func TestPlansKeepTheSum(t *testing.T) {
	r := rand.New(rand.NewPCG(14, 1))
	for k := range 500 {
		rig := rigtest.TaggedWithTrailer()
		rig.Coupling = []weight.Coupling{weight.TowBar, weight.Tongue, weight.FifthWheel}[k%3]
		sol := weighedOnPads(t, rig, 6_000, 6_100, 6_500, 6_400, 2_500, 2_300, 2_250, 2_250, 2_200, 2_250)
		st := cargo.Station{Behind: weight.Length(r.IntN(700)-50) * weight.Inch, Offset: weight.Length(r.IntN(60)-30) * weight.Inch, Towed: r.IntN(2) == 0}
		m := weight.Mass(r.IntN(2_000)-1_000) * lb
		trip := mustTrip(t, sol, one("x", m, st))
		all, before := trip.At(1, rig.All()), sol.Of(rig.All())
		if all.Load-before.Load != m {
			t.Fatalf("%s, %+v: %s put on, %s more on all axles", rig.Coupling, st, m, all.Load-before.Load)
		}
	}
}
