package placement_test

import (
	"context"
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"axleend.example/inflation"
	"axleend.example/inspect"
	"axleend.example/inspect/placement"
	"axleend.example/inspect/record"
	"axleend.example/inspect/report"
	"axleend.example/internal/visittest"
	"axleend.example/rules"
	"axleend.example/rules/packs"
	"axleend.example/weight"
)

// wheels writes a visit of an invented coach: what each tire has of its own by
// its place; the rest is as good as new. Tag adds an axle.
func wheels(tag bool, own map[string]string) string {
	var b strings.Builder
	b.WriteString(`visit: 1
invented: yes
date: 2026-10-03
axles:
  - {id: steer, fitment: single, gawr: 9000 lb, placard: 100 psi}
  - {id: drive, fitment: dual, gawr: 16000 lb, placard: 100 psi}
`)
	list := []string{"steer-left", "steer-right", "drive-left-outer", "drive-left-inner", "drive-right-inner", "drive-right-outer"}
	ends := "{load: 4000 lb, on: steer-left}, {load: 4100 lb, on: steer-right}, {load: 7500 lb, on: drive-left}, {load: 7400 lb, on: drive-right}"
	if tag {
		b.WriteString("  - {id: tag, fitment: single, gawr: 9000 lb, placard: 100 psi}\n")
		list = append(list, "tag-left", "tag-right")
		ends += ", {load: 3600 lb, on: tag-left}, {load: 3500 lb, on: tag-right}"
	}
	b.WriteString("tires:\n")
	for _, at := range append(list, "spare", "spare-2") {
		text, ok := own[at]
		if strings.HasPrefix(at, "spare") && !ok {
			continue
		}
		for _, d := range []string{"size: AX240/75R20", "class: truck", "construction: radial", "model: alpha", "single: 5000 lb at 110 psi", "dual: 4600 lb at 110 psi",
			"wheel: 6000 lb at 130 psi", "seen: nothing", "last_set: 100 psi", "found: 100 psi", "number: 2223", "tread: 10/32 in"} {
			key, _, _ := strings.Cut(d, ":")
			switch {
			case strings.Contains(text, "-"+key+"-"): // not recorded
				text = strings.Trim(strings.ReplaceAll(strings.ReplaceAll(text, "-"+key+"-", ""), ", ,", ","), ", ")
			case !strings.Contains(text, key+":"):
				if text != "" {
					text += ", "
				}
				text += d
			}
		}
		fmt.Fprintf(&b, "  - {at: %s, %s}\n", at, strings.Trim(text, ", "))
	}
	fmt.Fprintf(&b, "weighing: {as_driven: all, scale: pads, tolerance: 10 lb, level: yes, readings: [%s]}\n", ends)
	return b.String()
}

func moves(r placement.Placement) string {
	var out []string
	for _, m := range r.Moves {
		text := m.Tire + ">" + m.To
		if m.Demount {
			text += " demount onto " + m.OntoWheel
		}
		out = append(out, text)
	}
	return strings.Join(out, "; ")
}

