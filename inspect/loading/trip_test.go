package loading_test

import (
	"encoding/json"
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"axleend.example/inspect"
	"axleend.example/inspect/loading"
	"axleend.example/inspect/record"
	"axleend.example/inspect/report"
	"axleend.example/internal/testsize"
	"axleend.example/internal/visittest"
	"axleend.example/rules"
	"axleend.example/rules/origin"
	"axleend.example/weight"
	"axleend.example/weight/cargo"
)

// sameJSON compares by what JSON says, which is all there is to a report.
func sameJSON(t *testing.T, a, b any) {
	t.Helper()
	x, err1 := json.MarshalIndent(a, "", " ")
	y, err2 := json.MarshalIndent(b, "", " ")
	if err := errors.Join(err1, err2); err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(string(x), string(y)); d != "" {
		t.Error(d)
	}
}

func lb(n int64) weight.Mass { return weight.Mass(n) * weight.Pound }

// coach is an invented coach, each end read for itself to 10 lb, with a trip.
func coach(trip string) string {
	return `visit: 1
invented: yes
date: 2026-10-02
ratings: {gvwr: 26000 lb, gcwr: 31000 lb}
axles:
  - {id: steer, fitment: single, gawr: 9500 lb}
  - {id: drive, fitment: dual, gawr: 17500 lb, behind_steer: 200 in}
every_tire: {class: truck, single: 4940 lb at 110 psi, dual: 4540 lb at 110 psi, wheel: 5000 lb at 120 psi}
weighing:
  scale: pads
  as_driven: all
  level: yes
  tolerance: 10 lb
  readings:
    - {load: 4000 lb, on: steer-left}
    - {load: 4100 lb, on: steer-right}
    - {load: 8100 lb, on: drive-left}
    - {load: 8200 lb, on: drive-right}
` + trip
}

