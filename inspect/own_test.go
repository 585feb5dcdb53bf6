package inspect_test

import (
	"context"
	"encoding/json"
	"errors"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"axleend.example/inspect"
	"axleend.example/inspect/history"
	"axleend.example/inspect/loading"
	"axleend.example/inspect/placement"
	"axleend.example/inspect/record"
	"axleend.example/inspect/report"
	"axleend.example/internal/visittest"
	"axleend.example/rules"
	"axleend.example/rules/origin"
)

// house is a made-up shop's pack on top of a shipped one, with measures of its own.
const house = `pack: house
format: 1
title: Limits of an invented shop
extends: [coach-care]
measures:
  tire:
    since_mounted: {means: how far it ran since its wheel was mounted, takes: length}
    nuts_again: {means: whether its nuts were checked since then, takes: yes or no}
  axle:
    hub_play: {means: the play of its hubs, takes: length}
  coach:
    bay_doors: {means: what holds the doors of its bays, takes: [latch, strap]}
rules:
  nuts: {title: Wheel nuts not checked again, subject: tire, measure: since_mounted, where: {nuts_again: no}, at_most: 100 mi, action: before_trip, advice: Check them., source: {grade: common practice}}
  play: {title: Hub with play, subject: axle, measure: hub_play, at_most: 0.5 mm, action: do_not_drive, advice: Have it seen to., source: {grade: invented, title: the shop}}
  doors: {title: Doors strapped, subject: coach, measure: bay_doors, is: latch, action: plan, advice: Mend the latch., source: {grade: invented, title: the shop}}
`

