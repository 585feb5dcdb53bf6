package cargo_test

import (
	"errors"
	"math/big"
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

	// Tongue 10 to 15 % of the loaded trailer, pin 15 to 25 % (common practice).
	tongue, pin := cargo.TongueBand(), cargo.PinBand()
	if tongue.Low != 10*weight.Percent || tongue.High != 15*weight.Percent || pin.Low != 15*weight.Percent || pin.High != 25*weight.Percent ||
		tongue.Source.Grade != origin.CommonPractice || pin.Source.Grade != origin.CommonPractice {
		t.Errorf("bands %+v %+v", tongue, pin)
	}
	trailer := est(10_000, 0)
	for _, c := range []struct {
		part weight.Estimate
		of   weight.Estimate
		want cargo.BandVerdict
	}{
		{est(1_000, 0), trailer, cargo.Within},
		{est(1_500, 0), trailer, cargo.Within},
		{est(999, 0), trailer, cargo.Below},
		{est(1_501, 0), trailer, cargo.Above},
		{est(1_000, 1), trailer, cargo.BandTooClose},
		{est(1_200, 100), trailer, cargo.Within},
		{est(1_500, 1), trailer, cargo.BandTooClose},
		{est(1_000, 0), est(10_000, 1), cargo.BandTooClose},
		{est(-100, 20), trailer, cargo.Below},
		{est(-100, 2_000), trailer, cargo.BandTooClose},
		{est(1_200, 0), weight.Estimate{}, cargo.BandNotKnown},
		{weight.Estimate{}, trailer, cargo.BandNotKnown},
		{est(1_200, 0), est(10, 20), cargo.BandNotKnown},
	} {
		if got := tongue.Judge(c.part, c.of); got != c.want {
			t.Errorf("%s +- %s of %s: %s, want %s", c.part.Load, c.part.PlusMinus, c.of.Load, got, c.want)
		}
	}
	d := est(1_200, 0)
	d.State = weight.Disputed
	if got := tongue.Judge(d, trailer); got != cargo.BandTooClose {
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
		want := cargo.BandTooClose
		switch {
		case below == 4:
			want = cargo.Below
		case above == 4:
			want = cargo.Above
		case below+above == 0:
			want = cargo.Within
		}
		if got := tongue.Judge(part, whole); got != want {
			t.Fatalf("%+v of %+v: %s, want %s", part, whole, got, want)
		}
	}
	for _, odd := range []cargo.Band{{Low: -weight.Percent, High: weight.Percent}, {Low: 2 * weight.Percent, High: weight.Percent}} {
		if got := odd.Judge(est(1_200, 0), trailer); got != cargo.BandNotKnown {
			t.Errorf("an impossible band: %s", got)
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
