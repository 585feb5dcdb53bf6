package sheet_test

import (
	"bytes"
	"encoding/json"
	"encoding/xml"
	"errors"
	"fmt"
	"html"
	"io"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"axleend.example/inflation"
	"axleend.example/inflation/tablefile"
	"axleend.example/inspect"
	"axleend.example/inspect/history"
	"axleend.example/inspect/record"
	"axleend.example/inspect/record/condition"
	"axleend.example/inspect/report"
	"axleend.example/inspect/sheet"
	"axleend.example/weight"
)

// The three visits that the sheet is looked at with; all are invented.
var demos = []string{"../../examples/demo/visit.yaml", "testdata/three-axle.yaml", "testdata/one-pressure.yaml"}

func assess(t testing.TB, name string, data []byte, tables inflation.Tables) report.Report {
	t.Helper()
	v, err := record.Read(name, data)
	if err != nil {
		t.Fatal(err)
	}
	r, err := inspect.Assess(v, inspect.Setup{Tables: tables})
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func demo(t testing.TB, file string) report.Report {
	t.Helper()
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	tables, err := tablefile.LoadFolder(os.DirFS(filepath.Dir(file)))
	if err != nil {
		t.Fatal(err)
	}
	return assess(t, file, data, tables)
}

func page1(t testing.TB, r report.Report) string {
	t.Helper()
	return render(t, r, sheet.HTMLOptions{OneSheet: true})
}

func render(t testing.TB, r report.Report, opt sheet.HTMLOptions) string {
	t.Helper()
	var b bytes.Buffer
	if err := sheet.HTML(&b, r, opt); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

var tag = regexp.MustCompile(`(?s)<style>.*?</style>|<[^>]*>`)

// words is a page without its markup, its spaces single.
func words(page string) string {
	return strings.Join(strings.Fields(html.UnescapeString(tag.ReplaceAllString(page, " "))), " ")
}

// crowded is a three-axle coach towing a car, on which every tire has every
// condition there is.
func crowded(t testing.TB) report.Report {
	t.Helper()
	var all []string
	for c := condition.ExposedCord; c <= condition.DiagonalWear; c++ {
		all = append(all, c.String())
	}
	var b strings.Builder
	b.WriteString("visit: 1\ndate: 2026-10-03\ncoach: Invented\naxles: [{id: steer, fitment: single, placard: 100 psi}, {id: drive, fitment: dual, placard: 100 psi}, " +
		"{id: tag, fitment: single, placard: 100 psi}, {id: car-front, fitment: single, towed: yes}, {id: car-rear, fitment: single, towed: yes}]\ntires:\n")
	for i, at := range []string{"steer-left", "steer-right", "drive-left-outer", "drive-left-inner", "drive-right-inner", "drive-right-outer",
		"tag-left", "tag-right", "car-front-left", "car-front-right", "car-rear-left", "car-rear-right", "spare"} {
		fmt.Fprintf(&b, "  - {at: %s, last_set: 100 psi, found: %d psi, tread: %d/32 in, number: %d, crack_depth: 3/32 in, seen: [%s]}\n",
			at, 40+i, i%4, 1310+i, strings.Join(all, ", "))
	}
	return assess(t, "crowded.yaml", []byte(b.String()), inflation.Tables{})
}

func everyReport(t testing.TB) map[string]report.Report {
	t.Helper()
	out := map[string]report.Report{"crowded": crowded(t), "metric": assess(t, "metric.yaml", []byte(metric), inflation.Tables{})}
	for _, file := range demos {
		out[filepath.Base(filepath.Dir(file))+"/"+filepath.Base(file)] = demo(t, file)
	}
	return out
}

// TestFirstPageHasEverythingInOrder: the order that a technician reads in.
func TestFirstPageHasEverythingInOrder(t *testing.T) {
	for name, r := range everyReport(t) {
		page := page1(t, r)
		steps := []string{"<h1", `class="facts"`, "<dt>Date", "<dt>Odometer", "<dt>Loaded", "<dt>Air", "<dt>Gauge", `class="verdict`, "NOT JUDGED: " + strconv.Itoa(r.NotJudged)}
		if r.Drive.Stops() {
			steps = append(steps, "What must not move, and what to do now")
		}
		steps = append(steps, "Cold pressure to SET", "<svg", "driver&#39;s LEFT", "Before the trip", "At the next service")
		if strings.Contains(page, "Page 1 of 2") {
			steps = append(steps, "Tires", "Full number", "Page 1 of 2")
		} else { // too full for its tires, which then are first on the back
			steps = append(steps, "Page 2 has every tire as found", `id="page-2"`, "Tires", "Full number", "What to do, in full")
		}
		steps = append(steps, "Not judged", "Cautions", "To cut out", "torque and order", "signature")
		if r.NotJudged == 0 {
			t.Fatalf("%s: everything was judged; choose another visit", name)
		}
		at := strings.Index(page, "<body>")
		for _, s := range steps {
			i := strings.Index(page[at:], s)
			if i < 0 {
				t.Errorf("%s: %q is not on the page, or not after what comes before it", name, s)
				continue
			}
			at += i
		}
		for _, tire := range r.Tires {
			if !strings.Contains(page, `<th scope="row">`+tire.At) {
				t.Errorf("%s: %s is not on the first page", name, tire.At)
			}
			if tire.Number != "" && !strings.Contains(page, "<td>"+tire.Number) {
				t.Errorf("%s: the number of %s is not on the first page", name, tire.At)
			}
		}
	}
}

// TestDemoSheetSaysWhatTheReportSays: one number an axle, and beside it the
// tires that nobody may air up.
func TestDemoSheetSaysWhatTheReportSays(t *testing.T) {
	r := demo(t, demos[0])
	text := words(page1(t, r))
	for _, want := range []string{
		"DO NOT DRIVE: drive-right (both) It stays here", "NOT JUDGED: " + strconv.Itoa(r.NotJudged),
		"steer placard 100 psi SET 95 psi", "drive SET 110 psi DO NOT AIR UP drive-right-inner, drive-right-outer",
		"drive-right-inner 88 psi +/- 0.5 psi: Flat: ", "8,960 lb +/- 60", "OVER by up to 270 lb", "end limit 8,750 lb each tire 4,480 lb",
		"drive-right-inner FLAT: NO AIR 88 psi 8/32 in 1819", "drive-left-inner NO AIR YET not taken 12/32 in 0523",
		"2029-05-05: 10 years old: drive-left-outer, drive-right-inner, drive-right-outer", "To read: drive-left-inner - its cold pressure, read at the stem",
		"steer SET 95 psi drive SET 110 psi Set at 60 F, the gauge reads cold:", "Low alarm of a monitor: steer 86 psi, drive 99 psi",
		"Room left: steer-left 60 lb (7 gal of water), ", "drive-left NONE", "not on its own wheels. drive-right-inner, drive-right-outer must carry nothing",
		"Buy for drive: 4 tires of XV250/72R21. Dual load index 133 or higher (4,510 lb on each).", "2026-10-04: Check the wheel nuts again",
		"Odometer 41,250 mi", "+/- 0.5 psi", "does not say that a coach is safe",
	} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is not on the page:\n%s", want, text)
		}
	}
}

