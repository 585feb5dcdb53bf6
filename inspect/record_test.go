package inspect_test

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"math/rand/v2"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"

	"axleend.example/inflation"
	"axleend.example/inspect"
	"axleend.example/inspect/record"
	"axleend.example/inspect/record/condition"
	"axleend.example/inspect/report"
	"axleend.example/internal/judge"
	"axleend.example/internal/visittest"
	"axleend.example/rules"
	"axleend.example/rules/origin"
	"axleend.example/rules/packs"
	"axleend.example/weight"
)

// one is a coach with duals of which one tire was recorded.
func one(at, keys string) string { return bare("", "tires: [{at: "+at+", "+keys+"}]\n") }

func tireOf(t testing.TB, r report.Report, at string) report.TireLine {
	t.Helper()
	if l := r.Tire(at); l != nil {
		return *l
	}
	t.Fatalf("no line for %s", at)
	return report.TireLine{}
}

// TestEveryConditionAndActionFires: whatever can be seen leads, by a rule of
// the default packs that names its source, to something to do; wear also to
// several likely causes; and no action is there for nothing.
func TestEveryConditionAndActionFires(t *testing.T) {
	program, err := inspect.DefaultProgram()
	if err != nil {
		t.Fatal(err)
	}
	wear := []condition.Condition{condition.FlatSpot, condition.Cupping, condition.Feathering, condition.FeatheringInward, condition.FeatheringOutward,
		condition.OneShoulderWear, condition.BothShouldersWear, condition.CenterWear, condition.DiagonalWear}
	actions := make(map[string]bool)
	for c := condition.ExposedCord; ; c++ {
		if _, err := c.MarshalText(); err != nil {
			break
		}
		r := visittest.Assess(t, visittest.Read(t, one("drive-left-inner", "seen: "+c.String())))
		clean := visittest.Assess(t, visittest.Read(t, one("drive-left-inner", "seen: nothing")))
		rule := "coach-care/seen-" + strings.ReplaceAll(c.String(), " ", "-")
		it, ok := has(r, "drive-left-inner", strings.TrimPrefix(rule, "coach-care/"))
		if !ok || it.Verdict != rules.Breached || len(it.Sources) == 0 || it.Advice == "" {
			t.Errorf("%s: found %v, %+v", c, ok, it)
			continue
		}
		actions[string(it.Action)] = true
		if _, ok := has(clean, "drive-left-inner", strings.TrimPrefix(rule, "coach-care/")); ok {
			t.Errorf("%s is found where nothing was seen", c)
		}
		if slices.Contains(wear, c) && len(it.Causes) < 2 {
			t.Errorf("%s: causes %q, want several", c, it.Causes)
		}
		if r.Drive.Stops() != (it.Action == report.DoNotDrive) {
			t.Errorf("%s: %s, stops %v", c, it.Action, r.Drive.Stops())
		}
		if !program.Has(func(x *rules.Rule) bool { return x.Name() == rule }) {
			t.Errorf("%s: no rule %s", c, rule)
		}
	}
	for _, a := range inspect.Vocabulary().Definition().Actions {
		if !actions[a.Name] {
			t.Errorf("nothing that can be seen leads to %s", a.Name)
		}
	}
}

