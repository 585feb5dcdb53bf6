package sheet_test

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"unicode/utf8"

	"axleend.example/dotcode"
	"axleend.example/inflation/tablefile"
	"axleend.example/inspect"
	"axleend.example/inspect/history"
	"axleend.example/inspect/record"
	"axleend.example/inspect/report"
	"axleend.example/inspect/sheet"
	"axleend.example/internal/visittest"
)

func demoHistory(t testing.TB, names ...string) history.History {
	t.Helper()
	return historyOf(t, "../../examples/demo/history/", names...)
}

// sixVisits are those to an invented coach with ten tires.
func sixVisits(t testing.TB) history.History {
	t.Helper()
	return historyOf(t, "testdata/history/", "1", "2", "3", "4", "5", "6")
}

func historyOf(t testing.TB, folder string, names ...string) history.History {
	t.Helper()
	tables, err := tablefile.LoadFolder(os.DirFS("../../examples/demo"))
	if err != nil {
		t.Fatal(err)
	}
	paths := make([]string, len(names))
	for i, name := range names {
		paths[i] = folder + name + ".yaml"
	}
	visits := visittest.Files(t, paths...)
	h, err := history.Compare(visits, inspect.Setup{Tables: tables})
	if err != nil {
		t.Fatal(err)
	}
	return h
}

// TestHistoryText reads the invented demo as a technician would. The figures
// are worked out by hand from the three files:
// steer-left wore 10/32 to 8/32 in, less or more 1/32, in 41,250 - 35,900 =
// 5,350 mi: 1/5.35 = 0.186 and 3/5.35 = 0.561 of 1/32 in per 1,000 mi, apart.
// drive-left-inner, left at 110 psi in 80 F, would read 105.38 in 60 F
// (124.696 x 519.67/539.67 - 14.696) and read 95.5: 9.88 in 91 days is 3.26 a
// month; its gauge may be off 0.98 in 91 days, so 0.33, shown up to 0.4.
func TestHistoryText(t *testing.T) {
	text := sheet.HistoryText(demoHistory(t, "spring", "summer", "autumn"), sheet.TextOptions{Full: true})
	for i, line := range strings.Split(text, "\n") {
		if n := utf8.RuneCountInString(line); n > 80 || strings.TrimRight(line, " ") != line {
			t.Errorf("line %d, %d columns: %q", i+1, n, line)
		}
	}
	page := strings.Join(strings.Fields(text), " ")
	for _, want := range []string{
		"BEFORE THE TRIP: 13 things still open, 2 not judged", "Invented example",
		"3 visits, from 2026-04-11 to 2026-10-03, about 918 mi a month", // 5,350 x 30/175 = 917.1, up
		"The visit before was on 2026-07-04, 2,550 mi ago.",
		"drive-left-inner lost 3.3 +/- 0.4 psi a month: Loses more air than its mates.",
		"The first tire at a tread limit is steer-left", "drive-left has grown by 200 +/- 120 lb",
		"worn 1 to 3/32 in from 2026-04-11 to 2026-10-03 (5,350 mi): 0.18 to 0.57/32 in per 1,000 mi",
		"moved from steer-right to steer-left by 2026-10-03",
		"at that pace 4/32 in is reached after 6,200 to 24,000 mi, between 2027-04-25 and 2028-11-28", // 5,350 x 3.5/3 and x 4.5/1
		"Flat: run at 20 % or more below what its load needs (since 2026-07-04): tire replaced",
		"done, demounted and inspected by the tire shop",
		"Not found on 2026-10-03, but it does not go away by itself",
		"PLAN - drive-left: The deeper tire of the pair runs inside", "found 3 times, last on 2026-10-03",
		"drive-right-inner (4B9AX3DEM1822): replaced, last seen 2026-07-04",
		"this page does not say that a coach is safe",
	} {
		if !strings.Contains(page, want) {
			t.Errorf("%q is not on the page:\n%s", want, text)
		}
	}
	if since := sheet.SinceLastVisit(demoHistory(t, "summer", "spring", "autumn")); !strings.Contains(strings.Join(strings.Fields(text), " "), since) || strings.Contains(since, "\n") {
		t.Errorf("%q is not on the page", since)
	}
}

