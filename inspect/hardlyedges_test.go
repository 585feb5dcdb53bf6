package inspect_test

import (
	"strings"
	"testing"

	"axleend.example/internal/visittest"
)

// TestReadAgainAtTheBounds: what can hardly be is asked again, on the one side of its
// bound and not on the other, nor where it is said to be sure. The bounds are common
// practice.
func TestReadAgainAtTheBounds(t *testing.T) {
	t.Parallel()
	const head, found, tag = "date: 2026-11-29\n", "tag-left, found: 113 psi", "placard: 115 psi"
	base := strings.Replace(yard, ", found: 113 psi}", "}\ntires: [{at: steer-left, found: 120 psi}, {at: steer-right, found: 120 psi}, {at: tag-left, found: 113 psi}, {at: tag-right, found: 113 psi}]", 1)
	for _, x := range []struct{ from, to, want string }{
		{head, head, ""},
		// The coach: air, gauge, days.
		{head, head + "air_temperature: 130 F\n", ""},
		{head, head + "air_temperature: 131 F\n", "coach: the air temperature"},
		{head, head + "air_temperature: 131 F\nsure: [air_temperature]\n", ""},
		{head, head + "air_temperature: -60 F\n", ""},
		{head, head + "air_temperature: -61 F\n", "coach: the air temperature"},
		{head, head + "next_day_air: 131 F\n", "coach: the air temperature of the next day"},
		{head, head + "last_set_air: -61 F\n", "coach: the air temperature when they were set"},
		{"gauge_tolerance: 1 psi", "gauge_tolerance: 5 psi", ""},
		{"gauge_tolerance: 1 psi", "gauge_tolerance: 6 psi", "coach: the gauge's tolerance"},
		{"gauge_tolerance: 1 psi", "gauge_tolerance: 0 psi", "coach: the gauge's tolerance"},
		{"gauge_tolerance: 1 psi", "gauge_tolerance: 6 psi\nsure: [gauge_tolerance]", ""},
		{head, head + "last_set_on: 2026-11-29\n", ""},
		{head, head + "last_set_on: 2026-11-30\n", "coach: the day on which the tires were last set"},
		{head, head + "last_set_on: 2023-11-30\n", ""},
		{head, head + "last_set_on: 2023-11-29\n", "coach: the day on which the tires were last set"},
		{head, head + "last_set_on: 2023-11-29\nsure: [last_set_on]\n", ""},
		{"  scale: pads\n", "  scale: pads\n  date: 2026-11-29\n", ""},
		{"  scale: pads\n", "  scale: pads\n  date: 2026-11-30\n", "weighing: the day of the weighing"},
		// Ratings and placards.
		{head, head + "ratings: {gvwr: 31000 lb}\n", ""},
		{head, head + "ratings: {gvwr: 100 lb}\n", "steer: its GAWR; tag: its GAWR"},
		{head, head + "ratings: {gvwr: 99 lb}\n", "coach: its GVWR"},
		{head, head + "ratings: {gvwr: 31.5 lb}\n", "coach: its GVWR"},
		{head, head + "ratings: {gvwr: 999.5 lb}\n", "coach: its GVWR"},
		{head, head + "ratings: {gvwr: 1000.5 lb}\n", "steer: its GAWR; tag: its GAWR"},
		{head, head + "ratings: {gcwr: 999.5 lb}\n", "combination: its GCWR"},
		{head, head + "ratings: {gvwr: 14061 kg}\n", "coach: the ratings, in pounds and in kilograms"},
		{head, head + "ratings: {gvwr: 14061 kg}\nsure: [gvwr]\n", ""},
		{"gawr: 14000 lb", "gawr: 14.5 lb", "tag: its GAWR"},
		{tag, "placard: 30 psi", ""},
		{tag, "placard: 29 psi", "tag: the placard's pressure"},
		{tag, "placard: 150 psi", ""},
		{tag, "placard: 151 psi", "tag: the placard's pressure"},
		{tag, "placard: 151 psi, sure: [placard]", ""},
		// What was weighed.
		{"load: 5900 lb, on: tag-left", "load: 999.5 lb, on: tag-left", "weighing: the scale's reading of tag-left"},
		{"load: 5900 lb, on: tag-left", "load: 9150 lb, on: tag-left", ""},
		{"load: 5900 lb, on: tag-left", "load: 9151 lb, on: tag-left", "tag: the loads of its ends, which are far apart"},
		{"load: 6100 lb, on: tag-right", "load: 8850 lb, on: tag-right", ""},
		{"load: 6100 lb, on: tag-right", "load: 8853 lb, on: tag-right", "tag: the loads of its ends, which are far apart"},
		{"load: 5900 lb, on: tag-left", "load: 2676 kg, on: tag-left", "weighing: the scale's readings and its division, in pounds and in kilograms"},
		{"  scale: pads\n", "  scale: pads\n  division: 50 lb\n", ""},
		{"  scale: pads\n", "  scale: pads\n  division: 20 lb\n", "weighing: a scale's reading that is no multiple of its division"},
		{"  scale: pads\n", "  scale: pads\n  raised: [tag]\n", "tag-left: its load, of an axle that was raised; tag-right: its load, of an axle that was raised"},
		// A tire: its tread, what is stamped on it and what it was read at.
		{found, found + ", tread: 31/32 in", ""},
		{found, found + ", tread: 32/32 in", "tag-left: its tread depth"},
		{found, found + ", crack_depth: 1 in", ""},
		{found, found + ", cut_depth: 33/32 in", "tag-left: how deep its cut is"},
		{found, found + ", injury_width: 33/32 in", "tag-left: how wide its hole is"},
		{found, "tag-left, found: 150 psi", ""},
		{found, "tag-left, found: 151 psi", "tag-left: its pressure"},
		{found, "tag-left, found: 151 psi, sure: [found]", ""},
		{found, "tag-left, found: 115 psi, single: 9090 lb at 92 psi", ""},
		{found, "tag-left, found: 115.5 psi, single: 9090 lb at 92 psi", "tag-left: its pressure"},
		{found, "tag-left, found: 115.5 psi, single: 9090 lb at 92 psi, sure: [found]", ""},
		{found, found + ", single: 9090 lb at 150 psi", ""},
		{found, found + ", single: 9090 lb at 151 psi", "tag-left: the pressure stamped with its load (single)"},
		{found, found + ", single: 9090 lb at 30 psi", "tag-left: its pressure"},
		{found, found + ", single: 9090 lb at 29 psi", "tag-left: the pressure stamped with its load (single); tag-left: its pressure"},
		{found, found + ", single: 999.5 lb at 130 psi", "tag-left: the load stamped on it (single)"},
		{found, found + ", single: 4123 kg at 130 psi", "tag-left: the loads stamped on it and its wheel, in pounds and in kilograms"},
		{found, found + ", last_set: 30 psi", ""},
		{found, found + ", last_set: 29 psi", "tag-left: the pressure it was last set to"},
		{found, found + ", last_set: 151 psi", "tag-left: the pressure it was last set to"},
		{found, found + ", lowest: 150 psi", ""},
		{found, found + ", lowest: 151 psi", "tag-left: the lowest pressure it was driven at"},
		{found, found + ", before_air: 151 psi", "tag-left: the reading before air was added"},
		{found, found + ", torque_checked: 2026-11-29", ""},
		{found, found + ", torque_checked: 2026-11-30", "tag-left: the day on which its nuts were checked"},
	} {
		if strings.Count(base, x.from) != 1 {
			t.Fatalf("%q is there %d times", x.from, strings.Count(base, x.from))
		}
		r := visittest.Assess(t, visittest.Read(t, strings.Replace(base, x.from, x.to, 1)))
		var got []string
		for _, it := range r.Todo {
			if what, ok := strings.CutPrefix(it.What, "Read again: "); ok {
				got = append(got, it.Where+": "+what)
			}
		}
		if all := strings.Join(got, "; "); all != x.want {
			t.Errorf("%q:\n got %s\nwant %s", x.to, all, x.want)
		}
	}
}
