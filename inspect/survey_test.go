package inspect_test

import (
	"errors"
	"slices"
	"strings"
	"testing"

	"axleend.example/inspect"
	"axleend.example/inspect/placement"
	"axleend.example/inspect/record"
	"axleend.example/inspect/record/condition"
	"axleend.example/inspect/report"
	"axleend.example/rules"
	"axleend.example/weight"
)

// surveyed is an invented coach of which only pressures matter.
func surveyed(t *testing.T, head, tires string) report.Report {
	t.Helper()
	return assessed(t, "visit: 1\ndate: 2026-10-03\n"+head+`
every_tire: {class: truck, single: 4940 lb at 110 psi, dual: 4540 lb at 110 psi, wheel: 5000 lb at 120 psi, seen: nothing}
tires:
`+tires)
}

const (
	surveyAxles = "axles: [{id: steer, fitment: single, placard: 100 psi}, {id: drive, fitment: dual, placard: 90 psi}]\n"
	surveyTires = `
  - {at: drive-left-outer, last_set: 90 psi, found: 90 psi}
  - {at: drive-left-inner, last_set: 90 psi, found: 90 psi}
  - {at: drive-right-inner, last_set: 90 psi, found: 90 psi}
`
)

// todoAt finds what one rule asks for at a place.
func todoAt(r report.Report, rule, where string) (report.Item, bool) {
	i := slices.IndexFunc(r.Todo, func(it report.Item) bool { return it.Where == where && slices.Contains(it.Rules, rule) })
	if i < 0 {
		return report.Item{}, false
	}
	return r.Todo[i], true
}

func gapsAt(r report.Report, where string) (needs []string) {
	for _, g := range r.Unjudged {
		if g.Where == where {
			needs = append(needs, g.Need)
		}
	}
	return needs
}

// TestSpareIsSurveyedToo: a spare at 80 % of its pressure or less is of no use
// on the road. It is judged by what it was last set to, else by the highest
// that any axle of the coach is set to: here the placard's 100 psi (common
// practice).
func TestSpareIsSurveyedToo(t *testing.T) {
	t.Parallel()
	for _, x := range []struct {
		spare string
		low   bool
		gap   string
	}{
		{"found: 0 psi", true, ""},
		{"found: 80 psi", true, ""},
		{"found: 80.5 psi", false, ""},
		{"found: 66 psi, last_set: 80 psi", false, ""},
		{"found: 64 psi, last_set: 80 psi", true, ""},
		{"found: 0 psi, read_at: extension", false, "a 0 through an extension"},
		{"found: 90 psi, in_sun: yes", false, "once it is cold and in the shade"},
		{"tread: 9/32 in", false, "its cold pressure"},
	} {
		r := surveyed(t, surveyAxles, "  - {at: spare, "+x.spare+"}\n")
		it, low := todoAt(r, "coach-care/spare-low", "spare")
		if low != x.low || low && (it.Action != report.BeforeTrip || it.Stops || it.WheelOff) {
			t.Errorf("%s: low %t, want %t: %+v", x.spare, low, x.low, it)
		}
		gap := slices.ContainsFunc(gapsAt(r, "spare"), func(n string) bool { return strings.Contains(n, "pressure") && strings.Contains(n, x.gap) })
		if gap != (x.gap != "") {
			t.Errorf("%s: missing %q", x.spare, gapsAt(r, "spare"))
		}
	}
	// Each by the axles of its own size, and never above what it allows itself.
	const sizes = "axles: [{id: steer, fitment: single, placard: 100 psi}, {id: car, fitment: single, towed: yes, placard: 33 psi}]\n"
	for _, x := range []struct {
		spare string
		low   bool
	}{
		{"size: AX195/65R13, single: 1235 lb at 44 psi, found: 33 psi", false},
		{"size: AX195/65R13, single: 1235 lb at 44 psi, found: 26 psi", true},
		{"size: AX240/75R20, found: 33 psi", true},
		{"size: AX240/75R20, single: 3000 lb at 80 psi, found: 65 psi", false},
		{"size: AX240/75R20, single: 3000 lb at 80 psi, found: 64 psi", true},
		{"size: AX999/75R20, found: 33 psi", true}, // of no axle's size: its stamps say what it is kept at
	} {
		r := surveyed(t, sizes, "  - {at: steer-left, size: AX240/75R20}\n  - {at: steer-right, size: AX240/75R20}\n  - {at: car-left, size: AX195/65R13}\n  - {at: spare, "+x.spare+"}\n")
		if _, low := todoAt(r, "coach-care/spare-low", "spare"); low != x.low {
			t.Errorf("%s: low %t, want %t", x.spare, low, x.low)
		}
	}
	car := strings.Replace(surveyAxles, "]\n", ", {id: car, fitment: single, towed: yes, placard: 120 psi}]\n", 1)
	if _, low := todoAt(surveyed(t, car, "  - {at: spare, found: 90 psi}\n  - {at: car-left, found: 120 psi}\n"), "coach-care/spare-low", "spare"); low {
		t.Error("the spare is judged by a towed unit's pressure")
	}
}