// TestLowPressureClauses goes through the 20 % rule clause by clause (common
// practice; exactly 80 % on the flat's side also 29 CFR 1910.177(f)).
func TestLowPressureClauses(t *testing.T) {
	gauge := "gauge_tolerance: 1 psi\n"
	for _, x := range []struct {
		clause, keys, more string
		rule               string // that condemns; empty: none does
		unjudged           string // why it is not judged
	}{
		{"by the lowest it was driven at", "last_set: 100 psi, found: 100 psi, lowest: 79 psi, air_added: yes", "", "run-low", ""},
		{"exactly 80 %", "last_set: 100 psi, found: 80 psi", "", "run-low", ""},
		{"above 80 %", "last_set: 100 psi, found: 85.5 psi", "", "", ""},
		{"the gauge's tolerance counts against it", "last_set: 100 psi, found: 81 psi", gauge, "run-low", ""},
		{"beyond the gauge's tolerance", "last_set: 100 psi, found: 81.5 psi", gauge, "", ""},
		{"a hot reading condemns", "last_set: 100 psi, found: 80 psi, hot: yes", "", "run-low", "hot"},
		{"a hot reading does not clear", "last_set: 100 psi, found: 115 psi, hot: yes", "", "", "hot"},
		{"driven within three hours is hot", "last_set: 100 psi, found: 115 psi", "stood: 179 min\n", "", "hot"},
		{"three hours are cold", "last_set: 100 psi, found: 100 psi", "stood: 3 h\n", "", ""},
		{"somebody knew it was cold", "last_set: 100 psi, found: 100 psi, hot: no", "stood: 1 h\n", "", ""},
		{"the sun warms", "last_set: 100 psi, found: 100 psi, in_sun: yes", "stood: 12 h\n", "", "in the sun"},
		{"what was aired up hot", "last_set: 100 psi, found: 85 psi, left: 100 psi, hot: yes", "", "", "not cold"},
		{"the sun warms what was called cold", "last_set: 100 psi, found: 100 psi, in_sun: yes, hot: no", "", "", "in the sun"},
		{"hot, and lower than the known low", "last_set: 100 psi, lowest: 90 psi, found: 85 psi, hot: yes", "", "", "not cold"},
		{"hot, and above the known low: it may have lost air since", "last_set: 100 psi, lowest: 90 psi, found: 105 psi, hot: yes", "", "", "not cold"},
		{"a 0 through an extension", "last_set: 100 psi, found: 0 psi, read_at: extension", "", "", "extension"},
		{"a 0 at the stem", "last_set: 100 psi, found: 0 psi, read_at: stem", "", "run-low", ""},
		{"not reached", "last_set: 100 psi, read_at: not reached", "", "", "could not be reached"},
		{"not read", "last_set: 100 psi, found: not read", "", "", "nobody read it"},
		{"air added, the low unknown", "last_set: 100 psi, found: 100 psi, air_added: yes", "", "", "air was added"},
		{"air added, and still low", "last_set: 100 psi, found: 79 psi, air_added: yes", "", "run-low", "air was added"},
		{"air added, and lower than before", "last_set: 100 psi, lowest: 90 psi, found: 79 psi, air_added: yes", "", "run-low", ""},
		{"the 0 of an extension beside a known low", "last_set: 100 psi, lowest: 90 psi, found: 0 psi, read_at: extension", "", "", "extension"},
	} {
		t.Run(x.clause, func(t *testing.T) {
			r := visittest.Assess(t, visittest.Read(t, strings.ReplaceAll(one("steer-left", x.keys)+x.more, "gawr:", "placard: none, gawr:")))
			line := tireOf(t, r, "steer-left")
			got := ""
			for _, rule := range []string{"run-low"} {
				if it, ok := has(r, "steer-left", rule); ok && it.Stops {
					got = rule
				}
			}
			if got != x.rule || r.Drive.Stops() != (x.rule != "") || (line.Air == report.AirForbidden) != (x.rule != "") {
				t.Errorf("condemned by %q, want %q; stops %v, air %v\n%+v", got, x.rule, r.Drive.Stops(), line.Air, r.Todo)
			}
			if !strings.Contains(line.Unjudged, x.unjudged) || (line.Unjudged == "") != (x.unjudged == "") {
				t.Errorf("not judged because %q, want %q", line.Unjudged, x.unjudged)
			}
			if want := x.unjudged != "" && x.rule == ""; (line.Low != report.NotLow && line.Low != report.Flat) != want {
				t.Errorf("%s, not judged %v", line.Low, want)
			}
			if x.rule != "" && line.Low != report.Flat {
				t.Errorf("verdict %s of a flat", line.Low)
			}
			// Nobody is told to air up what ran low, and it says how otherwise.
			if it, ok := has(r, "steer-left", "below-set"); ok && x.rule != "" {
				t.Errorf("a flat is to be aired up: %+v", it)
			}
		})
	}
	// The flat's dual mate comes off too.
	for flat, mate := range map[string]string{"drive-left-inner": "drive-left-outer", "drive-right-outer": "drive-right-inner"} {
		r := visittest.Assess(t, visittest.Read(t, one(flat, "last_set: 100 psi, found: 70 psi")))
		if it, ok := has(r, mate, "mate-run-low"); !ok || !it.Stops || !it.WheelOff {
			t.Errorf("%s is flat, %s: %v, %+v", flat, mate, ok, it)
		}
	}
	// The named pressure: last set, else the placard, else that for the load.
	placard := strings.Replace(one("steer-left", "found: 70 psi"), "gawr: 5000 lb", "gawr: 5000 lb, placard: 95 psi", 1)
	load := "weighing: {scale: pads, tolerance: 0 lb, readings: [{load: 2400 lb, on: steer-left}, {load: 2400 lb, on: steer-right}]}\n"
	weighed := one("steer-left", "class: light truck, single: 3640 lb at 95 psi, found: 40 psi") + load
	for text, of := range map[string]string{
		one("steer-left", "last_set: 90 psi, found: 70 psi"):              "last set",
		strings.Replace(placard, "found", "last_set: 90 psi, found", 1):   "last set",
		strings.Replace(placard, "found", "last_set: not read, found", 1): "placard",
		weighed: "for its load",
		strings.Replace(weighed, "gawr: 5000", "placard: 80 psi, gawr: 5000", 1): "placard",
	} {
		if l := tireOf(t, visittest.Assess(t, visittest.Read(t, text)), "steer-left"); l.ReferenceFrom != of || l.Low < report.LowAsked {
			t.Errorf("judged by %q (%s), want %q\n%s", l.ReferenceFrom, l.Low, of, text)
		}
	}
}

