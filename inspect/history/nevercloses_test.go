package history_test

import (
	"slices"
	"strings"
	"testing"

	"axleend.example/inspect"
	"axleend.example/inspect/history"
	"axleend.example/inspect/record"
	"axleend.example/inspect/report"
	"axleend.example/internal/visittest"
	"axleend.example/rules"
)

// TestSilenceClosesNoFlat: a tire that was read at 0 at the stem stays flat until
// somebody writes down what was done, though a later visit says no more of it.
func TestSilenceClosesNoFlat(t *testing.T) {
	const fine = "{at: steer-left, number: " + numberX + ", seen: nothing, last_set: 100 psi, found: 100 psi"
	h := compare(t, onTires(t, "2026-01-01", fine+", read_zero: yes}"), onTires(t, "2026-02-01", fine+"}"))
	if ad, open := advisedBy(h.Open, "steer-left", "read-zero"); !open || ad.NotFound != day("2026-02-01") || !h.Drive.Stops() {
		t.Errorf("open %t, not found on %v, drive %v", open, ad.NotFound, h.Drive)
	}
}

// TestWarmAirEndsNoLeak: what a leak lost is hidden by warmer air, and nobody knows of
// air that was not written down. 90 psi set at 40 F read 102.6 at 100 F, and 2 psi a
// month is natural (computed by the gas law; GAO-07-246R, 2007).
func TestWarmAirEndsNoLeak(t *testing.T) {
	const common = "gauge_tolerance: 1 psi\ncold: yes\nnothing_since_set: yes\ndriven_since: no\n"
	leaks := onVisit(t, "2026-01-01", common+"tires: [{at: steer-left, number: "+numberX+", seen: nothing, last_set: 90 psi, found: 60 psi}]")
	for _, x := range []struct {
		air, found string
		open       bool
	}{
		{"last_set_air: 60 F\nair_temperature: 60 F\n", "88 psi", false},
		{"last_set_air: 60 F\nair_temperature: 60 F\n", "87 psi", true},
		{"last_set_air: 40 F\nair_temperature: 100 F\n", "101 psi", false},
		{"last_set_air: 40 F\nair_temperature: 100 F\n", "95 psi", true},
		{"last_set_air: 60 F\nair_temperature: 40 F\n", "85 psi", false},
		{"", "90 psi", true},
		{"last_set_air: 60 F\n", "90 psi", true},
	} {
		next := onVisit(t, "2026-02-01", common+"last_set_on: 2026-01-02\n"+x.air+"tires: [{at: steer-left, number: "+numberX+", seen: nothing, last_set: 90 psi, found: "+x.found+"}]")
		if _, open := advisedBy(compare(t, leaks, next).Open, "steer-left", "low-after-parking"); open != x.open {
			t.Errorf("%q, found %s: open %t, want %t", x.air, x.found, open, x.open)
		}
	}
}

// TestReadAgainIsSettledByReadingAgain, and by nothing else; what could hardly be makes
// no pace of wear.
func TestReadAgainIsSettledByReadingAgain(t *testing.T) {
	const tire = "{at: steer-left, number: " + numberX + ", seen: nothing"
	for _, x := range []struct{ name, where, title, before, again, silent string }{
		{"tread", "steer-left", "Read again: its tread depth", "tires: [" + tire + ", tread: 40/32 in}]", "tires: [" + tire + ", tread: 10/32 in}]", "tires: [" + tire + "}]"},
		{"pressure", "steer-left", "Read again: its pressure", "cold: yes\ntires: [" + tire + ", found: 160 psi}]", "cold: yes\ntires: [" + tire + ", found: 100 psi}]", "tires: [" + tire + "}]"},
		{"last set", "steer-left", "Read again: the pressure it was last set to", "tires: [" + tire + ", last_set: 7.2 psi}]", "tires: [" + tire + ", last_set: 100 psi}]", "tires: [" + tire + "}]"},
		{"crack", "steer-left", "Read again: how deep its cracks are", "tires: [" + tire + ", crack_depth: 2 in}]", "tires: [" + tire + ", crack_depth: 1/32 in}]", "tires: [" + tire + "}]"},
		{"air", "coach", "Read again: the air temperature", "air_temperature: 140 F\ntires: [" + tire + "}]", "air_temperature: 60 F\ntires: [" + tire + "}]", "tires: [" + tire + "}]"},
		{"gauge", "coach", "Read again: the gauge's tolerance", "gauge_tolerance: 0 psi\ntires: [" + tire + "}]", "gauge_tolerance: 1 psi\ntires: [" + tire + "}]", "tires: [" + tire + "}]"},
		{"wheel", "steer-left", "Read again: the pressure stamped with its load (wheel)", "tires: [" + tire + ", wheel: 5000 lb at 830 psi}]", "tires: [" + tire + ", wheel: 5000 lb at 120 psi}]", "tires: [" + tire + "}]"},
	} {
		open := func(next string) bool {
			for _, ad := range compare(t, onVisit(t, "2026-01-01", x.before), onVisit(t, "2026-02-01", next)).Open {
				if ad.At == x.where && ad.Item.What == x.title {
					return true
				}
			}
			return false
		}
		if !open(x.before) || !open(x.silent) || open(x.again) {
			t.Errorf("%s: open after the same %t, after nothing %t, after another reading %t", x.name, open(x.before), open(x.silent), open(x.again))
		}
	}
	h := compare(t, onTires(t, "2026-01-01", tire+", tread: 40/32 in}"), onTires(t, "2026-02-01", tire+", tread: 10/32 in}"), onTires(t, "2026-03-01", tire+", tread: 40/32 in}"))
	if w := tireAt(t, h, "steer-left").Wear; w.Is() || len(h.Contradictions) > 0 {
		t.Errorf("%+v %+v", w, h.Contradictions)
	}
}

