package inspect_test

import (
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"reflect"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"axleend.example/dotcode"
	"axleend.example/inflation"
	"axleend.example/inspect"
	"axleend.example/inspect/record"
	"axleend.example/inspect/report"
	"axleend.example/internal/visittest"
	"axleend.example/rules"
	"axleend.example/rules/origin"
	"axleend.example/weight"
)

// worst is the action of the first that is to be done, empty where nothing was
// found.
func worst(r report.Report) report.Action {
	if len(r.Todo) == 0 {
		return ""
	}
	return r.Todo[0].Action
}

// has finds the entry of a rule for a place, whatever else is merged into it.
func has(r report.Report, where, rule string) (report.Item, bool) {
	for _, it := range r.Todo {
		for _, x := range it.Rules {
			if it.Where == where && (strings.HasSuffix(x, "/"+rule) || rule == "run-low" && strings.HasPrefix(x, "coach-care/run-")) {
				return it, true
			}
		}
	}
	return report.Item{}, false
}

func unjudged(r report.Report, where, part string) bool {
	for _, g := range r.Unjudged {
		if g.Where == where && strings.Contains(g.Need, part) {
			return true
		}
	}
	return false
}

func loadOf(t testing.TB, r report.Report, kind report.LoadKind, name string) report.LoadLine {
	t.Helper()
	if l := r.Load(name); l != nil && l.Kind == kind {
		return *l
	}
	t.Fatalf("no load line for %s", name)
	return report.LoadLine{}
}

// TestDemoTellsItsStory: gross and axles within their ratings and one end over
// half its axle; a tire at exactly 80 %; a pair 5/32 in apart, the deeper
// inside; a three-digit code; a pressure that was not taken.
func TestDemoTellsItsStory(t *testing.T) {
	v, setup := visittest.Demo(t)
	r, err := inspect.Assess(v, setup)
	if err != nil {
		t.Fatal(err)
	}
	if r.Drive != report.MustNotMove || r.Todo[0].Action != report.DoNotDrive || r.NotJudged != 4 {
		t.Errorf("drive %v, %+v, not judged %d", r.Drive, r.Todo, r.NotJudged)
	}
	// Left rear = left side - left front (common practice): 13340 - 4380.
	end := loadOf(t, r, report.EndLoad, "drive-left")
	if end.Estimate.Load != 8960*weight.Pound || end.Estimate.PlusMinus != 60*weight.Pound {
		t.Errorf("drive-left carries %s +/- %s", end.Estimate.Load, end.Estimate.PlusMinus)
	}
	for _, x := range []struct {
		kind    report.LoadKind
		name    string
		verdict rules.Verdict
	}{
		{report.EndLoad, "drive-left", rules.Breached},
		{report.EndLoad, "drive-right", rules.Kept},
		{report.AxleLoad, "steer", rules.Kept},
		{report.AxleLoad, "drive", rules.Kept},
		{report.CoachLoad, "coach", rules.Kept},
		{report.CombinationLoad, "combination", rules.Kept},
	} {
		l := loadOf(t, r, x.kind, x.name)
		if len(l.Ratings) != 1 || l.Ratings[0].Verdict != x.verdict {
			t.Errorf("%s: ratings %+v, want one that is %s", x.name, l.Ratings, x.verdict)
		}
	}
	for _, x := range []struct {
		where, rule string
		action      report.Action
	}{
		{"drive-left", "half-gawr", report.BeforeTrip},
		{"drive-right-inner", "run-low", report.DoNotDrive},
		{"drive-right-outer", "mate-run-low", report.DoNotDrive},
		{"drive-left", "dual-tread", report.BeforeTrip},
		{"drive-left", "shallower-inside", report.Plan},
		{"spare", "age-replace", report.BeforeTrip},
	} {
		it, ok := has(r, x.where, x.rule)
		if !ok || it.Action != x.action || it.Verdict != rules.Breached || len(it.Sources) == 0 {
			t.Errorf("%s %s: found %v, %+v", x.where, x.rule, ok, it)
		}
	}
	if !unjudged(r, "drive-left-inner", "cold pressure") {
		t.Errorf("the pressure that was not taken is not among %+v", r.Unjudged)
	}
	// Nobody is to be told to air up the flat or its mate.
	for _, at := range []string{"drive-right-inner", "drive-right-outer"} {
		if it, ok := has(r, at, "below-set"); ok {
			t.Errorf("%s is to be aired up: %+v", at, it)
		}
	}
	// The invented table: 4380 + 20 lb needs the 95 psi row (4460 lb single),
	// half of 8960 + 60 lb the 110 psi row (4540 lb dual).
	want := map[string]inflation.Pressure{"steer": 95 * inflation.PSI, "drive": 110 * inflation.PSI}
	for _, s := range r.Settings {
		if s.Set != want[s.Name] || s.Grounds.Table == "" {
			t.Errorf("%s: set %s from %+v", s.Name, s.Set, s.Grounds)
		}
	}
}