func plan(t testing.TB, text string) loading.TripReport {
	t.Helper()
	r, err := loading.Plan(t.Context(), visittest.Read(t, text), inspect.Setup{})
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func tripLine(t testing.TB, r loading.TripReport, name string) loading.TripLine {
	t.Helper()
	l := r.Load(name)
	if l == nil {
		t.Fatalf("no line %q", name)
	}
	return *l
}

func weighLine(t testing.TB, r loading.WeighReport, name string) loading.WeighLine {
	t.Helper()
	l := r.Load(name)
	if l == nil {
		t.Fatalf("no line %q", name)
	}
	return *l
}

func verdict(margins []loading.MarginLine, what string) rules.Verdict {
	for _, m := range margins {
		if m.What == what {
			return m.Verdict
		}
	}
	return 0
}

func rating(margins []loading.MarginLine, what string) weight.Mass {
	for _, m := range margins {
		if m.What == what {
			return m.Rating
		}
	}
	return 0
}

// TestLoadsSharedByMoments: the load on an axle is the weight x its
// distance from the other axle / wheelbase; behind the rear axle the front
// gets lighter. An offset moves weight x offset / track between the ends
// (computed from moments).
func TestLoadsSharedByMoments(t *testing.T) {
	for _, test := range []struct {
		behind, offset string
		want           [4]int64 // what 1,000 lb adds to each end
	}{
		{"0 in", "center", [4]int64{500, 500, 0, 0}},
		{"200 in", "center", [4]int64{0, 0, 500, 500}},
		{"100 in", "center", [4]int64{250, 250, 250, 250}},
		{"300 in", "center", [4]int64{-250, -250, 750, 750}},
		{"-20 in", "center", [4]int64{550, 550, -50, -50}},
		{"100 in", "40 in right", [4]int64{0, 500, 0, 500}},
		{"100 in", "20 in left", [4]int64{375, 125, 375, 125}},
	} {
		r := plan(t, coach(fmt.Sprintf(`trip:
  track: 80 in
  stations: [{name: bay, behind_steer: %s, offset: %s}]
  changes: [{name: cargo, at: bay, add: 1000 lb}]
`, test.behind, test.offset)))
		for i, name := range []string{"steer-left", "steer-right", "drive-left", "drive-right"} {
			l := tripLine(t, r, name)
			if got := l.Expected.Load - l.Weighed.Load; got != lb(test.want[i]) {
				t.Errorf("%s, %s: %s changes by %v, want %v", test.behind, test.offset, name, got, lb(test.want[i]))
			}
			if l.Expected.PlusMinus != l.Weighed.PlusMinus {
				t.Errorf("%s: plus/minus %v, want that of the weighing, %v", name, l.Expected.PlusMinus, l.Weighed.PlusMinus)
			}
			if l.Heaviest.Load != max(l.Weighed.Load, l.Expected.Load, l.AfterMoves.Load) {
				t.Errorf("%s: heaviest %v is not the heaviest", name, l.Heaviest.Load)
			}
		}
	}
}

// TestFluids checks what tanks weigh in lb a US gallon (water 8.35 for
// planning, common practice; diesel 7.1 and gasoline 6.1, from memory; LP gas
// 4.2, label of 2000 as quoted).
func TestFluids(t *testing.T) {
	for _, test := range []struct {
		change string
		want   string
	}{
		{"fill: 40 gal, fluid: water", "334 lb"},
		{"drain: 40 gal, fluid: water", "-334 lb"},
		{"fill: 100 gal, fluid: diesel", "710 lb"},
		{"fill: 100 gal, fluid: gasoline", "610 lb"},
		{"drain: 24 gal, fluid: LP gas", "-100.8 lb"},
		{"add: 320 lb", "320 lb"},
		{"take_off: 50 lb", "-50 lb"},
		// 1 L is 0.264172 gal: 2.20581 lb, up to 0.01 lb when filled and down
		// when drained (computed).
		{"fill: 1 L, fluid: water", "2.21 lb"},
		{"drain: 1 L, fluid: water", "-2.2 lb"},
	} {
		r := plan(t, coach("trip: {stations: [{name: tank, behind_steer: 100 in}], changes: [{name: x, at: tank, "+test.change+"}]}\n"))
		if got := r.Changes[0].Mass.String(); got != test.want {
			t.Errorf("%s: %s, want %s", test.change, got, test.want)
		}
	}
}

// TestHalfAnAxle: 3,000 + 2,000 lb is wrong on a 5,000 lb axle although the sum is
// right, and does not stop (common practice). Ends further apart than 3 to 2 are
// asked about, and the light one keeps nothing.
func TestHalfAnAxle(t *testing.T) {
	visit := `visit: 1
date: 2026-10-02
axles: [{id: steer, fitment: single, gawr: 5000 lb}]
weighing:
  as_driven: all
  level: yes
  tolerance: 1 lb
  readings: [{load: %d lb, on: steer-left}, {load: %d lb, on: steer-right}]
`
	for _, test := range []struct {
		left, right      int64
		axle, end, other rules.Verdict
		stops            bool
	}{
		{3000, 2000, rules.TooClose, rules.Breached, rules.Kept, false},
		{2980, 2000, rules.Kept, rules.Breached, rules.Kept, false},
		{3000, 1990, rules.NotRecorded, rules.Breached, rules.NotRecorded, false},
		{2499, 2499, rules.Kept, rules.Kept, rules.Kept, false},
		{2500, 2490, rules.Kept, rules.TooClose, rules.Kept, false},
		{2600, 2600, rules.Breached, rules.Breached, rules.Breached, true},
	} {
		r, err := loading.Weigh(visittest.Read(t, fmt.Sprintf(visit, test.left, test.right)), inspect.Setup{})
		if err != nil {
			t.Fatal(err)
		}
		for _, g := range r.Unjudged { // what is too close was read
			if slices.Contains(g.Rules, "label/gawr") && test.axle != rules.NotRecorded || slices.Contains(g.Rules, "coach-care/half-gawr") && test.other != rules.NotRecorded {
				t.Errorf("%d + %d waits for %+v", test.left, test.right, g)
			}
		}
		axle := verdict(weighLine(t, r, "steer").Margins, "GAWR")
		left := verdict(weighLine(t, r, "steer-left").Margins, "half GAWR")
		right := verdict(weighLine(t, r, "steer-right").Margins, "half GAWR")
		if axle != test.axle || left != test.end || right != test.other || r.Stops != test.stops {
			t.Errorf("%d + %d: axle %v, left %v, right %v, stops %v", test.left, test.right, axle, left, right, r.Stops)
		}
	}
}

// TestTireAndWheelLimits checks what the stamps of an end add up to: one tire
// or a pair in its own fitment (571.119 S6.5(d)), the weaker one twice, a
// passenger tire's or an unknown one's divided by 1.10 (571.120 S5.1.2).
func TestTireAndWheelLimits(t *testing.T) {
	for _, test := range []struct {
		class, own   string
		tires, wheel string // of drive-left; "" is not judged
	}{
		{"class: truck, ", "", "9080 lb", "10000 lb"},
		{"class: passenger, ", "", "8254.54 lb", "10000 lb"},
		{"", "", "8254.54 lb", "10000 lb"},
		{"class: truck, ", "{at: drive-left-inner, dual: 4000 lb at 100 psi}", "8000 lb", "10000 lb"},
		{"class: truck, ", "{at: drive-left-outer, wheel: 4200 lb at 100 psi}", "9080 lb", "8400 lb"},
	} {
		text := strings.Replace(coach("tires: ["+test.own+"]\n"), "class: truck, ", test.class, 1)
		r, err := loading.Weigh(visittest.Read(t, text), inspect.Setup{})
		if err != nil {
			t.Fatal(err)
		}
		m := weighLine(t, r, "drive-left").Margins
		if got := rating(m, "tire capacity"); !near(got, test.tires) {
			t.Errorf("%q %q: tires carry %v, want %s", test.class, test.own, got, test.tires)
		}
		if got := rating(m, "wheel rating").String(); got != test.wheel {
			t.Errorf("%q %q: wheels carry %v, want %s", test.class, test.own, got, test.wheel)
		}
	}
	r, err := loading.Weigh(visittest.Read(t, strings.Replace(coach(""), "dual: 4540 lb at 110 psi, ", "", 1)), inspect.Setup{})
	if err != nil {
		t.Fatal(err)
	}
	if verdict(weighLine(t, r, "drive-left").Margins, "tire capacity") != 0 || len(r.Unjudged) != 4 {
		t.Errorf("a missing stamp: unjudged %+v, want the four drive tires", r.Unjudged)
	}
}

// near is never above, and at most 0.02 lb below: each tire is rounded down.
func near(got weight.Mass, want string) bool {
	w := weight.MustParseMass(want)
	return got <= w && got >= w-2*weight.Pound/100
}

// TestGCWRCountsBoth: everything rolling, coach and towed unit (49 CFR 571.3).
func TestGCWRCountsBoth(t *testing.T) {
	text := strings.Replace(coach(""), "every_tire", "  - {id: car, fitment: single, towed: yes, gawr: 3000 lb}\nevery_tire", 1)
	text = strings.Replace(strings.Replace(text, "31000 lb", "26500 lb", 1), "visit: 1\n", "visit: 1\ntows: car\n", 1) + "    - {load: 2200 lb, on: car}\n"
	r, err := loading.Weigh(visittest.Read(t, text), inspect.Setup{})
	if err != nil {
		t.Fatal(err)
	}
	l := weighLine(t, r, "combination")
	if l.Estimate.Load != lb(26600) || verdict(l.Margins, "GCWR") != rules.Breached || !r.Stops {
		t.Errorf("combination %v %+v, stops %v; want 26,600 lb over 26,500", l.Estimate.Load, l.Margins, r.Stops)
	}
	if v := verdict(weighLine(t, r, "coach").Margins, "GVWR"); v != rules.Kept {
		t.Errorf("coach: %v, want kept", v)
	}
	if e := weighLine(t, r, "car-left"); e.Estimate.Known() || len(e.Settle) == 0 {
		t.Errorf("an end read only with its axle: %+v, want open, and what settles it", e)
	}
}

// TestCargoLabels: CCC from its parts (label of 2000 as quoted: 50 gal x 8.3 =
// 415 lb, 80 % of 30 gal x 4.2 = 100.8 lb, 154 lb a sleeping place); NCC counts
// water and gas as load (from memory); OCCC is read off, and water is cargo
// (49 CFR 571.120 S10.4.2). The coach weighs 24,400 lb.
func TestCargoLabels(t *testing.T) {
	for _, test := range []struct {
		label            string
		capacity, loaded string
		verdict          rules.Verdict
		parts            string
	}{
		{"kind: CCC, uvw: 21900 lb, fresh_water: 50 gal, lp_tank: 30 gal, sleeping_places: 4", "2968.2 lb", "2500 lb", rules.Kept, "2968.2 lb"},
		{"kind: ccc, uvw: 21900 lb, stated: 2400 lb, people_aboard: 300 lb", "2400 lb", "2200 lb", rules.Kept, "4100 lb"},
		{"kind: ccc, uvw: 21900 lb, stated: 2400 lb, people_aboard: 0 lb, water_aboard: 10 gal, lp_gas_aboard: 5 gal", "2400 lb", "2396 lb", rules.TooClose, "4100 lb"},
		{"kind: NCC, uvw: 21900 lb, stated: 2400 lb, water_aboard: 50 gal, people_aboard: 300 lb", "2400 lb", "2500 lb", rules.NotRecorded, ""},
		{"kind: NCC, uvw: 21900 lb, gvwr: 25000 lb", "3100 lb", "2500 lb", rules.NotRecorded, ""},
		{"kind: OCCC, stated: 2000 lb, fresh_water: 50 gal, water_aboard: 50 gal", "2000 lb", "400 lb", rules.Kept, ""},
		{"kind: OCCC, stated: 2000 lb, fresh_water: 50 gal", "2000 lb", "400 lb", rules.Kept, ""},
		{"kind: OCCC, stated: 2000 lb, uvw: 22500 lb", "2000 lb", "1900 lb", rules.Kept, ""},
	} {
		r, err := loading.Weigh(visittest.Read(t, coach("trip: {label: {"+test.label+"}}\n")), inspect.Setup{})
		if err != nil {
			t.Fatal(err)
		}
		l, ok := r.Label.Get()
		if !ok {
			t.Errorf("%s: no label; unjudged %+v", test.label, r.Unjudged)
			continue
		}
		parts := ""
		if v, ok := l.FromParts.Get(); ok {
			parts = v.String()
		}
		if l.Capacity.String() != test.capacity || l.Loaded.Load.String() != test.loaded || l.Verdict != test.verdict || parts != test.parts {
			t.Errorf("%s: capacity %v, loaded %v, %v, from parts %q", test.label, l.Capacity, l.Loaded.Load, l.Verdict, parts)
		}
	}
	r, err := loading.Weigh(visittest.Read(t, coach("trip: {label: {kind: CCC, stated: 2400 lb}}\n")), inspect.Setup{})
	if err != nil || r.Label.Is() || len(r.Unjudged) != 1 || !strings.Contains(r.Unjudged[0].Need, "UVW") {
		t.Errorf("a label without UVW: %+v, %v", r.Unjudged, err)
	}
}

const stations = `trip:
  track: 80 in
  stations:
    - {name: nose, behind_steer: 20 in, offset: 30 in left, most: 300 lb}
    - {name: belly, behind_steer: 100 in, most: 500 lb}
    - {name: tail, behind_steer: 290 in, offset: 30 in right}
    - {name: attic, behind_steer: 250 in, offset: 30 in left, most: 200 lb}
`

// TestMovesThatClear: the right drive end is 540 lb (550 less the plus/minus)
// below half its GAWR; 440 lb more in the tail puts 558.25 lb on it (computed
// from moments), too much, and the lightest load that suffices moves forward.
func TestMovesThatClear(t *testing.T) {
	r := plan(t, coach(stations+`  items:
    - {name: chest, mass: 100 lb, at: tail, may_go_to: [nose, belly]}
    - {name: grill, mass: 40 lb, at: tail, may_go_to: belly}
  changes:
    - {name: stones, at: tail, add: 440 lb}
`))
	l := tripLine(t, r, "drive-right")
	// 440 x 1.45 x (1/2 + 30/80) = 558.25
	if l.Expected.Load-l.Weighed.Load != weight.MustParseMass("558.25 lb") || verdict(l.Margins, "half GAWR") != rules.TooClose {
		t.Errorf("expected %v %+v, want 558.25 lb more and too close", l.Expected.Load, l.Margins)
	}
	want := []cargo.Move{{Item: "grill", Mass: lb(40), From: "tail", To: "belly"}}
	if d := cmp.Diff(want, r.Moves.Moves); d != "" || r.Moves.Outcome != cargo.Best || !r.Clears {
		t.Errorf("%v %v clears=%v\n%s", r.Moves.Outcome, r.Moves.Moves, r.Clears, d)
	}
	if v := verdict(l.MovedMargins, "half GAWR"); v != rules.Kept {
		t.Errorf("after the moves: %v, want kept", v)
	}
	tail := r.Stations[2]
	if tail.Held != lb(580) || tail.Room.Mass != 0 || !tail.Room.Known {
		t.Errorf("tail: %+v, want 580 lb held and no room", tail)
	}
	if after, ok := tail.MovedRoom.Get(); !ok || after.Mass <= 0 {
		t.Errorf("tail after the moves: %+v", after)
	}
}

func TestPlansThatDoNotClear(t *testing.T) {
	for _, test := range []struct {
		name, trip string
		outcome    cargo.Outcome
	}{
		{"what is added may not move", "  changes: [{name: stones, at: tail, add: 450 lb}]\n", cargo.Hopeless},
		{"it may move, but only to a place as bad", "  changes: [{name: stones, at: tail, add: 450 lb, may_go_to: attic}]\n", cargo.MustStay},
		{"a place that holds too much by itself", "  changes: [{name: stones, at: nose, add: 301 lb}]\n", cargo.Hopeless},
		{"the same, with room elsewhere for what may move", "  items: [{name: bag, mass: 10 lb, at: nose, may_go_to: belly}]\n  changes: [{name: stones, at: nose, add: 301 lb}]\n", cargo.Best},
		{"the steer axle gets too light", "  least_on_steer: 8200 lb\n", cargo.Hopeless},
		{"tanks drained of more than there is", "  changes: [{name: x, at: nose, drain: 4000 gal, fluid: water}]\n", cargo.NothingToMove},
	} {
		r := plan(t, coach(stations+test.trip))
		if r.Clears {
			t.Errorf("%s: clears, %v %+v", test.name, r.Moves.Outcome, r.Moves)
		}
		if test.name != "a place that holds too much by itself" && r.Moves.Outcome != test.outcome {
			t.Errorf("%s: %v, want %v", test.name, r.Moves.Outcome, test.outcome)
		}
	}
	// Two passes of one end 200 lb apart: nothing that rests on them is kept.
	r := plan(t, strings.Replace(coach(stations), "    - {load: 4100", "    - {name: again, load: 4200 lb, on: steer-left}\n    - {load: 4100", 1))
	if r.Clears || len(r.Problems) == 0 {
		t.Errorf("readings that contradict each other: clears=%v, problems %+v", r.Clears, r.Problems)
	}
	// It is "must stay" that says what to leave.
	r = plan(t, coach(stations+"  changes: [{name: stones, at: tail, add: 450 lb, may_go_to: attic}, {name: twig, at: tail, add: 1 lb, may_go_to: belly}]\n"))
	if d := cmp.Diff([]string{"stones"}, r.Moves.StayHome); d != "" {
		t.Error(d)
	}
	// What stays at home is on no scale any more, and the twig moves within the coach.
	if l := tripLine(t, r, "coach"); l.Expected.Load-l.AfterMoves.Load != lb(450) || l.Heaviest.Load != l.Expected.Load {
		t.Errorf("with what must stay at home: %s, and without: %s, heaviest %s", l.Expected.Load, l.AfterMoves.Load, l.Heaviest.Load)
	}
}

// TestPlansKeepTheirWord: on random invented coaches a plan that clears keeps
// every limit after its moves, moves only what may go there, fills no place
// beyond its limit; and the room of a station can be loaded, 2 lb more not
// (the weakest limit then binds within the rounding).
func TestPlansKeepTheirWord(t *testing.T) {
	rng := rand.New(rand.NewPCG(8, 8))
	n := 80
	if !testsize.Full() {
		n = 20
	}
	const slack = weight.Pound / 50 // two steps of the grid, for the rounding of what is shown
	cleared, moved, loaded := 0, 0, 0
	for range n {
		v := visittest.Read(t, coach(stations))
		for i := range v.Weighing.Readings {
			v.Weighing.Readings[i].Load += lb(rng.Int64N(700) - 150)
		}
		all := []string{"nose", "belly", "tail", "attic"}
		for i := range 4 {
			v.Trip.Items = append(v.Trip.Items, record.TripItem{Name: fmt.Sprint("item ", i), Mass: lb(20 + rng.Int64N(150)), At: []string{"tail", "belly"}[rng.IntN(2)], MayGoTo: all[rng.IntN(2) : 2+rng.IntN(3)]})
		}
		v.Trip.Changes = []record.TripChange{{Name: "more", At: "tail", Add: record.Record(lb(1 + rng.Int64N(500))), MayGoTo: []string{"nose"}}}
		r, err := loading.Plan(t.Context(), v, inspect.Setup{})
		if err != nil {
			t.Fatal(err)
		}
		if len(r.Moves.Moves) > 0 {
			moved++
		}
		held := map[string]weight.Mass{}
		to := map[string][]string{"more": {"nose"}}
		for _, s := range r.Stations {
			held[s.Name] = s.Held
		}
		for _, it := range v.Trip.Items {
			to[it.Name] = it.MayGoTo
		}
		for _, m := range r.Moves.Moves {
			held[m.From] -= m.Mass
			held[m.To] += m.Mass
			if !slices.Contains(to[m.Item], m.To) {
				t.Fatalf("%s goes to %s, which it may not", m.Item, m.To)
			}
		}
		if r.Clears {
			cleared++
			for _, l := range r.Loads {
				after := l.MovedMargins
				if len(r.Moves.Moves) == 0 {
					after = l.Margins
				}
				for _, m := range after {
					if m.Room < -slack {
						t.Fatalf("%s: %s has room %v after a plan that clears", l.Name, m.What, m.Room)
					}
				}
			}
			for _, s := range r.Stations {
				if most, ok := s.Most.Get(); ok && held[s.Name] > most {
					t.Fatalf("%s holds %v of %v after a plan that clears", s.Name, held[s.Name], most)
				}
			}
		}
		for i, s := range r.Stations {
			if s.Room.Mass == 0 || rng.IntN(3) != 0 {
				continue
			}
			loaded++
			try := func(m weight.Mass) (bool, loading.StationLine) {
				w := *v
				w.Trip.Changes = append(slices.Clone(v.Trip.Changes), record.TripChange{Name: "room", At: s.Name, Add: record.Record(m)})
				q, err := loading.Plan(t.Context(), &w, inspect.Setup{})
				if err != nil {
					t.Fatal(err)
				}
				ok := true
				for _, l := range q.Loads {
					for _, m := range l.Margins {
						ok = ok && m.Room >= -slack
					}
				}
				return ok && !q.Stations[i].Over, q.Stations[i]
			}
			before := true
			for _, l := range r.Loads {
				for _, m := range l.Margins {
					before = before && m.Room >= -slack
				}
			}
			if ok, line := try(s.Room.Mass); !ok && before {
				t.Fatalf("%s has room for %v, but loading it breaks a limit: %+v", s.Name, s.Room, line)
			}
			if ok, _ := try(s.Room.Mass + 2*weight.Pound); ok {
				t.Fatalf("%s has room for 2 lb more than %v", s.Name, s.Room)
			}
		}
	}
	if cleared < n/10 || moved < n/10 || loaded < n/10 {
		t.Errorf("of %d coaches %d cleared, %d moved something, %d stations had room: too few to prove anything", n, cleared, moved, loaded)
	}
}

func TestTripReadsBack(t *testing.T) {
	data, err := os.ReadFile("../../examples/demo/trip.yaml")
	if err != nil {
		t.Fatal(err)
	}
	v := visittest.Read(t, string(data))
	out, err := json.Marshal(v)
	if err != nil {
		t.Fatal(err)
	}
	sameJSON(t, v, visittest.Read(t, string(out)))
	back := visittest.Read(t, string(out))
	if len(back.Trip.Stations) != 6 || back.Trip.Stations[1].Offset != -record.Offset(36*weight.Inch) {
		t.Errorf("stations read back: %+v", back.Trip.Stations)
	}
	w, err := loading.Weigh(v, inspect.Setup{})
	if err != nil {
		t.Fatal(err)
	}
	var w2 loading.WeighReport
	unmarshal(t, w, &w2)
	sameJSON(t, w, w2)
	r, err := loading.Plan(t.Context(), v, inspect.Setup{})
	if err != nil {
		t.Fatal(err)
	}
	var r2 loading.TripReport
	unmarshal(t, r, &r2)
	sameJSON(t, r, r2)
	if !r.Clears || len(r.Moves.Moves) == 0 {
		t.Errorf("the demo: clears=%v, %+v; want moves that clear", r.Clears, r.Moves)
	}
	again, err := loading.Plan(t.Context(), v, inspect.Setup{})
	if err != nil {
		t.Fatal(err)
	}
	sameJSON(t, r, again)
}

func unmarshal(t *testing.T, from, to any) {
	t.Helper()
	data, err := json.Marshal(from)
	if err == nil {
		err = json.Unmarshal(data, to)
	}
	if err != nil {
		t.Fatal(err)
	}
}

func TestNothingToPlan(t *testing.T) {
	if _, err := loading.Plan(t.Context(), visittest.Read(t, coach("")), inspect.Setup{}); !errors.Is(err, loading.ErrNoTrip) {
		t.Errorf("no trip: %v", err)
	}
	text, _, _ := strings.Cut(coach(""), "weighing:")
	v := visittest.Read(t, text)
	if _, err := loading.Weigh(v, inspect.Setup{}); !errors.Is(err, loading.ErrNotWeighed) {
		t.Errorf("not weighed: %v", err)
	}
	v = visittest.Read(t, coach(stations))
	v.Trip.Items = []record.TripItem{{Name: "x", Mass: lb(1), At: "moon"}}
	if _, err := loading.Plan(t.Context(), v, inspect.Setup{}); !errors.Is(err, record.ErrStation) {
		t.Errorf("a visit built in Go: %v", err)
	}
}

// TestTowedStations: a tow bar carries nothing to the coach, a tongue does.
func TestTowedStations(t *testing.T) {
	base := strings.Replace(coach(""), "every_tire", "  - {id: cart, fitment: single, towed: yes, gawr: 3000 lb, behind_steer: 500 in}\nevery_tire", 1) + "    - {load: 2000 lb, on: cart}\n"
	r := plan(t, base+`trip:
  coupling: tongue
  hitch: 300 in
  stations: [{name: box, behind_steer: 450 in, towed: yes}]
  changes: [{name: sand, at: box, add: 100 lb}]
`)
	// 150 of 200 in behind the hitch: 75 lb on the cart, 25 on the hitch, whose
	// 300 of 200 in put 37.5 on the drive axle and -12.5 on the steer axle.
	for name, want := range map[string]string{"cart": "75 lb", "drive": "37.5 lb", "steer": "-12.5 lb", "combination": "100 lb"} {
		l := tripLine(t, r, name)
		if got := (l.Expected.Load - l.Weighed.Load).String(); got != want {
			t.Errorf("%s changes by %s, want %s", name, got, want)
		}
	}
	if !slices.ContainsFunc(r.Cautions, func(c string) bool { return strings.Contains(c, "rests on its tongue is not judged") }) {
		t.Errorf("cautions %q, want one on the tongue", r.Cautions)
	}
}

func TestBadTrips(t *testing.T) {
	lines := strings.Count(coach(""), "\n")
	for _, test := range []struct {
		trip string
		want []string // after the line of "trip:"
		err  error
	}{
		{"trip:\n  stations: [{name: bay, behind_steer: 70}]\n", []string{"1:40: "}, origin.ErrUnit},
		{"trip:\n  stations: [{name: bay}]\n", []string{"1:14: "}, nil},
		{"trip:\n  statons: []\n", []string{"1:3: "}, nil},
		{"trip:\n  track: 0 in\n", []string{"1:10: "}, origin.ErrRange},
		{"trip:\n  stations:\n    - {name: bay, behind_steer: 70 in, offset: 20 in}\n", []string{"2:48: "}, origin.ErrSyntax},
		{"trip:\n  stations:\n    - {name: bay, behind_steer: 70 in, offset: 20 in left}\n", []string{"2:48: "}, nil},
		{"trip:\n  stations:\n    - {name: bay, behind_steer: 70 in}\n    - {name: bay, behind_steer: 80 in}\n", []string{"3:14: "}, record.ErrTwice},
		{"trip:\n  stations:\n    - {name: bay, behind_steer: 2000 m}\n", []string{"2:33: "}, origin.ErrRange},
		{stations + "  items:\n    - {name: x, mass: 5 lb, at: tial, may_go_to: [bely, nose]}\n", []string{`8:33: `, `8:51: `, `did you mean "tail"`, `did you mean "belly"`}, record.ErrStation},
		{stations + "  items:\n    - {name: x, mass: 0 lb, at: tail, may_go_to: [nose]}\n", []string{"8:23: "}, origin.ErrRange},
		{stations + "  items:\n    - {name: x, mass: 5, at: tail, may_go_to: [nose]}\n", []string{"8:23: "}, origin.ErrUnit},
		{stations + "  items:\n    - {name: x, mass: 5 lb, at: tail}\n", []string{"8:7: "}, nil},
		{stations + "  items:\n    - {name: x, mass: 5 lb, at: tail, may_go_to: []}\n", []string{"8:50: "}, nil},
		{stations + "  changes:\n    - {name: x, at: tail}\n", []string{"8:7: "}, nil},
		{stations + "  changes:\n    - {name: x, at: tail, add: 5 lb, fill: 3 gal}\n", []string{"8:7: "}, record.ErrContradiction},
		{stations + "  changes:\n    - {name: x, at: tail, fill: 3 gal}\n", []string{"8:7: "}, nil},
		{stations + "  changes:\n    - {name: x, at: tail, fill: 3, fluid: water}\n", []string{"8:33: "}, origin.ErrUnit},
		{stations + "  changes:\n    - {name: x, at: tail, fill: 3 gal, fluid: wine}\n", []string{"8:47: "}, record.ErrWord},
		{stations + "  changes:\n    - {name: x, at: tail, add: 3 lb, fluid: water}\n", []string{"8:45: "}, record.ErrContradiction},
		{stations + "  changes:\n    - {name: x, at: tail, take_off: 3 lb, may_go_to: nose}\n", []string{"8:54: "}, record.ErrContradiction},
		{stations + "  changes: [{name: x, at: nose, add: 1 lb}, {name: x, at: nose, add: 1 lb}]\n", []string{"7:52: "}, record.ErrTwice},
		{"trip:\n  stations: [{name: box, behind_steer: 400 in, towed: yes}]\n", []string{"1:13: "}, record.ErrContradiction},
		{"trip:\n  coupling: rope\n", []string{"1:13: "}, record.ErrWord},
		{"trip:\n  label: {stated: 400 lb}\n", []string{"1:10: "}, nil},
		{"trip:\n  label: {kind: XCC}\n", []string{"1:17: "}, record.ErrWord},
		{"trip:\n  label: {kind: CCC, sleeping_places: 4.5}\n", []string{"1:39: "}, origin.ErrSyntax},
		{"trip:\n  track: 2000 m\n", []string{"1:10: "}, origin.ErrRange},
	} {
		_, err := record.Read("v", []byte(coach(test.trip)))
		if err == nil {
			t.Errorf("%s: no error", test.trip)
			continue
		}
		if test.err != nil && !errors.Is(err, test.err) {
			t.Errorf("%s: %v, want %v", test.trip, err, test.err)
		}
		for _, want := range test.want {
			if a, b, ok := strings.Cut(want, ":"); ok && len(a) == 1 {
				want = fmt.Sprintf("v:%d:%s", lines+1+int(a[0]-'0'), b)
			}
			if !strings.Contains(err.Error(), want) {
				t.Errorf("%s: %v\nwant %q", test.trip, err, want)
			}
		}
	}
	// An axle whose distance nobody wrote down.
	text := strings.Replace(coach(stations), ", behind_steer: 200 in", "", 1)
	if _, err := record.Read("v", []byte(text)); err == nil || !strings.Contains(err.Error(), "v:7:5: ") {
		t.Errorf("no distance of the drive axle: %v", err)
	}
}

// TestMoreMarginsOfATrip covers single wheels that were weighed, a fifth
// wheel's caution, missing ratings, and what counts as cargo on an OCCC label.
func TestMoreMarginsOfATrip(t *testing.T) {
	base := strings.Replace(coach(""), "    - {load: 8100 lb, on: drive-left}\n",
		"    - {load: 4700 lb, on: drive-left-outer}\n    - {load: 3400 lb, on: drive-left-inner}\n", 1)
	r, err := loading.Weigh(visittest.Read(t, base), inspect.Setup{})
	if err != nil {
		t.Fatal(err)
	}
	// The pair's 8,100 lb is within 2 x 4,540, its outer tire's 4,700 is not.
	if v := verdict(weighLine(t, r, "drive-left").Margins, "tire capacity"); v != rules.Kept {
		t.Errorf("the pair: %v, want kept", v)
	}
	var order []string // what is stated of an end first
	for _, m := range weighLine(t, r, "drive-left").Margins {
		order = append(order, m.What)
	}
	if !slices.Equal(order, []string{"half GAWR", "tire capacity", "wheel rating"}) {
		t.Errorf("an end is held to %q", order)
	}
	outer := weighLine(t, r, "drive-left-outer").Margins
	if verdict(outer, "tire capacity") != rules.Breached || verdict(outer, "wheel rating") != rules.Kept || !r.Stops {
		t.Errorf("the outer tire: %+v, stops %v; want over and stop", outer, r.Stops)
	}
	p := plan(t, base+stations+"  coupling: fifth wheel\n  label: {kind: OCCC, stated: 2000 lb}\n")
	all := strings.Join(p.Cautions, " ")
	for _, want := range []string{"twice its weaker tire", "How much of the trailer rests on its pin is not judged here", "water and the tongue weight of a trailer count as cargo"} {
		if !strings.Contains(all, want) {
			t.Errorf("no caution says %q: %s", want, all)
		}
	}
	if alike := strings.Join(plan(t, coach(stations)).Cautions, " "); strings.Contains(alike, "weaker tire") {
		t.Errorf("no single wheel was weighed: %s", alike)
	}
	if p.Clears || len(p.Problems) != 1 {
		t.Errorf("a plan with an outer tire that is over: clears=%v, problems %+v", p.Clears, p.Problems)
	}
	// Of a coach that was weighed light a wheel keeps nothing, and is no problem of the plan either.
	light := plan(t, strings.NewReplacer("  as_driven: all\n", "", "4700 lb", "4200 lb").Replace(base+stations))
	if light.Clears || len(light.Problems) != 0 {
		t.Errorf("weighed light: clears=%v, problems %+v", light.Clears, light.Problems)
	}
	bare := strings.Replace(strings.Replace(coach(stations), "ratings: {gvwr: 26000 lb, gcwr: 31000 lb}\n", "", 1), ", gawr: 9500 lb", "", 1)
	bare = strings.Replace(bare, "    - {load: 4000 lb, on: steer-left}\n    - {load: 4100 lb, on: steer-right}\n", "    - {load: 8100 lb, on: steer}\n", 1)
	q := plan(t, bare+"  least_on_steer: 8000 lb\n")
	needs := map[string]string{}
	for _, g := range q.Unjudged {
		needs[g.Where] += g.Need
		if want := []string{"coach-care/half-gawr", "label/gawr"}; g.Where == "steer" && !slices.Equal(g.Rules, want) {
			t.Errorf("%s: %s waited for by %q, want %q", g.Where, g.Need, g.Rules, want)
		}
	}
	for where, want := range map[string]string{"steer": "GAWR", "coach": "GVWR", "steer-left": "weigh it", "left side": "weigh it"} {
		if !strings.Contains(needs[where], want) {
			t.Errorf("%s: %q, want %q", where, needs[where], want)
		}
	}
	if q.Least.Room != lb(90) || !q.Least.Kept {
		t.Errorf("least on the steer axle: %+v, want 90 lb to lose (8,100 - 10 - 8,000)", q.Least)
	}
	if r, err := loading.Weigh(visittest.Read(t, strings.Replace(bare, "fitment: dual", "fitment: dual, towed: yes", 1)), inspect.Setup{}); err != nil || !slices.ContainsFunc(r.Unjudged, func(g report.NotJudged) bool { return g.Where == "combination" }) {
		t.Errorf("a towed unit without a GCWR: %+v, %v", r.Unjudged, err)
	}
	open := strings.Replace(bare, "    - {load: 8100 lb, on: steer}\n", "", 1)
	q = plan(t, open+"  least_on_steer: 8000 lb\n")
	if q.Least.Kept || len(q.Moves.NotJudged) == 0 {
		t.Errorf("a steer axle nobody weighed: %+v, not judged %v", q.Least, q.Moves.NotJudged)
	}
}

func TestTripsThatCannotBePlanned(t *testing.T) {
	cart := strings.Replace(coach(""), "every_tire", "  - {id: cart, fitment: single, towed: yes, behind_steer: 500 in}\nevery_tire", 1) + "    - {load: 2000 lb, on: cart}\n"
	box := "trip:\n  stations: [{name: box, behind_steer: 450 in, towed: yes}]\n"
	for _, test := range []struct{ text, want string }{
		{cart + box, "trip.coupling: missing"},
		{cart + box + "  coupling: tongue\n", "trip.hitch: missing"},
		{cart + box + "  coupling: tow bar\n", "takes two axles"},
		{cart + box + "  coupling: tongue\n  hitch: 600 in\n", "hitch stands behind"},
		{"visit: 1\ndate: 2026-10-02\naxles: [{id: steer, fitment: single}]\nweighing: {readings: [{load: 4000 lb, on: steer}]}\ntrip: {least_on_steer: 3000 lb, stations: [{name: bay, behind_steer: 1 in}]}\n", "takes two axles"},
		{coach("trip:\n  stations: [{name: '  ', behind_steer: 1 in}]\n"), "spaces around"},
		{coach(stations + "  items: [{name: x, mass: 9000000 kg, at: tail, may_go_to: nose}]\n"), "range"},
		{coach(stations + "  changes: [{name: x, at: moonbase, add: 1 lb}]\n"), "want one of nose, belly, tail, attic"},
		{coach("trip:\n  changes: [{name: x, at: moonbase, add: 1 lb}]\n"), "the trip names none"},
	} {
		v, err := record.Read("v", []byte(test.text))
		if err == nil {
			_, err = loading.Plan(t.Context(), v, inspect.Setup{})
		}
		if err == nil || !strings.Contains(err.Error(), test.want) {
			t.Errorf("%v, want %q", err, test.want)
		}
	}
	many := "trip:\n  stations:\n"
	for i := range cargo.MaxStations + 1 {
		many += fmt.Sprintf("    - {name: s%d, behind_steer: 1 in}\n", i)
	}
	if _, err := record.Read("v", []byte(coach(many+"  items: [{name: x, mass: 1 lb, at: zz, may_go_to: s1}]\n"))); !errors.Is(err, origin.ErrRange) || !strings.Contains(err.Error(), "or another") {
		t.Errorf("too many stations: %v", err)
	}
	v := visittest.Read(t, coach(stations))
	v.Trip.Stations[0].Name = ""
	v.Trip.Items = []record.TripItem{{At: "tail"}}
	v.Trip.Changes = []record.TripChange{{Name: "x", At: "tail", Add: record.Record(-lb(1))}}
	_, err := loading.Plan(t.Context(), v, inspect.Setup{})
	for _, want := range []string{"trip.station 1.name: missing", "trip.item 1.name: missing", "trip.item 1.mass: out of range", "trip.x: must not be below zero"} {
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("built in Go: %v, want %q", err, want)
		}
	}
}