func TestPlacementCases(t *testing.T) {
	for _, x := range []struct {
		name    string
		own     map[string]string
		tag     bool
		outcome placement.Outcome
		moves   string
		buy     string // places, with commas between
		why     string // a rule that is broken as found
		stops   bool
	}{
		// "Duals: tread depths within 4/32 in; the shallower tire inside"
		// (common practice).
		{"alike", nil, false, placement.NoMove, "", "", "", false},
		{"4/32 in apart, the shallower inside", map[string]string{"drive-left-inner": "tread: 6/32 in"}, false, placement.NoMove, "", "", "", false},
		{"the deeper inside", map[string]string{"drive-left-outer": "tread: 8/32 in"}, false, placement.MoveWheels,
			"drive-left-inner>drive-left-outer; drive-left-outer>drive-left-inner", "", "coach-care/shallower-inside", false},
		{"5/32 in apart: one goes to the front", map[string]string{"drive-left-inner": "tread: 5/32 in"}, false, placement.MoveWheels,
			"drive-left-inner>steer-right; steer-right>drive-left-inner", "", "coach-care/dual-tread", false},
		{"nothing to split the pair with", map[string]string{"drive-left-outer": "tread: 9/32 in", "drive-left-inner": "tread: 3/32 in"}, false, placement.Buy,
			"drive-left-outer>drive-left-inner", "drive-left-outer", "coach-care/dual-tread", false}, // and not the better tire thrown away
		{"5/32 in apart, the spare between", map[string]string{"drive-left-outer": "tread: 11/32 in", "drive-left-inner": "tread: 6/32 in", "drive-right-inner": "tread: 11/32 in",
			"drive-right-outer": "tread: 11/32 in", "steer-left": "tread: 11/32 in", "steer-right": "tread: 11/32 in", "spare": "tread: 9/32 in"}, false,
			placement.MoveWheels, "spare>drive-left-inner; drive-left-inner>spare", "", "coach-care/dual-tread", false},
		// "The larger tire OUTSIDE, measured mounted and inflated" (US Army TM
		// 9-2610-200-14, para 2-11): by measured size first.
		{"the larger inside", map[string]string{"drive-left-outer": "diameter: 40.2 in", "drive-left-inner": "diameter: 40.5 in"}, false, placement.MoveWheels,
			"drive-left-inner>drive-left-outer; drive-left-outer>drive-left-inner", "", "dual-matching/larger-outside", false},
		{"size against tread", map[string]string{"drive-left-outer": "diameter: 40.5 in, tread: 8/32 in", "drive-left-inner": "diameter: 40.2 in"}, false, placement.NoMove, "", "", "", false},
		// "Out of limits is split the pair, never swap them" (common practice;
		// TM table 2-1: 1/2 in up to 50 in).
		{"too far apart in size", map[string]string{"drive-left-outer": "diameter: 40.1 in", "drive-left-inner": "diameter: 40.7 in",
			"drive-right-inner": "diameter: 40.1 in", "drive-right-outer": "diameter: 40.1 in", "steer-left": "diameter: 40.7 in, retread: yes, tread: 10/32 in", "steer-right": "diameter: 40.1 in"}, false,
			placement.MoveWheels, "drive-left-outer>steer-left; steer-left>drive-left-outer", "", "coach-care/retread-on-steer", false},
		// "Tread: 4/32 in on the steer axle, 2/32 in elsewhere" (49 CFR
		// 393.75(b),(c)).
		{"3/32 in on the steer axle", map[string]string{"steer-left": "tread: 3/32 in", "spare": "tread: 4/32 in"}, false, placement.MoveWheels,
			"spare>steer-left; steer-left>spare", "", "coach-care/tread-steer", false},
		{"1/32 in goes nowhere", map[string]string{"drive-left-outer": "tread: 1/32 in", "drive-left-inner": "tread: 3/32 in"}, false, placement.Buy,
			"", "drive-left-outer", "coach-care/tread-other", false},
		// "Retreads off the steer axle" (common practice).
		{"a retread in front", map[string]string{"steer-left": "retread: yes", "spare": ""}, false, placement.MoveWheels,
			"spare>steer-left; steer-left>spare", "", "coach-care/retread-on-steer", false},
		// "Its dual mate is demounted and inspected too" (common practice).
		{"a flat and its mate", map[string]string{"drive-left-inner": "found: 80 psi", "spare": ""}, false, placement.Buy,
			"spare>drive-left-inner", "drive-left-outer", "coach-care/run-low", true},
		// "Replacement by 10 years whatever the tread, spare included" (common
		// practice).
		{"too old a spare", map[string]string{"spare": "number: 2210"}, false, placement.NoMove, "", "", "coach-care/age-replace", false},
		// A valve is put right where the wheel is.
		{"a leaking valve", map[string]string{"steer-left": "seen: leaking valve"}, false, placement.NoMove, "", "", "", false},
		{"an object between the duals", map[string]string{"drive-left-inner": "seen: object between duals"}, false, placement.NoMove, "", "", "", false},
		{"a boot", map[string]string{"steer-left": "seen: boot", "spare": ""}, false, placement.MoveWheels, "spare>steer-left", "", "coach-care/seen-boot", false},
		// A wheel that does not fit: the tire goes onto the wheel found there,
		// and the tire from there, if it stays in use, onto another.
		{"a spare on a wheel for duals", map[string]string{"steer-left": "tread: 1/32 in", "spare": "wheel_fits: tag"}, false, placement.MoveWheels,
			"spare>steer-left demount onto steer-left", "", "coach-care/tread-steer", false},
		// Its valve is seen to where the wheel stays, and is no reason against it.
		{"a spare on a wheel with a valve to see to", map[string]string{"steer-left": "tread: 1/32 in, seen: leaking valve", "spare": "wheel_fits: tag"}, false, placement.MoveWheels,
			"spare>steer-left demount onto steer-left", "", "coach-care/tread-steer", false},
		{"both tires change wheels", map[string]string{"steer-left": "tread: 3/32 in", "spare": "wheel_fits: tag"}, false, placement.MoveWheels,
			"spare>steer-left demount onto steer-left; steer-left>spare demount onto spare", "", "coach-care/tread-steer", false},
		// Direction of rotation: across the coach is a demount.
		{"an arrow across the coach", map[string]string{"steer-left": "tread: 1/32 in", "spare": "rotates: right",
			"steer-right": "rotates: right", "drive-right-inner": "rotates: right", "drive-right-outer": "rotates: right"}, false, placement.MoveWheels,
			"spare>steer-left demount onto spare", "", "coach-care/tread-steer", false},
		{"an arrow the right way", map[string]string{"steer-left": "tread: 1/32 in", "spare": "rotates: left"}, false, placement.MoveWheels,
			"spare>steer-left", "", "coach-care/tread-steer", false},
		{"turned where it is", map[string]string{"steer-left": "rotates: right", "steer-right": "rotates: right", "drive-right-inner": "rotates: right", "drive-right-outer": "rotates: right"}, false, placement.MoveWheels,
			"steer-left>steer-left demount onto steer-left", "", "coach-care/rotation-arrow", false},
		{"two arrows the wrong way", map[string]string{"steer-left": "rotates: right", "steer-right": "rotates: left"}, false, placement.MoveWheels,
			"steer-right>steer-left; steer-left>steer-right", "", "coach-care/rotation-arrow", false},
		// A bought tire has the more tread: it is bought for outside.
		{"the inner one to buy", map[string]string{"drive-left-inner": "seen: bulge"}, false, placement.Buy,
			"drive-left-outer>drive-left-inner", "drive-left-outer", "coach-care/seen-bulge", true},
		{"the tag axle takes it", map[string]string{"steer-right": "tread: 3/32 in"}, true, placement.MoveWheels,
			"tag-left>steer-right; steer-right>tag-left", "", "coach-care/tread-steer", false},
		// One size on an axle (COMAR 11.14.05.05).
		{"another size in front", map[string]string{"steer-left": "tread: 1/32 in", "spare": "size: AX225/75R20"}, false, placement.Buy, "", "steer-left", "coach-care/tread-steer", false},
		// Bias and radial on one axle (92 Ill. Adm. Code 438 App. E).
		{"bias in front", map[string]string{"steer-left": "construction: bias", "spare": ""}, false, placement.MoveWheels,
			"spare>steer-left; steer-left>spare", "", "coach-care/bias-and-radial", false},
		// Load above the tire's limit (49 CFR 393.75; 571.119 S6.5(d)).
		{"too weak for its end", map[string]string{"steer-left": "single: 3900 lb at 110 psi", "spare": ""}, false, placement.MoveWheels,
			"spare>steer-left; steer-left>spare", "", "label/tire-capacity", true},
	} {
		t.Run(x.name, func(t *testing.T) {
			v := visittest.Read(t, wheels(x.tag, x.own))
			r := placed(t, v, inspect.Setup{})
			if r.Outcome != x.outcome || moves(r) != x.moves {
				t.Errorf("%s: %s, want %s: %s (not proposed: %s)", r.Outcome, moves(r), x.outcome, x.moves, r.NotProposed)
			}
			var buy []string
			for _, b := range r.Buy {
				buy = append(buy, b.At)
			}
			if got := strings.Join(buy, ","); x.buy != "" && got != x.buy {
				t.Errorf("to buy: %s, want %s", got, x.buy)
			}
			named := slices.ContainsFunc(r.Broken, func(it report.Item) bool {
				return slices.ContainsFunc(it.Rules, func(r string) bool {
					return r == x.why || x.why == "coach-care/run-low" && strings.HasPrefix(r, "coach-care/run-")
				}) && len(it.Sources) > 0
			})
			if named != (x.why != "") {
				t.Errorf("broken: %+v, want %q", r.Broken, x.why)
			}
			if r.Stops != x.stops && (x.stops || x.outcome != placement.Buy) {
				t.Errorf("stops %t", r.Stops)
			}
			spares := 0
			for at := range x.own {
				if strings.HasPrefix(at, "spare") {
					spares++
				}
			}
			if err := (trial{spots: spots(x.tag, spares), visit: v}).carryOut(r); err != nil {
				t.Errorf("%v\n%s", err, steps(r))
			}
			if len(r.Steps) > 0 && !slices.ContainsFunc(r.Cautions, func(c string) bool {
				return strings.Contains(c, "50 to 100 miles") && strings.Contains(c, "never the levelers")
			}) {
				t.Errorf("cautions: %q", r.Cautions)
			}
		})
	}
}

// TestPlacementNeverTakesTheUnrecordedForGood: what was not recorded is listed, an
// arrangement that was judged throughout comes first, and no wheel moves for what is
// read sooner.
func TestPlacementNeverTakesTheUnrecordedForGood(t *testing.T) {
	r := placed(t, visittest.Read(t, wheels(false, map[string]string{"steer-left": "-tread-", "drive-left-inner": "-construction-"})), inspect.Setup{})
	if r.NotJudged == 0 || r.Outcome != placement.NoMove {
		t.Errorf("%s, not judged %d", r.Outcome, r.NotJudged)
	}
	for _, want := range []string{"steer-left: its tread depth", "drive-left: the construction of both tires", "drive: the construction of all its tires"} {
		if !slices.ContainsFunc(r.Unjudged, func(g report.NotJudged) bool { return g.Where+": "+g.Need == want && len(g.Rules) > 0 }) {
			t.Errorf("want %q in %+v", want, r.Unjudged)
		}
	}
	// A pressure that was not taken goes with its tire, wherever that goes.
	r = placed(t, visittest.Read(t, wheels(false, map[string]string{"steer-left": "-found-"})), inspect.Setup{})
	if !slices.ContainsFunc(r.Unjudged, func(g report.NotJudged) bool {
		return g.Where == "steer-left" && strings.Contains(g.Need, "cold pressure")
	}) {
		t.Errorf("%+v", r.Unjudged)
	}
	for own, want := range map[string]string{
		"-construction-":              "",                                               // look at its sidewall
		"-construction-, seen: bulge": "spare>drive-left-outer",                         // it goes anyway
		"dual: 3750 lb at 110 psi":    "spare>drive-left-outer; drive-left-outer>spare", // too close to call
		"wheel: 3750 lb at 110 psi":   "spare>drive-left-outer; drive-left-outer>spare", // so is this
	} {
		r := placed(t, visittest.Read(t, wheels(false, map[string]string{"drive-left-outer": own, "spare": ""})), inspect.Setup{})
		if moves(r) != want || (r.NotJudged > 0) != (want == "") {
			t.Errorf("%s: not judged %d, moves %q, want %q", own, r.NotJudged, moves(r), want)
		}
	}
	// 4,090 to 4,110 lb on 4,100 lb: too close to call is not kept.
	weak := "single: 4100 lb at 110 psi, dual: 4000 lb at 110 psi"
	all := map[string]string{}
	for _, s := range spots(false, 0) {
		all[s.name] = weak
	}
	r = placed(t, visittest.Read(t, wheels(false, all)), inspect.Setup{})
	if len(r.TooClose) != 2 || !slices.ContainsFunc(r.TooClose, func(it report.Item) bool { return it.Where == "steer-right" }) || r.NotJudged != 2 {
		t.Errorf("not judged %d: %+v, too close: %+v", r.NotJudged, r.Unjudged, r.TooClose)
	}
}