// TestEveryTireMeansEveryTire: thirteen names are said in two words, and only
// where it is all of them.
func TestEveryTireMeansEveryTire(t *testing.T) {
	r := crowded(t)
	r.Todo = slices.Clone(r.Todo)
	for i := range r.Todo {
		if it := &r.Todo[i]; it.What == "Bulge" && it.Where == "spare" { // by a pack of somebody's own
			it.Action, it.Stops = report.DoNotDrive, true
		}
	}
	if text := words(page1(t, r)); !strings.Contains(text, "every tire : Bulge.") {
		t.Errorf("the bulges on every tire are not said so: %s", text)
	} else if strings.Count(text, "DO NOT AIR UP ANY TIRE OF THIS AXLE") != 5 {
		t.Errorf("five axles are to be left alone: %s", text)
	}
	for i, it := range r.Todo {
		if it.What == "Bulge" && it.Where == "spare" {
			r.Todo = slices.Delete(slices.Clone(r.Todo), i, i+1)
			break
		}
	}
	if text := words(page1(t, r)); !strings.Contains(text, "every tire but the spare : Bulge.") || strings.Contains(text, "every tire : Bulge.") {
		t.Errorf("the spare has no bulge now: %s", text)
	}
	for i, it := range r.Todo {
		if it.What == "Bulge" {
			r.Todo = slices.Delete(slices.Clone(r.Todo), i, i+1)
			break
		}
	}
	if text := words(page1(t, r)); strings.Contains(text, "every tire but the spare : Bulge.") || strings.Contains(text, "every tire : Bulge.") {
		t.Errorf("one more has no bulge now: %s", text)
	}
}