func TestOffsetText(t *testing.T) {
	for text, want := range map[string]record.Offset{"center": 0, "30 in left": -record.Offset(30 * weight.Inch), "1.5 m right": record.Offset(1500 * weight.Millimeter)} {
		var o record.Offset
		if err := o.UnmarshalText([]byte(text)); err != nil || o != want {
			t.Errorf("%q: %v, %v", text, o, err)
		}
	}
	var f record.Fluid
	if err := f.UnmarshalText([]byte("LP gas")); err != nil || f != record.LPGas || f.String() != "LP gas" {
		t.Errorf("LP gas: %v, %v", f, err)
	}
}

func FuzzParseOffset(f *testing.F) {
	for _, s := range []string{"center", "30 in left", "0.8 m right", "30 in", "left", "-3 in left", "0 in right", "", " left"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		o, err := record.ParseOffset(text)
		if err != nil {
			return
		}
		back, err := record.ParseOffset(o.String())
		if err != nil || back != o {
			t.Errorf("%q is %v, which reads back as %v, %v", text, o, back, err)
		}
	})
}

func FuzzReadTrip(f *testing.F) {
	f.Add("  track: 80 in\n")
	f.Add(strings.TrimPrefix(stations, "trip:\n") + "  changes: [{name: x, at: tail, fill: 3 gal, fluid: water}]\n")
	f.Add(strings.TrimPrefix(stations, "trip:\n") + "  items: [{name: x, mass: 9000000 kg, at: tail, may_go_to: nose}]\n  least_on_steer: 1 g\n")
	f.Fuzz(func(t *testing.T, trip string) {
		v, err := record.Read("v", []byte(coach("trip:\n"+trip)))
		if err != nil || len(v.Trip.Items) > 4 {
			return
		}
		r, err := loading.Plan(t.Context(), v, inspect.Setup{})
		if err != nil {
			return
		}
		var back loading.TripReport
		unmarshal(t, r, &back)
		sameJSON(t, r, back)
	})
}