// TestTireToBuy holds what is to be bought against the bounds of the packs.
func TestTireToBuy(t *testing.T) {
	own := map[string]string{"drive-left-outer": "seen: bulge", "drive-left-inner": "diameter: 40.5 in, circumference: 127.2 in, tread: 9/32 in", "steer-right": "seen: exposed cord"}
	r := placed(t, visittest.Read(t, wheels(false, own)), inspect.Setup{})
	if len(r.Buy) != 2 || r.Buy[0].At != "steer-right" || r.Buy[1].At != "drive-left-outer" {
		t.Fatalf("%+v", r.Buy)
	}
	need := func(b placement.TireToBuy, what string) placement.TireNeed {
		for _, n := range b.Needs {
			if n.What == what {
				return n
			}
		}
		t.Errorf("%s: nothing about %s", b.At, what)
		return placement.TireNeed{}
	}
	for _, x := range []struct {
		at                int
		what, least, most string
		rule              string
	}{
		// 4,100 lb with 10 lb of doubt; half of 7,510 lb is 3,755, but its mate is
		// good for 4,600.
		{0, "load rating", "4110 lb", "", "label/tire-capacity"},
		{1, "load rating", "4600 lb", "", "label/tire-capacity"},
		{0, "tread", "1/8 in", "", "coach-care/tread-steer"},
		{1, "tread", "9/32 in", "13/32 in", "coach-care/dual-tread"},
		// Larger outside, by 1/2 in at most (TM table 2-1, 40 to 50 in).
		{1, "diameter", "40 1/2 in", "41 in", "dual-matching/diameter-40-to-50"},
		{1, "circumference", "127.2 in", "128.7 in", "dual-matching/circumference-40-to-50"},
		{0, "its wheel", "4110 lb", "", "label/wheel-capacity"},
		{1, "its wheel", "3755 lb", "", "label/wheel-capacity"},
		{0, "age", "", "", "coach-care/age-replace"},
		{0, "casing", "", "", "coach-care/retread-on-steer"},
	} {
		n := need(r.Buy[x.at], x.what)
		length := func(text string) weight.Length {
			d, err := weight.ParseLength(text)
			if err != nil {
				t.Fatal(err)
			}
			return d
		}
		same := n.Least == x.least && n.Most == x.most
		if !same && n.Least != "" && !strings.HasSuffix(n.Least, " lb") {
			same = length(n.Least) == length(strings.ReplaceAll(x.least, "40 1/2", "40.5")) && (x.most == "" || absLength(length(n.Most)-length(x.most)) < weight.Inch/16)
		}
		if !same || !slices.Contains(n.Rules, x.rule) || len(n.Sources) == 0 {
			t.Errorf("%s, %s: %+v, want %s to %s by %s", r.Buy[x.at].At, x.what, n, x.least, x.most, x.rule)
		}
	}
	if b := r.Buy[1]; b.Mate != "drive-left-inner" || b.Size != "AX240/75R20" || b.Fitment != weight.Dual {
		t.Errorf("%+v", b)
	}
	for _, n := range r.Buy[0].Needs {
		if n.What == "age" && !strings.Contains(n.Text, "less than 10 years") {
			t.Errorf("%+v", n)
		}
	}
	// No mate measured: match it.
	delete(own, "drive-left-inner")
	r = placed(t, visittest.Read(t, wheels(false, own)), inspect.Setup{})
	if n := need(r.Buy[1], "diameter"); !strings.Contains(n.Text, "match the mate") {
		t.Errorf("%+v", n)
	}
	// The rating is its mate's, where somebody read that.
	for mate, want := range map[string][2]string{"dual: 3900 lb at 110 psi": {"3900 lb", ": no less than its mate"}, "-dual-": {"3755 lb", ""}} {
		r = placed(t, visittest.Read(t, wheels(false, map[string]string{"drive-left-outer": "seen: bulge", "drive-left-inner": mate})), inspect.Setup{})
		if n := need(r.Buy[0], "load rating"); n.Least != want[0] || n.Text != "at least "+want[0]+" dual, stamped on its sidewall"+want[1] {
			t.Errorf("beside one with %s: %+v", mate, n)
		}
	}
	// Both of a pair: the second like the first, beside no mate.
	r = placed(t, visittest.Read(t, wheels(false, map[string]string{"drive-left-outer": "seen: bulge", "drive-left-inner": "seen: bulge"})), inspect.Setup{})
	if len(r.Buy) != 2 {
		t.Fatalf("%+v", r.Buy)
	}
	for _, b := range r.Buy {
		if b.Mate == "" && need(b, "load rating").Least != "3755 lb" {
			t.Errorf("%+v", b)
		}
	}
}

func valueOf(r record.Recorded[weight.Length]) weight.Length {
	v, _ := r.Get()
	return v
}

func absLength(d weight.Length) weight.Length { return max(d, -d) }

// TestHousePackCounts: a shop's own rule decides like any other, also one on
// the pressure to set, which rests on all the tires of an axle.
func TestHousePackCounts(t *testing.T) {
	fsys := fstest.MapFS{"house.yaml": {Data: []byte(`
format: 1
pack: house
title: The made-up shop's own rules
rules:
  deep-in-front:
    title: Less than 8/32 in on the steer axle
    subject: tire
    measure: tread
    where: {role: steer}
    at_least: 8/32 in
    action: before_trip
    advice: Move it back.
    source: {grade: invented, title: the made-up shop's handbook}
  room-in-pressure:
    title: Set to all that the tire allows
    subject: tire
    measure: to_set
    where: {role: steer}
    less_than: most_pressure
    action: before_trip
    advice: Fit a tire with room.
    source: {grade: invented, title: the made-up shop's handbook}
`)}}
	for _, name := range packs.Default() {
		data, err := packs.FS().Open(name + ".yaml")
		if err != nil {
			t.Fatal(err)
		}
		info, err := data.Stat()
		if err != nil {
			t.Fatal(err)
		}
		text := make([]byte, info.Size())
		if _, err := data.Read(text); err != nil {
			t.Fatal(err)
		}
		fsys[name+".yaml"] = &fstest.MapFile{Data: text}
	}
	program, err := inspect.CompilePacks(fsys, append(packs.Default(), "house")...)
	if err != nil {
		t.Fatal(err)
	}
	setup := inspect.Setup{Program: program}
	r := placed(t, visittest.Read(t, wheels(false, map[string]string{"steer-left": "tread: 7/32 in", "spare": ""})), setup)
	if moves(r) != "spare>steer-left; steer-left>spare" {
		t.Error(moves(r))
	}
	// 4,110 lb on a tire good for 4,200 at 110 psi wants all 110 by the safe
	// estimate; the stronger tire beside it then has to be set there too.
	weak := "single: 4200 lb at 110 psi"
	r = placed(t, visittest.Read(t, wheels(false, map[string]string{"steer-left": weak, "spare": ""})), setup)
	if moves(r) != "spare>steer-left; steer-left>spare" {
		t.Errorf("%s: %+v", moves(r), r.Broken)
	}
}

