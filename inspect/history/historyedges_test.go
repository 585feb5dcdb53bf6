package history_test

import (
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"testing"

	"axleend.example/inspect"
	"axleend.example/inspect/history"
	"axleend.example/inspect/record"
	"axleend.example/inspect/report"
	"axleend.example/internal/visittest"
	"axleend.example/rules"
	"axleend.example/weight"
)

// TestHistoryIsOfVersionOne: it says so, is read back, and is refused as another.
func TestHistoryIsOfVersionOne(t *testing.T) {
	t.Parallel()
	data, err := json.Marshal(compare(t, onVisit(t, "2026-01-01", "tires: [{at: steer-left, tread: 9/32 in}]")))
	if err != nil {
		t.Fatal(err)
	}
	if !strings.HasPrefix(string(data), `{"history":1,`) {
		t.Errorf("a history begins %.20s", data)
	}
	if h, err := history.Read("h.json", data); err != nil || h.Version != 1 {
		t.Errorf("read back as version %d, %v", h.Version, err)
	}
	if _, err := history.Read("h.json", []byte(strings.Replace(string(data), `"history":1,`, `"history":2,`, 1))); err == nil || !strings.Contains(err.Error(), "version") {
		t.Errorf("version 2: %v", err)
	}
}

// TestFactsOfAProgramCountInAHistory: what the program says of each visit's coach is
// judged, and is open or closed as everything else.
func TestFactsOfAProgramCountInAHistory(t *testing.T) {
	t.Parallel()
	program := visittest.Compile(t, "  cut: {title: Cut, subject: tire, measure: cut_depth, at_most: 1/32 in, action: plan, advice: Look., source: {grade: invented, title: a house rule}}\n")
	visits := []*record.Visit{onVisit(t, "2026-01-01", "tires: [{at: steer-left, tread: 9/32 in}]"), onVisit(t, "2026-02-01", "tires: [{at: steer-left, tread: 9/32 in}]")}
	asked := make(map[*record.Visit]bool)
	setup := inspect.Setup{Program: program, Facts: func(v *record.Visit, f *rules.Facts) {
		if asked[v] = true; f.Subject() == "tire" && f.Name() == "steer-left" {
			if err := f.SetText("cut_depth", "2/32 in"); err != nil {
				t.Error(err)
			}
		}
	}}
	h, err := history.Compare(visits, setup)
	if err != nil {
		t.Fatal(err)
	}
	if len(h.Open) != 1 || h.Open[0].Item.What != "Cut" || h.Open[0].Times != 2 || !asked[visits[0]] || !asked[visits[1]] {
		t.Errorf("open %+v, asked of %d visits", h.Open, len(asked))
	}
}

// TestOdometersThatCannotBeDriven: at 65 mph day and night 1,560 mi a day (computed); one
// day between two dates can have almost two days in it, none between them is one at most.
func TestOdometersThatCannotBeDriven(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		days    int
		miles   int64
		drives  bool
		comment string
	}{
		{1, 3119, true, "just under two days"}, {1, 3120, false, "two days"}, {10, 17159, true, "just under eleven days"}, {10, 17160, false, "eleven days"}, {1, 0, true, "it stood"}, {1, -1, false, "backward"},
	} {
		visit := func(date string, odometer int64) *record.Visit {
			return onVisit(t, date, fmt.Sprintf("tires: [{at: steer-left, tread: 9/32 in}]\nodometer: %d mi", odometer))
		}
		h := compare(t, visit("2026-01-01", 20000), visit(day("2026-01-01").AddDays(c.days).String(), 20000+c.miles))
		d, ok := h.Visits[1].Driven.Get()
		if ok != c.drives || ok && d != weight.Length(c.miles)*weight.Mile || contradicted(h, "odometer", "") == c.drives {
			t.Errorf("%d mi in %d days (%s): driven %s, %+v", c.miles, c.days, c.comment, h.Visits[1].Driven, h.Contradictions)
		}
	}
}