// TestAsLeft: what a tire was left at counts for what is still to be done, and
// a flat that was aired up is told.
func TestAsLeft(t *testing.T) {
	weighed := "weighing: {scale: pads, tolerance: 0 lb, readings: [{load: 3000 lb, on: steer-left}, {load: 3000 lb, on: steer-right}]}\n"
	steer := func(left, right string) report.Report {
		const both = "class: light truck, single: 3640 lb at 95 psi, last_set: 95 psi, "
		text := bare("", "tires: [{at: steer-left, "+both+left+"}, {at: steer-right, "+both+right+"}]\n") + weighed
		return visittest.Assess(t, visittest.Read(t, strings.Replace(text, "gawr:", "placard: none, gawr:", 1)+"gauge_tolerance: 0.5 psi\n"))
	}
	for _, x := range []struct {
		name, left string
		has, not   []string
	}{
		{"low and left so", "found: 79 psi", []string{"below-set"}, []string{"left-below-set"}},
		{"too low for its load", "found: 77 psi", []string{"below-set", "load-at-found-pressure"}, []string{"run-low"}},
		{"a flat, too low for its load", "found: 70 psi", []string{"run-low"}, []string{"below-set"}},
		{"low and set", "found: 79 psi, left: 95 psi", nil, []string{"below-set", "left-below-set", "load-at-found-pressure"}},
		{"left too low", "found: 79 psi, left: 80 psi", []string{"left-below-set"}, []string{"below-set"}},
		{"left too high", "found: 95 psi, left: 100 psi", []string{"most-pressure-left"}, []string{"left-below-set"}},
		{"left without what its load needs", "found: 90 psi, left: 70 psi", []string{"load-at-left-pressure"}, []string{"load-at-found-pressure"}},
		{"a flat aired up", "found: 70 psi, left: 95 psi", []string{"aired-up-flat", "run-low"}, []string{"left-below-set"}},
		{"a flat aired up hot", "found: 70 psi, left: 95 psi, hot: yes", []string{"aired-up-flat", "run-low"}, []string{"left-below-set"}},
		{"left hot", "found: 80 psi, left: 95 psi, hot: yes", []string{"below-set"}, []string{"left-below-set", "load-at-left-pressure"}},
		{"a flat left alone", "found: 70 psi, left: 70 psi", []string{"run-low"}, []string{"aired-up-flat", "left-below-set"}},
		{"a flat let down", "found: 70 psi, left: 0 psi", []string{"run-low"}, []string{"aired-up-flat", "left-below-set"}},
	} {
		r := steer(x.left, "found: 95 psi, left: 95 psi")
		for _, rule := range x.has {
			if _, ok := has(r, "steer-left", rule); !ok {
				t.Errorf("%s: no %s in %+v", x.name, rule, r.Todo)
			}
		}
		for _, rule := range x.not {
			if it, ok := has(r, "steer-left", rule); ok {
				t.Errorf("%s: %+v", x.name, it)
			}
		}
		// What was left hot is judged when it is cold.
		if hot := strings.Contains(x.left, "hot") && strings.Contains(x.left, "80"); unjudged(r, "steer-left", "once it is cold") != hot {
			t.Errorf("%s: not judged %v", x.name, r.Unjudged)
		}
	}
	// Spread across the axle, as found and as left.
	for _, x := range []struct{ left, right, rule string }{
		{"found: 95 psi", "found: 89.5 psi", "found-spread"},
		{"found: 95 psi, left: 95 psi", "found: 95 psi, left: 94 psi", "equal-across-axle"},
		{"found: 95 psi", "found: 90 psi", ""},
		{"found: 95 psi, in_sun: yes", "found: 85 psi", ""}, // no leak on the shaded side
		{"found: 95 psi", "found: 70 psi", ""},              // the flat says it
	} {
		r := steer(x.left, x.right)
		for _, rule := range []string{"found-spread", "equal-across-axle"} {
			if _, ok := has(r, "steer", rule); ok != (rule == x.rule) {
				t.Errorf("%s; %s: %s %v", x.left, x.right, rule, ok)
			}
		}
	}
	pair := func(outer, inner string) report.Report {
		return visittest.Assess(t, visittest.Read(t, bare("", "tires: [{at: drive-left-outer, "+outer+"}, {at: drive-left-inner, "+inner+"}]\n")))
	}
	r := pair("found: 100 psi, left: 101 psi", "found: 92 psi, left: 100 psi")
	if _, ok := has(r, "drive-left", "pair-found-apart"); !ok || r.Pairs[0].FoundDifference != record.Record(8*inflation.PSI) ||
		r.Pairs[0].LeftAtDifference != record.Record(inflation.PSI) {
		t.Errorf("a pair 8 psi apart: %v, %+v", ok, r.Pairs[0])
	}
	if r = pair("found: 100 psi, hot: yes", "found: 80 psi"); r.Pairs[0].FoundDifference.Is() {
		t.Errorf("a hot and a cold pressure are compared: %+v", r.Pairs[0])
	}
}

// TestTreadPatterns: one shoulder, both, the center, around the tire; measured
// from 2/32 in (from memory), and not told twice where it was seen as well.
func TestTreadPatterns(t *testing.T) {
	all := []string{"one-shoulder-measured", "both-shoulders-measured", "center-measured", "uneven-around"}
	for _, x := range []struct {
		keys string
		want []string
		tell weight.Length
	}{
		{"tread: {inner: 6/32 in, center: 8/32 in, outer: 8/32 in}", all[:1], 6},
		{"tread: {inner: 8/32 in, outer: 6/32 in}", all[:1], 6},
		{"tread: {inner: 7/32 in, center: 8/32 in, outer: 8/32 in}", nil, 7},
		{"tread: {inner: 6/32 in, center: 8/32 in, outer: 6/32 in}", all[1:2], 6},
		{"tread: {inner: 8/32 in, center: 6/32 in, outer: 8/32 in}", all[2:3], 6},
		{"tread: {center: [8/32 in, 6/32 in, 8/32 in]}", all[3:], 6},
		{"tread: {inner: [8/32 in, 7/32 in], outer: [6/32 in, 6/32 in]}", nil, 6},
		{"tread: [8/32 in, 6/32 in, 8/32 in]", nil, 6}, // who knows where
		{"tread: 0 in", nil, 0},
		{"tread: {inner: 6/32 in, outer: 8/32 in}, seen: one shoulder worn", nil, 6},
		{"tread: {inner: 6/32 in, outer: 8/32 in}, seen: cupping", all[:1], 6},
		{"tread: {inner: 6/32 in, center: 8/32 in, outer: 6/32 in}, seen: both shoulders worn", nil, 6},
		{"tread: {inner: 8/32 in, center: 6/32 in, outer: 8/32 in}, seen: center worn", nil, 6},
		{"tread: {center: [8/32 in, 6/32 in]}, seen: flat spot", nil, 6},
	} {
		r := visittest.Assess(t, visittest.Read(t, one("steer-left", x.keys)))
		for _, rule := range all {
			it, ok := has(r, "steer-left", rule)
			if ok != slices.Contains(x.want, rule) || ok && len(it.Causes) < 2 {
				t.Errorf("%s: %s %v, %+v", x.keys, rule, ok, it)
			}
		}
		if got := tireOf(t, r, "steer-left").Tread; got != record.Record(x.tell*record.ThirtySecond) {
			t.Errorf("%s: least depth %s", x.keys, got)
		}
	}
}

