package inspect_test

import (
	"slices"
	"strings"
	"testing"

	"axleend.example/inflation"
	"axleend.example/inspect"
	"axleend.example/inspect/loading"
	"axleend.example/inspect/report"
	"axleend.example/internal/visittest"
	"axleend.example/rules"
)

// together is a coach with a tag axle and a trailer of two axles, by what the scale read.
func together(readings string) string {
	return `visit: 1
invented: yes
date: 2026-10-02
cold: yes
tows: trailer
ratings: {gvwr: 34000 lb, gcwr: 50000 lb}
axles:
  - {id: steer, fitment: single, gawr: 9000 lb, placard: 100 psi}
  - {id: drive, fitment: dual, gawr: 17500 lb, placard: 105 psi}
  - {id: tag, fitment: single, gawr: 8000 lb, placard: 95 psi}
  - {id: t1, fitment: single, towed: yes, gawr: 3500 lb, placard: 65 psi}
  - {id: t2, fitment: single, towed: yes, gawr: 3500 lb, placard: 65 psi}
every_tire: {class: truck, single: 4940 lb at 110 psi, dual: 4540 lb at 110 psi, wheel: 5000 lb at 120 psi}
every_towed_tire: {class: trailer, single: 1700 lb at 80 psi, wheel: 1800 lb at 80 psi}
weighing: {scale: pads, division: 20 lb, as_driven: yes, hitched: yes, readings: [` + readings + `]}
`
}

const (
	bothSteer = "{load: 4000 lb, on: steer-left}, {load: 4100 lb, on: steer-right}, "
	gawrs     = "label/gawr-together"
	tires     = "coach-care/together-over-their-tires"
	wheels    = "coach-care/together-over-their-wheels"
)

// TestWeighedOnlyTogether: what axles or ends carry together is held against their
// ratings added up, and against those of their tires and wheels.
func TestWeighedOnlyTogether(t *testing.T) {
	t.Parallel()
	const stop, close = rules.Breached, rules.TooClose
	for _, x := range []struct {
		name, readings, old, new, at string
		rules                        []string // none: nothing is found
		verdict                      rules.Verdict
	}{
		{name: "over their ratings", readings: bothSteer + "{load: 25900 lb, on: [drive, tag]}", at: "drive + tag", rules: []string{gawrs}, verdict: stop},
		{name: "within them", readings: bothSteer + "{load: 25400 lb, on: [drive, tag]}", at: "drive + tag"},
		{name: "at them", readings: bothSteer + "{load: 25500 lb, on: [drive, tag]}", at: "drive + tag", rules: []string{gawrs}, verdict: close},
		{name: "over what six tires carry", readings: bothSteer + "{load: 28500 lb, on: [drive, tag]}", old: "gawr: 17500 lb", new: "gawr: 21500 lb",
			at: "drive + tag", rules: []string{tires}, verdict: stop},
		{name: "a rating not read", readings: bothSteer + "{load: 25900 lb, on: [drive, tag]}", old: "gawr: 8000 lb, ", at: "drive + tag"},
		{name: "a rating that may be too large", readings: bothSteer + "{load: 42500 lb, on: [drive, tag]}", old: "gawr: 8000 lb", new: "gawr: 80000 lb", at: "drive + tag", rules: []string{tires, wheels}, verdict: stop},
		{name: "by a difference", readings: bothSteer + "{load: 34000 lb, on: coach}", at: "drive + tag", rules: []string{gawrs}, verdict: stop},
		{name: "one of them by itself", readings: bothSteer + "{load: 25400 lb, on: [drive, tag]}, {load: 8400 lb, on: tag}", at: "drive + tag"},
		{name: "one side", readings: "{load: 19800 lb, on: left}, {load: 14000 lb, on: right}", at: "left side", rules: []string{tires}, verdict: stop},
		{name: "its other side", readings: "{load: 19800 lb, on: left}, {load: 14000 lb, on: right}", at: "right side"},
		{name: "both pairs of ends", readings: bothSteer + "{load: 12900 lb, on: [drive-left, tag-left]}, {load: 12900 lb, on: [drive-right, tag-right]}",
			at: "drive + tag", rules: []string{gawrs}, verdict: stop},
		{name: "a trailer's axles", readings: bothSteer + "{load: 8000 lb, on: towed}", at: "towed unit", rules: []string{gawrs, tires, wheels}, verdict: stop},
		{name: "a trailer's tires not read", readings: bothSteer + "{load: 6900 lb, on: towed}", old: "single: 1700 lb at 80 psi, ", at: "towed unit"},
		{name: "the outer duals", readings: bothSteer + "{load: 9500 lb, on: [drive-left-outer, drive-right-outer]}", at: "drive-left-outer + drive-right-outer", rules: []string{tires}, verdict: stop},
	} {
		text := together(x.readings)
		if x.old != "" && !strings.Contains(text, x.old) {
			t.Fatalf("%s: no %s", x.name, x.old)
		}
		text = strings.Replace(text, x.old, x.new, 1)
		v := visittest.Read(t, text)
		r, err := inspect.Assess(v, inspect.Setup{})
		if err != nil {
			t.Fatal(err)
		}
		var found []string
		for _, it := range r.Todo {
			if it.Where != x.at {
				continue
			}
			if found = append(found, it.Rules...); it.Verdict != x.verdict || it.Stops != (x.verdict == stop) {
				t.Errorf("%s: %s, %v, stops: %v", x.name, it.What, it.Verdict, it.Stops)
			}
		}
		if slices.Sort(found); !slices.Equal(found, sorted(x.rules)) {
			t.Errorf("%s: %v", x.name, found)
		}
		if stops := r.Drive == report.MustNotMove; len(x.rules) > 0 && stops != (x.verdict == stop) {
			t.Errorf("%s: %v", x.name, r.Drive)
		}
		w, err := loading.Weigh(v, inspect.Setup{})
		if err != nil {
			t.Fatal(err)
		}
		found = nil
		if l := w.Load(x.at); l != nil {
			for _, m := range l.Margins {
				if m.Verdict == stop || m.Verdict == close {
					found = append(found, m.Rule)
				}
			}
		}
		if slices.Sort(found); !slices.Equal(found, sorted(x.rules)) || len(x.rules) > 0 && w.Stops != (x.verdict == stop) {
			t.Errorf("%s, weighed: %v, stops: %v", x.name, found, w.Stops)
		}
	}
}