// TestRotation: proposed only where it helps (common practice: front to rear
// and side to side, the spare included, if it evens out wear).
func TestRotation(t *testing.T) {
	for _, x := range []struct {
		name   string
		own    map[string]string
		helps  bool
		reason string
	}{
		{"alike", nil, false, "alike enough"},
		{"4/32 in", map[string]string{"steer-left": "tread: 6/32 in"}, false, "alike enough"},
		{"not probed", map[string]string{"steer-left": "-tread-"}, false, "not every tire"},
		{"one side worn", map[string]string{"drive-left-outer": "tread: 6/32 in", "drive-left-inner": "tread: 6/32 in", "steer-left": "tread: 11/32 in", "steer-right": "tread: 11/32 in"}, true, "deeper tires go where most tread went"},
		// The steer axle keeps what tread it has.
		{"only the front is deep", map[string]string{"drive-left-outer": "tread: 6/32 in", "drive-left-inner": "tread: 6/32 in", "drive-right-outer": "tread: 6/32 in", "drive-right-inner": "tread: 6/32 in",
			"steer-left": "tread: 11/32 in", "steer-right": "tread: 11/32 in"}, false, "tread off the steer axle"},
		{"two models", map[string]string{"drive-left-outer": "tread: 5/32 in, model: beta", "drive-left-inner": "tread: 5/32 in"}, false, "what wore faster and what was newer"},
		{"models not recorded", map[string]string{"drive-left-outer": "tread: 5/32 in, -model-", "drive-left-inner": "tread: 5/32 in"}, false, "what wore faster and what was newer"},
	} {
		t.Run(x.name, func(t *testing.T) {
			v := visittest.Read(t, wheels(false, x.own))
			r := placed(t, v, inspect.Setup{})
			rot, ok := r.Rotation.Get()
			if !ok || rot.Helps != x.helps || !strings.Contains(rot.Reason, x.reason) {
				t.Fatalf("%t: %+v, want %t: %s", ok, rot, x.helps, x.reason)
			}
			if (r.Outcome == placement.Rotate) != x.helps || len(r.Moves) > 0 != x.helps {
				t.Errorf("%s: %s", r.Outcome, moves(r))
			}
			for _, l := range r.Places[:2] {
				if now, before := l.Tread, l.FoundTread; x.helps && valueOf(now) < valueOf(before) {
					t.Errorf("%s has %s, had %s", l.At, now, before)
				}
			}
			if x.helps {
				least, _ := rot.Least.Get()
				after, _ := rot.LeastRotated.Get()
				if after <= least || !slices.Contains(rot.Rules, "coach-care/wear-apart") {
					t.Errorf("%+v", rot)
				}
			}
			at := make([]int, 6)
			tr := trial{spots: spots(false, 0), visit: v}
			for i, l := range r.Places {
				at[i] = tr.index(l.Tire)
			}
			if _, ok := tr.score(at); !ok {
				t.Errorf("the rotation breaks a rule: %v", at)
			}
			if err := tr.carryOut(r); err != nil {
				t.Error(err)
			}
		})
	}
	// Where rules decide nothing is said of a rotation.
	r := placed(t, visittest.Read(t, wheels(false, map[string]string{"steer-left": "tread: 1/32 in", "spare": ""})), inspect.Setup{})
	if r.Rotation.Is() {
		t.Errorf("%+v", r.Rotation)
	}
}

// TestRotationHasItsPrice: a rotation that pairs a tire of 2020 with one of 2023 says so.
func TestRotationHasItsPrice(t *testing.T) {
	t.Parallel()
	r := placed(t, visittest.Read(t, wheels(false, map[string]string{"steer-left": "tread: 5/32 in", "steer-right": "tread: 7/32 in", "drive-left-outer": "tread: 12/32 in", "drive-left-inner": "tread: 12/32 in",
		"spare": "tread: 10/32 in, number: 1120"})), inspect.Setup{})
	if r.Outcome != placement.Rotate || !slices.ContainsFunc(r.Price, func(it report.Item) bool { return it.Where == "drive-left" && it.What == "Duals made years apart" }) {
		t.Errorf("%s: %s: price %+v", r.Outcome, moves(r), r.Price)
	}
}

// TestPairThatStaysOne: two duals of two makes that nobody measured are found so; they may
// change ends together, and neither of them beside another tire.
func TestPairThatStaysOne(t *testing.T) {
	t.Parallel()
	left := map[string]string{"drive-left-outer": "rotates: right, model: beta", "drive-left-inner": "rotates: right", "drive-right-outer": "rotates: left", "drive-right-inner": "rotates: left"}
	r := placed(t, visittest.Read(t, wheels(false, left)), inspect.Setup{})
	if len(r.Moves) != 4 || slices.ContainsFunc(r.Moves, func(m placement.WheelMove) bool { return m.Tire[:len("drive-left")] == m.To[:len("drive-left")] }) {
		t.Errorf("%s: %s, not proposed %s", r.Outcome, moves(r), r.NotProposed)
	}
	if !slices.ContainsFunc(r.StillToDo, func(it report.Item) bool { return strings.HasPrefix(it.What, "Duals of two makes") }) {
		t.Errorf("still to do %+v", r.StillToDo)
	}
	// Nor is it news that nobody read the construction of one of them.
	left["drive-left-inner"] = "rotates: right, -construction-"
	r = placed(t, visittest.Read(t, wheels(false, left)), inspect.Setup{})
	if len(r.Moves) != 4 || r.NotProposed != "" || r.NotJudged == 0 {
		t.Errorf("%s, %d not judged: %s, not proposed %s", r.Outcome, r.NotJudged, moves(r), r.NotProposed)
	}
}

// TestRuleOnTheCoach: no move is proposed that breaks a rule on the coach as a whole.
func TestRuleOnTheCoach(t *testing.T) {
	t.Parallel()
	mixed := visittest.Compile(t, `  mixed: {title: Bias and radial tires, subject: coach, measure: mixed_construction, is: no, action: before_trip, advice: A, source: {grade: common practice}}
`)
	text := wheels(false, map[string]string{"steer-left": "seen: [bulge]", "steer-right": "seen: [bulge]", "spare": "construction: bias", "spare-2": "construction: bias"})
	for text, want := range map[string]string{text: "spare>steer-left; spare-2>steer-right", strings.Replace(text, "visit: 1\n", "visit: 1\npacks: [own]\n", 1): ""} {
		r := placed(t, visittest.Read(t, text), inspect.Setup{Beside: []*rules.Program{mixed}})
		if moves(r) != want || strings.Contains(r.NotProposed, "Bias and radial tires") != (want == "") {
			t.Errorf("%s: %s, want %s; not proposed: %s", r.Outcome, moves(r), want, r.NotProposed)
		}
	}
}

// TestRotationAgainstEveryExchange: a rotation leaves as much tread on the most worn tire
// as any exchange of places that keeps the rules and the tread of the steer axle, where
// that is more than 1/32 in.
func TestRotationAgainstEveryExchange(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(3, 20261130))
	helped, borrows := 0, 0
	for n := range 240 {
		own, spares := map[string]string{}, r.IntN(2)
		for _, s := range spots(false, spares) {
			own[s.name] = fmt.Sprintf("tread: %d/32 in", 5+r.IntN(10))
		}
		x := trial{spots: spots(false, spares), visit: visittest.Read(t, wheels(false, own))}
		res := placed(t, x.visit, inspect.Setup{})
		rot, ok := res.Rotation.Get()
		if !ok || !rot.Least.Is() {
			continue // a rule asks for a move, or the treads are alike
		}
		least, most := x.exchanges()
		now, _ := rot.Least.Get()
		if strings.Contains(rot.Reason, "borrow") {
			borrows++
			continue
		}
		if slices.ContainsFunc(res.Steps, func(s placement.Step) bool { return s.Borrowed }) {
			t.Errorf("coach %d: %v: a wheel is borrowed:\n%s", n, own, steps(res))
		}
		if int(now/record.ThirtySecond) != least || rot.Helps != (most > least+1) {
			t.Errorf("coach %d: %v: least %s, helps %t; want %d/32 in, at most %d", n, own, now, rot.Helps, least, most)
		}
		if reached, is := rot.LeastRotated.Get(); is && int(reached/record.ThirtySecond) != most {
			t.Errorf("coach %d: %v: rotated %s, want %d/32 in", n, own, reached, most)
		}
		if rot.Helps {
			helped++
		}
	}
	if helped < 5 {
		t.Errorf("%d rotations only, %d for which a wheel would be borrowed", helped, borrows)
	}
}

