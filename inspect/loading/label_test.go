package loading_test

import (
	"strings"
	"testing"

	"axleend.example/inspect"
	"axleend.example/inspect/loading"
	"axleend.example/inspect/report"
	"axleend.example/internal/visittest"
	"axleend.example/rules"
	"axleend.example/weight"
	"axleend.example/weight/cargo"
)

// labeled is a coach of 23,900 lb with 2,000 lb loaded by its label, and what is loaded
// for the trip.
func labeled(label, food, more string) string {
	return `visit: 1
invented: yes
date: 2026-10-02
ratings: {gvwr: 28000 lb, gcwr: 35000 lb}
axles:
  - {id: steer, fitment: single, gawr: 9500 lb}
  - {id: drive, fitment: dual, gawr: 18500 lb, behind_steer: 200 in}
every_tire: {class: truck, single: 4940 lb at 110 psi, dual: 4740 lb at 110 psi, wheel: 5000 lb at 120 psi}
tires: [{at: steer-left}, {at: steer-right}, {at: drive-left-outer}, {at: drive-left-inner}, {at: drive-right-outer}, {at: drive-right-inner}]
weighing:
  scale: pads
  as_driven: all
  level: yes
  readings: [{load: 4000 lb, on: steer-left}, {load: 4100 lb, on: steer-right}, {load: 8000 lb, on: drive-left}, {load: 7800 lb, on: drive-right}]
trip:
  track: 78 in
  stations: [{name: bay, behind_steer: 150 in}, {name: closet, behind_steer: 60 in}]
  items: [{name: chest, mass: 165 lb, at: bay, may_go_to: [closet]}]
  changes:
    - {name: driver, at: closet, add: 330 lb, people: yes}
    - {name: water, at: bay, fill: 40 gal, fluid: water}
    - {name: food, at: bay, add: ` + food + `}
` + more + `  label: {` + label + `}
`
}

// TestLabelCountsTheChanges: what is loaded for the trip counts by the cargo label, people
// and water beside it on one of 2000 (CCC) and as cargo on one of today (OCCC).
func TestLabelCountsTheChanges(t *testing.T) {
	t.Parallel()
	const ccc = "kind: CCC, uvw: 21900 lb, stated: 2500 lb, fresh_water: 50 gal, people_aboard: 0 lb, water_aboard: 0 gal, lp_gas_aboard: 0 gal"
	for _, x := range []struct {
		name, label, food, more string
		least, most             weight.Mass // loaded after the changes
		verdict                 rules.Verdict
		clears                  bool
		outcome                 cargo.Outcome
		planned                 bool // the assessment says so before it is loaded
	}{
		{"within", ccc, "300 lb", "", lb(2300), lb(2303), rules.Kept, true, cargo.NothingToMove, false},
		{"over, and the chest stays at home", ccc, "560 lb", "", lb(2395), lb(2398), rules.Kept, false, cargo.MustStay, true},
		{"over, whatever stays at home", ccc, "900 lb", "", lb(2735), lb(2903), rules.Breached, false, cargo.Hopeless, true},
		{"too close", ccc, "480 lb", "", lb(2315), lb(2318), rules.Kept, false, cargo.MustStay, true},
		{"taken off again", ccc, "300 lb", "    - {name: tools, at: bay, take_off: 100 lb}\n", lb(2200), lb(2203), rules.Kept, true, cargo.NothingToMove, false},
		{"more water than its tank holds", ccc, "100 lb", "    - {name: more water, at: bay, fill: 60 gal, fluid: water}\n", lb(2350), lb(2356), rules.Kept, false, cargo.MustStay, true},
		{"people and water not said", strings.Replace(ccc, ", people_aboard: 0 lb, water_aboard: 0 gal", "", 1), "900 lb", "", lb(2900), lb(2903), rules.NotRecorded, false, cargo.NothingToMove, false},
		{"people and water as cargo", "kind: OCCC, uvw: 21900 lb, stated: 3000 lb", "300 lb", "", lb(2798), lb(2800), rules.Kept, false, cargo.MustStay, true},
	} {
		v := visittest.Read(t, labeled(x.label, x.food, x.more))
		p, err := loading.Plan(t.Context(), v, inspect.Setup{})
		if err != nil {
			t.Fatal(x.name, err)
		}
		l, _ := p.Label.Get()
		if l.Loaded.Load < x.least || l.Loaded.Load > x.most || l.Verdict != x.verdict || p.Clears != x.clears || p.Moves.Outcome != x.outcome {
			t.Errorf("%s: loaded %v, %v, clears %v, %v, %v", x.name, l.Loaded.Load, l.Verdict, p.Clears, p.Moves.Outcome, p.Problems)
		}
		if x.clears != (len(p.Unjudged) == 0 && len(p.Problems) == 0 && len(p.Moves.StayHome) == 0) {
			t.Errorf("%s: clears %v, not judged %v", x.name, x.clears, p.Unjudged)
		}
		w, err := loading.Weigh(v, inspect.Setup{})
		if err != nil {
			t.Fatal(x.name, err)
		}
		if l, _ := w.Label.Get(); l.Loaded.Load != lb(2000) {
			t.Errorf("%s: as weighed %v", x.name, l.Loaded.Load)
		}
		said := false
		for _, it := range visittest.Assess(t, v).Todo {
			said = said || it.Where == "coach" && it.Action == report.BeforeTrip && strings.HasPrefix(it.What, "With the changes for the trip: More loaded")
		}
		if said != x.planned {
			t.Errorf("%s: the assessment says so: %v", x.name, said)
		}
	}
}

// TestFilledTankIsUsedUp: a plan that fills a tank says that the limits hold with it
// empty, too, or that it is weighed again; another does not.
func TestFilledTankIsUsedUp(t *testing.T) {
	t.Parallel()
	text := labeled("kind: NCC, uvw: 21900 lb", "300 lb", "")
	for change, want := range map[string]bool{"fill: 40 gal, fluid: water": true, "fill: 40 gal, fluid: diesel": true, "drain: 40 gal, fluid: water": false, "add: 330 lb": false} {
		p, err := loading.Plan(t.Context(), visittest.Read(t, strings.Replace(text, "fill: 40 gal, fluid: water", change, 1)), inspect.Setup{})
		if err != nil {
			t.Fatal(err)
		}
		if said := strings.Contains(strings.Join(p.Cautions, " "), "used up on the way"); said != want {
			t.Errorf("%s: %q", change, p.Cautions)
		}
	}
}
