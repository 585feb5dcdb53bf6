package loading_test

import (
	"strings"
	"testing"

	"axleend.example/inspect"
	"axleend.example/inspect/loading"
	"axleend.example/inspect/record"
	"axleend.example/internal/visittest"
)

// TestSlipsClearNoPlan: a plan from which nothing has to move, typed in with one slip,
// is refused, or says what to read again and clears nothing.
func TestSlipsClearNoPlan(t *testing.T) {
	const sound = `visit: 1
invented: yes
date: 2026-10-02
ratings: {gvwr: 26000 lb, gcwr: 31000 lb}
axles:
  - {id: steer, fitment: single, gawr: 9500 lb}
  - {id: drive, fitment: dual, gawr: 17500 lb, behind_steer: 200 in}
every_tire: {class: truck, service: 136/133L, single: 4940 lb at 110 psi, dual: 4540 lb at 110 psi, wheel: 5000 lb at 120 psi}
tires: [{at: steer-left}, {at: steer-right}, {at: drive-left-outer}, {at: drive-left-inner}, {at: drive-right-outer}, {at: drive-right-inner}]
weighing:
  scale: pads
  as_driven: all
  level: yes
  readings:
    - {load: 4000 lb, on: steer-left}
    - {load: 4100 lb, on: steer-right}
    - {load: 8000 lb, on: drive-left}
    - {load: 7800 lb, on: drive-right}
trip:
  track: 78 in
  least_on_steer: 7500 lb
  stations: [{name: bay, behind_steer: 230 in, offset: 20 in left}, {name: closet, behind_steer: 60 in}]
  items: [{name: chest, mass: 165 lb, at: bay, may_go_to: [closet]}]
  changes: [{name: tools, at: bay, add: 120 lb}]
`
	v := visittest.Read(t, sound)
	if p, err := loading.Plan(t.Context(), v, inspect.Setup{}); err != nil || !p.Clears || len(p.Problems) > 0 {
		t.Fatalf("%v, %v", err, p.Problems)
	}
	if w, err := loading.Weigh(v, inspect.Setup{}); err != nil || len(w.Problems) > 0 {
		t.Fatalf("%v, %v", err, w.Problems)
	}
	for _, x := range []struct{ old, new, asked string }{
		{"load: 4000 lb", "load: 4.000 lb", "the scale's reading of steer-left"},
		{"load: 4000 lb", "load: 4000 kg", "in pounds and in kilograms"},
		{"load: 4000 lb", "load: 2000 lb", "the loads of its ends"},
		{"gawr: 9500 lb", "gawr: 9.500 lb", "its GAWR"},
		{"gawr: 9500 lb", "gawr: 95000 lb", "its GAWR"},
		{"gawr: 9500 lb", "gawr: 9500 kg", "the ratings, in pounds"},
		{"gvwr: 26000 lb", "gvwr: 260000 lb", "its GVWR"},
		{"gvwr: 26000 lb", "gvwr: 26.000 lb", "its GVWR"},
		{"single: 4940 lb", "single: 49400 lb", "contradict each other"},
		{"service: 136/133L, single: 4940 lb", "single: 49400 lb", "the load on its sidewall"},
		{"single: 4940 lb", "single: 4.940 lb", "the load stamped on it (single)"},
		{"dual: 4540 lb", "dual: 4540 kg", "in pounds and in kilograms"},
		{"wheel: 5000 lb", "wheel: 50000 lb", "the load on its wheel"},
		{"least_on_steer: 7500 lb", "least_on_steer: 7.500 lb", "the least on the steer axle"},
		{"mass: 165 lb", "mass: 1.165 lb", "chest"},
		{"add: 120 lb", "add: 1.25 lb", "tools"},
		{"add: 120 lb", "take_off: 1.255 lb", "tools"},
		{"track: 78 in", "track: 78 cm", ""},
		{"track: 78 in", "track: 78 ft", ""},
		{"offset: 20 in left", "offset: 20 m left", ""},
		{"behind_steer: 230 in", "behind_steer: 230 ft", ""},
	} {
		text := strings.Replace(sound, x.old, x.new, 1)
		v, err := record.Read("slip.yaml", []byte(text))
		if err != nil {
			if x.asked != "" {
				t.Errorf("%s: %v", x.new, err)
			}
			continue
		}
		if x.asked == "" {
			t.Errorf("%s is taken", x.new)
			continue
		}
		said := func(what string) bool { return strings.Contains(what, x.asked) }
		if p, err := loading.Plan(t.Context(), v, inspect.Setup{}); err != nil || p.Clears || len(p.Problems) == 0 || !said(p.Problems[0].What) {
			t.Errorf("%s: plan %v, clears %v, %v", x.new, err, p.Clears, p.Problems)
		}
		if w, err := loading.Weigh(v, inspect.Setup{}); err != nil || len(w.Problems) == 0 || !said(w.Problems[0].What) {
			t.Errorf("%s: weighing %v, %v", x.new, err, w.Problems)
		}
	}
}