// TestANumberMisread by a symbol or two, with one left out, or first read without its
// date is that of another tire only where more says so.
func TestANumberMisread(t *testing.T) {
	for _, x := range []struct {
		before, after string
		want          history.Presence
	}{
		{"number: 1M3 ABCDEF 2322", "number: 1M3 ABCDEE 2322", history.LostSight},
		{"number: 1M3 ABCDEF 2322", "number: 1M3 ABDDEE 2322", history.LostSight},
		{"number: 1M3 ABCDEF 2322", "number: 1M3 ABDDEE 2321", history.Replaced},
		{"number: 1M3 ABCDEF 2322", "number: 1M3 ABCDE 2322", history.LostSight},
		{"number: 1M3 ABCDEF 1223", "number: 2123", history.LostSight},
		{"number: 1M3 ABCDEF 1223", "number: 1M3 ABCDEF 2123", history.LostSight},
		{"number: 1M3 ABCDEF 1223, tread: 5/32 in", "number: 1M3 ABCDEF 2123, tread: 14/32 in", history.LostSight},
		{"number: 1M3 ABCDEF 1223", "number: 2124", history.Replaced},
		{"number: 2322", "number: 1M3 ABCDEF 2422", history.LostSight},
		{"number: 2322", "number: 1M3 ABCDEF 2425", history.Replaced},
		{"number: 2322", "number: 2422", history.LostSight},
		{"number: 2322", "number: 2425", history.Replaced},
		{"number: 1M3 ABCDEF 2322, tread: 5/32 in", "number: 1M3 ABCDEF 2425, tread: 5/32 in", history.LostSight},
		{"number: 1M3 ABCDEF 2322, tread: 5/32 in", "number: 1M3 ABCDEF 2425, tread: 14/32 in", history.Replaced},
		{"number: 1M3 ABCDEF 2322, tread: 5/32 in", "number: 1M3 ABCDEF 2422, tread: 14/32 in", history.LostSight},
	} {
		h := compare(t, onTires(t, "2026-01-01", "{at: steer-left, "+x.before+"}"), onTires(t, "2026-02-01", "{at: steer-left, "+x.after+"}"))
		got := history.OnCoach
		for _, tire := range h.Tires {
			if tire.Presence != history.OnCoach {
				got = tire.Presence
			}
		}
		if got != x.want {
			t.Errorf("%s, then %s: %v, want %v", x.before, x.after, got, x.want)
		}
	}
}

// TestQuestionLeavesAFlatOpen: a flat stays the flat it was where a later reading only asks
// about it, and nothing of it is listed as closed.
func TestQuestionLeavesAFlatOpen(t *testing.T) {
	t.Parallel()
	flat := onVisit(t, "2026-01-01", "gauge_tolerance: 0.5 psi\ntires: [{at: steer-left, number: 1M3 AX1 DEM 2222, last_set: 105 psi, found: 73 psi}]")
	for _, later := range []string{"found: 105 psi", "found: 89 psi", "found: 89 psi, hot: yes", "found: 85 psi", "found: 85 psi, hot: yes", "air_added: yes"} {
		h := compare(t, flat, onVisit(t, "2026-03-01", "tires: [{at: steer-left, number: 1M3 AX1 DEM 2222, last_set: 105 psi, "+later+"}]"),
			onVisit(t, "2026-05-01", "tires: [{at: steer-left, number: 1M3 AX1 DEM 2222, last_set: 105 psi, "+later+"}]"))
		ad, ok := advisedBy(h.Open, "steer-left", "run-low")
		if !ok || !ad.Item.Stops || ad.Last != day("2026-01-01") || !h.Drive.Stops() {
			t.Errorf("%s: %s, open %+v", later, h.Drive, h.Open)
		}
		for _, ad := range h.Closed {
			if ad.Item.Stops {
				t.Errorf("%s: closed %+v", later, ad)
			}
		}
	}
}

// TestAirInDoubtIsReadColdAgain: that a monitor gave an alarm is settled by a cold reading
// on the road that is not low, and not by silence or a place on a carrier.
func TestAirInDoubtIsReadColdAgain(t *testing.T) {
	t.Parallel()
	const tire = "number: 1M3 AX1 DEM 2222, last_set: 105 psi"
	alarm := onVisit(t, "2026-01-01", "cold: yes\ntires: [{at: steer-left, "+tire+", found: 104 psi, low_alarm: yes}, {at: steer-right, number: 1M3 AX9 DEM 3025}]")
	for lines, closed := range map[string]bool{
		"tires: [{at: steer-left, " + tire + "}]":                                                                                                                           false,
		"nothing_since_set: yes\ntires: [{at: steer-left, " + tire + "}]":                                                                                                   false,
		"nothing_since_set: yes\ntires: [{at: steer-left, " + tire + ", found: 104 psi, hot: yes}]":                                                                         false,
		"cold: yes\nnothing_since_set: yes\ntires: [{at: spare, " + tire + ", found: 104 psi}]":                                                                             false,
		"cold: yes\nnothing_since_set: yes\ntires: [{at: steer-left, " + tire + ", found: 80 psi}]":                                                                         false,
		"cold: yes\ntires: [{at: steer-left, " + tire + ", found: 104 psi, low_alarm: yes}]":                                                                                false,
		"cold: yes\nnothing_since_set: yes\ngauge_tolerance: 0.5 psi\ntires: [{at: steer-left, " + tire + ", found: 104 psi}]":                                              true,
		"cold: yes\nnothing_since_set: yes\ngauge_tolerance: 0.5 psi\ntires: [{at: steer-right, " + tire + ", found: 104 psi}, {at: steer-left, number: 1M3 AX9 DEM 3025}]": true,
	} {
		h := compare(t, alarm, onVisit(t, "2026-02-01", lines))
		doubt := func(ad history.Advised) bool { return slices.Contains(ad.Item.Rules, "coach-care/air-in-doubt") }
		if is, open := slices.ContainsFunc(h.Closed, doubt), slices.ContainsFunc(h.Open, doubt); is != closed || open == closed {
			t.Errorf("%s: closed %t, open %t, want closed %t", lines, is, open, closed)
		}
	}
}