// TestBothDualsFlat: each ran low by itself, so of neither is it said that it
// carried the whole end for the other.
func TestBothDualsFlat(t *testing.T) {
	t.Parallel()
	tires := strings.ReplaceAll(surveyTires, "found: 90 psi", "found: 60 psi")
	r := surveyed(t, surveyAxles, tires+"  - {at: drive-right-outer, last_set: 90 psi, read_at: not reached}\n")
	for _, at := range []string{"drive-left-outer", "drive-left-inner"} {
		if _, ok := todoAt(r, "coach-care/run-low-last-set", at); !ok {
			t.Errorf("%s is no flat", at)
		}
		if it, ok := todoAt(r, "coach-care/mate-run-low", at); ok {
			t.Errorf("%s: %s", at, it.What)
		}
	}
	if _, ok := todoAt(r, "coach-care/mate-run-low", "drive-right-outer"); !ok {
		t.Error("the mate of a flat, not read itself, goes free")
	}
}

// TestFlatByAnyReadingGoesWithTheSameCaution: also a tire that is flat while hot,
// or after air was added, is deflated through its core before its wheel comes
// off (29 CFR 1910.177(f), as guidance); and of a condemned tire nobody has to
// find out how low it was.
func TestFlatByAnyReadingGoesWithTheSameCaution(t *testing.T) {
	t.Parallel()
	for _, flat := range []string{"found: 70 psi", "found: 70 psi, hot: yes", "found: 70 psi, air_added: yes"} {
		r := surveyed(t, surveyAxles, "  - {at: steer-left, last_set: 100 psi, "+flat+"}\n  - {at: steer-right, last_set: 100 psi, found: 100 psi, air_added: yes}\n")
		said := false
		for _, it := range r.Todo {
			said = said || it.Where == "steer-left" && it.Stops && strings.Contains(it.Advice, "through the valve core")
		}
		if !said {
			t.Errorf("%s: nothing says how it comes off: %+v", flat, r.Todo)
		}
		if needs := gapsAt(r, "steer-left"); slices.ContainsFunc(needs, func(n string) bool { return strings.Contains(n, "lowest pressure") }) {
			t.Errorf("%s: condemned, yet missing %q", flat, needs)
		}
		if needs := gapsAt(r, "steer-right"); !slices.ContainsFunc(needs, func(n string) bool { return strings.Contains(n, "lowest pressure") }) {
			t.Errorf("%s: its mate on the axle lacks %q only", flat, needs)
		}
	}
}

