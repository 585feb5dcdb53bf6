package loading_test

import (
	"fmt"
	"strings"
	"testing"

	"axleend.example/inspect"
	"axleend.example/inspect/loading"
	"axleend.example/inspect/report"
	"axleend.example/internal/visittest"
	"axleend.example/rules"
	"axleend.example/weight"
)

// house asks more of an axle end than common practice does.
const house = `  end-share: {title: End over 45 % of its axle, subject: end, measure: load, at_most: 45 % of gawr,
    action: do_not_drive, advice: Move cargo., source: {grade: invented, title: a house rule}}
`

// TestLimitsAreThoseOfThePacks: weighing, plan and pressure hold an end to what the
// packs given say, and to nothing where they say nothing.
func TestLimitsAreThoseOfThePacks(t *testing.T) {
	v := visittest.Read(t, coach("trip: {stations: [{name: bay, behind_steer: 200 in}]}\n"))
	none := visittest.Compile(t, strings.Replace(house, "measure: load, at_most: 45 % of gawr", "measure: load, at_least: 1 lb", 1))
	for _, x := range []struct {
		name    string
		setup   inspect.Setup
		what    string
		verdict rules.Verdict
		rating  string
		stops   bool
		binds   string
	}{
		{"the default packs", inspect.Setup{}, "half GAWR", rules.Kept, "8750 lb", false, "half GAWR, drive, right end"},
		{"a house pack", inspect.Setup{Program: visittest.Compile(t, house)}, "share of GAWR", rules.Breached, "7875 lb", true, "share of GAWR, drive, left end"},
		{"a pack without such a rule", inspect.Setup{Program: none}, "", 0, "", false, ""},
	} {
		w, err := loading.Weigh(v, x.setup)
		if err != nil {
			t.Fatal(err)
		}
		l := weighLine(t, w, "drive-right")
		if x.what == "" && len(l.Margins) > 0 || verdict(l.Margins, x.what) != x.verdict || w.Stops != x.stops || x.rating != "" && rating(l.Margins, x.what).String() != x.rating {
			t.Errorf("%s: %+v, stops %v", x.name, l.Margins, w.Stops)
		}
		p, err := loading.Plan(t.Context(), v, x.setup)
		if err != nil {
			t.Fatal(err)
		}
		if got := p.Stations[0].Room; got.LimitedBy != x.binds || got.Known != (x.binds != "") {
			t.Errorf("%s: room %+v", x.name, got)
		}
		if p.Clears != (x.verdict == rules.Kept) {
			t.Errorf("%s: clears %v", x.name, p.Clears)
		}
	}
}

// TestWeighJudgesLikeAssess: on random coaches a weighing has every rating of a
// report, with the same figures and verdict, but for what readings dispute.
func TestWeighJudgesLikeAssess(t *testing.T) {
	n, seen := 300, map[rules.Verdict]int{}
	if testing.Short() {
		n = 60
	}
	for seed := range n {
		c := visittest.NewCoach(uint64(9000 + seed))
		v, setup := c.Write(), c.Setup()
		r, err := inspect.Assess(v, setup)
		if err != nil {
			t.Fatal(err)
		}
		w, err := loading.Weigh(v, setup)
		if err != nil {
			continue // nothing was weighed
		}
		for _, l := range r.Loads {
			if l.Kind == report.CombinationLoad {
				continue // it may be the coach alone
			}
			margins := map[string]loading.MarginLine{}
			for _, m := range weighLine(t, w, l.Name).Margins {
				margins[m.Rule] = m
			}
			for _, x := range l.Ratings {
				m, is := margins[x.Rule]
				if strings.Contains(x.Rule, "-at-") {
					continue // a matter of pressure
				}
				if want := (report.RatingLine{Rule: m.Rule, Name: m.What, Rating: m.Rating, Room: m.Room, Verdict: m.Verdict}); !is || x != want && l.Estimate.State != weight.Disputed {
					t.Fatalf("coach %d, %s: weighing %+v, report %+v", 9000+seed, l.Name, m, x)
				}
				seen[x.Verdict]++
			}
		}
	}
	for _, x := range []rules.Verdict{rules.Kept, rules.NotRecorded, rules.TooClose, rules.Breached} {
		if seen[x] == 0 {
			t.Errorf("no rating is %s: %v", x, seen)
		}
	}
}