func TestReportReadsBackUnchangedAndIsStable(t *testing.T) {
	v, setup := visittest.Demo(t)
	for name, v := range map[string]*record.Visit{"demo": v, "bare": visittest.Read(t, bare("", "")), "metric": visittest.Read(t, metric)} {
		r, err := inspect.Assess(v, setup)
		if err != nil {
			t.Fatal(name, err)
		}
		first, err := json.Marshal(r)
		if err != nil {
			t.Fatal(name, err)
		}
		var back report.Report
		if err := json.Unmarshal(first, &back); err != nil {
			t.Fatal(name, err)
		}
		second, err := json.Marshal(back)
		if err != nil {
			t.Fatal(name, err)
		}
		if diff := cmp.Diff(string(first), string(second)); diff != "" {
			t.Errorf("%s: not the same after reading back:\n%s", name, diff)
		}
		for range 3 {
			again, err := inspect.Assess(v, setup)
			if err != nil {
				t.Fatal(err)
			}
			third, _ := json.Marshal(again)
			if string(third) != string(first) {
				t.Errorf("%s: the same visit gave two reports", name)
			}
		}
	}
}

const metric = `
visit: 1
units: metric
date: 2026-10-03
axles: [{id: steer, fitment: single, gawr: 4000 kg, placard: 655 kPa}, {id: drive, fitment: single}]
every_tire: {size: XV250/72R21, class: truck, single: 2240 kg at 760 kPa, seen: nothing}
tires:
  - {at: steer-left, found: 524 kPa, tread: 3.2 mm, number: 2222}
  - {at: steer-right, found: 655 kPa, tread: 3.1 mm, number: 2222}
weighing:
  scale: pads
  readings: [{load: 1900 kg, on: steer-left}, {load: 1950 kg, on: steer-right}]
`

// bare is a coach with duals; more is added at its end, ends are the readings.
func bare(more, tires string) string {
	out := `
visit: 1
date: 2026-10-03
axles:
  - {id: steer, fitment: single, gawr: 5000 lb}
  - {id: drive, fitment: dual, gawr: 10000 lb}
`
	if tires == "" {
		tires = "tires: [{at: steer-left, found: 95 psi}]\n"
	}
	return out + tires + more
}