// TestShortHistoryExplainsHalfGAWR: once, where an end was weighed and rated.
func TestShortHistoryExplainsHalfGAWR(t *testing.T) {
	h := sixVisits(t)
	const words = "half GAWR: each end of an axle"
	if text := sheet.HistoryText(h, sheet.TextOptions{}); strings.Count(text, words) != 1 {
		t.Errorf("%q does not stand once on the page:\n%s", words, text)
	}
	h.Weighed = nil
	if text := sheet.HistoryText(h, sheet.TextOptions{}); strings.Contains(text, words) {
		t.Errorf("%q stands on a page without loads:\n%s", words, text)
	}
}

// TestAPaceThatNoProbeShowsIsNotKnown: where the last probe is a step deeper than the first
// nothing can have worn, and no limit is reached at that pace.
func TestAPaceThatNoProbeShowsIsNotKnown(t *testing.T) {
	t.Parallel()
	probed := func(date, odometer, tread string) *record.Visit {
		v, err := record.Read("visit.yaml", []byte("visit: 1\ndate: "+date+"\n"+odometer+"axles: [{id: steer, fitment: single}, {id: drive, fitment: single}]\ntires:\n  - {at: drive-left, tread: "+tread+"}\n"))
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
	for _, odometers := range [][2]string{{"", ""}, {"odometer: 20,000 mi\n", "odometer: 24,000 mi\n"}} {
		for tread, unknown := range map[string]bool{"9/32 in": true, "8/32 in": false, "7/32 in": false} {
			h, err := history.Compare([]*record.Visit{probed("2026-01-01", odometers[0], "8/32 in"), probed("2026-04-01", odometers[1], tread)}, inspect.Setup{})
			if err != nil {
				t.Fatal(err)
			}
			page := strings.Join(strings.Fields(sheet.HistoryText(h, sheet.TextOptions{Full: true})), " ")
			if said, paced := strings.Contains(page, "pace not known: the last probe is no shallower than the first"), strings.Contains(page, "at that pace 2/32 in is reached"); said != unknown || paced == unknown {
				t.Errorf("8/32 in, then %s: not known %t, at that pace %t:\n%s", tread, said, paced, page)
			}
		}
	}
}

// TestHistoryTextSaysEachThingOnce: tires of which the gauges cannot tell whether
// they leak share an entry, and nobody is told that they do.
func TestHistoryTextSaysEachThingOnce(t *testing.T) {
	read := func(date, found string) *record.Visit {
		v, err := record.Read("visit.yaml", []byte("visit: 1\ndate: "+date+"\nair_temperature: 60 F\ngauge_tolerance: 1 psi\n"+
			"axles: [{id: steer, fitment: single}, {id: drive, fitment: single}]\nevery_tire: {hot: no}\ntires:\n"+
			"  - {at: steer-left, tread: 12/32 in, "+found+": "+map[string]string{"left": "100", "found": "97"}[found]+" psi}\n  - {at: steer-right, "+found+": "+map[string]string{"left": "100", "found": "97"}[found]+" psi}\n"+
			"  - {at: drive-left, "+found+": 100 psi}\n  - {at: drive-right, "+found+": "+map[string]string{"left": "100", "found": "90"}[found]+" psi}\n"))
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
	h, err := history.Compare([]*record.Visit{read("2026-01-01", "left"), read("2026-03-02", "found")}, inspect.Setup{})
	if err != nil {
		t.Fatal(err)
	}
	text := sheet.HistoryText(h, sheet.TextOptions{Full: true})
	page := strings.Join(strings.Fields(text), " ")
	for _, want := range []string{
		"drive-right lost 5 +/- 1 psi a month: Loses more air than its mates.",
		"These gauges cannot tell whether it leaks: steer-left, steer-right.",
		"PLAN (too close to call) - steer-left, steer-right: Loses more air than tires normally do",
		"The first tire at a tread limit is steer-left: at its pace 4/32 in is reached, from 20",
	} {
		if !strings.Contains(page, want) {
			t.Errorf("%q is not on the page:\n%s", want, text)
		}
	}
	for advice, times := range map[string]int{"Have this tire's leak found": 1, "Have the cause looked for": 2} { // of what is sure, and of what is not
		if n := strings.Count(page, advice); n != times {
			t.Errorf("%q is said %d times, want %d:\n%s", advice, n, times, text)
		}
	}
}

// TestHistoryTextOfOddOnes: one visit, metric ones, contradictions.
func TestHistoryTextOfOddOnes(t *testing.T) {
	one := sheet.HistoryText(demoHistory(t, "summer"), sheet.TextOptions{Full: true})
	for _, want := range []string{"DO NOT DRIVE: ", "1 visit, on 2026-07-04", "nothing to compare"} {
		if !strings.Contains(strings.Join(strings.Fields(one), " "), want) {
			t.Errorf("%q is not on the page:\n%s", want, one)
		}
	}
	two := sheet.SinceLastVisit(demoHistory(t, "spring", "summer"))
	if !strings.Contains(two, "3 of what is open stop the coach") {
		t.Errorf("%q", two)
	}
	read := func(date, lines string) *record.Visit {
		v, err := record.Read("visit.yaml", []byte("visit: 1\ndate: "+date+"\nunits: metric\naxles: [{id: steer, fitment: single}]\n"+lines))
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
	h, err := history.Compare([]*record.Visit{
		read("2026-01-01", "odometer: 20000 km\nair_temperature: 10 C\ngauge_tolerance: 5 kPa\ntires: [{at: steer-left, tread: 9.4 mm, hot: no, left: 700 kPa}, {at: steer-right, tread: 3 mm}]"),
		read("2026-04-11", "odometer: 30000 km\nair_temperature: 10 C\ngauge_tolerance: 5 kPa\ntires: [{at: steer-left, tread: 8.2 mm, hot: no, found: 710 kPa}, {at: steer-right, tread: 9 mm}]\ndone: [{at: steer-left, rule: run-low}]"),
	}, inspect.Setup{})
	if err != nil {
		t.Fatal(err)
	}
	text := sheet.HistoryText(h, sheet.TextOptions{Full: true})
	page := strings.Join(strings.Fields(text), " ")
	for _, want := range []string{
		"0.11 to 0.13 mm per 1,000 km", "3.2 mm is reached", "after 38,200 to 46,100 km", // (8.15 - 3.175) / 1.3 x 10,000 and (8.25 - 3.175) / 1.1
		"gained 3 +/- 3 kPa a month", // 10 x 30/100, and both gauges' 5 kPa x 30/100
		"Contradictions", "steer-right: tread 9 mm, deeper than 3 mm", `nothing that the rule "run-low" advised was open there`,
		"2 contradictions in what was recorded",
	} {
		if !strings.Contains(page, want) {
			t.Errorf("%q is not on the page:\n%s", want, text)
		}
	}
}

// TestShortHistoryFits: fewer than 80 lines for six visits to a coach with ten
// tires, in its columns down to 40, with every entry that is open and every tire.
func TestShortHistoryFits(t *testing.T) {
	for name, h := range map[string]history.History{"demo": demoHistory(t, "spring", "summer", "autumn"), "six visits": sixVisits(t)} {
		for _, wide := range []int{0, 80, 60, 40, 1} {
			text := sheet.HistoryText(h, sheet.TextOptions{Columns: wide, ReadOn: "Read on."})
			room := max(wide, 40)
			if wide == 0 {
				room = 80
			}
			lines := strings.Split(strings.TrimSuffix(text, "\n"), "\n")
			if room == 80 && len(lines) >= 80 {
				t.Errorf("%s: %d lines, want fewer than 80", name, len(lines))
			}
			for i, line := range lines {
				if n := columnsOf(line); n > room {
					t.Errorf("%s, %d wide, line %d: %d columns: %q", name, wide, i+1, n, line)
				}
			}
			page := strings.Join(strings.Fields(text), " ")
			for _, ad := range h.Open {
				if !strings.Contains(page, ad.Item.What) || !strings.Contains(page, ad.At) {
					t.Errorf("%s, %d wide: %s of %s is not there", name, wide, ad.Item.What, ad.At)
				}
			}
			for _, it := range h.Todo {
				if !strings.Contains(page, it.Where) || !strings.Contains(page, it.What) {
					t.Errorf("%s, %d wide: %s of %s is not there", name, wide, it.What, it.Where)
				}
			}
			if lines[len(lines)-1] != "Read on." {
				t.Errorf("%s: the last line is %q", name, lines[len(lines)-1])
			}
		}
	}
}

// TestCameBackIsSaid: an entry that was closed and came back says so on every
// page.
func TestCameBackIsSaid(t *testing.T) {
	h := demoHistory(t, "spring", "summer", "autumn")
	h.Open[0].Before = 1
	var b bytes.Buffer
	if err := sheet.HistoryHTML(&b, h); err != nil {
		t.Fatal(err)
	}
	for _, page := range []string{sheet.HistoryText(h, sheet.TextOptions{}), sheet.HistoryText(h, sheet.TextOptions{Full: true}), words(b.String())} {
		if !strings.Contains(strings.Join(strings.Fields(page), " "), "CAME BACK: it had been closed once before.") {
			t.Errorf("nothing of it coming back:\n%s", page)
		}
	}
}

// TestHistoryChartsSayItInWords: the first chart is that of the steer axle, with
// every weighing of both ends, and the limit.
func TestHistoryChartsSayItInWords(t *testing.T) {
	var b bytes.Buffer
	if err := sheet.HistoryHTML(&b, demoHistory(t, "spring", "summer", "autumn")); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{
		"2026-04-11: L 8,600. 2026-07-04: L 8,760. 2026-10-03: L 8,960. 2026-04-11: R 7,680. 2026-07-04: R 7,780. 2026-10-03: R 7,900. The limit is 8,750.",
		"2026-07-04: 4.8 psi. 2026-10-03: 3.3 psi. The limit is 2 psi.", "2026-04-11: 10/32. 2026-07-04: 9/32. 2026-10-03: 8/32. The limit is 4/32.",
	} {
		if !strings.Contains(b.String(), want) {
			t.Errorf("%q is not on the page:\n%s", want, words(b.String()))
		}
	}
}

var dots = regexp.MustCompile(`<circle class="dot" cx="([0-9]+)"`)

// TestChartsKeepTheirDistances: a probing in the middle of the days stands in the
// middle of the chart.
func TestChartsKeepTheirDistances(t *testing.T) {
	var visits []*record.Visit
	for i, date := range []string{"2026-01-10", "2026-01-16", "2026-01-22"} {
		v, err := record.Read("visit.yaml", fmt.Appendf(nil, "visit: 1\ndate: %s\naxles: [{id: steer, fitment: single}]\ntires: [{at: steer-left, tread: %d/32 in}]\n", date, 12-i))
		if err != nil {
			t.Fatal(err)
		}
		visits = append(visits, v)
	}
	h, err := history.Compare(visits, inspect.Setup{})
	var b bytes.Buffer
	if err = errors.Join(err, sheet.HistoryHTML(&b, h)); err != nil {
		t.Fatal(err)
	}
	var at []int
	for _, m := range dots.FindAllStringSubmatch(b.String(), 3) {
		x, _ := strconv.Atoi(m[1])
		at = append(at, x)
	}
	if len(at) != 3 || at[0] >= at[1] || (at[0]+at[2])/2 != at[1] {
		t.Errorf("the dots stand at %d", at)
	}
}

func BenchmarkHistoryHTML(b *testing.B) {
	h := sixVisits(b)
	for b.Loop() {
		if err := sheet.HistoryHTML(io.Discard, h); err != nil {
			b.Fatal(err)
		}
	}
}

// TestHistoryOfASpareAlone: where only a spare has something to do before the trip the
// first line says so, as that of a visit does.
func TestHistoryOfASpareAlone(t *testing.T) {
	day := dotcode.Date{Year: 2026, Month: 10, Day: 3}
	for action, want := range map[report.Action]string{report.BeforeTrip: "NOTHING FOUND BUT AT THE SPARE: 1 thing still open", report.Plan: "PLAN: 1 thing still open"} {
		h := history.History{Drive: report.NothingFound, Visits: []history.VisitLine{{Date: day}}, Open: []history.Advised{{Item: report.Item{Action: action, Where: "spare", What: "Too old"}, At: "spare", First: day}}}
		if got := sheet.HistoryText(h, sheet.TextOptions{}); !strings.HasPrefix(got, want) {
			t.Errorf("%s: want %q first:\n%s", action, want, got)
		}
	}
}