// TestSpreadOfOnePairIsSaidOnce: where the axle's tires are apart by what one of
// its pairs is, the pair says it; where they are further apart, the axle does,
// too (common practice).
func TestSpreadOfOnePairIsSaidOnce(t *testing.T) {
	t.Parallel()
	for _, x := range []struct {
		inner, right string
		pair, axle   bool
	}{
		{"81 psi", "90 psi", true, false},
		{"83 psi", "81 psi", true, true},
		{"90 psi", "83 psi", false, true},
		{"88 psi", "86 psi", false, false},
	} {
		r := surveyed(t, surveyAxles, `
  - {at: drive-left-outer, last_set: 90 psi, found: 90 psi}
  - {at: drive-left-inner, last_set: 90 psi, found: `+x.inner+`}
  - {at: drive-right-inner, last_set: 90 psi, found: `+x.right+`}
  - {at: drive-right-outer, last_set: 90 psi, found: `+x.right+"}\n")
		_, pair := todoAt(r, "coach-care/pair-found-apart", "drive-left")
		_, axle := todoAt(r, "coach-care/found-spread", "drive")
		if pair != x.pair || axle != x.axle {
			t.Errorf("inner %s, right %s: said of the pair %t, of the axle %t; want %t, %t", x.inner, x.right, pair, axle, x.pair, x.axle)
		}
	}
}

// TestSpreadOfThoseThatWereRead: one valve that nobody could reach does not hide
// that the others of its axle are far apart.
func TestSpreadOfThoseThatWereRead(t *testing.T) {
	t.Parallel()
	for _, x := range []struct {
		outer, inner, right string // what was found and left; the fourth was not reached
		found, left         bool
	}{
		{"found: 90 psi, left: 90 psi", "found: 90 psi, left: 90 psi", "found: 80 psi, left: 90 psi", true, false},
		{"found: 90 psi, left: 90 psi", "found: 90 psi, left: 90 psi", "found: 88 psi, left: 85 psi", false, true},
		{"found: 90 psi, left: 90 psi", "found: 80 psi, left: 90 psi", "found: 90 psi, left: 90 psi", false, false}, // the pair says it
		{"found: 90 psi, left: 90 psi", "read_at: not reached", "read_at: not reached", false, false},
	} {
		r := surveyed(t, surveyAxles, "  - {at: drive-left-outer, last_set: 90 psi, "+x.outer+"}\n  - {at: drive-left-inner, last_set: 90 psi, "+x.inner+
			"}\n  - {at: drive-right-outer, last_set: 90 psi, "+x.right+"}\n  - {at: drive-right-inner, last_set: 90 psi, read_at: not reached}\n")
		_, found := todoAt(r, "coach-care/found-spread-of-some", "drive")
		_, left := todoAt(r, "coach-care/equal-among-some", "drive")
		if found != x.found || left != x.left {
			t.Errorf("%s; %s; %s: found apart %t, left apart %t", x.outer, x.inner, x.right, found, left)
		}
	}
}

// TestMissingTableIsNamedAlone where the sidewall was read, or its class has no
// estimate: nobody is sent to read again what stands in the visit.
func TestMissingTableIsNamedAlone(t *testing.T) {
	t.Parallel()
	for _, x := range []struct {
		own   string
		stamp bool // the sidewall would do as well
	}{
		{"class: passenger, single: 1235 lb at 44 psi", false},
		{"class: trailer, single: 1235 lb at 50 psi", false},
		{"class: truck, single: 4940 lb at 110 psi", false}, // 40 psi is below any estimate
		{"class: truck", true},
		{"class: light truck, single: not read", true},
	} {
		r := assessed(t, "visit: 1\ndate: 2026-10-03\naxles: [{id: steer, fitment: single, placard: 40 psi}]\nweighing: {scale: pads, tolerance: 0 lb, readings: [{load: 900 lb, on: steer-left}]}\n"+
			"tires: [{at: steer-left, found: 40 psi, "+x.own+"}]\n")
		n := 0
		for _, need := range gapsAt(r, "steer-left") {
			if strings.Contains(need, "reaches down to the pressure") {
				n++
				if got := strings.Contains(need, "sidewall"); got != x.stamp {
					t.Errorf("%s: %q", x.own, need)
				}
			}
		}
		if n != 1 {
			t.Errorf("%s: %q", x.own, gapsAt(r, "steer-left"))
		}
	}
}