// TestAQuestionOfThePastStaysOpen: whether a tire ran low that was driven far below its
// placard no later reading tells, nor a carrier: somebody writes down what was found.
func TestAQuestionOfThePastStaysOpen(t *testing.T) {
	t.Parallel()
	const head, tire, other = "cold: yes\ngauge_tolerance: 0.5 psi\n", "number: 1M3 AX1 DEM 2222, last_set: 85 psi", ", {at: steer-right, number: 1M3 AX9 DEM 3025}"
	low := onVisit(t, "2026-01-01", head+"tires: [{at: steer-left, "+tire+", found: 78 psi}"+other+"]")
	for lines, open := range map[string]bool{
		head + "tires: [{at: steer-left, " + tire + ", found: 100 psi}" + other + "]":                                                true,
		head + "tires: [{at: steer-left, " + tire + ", found: 81 psi, hot: yes}" + other + "]":                                       true,
		head + "tires: [{at: spare, " + tire + ", found: 100 psi}" + other + "]":                                                     true,
		head + "done: [{at: steer-left, rule: below-placard}]\ntires: [{at: steer-left, " + tire + ", found: 100 psi}" + other + "]": false,
	} {
		h := compare(t, low, onVisit(t, "2026-02-01", lines), onVisit(t, "2026-03-01", head+"tires: [{at: steer-left, "+tire+", found: 100 psi}"+other+"]"))
		asks := func(ad history.Advised) bool {
			return ad.Item.Verdict == rules.Breached && slices.Contains(ad.Item.Rules, "coach-care/below-placard")
		}
		if is := slices.ContainsFunc(h.Open, asks); is != open {
			t.Errorf("%s: open %t, want %t: %+v", lines, is, open, h.Open)
		}
	}
}

// TestAMoveClosesWhatItsPlaceIsNotHeldTo: what a rule says of one place ends with a move to
// another that it does not speak of, and not because the next visit leaves something out.
func TestAMoveClosesWhatItsPlaceIsNotHeldTo(t *testing.T) {
	t.Parallel()
	const a, b = "number: 1M3 AX1 DEM 2222", "number: 1M3 AX9 DEM 3025"
	two := func(date, at, own, other string) *record.Visit {
		return onVisit(t, date, "cold: yes\ntires: [{at: "+at+", "+a+", "+own+"}, {at: "+other+", "+b+"}]")
	}
	for _, x := range []struct {
		rule, own, then string
		closed          bool
	}{
		{"retread-on-steer", "retread: yes", "retread: yes", true},
		{"left-below-set", "last_set: 100 psi, found: 99 psi, left: 90 psi", "last_set: 100 psi, found: 99 psi", false},
		{"below-set", "last_set: 100 psi, found: 95 psi", "last_set: 100 psi, hot: no", false},
		{"aired-up-flat", "last_set: 100 psi, found: 60 psi, left: 100 psi", "last_set: 100 psi, found: 100 psi", false},
	} {
		h := compare(t, two("2026-01-01", "steer-left", x.own, "drive-left-outer"), two("2026-02-01", "drive-left-outer", x.then, "steer-left"))
		_, open := advisedBy(h.Open, "drive-left-outer", x.rule)
		if ad, is := advisedBy(h.Closed, "drive-left-outer", x.rule); is != x.closed || open == x.closed || is && ad.How != history.ClosedByMoved {
			t.Errorf("%s: closed %t (%s), open %t", x.rule, is, ad.How, open)
		}
	}
}

// TestDoneClosesWhatItNames: that the placard was found right is not that a flat listed in
// the same entry was taken off; done by its rule or the entry's title, what is less in it
// goes along.
func TestDoneClosesWhatItNames(t *testing.T) {
	t.Parallel()
	const head, tire = "cold: yes\ngauge_tolerance: 0.5 psi\n", "{at: steer-left, number: 1M3 AX1 DEM 2222, seen: nothing, last_set: 100 psi, found: "
	flat := onVisit(t, "2026-01-01", head+"tires: ["+tire+"60 psi}]")
	first, ok := advisedBy(compare(t, flat).Open, "steer-left", "below-placard")
	if _, low := advisedBy([]history.Advised{first}, "steer-left", "run-low"); !ok || !low {
		t.Fatalf("no flat with its placard in the same entry: %+v", first)
	}
	for done, open := range map[string]bool{"below-placard": true, "coach-care/below-placard": true, "run-low": false, `"` + first.Item.What + `"`: false} {
		h := compare(t, flat, onVisit(t, "2026-02-01", head+"done: [{at: steer-left, rule: "+done+"}]\ntires: ["+tire+"100 psi}]"))
		if _, is := advisedBy(h.Open, "steer-left", "run-low"); is != open || h.Drive.Stops() != open || len(h.Contradictions) > 0 {
			t.Errorf("%s: open %t, want %t: %s %v", done, is, open, h.Drive, h.Contradictions)
		}
		if _, is := advisedBy(h.Closed, "steer-left", "run-low"); is == open {
			t.Errorf("%s: closed %t, want %t", done, is, !open)
		}
	}
}