// apart is an invented coach and trailer, each weighed by itself, the trailer with
// its tongue on the scale.
const apart = `visit: 1
date: 2026-10-02
tows: trailer
axles:
  - {id: steer, fitment: single, gawr: 9500 lb, placard: 90 psi}
  - {id: drive, fitment: dual, gawr: 17500 lb, behind_steer: 200 in, placard: 90 psi}
  - {id: cart, fitment: single, towed: yes, gawr: 4000 lb, behind_steer: 500 in}
ratings: {gvwr: 25000 lb, gcwr: 28000 lb}
every_tire: {single: 6000 lb at 110 psi, dual: 5000 lb at 110 psi, wheel: 6000 lb at 120 psi}
every_towed_tire: {single: 3000 lb at 80 psi, wheel: 3000 lb at 80 psi}
towing: {tongue: 400 lb}
weighing:
  as_driven: all
  level: yes
  hitched: no
  tolerance: 10 lb
  readings:
    - {load: 4000 lb, on: steer-left}
    - {load: 4000 lb, on: steer-right}
    - {load: 8100 lb, on: drive-left}
    - {load: 8100 lb, on: drive-right}
    - {load: 1800 lb, on: cart-left}
    - {load: 1800 lb, on: cart-right}
trip:
  coupling: tongue
  hitch: 300 in
  stations: [{name: box, behind_steer: 100 in}]
`

// TestTongueOfATrailerWeighedApart: what rests on the hitch counts once. It goes to
// the coach by moments (300 of 200 in: half again as much on the drive axle, half
// less on the steer axle) and off the trailer's axles; both together weigh what they
// weighed (49 CFR 571.3; computed).
func TestTongueOfATrailerWeighedApart(t *testing.T) {
	v := visittest.Read(t, apart)
	p, err := loading.Plan(t.Context(), v, inspect.Setup{})
	if err != nil {
		t.Fatal(err)
	}
	for name, want := range map[string]string{"coach": "400 lb", "drive": "600 lb", "steer": "-200 lb", "cart": "-400 lb", "combination": "0 lb"} {
		l := tripLine(t, p, name)
		if got := (l.Expected.Load - l.Weighed.Load).String(); got != want {
			t.Errorf("%s changes by %s, want %s", name, got, want)
		}
	}
	if len(p.Changes) != 2 || p.Changes[0].Mass != lb(400) || p.Changes[1].Mass != lb(-400) || p.Changes[0].At != "the hitch" {
		t.Errorf("changes %+v", p.Changes)
	}
	if !strings.Contains(strings.Join(p.Cautions, " "), "weighed apart") {
		t.Errorf("nothing is said of it: %q", p.Cautions)
	}
	r := visittest.Assess(t, v)
	if !strings.Contains(strings.Join(r.Cautions, " "), "weighed apart") {
		t.Errorf("the report does not say so: %q", r.Cautions)
	}
	// 24,200 lb of 24,500 and 400 lb more: the coach will be over its GVWR.
	heavy := visittest.Read(t, strings.Replace(apart, "gvwr: 25000", "gvwr: 24500", 1))
	over := func(r report.Report) bool {
		for _, it := range r.Todo {
			if len(it.Rules) > 0 && it.Rules[0] == "label/gvwr" && it.Verdict == rules.Breached {
				return true
			}
		}
		return false
	}
	if !over(visittest.Assess(t, heavy)) {
		t.Error("a coach that is over its GVWR once the trailer is hitched is not")
	}
	// Nothing is added where it was weighed hitched, nor behind a tow bar. Where nobody said
	// (as_driven: all says nothing of a trailer), it counts as for one weighed apart and
	// keeps nothing.
	// Where what rests on the hitch cannot be placed, the coach weighs at least what the
	// scale showed and keeps no rating; nor is what is aboard settled by a tongue.
	for _, x := range []struct {
		name, text string
		moved      bool
		verdict    rules.Verdict
	}{
		{"apart", apart, true, rules.Kept},
		{"hitched", strings.Replace(apart, "hitched: no", "hitched: yes", 1), false, rules.Kept},
		{"a tow bar", strings.NewReplacer("coupling: tongue", "coupling: tow bar", "tows: trailer", "tows: car").Replace(apart), false, rules.Kept},
		{"nobody said", strings.Replace(apart, "  hitched: no\n", "", 1), true, rules.NotRecorded},
		{"nobody said, no tongue", strings.NewReplacer("  hitched: no\n", "", "towing: {tongue: 400 lb}\n", "").Replace(apart), false, rules.NotRecorded},
		{"nobody said, behind a tow bar", strings.NewReplacer("  hitched: no\n", "", "coupling: tongue", "coupling: tow bar", "tows: trailer", "tows: car").Replace(apart), false, rules.Kept},
		{"nobody said, and not all was as driven", strings.NewReplacer("  hitched: no\n", "", "  as_driven: all\n", "  tanks_as_driven: yes\n  fuel_as_driven: yes\n  people_as_driven: yes\n").Replace(apart), true, rules.NotRecorded},
		{"no tongue", strings.Replace(apart, "towing: {tongue: 400 lb}\n", "", 1), false, rules.NotRecorded},
		{"no hitch", strings.Replace(apart, "  hitch: 300 in\n", "", 1), false, rules.NotRecorded},
		{"may be light", strings.Replace(apart, "  as_driven: all\n", "", 1), true, rules.NotRecorded},
		{"overloaded, and no tongue", strings.NewReplacer("towing: {tongue: 400 lb}\n", "", "gvwr: 25000", "gvwr: 24000").Replace(apart), false, rules.Breached},
	} {
		v := visittest.Read(t, x.text)
		p, err := loading.Plan(t.Context(), v, inspect.Setup{})
		if err != nil {
			t.Fatal(x.name, err)
		}
		l := tripLine(t, p, "coach")
		if moved := l.Expected.Load != l.Weighed.Load; moved != x.moved {
			t.Errorf("%s: %s becomes %s", x.name, l.Weighed.Load, l.Expected.Load)
		}
		if got := verdict(l.Margins, "GVWR"); got != x.verdict || p.Clears != (x.verdict == rules.Kept) {
			t.Errorf("%s: GVWR %s, clears %v", x.name, got, p.Clears)
		}
		for _, line := range visittest.Assess(t, v).Loads {
			for _, r := range line.Ratings {
				if r.Rule == "label/gvwr" && r.Verdict != x.verdict {
					t.Errorf("%s: the report says GVWR %s, want %s", x.name, r.Verdict, x.verdict)
				}
			}
		}
		if x.verdict == rules.NotRecorded && x.name != "may be light" && !strings.Contains(fmt.Sprint(p.Unjudged), "what rests on its hitch") {
			t.Errorf("%s: nobody is asked: %+v", x.name, p.Unjudged)
		}
	}
}

