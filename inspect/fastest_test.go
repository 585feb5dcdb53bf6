package inspect_test

import (
	"testing"

	"axleend.example/internal/visittest"
)

// TestFastestAsked: how fast the coach is driven is asked of each symbol that a highway
// can be too fast for, and of no other.
func TestFastestAsked(t *testing.T) {
	const need = "the speed above which it is never driven (fastest)"
	for _, x := range []struct {
		name, tire, more string
		asked, found     bool
	}{
		{"50 mph", "service: 143/141F", "", true, false},
		{"62 mph", "service: 143/141J", "", true, false},
		{"62 mph, and driven faster", "service: 143/141J", "fastest: 75 mph\n", false, true},
		{"62 mph, and never driven faster", "service: 143/141J", "fastest: 62 mph\n", false, false},
		{"110 km/h", "service: 143/141K", "", true, false},
		{"120 km/h, 75 mph in tables for people", "service: 143/141L", "", false, false},
		{"marked for 55 mph", "service: 143/141L, seen: speed restricted", "", true, false},
		{"no symbol read", "note: a", "", false, false},
	} {
		r := visittest.Assess(t, visittest.Read(t, one("steer-left", x.tire)+x.more))
		_, found := has(r, "steer-left", "faster-than-rated")
		if asked := unjudged(r, "coach", need); asked != x.asked || found != x.found {
			t.Errorf("%s: asked %t, want %t; found %t, want %t", x.name, asked, x.asked, found, x.found)
		}
	}
}