// TestASpareThatWasLowStaysOpen: what a spare went through no later reading tells; one that
// was never on the road since it held its pressure only wants air.
func TestASpareThatWasLowStaysOpen(t *testing.T) {
	t.Parallel()
	const head, number, fine = "cold: yes\ngauge_tolerance: 0.5 psi\nnothing_since_set: yes\n", "number: 1M3 AX7 DEM 2222, seen: nothing, last_set: 100 psi", ", found: 100 psi"
	for _, x := range []struct {
		rule, was, then string
		open            bool
	}{
		{"spare-low", "found: 60 psi, driven_since: yes", "tires: [{at: spare, " + number + fine + "}]", true},
		{"spare-low", "found: 60 psi, driven_since: yes", "tires: [{at: spare, " + number + fine + ", left: 100 psi}]", true},
		{"spare-low", "found: 0 psi", "tires: [{at: spare, " + number + fine + ", driven_since: no}]", true},
		{"spare-low", "found: 60 psi, left: 100 psi", "tires: [{at: spare, " + number + fine + "}]", true},
		{"spare-low", "found: 100 psi, read_zero: yes", "tires: [{at: steer-left, " + number + fine + "}]", true},
		{"spare-half", "found: 40 psi, driven_since: no", "tires: [{at: spare, " + number + fine + ", driven_since: no}]", true},
		{"seen-scuffed-shoulder", "found: 100 psi, seen: scuffed shoulder", "tires: [{at: spare, " + number + fine + "}]", true},
		{"spare-low", "found: 60 psi", "done: [{at: spare, rule: spare-low}]\ntires: [{at: spare, " + number + fine + "}]", false},
		{"spare-low", "found: 60 psi", "tires: [{at: spare, number: 4B9 KK7 QRS 0225, seen: nothing, last_set: 100 psi, found: 100 psi}]", false},
		{"spare-low-never-driven", "found: 70 psi, driven_since: no", "tires: [{at: spare, " + number + fine + ", driven_since: no}]", false},
		{"spare-low-never-driven", "found: 70 psi, driven_since: no, left: 100 psi", "tires: [{at: spare, " + number + "}]", false},
	} {
		at := "spare"
		if strings.Contains(x.then, "steer-left") {
			at = "steer-left"
		}
		was := onVisit(t, "2026-01-01", head+"tires: [{at: spare, "+strings.Replace(number, ", seen: nothing", "", strings.Count(x.was, "seen:"))+", "+x.was+"}, {at: steer-left, number: 1M3 AX1 DEM 3025}]")
		if _, found := advisedBy(compare(t, was).Open, "spare", x.rule); !found && !strings.Contains(x.was, "left:") {
			t.Errorf("%s: %s not found", x.was, x.rule)
		}
		if _, open := advisedBy(compare(t, was, onVisit(t, "2026-02-01", head+x.then)).Open, at, x.rule); open != x.open {
			t.Errorf("%s, then %s: %s open %t, want %t", x.was, x.then, x.rule, open, x.open)
		}
	}
}

// slip is a weighing whose right steer end weighs so much, other keys before it.
func slip(keys, right string) string {
	return "weighing: {" + keys + "as_driven: all, scale: pads, tolerance: 10 lb, level: yes, readings: [{load: 4000 lb, on: steer-left}, {load: " + right + ", on: steer-right}, {load: 7500 lb, on: drive-left}, {load: 7400 lb, on: drive-right}]}\n"
}

// TestAnOldSlipSettlesNoLoad: an overload ends with a weighing that is not older than the
// one that found it, by its day or by its odometer.
func TestAnOldSlipSettlesNoLoad(t *testing.T) {
	t.Parallel()
	over := onVisit(t, "2026-01-10", "odometer: 20000 mi\n"+slip("", "5900 lb"))
	for _, x := range []struct {
		next string
		open bool
	}{
		{slip("date: 2025-06-01, ", "4100 lb"), true},
		{slip("date: 2025-06-01, ", "5900 lb"), true},
		{"odometer: 20500 mi\n" + slip("odometer: 19000 mi, ", "4100 lb"), true},
		{"tires: [{at: spare, found: 100 psi}]", true},
		{slip("", "4100 lb"), false},
		{slip("date: 2026-01-20, ", "4100 lb"), false},
		{slip("date: 2026-01-10, ", "4100 lb"), false},
		{"odometer: 20500 mi\n" + slip("odometer: 20400 mi, ", "4100 lb"), false},
		{slip("date: 2026-01-20, odometer: 400 mi, ", "4100 lb"), false},
	} {
		for _, of := range []struct{ at, rule string }{{"steer", "gawr"}, {"steer-right", "half-gawr"}} {
			h := compare(t, over, onVisit(t, "2026-02-10", x.next))
			if _, open := advisedBy(h.Open, of.at, of.rule); open != x.open {
				t.Errorf("%q: %s open %t, want %t", x.next, of.rule, open, x.open)
			}
		}
		if _, open := advisedBy(compare(t, over, onVisit(t, "2026-02-10", x.next), onVisit(t, "2026-03-10", slip("", "4100 lb"))).Open, "steer", "gawr"); open {
			t.Errorf("%q, then a new slip: still open", x.next)
		}
	}
}

