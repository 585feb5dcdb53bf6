package inspect_test

import (
	"testing"

	"axleend.example/inspect/report"
	"axleend.example/internal/visittest"
)

// TestCutToMeasure: of a cut that was written down the depth is asked for; of one that was
// measured the depth decides.
func TestCutToMeasure(t *testing.T) {
	t.Parallel()
	for _, x := range []struct {
		cut   string
		asked bool
	}{
		{"cut_length: 3 in", true}, {"cut_at: sidewall", true}, {"cut_length: 3 in, cut_at: crown", true},
		{"cut_length: 3 in, cut_depth: 1/32 in", false}, {"cut_depth: 1/32 in", false}, {"tread: 9/32 in", false},
	} {
		r := visittest.Assess(t, visittest.Read(t, bare("", "tires: [{at: steer-left, "+x.cut+"}]\n")))
		if _, asked := has(r, "steer-left", "cut-not-measured"); asked != x.asked {
			t.Errorf("%s: asked %t, want %t: %+v", x.cut, asked, x.asked, r.Todo)
		}
	}
}

// TestNoAirBeforeALook: a tire that was left without air, or has a cut of which nobody knows
// the depth, gets none before trained people looked at it.
func TestNoAirBeforeALook(t *testing.T) {
	t.Parallel()
	for of, want := range map[string]report.Air{
		"left: 0 psi": report.AirNotKnown, "cut_length: 3 in": report.AirNotKnown, "left: 95 psi": report.AirFree,
	} {
		r := visittest.Assess(t, visittest.Read(t, `visit: 1
date: 2026-10-03
cold: yes
driven_since: yes
nothing_since_set: yes
gauge_tolerance: 1 psi
axles: [{id: steer, fitment: single, placard: 100 psi}]
every_tire: {class: truck, last_set: 100 psi, seen: nothing, sidewalls: both}
tires: [{at: steer-left, found: 99 psi, `+of+`}, {at: steer-right, found: 99 psi}]
`))
		if got := tireOf(t, r, "steer-left").Air; got != want {
			t.Errorf("%s: air %s, want %s", of, got, want)
		}
	}
}
