package placement_test

import (
	"math/rand/v2"
	"testing"

	"axleend.example/inspect"
	"axleend.example/inspect/placement"
	"axleend.example/inspect/report"
	"axleend.example/internal/testsize"
	"axleend.example/internal/visittest"
)

// airOf is what a placement says of the air of the tire proposed for a place.
func airOf(r placement.Placement, at string) report.Air {
	for _, l := range r.Places {
		if l.At == at {
			return l.Air
		}
	}
	return 0
}

// TestPlacedTireKeepsItsAir: what the report asks of a tire before any air goes in stands
// beside the pressure to set, wherever the tire goes and also where none moves (29 CFR
// 1910.177(f)(2)(i), as guidance; common practice).
func TestPlacedTireKeepsItsAir(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		name, at, own, sits string
		want                report.Air
	}{
		{"sound", "steer-left", "", "steer-left", report.AirFree},
		{"fell while it was parked", "steer-left", "found: 60 psi, driven_since: no", "steer-left", report.AirNotKnown},
		{"lost air since it was set", "steer-left", "last_set: 130 psi, found: 102 psi", "steer-left", report.AirNotKnown},
		{"a monitor rang", "steer-left", "low_alarm: yes", "steer-left", report.AirNotKnown},
		{"lost air by the next day", "steer-left", "left: 100 psi, next_day: 80 psi", "steer-left", report.AirNotKnown},
		{"not read", "drive-left-inner", "-found-", "drive-left-inner", report.AirNotKnown},
		{"beside one that was not read", "drive-left-inner", "-found-", "drive-left-outer", report.AirNotKnown},
		{"the other end", "drive-left-inner", "-found-", "drive-right-outer", report.AirFree},
		{"its wheel cracked, the tire kept", "drive-left-outer", "seen: cracked wheel", "drive-left-outer", report.AirForbidden},
	} {
		own := map[string]string{tt.at: tt.own}
		v := visittest.Read(t, wheels(false, own))
		r, a := placed(t, v, inspect.Setup{}), visittest.Assess(t, v)
		if got, is := airOf(r, tt.sits), a.Tire(tt.sits).Air; got != tt.want || is != tt.want {
			t.Errorf("%s: air %s, want %s; the report says %s", tt.name, got, tt.want, is)
		}
	}
}

// TestPlacedAirNeverMilder: over random coaches, no tire on the road is said to be freer
// to be aired than the report says of it, nor than of the tire it stands beside.
func TestPlacedAirNeverMilder(t *testing.T) {
	sets := 300
	if !testsize.Full() {
		sets = 40
	}
	r := rand.New(rand.NewPCG(7, 20261130))
	moved, doubted := 0, 0
	for n := range sets {
		x := newTrial(r, false, 1)
		res, a := placed(t, x.visit, inspect.Setup{}), visittest.Assess(t, x.visit)
		for i, l := range res.Places {
			if (l.Tire == "") != (l.Air == 0) {
				t.Errorf("set %d: air %s of tire %q on %s", n, l.Air, l.Tire, l.At)
			}
			if l.Tire == "" {
				continue
			}
			least := a.Tire(l.Tire).Air
			if m := x.spots[i].mate; m >= 0 && res.Places[m].Tire != "" {
				least = max(least, a.Tire(res.Places[m].Tire).Air)
			}
			if l.Air != least {
				t.Errorf("set %d: air %s of tire %s on %s, want %s", n, l.Air, l.Tire, l.At, least)
			}
			if l.Tire != l.At {
				moved++
			}
			if l.Air != report.AirFree {
				doubted++
			}
		}
	}
	if moved == 0 || doubted == 0 {
		t.Errorf("%d tires moved, %d not free", moved, doubted)
	}
}