func TestTreadsReadBack(t *testing.T) {
	d := func(n ...weight.Length) []weight.Length {
		for i := range n {
			n[i] *= record.ThirtySecond
		}
		return n
	}
	for _, x := range []struct {
		in   record.Treads
		want string
	}{
		{record.Treads{Anywhere: d(9)}, `"9/32 in"`},
		{record.Treads{Anywhere: d(9, 0)}, `["9/32 in","0 in"]`},
		{record.Treads{Inner: d(9), Outer: d(8, 7)}, `{"inner":["9/32 in"],"outer":["8/32 in","7/32 in"]}`},
		{record.Treads{Center: d(9)}, `{"center":["9/32 in"]}`},
		{record.Treads{}, `[]`},
	} {
		data, err := json.Marshal(x.in)
		if err != nil || string(data) != x.want {
			t.Errorf("%+v: %s, %v, want %s", x.in, data, err, x.want)
		}
		var back record.Treads
		if err := json.Unmarshal(data, &back); err != nil || fmt.Sprint(back) != fmt.Sprint(x.in) {
			t.Errorf("%s reads back as %+v, %v", data, back, err)
		}
	}
	// No depth is not a depth of 0.
	for _, text := range []string{"null", "[]", "{}"} {
		got := record.Treads{Anywhere: d(9)}
		if err := json.Unmarshal([]byte(text), &got); err != nil {
			t.Error(err)
		}
		if least, ok := got.Least(); ok {
			t.Errorf("%s is a depth of %s", text, least)
		}
	}
	var bad record.Treads
	for _, text := range []string{`{"inner": 9}`, `[9]`, `9`, `"9/32"`} {
		if err := json.Unmarshal([]byte(text), &bad); err == nil {
			t.Errorf("%s is read as %+v", text, bad)
		}
	}
	for _, text := range []string{"tread: {}", "tread: {inner: []}", "tread: {left: 9/32 in}", "tread: []", "tread: {inner: {center: 9/32 in}}"} {
		if v, err := record.Read("v", []byte(one("steer-left", text))); err == nil {
			t.Errorf("%s is read as %+v", text, v.Tires[0].Tread)
		}
	}
}

// TestNotRead: it is an absence, is written down, and keeps a default away.
func TestNotRead(t *testing.T) {
	v := visittest.Read(t, `
visit: 1
date: 2026-10-03
odometer: not read
axles: [{id: steer, fitment: single, gawr: not read, placard: 100 psi}]
every_tire: {class: truck, single: 4940 lb at 110 psi, wheel: 5000 lb at 120 psi, seen: nothing, construction: radial, hot: no}
tires:
  - {at: steer-left, wheel: not read, seen: not read, found: not read, number: not read, tread: not read, construction: not read, hot: not read}
  - {at: steer-right}
weighing: {scale: not read, readings: [{load: not read, on: nowhere}, {load: 2000 lb, on: steer-left}]}
`)
	l := v.Tires[0]
	if l.Wheel.Is() || l.Found.Is() || l.Number.Is() || l.Seen.Is() || l.Tread.Is() || l.Wheel == (record.Recorded[record.Stamp]{}) {
		t.Errorf("%+v", l)
	}
	if len(v.Weighing.Readings) != 1 {
		t.Errorf("readings %+v", v.Weighing.Readings)
	}
	r := visittest.Assess(t, v)
	for _, need := range []string{"stamped on its wheel", "a look at both sidewalls", "cold pressure", "date code", "tread depth"} {
		if !unjudged(r, "steer-left", need) {
			t.Errorf("%q is not among %+v", need, r.Unjudged)
		}
	}
	if unjudged(r, "steer-right", "wheel") || unjudged(r, "steer-right", "a look at both") {
		t.Error("a default was not taken")
	}
	data, err := json.Marshal(v)
	if err != nil || !bytes.Contains(data, []byte(`"wheel":"not read"`)) || !bytes.Contains(data, []byte(`"odometer":"not read"`)) {
		t.Errorf("%s, %v", data, err)
	}
	back, err := record.Read("visit.json", data)
	if err != nil {
		t.Fatal(err)
	}
	again, err := json.Marshal(back)
	if err != nil || !bytes.Equal(data, again) {
		t.Errorf("%s\n%s, %v", data, again, err)
	}
	if n := record.NotRead[weight.Mass](); n.Is() || n.IsZero() || n.String() != "not read" || n.Or(record.Record(weight.Mass(1))).Is() {
		t.Errorf("%+v", n)
	}
	// What stands behind a reading that was not read is named by its own place.
	_, err = record.Read("v", []byte("visit: 1\ndate: 2026-10-03\naxles: [{id: steer, fitment: single}]\nweighing: {readings: [{load: not read, on: steer}, {load: 1 lb, on: tag}]}\n"))
	if err == nil || !strings.Contains(err.Error(), "v:4:69: weighing.tag.on") {
		t.Errorf("%v", err)
	}
}