// asWornIn reports whether each dual found in a pair that runs in one still runs beside the
// same mate, and the two ends of the steer and of the drive axle are no further apart than
// they were.
func (x trial) asWornIn(at []int) bool {
	apart := func(axle string, of func(p int) int) (d int) {
		for p, s := range x.spots {
			switch n := tread(&x.visit.Tires[of(p)]); {
			case s.axle != axle:
			case s.left:
				d += n
			default:
				d -= n
			}
		}
		return max(d, -d)
	}
	for p, s := range x.spots {
		if s.mate < 0 {
			continue
		}
		if t := at[p]; x.spots[t].mate >= 0 && at[s.mate] != x.spots[t].mate {
			return false
		}
	}
	now, found := func(p int) int { return at[p] }, func(p int) int { return p }
	return apart("steer", now) <= apart("steer", found) && apart("drive", now) <= apart("drive", found)
}

// TestRotationKeepsPairsAndEnds: a rotation that only evens out wear takes no pair apart,
// sets the ends of the steer and drive axles no further apart, and borrows no wheel (common practice).
func TestRotationKeepsPairsAndEnds(t *testing.T) {
	t.Parallel()
	duals := map[string]string{"drive-left-outer": "tread: 13/32 in", "drive-left-inner": "tread: 12/32 in", "drive-right-inner": "tread: 12/32 in", "drive-right-outer": "tread: 13/32 in"}
	for _, tt := range []struct{ left, right, spare, moves string }{
		{"7/32 in", "8/32 in", "14/32 in", ""}, // one pair split: 12 beside 8, at the limit of 4/32
		{"5/32 in", "5/32 in", "14/32 in", ""}, // a pair in front: 5 and 5 against 12 and 13
		{"8/32 in", "8/32 in", "", ""},
		{"5/32 in", "11/32 in", "14/32 in", "spare>steer-left; steer-left>spare"},
	} {
		own := map[string]string{"steer-left": "tread: " + tt.left, "steer-right": "tread: " + tt.right}
		if tt.spare != "" {
			own["spare"] = "tread: " + tt.spare
		}
		for at, tread := range duals {
			own[at] = tread
		}
		r := placed(t, visittest.Read(t, wheels(false, own)), inspect.Setup{})
		if moves(r) != tt.moves || (r.Outcome == placement.Rotate) != (tt.moves != "") {
			rot, _ := r.Rotation.Get()
			t.Errorf("steer %s and %s: %s: %q, want %q: %s", tt.left, tt.right, r.Outcome, moves(r), tt.moves, rot.Reason)
		}
	}
}

// exchanges gives the tread in 32nds that the most worn tire on the road has left after as
// much wear again, where everything stays and after the best exchange of places.
func (x trial) exchanges() (least, most int) {
	at, worn, deepest := make([]int, len(x.spots)), make([]int, len(x.spots)), 0
	for i := range at {
		if at[i] = i; x.spots[i].road() {
			deepest = max(deepest, tread(&x.visit.Tires[i]))
		}
	}
	for i := range worn {
		worn[i] = deepest - tread(&x.visit.Tires[i])
	}
	left := func() int {
		out := deepest
		for p, t := range at {
			if x.spots[p].road() {
				out = min(out, tread(&x.visit.Tires[t])-worn[p])
			}
		}
		return out
	}
	found, _ := x.score(at)
	least = left()
	most = least
	var walk func(k int)
	walk = func(k int) {
		if k == len(at) {
			if s, ok := x.score(at); ok && s.soft <= found.soft && s.low <= found.low && x.asWornIn(at) {
				most = max(most, left())
			}
			return
		}
		for i := k; i < len(at); i++ {
			at[k], at[i] = at[i], at[k]
			walk(k + 1)
			at[k], at[i] = at[i], at[k]
		}
	}
	walk(0)
	return least, most
}

// TestRingWithoutASpare: where wheels change places in a ring and none is
// loose, one is borrowed to stand on.
func TestRingWithoutASpare(t *testing.T) {
	v := visittest.Read(t, wheels(false, map[string]string{"steer-left": "rotates: right", "steer-right": "rotates: left"}))
	r := placed(t, v, inspect.Setup{})
	if !slices.ContainsFunc(r.Steps, func(s placement.Step) bool { return s.Borrowed && s.StandOnly }) {
		t.Errorf("no wheel to stand on:\n%s", steps(r))
	}
	v = visittest.Read(t, wheels(false, map[string]string{"steer-left": "rotates: right", "steer-right": "rotates: left", "spare": ""}))
	r = placed(t, v, inspect.Setup{})
	if slices.ContainsFunc(r.Steps, func(s placement.Step) bool { return s.Borrowed }) {
		t.Errorf("borrowed although there is a spare:\n%s", steps(r))
	}
	if err := (trial{spots: spots(false, 1), visit: v}).carryOut(r); err != nil {
		t.Errorf("%v\n%s", err, steps(r))
	}
}

// TestWhatNoTireMends: an axle over its rating is no reason to move or buy.
func TestWhatNoTireMends(t *testing.T) {
	text := strings.Replace(wheels(false, map[string]string{"spare": ""}), "gawr: 9000 lb", "gawr: 7000 lb", 1)
	r := placed(t, visittest.Read(t, text), inspect.Setup{})
	if r.Outcome != placement.NoMove || len(r.Broken) > 0 || r.NotJudged > 0 {
		t.Errorf("%s: %+v", r.Outcome, r.Broken)
	}
	if !r.Stops || !slices.ContainsFunc(r.Cautions, func(c string) bool { return strings.Contains(c, "does not cure") }) {
		t.Errorf("the axle is over its rating: stops %t, %q", r.Stops, r.Cautions)
	}
}

// TestPlacementForTheTrip: tires are held against the heaviest load there is.
func TestPlacementForTheTrip(t *testing.T) {
	text := wheels(false, map[string]string{"steer-left": "single: 4300 lb at 110 psi, dual: 4000 lb at 110 psi", "spare": ""})
	if r := placed(t, visittest.Read(t, text), inspect.Setup{}); r.Outcome != placement.NoMove {
		t.Errorf("%s: %s", r.Outcome, moves(r))
	}
	text = strings.Replace(text, "placard: 100 psi}\ntires:", "placard: 100 psi, behind_steer: 200 in}\ntires:", 1) + `trip:
  track: 80 in
  stations: [{name: front, behind_steer: 0 in, offset: center}]
  changes: [{name: guests, at: front, add: 400 lb}]
`
	if r := placed(t, visittest.Read(t, text), inspect.Setup{}); moves(r) != "spare>steer-left; steer-left>spare" {
		t.Errorf("%s: %s, %+v", r.Outcome, moves(r), r.Broken)
	}
}

// TestTripTakesNoLoadOffATire: of duals weighed tire by tire the one that carries more
// than half its end still does after a trip's changes.
func TestTripTakesNoLoadOffATire(t *testing.T) {
	text := strings.Replace(wheels(false, map[string]string{"drive-left-inner": "dual: 4200 lb at 110 psi", "spare": ""}), "{load: 7500 lb, on: drive-left}", "{load: 3200 lb, on: drive-left-outer}, {load: 4300 lb, on: drive-left-inner}", 1)
	trip := strings.Replace(text, "placard: 100 psi}\ntires:", "placard: 100 psi, behind_steer: 200 in}\ntires:", 1) + `trip:
  track: 80 in
  stations: [{name: front, behind_steer: 0 in, offset: center}]
  changes: [{name: guests, at: front, add: 10 lb}]
`
	for _, text := range []string{text, trip} {
		r := placed(t, visittest.Read(t, text), inspect.Setup{})
		over := slices.ContainsFunc(r.Broken, func(it report.Item) bool {
			return it.Where == "drive-left-inner" && slices.Contains(it.Rules, "label/tire-capacity")
		})
		if !over || moves(r) != "spare>drive-left-inner; drive-left-inner>spare" {
			t.Errorf("%s: %s, %+v", r.Outcome, moves(r), r.Broken)
		}
	}
}