var moreLine = regexp.MustCompile(`and (\d+) more in the details`)

// TestWhatMovesToTheDetailsIsCounted: what a list shows and what it says is
// elsewhere add up to what there is, and the details have all of it.
func TestFrontHasEveryTitleAndTheBackTheRest(t *testing.T) {
	for name, r := range everyReport(t) {
		page := render(t, r, sheet.HTMLOptions{})
		first, details, ok := strings.Cut(page, `id="details"`)
		if !ok {
			t.Fatalf("%s: no details", name)
		}
		front, back, _ := strings.Cut(first, `id="page-2"`)
		onFront, onBack := words(front), words(back)
		for _, it := range r.Todo {
			if it.Action != report.Plan && !strings.Contains(onFront, it.What) {
				t.Errorf("%s: %q is not on the front", name, it.What)
			}
			for _, want := range []string{it.What, it.Advice} {
				if text := onFront + onBack; !strings.Contains(text, strings.Join(strings.Fields(want), " ")) {
					t.Errorf("%s: %q is neither on the front nor on the back", name, want)
				}
			}
		}
		if moreLine.MatchString(first) {
			t.Errorf("%s: something was left off", name)
		}
		if sign := strings.Index(onBack, "signature"); sign < strings.LastIndex(onBack, "Cautions") || sign < strings.Index(onBack, "What to do, in full") {
			t.Errorf("%s: something comes after the signature", name)
		}
		text := words(details)
		for _, it := range r.Todo {
			for _, want := range []string{it.What, it.Where, it.Found, it.Bound, it.Advice} {
				if !strings.Contains(text, strings.Join(strings.Fields(want), " ")) {
					t.Errorf("%s: %q is not in the details", name, want)
				}
			}
			for _, s := range it.Sources {
				if !strings.Contains(text, s.String()) {
					t.Errorf("%s: the source %s is not in the details", name, s)
				}
			}
		}
		for _, g := range r.Unjudged {
			if !strings.Contains(text, g.Need) {
				t.Errorf("%s: %q is not in the details", name, g.Need)
			}
		}
		for _, l := range r.Readings {
			if !strings.Contains(text, l.Name) {
				t.Errorf("%s: the reading %q is not in the details", name, l.Name)
			}
		}
	}
}

// TestPageIsWellFormed walks every element: balanced, no script, nothing to
// fetch, a scope on every table heading, words for every drawing.
func TestPageIsWellFormed(t *testing.T) {
	for name, r := range everyReport(t) {
		page := render(t, r, sheet.HTMLOptions{})
		if len(page) > 200_000 {
			t.Errorf("%s: %d bytes, want at most 200,000", name, len(page))
		}
		wellFormed(t, name, page)
	}
	for name, h := range map[string]history.History{"demo": demoHistory(t, "spring", "summer", "autumn"), "six visits": sixVisits(t), "one visit": demoHistory(t, "summer")} {
		var b bytes.Buffer
		if err := sheet.HistoryHTML(&b, h); err != nil {
			t.Fatal(err)
		}
		wellFormed(t, "history, "+name, b.String())
	}
}

func wellFormed(t *testing.T, name, page string) {
	t.Helper()
	dec := xml.NewDecoder(strings.NewReader(page))
	dec.Strict, dec.AutoClose, dec.Entity = false, xml.HTMLAutoClose, xml.HTMLEntity
	ids := make(map[string]bool)
	count := make(map[string]int)
	for {
		token, err := dec.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		el, ok := token.(xml.StartElement)
		if !ok {
			continue
		}
		count[el.Name.Local]++
		attr := make(map[string]string)
		for _, a := range el.Attr {
			attr[a.Name.Local] = a.Value
			if strings.HasPrefix(a.Name.Local, "on") || a.Name.Local == "style" {
				t.Errorf("%s: attribute %s", name, a.Name.Local)
			}
		}
		switch el.Name.Local {
		case "script", "iframe", "object", "img", "form", "base":
			t.Errorf("%s: an element %s", name, el.Name.Local)
		case "link":
			if attr["href"] != "data:," {
				t.Errorf("%s: a link to %s", name, attr["href"])
			}
		case "th":
			if attr["scope"] == "" {
				t.Errorf("%s: a table heading without scope", name)
			}
		case "html":
			if attr["lang"] != "en" {
				t.Errorf("%s: lang %q", name, attr["lang"])
			}
		case "svg":
			if attr["role"] != "img" || attr["aria-labelledby"] == "" {
				t.Errorf("%s: a drawing without words: %v", name, attr)
			}
		}
		if id := attr["id"]; id != "" {
			if ids[id] {
				t.Errorf("%s: id %s twice", name, id)
			}
			ids[id] = true
		}
	}
	if count["h1"] != 1 || count["title"] < 2 || count["desc"] != count["svg"] || count["main"] != 1 {
		t.Errorf("%s: elements %v", name, count)
	}
	if strings.Contains(page, "http:") && !strings.Contains(page, `xmlns="http://www.w3.org/2000/svg"`) || strings.Contains(page, "url(http") || strings.Contains(page, "@import") {
		t.Errorf("%s: something to fetch", name)
	}
}