// TestBothSidewalls: a number is read on either side, the dated one decides,
// and of two dates the older; a sidewall nobody saw clears nothing.
func TestBothSidewalls(t *testing.T) {
	for _, x := range []struct {
		keys, number, other string
		made                string // first day
		whole, doubt        bool
	}{
		{"number: 1X1 XAXAXA 2222", "1X1 XAXAXA 2222", "", "2022-05-29", true, false},
		{"number: 2222", "2222", "", "2022-05-29", false, false},
		{"other_number: 2222", "2222", "", "2022-05-29", false, false},
		{"number: XAXAXA, other_number: 1X1 XAXAXA 2222", "1X1 XAXAXA 2222", "XAXAXA", "2022-05-29", true, false},
		{"number: 2222, other_number: 1X1 XAXAXA 2222", "1X1 XAXAXA 2222", "2222", "2022-05-29", true, false},
		{"number: 2222, other_number: 1819", "1819", "2222", "2019-05-05", false, true},
		{"number: 1819, other_number: 2222", "1819", "2222", "2019-05-05", false, true},
	} {
		r := visittest.Assess(t, visittest.Read(t, one("steer-left", x.keys)))
		l := tireOf(t, r, "steer-left")
		if l.Number != x.number || l.OtherNumber != x.other || l.WholeNumber != x.whole || len(l.Made) == 0 || l.Made[0].First.String() != x.made {
			t.Errorf("%s: %q, %q, whole %v, made %v", x.keys, l.Number, l.OtherNumber, l.WholeNumber, l.Made)
		}
		doubt := slices.ContainsFunc(r.Todo, func(it report.Item) bool { return strings.Contains(it.What, "different dates") })
		if doubt != x.doubt {
			t.Errorf("%s: two dates %v: %+v", x.keys, doubt, r.Todo)
		}
	}
	const look = "a look at the sidewall"
	for _, x := range []struct {
		keys string
		open bool
	}{
		{"seen: nothing", false},
		{"seen: nothing, sidewalls: both", false},
		{"seen: nothing, sidewalls: outer", true},
		{"seen: nothing, sidewalls: inner", true},
		{"seen: nothing, sidewalls: neither", true},
	} {
		r := visittest.Assess(t, visittest.Read(t, one("steer-left", x.keys)))
		if unjudged(r, "steer-left", look) != x.open {
			t.Errorf("%s: open %v: %+v", x.keys, !x.open, r.Unjudged)
		}
	}
	waits := func(at, rule string) bool {
		r := visittest.Assess(t, visittest.Read(t, one(at, "seen: nothing, sidewalls: outer")))
		return slices.ContainsFunc(r.Unjudged, func(g report.NotJudged) bool { return g.Where == at && slices.Contains(g.Rules, rule) })
	}
	if !waits("drive-left-inner", "coach-care/seen-object-between-duals") || waits("steer-left", "coach-care/seen-object-between-duals") ||
		waits("drive-left-inner", "coach-care/seen-missing-cap") || !waits("steer-left", "coach-care/seen-bulge") {
		t.Error("what a sidewall can hide, and what not")
	}
	r := visittest.Assess(t, visittest.Read(t, one("steer-left", "seen: [bulge, missing cap], sidewalls: outer")))
	for _, rule := range []string{"seen-bulge", "seen-missing-cap"} {
		if _, ok := has(r, "steer-left", rule); !ok {
			t.Errorf("%s is lost", rule)
		}
	}
}

// TestStamps: what is stamped is compared with itself, a dual figure above the
// single one is not used, and the slowest symbol is told (ISO 4000-1: L is
// 120 km/h, K is 110; LI 125/123 is 1,650/1,550 kg).
func TestStamps(t *testing.T) {
	for _, x := range []struct {
		keys, part string
	}{
		{"single: 3640 lb at 95 psi, dual: 3415 lb at 95 psi, service: 125/123L", ""},
		{"single: 3640 lb at 95 psi, service: 121/119L", "load and load index differ"},
		{"single: 3640 lb at 95 psi, dual: 6830 lb at 95 psi", "dual above single"},
		{"service: 123/125L", "dual above single"},
	} {
		r := visittest.Assess(t, visittest.Read(t, one("drive-left-outer", x.keys)))
		found := ""
		for _, it := range r.Todo {
			if strings.Contains(it.What, "contradict") {
				found = it.Found
			}
		}
		if (found == "") != (x.part == "") || !strings.Contains(found, x.part) {
			t.Errorf("%s: %q, want %q", x.keys, found, x.part)
		}
	}
	r := visittest.Assess(t, visittest.Read(t, one("drive-left-outer", "class: truck, single: 3640 lb at 95 psi, dual: 6830 lb at 95 psi")))
	if line := r.Pairs[0]; line.AloneRating > 3640*weight.Pound {
		t.Errorf("a pair's figure is used for one tire: %+v", line)
	}
	r = visittest.Assess(t, visittest.Read(t, bare("every_tire: {service: 125/123L}\n",
		"tires: [{at: steer-left, service: k}, {at: drive-left-inner, service: K}, {at: steer-right, service: not read}, {at: spare, service: J}]\n")))
	s := r.Slowest
	if s.Symbol.String() != "K" || s.Speed != 110*inflation.KilometerPerHour || !slices.Equal(s.At, []string{"steer-left", "drive-left-inner"}) ||
		!slices.Equal(s.NotRead, []string{"steer-right"}) {
		t.Errorf("slowest %+v", s)
	}
}

func TestServiceAndStandingText(t *testing.T) {
	for _, x := range []struct{ text, want string }{
		{"125/123L", "125/123L"}, {"104h", "104H"}, {"l", "L"}, {"125", "125"}, {"125/123", "125/123"}, {"a8", "A8"},
	} {
		s, err := record.ParseService(x.text)
		back, err2 := s.MarshalText()
		if err != nil || err2 != nil || string(back) != x.want {
			t.Errorf("%s: %s, %v, %v", x.text, back, err, err2)
		}
	}
	for _, text := range []string{"", "/", "125/", "/123L", "280L", "125/123I", "125L/123", "L125", "-1L", "not read"} {
		if s, err := record.ParseService(text); !errors.Is(err, record.ErrService) {
			t.Errorf("%q: %v, %v", text, s, err)
		}
	}
	if _, err := (record.Service{}).MarshalText(); !errors.Is(err, record.ErrService) {
		t.Error("nothing read is written")
	}
	for _, x := range []struct {
		text string
		want record.ParkedFor
		back string
	}{
		{"0 min", 0, "0 h"}, {"45 min", 45 * record.Minute, "45 min"}, {"3 h", 3 * record.Hour, "3 h"}, {"2.5 hours", 150, "150 min"},
		{"1 day", record.Day, "24 h"}, {"60 days", 60 * record.Day, "60 days"}, {"1,440 min", record.Day, "24 h"},
	} {
		s, err := record.ParseParkedFor(x.text)
		if err != nil || s != x.want || s.String() != x.back {
			t.Errorf("%s: %d %s, %v, want %d %s", x.text, s, s, err, x.want, x.back)
		}
	}
	for text, want := range map[string]error{"3": origin.ErrUnit, "0.001 h": origin.ErrPrecision, "-1 h": origin.ErrRange, "": origin.ErrSyntax} {
		if _, err := record.ParseParkedFor(text); !errors.Is(err, want) {
			t.Errorf("%q: %v, want %v", text, err, want)
		}
	}
}