// TestWithoutASlipAirIsHeldToTheLastOne: what a weighing asked to be set is not reached by
// leaving its slip out; the air that it asked for, or another weighing, reaches it.
func TestWithoutASlipAirIsHeldToTheLastOne(t *testing.T) {
	t.Parallel()
	const head, tire = "cold: yes\ngauge_tolerance: 0.5 psi\nnothing_since_set: yes\n", "tires: [{at: steer-right, number: 1M3 AX1 DEM 2222, seen: nothing, class: truck, single: 5500 lb at 125 psi, wheel: 6000 lb at 130 psi, last_set: 100 psi, found: "
	const low = "100 psi}]\n"
	weighed := onVisit(t, "2026-01-10", head+tire+low+slip("", "4900 lb"))
	first, ok := advisedBy(compare(t, weighed).Open, "steer-right", "below-set")
	if !ok || !strings.HasPrefix(first.Item.Bound, "at least 120 psi") {
		t.Fatalf("to set %q, want 120 psi", first.Item.Bound)
	}
	byPlacard := onVisit(t, "2026-01-10", head+tire+"95 psi}]\n"+slip("", "4000 lb"))
	for _, x := range []struct {
		was  *record.Visit
		then []string
		open bool
	}{
		{weighed, []string{tire + low}, true},
		{weighed, []string{tire + "110 psi}]"}, true},
		{weighed, []string{tire + "95 psi}]", tire + low}, true},
		{weighed, []string{tire + "100 psi, left: 110 psi}]"}, true},
		{weighed, []string{tire + low + slip("date: 2025-03-01, ", "4000 lb")}, true},
		{weighed, []string{tire + low + "weighing: {as_driven: all, scale: pads, tolerance: 10 lb, level: yes, readings: [{load: 7500 lb, on: drive-left}, {load: 7400 lb, on: drive-right}]}\n"}, true},
		{weighed, []string{tire + low + "weighing: {as_driven: all, scale: pads, tolerance: 10 lb, level: yes, readings: [{load: 4000 lb, on: steer-left}, {load: 4000 lb, on: steer-right}]}\n"}, false},
		{weighed, []string{tire + "120 psi}]"}, false},
		{weighed, []string{tire + "100 psi, left: 120 psi}]"}, false},
		{weighed, []string{tire + low + slip("", "4000 lb")}, false},
		{byPlacard, []string{tire + low}, false},
		{byPlacard, []string{tire + "95 psi, left: 100 psi}]"}, false},
	} {
		visits := []*record.Visit{x.was}
		for i, lines := range x.then {
			visits = append(visits, onVisit(t, []string{"2026-02-10", "2026-03-10"}[i], head+lines))
		}
		if _, open := advisedBy(compare(t, visits...).Open, "steer-right", "below-set"); open != x.open {
			t.Errorf("%q: open %t, want %t", x.then, open, x.open)
		}
	}
}

// TestDoubtLeavesAStop: an overload by a good scale, and too little air for the load, stay
// what they were where a worse scale or a hot tire only leaves them in doubt, or nothing
// was read; a sure reading closes both.
func TestDoubtLeavesAStop(t *testing.T) {
	t.Parallel()
	const head, tire = "gauge_tolerance: 0.5 psi\nnothing_since_set: yes\n", "tires: [{at: steer-right, number: 1M3 AX1 DEM 2222, seen: nothing, class: truck, construction: radial, single: 5500 lb at 110 psi, wheel: 6000 lb at 130 psi, last_set: 100 psi, driven_since: no, "
	doubt := strings.Replace(slip("", "4100 lb"), "10 lb", "1500 lb", 1)
	over, low := slip("", "5900 lb"), "cold: yes\n"+tire+"found: 60 psi}]\n"+slip("", "4100 lb")
	for _, x := range []struct {
		at, rule, was, then string
		open                bool
	}{
		{"steer", "gawr", over, doubt, true},
		{"steer", "gawr", over, slip("", "4100 lb"), false},
		{"steer-right", "load-at-found-pressure", low, tire + "found: 84 psi, hot: yes}]\n" + slip("", "4100 lb"), true},
		{"steer-right", "load-at-found-pressure", low, tire + "found: 105 psi, hot: no}]\n" + doubt, true},
		{"steer-right", "load-at-found-pressure", low, tire + "seen: nothing}]\n" + slip("", "4100 lb"), true},
		{"steer-right", "load-at-found-pressure", low, tire + "found: 105 psi, hot: no}]\n" + slip("", "4100 lb"), false},
	} {
		x.then = strings.Replace(x.then, ", driven_since: no, seen: nothing", "", 1)
		h := compare(t, onVisit(t, "2026-01-10", head+x.was), onVisit(t, "2026-02-10", head+x.then))
		ad, open := advisedBy(h.Open, x.at, x.rule)
		if open != x.open || open && (!ad.Item.Stops || ad.Item.Verdict != rules.Breached) || h.Drive.Stops() != x.open {
			t.Errorf("%s, then %s: open %t, want %t: %s %+v", x.was, x.then, open, x.open, h.Drive, ad.Item)
		}
		if _, closed := advisedBy(h.Closed, x.at, x.rule); closed == x.open {
			t.Errorf("%s, then %s: closed %t", x.was, x.then, closed)
		}
	}
}