// TestRotates: the words read back, and no other is taken.
func TestRotates(t *testing.T) {
	for r := record.EitherSide; r <= record.OnRight; r++ {
		text, err := r.MarshalText()
		if err != nil {
			t.Fatal(err)
		}
		var back record.Rotates
		if err := back.UnmarshalText(text); err != nil || back != r {
			t.Errorf("%s: %v, %v", text, back, err)
		}
	}
	if _, err := record.ParseRotates("forward"); !errors.Is(err, record.ErrWord) {
		t.Error(err)
	}
	_, err := record.Read("visit.yaml", []byte("visit: 1\ndate: 2026-10-03\naxles: [{id: steer, fitment: single}]\ntires: [{at: steer-left, rotates: forward, wheel_fits: [steer, everywhere]}]\n"))
	for _, want := range []string{"steer-left.rotates", "steer-left.wheel_fits", "inner", "tag"} {
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("want %s in %v", want, err)
		}
	}
}

// TestWhatIsTakenForGranted: of wheels and arrows only what the visit leaves open.
func TestWhatIsTakenForGranted(t *testing.T) {
	said := func(keys, want string) bool {
		text := wheels(false, nil)
		if keys != "" {
			text = strings.ReplaceAll(text, "{at: ", "{"+keys+", at: ")
		}
		return slices.ContainsFunc(placed(t, visittest.Read(t, text), inspect.Setup{}).Assumptions, func(s string) bool { return strings.Contains(s, want) })
	}
	if !said("", "wheel_fits") || said("wheel_fits: coach", "wheel_fits") {
		t.Error("where wheels fit")
	}
	if !said("", "(rotates)") || said("rotates: either side", "(rotates)") {
		t.Error("how tires turn")
	}
	if !said("", "those weighed") {
		t.Error("loads that were weighed")
	}
	if r := placed(t, visittest.Read(t, strings.Split(wheels(false, nil), "weighing:")[0]), inspect.Setup{}); slices.ContainsFunc(r.Assumptions, func(s string) bool { return strings.Contains(s, "those weighed") }) {
		t.Errorf("nothing was weighed: %q", r.Assumptions)
	}
}

// TestSetIsWhatTheWheelsAllow: also for a shop that has no rule on that. 4,110 lb on
// a tire good for 4,200 at 110 psi wants all 110 by the safe estimate.
func TestSetIsWhatTheWheelsAllow(t *testing.T) {
	program := visittest.Compile(t, `
  bulge: {title: Bulge, subject: tire, measure: bulge, is: no, action: do_not_drive, advice: Replace it., source: {grade: invented, title: the made-up shop's handbook}}
`)
	for wheel, want := range map[string]bool{"6000 lb at 130 psi": true, "6000 lb at 105 psi": false} {
		r := placed(t, visittest.Read(t, wheels(false, map[string]string{"steer-right": "single: 4200 lb at 110 psi, wheel: " + wheel})), inspect.Setup{Program: program})
		if got := slices.ContainsFunc(r.Set, func(s placement.PlacedSetting) bool { return s.Axle == "steer" && s.Set > 105*inflation.PSI }); got != want {
			t.Errorf("a wheel of %s: %+v", wheel, r.Set)
		}
	}
}

// TestNoSizeBesideThisMate: where a shop's rule wants no more than 30 in and the mate
// measures 40, no size of the tire to buy keeps it.
func TestNoSizeBesideThisMate(t *testing.T) {
	program := visittest.Compile(t, `
  bulge: {title: Bulge, subject: tire, measure: bulge, is: no, action: do_not_drive, advice: Replace it., source: {grade: invented, title: the made-up shop's handbook}}
  small: {title: Too large, subject: dual_pair, measure: diameter, at_most: 30 in, action: before_trip, advice: Buy others., source: {grade: invented, title: the made-up shop's handbook}}
`)
	r := placed(t, visittest.Read(t, wheels(false, map[string]string{"drive-left-outer": "seen: bulge", "drive-left-inner": "diameter: 40 in"})), inspect.Setup{Program: program})
	if len(r.Buy) != 1 {
		t.Fatalf("%+v", r.Buy)
	}
	for _, n := range r.Buy[0].Needs {
		if n.What == "diameter" && n.Least == "" && strings.HasPrefix(n.Text, "none keeps the rules") && slices.Equal(n.Rules, []string{"own/small"}) {
			return
		}
	}
	t.Errorf("%+v", r.Buy[0].Needs)
}

// TestTowedTiresStay: the towed unit's tires are no part of it.
func TestTowedTiresStay(t *testing.T) {
	text := strings.Replace(wheels(false, nil), "tires:\n", "  - {id: dolly, fitment: single, towed: yes}\ntires:\n  - {at: dolly-left, tread: 1/32 in, size: AX195/75R14}\n", 1)
	r := placed(t, visittest.Read(t, text), inspect.Setup{})
	if r.Outcome != placement.NoMove || len(r.Places) != 6 || len(r.Out) != 0 {
		t.Errorf("%s, %d places, out %+v", r.Outcome, len(r.Places), r.Out)
	}
	if !slices.ContainsFunc(r.Assumptions, func(s string) bool { return strings.Contains(s, "towed") }) {
		t.Errorf("%q", r.Assumptions)
	}
}

// TestDemosArePlaced: every visit among the demos comes out, and its steps can
// be carried out.
func TestDemosArePlaced(t *testing.T) {
	for _, name := range []string{"demo/visit", "wheels/pair", "wheels/tag"} {
		data, err := os.ReadFile("../../examples/" + name + ".yaml")
		if err != nil {
			t.Fatal(err)
		}
		v := visittest.Read(t, string(data))
		r, err := placement.Find(context.Background(), v, inspect.Setup{})
		if err != nil {
			t.Fatal(err)
		}
		if err := (trial{spots: spots(len(v.Axles) > 2, 1), visit: v}).carryOut(r); err != nil {
			t.Errorf("%s: %v\n%s", name, err, steps(r))
		}
	}
}

// TestInsideOfAPair: which tire belongs inside is said of a pair as found, too.
func TestInsideOfAPair(t *testing.T) {
	for _, x := range []struct {
		outer, inner  string
		inside, words string
	}{
		{"tread: 8/32 in", "tread: 10/32 in", "drive-left-outer", "less tread"},
		{"tread: 10/32 in", "tread: 8/32 in", "drive-left-inner", "less tread"},
		{"tread: 10/32 in", "tread: 10/32 in", "", "either may run inside"},
		{"tread: 10/32 in, model: beta", "tread: 8/32 in", "", "two models"},
		{"tread: 10/32 in, -model-", "tread: 8/32 in", "drive-left-inner", "which is not recorded"},
		{"diameter: 40.2 in", "diameter: 40.3 in", "drive-left-outer", "measures smaller: the larger"},
		{"tread: 5/32 in", "tread: 10/32 in", "", "split the pair"},
		{"diameter: 40.2 in", "diameter: 40.8 in", "", "split the pair"},
		{"size: AX225/75R20", "tread: 8/32 in", "", "split the pair"},
		{"diameter: 40.2 in, tread: 12/32 in", "diameter: 40.3 in", "drive-left-outer", "the measured size decides"},
		{"circumference: 126 in", "circumference: 126.5 in", "drive-left-outer", "measures smaller"},
		{"diameter: 40.2 in, tread: 9/32 in", "diameter: 40.2 in", "drive-left-outer", "less tread"},
		{"-tread-", "tread: 8/32 in", "", "not known"},
	} {
		r := visittest.Assess(t, visittest.Read(t, wheels(false, map[string]string{"drive-left-outer": x.outer, "drive-left-inner": x.inner})))
		p := r.Pairs[0]
		if p.Inside != x.inside || !strings.Contains(p.InsideBy, x.words) {
			t.Errorf("outer %s, inner %s: %q: %s", x.outer, x.inner, p.Inside, p.InsideBy)
		}
	}
}