// TestSidesAreNamed: those of the coach and those of what it tows, and where a side is
// one end, by that.
func TestSidesAreNamed(t *testing.T) {
	r, err := loading.Weigh(visittest.Read(t, `visit: 1
date: 2026-10-02
axles: [{id: steer, fitment: single}, {id: front, fitment: single, towed: yes}, {id: rear, fitment: single, towed: yes}]
weighing: {scale: pads, tolerance: 10 lb, readings: [{load: 4000 lb, on: steer-left}, {load: 900 lb, on: front-left}, {load: 800 lb, on: rear-left}]}
`), inspect.Setup{})
	if err != nil {
		t.Fatal(err)
	}
	if l := r.Load("towed unit, left side"); l == nil || l.Estimate.Load != lb(1700) {
		t.Errorf("%+v of %+v", l, r.Loads)
	}
	if r.Load("left side") != nil || r.Load("steer-left") == nil {
		t.Errorf("%+v", r.Loads)
	}
}

// TestTongueCountsAsTowed: of a trailer weighed hitched what rests on the hitch is
// towed beside what its axles carry, 3,600 and 400 lb, each within 20 lb (common practice).
func TestTongueCountsAsTowed(t *testing.T) {
	for rating, clears := range map[string]bool{"3900 lb": false, "4100 lb": true} {
		text := strings.NewReplacer("date:", "packs: [label, towing]\ndate:", "hitched: no", "hitched: yes", "tongue: 400 lb", "tongue: 400 lb, ball_mount: 5000 lb, coupler: 5000 lb, gvwr: 5000 lb, hitch: "+rating).Replace(apart)
		p, err := loading.Plan(t.Context(), visittest.Read(t, text), inspect.Setup{})
		if err != nil {
			t.Fatal(err)
		}
		if p.Clears != clears {
			t.Errorf("a hitch for %s: clears %t, %+v", rating, p.Clears, p.Problems)
		}
	}
}

// TestTongueNeverLightensTheCoach: on random rigs weighed apart, with random changes
// besides, the coach carries no less than weighed with its changes and the tongue
// once, and coach and trailer no more than weighed with the changes.
func TestTongueNeverLightensTheCoach(t *testing.T) {
	for i := range 40 {
		tongue := lb(int64(50 + 37*i))
		text := strings.NewReplacer("tongue: 400 lb", "tongue: "+tongue.String(), "hitch: 300 in", "hitch: "+(weight.Length(230+5*i)*weight.Inch).String()).Replace(apart) +
			"  changes: [{name: sand, at: box, add: 120 lb}]\n"
		p, err := loading.Plan(t.Context(), visittest.Read(t, text), inspect.Setup{})
		if err != nil {
			t.Fatal(err)
		}
		const grid = weight.Pound / 50
		coach, all := tripLine(t, p, "coach"), tripLine(t, p, "combination")
		if got := coach.Expected.Load - coach.Weighed.Load - lb(120); got < tongue-grid || got > tongue+grid {
			t.Errorf("a tongue of %s puts %s on the coach", tongue, got)
		}
		if got := all.Expected.Load - all.Weighed.Load - lb(120); got < -grid || got > grid {
			t.Errorf("a tongue of %s puts %s on both", tongue, got)
		}
	}
}
