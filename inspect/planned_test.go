package inspect_test

import (
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"

	"axleend.example/inflation"
	"axleend.example/inflation/tablefile"
	"axleend.example/inspect"
	"axleend.example/inspect/record"
	"axleend.example/inspect/report"
	"axleend.example/internal/visittest"
	"axleend.example/rules"
	"axleend.example/weight"
)

// planned is the demo's trip with a change of its own, and with further readings.
func planned(t *testing.T, change string, readings ...string) report.Report {
	t.Helper()
	data, err := os.ReadFile("../examples/demo/trip.yaml")
	if err != nil {
		t.Fatal(err)
	}
	const last = "    - {name: right side, load: 12760 lb, on: right}\n"
	text := strings.Replace(string(data), last, last+strings.Join(readings, ""), 1)
	if !strings.Contains(text, last) {
		t.Fatalf("the demo's trip has no %s", last)
	}
	from := strings.Index(text, "  changes:\n")
	to := strings.Index(text, "  label:")
	v, err := record.Read("trip.yaml", []byte(strings.ReplaceAll(text[:from]+change+text[to:], "_as_driven: no", "_as_driven: yes")))
	if err != nil {
		t.Fatal(err)
	}
	tables, err := tablefile.LoadFolder(os.DirFS("../examples/demo"))
	if err != nil {
		t.Fatal(err)
	}
	r, err := inspect.Assess(v, inspect.Setup{Tables: tables})
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// TestPressuresForTheTrip: what will be loaded counts, and more of it behind the
// drive axle never lowers that axle's pressure.
func TestPressuresForTheTrip(t *testing.T) {
	t.Parallel()
	last := planned(t, "").Settings[1]
	if last.HeaviestGoverns || last.TireLoad != 4350*weight.Pound { // (8640 + 60) / 2
		t.Errorf("as weighed: the plan governs: %v, %v", last.HeaviestGoverns, last.TireLoad)
	}
	for add := 50; add <= 400; add += 50 {
		s := planned(t, fmt.Sprintf("  changes:\n    - {name: cargo, at: right rear bay, add: %d lb}\n", add)).Settings[1]
		if s.Outcome == inflation.CanSet && s.Minimum < last.Minimum || s.TireLoad <= last.TireLoad || !s.HeaviestGoverns {
			t.Errorf("%d lb more: %v at %v, before: %v at %v", add, s.TireLoad, s.Minimum, last.TireLoad, last.Minimum)
		}
		if last.Outcome == inflation.Short && s.Outcome != inflation.Short {
			t.Errorf("%d lb more: a pressure carries it, and none carried less", add)
		}
		last = s
	}
	// What is taken off is not counted on: the coach may be driven as it is.
	if s := planned(t, "  changes:\n    - {name: cargo, at: right rear bay, take_off: 300 lb}\n").Settings[1]; s.TireLoad != 4350*weight.Pound || s.HeaviestGoverns {
		t.Errorf("300 lb less: %v", s.TireLoad)
	}
}

// TestPlannedShareOfDuals: duals that were weighed one by one share a planned load
// as they shared the weighed one.
func TestPlannedShareOfDuals(t *testing.T) {
	t.Parallel()
	const outer = "    - {name: outer, load: 4200 lb, on: drive-right-outer}\n"
	before := planned(t, "", outer).Settings[1]
	after := planned(t, "  changes:\n    - {name: cargo, at: right rear bay, add: 50 lb}\n", outer).Settings[1]
	grown := after.Right.Load.Load - before.Right.Load.Load
	want := before.TireLoad + grown*4440/8640
	if before.HeaviestGoverns || !after.HeaviestGoverns || grown <= 0 || after.TireLoad < want {
		t.Errorf("%v on the heavier tire with %v more on the end, %v before: want at least %v", after.TireLoad, grown, before.TireLoad, want)
	}
}

// TestPlannedSaysNothingTwice: what is broken as weighed already, or is no matter of
// load, is not said once more with the changes for the trip; an axle that was not
// weighed is asked for.
func TestPlannedSaysNothingTwice(t *testing.T) {
	t.Parallel()
	read := func(readings string) report.Report {
		r, err := inspect.Assess(visittest.Read(t, `visit: 1
date: 2026-10-03
ratings: {gvwr: 26000 lb}
axles: [{id: steer, fitment: single, gawr: 9200 lb}, {id: drive, fitment: dual, gawr: 16500 lb, behind_steer: 228 in}]
tires: [{at: steer-left, found: 85 psi}]
weighing: {scale: segmented, tolerance: 20 lb, as_driven: all, readings: [`+readings+`]}
trip: {stations: [{name: bay, behind_steer: 250 in}], changes: [{name: tools, at: bay, add: 200 lb}]}
`), inspect.Setup{})
		if err != nil {
			t.Fatal(err)
		}
		return r
	}
	r := read("{load: 4100 lb, on: [steer-left]}, {load: 4020 lb, on: [steer-right]}, {load: 8400 lb, on: [drive-left]}, {load: 8200 lb, on: [drive-right]}")
	planned := 0
	for _, it := range r.Todo {
		if !strings.HasPrefix(it.What, "With the changes") {
			continue
		}
		planned++
		if it.Where != "drive-right" || !slices.Contains(it.Rules, "coach-care/half-gawr") { // of 8,250 lb; the left end and the axle are over theirs already
			t.Errorf("said again: %s at %s %v", it.What, it.Where, it.Rules)
		}
	}
	if planned != 1 {
		t.Errorf("%d items of the plan: want the right end's", planned)
	}
	const need = "what it carries after the changes for the trip"
	asks := func(r report.Report) bool {
		return slices.ContainsFunc(r.Unjudged, func(g report.NotJudged) bool { return g.Where == "drive" && g.Need == need })
	}
	if part := read("{load: 4100 lb, on: [steer-left]}, {load: 4020 lb, on: [steer-right]}"); asks(r) || !asks(part) {
		t.Errorf("want %q of an axle that was not weighed, and only there: %+v", need, part.Unjudged)
	}
}

// TestPlannedOverload: a rating that only the plan breaks is to be seen to before
// the trip and stops nothing yet; one that is broken as weighed is said once.
func TestPlannedOverload(t *testing.T) {
	t.Parallel()
	r := planned(t, "  changes:\n    - {name: cargo, at: right rear bay, add: 490 lb}\n")
	var found []report.Item
	for _, it := range r.Todo {
		if strings.HasPrefix(it.What, "With the changes for the trip: ") {
			found = append(found, it)
		}
	}
	if len(found) == 0 || found[0].Where != "drive-right" || found[0].Action != report.BeforeTrip || found[0].Verdict != rules.Breached {
		t.Fatalf("got %+v", r.Todo)
	}
	if r.Drive.Stops() || worst(r) != report.BeforeTrip {
		t.Errorf("worst %q, stops %v: nothing that is only planned stops a coach", worst(r), r.Drive.Stops())
	}
	for _, l := range r.Loads {
		for _, rating := range l.Ratings {
			if rating.Verdict != rules.Kept {
				t.Errorf("%s: the line of the weighed load says %v", l.Name, rating.Verdict)
			}
		}
	}
	if s := r.Settings[1]; s.Outcome != inflation.Short {
		t.Errorf("no pressure carries the planned load, got %v", s.Outcome)
	}
	seen := map[string]bool{}
	for _, it := range r.Todo {
		key := it.Where + it.What
		if seen[key] {
			t.Errorf("said twice: %s", key)
		}
		seen[key] = true
	}
}

// TestFlatHidesNoPlannedRating: where nobody may put air in, what the plan does to a
// rating is still said.
func TestFlatHidesNoPlannedRating(t *testing.T) {
	t.Parallel()
	v, err := record.Read("v.yaml", []byte("visit: 1\ninvented: yes\ndate: 2026-10-03\ncold: yes\ngauge_tolerance: 3 psi\n"+
		"axles: [{id: steer, fitment: single, gawr: 3650 lb}, {id: drive, fitment: dual, behind_steer: 228 in}]\nevery_tire: {class: truck, single: 2160 lb at 65 psi}\n"+
		"tires: [{at: steer-left, found: 27 psi}, {at: steer-right, found: 34 psi}]\n"+
		"weighing: {tolerance: 100 lb, as_driven: all, readings: [{load: 3140 lb, on: steer}, {load: 6000 lb, on: drive}]}\n"+
		"trip: {track: 78 in, stations: [{name: bay, behind_steer: 90 in, offset: 30 in right}], changes: [{name: tools, at: bay, add: 950 lb}]}\n"))
	if err != nil {
		t.Fatal(err)
	}
	r, err := inspect.Assess(v, inspect.Setup{})
	if err != nil {
		t.Fatal(err)
	}
	it, found := has(r, "steer", "gawr") // 3,140 lb, and 575 lb of the 950 (computed from moments), on 3,650 lb
	if r.Tires[0].Low != report.Flat || !found || !strings.HasPrefix(it.What, "With the changes") {
		t.Errorf("%s, %v: %+v", r.Tires[0].Low, found, r.Todo)
	}
}