// TestPlanSaysNoMoreThanThereIs: where nothing moves there are no margins and no room
// after the moves, and where nothing is coupled no word about what rests on a hitch;
// what is taken off a place leaves nothing there, and a move takes it along.
func TestPlanSaysNoMoreThanThereIs(t *testing.T) {
	still := plan(t, coach(stations+"  changes: [{name: old stove, at: tail, take_off: 40 lb}]\n"))
	for _, l := range still.Loads {
		if l.MovedMargins != nil {
			t.Errorf("%s: margins after moves that nobody makes: %+v", l.Name, l.MovedMargins)
		}
	}
	for _, s := range still.Stations {
		if s.Held != 0 || s.MovedRoom.Is() {
			t.Errorf("%s holds %s, moved room %t", s.Name, s.Held, s.MovedRoom.Is())
		}
	}
	if all := strings.Join(still.Cautions, "\n"); strings.Contains(all, "rests on its") {
		t.Errorf("nothing is towed: %s", all)
	}
	// As much as the nose may hold is not too much, whatever is taken off there.
	if full := plan(t, coach(stations+"  changes: [{name: books, at: nose, add: 300 lb}, {name: old stove, at: nose, take_off: 40 lb}]\n")); !full.Clears {
		t.Errorf("300 lb where 300 lb may be: %+v", full.Problems)
	}
	// The grill goes to the nose, which may hold 300 lb and holds 250 lb already.
	moved := plan(t, coach(stations+`  items:
    - {name: grill, mass: 40 lb, at: tail, may_go_to: nose}
    - {name: tools, mass: 250 lb, at: nose, may_go_to: nose}
  changes: [{name: stones, at: tail, add: 440 lb}]
`))
	// The tail holds 480 lb of 441, and after the move 440 lb.
	tail := plan(t, coach(strings.Replace(stations, "offset: 30 in right", "offset: 30 in right, most: 441 lb", 1)+`  items: [{name: grill, mass: 40 lb, at: tail, may_go_to: nose}]
  changes: [{name: stones, at: tail, add: 440 lb}]
`)).Stations[2]
	if room, _ := tail.MovedRoom.Get(); !tail.Over || tail.Held != lb(480) || room.Mass != lb(1) {
		t.Errorf("the tail: %+v", tail)
	}
	nose := moved.Stations[slices.IndexFunc(moved.Stations, func(s loading.StationLine) bool { return s.Name == "nose" })]
	after, ok := nose.MovedRoom.Get()
	if len(moved.Moves.Moves) != 1 || !ok || nose.Held != lb(250) || after.Mass != lb(10) {
		t.Errorf("moves %+v, held %s, room %+v, then %+v", moved.Moves.Moves, nose.Held, nose.Room, after)
	}
}

