package history_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"axleend.example/inspect/history"
	"axleend.example/inspect/record"
	"axleend.example/internal/visittest"
)

// labeled is a visit to a coach of these ratings, all ends of which were weighed.
func labeled(t *testing.T, date, gvwr, gawr, done string, steer int) *record.Visit {
	t.Helper()
	return visittest.Read(t, fmt.Sprintf(`visit: 1
invented: yes
date: %s
%sratings: {gvwr: %s lb, gcwr: 40000 lb}
axles:
  - {id: steer, fitment: single, gawr: %s lb, placard: 100 psi}
  - {id: drive, fitment: dual, gawr: 17500 lb, placard: 110 psi}
tires: [{at: steer-left, found: 100 psi}]
weighing:
  scale: pads
  division: 20 lb
  level: yes
  ride_height: yes
  as_driven: yes
  readings:
    - {load: %d lb, on: steer-left}
    - {load: %d lb, on: steer-right}
    - {load: 8000 lb, on: drive-left}
    - {load: 8000 lb, on: drive-right}
`, date, done, gvwr, gawr, steer, steer))
}

// TestARaisedLabelClosesNoOverload: a label does not change. What was over a rating is
// settled by weighing less than that, or by done, and not by a higher rating that is read;
// that the two do not fit is said once.
func TestARaisedLabelClosesNoOverload(t *testing.T) {
	t.Parallel()
	for _, x := range []struct {
		name, at, rule, gvwr, gawr, done string
		steer                            int
		open                             bool
		said                             string
	}{
		{"a higher GVWR", "coach", "gvwr", "26000", "12000", "", 4600, true, "GVWR 26,000 lb, before it was 24,000 lb"},
		{"a higher GVWR, a little less", "coach", "gvwr", "26000", "12000", "", 4100, true, "GVWR 26,000 lb, before it was 24,000 lb"},
		{"a higher GVWR, under the lower", "coach", "gvwr", "26000", "12000", "", 3900, false, "GVWR 26,000 lb, before it was 24,000 lb"},
		{"the same GVWR, under it", "coach", "gvwr", "24000", "12000", "", 3900, false, ""},
		{"a higher GVWR, and done", "coach", "gvwr", "26000", "12000", "done: [{at: coach, rule: gvwr, note: label read twice}]\n", 4600, false, "GVWR 26,000 lb, before it was 24,000 lb"},
		{"a higher GAWR", "steer", "gawr", "24000", "9500", "", 4600, true, "GAWR 9,500 lb, before it was 9,000 lb"},
		{"a higher GAWR, half", "steer-left", "half-gawr", "24000", "9500", "", 4600, true, "GAWR 9,500 lb, before it was 9,000 lb"},
		{"a higher GAWR, under the lower", "steer-left", "half-gawr", "24000", "9500", "", 4400, false, "GAWR 9,500 lb, before it was 9,000 lb"},
		{"in kilograms, rounded", "coach", "gvwr", "24001", "12000", "", 4600, true, ""},
	} {
		gawr := "12000"
		if x.at != "coach" {
			gawr = "9000"
		}
		first, second := labeled(t, "2026-01-01", "24000", gawr, "", 4600), labeled(t, "2026-02-01", x.gvwr, x.gawr, x.done, x.steer)
		if _, found := advisedBy(compare(t, first).Open, x.at, x.rule); !found {
			t.Fatalf("%s: %s not found: %+v", x.name, x.rule, compare(t, first).Open)
		}
		for n, h := range []history.History{compare(t, first, second), compare(t, first, second, labeled(t, "2026-03-01", x.gvwr, x.gawr, "", x.steer))} {
			if _, open := advisedBy(h.Open, x.at, x.rule); open != x.open {
				t.Errorf("%s, %d visits: open %t, want %t", x.name, n+2, open, x.open)
			}
			said := 0
			for _, c := range h.Contradictions {
				if c.Where != x.at && !strings.HasPrefix(x.at, c.Where) || !strings.Contains(c.What, "a label does not change") {
					continue
				}
				if said++; !strings.HasPrefix(c.What, x.said) || x.said == "" {
					t.Errorf("%s: %+v", x.name, c)
				}
			}
			if want := min(len(x.said), 1); said != want {
				t.Errorf("%s, %d visits: said %d times, want %d: %v", x.name, n+2, said, want, h.Contradictions)
			}
		}
	}
}