// TestAHeardLeakEndsByHolding its pressure or by what was done: that one sidewall shows
// nothing, or that nobody hears it, is no reading.
func TestAHeardLeakEndsByHolding(t *testing.T) {
	t.Parallel()
	const head, tire = "gauge_tolerance: 0.5 psi\ncold: yes\nnothing_since_set: yes\nair_temperature: 60 F\n", "tires: [{at: steer-left, number: 1M3 AX1 DEM 2222, last_set: 100 psi, "
	heard := onVisit(t, "2026-01-01", head+tire+"found: 100 psi, seen: audible leak}]")
	for _, x := range []struct {
		then string
		open bool
	}{
		{tire + "seen: nothing, sidewalls: outer}]", true},
		{tire + "seen: nothing}]", true},
		{tire + "seen: nothing, found: 100 psi}]", true},
		{tire + "seen: nothing, found: 100 psi, left: 100 psi, next_day: 97 psi}]\nnext_day_air: 60 F", true},
		{"last_set_on: 2025-12-20\nlast_set_air: 60 F\n" + tire + "seen: nothing, found: 100 psi}]", true},
		{"last_set_on: 2026-01-02\nlast_set_air: 60 F\n" + tire + "seen: audible leak, found: 100 psi}]", true},
		{"last_set_on: 2026-01-02\nlast_set_air: 60 F\n" + tire + "seen: nothing, found: 99 psi}]", false},
		{tire + "seen: nothing, found: 100 psi, left: 100 psi, next_day: 100 psi}]\nnext_day_air: 60 F", false},
		{"done: [{at: steer-left, rule: seen-audible-leak}]\n" + tire + "seen: nothing}]", false},
	} {
		h := compare(t, heard, onVisit(t, "2026-02-01", head+x.then))
		if _, open := advisedBy(h.Open, "steer-left", "seen-audible-leak"); open != x.open || h.Drive.Stops() != x.open {
			t.Errorf("%s: open %t, want %t, %s", x.then, open, x.open, h.Drive)
		}
	}
}

// TestAnotherSizeAloneClosesNoFlat: a size can be misread, so that without a number it is
// asked where the flat is; with one, or once it is done, the flat is closed.
func TestAnotherSizeAloneClosesNoFlat(t *testing.T) {
	t.Parallel()
	const head, fine = "cold: yes\ngauge_tolerance: 0.5 psi\n", ", size: XV315/91R19, seen: nothing, last_set: 100 psi, found: 100 psi}]"
	for _, x := range []struct {
		was, then string
		open      bool
	}{
		{"", "tires: [{at: steer-left", true},
		{", number: 1M3 AX1 DEM 2223", "tires: [{at: steer-left", true},
		{"", "tires: [{at: steer-left, number: 4B9 KK7 QRS 0225", true},
		{", number: 1M3 AX1 DEM 2223", "tires: [{at: steer-left, number: 4B9 KK7 QRS 0225", false},
		{"", "done: [{at: steer-left, rule: run-low}]\ntires: [{at: steer-left", false},
	} {
		h := compare(t, onVisit(t, "2026-01-01", head+"tires: [{at: steer-left, size: XV250/72R21"+x.was+", seen: nothing, last_set: 100 psi, found: 60 psi}]"), onVisit(t, "2026-02-01", head+x.then+fine))
		if _, open := advisedBy(h.Open, "steer-left", "run-low"); open != x.open || h.Drive.Stops() != x.open || x.was+x.then == "tires: [{at: steer-left" && !contradicted(h, "steer-left", "size XV315/91R19") {
			t.Errorf("%q, then %q: open %t, want %t, %s %v", x.was, x.then, open, x.open, h.Drive, h.Contradictions)
		}
	}
}