// leakRules are a shop's own: on a leak, and a question on how it stands to its mates'.
const leakRules = `  leak: {title: Leaks, subject: between_visits, measure: leak, at_most: 2 psi, action: plan, advice: Look., source: {grade: invented, title: a house rule}}
  more: {title: Leaks more, subject: between_visits, measure: leak_over_mates, at_most: 1 psi, action: plan, advice: Look., not_recorded: asked, ask: Read its mates., source: {grade: invented, title: a house rule}}
`

// TestLeaksAreHeldToTheRules: 9 psi in 90 days are 3 a month at one temperature, and each
// gauge may be 0.3 psi off, so 0.2 together (computed). What is kept or not known is
// nothing that was found, and the least bound that was asked is the limit.
func TestLeaksAreHeldToTheRules(t *testing.T) {
	t.Parallel()
	left := onVisit(t, "2026-01-01", "air_temperature: 60 F\ngauge_tolerance: 0.3 psi\nevery_tire: {hot: no}\ntires: [{at: steer-left, left: 100 psi}]")
	for found, want := range map[string]rules.Verdict{"91 psi": rules.Breached, "93.9 psi": rules.TooClose, "99 psi": 0} {
		read := onVisit(t, "2026-04-01", "air_temperature: 60 F\ngauge_tolerance: 0.3 psi\nevery_tire: {hot: no}\ntires: [{at: steer-left, found: "+found+"}]")
		h, err := history.Compare([]*record.Visit{left, read}, inspect.Setup{Program: visittest.Compile(t, leakRules)})
		if err != nil {
			t.Fatal(err)
		}
		var got rules.Verdict
		if len(h.Todo) > 0 {
			got = h.Todo[0].Verdict
		}
		if got != want || len(h.Todo) > 1 || len(h.Todo) == 1 && (h.Todo[0].Where != "steer-left" || h.Todo[0].What != "Leaks" || !slices.Equal(h.Todo[0].Rules, []string{"own/leak"})) {
			t.Errorf("found %s: %+v, want %s", found, h.Todo, want)
		}
		if limit, ok := h.LeakLimit.Get(); !ok || limit.String() != "2 psi" {
			t.Errorf("found %s: limit %s, want 2 psi", found, h.LeakLimit)
		}
	}
}

// TestLimitsOfTreadsByTheRules: those that ask for a least tread, one line a depth with
// all rules on it, the deepest first; a rule on the most tread is none.
func TestLimitsOfTreadsByTheRules(t *testing.T) {
	t.Parallel()
	rule := func(name, bound string) string {
		return "  " + name + ": {title: " + name + ", subject: tire, measure: tread, " + bound + ", action: plan, advice: Look., source: {grade: invented, title: a house rule}}\n"
	}
	program := visittest.Compile(t, rule("a", "at_least: 2/32 in")+rule("b", "at_least: 4/32 in")+rule("c", "more_than: 2/32 in")+rule("d", "at_most: 20/32 in")+rule("e", "less_than: 30/32 in"))
	visit := func(date, tread string) *record.Visit {
		return onVisit(t, date, "tires: [{at: steer-left, tread: "+tread+"}]")
	}
	h, err := history.Compare([]*record.Visit{visit("2026-01-01", "10/32 in"), visit("2026-07-01", "8/32 in")}, inspect.Setup{Program: program})
	if err != nil {
		t.Fatal(err)
	}
	w, ok := tireAt(t, h, "steer-left").Wear.Get()
	if !ok || len(w.Limits) != 2 || w.Limits[0].Depth != 4*record.ThirtySecond || !slices.Equal(w.Limits[0].Rules, []string{"own/b"}) ||
		w.Limits[1].Depth != 2*record.ThirtySecond || !slices.Equal(w.Limits[1].Rules, []string{"own/a", "own/c"}) {
		t.Errorf("limits %+v", w.Limits)
	}
}