// TestAloneOnABlock computes the overload from this coach's own load: 5,800 lb
// on a tire rated 3,415 lb as a dual is 170 % (common practice).
func TestAloneOnABlock(t *testing.T) {
	const scale = "weighing: {scale: pads, tolerance: 0 lb, readings: [{load: 5800 lb, on: drive-left}]}\nevery_tire: {class: light truck, dual: 3415 lb at 95 psi}\n"
	r := visittest.Assess(t, visittest.Read(t, one("drive-left-outer", "seen: nothing")+scale))
	if p := r.Pairs[0]; p.Name != "drive-left" || p.AloneLoad != 5800*weight.Pound || p.AloneRating != 3415*weight.Pound || p.AlonePercent != 170 {
		t.Errorf("%+v", p)
	}
	if _, ok := has(r, "drive-left-outer", "alone-overload"); ok {
		t.Error("a pair that stands as it should is overloaded")
	}
	r = visittest.Assess(t, visittest.Read(t, one("drive-left-outer", "seen: alone on a block")+scale))
	it, ok := has(r, "drive-left-outer", "alone-overload")
	if !ok || !it.Stops || !strings.Contains(it.Found, "5,800 lb") || !strings.Contains(it.Bound, "3,415 lb") {
		t.Errorf("%v, %+v", ok, it)
	}
}

// TestWheelOff: whatever takes a wheel off brings the torque and the stands
// with it, once; nothing else does; and packs that do not say so leave it to a
// caution.
func TestWheelOff(t *testing.T) {
	count := func(r report.Report) (n int) {
		for _, it := range r.Todo {
			if strings.Contains(it.Advice, "50 to 100 miles") && strings.Contains(it.Advice, "stands") && strings.Contains(it.Advice, "torque") {
				n++
			}
		}
		for _, c := range r.Cautions {
			if strings.Contains(c, "50 to 100 miles") {
				n++
			}
		}
		return n
	}
	for keys, want := range map[string]int{
		"seen: bulge": 1, "seen: [bulge, cut to the cord, nail or object]": 1, "tread: 3/32 in": 1, "last_set: 100 psi, found: 70 psi": 1,
		"seen: missing cap": 0, "seen: nothing": 0, "tread: 9/32 in": 0, "injury_width: 1/2 in, class: truck": 1,
	} {
		if n := count(visittest.Assess(t, visittest.Read(t, one("steer-left", keys)))); n != want {
			t.Errorf("%s: said %d times, want %d", keys, n, want)
		}
	}
	if n := count(visittest.Assess(t, visittest.Read(t, one("spare", "tread: 1/32 in")))); n != 0 {
		t.Errorf("a spare on no wheel takes none off: said %d times", n)
	}
	own, err := rules.ReadPack("own.yaml", []byte(`format: 1
pack: own
title: Our own
rules: {bulge: {title: Bulge, subject: tire, measure: bulge, is: no, action: plan, advice: Off with it., involves: [wheel_off], source: {grade: common practice}}}
`))
	if err != nil {
		t.Fatal(err)
	}
	program, err := rules.Compile(inspect.Vocabulary(), own)
	if err != nil {
		t.Fatal(err)
	}
	r, err := inspect.Assess(visittest.Read(t, one("steer-left", "seen: bulge")), inspect.Setup{Program: program})
	if n := count(r); err != nil || n != 1 {
		t.Errorf("a pack without the rule: said %d times, %v", n, err)
	}
}

// TestAdviceThatTakesAWheelOff: a rule whose advice takes a tire off says so,
// in whichever shipped pack it stands.
func TestAdviceThatTakesAWheelOff(t *testing.T) {
	off := regexp.MustCompile(`demount|Replace (it|the tire)|Take it off|Split the pair|off the steer axle|Mount it`)
	for _, name := range packs.Names() {
		program, err := inspect.CompilePacks(packs.FS(), name)
		if err != nil {
			t.Fatal(err)
		}
		for _, r := range program.Rules() {
			if off.MatchString(r.Advice()) && !r.Involves(judge.WheelOff) {
				t.Errorf("%s/%s takes a wheel off and does not say so: %s", r.Pack(), r.ID(), r.Advice())
			}
		}
	}
}

// TestRepairsAndCare: what can be repaired, and care while the coach stands.
func TestRepairsAndCare(t *testing.T) {
	for _, x := range []struct{ keys, more, where, rule string }{
		{"injury_at: crown, injury_width: 3/8 in, class: truck", "", "steer-left", "hole-measured"},
		{"injury_at: crown, injury_width: 25/64 in, class: truck", "", "steer-left", "injury-width-truck"},
		{"injury_at: crown, injury_width: 9/32 in, class: light truck", "", "steer-left", "injury-width-light"},
		{"injury_at: shoulder, injury_width: 1/8 in, class: truck", "", "steer-left", "injury-place"},
		{"seen: plugged on the wheel", "", "steer-left", "seen-plugged-on-the-wheel"},
		{"tread: 9/32 in, cut_depth: 2/32 in", "", "steer-left", "cut-depth"},
		{"tread: 9/32 in, cut_depth: 2/32 in, cut_at: shoulder", "", "steer-left", "cut-depth"},
		{"tread: 9/32 in, cut_depth: 1/32 in", "", "steer-left", ""},
		{"tread: 9/32 in, cut_depth: 8/32 in, cut_at: crown", "", "steer-left", ""},
		{"tread: 9/32 in, cut_depth: 9/32 in, cut_at: crown", "", "steer-left", "cut-depth-tread"},
		{"tread: 9/32 in, cut_depth: 10/32 in, cut_at: crown", "", "steer-left", "cut-through-tread"},
		{"tread: 9/32 in", "stood: 30 days\n", "coach", "parked-long"},
		{"tread: 9/32 in", "stood: 29 days\n", "coach", ""},
		{"regrooved: yes", "", "steer-left", "regrooved-on-steer"},
		{"regrooved: yes, class: light truck, single: 3000 lb at 80 psi", "", "steer-left", "regrooved-on-steer"},
		{"regrooved: no, class: truck, single: 4920 lb at 110 psi", "", "steer-left", ""},
	} {
		r := visittest.Assess(t, visittest.Read(t, one("steer-left", x.keys)+x.more))
		_, ok := has(r, x.where, x.rule)
		if x.rule == "" {
			ok = !slices.ContainsFunc(r.Todo, func(it report.Item) bool { return it.Where == x.where && !asksToRead(it) })
		}
		if !ok {
			t.Errorf("%s%s: want %q, got %+v", x.keys, x.more, x.rule, r.Todo)
		}
	}
	if r := visittest.Assess(t, visittest.Read(t, one("steer-left", "injury_width: 1/8 in"))); !unjudged(r, "steer-left", "class") {
		t.Errorf("a hole in a tire of unknown class: %+v", r.Unjudged)
	}
}