// TestAxleKeepsItsSize: no tire goes where none of its size was found, though
// it would leave every axle with one size: what the placard wants there the
// visit does not say.
func TestAxleKeepsItsSize(t *testing.T) {
	t.Parallel()
	v, err := record.Read("v.yaml", []byte(`
visit: 1
date: 2026-10-03
axles: [{id: steer, fitment: single}, {id: drive, fitment: single}]
every_tire: {class: truck, construction: radial, single: 4940 lb at 110 psi, last_set: 100 psi, seen: nothing}
tires:
  - {at: steer-left, size: AX240/75R20, found: 100 psi, tread: 3/32 in, number: 2223}
  - {at: steer-right, size: AX240/75R20, found: 100 psi, tread: 3/32 in, number: 2223}
  - {at: drive-left, size: AX260/70R20, found: 100 psi, tread: 12/32 in, number: 2223}
  - {at: drive-right, size: AX260/70R20, found: 100 psi, tread: 12/32 in, number: 2223}
  - {at: spare, size: AX240/75R20, found: 100 psi, tread: 10/32 in, number: 2223}
  - {at: spare-2, size: AX260/70R20, found: 100 psi, tread: 14/32 in, number: 2223}
`))
	if err != nil {
		t.Fatal(err)
	}
	r := placed(t, v, inspect.Setup{})
	if r.Outcome != placement.Buy || len(r.Buy) != 1 || r.Buy[0].Size != "AX240/75R20" {
		t.Fatalf("%s (not proposed: %s), to buy: %+v", r.Outcome, r.NotProposed, r.Buy)
	}
	for _, p := range r.Places {
		if p.At == "steer-left" || p.At == "steer-right" {
			if p.Tire != "spare" && p.Tire != "" {
				t.Errorf("%s runs at %s", p.Tire, p.At)
			}
		}
	}
	if !slices.ContainsFunc(r.Assumptions, func(a string) bool { return strings.Contains(a, "keeps the size") }) {
		t.Errorf("nothing says that axles keep their sizes: %q", r.Assumptions)
	}
}

// TestMetricTireToBuy: a metric visit is answered in its own units, to the
// stricter side: 4/32 in is 3.175 mm, 9 mm less that is 5.825 (NIST SP 811);
// duals within 12.7 mm of diameter from 40 to 50 in (TM 9-2610-200-14, table
// 2-1), the larger outside.
func TestMetricTireToBuy(t *testing.T) {
	t.Parallel()
	r := placed(t, visittest.Read(t, `
visit: 1
date: 2026-10-03
units: metric
axles: [{id: steer, fitment: single, gawr: 4000 kg, placard: 690 kPa}, {id: drive, fitment: dual, placard: 690 kPa}]
every_tire: {size: AX255/70R21, class: truck, construction: radial, single: 2240 kg at 760 kPa, dual: 2060 kg at 760 kPa, seen: nothing, last_set: 690 kPa}
tires:
  - {at: steer-left, found: 690 kPa, seen: bulge, number: 2223}
  - {at: steer-right, found: 690 kPa, tread: 9 mm, number: 2223}
  - {at: drive-left-outer, found: 690 kPa, seen: bulge, number: 2223}
  - {at: drive-left-inner, found: 690 kPa, tread: 9 mm, diameter: 1030 mm, number: 2223}
  - {at: drive-right-inner, found: 690 kPa, tread: 9 mm, number: 2223}
  - {at: drive-right-outer, found: 690 kPa, tread: 9 mm, number: 2223}
`), inspect.Setup{})
	got := map[string]placement.TireNeed{}
	for _, b := range r.Buy {
		for _, n := range b.Needs {
			got[b.At+" "+n.What] = n
		}
	}
	for what, want := range map[string][2]string{
		"steer-left tread":          {"3.5 mm", ""},
		"drive-left-outer tread":    {"9 mm", "12 mm"},
		"drive-left-outer diameter": {"1030 mm", "1042 mm"},
	} {
		if n := got[what]; n.Least != want[0] || n.Most != want[1] || !strings.Contains(n.Text, want[0]) || !strings.Contains(n.Text, want[1]) {
			t.Errorf("%s: %+v, want %q", what, n, want)
		}
	}
	// Its rating follows from the axle's alone: nobody weighed the end.
	if n := got["steer-left load rating"]; n.Least != "2240 kg" || !strings.Contains(n.Text, "not weighed: no less than the tires beside it") {
		t.Errorf("%+v", n)
	}
}

// TestPlacedEstimateIsMarked: a pressure that no table stands behind says so.
func TestPlacedEstimateIsMarked(t *testing.T) {
	t.Parallel()
	text := wheels(false, nil)
	r := placed(t, visittest.Read(t, text), inspect.Setup{})
	if len(r.Set) == 0 || !r.Set[0].Estimated {
		t.Errorf("%+v", r.Set)
	}
}

// TestAirComesOutFirst: out of a tire that ran low, its mate, and one that is
// damaged, before the wheel comes off (29 CFR 1910.177(f); its clause on damage
// from memory); out of no other.
func TestAirComesOutFirst(t *testing.T) {
	t.Parallel()
	for own, want := range map[string]bool{
		"seen: bulge": true, "seen: exposed cord": true, "seen: separation": true, "seen: zipper signs": true, "seen: cut to the cord": true, "seen: bead damage": true,
		"seen: cracked wheel": true, "found: 60 psi": true,
		"tread: 1/32 in": false, "seen: boot": false,
	} {
		r := placed(t, visittest.Read(t, wheels(false, map[string]string{"steer-left": own})), inspect.Setup{})
		off := false
		for _, s := range r.Steps {
			if s.Do == placement.TakeOff && s.Tire == "steer-left" {
				if off = true; s.NoAir != want {
					t.Errorf("%s: %+v", own, s)
				}
			}
		}
		if !off {
			t.Errorf("%s: its wheel stays on: %+v", own, r.Steps)
		}
		if said := slices.ContainsFunc(r.Cautions, func(c string) bool { return strings.Contains(c, "through the valve core before") }); said != want {
			t.Errorf("%s: %q", own, r.Cautions)
		}
	}
}

// TestSharingIsNoPartOfAPlace: how duals share their load is weighed as they were
// found and set; a shop's rule on it says nothing of where tires go.
func TestSharingIsNoPartOfAPlace(t *testing.T) {
	t.Parallel()
	program := visittest.Compile(t, `
  share: {title: Share, subject: dual_pair, measure: heavier_tire, where: {same_construction: yes}, at_most: 55 % of load, action: before_trip, advice: A, source: {grade: computed}}
`)
	v := visittest.Read(t, "visit: 1\ndate: 2026-10-03\n"+twoAxles+`
every_tire: {class: truck, construction: radial, dual: 4540 lb at 110 psi, last_set: 90 psi}
tires: [{at: drive-left-outer, found: 90 psi}, {at: drive-left-inner, found: 90 psi}]
weighing: {as_driven: all, tolerance: 20 lb, readings: [{load: 3300 lb, on: drive-left-outer}, {load: 4600 lb, on: drive-left-inner}]}
`)
	setup := inspect.Setup{Program: program}
	if r, err := inspect.Assess(v, setup); err != nil || len(r.Todo) != 1 {
		t.Errorf("%+v, %v: want the share told of", r.Todo, err)
	}
	if r := placed(t, v, setup); r.Outcome != placement.NoMove || len(r.Broken)+len(r.Buy) > 0 {
		t.Errorf("%s, broken %+v, to buy %+v", r.Outcome, r.Broken, r.Buy)
	}
}