// TestWhatIsNotReadClosesNothing: what was found of a tire is not settled by a visit that
// leaves the tire out, or what was read of it.
func TestWhatIsNotReadClosesNothing(t *testing.T) {
	t.Parallel()
	const head, tire, other = "cold: yes\ngauge_tolerance: 0.5 psi\nnothing_since_set: yes\n", "{at: steer-left, number: 1M3 AX1 DEM 2222, last_set: 100 psi, single: 5000 lb at 110 psi", "{at: steer-right, class: truck, number: 1M3 AX9 DEM 3025, last_set: 100 psi, found: 100 psi, single: 5000 lb at 110 psi, wheel: 6000 lb at 130 psi}"
	const wheel, better = ", wheel: 6000 lb at 90 psi", ", wheel: 6000 lb at 130 psi"
	const unequal = "{at: drive-left-outer, found: 105 psi}, {at: drive-right-outer, found: 97 psi}"
	for _, x := range []struct {
		at, rule, was, then string
		open                bool
	}{
		{"steer", "odd-class", tire + ", class: passenger}", "{at: spare, found: 100 psi}", true},
		{"steer", "odd-class", tire + ", class: passenger}", tire + ", found: 100 psi}", true},
		{"steer", "odd-class", tire + ", class: passenger}", tire + ", class: truck}", false},
		{"steer", "odd-class", tire + ", class: passenger}", "{at: steer-left, number: 4B9 KK7 QRS 0225, class: truck}", false},
		{"steer", "placard-above-stamps", tire + wheel + "}", "{at: spare, found: 100 psi}", true},
		{"steer", "placard-above-stamps", tire + wheel + "}", tire + "}", true},
		{"steer", "placard-above-stamps", tire + wheel + "}", tire + better + "}", false},
		{"steer-left", "most-pressure", tire + wheel + ", found: 100 psi}", tire + ", found: 100 psi}", true},
		{"steer-left", "most-pressure", tire + wheel + ", found: 100 psi}", tire + better + ", found: 100 psi}", false},
		{"steer-left", "most-pressure", tire + wheel + ", found: 100 psi}", tire + ", found: 89 psi}", false},
		{"steer-left", "most-pressure", tire + wheel + ", found: 100 psi}", tire + wheel + ", found: 89 psi}", false},
		{"drive", "found-spread-of-some", unequal, "{at: drive-left-outer, found: 105 psi}, {at: drive-left-inner, found: 105 psi}", true},
		{"drive", "found-spread-of-some", unequal, "{at: drive-left-outer, found: 105 psi}, {at: drive-right-outer, found: 105 psi}", false},
		{"drive", "found-spread-of-some", unequal, "{at: drive-left-outer, found: 105 psi}, {at: drive-left-inner, found: 105 psi}, {at: drive-right-inner, found: 105 psi}, {at: drive-right-outer, found: 105 psi}", false},
	} {
		h := compare(t, onVisit(t, "2026-01-01", head+"tires: ["+other+", "+x.was+"]"), onVisit(t, "2026-02-01", head+"tires: ["+other+", "+x.then+"]"))
		if _, open := advisedBy(h.Open, x.at, x.rule); open != x.open {
			t.Errorf("%s, then %s: %s open %t, want %t", x.was, x.then, x.rule, open, x.open)
		}
		if _, closed := advisedBy(h.Closed, x.at, x.rule); closed == x.open {
			t.Errorf("%s, then %s: %s closed %t", x.was, x.then, x.rule, closed)
		}
	}
	const spare = "{at: spare, number: 1M3 AX7 DEM 2222, last_set: 100 psi"
	for then, open := range map[string]bool{other: true, other + ", " + spare + "}": true, other + ", " + spare + ", found: 100 psi}": false} {
		h := compare(t, onVisit(t, "2026-01-01", head+"tires: ["+other+", "+spare+", found: 160 psi}]\n"+slip("", "4100 lb")), onVisit(t, "2026-02-01", head+"tires: ["+then+"]\n"+slip("", "4100 lb")))
		if is := slices.ContainsFunc(h.Open, func(ad history.Advised) bool { return ad.Item.What == "Read again: its pressure" }); is != open {
			t.Errorf("a spare, then %s: open %t, want %t", then, is, open)
		}
	}
}

// TestNutsAreThoseOfThePlace: that nuts were not checked does not go with the tire, whose
// wheel comes off and on for that; it ends with a check, or by what was done.
func TestNutsAreThoseOfThePlace(t *testing.T) {
	t.Parallel()
	const one, two = "number: 1M3 AX1 DEM 2222", "number: 4B9 KK7 QRS 0225"
	on := onVisit(t, "2026-01-01", "tires: [{at: steer-left, wheel_on: 2025-12-20, "+one+"}, {at: drive-left-outer, number: 1M3 AX5 DEM 3025}]")
	for _, x := range []struct {
		next string
		open bool
	}{
		{"tires: [{at: steer-left, " + one + "}]", true},
		{"tires: [{at: steer-left, " + two + "}]", true},
		{"tires: [{at: steer-left, " + two + ", torque_checked: 2026-01-15}]", true},
		{"tires: [{at: steer-left, " + one + ", torque_checked: 2025-12-15}]", true},
		{"tires: [{at: steer-left, number: 1M3 AX5 DEM 3025}, {at: drive-left-outer, " + one + "}]", true},
		{"tires: [{at: steer-left, " + two + "}, {at: spare, " + one + "}]", true},
		{"tires: [{at: steer-left, " + two + ", wheel_on: 2026-01-10}]", true},
		{"tires: [{at: steer-left, " + one + ", torque_checked: 2026-01-15}]", false},
		{"tires: [{at: steer-left, " + one + ", wheel_on: 2025-12-20, torque_checked: 2025-12-22}]", false},
		{"tires: [{at: steer-left, " + two + ", wheel_on: 2026-01-10, torque_checked: 2026-01-15}]", false},
		{"tires: [{at: steer-left, " + two + ", torque_checked: 2026-02-01}]", true},
		{"tires: [{at: steer-left, " + two + ", wheel_on: 2026-01-10, torque_checked: 2026-01-15}, {at: spare, " + one + "}]", false},
		{"done: [{at: steer-left, rule: torque-due}]\ntires: [{at: steer-left, " + two + "}]", false},
	} {
		h := compare(t, on, onVisit(t, "2026-02-01", x.next))
		is := slices.ContainsFunc(h.Open, func(ad history.Advised) bool { return slices.Contains(ad.Item.Rules, "coach-care/torque-due") })
		if _, open := advisedBy(h.Open, "steer-left", "torque-due"); open != x.open || is != open {
			t.Errorf("%s: open %t (%t), want %t", x.next, open, is, x.open)
		}
	}
	changed, again := onVisit(t, "2026-02-01", "tires: [{at: steer-left, "+two+"}]"), onVisit(t, "2026-03-01", "tires: [{at: steer-left, "+two+", torque_checked: 2026-02-20}]")
	if _, open := advisedBy(compare(t, on, changed, again).Open, "steer-left", "torque-due"); open {
		t.Error("open though checked after another tire was seen there")
	}
}