// TestWhatIsNotJudgedIsNotCleared: a rating that nobody read, or an end that nobody
// weighed, is no limit that is kept; and what may be loaded names it, where loading
// there presses on it.
func TestWhatIsNotJudgedIsNotCleared(t *testing.T) {
	t.Parallel()
	full := strings.Replace(apart, "hitched: no", "hitched: yes", 1)
	for _, x := range []struct {
		name, old, new string
		clears         bool
		room           []string // not judged at the box, between the axles
	}{
		{"all of it", "", "", true, nil},
		{"GAWR of the drive axle", ", gawr: 17500 lb", "", false, []string{"drive: its GAWR, from the ratings label"}},
		{"wheels of the cart, on which the box does not press", ", wheel: 3000 lb at 80 psi", "", false, nil},
		{"GVWR", "gvwr: 25000 lb, ", "", false, []string{"coach: its GVWR, from the ratings label"}},
		{"capacity of duals", "dual: 5000 lb at 110 psi", "dual: not read", false, []string{"tire capacity, drive, left end", "tire capacity, drive, right end"}},
		{"ends of the drive axle", "    - {load: 8100 lb, on: drive-left}\n    - {load: 8100 lb, on: drive-right}\n", "    - {load: 16200 lb, on: drive}\n", false,
			[]string{"half GAWR, drive, left end", "half GAWR, drive, right end"}},
	} {
		text := full
		if x.old != "" {
			text = strings.Replace(full, x.old, x.new, 1)
		}
		p := plan(t, text)
		if p.Clears != x.clears || len(p.Problems) > 0 || p.Moves.Outcome != cargo.NothingToMove {
			t.Errorf("%s: clears %t, %s, %+v, %+v", x.name, p.Clears, p.Moves.Outcome, p.Problems, p.Unjudged)
		}
		got := p.Stations[0].Room.NotJudged
		for _, want := range x.room {
			if !slices.Contains(got, want) {
				t.Errorf("%s: not judged of the room %q, want %q", x.name, got, want)
			}
		}
		if len(x.room) == 0 && len(got) > 0 {
			t.Errorf("%s: not judged of the room %q, want nothing", x.name, got)
		}
	}
}
