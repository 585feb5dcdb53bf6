package history_test

import (
	"strings"
	"testing"

	"axleend.example/inspect/history"
	"axleend.example/inspect/record"
	"axleend.example/inspect/record/condition"
	"axleend.example/inspect/report"
)

const (
	fromCarrier = "number: 1M3 AX7 DEM 2222, last_set: 100 psi, found: 100 psi"
	fromSteer   = "number: 1M3 AX1 DEM 3025, last_set: 100 psi, found: 100 psi"
)

// TestWhatStopsOnTheRoadStopsOnceASpareRunsThere: an entry has the action of where its tire
// is now, from the carrier to the road and back, and neither way closes it.
func TestWhatStopsOnTheRoadStopsOnceASpareRunsThere(t *testing.T) {
	t.Parallel()
	two := func(date, at, seen, other string) *record.Visit {
		return onVisit(t, date, "cold: yes\ngauge_tolerance: 0.5 psi\nnothing_since_set: yes\ntires: [{at: "+at+", "+fromCarrier+seen+"}, {at: "+other+", "+fromSteer+"}]")
	}
	stopping := func(h history.History) (out []string) {
		for _, ad := range h.Open {
			if ad.Item.Stops {
				out = append(out, ad.At+": "+ad.Item.What)
			}
		}
		return out
	}
	known := 0
	for _, x := range condition.All() {
		seen := ", seen: " + x.String()
		onRoad := stopping(compare(t, two("2026-01-01", "steer-left", seen, "spare")))
		switch x {
		case condition.AudibleLeak, condition.LugNutLoose, condition.FastenerDamaged, condition.DualsTouching, condition.TouchingVehicle, condition.ObjectBetweenDuals, condition.AloneOnBlock:
			continue // of the place, or of a valve that can be mended
		}
		if len(onRoad) == 0 {
			continue
		}
		known++
		carried, mounted, again := two("2026-01-01", "spare", seen, "steer-left"), two("2026-02-01", "steer-left", "", "spare"), two("2026-03-01", "spare", "", "steer-left")
		if h := compare(t, carried); h.Drive.Stops() || len(stopping(h)) > 0 {
			t.Errorf("%s on the carrier: %s %s", x, h.Drive, stopping(h))
		}
		h := compare(t, carried, mounted)
		if is := stopping(h); !h.Drive.Stops() || strings.Join(is, "; ") != strings.Join(onRoad, "; ") {
			t.Errorf("%s, from the carrier to the road: %s %q, want %q", x, h.Drive, is, onRoad)
		}
		h = compare(t, carried, mounted, again)
		if h.Drive.Stops() || len(stopping(h)) > 0 || len(h.Closed) > 0 {
			t.Errorf("%s, on the carrier again: %s %s, closed %d", x, h.Drive, stopping(h), len(h.Closed))
		}
		for _, ad := range compare(t, two("2026-01-01", "steer-left", seen, "spare"), two("2026-02-01", "spare", "", "steer-left")).Open {
			if ad.At == "spare" && (ad.Item.Stops || ad.Item.Action == report.DoNotDrive) {
				t.Errorf("%s, from the road to the carrier: %+v", x, ad.Item)
			}
		}
	}
	if known < 10 {
		t.Errorf("only %d conditions stop on the road", known)
	}
}

// TestACordIsSaidAtTheTireThatRunsWithIt: the headline, and what was done there, are of the
// place where the tire is.
func TestACordIsSaidAtTheTireThatRunsWithIt(t *testing.T) {
	t.Parallel()
	was := onVisit(t, "2026-01-01", "tires: [{at: spare, "+fromCarrier+", seen: [exposed cord, cracked wheel]}, {at: steer-left, "+fromSteer+"}]")
	for done, open := range map[string]int{
		"": 2, "done: [{at: steer-left, rule: seen-exposed-cord}]\n": 1, "done: [{at: steer-left, rule: seen-exposed-cord}, {at: steer-left, rule: seen-cracked-wheel}]\n": 0,
	} {
		h := compare(t, was, onVisit(t, "2026-02-01", "tires: [{at: steer-left, "+fromCarrier+"}, {at: spare, "+fromSteer+"}]"),
			onVisit(t, "2026-03-01", done+"tires: [{at: steer-left, "+fromCarrier+"}, {at: spare, "+fromSteer+"}]"))
		n := 0
		for _, ad := range h.Open {
			if ad.Item.Stops {
				n++
				if !ad.Item.WheelOff || ad.At != "steer-left" || ad.Item.Where != "spare" {
					t.Errorf("%q: %+v", done, ad)
				}
			}
		}
		if n != open || h.Drive.Stops() != (open > 0) || len(h.Contradictions) > 0 {
			t.Errorf("%q: %d stop, want %d: %s %v", done, n, open, h.Drive, h.Contradictions)
		}
	}
}