func houseProgram(t testing.TB) *rules.Program {
	t.Helper()
	p, err := inspect.CompilePacks(fstest.MapFS{"house.yaml": {Data: []byte(house)}}, "house")
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// houseVisit is a coach of which a tire, an axle and the whole have house measures.
func houseVisit(tire, axle, coach string) string {
	return "visit: 1\ndate: 2026-10-03\n" + coach + "axles: [{id: steer, fitment: single" + axle + "}]\ntires: [{at: steer-left, tread: 3/32 in" + tire + "}]\n" +
		"weighing: {scale: pads, readings: [{load: 3000 lb, on: steer-left}, {load: 3000 lb, on: steer-right}]}\n"
}

// TestHouseMeasures: a visit gives values for measures that a house pack declares;
// its rules and those of the shipped pack that it extends judge them. What nobody
// wrote down is not judged, and its place under own is said.
func TestHouseMeasures(t *testing.T) {
	setup := inspect.Setup{Program: houseProgram(t)}
	for _, x := range []struct {
		tire, axle, coach string
		broken, kept      []string
		need              string
	}{
		{", own: {since_mounted: 180 mi, nuts_again: no}", "", "", []string{"house/nuts"}, nil, "steer: the play of its hubs (own: hub_play)"},
		{", own: {since_mounted: 100 mi, nuts_again: no}", ", own: {hub_play: 0.5 mm}", "own: {bay_doors: latch}\n", nil, []string{"house/nuts", "house/play", "house/doors"}, ""},
		{", own: {since_mounted: 180 mi}", "", "", nil, []string{"house/nuts"}, "steer-left: whether its nuts were checked since then (own: nuts_again)"},
		{"", "", "", nil, []string{"house/nuts"}, "steer-left: how far it ran since its wheel was mounted (own: since_mounted)"},
		{"", ", own: {hub_play: 0.51 mm}", "own: {bay_doors: strap}\n", []string{"house/play", "house/doors"}, nil, ""},
		{"", ", own: {hub_play: 0.6 mm +/- 0.2 mm}", "", nil, []string{"house/doors"}, "coach: what holds the doors of its bays (own: bay_doors)"},
		// A slip silences no rule.
		{", own: {since_mouted: 180 mi, nuts_again: no}", "", "", nil, nil, "steer-left: the rule pack that declares since_mouted, which stands under own; did you mean since_mounted?"},
		{", own: {since_mouted: 180 mi, nuts_again: no}", "", "", nil, nil, "steer-left: how far it ran since its wheel was mounted (own: since_mounted)"},
		{"", "", "own: {since_mounted: 180 mi}\n", nil, nil, "coach: the rule pack that declares since_mounted, which stands under own"},
	} {
		text := houseVisit(x.tire, x.axle, x.coach)
		r, err := inspect.Assess(visittest.Read(t, text), setup)
		if err != nil {
			t.Fatalf("%s: %v", text, err)
		}
		said := func(rule string) bool {
			return slices.ContainsFunc(r.Todo, func(it report.Item) bool { return it.Verdict == rules.Breached && slices.Contains(it.Rules, rule) })
		}
		for _, rule := range x.broken {
			if !said(rule) {
				t.Errorf("%s: %s is not broken: %+v", text, rule, r.Todo)
			}
		}
		for _, rule := range x.kept {
			if said(rule) {
				t.Errorf("%s: %s is broken", text, rule)
			}
		}
		where, need, _ := strings.Cut(x.need, ": ")
		if x.need != "" && !unjudged(r, where, need) {
			t.Errorf("%s: nothing asks for %s: %+v", text, x.need, r.Unjudged)
		}
		if !said("coach-care/tread-steer") && !slices.ContainsFunc(r.Todo, func(it report.Item) bool { return strings.Contains(strings.Join(it.Rules, " "), "/tread-steer") }) {
			t.Errorf("%s: the shipped pack's rules are not run: %+v", text, r.Todo)
		}
	}
}

// TestHouseMeasuresRefused: what a measure cannot have is a problem at its place, and
// so is a measure that has a key of its own.
func TestHouseMeasuresRefused(t *testing.T) {
	setup := inspect.Setup{Program: houseProgram(t)}
	for _, x := range []struct{ tire, axle, coach, wrong string }{
		{", own: {since_mounted: 180 psi}", "", "", "steer-left.own.since_mounted: "},
		{", own: {since_mounted: 180}", "", "", "steer-left.own.since_mounted: "},
		{", own: {nuts_again: perhaps}", "", "", "steer-left.own.nuts_again: "},
		{", own: {tread: 9/32 in}", "", "", `steer-left.own.tread: unknown key "tread" under own`},
		{"", ", own: {hub_play: loose}", "", "steer.own.hub_play: "},
		{"", "", "own: {bay_doors: rope}\n", "own.bay_doors: "},
	} {
		_, err := inspect.Assess(visittest.Read(t, houseVisit(x.tire, x.axle, x.coach)), setup)
		var ps *origin.Problems
		if !errors.As(err, &ps) || !strings.Contains(ps.All()[0].Error(), ": "+x.wrong) {
			t.Errorf("%+v: %v", x, err)
		}
	}
}

// TestHouseMeasuresEverywhere: the house pack runs wherever a visit is judged, also
// where only the visit asks for it; its own values never hang on the order of tires.
func TestHouseMeasuresEverywhere(t *testing.T) {
	text := houseVisit(", own: {since_mounted: 180 mi, nuts_again: no, cap: red}", "", "packs: [house]\n")
	text = strings.Replace(text, "in, own", "in, found: 95 psi, own", 1)
	v := visittest.Read(t, text)
	setups := map[string]inspect.Setup{"judged with it": {Program: houseProgram(t)}, "asked for": {Beside: []*rules.Program{houseProgram(t)}}}
	for name, setup := range setups {
		for range 2 { // with and without what an earlier visit left behind
			r, err := inspect.Assess(v, setup)
			if _, found := has(r, "steer-left", "nuts"); err != nil || !found {
				t.Errorf("%s: %v, %+v", name, err, r.Todo)
			}
			first, err := json.Marshal(r)
			if err != nil {
				t.Fatal(err)
			}
			turned := copied(v)
			turned.Tires = append([]record.Tire{{At: "steer-right", Own: map[string]string{"rim": "bare"}}}, turned.Tires...)
			other := copied(turned)
			slices.Reverse(other.Tires)
			a, err1 := inspect.Assess(turned, setup)
			b, err2 := inspect.Assess(other, setup)
			x, err3 := json.Marshal(a)
			y, err4 := json.Marshal(b)
			if err := errors.Join(err1, err2, err3, err4); err != nil || string(x) != string(y) || string(x) == string(first) {
				t.Errorf("%s: %v, turned around:\n%s\n%s", name, err, x, y)
			}
		}
		if h, err := history.Compare([]*record.Visit{v}, setup); err != nil || !slices.ContainsFunc(h.Open, func(a history.Advised) bool { return slices.Contains(a.Item.Rules, "house/nuts") }) {
			t.Errorf("%s: history: %v, %+v", name, err, h.Open)
		}
		if _, err := loading.Weigh(v, setup); err != nil {
			t.Errorf("%s: weighed: %v", name, err)
		}
		if _, err := placement.Find(context.Background(), v, setup); err != nil {
			t.Errorf("%s: placed: %v", name, err)
		}
	}
}