// TestOnlyASureBreachStops: readings that contradict each other leave it open whether a
// tire is over its rating, as the weighing says, too.
func TestOnlyASureBreachStops(t *testing.T) {
	t.Parallel()
	const ends = bothSteer + "{load: 8040 lb, on: drive-left}, {load: 8120 lb, on: drive-right}, {load: 3800 lb, on: tag-right}, "
	for last, want := range map[string]report.Drive{
		"{load: 3800 lb, on: tag-left}, {load: 36500 lb, on: coach}": report.BeforeTheTrip, // 31,860 lb by its ends
		"{load: 4960 lb, on: tag-left}":                              report.BeforeTheTrip, // within 20 lb of 4,940 lb
		"{load: 4980 lb, on: tag-left}":                              report.MustNotMove,
	} {
		v := visittest.Read(t, strings.Replace(together(ends+last), "gawr: 8000 lb", "gawr: 10000 lb", 1))
		r, err := inspect.Assess(v, inspect.Setup{})
		if err != nil {
			t.Fatal(err)
		}
		w, err := loading.Weigh(v, inspect.Setup{})
		if err != nil {
			t.Fatal(err)
		}
		if stops := want == report.MustNotMove; r.Drive != want || w.Stops != stops {
			t.Errorf("%s: %v, weighed: stops %v", last, r.Drive, w.Stops)
		}
		for i := range r.Settings {
			if s := &r.Settings[i]; want != report.MustNotMove && s.Outcome == inflation.Short && !s.OnlyAsRead {
				t.Errorf("%s: %s: %v", last, s.Name, s.Short)
			}
		}
	}
}

func sorted(list []string) []string {
	out := slices.Clone(list)
	slices.Sort(out)
	return out
}

// TestTogetherLight: of a coach that was weighed light, over stays over and nothing is
// within.
func TestTogetherLight(t *testing.T) {
	t.Parallel()
	for load, want := range map[string]rules.Verdict{"25900 lb": rules.Breached, "20000 lb": rules.NotRecorded} {
		v := visittest.Read(t, strings.Replace(together(bothSteer+"{load: "+load+", on: [drive, tag]}"), "as_driven: yes, ", "", 1))
		w, err := loading.Weigh(v, inspect.Setup{})
		if err != nil {
			t.Fatal(err)
		}
		l := w.Load("drive + tag")
		for i := range l.Margins {
			if m := &l.Margins[i]; m.Rule == gawrs && m.Verdict != want || m.Verdict == rules.Kept {
				t.Errorf("%s: %s %v", load, m.Rule, m.Verdict)
			}
		}
		if w.Stops != (want == rules.Breached) {
			t.Errorf("%s: stops %v", load, w.Stops)
		}
	}
}

// TestTogetherWithTheTrip: what is loaded for the trip counts, before it is.
func TestTogetherWithTheTrip(t *testing.T) {
	t.Parallel()
	text := strings.Replace(together(bothSteer+"{load: 25400 lb, on: [drive, tag]}"), "gawr: 17500 lb, ", "gawr: 17500 lb, behind_steer: 220 in, ", 1)
	text = strings.Replace(text, "gawr: 8000 lb, ", "gawr: 8000 lb, behind_steer: 270 in, ", 1) +
		"trip: {track: 78 in, stations: [{name: bay, behind_steer: 300 in}], changes: [{name: tools, at: bay, add: 300 lb}]}\n"
	r := visittest.Assess(t, visittest.Read(t, text))
	if !slices.ContainsFunc(r.Todo, func(it report.Item) bool {
		return it.Where == "drive + tag" && slices.Contains(it.Rules, gawrs) && strings.HasPrefix(it.What, "With the changes for the trip")
	}) {
		t.Errorf("%v", r.Todo)
	}
}