// TestCheckValues runs whole visits against figures with their sources.
func TestCheckValues(t *testing.T) {
	end := func(load string) string {
		return "weighing: {scale: pads, tolerance: 0 lb, readings: [{load: " + load + ", tolerance: 0.01 lb, on: steer-left}]}\n"
	}
	dual := func(load string) string {
		return "weighing: {scale: pads, readings: [{load: " + load + ", tolerance: 0.01 lb, on: drive-left}]}\n"
	}
	tire := func(at, keys string) string { return "tires: [{at: " + at + ", " + keys + "}]\n" }
	pair := func(outer, inner string) string {
		return "tires: [{at: drive-left-outer, tread: " + outer + "}, {at: drive-left-inner, tread: " + inner + "}]\n"
	}
	for _, x := range []struct {
		name, text, where, rule string
		verdict                 rules.Verdict // 0: no entry
	}{
		// 5,000 lb axle, 2,500 lb an end (common practice).
		{"end under half", bare(end("2499.9 lb"), ""), "steer-left", "half-gawr", 0},
		{"end over half", bare(end("2500.1 lb"), ""), "steer-left", "half-gawr", rules.Breached},
		{"3,000 of 5,000 at one end", bare(end("3000 lb"), ""), "steer-left", "half-gawr", rules.Breached},
		// 10,000 lb dual axle, 5,000 lb an end (same).
		{"dual end under half", bare(dual("4999.9 lb"), ""), "drive-left", "half-gawr", 0},
		{"dual end over half", bare(dual("5000.1 lb"), ""), "drive-left", "half-gawr", rules.Breached},
		// Exactly 80 % is a flat, just over is not (common practice; 29 CFR
		// 1910.177(f) has exactly 80 % on the deflate side).
		{"80 %", bare("", tire("steer-left", "last_set: 95 psi, found: 76 psi")), "steer-left", "run-low", rules.Breached},
		{"just over 80 %", bare("gauge_tolerance: 0.5 psi\n", tire("steer-left", "last_set: 95 psi, found: 76.51 psi")), "steer-left", "run-low", 0},
		{"within the gauge's tolerance", bare("gauge_tolerance: 1 psi\n", tire("steer-left", "last_set: 95 psi, found: 76.9 psi")), "steer-left", "run-low", rules.Breached},
		{"empty", bare("", tire("steer-left", "last_set: 95 psi, found: 0 psi")), "steer-left", "run-low", rules.Breached},
		// Aired up since: the lowest counts (common practice).
		{"aired up", bare("", tire("steer-left", "last_set: 95 psi, found: 95 psi, lowest: 70 psi, air_added: yes")), "steer-left", "run-low", rules.Breached},
		{"aired up, low unknown", bare("", tire("steer-left", "last_set: 95 psi, found: 95 psi, air_added: yes")), "steer-left", "run-low", 0},
		// A hot reading can condemn, never clear (computed).
		{"hot and flat", bare("", tire("steer-left", "last_set: 95 psi, found: 76 psi, hot: yes")), "steer-left", "run-low", rules.Breached},
		{"hot and not flat", bare("", tire("steer-left", "last_set: 95 psi, found: 100 psi, hot: yes")), "steer-left", "run-low", 0},
		{"zero through an extension", bare("", tire("steer-left", "last_set: 95 psi, found: 0 psi, read_at: extension")), "steer-left", "run-low", 0},
		// Duals within 4/32 in, the shallower inside (common practice).
		{"4/32 apart", bare("", pair("12/32 in", "8/32 in")), "drive-left", "dual-tread", 0},
		{"just over 4/32", bare("", pair("12/32 in", "15/64 in")), "drive-left", "dual-tread", rules.Breached},
		{"shallower inside", bare("", pair("12/32 in", "10/32 in")), "drive-left", "shallower-inside", 0},
		{"deeper inside", bare("", pair("10/32 in", "12/32 in")), "drive-left", "shallower-inside", rules.Breached},
		// Tread, 49 CFR 393.75(b),(c).
		{"steer at 4/32", bare("", tire("steer-left", "tread: 4/32 in")), "steer-left", "tread-steer", 0},
		{"steer under 4/32", bare("", tire("steer-left", "tread: [9/32 in, 7/64 in]")), "steer-left", "tread-steer", rules.Breached},
		{"bald", bare("", tire("drive-left-outer", "tread: 0/32 in")), "drive-left-outer", "tread-other", rules.Breached},
		// Age by calendar dates (common practice): 4016 is the week of 2 October
		// 2016, ten years old on 2 October 2026; 4116 begins 9 October.
		{"ten years yesterday", bare("", tire("steer-left", "number: 4016")), "steer-left", "age-replace", rules.Breached},
		{"not yet ten", bare("", tire("steer-left", "number: 4116")), "steer-left", "age-replace", 0},
		{"three digits", bare("", tire("spare", "number: 439")), "spare", "age-replace", rules.Breached},
		{"bulge", bare("", tire("steer-left", "seen: bulge")), "steer-left", "seen-bulge", rules.Breached},
	} {
		t.Run(x.name, func(t *testing.T) {
			r := visittest.Assess(t, visittest.Read(t, x.text))
			it, ok := has(r, x.where, x.rule)
			if ok != (x.verdict != 0) || ok && it.Verdict != x.verdict {
				t.Errorf("%s for %s: found %v, %+v\nall: %+v", x.rule, x.where, ok, it, r.Todo)
			}
		})
	}
}