// asksToRead reports whether an item only asks for a reading that was not taken, or
// what it is to be held against.
func asksToRead(it report.Item) bool {
	return slices.ContainsFunc(it.Rules, func(r string) bool {
		return strings.HasSuffix(r, "-not-read") || r == "coach-care/not-looked-at" || r == "coach-care/nothing-to-hold-it-against"
	})
}

// TestTowedDefaults: the towed unit's tires share what is said of them, and
// nothing of the coach's.
func TestTowedDefaults(t *testing.T) {
	r := visittest.Assess(t, visittest.Read(t, `
visit: 1
date: 2026-10-03
axles: [{id: steer, fitment: single}, {id: car, fitment: single, towed: yes, placard: 32 psi}]
every_tire: {size: XV250/72R21, service: L}
every_towed_tire: {size: XV180/72R14, service: H, seen: nothing}
tires: [{at: steer-left}, {at: car-left, found: 20 psi}]
`))
	for at, size := range map[string]string{"steer-left": "XV250/72R21", "car-left": "XV180/72R14", "car-right": "XV180/72R14"} {
		if l := tireOf(t, r, at); l.Size != size {
			t.Errorf("%s: %s", at, l.Size)
		}
	}
	if _, ok := has(r, "car-left", "run-low"); !ok {
		t.Error("the car's flat is lost")
	}
}

// TestSameBytes: the same visit gives the same bytes, whichever order its
// tires are written in, and however often.
func TestSameBytes(t *testing.T) {
	v, setup := visittest.Demo(t)
	v.Tires = append(v.Tires, record.Tire{At: "spare-3", Found: record.Record(90 * inflation.PSI)}, record.Tire{At: "spare-2"})
	want, err := inspect.Assess(v, setup)
	if err != nil {
		t.Fatal(err)
	}
	first, err := json.Marshal(want)
	if err != nil {
		t.Fatal(err)
	}
	random := rand.New(rand.NewPCG(5, 7))
	for range 100 {
		random.Shuffle(len(v.Tires), func(i, j int) { v.Tires[i], v.Tires[j] = v.Tires[j], v.Tires[i] })
		r, err := inspect.Assess(v, setup)
		if err != nil {
			t.Fatal(err)
		}
		if data, err := json.Marshal(r); err != nil || !bytes.Equal(data, first) {
			t.Fatalf("another report, %v:\n%s\n%s", err, first, data)
		}
	}
	// Worst first, and each thing once.
	said := make(map[string]bool)
	for i, it := range want.Todo {
		if i > 0 && it.Action.Compare(want.Todo[i-1].Action) < 0 {
			t.Errorf("%s stands behind %s", it.Action, want.Todo[i-1].Action)
		}
		key := it.Where + ": " + it.What
		if said[key] {
			t.Errorf("said twice: %s", key)
		}
		said[key] = true
	}
}

// TestEveryTireKeyReadsBack: a visit with every key of a tire is the same in
// YAML and in the JSON that is written of it.
func TestEveryTireKeyReadsBack(t *testing.T) {
	v := visittest.Read(t, `
visit: 1
date: 2026-10-03
stood: 12 h
gauge: dial number 2
axles: [{id: steer, fitment: single}, {id: car, fitment: single, towed: yes}]
every_towed_tire: {size: XV180/72R14, sidewalls: neither, in_sun: yes}
tires:
  - {at: steer-left, size: XV250/72R21, load_range: G, service: 136/133L, class: truck, construction: radial, model: alpha,
     single: 4940 lb at 110 psi, dual: 4540 lb at 110 psi, wheel: 5000 lb at 120 psi, number: XAXAXA, other_number: "0523", decade_mark: no,
     retread: no, regrooved: yes, rotates: left, wheel_fits: [steer], tread: {inner: 9/32 in, center: [8/32 in, 0 in], outer: 3.2 mm},
     diameter: 34.1 in, circumference: 107 in, last_set: 100 psi, found: 0 psi, lowest: 0 psi, air_added: no, hot: no, in_sun: no, read_at: extension,
     air_added_by: 5 psi, before_air: 80 psi, low_alarm: no, read_zero: yes, driven_since: no, next_day: 99 psi, cut_at: crown, sure: [tread], own: {since_mounted: 180 mi, nuts_checked: no},
     tread_type: rib, stem: metal, extension: rigid, stem_fitted: 2024-05-01, sensor_reading: 98 psi, sensor_fitted: 2024-05-02,
     wheel_on: 2026-09-30, torque_checked: 2026-10-01, cut_length: 1 in, photos: [a.jpg], inspected_by: B. Tech,
     left: 100 psi, seen: [cut, oily dressing], sidewalls: outer, crack_depth: 1/32 in, cut_depth: 2/32 in, injury_width: 1/8 in, injury_at: crown, note: scuffed}
  - {at: steer-right, tread: 9/32 in, seen: nothing, service: l, found: not read, sidewalls: not read}
  - {at: spare, tread: [9/32 in, 8/32 in], seen: not read, injury_at: not read}
`)
	keys := reflect.TypeFor[record.Tire]()
	first := reflect.ValueOf(v.Tires[0])
	for i := range keys.NumField() {
		if first.Field(i).IsZero() {
			t.Errorf("%s is not in the test", keys.Field(i).Name)
		}
	}
	readsBack(t, v)
}