// TestARaisedLabelClosesNoLoadOfAGroup: axles weighed together are held to the sum of their
// ratings.
func TestARaisedLabelClosesNoLoadOfAGroup(t *testing.T) {
	t.Parallel()
	visit := func(date, tag, load string) *record.Visit {
		return visittest.Read(t, "visit: 1\ninvented: yes\ndate: "+date+`
axles:
  - {id: steer, fitment: single, gawr: 12000 lb, placard: 100 psi}
  - {id: drive, fitment: dual, gawr: 17500 lb, placard: 110 psi}
  - {id: tag, fitment: single, gawr: `+tag+` lb, placard: 100 psi}
tires: [{at: steer-left, found: 100 psi}]
weighing: {scale: platform, division: 20 lb, as_driven: yes, readings: [{load: 9000 lb, on: steer}, {load: `+load+` lb, on: [drive, tag]}]}
`)
	}
	was := visit("2026-01-01", "8000", "26000")
	found := compare(t, was).Open
	at := slices.IndexFunc(found, func(ad history.Advised) bool { return strings.Contains(ad.At, "drive") && ad.Item.Stops })
	if at < 0 {
		t.Fatalf("not found: %+v", found)
	}
	for _, x := range []struct {
		tag, load string
		open      bool
	}{{"9000", "26000", true}, {"9000", "25000", false}, {"8000", "25000", false}} {
		h := compare(t, was, visit("2026-02-01", x.tag, x.load))
		if _, open := advisedBy(h.Open, found[at].At, strings.TrimPrefix(found[at].Item.Rules[0], "label/")); open != x.open {
			t.Errorf("tag of %s lb, %s lb on both: open %t, want %t: %+v", x.tag, x.load, open, x.open, h.Open)
		}
	}
}

// TestAStampOfOneTireDoesNotChange: what a tire of a full number was found to be, or to
// carry too much for, is not settled by other words on its sidewall; another tire's are
// its own.
func TestAStampOfOneTireDoesNotChange(t *testing.T) {
	t.Parallel()
	const head = "cold: yes\ngauge_tolerance: 0.5 psi\nnothing_since_set: yes\n"
	const whole, another, part = ", number: 1M3 AX1 DEM 2222", ", number: 4B9 KK7 QRS 0225", ", number: 2222"
	tire := func(number, more string) string {
		return "tires: [{at: steer-right" + number + ", seen: nothing, class: truck, construction: radial, last_set: 100 psi, found: 100 psi, wheel: 6000 lb at 130 psi" + more + "}]\n"
	}
	const weak, strong = ", single: 3900 lb at 110 psi, dual: 3600 lb at 110 psi", ", single: 5500 lb at 110 psi, dual: 5000 lb at 110 psi"
	for _, x := range []struct {
		name, rule     string
		was, now       string
		from, to, load string
		open, said     bool
	}{
		{"a higher stamp", "load-at-found-pressure", weak, strong, whole, whole, "4100 lb", true, true},
		{"a higher stamp and less load", "load-at-found-pressure", weak, strong, whole, whole, "3000 lb", false, true},
		{"the same stamp and less load", "load-at-found-pressure", weak, weak, whole, whole, "3000 lb", false, false},
		{"another tire", "load-at-found-pressure", weak, strong, whole, another, "4100 lb", false, false},
		{"in kilograms", "load-at-found-pressure", weak, ", single: 1769 kg at 758 kPa, dual: 1633 kg at 758 kPa", whole, whole, "3000 lb", false, false},
		{"no retread any more", "retread-on-steer", strong + ", retread: yes", strong + ", retread: no", whole, whole, "4100 lb", true, true},
		{"no retread any more, of a date code alone", "retread-on-steer", strong + ", retread: yes", strong + ", retread: no", part, part, "4100 lb", false, false},
		{"another tire that is no retread", "retread-on-steer", strong + ", retread: yes", strong + ", retread: no", whole, another, "4100 lb", false, false},
		{"no grooves cut any more", "regrooved-on-steer", strong + ", regrooved: yes", strong + ", regrooved: no", whole, whole, "4100 lb", true, false},
	} {
		was := onVisit(t, "2026-01-01", head+tire(x.from, x.was)+slip("", "4100 lb"))
		if _, found := advisedBy(compare(t, was).Open, "steer-right", x.rule); !found {
			t.Fatalf("%s: %s not found", x.name, x.rule)
		}
		now := onVisit(t, "2026-02-01", head+tire(x.to, x.now)+slip("", x.load))
		later := onVisit(t, "2026-03-01", head+tire(x.to, x.now)+slip("", x.load))
		for _, h := range []history.History{compare(t, was, now), compare(t, was, now, later)} {
			if _, open := advisedBy(h.Open, "steer-right", x.rule); open != x.open {
				t.Errorf("%s: open %t, want %t", x.name, open, x.open)
			}
			if said := contradicted(h, "steer-right", "read its sidewall again"); said != x.said {
				t.Errorf("%s: said %t, want %t: %v", x.name, said, x.said, h.Contradictions)
			}
		}
	}
}