func TestWhatIsNotRecordedIsNotJudged(t *testing.T) {
	for _, x := range []struct{ name, tire, part string }{
		{"no pressure", "tread: 9/32 in", "cold pressure"},
		{"not reached", "found: 95 psi, read_at: not reached", "cold pressure"},
		{"zero through an extension", "found: 0 psi, read_at: extension", "cold pressure"},
		{"air added", "last_set: 95 psi, found: 95 psi, air_added: yes", "lowest pressure it was driven at"},
		{"hot", "last_set: 95 psi, found: 100 psi, hot: yes", "once it is cold"},
		{"nobody looked", "found: 95 psi", "a look at both sidewalls"},
		{"no code", "found: 95 psi", "date code"},
		{"partial number", "number: ABCDEF", "date code"},
	} {
		r := visittest.Assess(t, visittest.Read(t, bare("", "tires: [{at: steer-left, "+x.tire+"}]\n")))
		if !unjudged(r, "steer-left", x.part) {
			t.Errorf("%s: %q is not among %+v", x.name, x.part, r.Unjudged)
		}
		if r.NotJudged != len(r.Unjudged) {
			t.Errorf("%s: %d counted, %d listed", x.name, r.NotJudged, len(r.Unjudged))
		}
	}
	r := visittest.Assess(t, visittest.Read(t, bare("", "")))
	if !unjudged(r, "drive-left-inner", "none was written down") {
		t.Errorf("a tire left out is not among %+v", r.Unjudged)
	}
}

// TestPlacardQuestion: an axle all alike, above its need but under 80 % of the
// placard, is a question, not two flats (common practice).
func TestPlacardQuestion(t *testing.T) {
	text := `
visit: 1
date: 2026-10-03
axles: [{id: steer, fitment: single, gawr: 9000 lb, placard: 100 psi}]
every_tire: {class: light truck, single: 3640 lb at 95 psi}
tires: [{at: steer-left, found: %s}, {at: steer-right, found: 78 psi}]
weighing: {scale: pads, readings: [{load: 2000 lb, on: steer-left}, {load: 2000 lb, on: steer-right}]}
`
	r := visittest.Assess(t, visittest.Read(t, fmt.Sprintf(text, "78 psi")))
	if _, ok := has(r, "steer-left", "placard-question"); !ok || r.Drive.Stops() {
		t.Errorf("alike: question %v, stops %v: %+v", ok, r.Drive.Stops(), r.Todo)
	}
	r = visittest.Assess(t, visittest.Read(t, fmt.Sprintf(text, "70 psi")))
	if _, ok := has(r, "steer-left", "run-low"); !ok || !r.Drive.Stops() {
		t.Errorf("one lower: flat %v, stops %v", ok, r.Drive.Stops())
	}
}

// TestNoPressureCarriesIt: a load above the sidewall's is no question of
// pressure, and a table that does not fit sinks nothing else.
func TestNoPressureCarriesIt(t *testing.T) {
	v, setup := visittest.Demo(t)
	v.Weighing.Readings[1].Load += 1000 * weight.Pound
	r, err := inspect.Assess(v, setup)
	if err != nil {
		t.Fatal(err)
	}
	if it, ok := has(r, "drive", "no-pressure"); !ok || !it.Stops {
		t.Errorf("9,960 lb on duals good for 4,540 lb each: %v, %+v", ok, r.Todo)
	}
	v, setup = visittest.Demo(t)
	v.EveryTire.LoadRange = "J"
	if r, err = inspect.Assess(v, setup); err != nil || len(r.Tires) == 0 {
		t.Errorf("a load range the table does not serve: %v, %d tires", err, len(r.Tires))
	}
}

func TestFindingsDoNotSinkTheReport(t *testing.T) {
	more := `
weighing:
  scale: platform
  readings:
    - {name: left front, load: 2400 lb, on: steer-left}
    - {name: left side, load: 1900 lb, on: left}
`
	r := visittest.Assess(t, visittest.Read(t, bare(more, "tires: [{at: steer-left, number: \"54?O\", found: 95 psi}]\n")))
	var conflict, code bool
	for _, it := range r.Todo {
		conflict = conflict || strings.Contains(it.What, "contradict") && strings.Contains(it.Found, "left side")
		code = code || it.Where == "steer-left" && strings.Contains(it.What, "Date code")
	}
	if !conflict || !code {
		t.Errorf("conflict %v, code %v: %+v", conflict, code, r.Todo)
	}
	if len(r.Loads) == 0 || len(r.Tires) == 0 {
		t.Error("the rest of the report is missing")
	}
}