// TestDrawingSaysItInWords: the plan view's description has each end's load
// and verdict.
func TestDrawingSaysItInWords(t *testing.T) {
	page := page1(t, demo(t, demos[1]))
	_, rest, _ := strings.Cut(page, `<desc id="d0">`)
	desc, _, _ := strings.Cut(rest, "</desc>")
	for _, want := range []string{
		"steer axle, single tires; left end: 6,239 lb +/- 21, TOO CLOSE TO CALL, end limit 6,250 lb, MUST NOT MOVE, steer-left found 114 psi; right end: 5,699 lb +/- 21, within, room 530 lb",
		"drive axle, dual; left end: 9,459 lb +/- 21, within, room 520 lb, end limit 10,000 lb, each tire 4,730 lb, NO AIR outer, inner, drive-left-outer found 104 psi",
		"tag axle", "car-front (towed) axle, single tires; left end: load not known",
	} {
		if !strings.Contains(desc, want) {
			t.Errorf("%q is not in %q", want, desc)
		}
	}
	for _, want := range []string{`class="tire close"`, `class="tire noair"`, `class="tire stop"`, "end too close to call", "do not air up", "must not move"} {
		if !strings.Contains(page, want) {
			t.Errorf("%q is not in the drawing", want)
		}
	}
	if strings.Contains(page, `class="tire over"`) {
		t.Error("an end is marked as over, and none is")
	}
}

// TestCurveMarksTheEnds: the demo's table runs from 3,950 lb at 80 psi, and
// its steer axle's left end of 4,380 +/- 20 lb stands at 4,400 lb.
func TestCurveMarksTheEnds(t *testing.T) {
	page := render(t, demo(t, demos[0]), sheet.HTMLOptions{})
	for _, want := range []string{
		"On one tire the table carries 3,950 lb at 80 psi and 4,940 lb at 110 psi. left: 4,400 lb. right: 4,140 lb. To set: 95 psi.",
		"On one tire the table carries 3,630 lb at 80 psi and 4,540 lb at 110 psi. left: 4,510 lb. right: 3,980 lb. To set: 110 psi.",
		`<tr><th scope="row">95 psi</th><td class="short">4,460 lb</td><td class="short">SET</td></tr>`,
	} {
		if !strings.Contains(page, want) {
			t.Errorf("%q is not on the page", want)
		}
	}
	if n := strings.Count(page, `class="stairs"`); n != 2 {
		t.Errorf("%d curves, want 2", n)
	}
}

// TestNothingRecordedClearsNothing: a sheet of which almost nothing was
// written down praises nothing.
func TestNothingRecordedClearsNothing(t *testing.T) {
	r := demo(t, demos[2])
	text := words(render(t, r, sheet.HTMLOptions{}))
	for _, want := range []string{"BEFORE THE TRIP: steer (both), drive (all tires), coach", "NOT JUDGED: " + strconv.Itoa(r.NotJudged), "NO NUMBER: read the placard first", "steer-left NO AIR YET 92 psi", "load not known", "Not weighed.", "Coach: name not recorded"} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is not on the page", want)
		}
	}
	if strings.Contains(text, "SET 0") {
		t.Error("a pressure of nothing")
	}
	for name, r := range everyReport(t) {
		text := strings.ReplaceAll(strings.ToLower(words(render(t, r, sheet.HTMLOptions{}))), "does not say that a coach is safe", "")
		for _, bad := range []string{"is safe", " safe ", " pass ", "passed", "all good", " ok ", "approved"} {
			if strings.Contains(text, bad) {
				t.Errorf("%s: %q stands on the page", name, bad)
			}
		}
	}
}