// TestBurstCautionGoesWithWhatStops: and what takes a wheel off has its own.
func TestBurstCautionGoesWithWhatStops(t *testing.T) {
	t.Parallel()
	first := func(lines string) string {
		h := compare(t, onVisit(t, "2026-01-01", lines))
		return strings.Join(h.Cautions[:len(h.Cautions)-5], "\n")
	}
	for lines, want := range map[string][2]bool{
		"tires: [{at: steer-left, found: 100 psi, last_set: 100 psi, seen: nothing, tread: 9/32 in}]": {false, false},
		"tires: [{at: steer-left, seen: [bulge]}]":                                                    {true, true},
	} {
		text := first(lines)
		if got := [2]bool{strings.Contains(text, "burst"), strings.Contains(text, "Whenever a wheel comes off")}; got != want {
			t.Errorf("%s: burst and wheel off %v, want %v: %q", lines, got, want, text)
		}
	}
	if h := compare(t, onVisit(t, "2026-01-01", "tires: [{at: steer-left, seen: [bulge]}]")); h.Drive != report.MustNotMove {
		t.Errorf("%s", h.Drive)
	}
}

// TestAirSetsNoFlatRight: what ran low stays open when it was left at enough, at the
// same visit or the next, also where nobody says what it was found at; what air may set
// right is closed by it.
func TestAirSetsNoFlatRight(t *testing.T) {
	t.Parallel()
	const tires = "tires: [{at: steer-left, last_set: 100 psi, "
	for name, lines := range map[string][2]string{
		"left at once":   {tires + "found: 60 psi, left: 100 psi}]", tires + "found: 100 psi}]"},
		"left next time": {tires + "found: 60 psi}]", tires + "left: 100 psi}]"},
		"found and left": {tires + "found: 60 psi}]", tires + "found: 99 psi, left: 100 psi}]"},
	} {
		h := compare(t, onVisit(t, "2026-01-01", lines[0]), onVisit(t, "2026-02-01", lines[1]))
		if _, open := advisedBy(h.Open, "steer-left", "run-low"); !open || !h.Drive.Stops() {
			t.Errorf("%s: a flat is closed: %s, open %+v, closed %+v", name, h.Drive, h.Open, h.Closed)
		}
	}
	program := visittest.Compile(t, "  soft: {title: Soft, subject: tire, measure: found, at_least: 95 psi, action: plan, advice: Air it up., source: {grade: invented, title: a house rule}}\n")
	for second, closed := range map[string]bool{"left: 100 psi": true, "left: 94 psi": false, "tread: 9/32 in": false} {
		h, err := history.Compare([]*record.Visit{onVisit(t, "2026-01-01", tires+"found: 90 psi}]"), onVisit(t, "2026-02-01", tires+second+"}]")}, inspect.Setup{Program: program})
		if err != nil {
			t.Fatal(err)
		}
		if len(h.Closed) != 0 != closed || len(h.Open) == 0 != closed || closed && h.Closed[0].How != history.ClosedByLeftAt {
			t.Errorf("%s: open %+v, closed %+v", second, h.Open, h.Closed)
		}
	}
}

// TestNumbersThatTellNothing: of a tire whose number has no date, one that cannot be, or
// that does not fit the other sidewall's, nobody knows by its number whether it is the
// same; a whole one tells it.
func TestNumbersThatTellNothing(t *testing.T) {
	t.Parallel()
	for number, want := range map[string]bool{
		"number: 4B9AX3DEM1622": true, "number: 4B9AX3DEM1622, other_number: 4B9AX3DEM": true,
		"number: 1622": false, "number: 4B9AX3DEM6622": false, "number: 4B9AX3DEM5026": false, "number: 4B9AX3DEM1622, other_number: 4B9AX3DEN": false, "tread: 9/32 in": false,
	} {
		h := compare(t, onVisit(t, "2026-01-01", "tires: [{at: steer-left, "+number+"}]"), onVisit(t, "2026-02-01", "tires: [{at: steer-left, "+number+"}]"))
		followed := tireAt(t, h, "steer-left").ByNumber
		if followed != want {
			t.Errorf("%s: followed by it: %v, %+v", number, followed, h.Tires)
		}
	}
}
