package inspect_test

import (
	"slices"
	"strings"
	"testing"

	"axleend.example/inspect"
	"axleend.example/inspect/loading"
	"axleend.example/inspect/report"
	"axleend.example/internal/visittest"
	"axleend.example/rules"
)

// TestTwoGVWRs: where the ratings label and the cargo label have different GVWRs, they are
// to be read again, and the lower counts.
func TestTwoGVWRs(t *testing.T) {
	t.Parallel()
	const own = "gvwr: 34000 lb"
	for _, x := range []struct {
		name, rated, labeled, sure string
		asks                       bool
		verdict                    rules.Verdict // of 32,100 lb
	}{
		{name: "one", rated: "34000 lb", labeled: "34000 lb", verdict: rules.Kept},
		{name: "rounded in kilograms", rated: "34000 lb", labeled: "15422 kg", verdict: rules.Kept},
		{name: "the cargo label's is lower, and over", rated: "34000 lb", labeled: "31000 lb", asks: true, verdict: rules.Breached},
		{name: "the cargo label's is lower", rated: "34000 lb", labeled: "33000 lb", asks: true, verdict: rules.NotRecorded},
		{name: "the ratings label's is lower, and over", rated: "31000 lb", labeled: "34000 lb", asks: true, verdict: rules.Breached},
		{name: "a dot for thousands", rated: "34000 lb", labeled: "34.000 lb", asks: true, verdict: rules.Kept},
		{name: "far too large, and two labels", rated: "340000 lb", labeled: "31000 lb", asks: true, verdict: rules.Breached},
		{name: "sure of it", rated: "34000 lb", labeled: "31000 lb", sure: "sure: [gvwr]\n", verdict: rules.Kept},
	} {
		text := together(bothSteer + "{load: 8040 lb, on: drive-left}, {load: 8160 lb, on: drive-right}, {load: 3900 lb, on: tag-left}, {load: 3900 lb, on: tag-right}")
		text = strings.Replace(text, own, "gvwr: "+x.rated, 1) + "trip: {label: {kind: OCCC, uvw: 29000 lb, stated: 4000 lb, gvwr: " + x.labeled + "}}\n" + x.sure
		v := visittest.Read(t, text)
		r := visittest.Assess(t, v)
		times := 0
		for _, it := range r.Todo {
			if it.Where == "coach" && it.What == "Read again: its GVWR" && it.Action == report.BeforeTrip {
				times++
			}
		}
		asks := times == 1
		if times > 1 {
			t.Errorf("%s: asked %d times", x.name, times)
		}
		stops := slices.ContainsFunc(r.Todo, func(it report.Item) bool { return slices.Contains(it.Rules, "label/gvwr") && it.Stops })
		if asks != x.asks || stops != (x.verdict == rules.Breached) {
			t.Errorf("%s: asks %v, stops %v", x.name, asks, stops)
		}
		w, err := loading.Weigh(v, inspect.Setup{})
		if err != nil {
			t.Fatal(err)
		}
		got := rules.NotRecorded
		for _, m := range w.Load("coach").Margins {
			if m.Rule == "label/gvwr" {
				if got = m.Verdict; m.What != "GVWR" {
					t.Errorf("%s: held to %s", x.name, m.What)
				}
			}
		}
		if got != x.verdict || w.Stops != stops || x.asks != (len(w.Problems) > 0) {
			t.Errorf("%s: weighed %v, stops %v, %v", x.name, got, w.Stops, w.Problems)
		}
	}
}

// TestGCWRIsAskedForWhatIsTowed: where anything towed is written down, the GCWR is asked;
// a coach that tows nothing is not.
func TestGCWRIsAskedForWhatIsTowed(t *testing.T) {
	t.Parallel()
	for tows, want := range map[string]bool{"": false, "tows: nothing\n": false, "tows: car\n": true, "tows: trailer\n": true, "towing: {tongue: 400 lb}\n": true} {
		for rating, read := range map[string]bool{"gvwr: 34000 lb": false, "gvwr: 34000 lb, gcwr: 44000 lb": true} {
			r := visittest.Assess(t, visittest.Read(t, `visit: 1
date: 2026-10-02
`+tows+`ratings: {`+rating+`}
axles: [{id: steer, fitment: single, gawr: 9000 lb}, {id: drive, fitment: dual, gawr: 17500 lb}]
weighing: {scale: pads, as_driven: yes, hitched: yes, readings: [{load: 4000 lb, on: steer-left}, {load: 4100 lb, on: steer-right}, {load: 8000 lb, on: drive-left}, {load: 8100 lb, on: drive-right}]}
`))
			asked := slices.ContainsFunc(r.Unjudged, func(g report.NotJudged) bool { return g.Where == "combination" && strings.Contains(g.Need, "GCWR") })
			if asked != (want && !read) {
				t.Errorf("%q, %s: asked %v", tows, rating, asked)
			}
		}
	}
}