func TestTruckStopSlipLeavesEndsOpen(t *testing.T) {
	r := visittest.Assess(t, visittest.Read(t, `
visit: 1
date: 2026-10-03
ratings: {gvwr: 30000 lb, gcwr: 40000 lb}
axles:
  - {id: steer, fitment: single, gawr: 12000 lb}
  - {id: drive, fitment: dual, gawr: 20000 lb}
  - {id: tag, fitment: single, gawr: 9000 lb}
  - {id: car-front, fitment: single, towed: yes}
  - {id: car-rear, fitment: single, towed: yes}
weighing:
  scale: whole axles
  readings:
    - {name: steer plate, load: 11000 lb, on: steer}
    - {name: drive plate, load: 21000 lb, on: [drive, tag]}
    - {name: towed plate, load: 4000 lb, on: towed}
`))
	if e := loadOf(t, r, report.CoachLoad, "coach").Estimate; e.Load != 32000*weight.Pound {
		t.Errorf("coach %+v", e)
	}
	if e := loadOf(t, r, report.CombinationLoad, "combination").Estimate; e.Load != 36000*weight.Pound {
		t.Errorf("combination %+v", e)
	}
	for _, name := range []string{"drive", "tag"} {
		if e := loadOf(t, r, report.AxleLoad, name).Estimate; e.Known() {
			t.Errorf("%s is known from one plate: %+v", name, e)
		}
	}
	if l := loadOf(t, r, report.AxleLoad, "drive"); len(l.Settle) == 0 {
		t.Error("nothing said that would settle the drive axle")
	}
	if _, ok := has(r, "coach", "gvwr"); !ok || !r.Drive.Stops() {
		t.Error("32,000 lb on a GVWR of 30,000 lb does not stop the coach")
	}
	if !unjudged(r, "steer-left", "weigh it") {
		t.Errorf("an end that nobody weighed is judged: %+v", r.Unjudged)
	}
}

func TestReadVisitReportsEverythingAtOnce(t *testing.T) {
	for _, x := range []struct {
		name, text string
		want       []string
	}{
		{"many", "visit: 1\ndate: 2026-13-01\ncouch: x\naxles:\n  - {id: steer, fitment: single, gawr: 9000}\ntires:\n  - {at: steer-left, tread: 95 psi}\n", []string{
			`visit.yaml:2:7: date: `, `visit.yaml:3:1: unknown key "couch": did you mean "coach"?`,
			`visit.yaml:5:40: steer.gawr: `, `visit.yaml:7:29: steer-left.tread: `,
		}},
		{"twice", bare("", "tires:\n  - {at: steer-left}\n  - {at: steer-left}\n"), []string{`visit.yaml:9:10: steer-left.at: given twice: steer-left has an entry already`}},
		{"no such place", bare("", "tires:\n  - {at: steer-lefty}\n"), []string{`visit.yaml:8:10: steer-lefty.at: no such place on this coach: "steer-lefty": did you mean "steer-left"?`}},
		{"no such axle", bare("weighing: {readings: [{load: 1 lb, on: tag}]}\n", ""), []string{`weighing.tag.on: no such place on this coach: "tag"`}},
		{"twice on the plate", bare("weighing: {readings: [{load: 1 lb, on: [steer, steer-left]}]}\n", ""), []string{`"steer-left" is already on the plate`}},
		{"newer", "visit: 2\ndate: 2026-10-03\naxles: [{id: a, fitment: single}]\n", []string{`visit.yaml:1:8: visit: unknown version "2"`}},
		{"negative", bare("", "tires: [{at: steer-left, found: -1 psi}]\n"), []string{"must not be below zero"}},
		{"side as id", "visit: 1\ndate: 2026-10-03\naxles: [{id: steer-left, fitment: single}]\n", []string{"malformed axle id"}},
		{"no axles", "visit: 1\ndate: 2026-10-03\naxles: []\n", []string{"want at least one axle"}},
		{"condition", bare("", "tires: [{at: steer-left, seen: [buldge]}]\n"), []string{`did you mean "bulge"?`}},
		{"comma", "visit: 1\ndate: 2026-10-03\naxles: [{id: steer, fitment: single, gawr: 9,000 lb}]\n", []string{"a comma inside { } starts a new entry"}},
	} {
		t.Run(x.name, func(t *testing.T) {
			v, err := record.Read("visit.yaml", []byte(x.text))
			if v != nil || err == nil {
				t.Fatalf("got a visit, error %v", err)
			}
			var ps *origin.Problems
			if !errors.As(err, &ps) {
				t.Fatalf("not problems: %v", err)
			}
			for _, want := range x.want {
				if !strings.Contains(err.Error(), want) {
					t.Errorf("%q is not in:\n%v", want, err)
				}
			}
		})
	}
}