// TestTowedCarNobodyLookedAt stands in the drawing, without a pressure.
func TestTowedCarNobodyLookedAt(t *testing.T) {
	text := "visit: 1\ndate: 2026-10-03\naxles: [{id: steer, fitment: single}, {id: car, fitment: single, towed: yes}]\ntires: [{at: steer-left, found: 90 psi}]\n"
	page := page1(t, assess(t, "v.yaml", []byte(text), inflation.Tables{}))
	if !strings.Contains(page, "car (towed)") || !strings.Contains(page, `class="tire unseen"`) || !strings.Contains(page, "not looked at") {
		t.Error("the towed car is not drawn as not looked at")
	}
	if strings.Count(page, `class="body"`) != 2 || strings.Count(page, `class="shaft"`) != 3 {
		t.Error("want a coach and a car drawn, their two axles and what is between")
	}
	if strings.Count(page, `<div class="card`) != 1 {
		t.Error("want one axle's pressure to set, the steer axle's")
	}
}

const hostile = `</style><script>alert(1)</script><img src=x onerror=alert(1)>"'&{{.}}`

// withText is the report with a text wherever a text can stand.
func withText(r report.Report, text string) report.Report {
	r.Coach, r.LoadState = text, text
	r.Tires = slices.Clone(r.Tires)
	for i := range r.Tires {
		r.Tires[i].Note, r.Tires[i].Number, r.Tires[i].Size = text, text, text
	}
	r.Readings = slices.Clone(r.Readings)
	for i := range r.Readings {
		r.Readings[i].Name = text
	}
	r.Todo = slices.Clone(r.Todo)
	for i := range r.Todo {
		it := &r.Todo[i]
		it.What, it.Advice, it.Found, it.Where, it.Rules = text, text, text, text, []string{text}
	}
	r.Settings = slices.Clone(r.Settings)
	for i := range r.Settings {
		r.Settings[i].Grounds.Table, r.Settings[i].Grounds.Source.Title = text, text
	}
	r.Unjudged = append(slices.Clone(r.Unjudged), report.NotJudged{Where: text, Need: text, Rules: []string{text}})
	r.Cautions = append(slices.Clone(r.Cautions), text)
	r.Packs = append(slices.Clone(r.Packs), text)
	r.Axles = slices.Clone(r.Axles)
	r.Axles[0].ID = text
	return r
}

// TestAllTextIsEscaped: no text of a report becomes markup, wherever it
// stands; and what turns the direction of text around is gone.
func TestAllTextIsEscaped(t *testing.T) {
	r := withText(demo(t, demos[0]), hostile)
	page := render(t, r, sheet.HTMLOptions{})
	for _, bad := range []string{"<script", "<img", "onerror=alert(1)>", `"'&{{`} {
		if strings.Contains(page, bad) {
			t.Errorf("%q stands on the page as it is", bad)
		}
	}
	if n := strings.Count(page, "&lt;script&gt;"); n < 40 {
		t.Errorf("the text stands escaped in %d places, want at least 40", n)
	}
	r.Coach = "left\u202eright\x1b[31m\nnext"
	if page := page1(t, r); strings.Contains(page, "\u202e") || strings.Contains(page, "\x1b") {
		t.Error("a control character stands on the page")
	}
}

// TestReportCarriesWhatTheSheetDraws: a report read back from its JSON gives
// the same page, and the same report always does.
func TestReportCarriesWhatTheSheetDraws(t *testing.T) {
	for name, r := range everyReport(t) {
		data, err := json.Marshal(r)
		if err != nil {
			t.Fatal(err)
		}
		var back report.Report
		if err := json.Unmarshal(data, &back); err != nil {
			t.Fatal(err)
		}
		page := render(t, r, sheet.HTMLOptions{})
		if page != render(t, back, sheet.HTMLOptions{}) {
			t.Errorf("%s: another page from the report's JSON", name)
		}
		if page != render(t, r, sheet.HTMLOptions{}) {
			t.Errorf("%s: two pages from one report", name)
		}
		if one := page1(t, r); strings.Contains(one, `id="details"`) || len(one) >= len(page) {
			t.Errorf("%s: the one page has details", name)
		}
	}
}