// TestALoadCarriedAsFoundEndsThatNoPressureDoes: with a better wheel, and without a table,
// the rule falls silent; that each tire of the axle carries its load as found ends it, and
// nothing less does.
func TestALoadCarriedAsFoundEndsThatNoPressureDoes(t *testing.T) {
	t.Parallel()
	const head, stamps = "cold: yes\ngauge_tolerance: 0.5 psi\nnothing_since_set: yes\n", "seen: nothing, class: truck, construction: radial, single: 5500 lb at 110 psi, last_set: 100 psi"
	const right = ", {at: steer-right, number: 1M3 AX2 DEM 2222, " + stamps + ", wheel: 6000 lb at 130 psi, found: 100 psi}]\n"
	left := func(wheel string) string {
		return "tires: [{at: steer-left, number: 1M3 AX1 DEM 2222, " + stamps + ", wheel: " + wheel
	}
	weak := onVisit(t, "2026-01-01", head+left("3500 lb at 130 psi")+", found: 100 psi}"+right+slip("", "4100 lb"))
	better := left("6000 lb at 130 psi")
	for then, open := range map[string]bool{
		better + ", found: 100 psi}" + right + slip("", "4100 lb"):                   false,
		better + ", found: 100 psi}" + right:                                         true,
		better + ", found: 100 psi}" + right + slip("date: 2025-06-01, ", "4100 lb"): true,
		better + "}" + right + slip("", "4100 lb"):                                   true,
		better + ", found: 50 psi}" + right + slip("", "4100 lb"):                    true,
		better + ", found: 100 psi}]\n" + slip("", "4100 lb"):                        true,
	} {
		h := compare(t, weak, onVisit(t, "2026-02-01", head+then))
		if _, is := advisedBy(h.Open, "steer", "no-pressure"); is != open {
			t.Errorf("%s: open %t, want %t", then, is, open)
		}
	}
}

// TestAWeakTireOnTheCarrierStopsNothing: another tire carries the load of its place; one
// that went to another axle has to carry that one's.
func TestAWeakTireOnTheCarrierStopsNothing(t *testing.T) {
	t.Parallel()
	const head, fine = "cold: yes\ngauge_tolerance: 0.5 psi\nnothing_since_set: yes\n", ", seen: nothing, class: truck, construction: radial, last_set: 100 psi, found: 100 psi, wheel: 6000 lb at 130 psi, number: 1M3 AX"
	weak, good := fine+"1 DEM 2222, single: 3900 lb at 110 psi, dual: 3600 lb at 110 psi}", fine+"7 DEM 3025, single: 5500 lb at 110 psi, dual: 5000 lb at 110 psi}"
	was := onVisit(t, "2026-01-01", head+"tires: [{at: steer-right"+weak+", {at: spare"+good+"]\n"+slip("", "4100 lb"))
	for then, open := range map[string]bool{
		"tires: [{at: steer-right" + good + ", {at: spare" + weak + "]\n" + slip("", "4100 lb"):                                                        false,
		"tires: [{at: steer-right" + good + ", {at: spare" + weak + "]":                                                                                true,
		"tires: [{at: steer-right" + good + ", {at: drive-left-outer" + strings.Replace(weak, "found: 100 psi, ", "", 1) + "]\n" + slip("", "4100 lb"): true,
	} {
		h := compare(t, was, onVisit(t, "2026-02-01", head+then))
		if _, is := advisedBy(h.Open, "steer-right", "load-at-found-pressure"); is != open {
			t.Errorf("%s: open %t, want %t", then, is, open)
		}
	}
}

// TestAHotReadingEndsNoLeak: what a tire lost between two visits stands until it is read
// cold again, and not until a visit that read it hot, aired it or left it out.
func TestAHotReadingEndsNoLeak(t *testing.T) {
	t.Parallel()
	const tire = "{at: steer-left, number: " + numberX + ", seen: nothing, last_set: 100 psi"
	left, low := onTires(t, "2026-01-01", tire+", found: 100 psi, left: 100 psi}"), onTires(t, "2026-02-01", tire+", found: 90 psi, left: 100 psi}")
	for then, leaks := range map[string]bool{
		tire + ", found: 100 psi, hot: yes}":       true,
		tire + "}":                                 true,
		"{at: steer-right, found: 100 psi}":        true,
		tire + ", found: 100 psi, air_added: yes}": true,
		tire + ", found: 90 psi}":                  true,
		tire + ", found: 99.5 psi}":                false,
		"{at: steer-left, number: 4B9 KK7 QRS 0225, seen: nothing, found: 100 psi}": false,
	} {
		h := compare(t, left, low, onTires(t, "2026-03-01", then))
		if is := slices.ContainsFunc(h.Todo, func(it report.Item) bool { return slices.Contains(it.Rules, "coach-care/leak") }); is != leaks {
			t.Errorf("%s: leaks %t, want %t", then, is, leaks)
		}
	}
}

// TestWhatAPackCallsLowStays: also where a shop's own rule on running low does not stop the
// coach, a later reading that is too close to call leaves what was surely low.
func TestWhatAPackCallsLowStays(t *testing.T) {
	t.Parallel()
	program := visittest.Compile(t, "  ran: {title: Ran low, subject: tire, measure: lowest, more_than: 80 psi, involves: [ran_low], action: before_trip, advice: A, source: {grade: common practice}}\n")
	read := func(date, found string) *record.Visit {
		return onVisit(t, date, "cold: yes\ngauge_tolerance: 1 psi\ntires: [{at: steer-left, number: "+numberX+", found: "+found+"}]")
	}
	h, err := history.Compare([]*record.Visit{read("2026-01-01", "70 psi"), read("2026-02-01", "80.5 psi")}, inspect.Setup{Program: program})
	if err != nil || len(h.Open) != 1 || h.Open[0].Item.Verdict != rules.Breached || h.Open[0].Last != day("2026-01-01") {
		t.Errorf("%v: %+v", err, h.Open)
	}
}
