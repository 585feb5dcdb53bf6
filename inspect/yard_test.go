package inspect_test

import (
	"strings"
	"testing"

	"axleend.example/inspect/report"
	"axleend.example/internal/visittest"
)

// yard is an invented coach with a tag axle as written down in a yard.
const yard = `visit: 1
invented: yes
date: 2026-11-29
cold: yes
gauge_tolerance: 1 psi
nothing_since_set: yes
axles:
  - {id: steer, fitment: single, gawr: 17000 lb, placard: 120 psi}
  - {id: tag, fitment: single, gawr: 14000 lb, placard: 115 psi}
weighing:
  scale: pads
  tolerance: 20 lb
  as_driven: all
  readings: [{load: 7950 lb, on: steer-left}, {load: 7700 lb, on: steer-right}, {load: 5900 lb, on: tag-left}, {load: 6100 lb, on: tag-right}]
every_tire: {size: AX240/75R20, class: truck, single: 9090 lb at 130 psi, wheel: 9500 lb at 130 psi, seen: nothing, found: 113 psi}
`

// TestReadInTheYard: what one slip, or one word, comes to on the page (common
// practice).
func TestReadInTheYard(t *testing.T) {
	t.Parallel()
	said := func(from, to string) report.Report {
		if !strings.Contains(yard, from) {
			t.Fatalf("%q is not there", from)
		}
		text := strings.Replace(yard, from, to, 1)
		text = strings.Replace(text, ", found: 113 psi}", "}\ntires: [{at: steer-left, found: 120 psi}, {at: steer-right, found: 120 psi}, {at: tag-left, found: 114 psi}, {at: tag-right, found: 113 psi}]", 1)
		return visittest.Assess(t, visittest.Read(t, text))
	}
	item := func(r report.Report, what string) *report.Item {
		for i := range r.Todo {
			if strings.Contains(r.Todo[i].What, what) {
				return &r.Todo[i]
			}
		}
		return nil
	}
	cautions := func(r report.Report) string { return strings.Join(r.Cautions, "\n") }
	if got := cautions(said("as_driven: all", "as_driven: all")); strings.Contains(got, "as for the trip") {
		t.Errorf("all was aboard: %s", got)
	}
	for _, to := range []string{"as_driven: no", "as_driven: all, tanks_as_driven: no", "level: yes"} {
		if got := cautions(said("as_driven: all", strings.ReplaceAll(to, ", ", "\n  "))); !strings.Contains(got, "The tanks are not known") {
			t.Errorf("%s: %s", to, got)
		}
	}
	for _, x := range []struct {
		from, to, where string
	}{
		{"placard: 115 psi", "placard: 115 kPa", "tag"},
		{"lb at 130 psi, wheel", "lb at 130 kPa, wheel", "tag-left"},
		{"wheel: 9500 lb at 130 psi", "wheel: 9500 lb at 130 kPa", "tag-left"},
	} {
		r := said(x.from, x.to)
		it := item(r, "Read again: the p")
		if it == nil || it.Action != report.BeforeTrip || r.Drive == report.NothingFound {
			t.Errorf("%s: nobody is asked: %+v", x.to, r.Todo)
		}
	}
	if it := item(said("placard: 115 psi", "sure: [placard], placard: 115 kPa"), "Read again"); it != nil {
		t.Errorf("read twice, and still: %s", it.What)
	}
	// No pressure carries the load: nothing is to be set.
	r := said("6100 lb", "6100 kg")
	it := item(r, "More load than the tire carries")
	if it == nil || !it.Stops || it.OnlyAir || it.Air || strings.Contains(it.Advice, "Set the pressure") || !strings.Contains(it.Advice, "Unload") {
		t.Errorf("%+v", it)
	}
	if it := item(r, "No pressure carries"); it == nil || it.Found != "" || it.Bound != "" {
		t.Errorf("a word that says what the title says: %+v", it)
	}
}