// TestUnknownConditionIsHelped: a word that is part of a condition's name, or
// nearly one, is answered with it.
func TestUnknownConditionIsHelped(t *testing.T) {
	t.Parallel()
	for text, want := range map[string]string{
		"nail": `did you mean "nail or object"?`, "bulg": `did you mean "bulge"?`, "block": `did you mean "alone on a block" or "narrow block"?`,
		"xx": "packs measures", "": "packs measures",
	} {
		if _, err := condition.Parse(text); !errors.Is(err, condition.ErrUnknown) || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v, want %s", text, err, want)
		}
	}
}

// TestGapNamesTheAxle whatever its id holds.
func TestGapNamesTheAxle(t *testing.T) {
	t.Parallel()
	r := assessed(t, "visit: 1\ndate: 2026-10-03\naxles: [{id: a-leftover, fitment: single}]\ntires: [{at: a-leftover-left}]\n")
	if needs := gapsAt(r, "a-leftover"); !slices.ContainsFunc(needs, func(n string) bool { return strings.Contains(n, "GAWR") }) {
		t.Errorf("the axle lacks %q", needs)
	}
	for _, g := range r.Unjudged {
		if g.Where == "a" {
			t.Errorf("no place of this coach: %+v", g)
		}
	}
}

// TestSpareStopsNothing: what is wrong with a spare is to be put right before the
// trip, since it carries nothing until then; on a wheel position it stops the
// coach (common practice).
func TestSpareStopsNothing(t *testing.T) {
	t.Parallel()
	for at, stops := range map[string]bool{"spare": false, "spare-2": false, "steer-left": true} {
		text := "visit: 1\ndate: 2026-10-03\n" + surveyAxles + "tires: [{at: " + at + ", last_set: 100 psi, found: 100 psi, seen: [bulge, cracked wheel]}]\n"
		r := assessed(t, text)
		it, ok := todoAt(r, "coach-care/seen-bulge", at)
		want := report.BeforeTrip
		if stops {
			want = report.DoNotDrive
		}
		if !ok || it.Action != want || it.Stops != stops || r.Drive.Stops() != stops || worst(r) != want {
			t.Errorf("%s: %+v, the report %s, stops %t", at, it, worst(r), r.Drive.Stops())
		}
		v, err := record.Read("v.yaml", []byte(text))
		if err != nil {
			t.Fatal(err)
		}
		if p, err := placement.Find(t.Context(), v, inspect.Setup{}); err != nil || p.Stops != stops {
			t.Errorf("%s: placement stops %t", at, p.Stops)
		}
	}
}

// TestHowAWheelComesOffIsNoWorseThanWhy: what to heed with a wheel off is said
// with the weight of what takes it off.
func TestHowAWheelComesOffIsNoWorseThanWhy(t *testing.T) {
	t.Parallel()
	for tire, worst := range map[string]report.Action{
		"crack_depth: 3/64 in":                        report.Plan,
		"crack_depth: 3/64 in, seen: bead cracks":     report.BeforeTrip,
		"seen: bulge":                                 report.DoNotDrive,
		"found: 90 psi, seen: [missing cap, cupping]": report.Plan,
	} {
		r := surveyed(t, surveyAxles, "  - {at: drive-left-outer, last_set: 90 psi, "+tire+"}\n")
		_, soon := todoAt(r, "coach-care/wheel-off", "coach")
		_, later := todoAt(r, "coach-care/wheel-off-later", "coach")
		of := report.Action("")
		for _, it := range r.Todo { // the worst first
			if it.Where == "drive-left-outer" && of == "" && it.Action != "" && !asksToRead(it) {
				of = it.Action
			}
		}
		off := slices.ContainsFunc(r.Todo, func(it report.Item) bool { return it.WheelOff })
		if of != worst || soon != (off && worst != report.Plan) || later != (off && worst == report.Plan) {
			t.Errorf("%s: %s, soon %t, later %t, a wheel off %t", tire, worst, soon, later, off)
		}
	}
}