// TestWordsReadBack: every word of a type is written and read as itself, also
// inside JSON, and what is none of them is an error that says so.
func TestWordsReadBack(t *testing.T) {
	readBack[record.ReadAt](t, 3, record.ErrWord)
	readBack[record.Sidewalls](t, 4, record.ErrWord)
	readBack[record.InjuryAt](t, 3, record.ErrWord)
	readBack[condition.Condition](t, condition.Condition(len(condition.All())), condition.ErrUnknown)
	stamp := record.Stamp{Load: 3640 * weight.Pound, At: 95 * inflation.PSI}
	if s := stamp.String(); s != "3640 lb at 95 psi" {
		t.Errorf("a stamp is written %q", s)
	}
	type doc struct {
		Stamp   record.Stamp     `json:"stamp"`
		Service record.Service   `json:"service"`
		Stood   record.ParkedFor `json:"stood"`
		Seen    condition.Set    `json:"seen"`
	}
	in := doc{stamp, record.Service{Speed: 1}, 3 * record.Hour, condition.Set(0).With(condition.Bulge).With(condition.OilyDressing)}
	data, err := json.Marshal(in)
	if want := `{"stamp":"3640 lb at 95 psi","service":"A1","stood":"3 h","seen":["bulge","oily dressing"]}`; err != nil || string(data) != want {
		t.Errorf("%s, %v, want %s", data, err, want)
	}
	var back doc
	if err := json.Unmarshal(data, &back); err != nil || back != in {
		t.Errorf("%+v, %v, want %+v", back, err, in)
	}
	for _, text := range []string{`{"stamp": "3640 lb"}`, `{"service": ""}`, `{"stood": "soon"}`, `{"seen": ["old"]}`, `{"seen": "bulge"}`} {
		if err := json.Unmarshal([]byte(text), &back); err == nil {
			t.Errorf("%s is read as %+v", text, back)
		}
	}
	if _, err := record.ParkedFor(-1).MarshalText(); !errors.Is(err, origin.ErrRange) {
		t.Errorf("a time below zero is written: %v", err)
	}
}

func readBack[T interface {
	~uint8
	fmt.Stringer
	MarshalText() ([]byte, error)
}, P interface {
	*T
	UnmarshalText([]byte) error
}](t *testing.T, n T, refused error) {
	t.Helper()
	for v := range n + 2 {
		text, err := v.MarshalText()
		if v == 0 || v > n {
			back := T(1)
			switch {
			case v == 0 && err == nil: // it says nothing, and reads back
				if len(text) > 0 || P(&back).UnmarshalText(text) != nil || back != 0 {
					t.Errorf("0 is written %q, and read as %s", text, back)
				}
			case !errors.Is(err, refused):
				t.Errorf("%d is written %q, %v", v, text, err)
			}
			text = []byte(v.String()) // what people see
			if err := P(new(T)).UnmarshalText(text); !errors.Is(err, refused) {
				t.Errorf("%q is read, %v", text, err)
			}
			continue
		}
		var back T
		if err != nil || P(&back).UnmarshalText(text) != nil || back != v || v.String() != string(text) {
			t.Errorf("%s is written %q, %v, and read as %s", v, text, err, back)
		}
	}
}

// FuzzWords: what a text of a visit is read as, is written so that it is read
// as the same.
func FuzzWords(f *testing.F) {
	for _, text := range []string{"125/123L", "l", "45 min", "2.5 h", "60 days", "both", "crown", "exposed cord", "3640 lb at 95 psi", "\xff\xff\xff\xff\xff @", "Ⱥ Ⱥ @", "1lb\xc3\x83 at 1 psi", `["9/32 in"]`, `{"inner":["9/32 in"]}`} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		if s, err := record.ParseService(text); err == nil {
			same(t, s, record.ParseService)
		}
		if s, err := record.ParseParkedFor(text); err == nil {
			same(t, s, record.ParseParkedFor)
		}
		if s, err := record.ParseSidewalls(text); err == nil {
			same(t, s, record.ParseSidewalls)
		}
		if s, err := record.ParseInjuryAt(text); err == nil {
			same(t, s, record.ParseInjuryAt)
		}
		if c, err := condition.Parse(text); err == nil {
			same(t, c, condition.Parse)
		}
		if s, err := record.ParseStamp(text); err == nil {
			same(t, s, record.ParseStamp)
		}
		var d, back record.Treads
		if json.Unmarshal([]byte(text), &d) != nil {
			return
		}
		data, err := json.Marshal(d)
		if err == nil {
			err = json.Unmarshal(data, &back)
		}
		least, any := d.Least()
		if l, a := back.Least(); err != nil || l != least || a != any {
			t.Errorf("%q: %s, %v", text, data, err)
		}
	})
}

func same[T interface {
	comparable
	MarshalText() ([]byte, error)
}](t *testing.T, v T, parse func(string) (T, error)) {
	t.Helper()
	text, err := v.MarshalText()
	if err != nil {
		t.Fatalf("%v: %v", v, err)
	}
	if back, err := parse(string(text)); err != nil || back != v {
		t.Errorf("%s is read back as %v, %v", text, back, err)
	}
}