func TestNothingToJudge(t *testing.T) {
	v := visittest.Read(t, "visit: 1\ndate: 2026-10-03\naxles: [{id: steer, fitment: single}]\n")
	if _, err := inspect.Assess(v, inspect.Setup{}); !errors.Is(err, record.ErrNothing) {
		t.Errorf("error %v, want ErrNothing", err)
	}
	if _, err := inspect.Assess(&record.Visit{Version: 1, Date: dotcode.Date{Year: 2026, Month: 10, Day: 3}}, inspect.Setup{}); err == nil {
		t.Error("a visit without axles was assessed")
	}
}

func TestRecordedKeepsZeroApartFromAbsence(t *testing.T) {
	type doc struct {
		Found record.Recorded[inflation.Pressure] `json:"found,omitzero"`
		Tread record.Recorded[weight.Length]      `json:"tread,omitzero"`
	}
	for _, x := range []struct {
		in   doc
		want string
	}{
		{doc{}, `{}`},
		{doc{Found: record.Record(inflation.Pressure(0))}, `{"found":"0 psi"}`},
		{doc{Tread: record.Record(weight.Length(0))}, `{"tread":"0 in"}`},
		{doc{Tread: record.Record(4 * record.ThirtySecond)}, `{"tread":"4/32 in"}`},
	} {
		data, err := json.Marshal(x.in)
		if err != nil || string(data) != x.want {
			t.Errorf("%+v: %s, %v, want %s", x.in, data, err, x.want)
		}
		var back doc
		if err := json.Unmarshal(data, &back); err != nil || back != x.in {
			t.Errorf("%s reads back as %+v, %v", data, back, err)
		}
	}
	var r record.Recorded[weight.Mass]
	if err := json.Unmarshal([]byte("null"), &r); err != nil || r.Is() {
		t.Errorf("null is %v, %v", r, err)
	}
}

// TestVisitJSONIsAVisit: what the library writes, it reads, as JSON too.
func TestVisitJSONIsAVisit(t *testing.T) {
	v, _ := visittest.Demo(t)
	readsBack(t, v)
}

func readsBack(t *testing.T, v *record.Visit) {
	t.Helper()
	data, err := json.Marshal(v)
	if err != nil {
		t.Fatal(err)
	}
	back, err := record.Read("visit.json", data)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(v, back, cmp.Exporter(func(reflect.Type) bool { return true })); diff != "" {
		t.Error(diff)
	}
}

func BenchmarkAssessDemo(b *testing.B) {
	v, setup := visittest.Demo(b)
	var err error
	if setup.Program, err = inspect.DefaultProgram(); err != nil {
		b.Fatal(err)
	}
	b.Run("first", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			if _, err := inspect.Assess(v, setup); err != nil {
				b.Fatal(err)
			}
		}
	})
}

func FuzzReadVisit(f *testing.F) {
	data, err := os.ReadFile("../examples/demo/visit.yaml")
	if err != nil {
		f.Fatal(err)
	}
	f.Add(string(data))
	f.Add(metric)
	f.Add(bare("", ""))
	f.Add(bare("own: {gap: 1/4 in}\n", "tires: [{at: steer-left, own: {since_mounted: 180 mi, nuts_checked: no}}]\n"))
	f.Add(bare("stood: 2 h\ngauge: dial\n", "every_towed_tire: {sidewalls: outer}\ntires: [{at: steer-left, tread: {inner: 9/32 in, center: [8/32 in]}, wheel: not read, service: 125/123L, other_number: 22, in_sun: yes, cut_depth: 1 mm, injury_width: 1/8 in, injury_at: crown}]\n"))
	if data, err = (record.Blank{Date: dotcode.Date{Year: 2026, Month: 10, Day: 3}, Axles: []record.Axle{{ID: "steer", Fitment: weight.Single}}}).YAML(); err != nil {
		f.Fatal(err)
	}
	f.Add(string(data))
	f.Fuzz(func(t *testing.T, text string) {
		v, err := record.Read("visit.yaml", []byte(text))
		if err != nil {
			return
		}
		r, err := inspect.Assess(v, inspect.Setup{})
		if err != nil {
			return
		}
		data, err := json.Marshal(r)
		if err != nil {
			t.Fatal(err)
		}
		var back report.Report
		if err := json.Unmarshal(data, &back); err != nil {
			t.Fatal(err)
		}
	})
}
