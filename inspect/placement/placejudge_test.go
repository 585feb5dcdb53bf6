package placement_test

import (
	"testing"

	"axleend.example/inspect"
	"axleend.example/inspect/report"
	"axleend.example/internal/visittest"
)

// TestRepairedFirst: a spare of which something is to be found inside is not relied on where
// another is at hand.
func TestRepairedFirst(t *testing.T) {
	t.Parallel()
	for _, seen := range []string{"nail or object", "cut", "plugged on the wheel"} {
		own := map[string]string{"steer-left": "seen: [bulge]", "spare": "seen: [" + seen + "]", "spare-2": "tread: 9/32 in"}
		r := placed(t, visittest.Read(t, wheels(false, own)), inspect.Setup{})
		if got := moves(r); got != "spare-2>steer-left" {
			t.Errorf("%s: %s", seen, got)
		}
	}
}

// TestAirBesideAPairAlone: the air of a pair is the worse of its two, also where they are
// the first tires of the coach.
func TestAirBesideAPairAlone(t *testing.T) {
	t.Parallel()
	r := placed(t, visittest.Read(t, `visit: 1
date: 2026-10-03
axles: [{id: drive, fitment: dual, placard: 100 psi}]
every_tire: {class: truck, size: AX240/75R20, model: a, seen: nothing, last_set: 100 psi}
tires:
  - {at: drive-left-outer, found: 85 psi, low_alarm: yes, tread: 9/32 in}
  - {at: drive-left-inner, found: 100 psi, tread: 9/32 in}
  - {at: drive-right-inner, found: 100 psi, tread: 9/32 in}
  - {at: drive-right-outer, found: 100 psi, tread: 9/32 in}
`), inspect.Setup{})
	air := map[string]report.Air{}
	for _, p := range r.Places {
		air[p.At] = p.Air
	}
	if air["drive-left-inner"] != air["drive-left-outer"] || air["drive-left-inner"] == air["drive-right-inner"] {
		t.Errorf("%s: %v", r.Outcome, air)
	}
}