// TestCasingOfARetread: its date is that of the retreading, the casing is older,
// and nobody knows by how much unless its own number is read (49 CFR 574.5;
// common practice).
func TestCasingOfARetread(t *testing.T) {
	t.Parallel()
	for _, x := range []struct {
		own    string
		gap    string
		tooOld bool
	}{
		{"retread: yes, number: 1AX2223", "its casing's own number", false},
		{"retread: yes, number: 1AXT1AAAA2223", "its casing's own number", false},
		{"retread: yes, number: 1AX2223, other_number: XAX1", "its casing's own number", false},
		{"number: 1AX2223", "whether it is a retread", false},
		{"retread: no, number: 1AX2223", "", false},
		{"number: 1AXT1AAAA2223", "", false},
		{"retread: yes, number: 1AX2223, other_number: 1AXT1AAAA2210", "", true},
		{"retread: yes, number: 1AX2223, other_number: 1AXT1AAAA2222", "", false},
		{"retread: yes, number: 1AX2210", "its casing's own number", true},
		// Its own number on both sidewalls, or with its date alone, is not the casing's.
		{"retread: yes, number: 1AX2223, other_number: 1AX2223", "its casing's own number", false},
		{"retread: yes, number: 1AX2223, other_number: 2223", "its casing's own number", false},
		{"number: 1AX2223, other_number: 1AXT1AAAA2223", "whether it is a retread", false},
	} {
		text := "visit: 1\ndate: 2026-10-03\n" + surveyAxles + "tires: [{at: drive-left-outer, found: 90 psi, last_set: 90 psi, tread: 9/32 in, seen: nothing, " + x.own + "}]\n"
		r := assessed(t, text)
		gap := ""
		for _, n := range gapsAt(r, "drive-left-outer") {
			if strings.Contains(n, "casing") {
				gap = n
			}
		}
		if _, old := todoAt(r, "coach-care/age-replace", "drive-left-outer"); old != x.tooOld || !strings.HasPrefix(gap, x.gap) || (gap == "") != (x.gap == "") {
			t.Errorf("%s: too old %t, missing %q", x.own, old, gap)
		}
		for _, it := range r.Todo {
			if len(it.Rules) == 0 {
				t.Errorf("%s: %+v", x.own, it)
			}
		}
		v, err := record.Read("v.yaml", []byte(text))
		if err != nil {
			t.Fatal(err)
		}
		if p, err := placement.Find(t.Context(), v, inspect.Setup{}); err != nil || !x.tooOld && slices.ContainsFunc(p.Unjudged, func(g report.NotJudged) bool { return g.Need == gap }) != (gap != "") {
			t.Errorf("%s: placement misses %+v", x.own, p.Unjudged)
		}
	}
}