// TestPairRuleOnAnEndsLoad: a shop's rule may ask of a pair what its end carries
// together with what the two are; the same pair then keeps it at one end and not
// at another.
func TestPairRuleOnAnEndsLoad(t *testing.T) {
	t.Parallel()
	program := visittest.Compile(t, `
  heavy: {title: A radial pair under too much, subject: dual_pair, measure: load, where: {same_construction: yes}, at_most: 6000 lb, action: before_trip, advice: A, source: {grade: computed}}
`)
	v := visittest.Read(t, "visit: 1\ndate: 2026-10-03\n"+twoAxles+`
every_tire: {class: truck, dual: 4540 lb at 110 psi, last_set: 90 psi}
tires:
  - {at: drive-left-outer, construction: radial}
  - {at: drive-left-inner, construction: radial}
  - {at: drive-right-outer, construction: radial}
  - {at: drive-right-inner, construction: bias}
weighing: {as_driven: all, tolerance: 20 lb, readings: [{load: 3950 lb, on: drive-left-outer}, {load: 3950 lb, on: drive-left-inner}, {load: 2500 lb, on: drive-right-outer}, {load: 2500 lb, on: drive-right-inner}]}
`)
	r := placed(t, v, inspect.Setup{Program: program})
	if r.Outcome != placement.MoveWheels || len(r.Moves) == 0 || len(r.Buy) > 0 {
		t.Errorf("%s, %d moves, to buy %+v: want the mixed pair under the heavier end", r.Outcome, len(r.Moves), r.Buy)
	}
}

// twoAxles is a coach with duals behind.
const twoAxles = "axles: [{id: steer, fitment: single, placard: 100 psi}, {id: drive, fitment: dual, placard: 90 psi}]\n"

// TestSpareIsInspectedFirst: a spare that was low, old, not read or not looked
// over is seen by trained people before it goes on the road (common practice).
func TestSpareIsInspectedFirst(t *testing.T) {
	t.Parallel()
	for spare, want := range map[string]bool{
		"tread: 10/32 in":  false,
		"number: \"2219\"": true, // 7 years
		"found: 70 psi":    true,
		"-found-":          true,
		"-seen-":           true,
		"-tread-":          true,
		"-number-":         true,
	} {
		r := placed(t, visittest.Read(t, wheels(false, map[string]string{"steer-left": "seen: exposed cord", "spare": spare})), inspect.Setup{})
		i := slices.IndexFunc(r.Steps, func(s placement.Step) bool { return s.Do == placement.FetchSpare })
		if i < 0 || r.Steps[i].InspectFirst != want {
			t.Errorf("%s: want inspect first %t in %+v", spare, want, r.Steps)
		}
	}
}

// TestTireThatWasReadComesOntoTheSteerAxle: a spare of which something was not read runs
// beside a dual, and the dual that was read in front (common practice: the best known
// tires steer). It goes in front only where nothing else can; and no tire leaves the
// steer axle because something of it was not read.
func TestTireThatWasReadComesOntoTheSteerAxle(t *testing.T) {
	t.Parallel()
	const front, beside = "spare>steer-left", "drive-left-outer>steer-left; spare>drive-left-outer"
	for spare, want := range map[string]string{
		"": front, "-tread-": beside, "-number-": beside, "-seen-": beside, "-found-": beside,
		"-tread-, -number-, -seen-, -found-": beside,
		"-tread-, model: beta":               front, // beside no dual that nobody measured
	} {
		r := placed(t, visittest.Read(t, wheels(false, map[string]string{"steer-left": "seen: bulge", "spare": spare})), inspect.Setup{})
		if moves(r) != want || r.Outcome != placement.MoveWheels {
			t.Errorf("spare %q: %s, moves %q, want %q", spare, r.Outcome, moves(r), want)
		}
		first := slices.ContainsFunc(r.Steps, func(s placement.Step) bool { return s.Do == placement.FetchSpare && s.InspectFirst })
		if first != (spare != "") {
			t.Errorf("spare %q: inspect first %t in %+v", spare, first, r.Steps)
		}
	}
	for _, own := range []string{"-tread-", "-number-", "-seen-", "-found-"} {
		r := placed(t, visittest.Read(t, wheels(false, map[string]string{"steer-left": own, "spare": ""})), inspect.Setup{})
		if r.Outcome != placement.NoMove || moves(r) != "" {
			t.Errorf("steer-left %q: %s, moves %q", own, r.Outcome, moves(r))
		}
	}
}

// TestSpareThatRanLowGoesNowhere: a spare known to have been on the road at 80 % or less,
// or read at 0, is out like any tire that ran low (29 CFR 1910.177(f)(2)(i); common
// practice), and stops no coach. One that only lost air on its carrier goes on once
// trained people looked at it, and one with a hole or a plug runs beside a dual.
func TestSpareThatRanLowGoesNowhere(t *testing.T) {
	t.Parallel()
	const front, beside = "spare>steer-left", "drive-left-outer>steer-left; spare>drive-left-outer"
	for spare, want := range map[string]string{
		"driven_since: yes, found: 60 psi":           "",
		"driven_since: yes, found: 80 psi":           "",
		"lowest: 70 psi, found: 70 psi":              "",
		"lowest: 70 psi":                             "", // aired up since
		"read_zero: yes":                             "",
		"driven_since: no, found: 0 psi":             "",
		"found: 0 psi":                               "",
		"driven_since: yes, found: 90 psi":           front,
		"driven_since: no, found: 60 psi":            front, // it stood
		"driven_since: no, found: 40 psi":            front,
		"found: 60 psi":                              front, // nobody knows
		"lowest: 95 psi, found: 60 psi":              front,
		"seen: nail or object":                       beside,
		"seen: plugged on the wheel":                 beside,
		"seen: nail or object, model: beta":          front,
		"seen: plugged on the wheel, tread: 3/32 in": "", // 7/32 in beside any dual
	} {
		r := placed(t, visittest.Read(t, wheels(false, map[string]string{"steer-left": "seen: bulge", "spare": spare})), inspect.Setup{})
		if moves(r) != want || (r.Outcome == placement.Buy) != (want == "") {
			t.Errorf("spare %q: %s, moves %q, want %q", spare, r.Outcome, moves(r), want)
		}
		out := slices.ContainsFunc(r.Out, func(o placement.TireTakenOff) bool { return o.Tire == "spare" && o.Stops && o.NoAir && len(o.Why) > 0 })
		if ran := want == "" && !strings.Contains(spare, "seen"); out != ran {
			t.Errorf("spare %q: out %t, want %t: %+v", spare, out, ran, r.Out)
		}
		alone := placed(t, visittest.Read(t, wheels(false, map[string]string{"spare": spare})), inspect.Setup{})
		if alone.Stops || alone.Outcome != placement.NoMove {
			t.Errorf("spare %q on a sound coach: %s, stops %t", spare, alone.Outcome, alone.Stops)
		}
	}
}

// TestTireAtItsLimitIsSaid: a tire comes onto the steer axle with 4/32 in, the least
// there (49 CFR 393.75(b)), only with a word of how long it may stay.
func TestTireAtItsLimitIsSaid(t *testing.T) {
	t.Parallel()
	for _, x := range []struct {
		own  map[string]string
		want string // what is said, empty for nothing
	}{
		{map[string]string{"steer-left": "seen: bulge", "spare": "tread: 4/32 in"}, "The tire from spare has 4/32 in of tread left, hardly more than is wanted at steer-left"},
		{map[string]string{"steer-left": "seen: bulge", "spare": "tread: 9/64 in"}, "The tire from spare has 9/64 in of tread left"},
		{map[string]string{"steer-left": "seen: bulge", "spare": "tread: 5/32 in"}, ""},
		{map[string]string{"drive-left-outer": "tread: 4/32 in"}, "The tire from drive-left-outer has 4/32 in of tread left, hardly more than is wanted at steer-right"},
		{map[string]string{"steer-left": "tread: 4/32 in"}, ""},                                             // it stays where it is
		{map[string]string{"drive-left-outer": "tread: 3/32 in", "drive-left-inner": "tread: 2/32 in"}, ""}, // they stay, turned about
	} {
		r := placed(t, visittest.Read(t, wheels(false, x.own)), inspect.Setup{})
		said := ""
		for _, c := range r.Cautions {
			if strings.Contains(c, "of tread left") {
				said += c
			}
		}
		if (said == "") != (x.want == "") || !strings.HasPrefix(said, x.want) {
			t.Errorf("%v: moves %q, %q, want %q", x.own, moves(r), said, x.want)
		}
	}
}
