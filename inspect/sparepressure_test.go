package inspect_test

import (
	"testing"

	"axleend.example/inspect/report"
	"axleend.example/internal/visittest"
)

// TestSpareAboveItsStamps: a spare above what its sidewall or its wheel states is listed,
// and stands in nobody's way; it may run alone or as a dual, so the higher of the two
// counts.
func TestSpareAboveItsStamps(t *testing.T) {
	for _, x := range []struct {
		name, spare string
		rule        string // empty: none
		asked       bool   // for the pressure on its sidewall
	}{
		{"at its stamp", "single: 3000 lb at 80 psi, found: 80 psi", "", false},
		{"just above it", "single: 3000 lb at 80 psi, found: 81 psi", "most-pressure-spare", false},
		{"far above it", "single: 3000 lb at 80 psi, found: 100 psi", "most-pressure-spare", false},
		{"above its wheel's", "single: 3000 lb at 110 psi, wheel: 5000 lb at 90 psi, found: 91 psi", "most-pressure-spare", false},
		{"above the lower of its two", "single: 3000 lb at 80 psi, dual: 2700 lb at 75 psi, found: 78 psi", "", false},
		{"above both", "single: 3000 lb at 75 psi, dual: 2700 lb at 80 psi, found: 81 psi", "most-pressure-spare", false},
		{"left above it", "single: 3000 lb at 80 psi, found: 78 psi, left: 81 psi", "most-pressure-spare-left", false},
		{"above it, and read at 0 before", "single: 3000 lb at 80 psi, found: 85 psi, read_zero: yes", "most-pressure-spare", false},
		{"hot, at most what was read", "single: 3000 lb at 80 psi, found: 85 psi, hot: yes", "", false},
		{"no stamp read", "found: 100 psi", "", true},
		{"not read, nor its stamp", "tread: 9/32 in", "", true},
	} {
		text := bare("", "tires: [{at: spare, "+x.spare+"}]\n")
		r := visittest.Assess(t, visittest.Read(t, text))
		rule := ""
		for _, name := range [...]string{"most-pressure-spare", "most-pressure-spare-left"} {
			if it, ok := has(r, "spare", name); ok {
				rule = name
				if it.Stops || it.Action != report.Plan {
					t.Errorf("%s: %+v", x.name, it)
				}
			}
		}
		if asked := unjudged(r, "spare", "the maximum pressure on its sidewall"); rule != x.rule || asked != x.asked {
			t.Errorf("%s: %q, want %q; asked %t, want %t", x.name, rule, x.rule, asked, x.asked)
		}
	}
}

// TestSpareOfOneSize: a spare is kept ready for the axles of its size, and for those whose
// size nobody read; of an axle on which one was read as another, the rest are too.
func TestSpareOfOneSize(t *testing.T) {
	t.Parallel()
	const coach = `visit: 1
date: 2026-10-03
axles: [{id: steer, fitment: single, placard: 80 psi}, {id: drive, fitment: dual, placard: 110 psi}, {id: cart, fitment: single, towed: yes, placard: 120 psi}]
gauge_tolerance: 1 psi
tires:
  - {at: steer-left, size: AX240/75R20}
  - {at: drive-left-outer}
  - {at: drive-left-inner, `
	for _, x := range []struct {
		name, inner, spare, cart string
		low                      bool // 75 psi is low where it is kept at 110 or 120 psi, and not at 80
	}{
		{"the drive axle has another", "size: AX260/75R20", "size: AX240/75R20", "note: a", false},
		{"the drive axle has the same", "size: AX240/75R20", "size: AX240/75R20", "note: a", true},
		{"the drive axle's was not read", "note: a", "size: AX240/75R20", "note: a", true},
		{"the spare's was not read", "size: AX260/75R20", "note: a", "note: a", true},
		{"so has the cart", "size: AX260/75R20", "size: AX240/75R20", "size: AX240/75R20", true},
		{"the cart has another", "size: AX260/75R20", "size: AX240/75R20", "size: AX260/75R20", false},
	} {
		r := visittest.Assess(t, visittest.Read(t, coach+x.inner+"}\n  - {at: cart-left, "+x.cart+"}\n  - {at: spare, found: 75 psi, "+x.spare+"}\n"))
		if _, low := has(r, "spare", "spare-low"); low != x.low {
			t.Errorf("%s: low %t, want %t: %+v", x.name, low, x.low, r.Todo)
		}
	}
}