// TestDualsThatDoNotShare: where each of a pair was weighed, one that carries more
// than 55 % of the end is told of; moving tires mends no load of a place, so
// placement leaves it alone.
func TestDualsThatDoNotShare(t *testing.T) {
	t.Parallel()
	for _, x := range []struct {
		readings string
		told     rules.Verdict
		most     weight.Mass // lb on a tire
	}{
		{"{load: 3300 lb, on: drive-left-outer}, {load: 4600 lb, on: drive-left-inner}", rules.Breached, 4620},
		{"{load: 4500 lb, on: drive-left-outer}, {load: 3400 lb, on: drive-left-inner}", rules.Breached, 4520},
		{"{load: 3560 lb, on: drive-left-outer}, {load: 4340 lb, on: drive-left-inner}", rules.TooClose, 4360},
		{"{load: 3900 lb, on: drive-left-outer}, {load: 4000 lb, on: drive-left-inner}", 0, 4020},
		{"{load: 7900 lb, on: drive-left}, {load: 4600 lb, on: drive-left-inner}", rules.Breached, 4620},
		{"{load: 7900 lb, on: drive-left}", 0, 3960},
		{"{load: 3300 lb, on: drive-left-outer}", 0, 0},
		// The other one may carry more, within its own plus/minus.
		{"{load: 3900 lb, on: drive-left-outer}, {load: 3890 lb, tolerance: 600 lb, on: drive-left-inner}", rules.TooClose, 4490},
		{"{load: 3890 lb, tolerance: 600 lb, on: drive-left-outer}, {load: 3900 lb, on: drive-left-inner}", rules.TooClose, 4490},
		{"{load: 4500 lb, tolerance: 600 lb, on: drive-left-outer}, {load: 2900 lb, on: drive-left-inner}", rules.TooClose, 5100},
	} {
		r := surveyed(t, "weighing: {scale: pads, tolerance: 20 lb, readings: ["+x.readings+"]}\n"+surveyAxles, surveyTires)
		it, _ := todoAt(r, "coach-care/dual-share", "drive-left")
		if it.Verdict != x.told {
			t.Errorf("%s: %s, want %s: %+v", x.readings, it.Verdict, x.told, it)
		}
		// The pressure is set for the heavier one with its plus/minus.
		for _, s := range r.Settings {
			if s.Name == "drive" && x.most > 0 && s.TireLoad != x.most*weight.Pound {
				t.Errorf("%s: set for %s on a tire, want %d lb", x.readings, s.TireLoad, x.most)
			}
		}
	}
}

// TestCrackedSteerTireIsToBeReplaced: between 1/32 and 2/32 in deep it comes off
// the steer axle, and its replacement is planned (common practice).
func TestCrackedSteerTireIsToBeReplaced(t *testing.T) {
	t.Parallel()
	r := surveyed(t, surveyAxles, "  - {at: steer-left, crack_depth: 1/32 in}\n")
	it, ok := todoAt(r, "coach-care/crack-depth-steer", "steer-left")
	if !ok || it.Action != report.BeforeTrip || !strings.Contains(it.Advice, "off the steer axle") || !strings.Contains(it.Advice, "plan its replacement") {
		t.Errorf("%+v", it)
	}
}

// TestPlacesThatWereNotRead: a shoulder that the probe could not reach, and a
// wheel of which nobody knows where it fits, may say so.
func TestPlacesThatWereNotRead(t *testing.T) {
	t.Parallel()
	r := assessed(t, `
visit: 1
date: 2026-10-03
axles: [{id: steer, fitment: single}]
tires:
  - {at: steer-left, tread: {inner: not read, center: 8/32 in, outer: 7/32 in}, wheel_fits: not read}
  - {at: steer-right, tread: {inner: not read, center: not read, outer: not read}}
`)
	if d, ok := r.Tires[0].Tread.Get(); !ok || d != 7*record.ThirtySecond {
		t.Errorf("%+v", r.Tires[0])
	}
	if r.Tires[1].Tread.Is() || !slices.Contains(gapsAt(r, "steer-right"), "its tread depth") {
		t.Errorf("%+v", r.Tires[1])
	}
}

// TestWhereTheNailIs is asked where nobody said it, and decides whether the tire
// can be repaired (US Army TM 9-2610-200-14, para 2-32).
func TestWhereTheNailIs(t *testing.T) {
	t.Parallel()
	for own, want := range map[string][2]bool{ // a finding, a gap
		"seen: nail or object":                      {false, true},
		"seen: nail or object, injury_at: crown":    {false, false},
		"seen: nail or object, injury_at: shoulder": {true, false},
		"injury_at: sidewall":                       {true, false},
		"seen: nail or object, injury_at: not read": {false, true},
		"seen: bulge":                               {false, false},
	} {
		r := surveyed(t, surveyAxles, "  - {at: steer-left, "+own+"}\n")
		_, found := todoAt(r, "coach-care/injury-place", "steer-left")
		gap := slices.ContainsFunc(gapsAt(r, "steer-left"), func(n string) bool { return strings.Contains(n, "where the hole is") })
		if found != want[0] || gap != want[1] {
			t.Errorf("%s: found %t, missing %t", own, found, gap)
		}
		n := 0
		for _, it := range r.Todo {
			if it.What == "Hole outside the crown of the tread" {
				n++
			}
		}
		if n > 1 {
			t.Errorf("%s: said %d times", own, n)
		}
	}
}