// TestOwnActionIsNotLost: an action of somebody's own vocabulary stands under
// its name; one that stops the coach under what must not move.
func TestOwnActionIsNotLost(t *testing.T) {
	r := demo(t, demos[0])
	r.Todo = append(slices.Clone(r.Todo), report.Item{Action: "call_the_yard", Where: "spare", What: "Somebody's own rule", Advice: "Call."},
		report.Item{Action: "park_it", Stops: true, Where: "spare", What: "Somebody's own stop", Advice: "Park it."})
	text := words(page1(t, r))
	now, rest, _ := strings.Cut(text, "Cold pressure to SET, one number")
	if !strings.Contains(now, "PARK IT spare : Somebody's own stop. Park it.") {
		t.Errorf("the action that stops is not under what must not move: %s", now)
	}
	if !strings.Contains(rest, "CALL THE YARD spare : Somebody's own rule.") {
		t.Errorf("the action is not on the page: %s", rest)
	}
}

type full struct{}

func (full) Write([]byte) (int, error) { return 0, errFull }

var errFull = errors.New("no space left")

func TestHTMLGivesTheWritersError(t *testing.T) {
	if err := sheet.HTML(full{}, demo(t, demos[0]), sheet.HTMLOptions{}); !errors.Is(err, errFull) {
		t.Errorf("%v, want %v", err, errFull)
	}
}

// FuzzPages: any text and any figure in a report gives pages, without panic,
// on which no text became markup and none steers the terminal.
func FuzzPages(f *testing.F) {
	f.Add(hostile, int64(0), int64(0), uint8(0))
	f.Add("", int64(1)<<62, int64(1)<<62, uint8(1))
	f.Add("\x1b[2J\u202e\xff", int64(-1)<<62, int64(-1)<<62, uint8(2))
	f.Add("移動 {{.}} &amp; ]]> -->", int64(math.MaxInt64), int64(math.MinInt64), uint8(3))
	f.Add("<SCRIPT", int64(weight.Pound), int64(inflation.PSI), uint8(4))
	reports := []report.Report{demo(f, demos[0]), demo(f, demos[1]), demo(f, demos[2])}
	f.Fuzz(func(t *testing.T, text string, load, pressure int64, pick uint8) {
		r := withText(reports[int(pick)%len(reports)], text)
		r.System = weight.System(pick / 3 % 2)
		m, p := weight.Mass(load), inflation.Pressure(pressure)
		r.Axles[0].ID = r.Settings[0].Name
		r.Axles[0].Rows = []inflation.Row{{Pressure: 80 * inflation.PSI, Load: 100 * weight.Pound}, {Pressure: p, Load: m}, {Pressure: p / 2, Load: m / 2}}
		s := &r.Settings[0]
		s.Set, s.Minimum, s.TireLoad, s.Outcome = p, p, m, inflation.Outcome(pick%5)
		s.Left.Load = inflation.Load{Load: m, PlusMinus: m, State: inflation.Weighed}
		s.Short = []inflation.Shortfall{{Side: weight.Side(pick % 4), Over: m}}
		r.Loads = slices.Clone(r.Loads)
		for i := range r.Loads {
			r.Loads[i].Estimate.Load, r.Loads[i].Estimate.PlusMinus = m, m
		}
		r.Tires[0].Found, r.Tires[0].Tread, r.Tires[0].Side = record.Record(p), record.Record(weight.Length(load)), weight.Side(pick)
		r.Tires[0].MadeBefore, r.Tires[0].Made = r.Date, nil
		page := strings.ToLower(render(t, r, sheet.HTMLOptions{}))
		if strings.Contains(page, "<script") || strings.Contains(page, "<img") || strings.Count(page, "<style") != 1 {
			t.Errorf("text became markup")
		}
		for line := range strings.Lines(sheet.Text(r, sheet.TextOptions{Full: true})) {
			if strings.ContainsAny(strings.TrimSuffix(line, "\n"), "\x1b\r\x00\u202e") {
				t.Errorf("a control character in %q", line)
			}
		}
	})
}

func BenchmarkHTML(b *testing.B) {
	for _, x := range []struct {
		name, file string
		opt        sheet.HTMLOptions
	}{{"demo", demos[0], sheet.HTMLOptions{}}, {"three-axle", demos[1], sheet.HTMLOptions{}}, {"three-axle-one-page", demos[1], sheet.HTMLOptions{OneSheet: true}}} {
		b.Run(x.name, func(b *testing.B) {
			r := demo(b, x.file)
			b.ReportAllocs()
			n := 0
			for b.Loop() {
				var w counter
				if err := sheet.HTML(&w, r, x.opt); err != nil {
					b.Fatal(err)
				}
				n = int(w)
			}
			b.ReportMetric(float64(n), "bytes/page")
		})
	}
}

type counter int

func (c *counter) Write(p []byte) (int, error) {
	*c += counter(len(p))
	return len(p), nil
}
