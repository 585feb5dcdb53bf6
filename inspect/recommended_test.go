package inspect_test

import (
	"testing"

	"axleend.example/inspect"
	"axleend.example/internal/visittest"
)

// TestRecommendedByWeight: what a table gives for both ends weighed is what is recommended,
// also below the placard; else the placard, or more where the load needs more.
func TestRecommendedByWeight(t *testing.T) {
	t.Parallel()
	program := visittest.Compile(t, `  driven-low: {title: driven low, subject: tire, measure: below_recommended, is: no, action: plan, advice: A, source: {grade: computed}}
`)
	for _, x := range []struct {
		name, found, readings string
		low                   bool
	}{
		{"below the placard, above what its weight needs", "60 psi", "{load: 1700 lb, on: [steer-left]}, {load: 1700 lb, on: [steer-right]}", false},
		{"below what its weight needs", "44 psi", "{load: 1700 lb, on: [steer-left]}, {load: 1700 lb, on: [steer-right]}", true},
		{"below the placard, the axle weighed whole", "60 psi", "{load: 3400 lb, on: [steer]}", true},
		{"at the placard", "80 psi", "{load: 3400 lb, on: [steer]}", false},
	} {
		r, err := inspect.Assess(visittest.Read(t, `visit: 1
date: 2026-10-03
gauge_tolerance: 0.5 psi
axles: [{id: steer, fitment: single, placard: 80 psi}]
every_tire: {size: LX217/82R17, class: light truck, construction: radial, single: 3040 lb at 80 psi}
tires: [{at: steer-left, found: `+x.found+`}, {at: steer-right, found: 80 psi}]
weighing: {scale: pads, tolerance: 5 lb, as_driven: all, levelers_up: yes, slides_in: yes, ride_height: yes, level: yes, readings: [`+x.readings+`]}
`), inspect.Setup{Program: program, Tables: threeRows(t)})
		if err != nil {
			t.Fatal(err)
		}
		if _, low := has(r, "steer-left", "driven-low"); low != x.low {
			t.Errorf("%s: low %t, want %t: %+v %+v", x.name, low, x.low, r.Todo, r.Settings)
		}
	}
}