// TestWordsThatWereNotRead: a size, load range or model that "was not read", or
// whose line in a form was not filled in, is no size and equals none; and no
// default stands in for it.
func TestWordsThatWereNotRead(t *testing.T) {
	t.Parallel()
	for _, x := range []struct {
		every, outer, inner string
		size                string // of the outer one
		mixed, oneModel     bool   // two sizes are told of; the two are said to be of one model
	}{
		{"size: not read, load_range: not read, model: not read", "", "", "", false, false},
		{"size: ____, load_range: __, model: ____", "", "", "", false, false},
		{"size: AX240/75R20, load_range: G, model: a", "size: not read, load_range: not read, model: not read", "", "", false, false},
		{"size: AX240/75R20, load_range: G, model: a", "size: ____, model: ____", "", "AX240/75R20", false, true},
		{"size: AX240/75R20, model: a", "", "", "AX240/75R20", false, true},
		{"size: not read, model: a", "size: AX240/75R20", "size: AX260/70R20", "AX240/75R20", true, true},
	} {
		r := assessed(t, "visit: 1\ndate: 2026-10-03\ncoach: not read\ngauge: ____\nload_state: not read\naxles: [{id: drive, fitment: dual}]\n"+
			"every_tire: {class: truck, "+x.every+"}\ntires: [{at: drive-left-outer, tread: 8/32 in, note: not read, "+x.outer+"}, {at: drive-left-inner, tread: 7/32 in, "+x.inner+"}]\n")
		_, mixed := todoAt(r, "dual-matching/same-size", "drive-left")
		gap := slices.Contains(gapsAt(r, "drive-left"), "the size of both tires")
		one := strings.Contains(r.Pairs[0].InsideBy, "and the two are of one model")
		if r.Tires[0].Size != x.size || mixed != x.mixed || gap != (x.size == "") || !mixed && one != x.oneModel {
			t.Errorf("%s; %s; %s: size %q, two sizes %t, missing %t, by %q", x.every, x.outer, x.inner, r.Tires[0].Size, mixed, gap, r.Pairs[0].InsideBy)
		}
		if r.Coach != "" || r.Gauge != "" || r.LoadState != "" || r.Tires[0].Note != "" {
			t.Errorf("%q, %q, %q, %q", r.Coach, r.Gauge, r.LoadState, r.Tires[0].Note)
		}
		for _, it := range r.Todo {
			if strings.Contains(it.Found, "not read") {
				t.Errorf("%s: %+v", x.every, it)
			}
		}
	}
}

// TestEachTireInDoubtIsTold: what equal tires have in common is read once, but
// each of them is told of where it cannot be right: no year has a week 55, and no
// tire a higher load as a dual (49 CFR 574.5, 571.119).
func TestEachTireInDoubtIsTold(t *testing.T) {
	t.Parallel()
	r := assessed(t, "visit: 1\ndate: 2026-10-03\n"+surveyAxles+`
every_tire: {single: 4540 lb at 110 psi, dual: 4940 lb at 110 psi}
tires:
  - {at: steer-left, number: 1AXT1AAAA5523}
  - {at: steer-right, number: 1AXT1AAAA5523}
  - {at: drive-left-outer, number: 1AXT1AAAA2223}
  - {at: drive-left-inner, number: 1AXT1AAAA2223}
`)
	count := map[string]int{}
	for _, it := range r.Todo {
		count[it.What]++
	}
	if count["Date code in doubt"] != 2 || count["Stamps on its sidewall contradict each other"] != 6 {
		t.Errorf("%v", count)
	}
}
