package sheet_test

import (
	"slices"
	"strings"
	"testing"

	"axleend.example/dotcode"
	"axleend.example/inflation"
	"axleend.example/inflation/cold"
	"axleend.example/inspect/history"
	"axleend.example/inspect/record"
	"axleend.example/inspect/report"
	"axleend.example/inspect/sheet"
	"axleend.example/weight"
)

func historySheet(t *testing.T, h history.History) string {
	t.Helper()
	var b strings.Builder
	if err := sheet.HistoryHTML(&b, h); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// aLoad is one that weighed so much in spring and now, less or more 20 lb.
func aLoad(name string, kind report.LoadKind, then, now weight.Mass) history.LoadHistory {
	l := history.LoadHistory{Name: name, Kind: kind}
	for on, load := range map[dotcode.Date]weight.Mass{spring: then, visited: now} {
		l.At = append(l.At, history.LoadAtVisit{Date: on, Load: weight.Estimate{Load: load * weight.Pound, PlusMinus: 20 * weight.Pound, State: weight.Determined}})
	}
	slices.SortFunc(l.At, func(a, b history.LoadAtVisit) int { return a.Date.Compare(b.Date) })
	return l
}

// TestLoadsOfAHistory: each load with what it weighs, how that changed since it was first
// weighed, and its limit: over it as read, perhaps over it, or within.
func TestLoadsOfAHistory(t *testing.T) {
	t.Parallel()
	limited := func(limit weight.Mass) history.LoadHistory {
		l := aLoad("coach", report.CoachLoad, 900, 1000)
		l.Limit, l.LimitName = limit, "GVWR"
		return l
	}
	change := func(name string, kind report.LoadKind, from dotcode.Date, trend history.Trend) []history.LoadChange {
		return []history.LoadChange{{Name: name, Kind: kind, From: from, To: visited, Before: weighedAs(900, 20, weight.Determined), After: weighedAs(1000, 20, weight.Determined), Change: 100 * weight.Pound, PlusMinus: 40 * weight.Pound, Trend: trend}}
	}
	left, right, axle := aLoad("steer-left", report.EndLoad, 500, 500), aLoad("steer-right", report.EndLoad, 400, 500), aLoad("steer", report.AxleLoad, 900, 1000)
	over := axle
	over.Limit, over.LimitName = 980*weight.Pound-1, "GAWR"
	for name, c := range map[string]struct {
		loads   []history.LoadHistory
		changes []history.LoadChange
		want    []string // of the short page
		marked  string   // on the sheet
		full    string
	}{
		"weighed":         {loads: []history.LoadHistory{limited(0)}, want: []string{"coach 1,000 lb +/- 20"}},
		"within":          {loads: []history.LoadHistory{limited(1021*weight.Pound - 1)}, want: []string{"coach 1,000 lb +/- 20 GVWR 1,020 lb"}},
		"just within":     {loads: []history.LoadHistory{limited(1020 * weight.Pound)}, want: []string{"coach 1,000 lb +/- 20 GVWR 1,020 lb"}},
		"perhaps over":    {loads: []history.LoadHistory{limited(1020*weight.Pound - 1)}, want: []string{"coach 1,000 lb +/- 20 TOO CLOSE TO GVWR 1,019 lb"}, marked: ": <b>TOO CLOSE TO CALL</b>"},
		"hardly over":     {loads: []history.LoadHistory{limited(980 * weight.Pound)}, want: []string{"coach 1,000 lb +/- 20 TOO CLOSE TO GVWR 980 lb"}, marked: ": <b>TOO CLOSE TO CALL</b>"},
		"over":            {loads: []history.LoadHistory{limited(980*weight.Pound - 1)}, want: []string{"coach 1,000 lb +/- 20 OVER GVWR 979 lb"}, marked: ": <b>OVER</b>"},
		"an axle alone":   {loads: []history.LoadHistory{axle}, want: []string{"steer axle 1,000 lb +/- 20"}},
		"its ends":        {loads: []history.LoadHistory{left, right, axle}, want: []string{"steer-left 500 lb +/- 20", "steer-right 500 lb +/- 20"}},
		"one of its ends": {loads: []history.LoadHistory{left, axle}, want: []string{"steer-left 500 lb +/- 20", "steer axle 1,000 lb +/- 20"}},
		"the other":       {loads: []history.LoadHistory{right, axle}, want: []string{"steer-right 500 lb +/- 20", "steer axle 1,000 lb +/- 20"}},
		"its ends, over":  {loads: []history.LoadHistory{left, right, over}, want: []string{"steer-left 500 lb +/- 20", "steer-right 500 lb +/- 20", "steer axle 1,000 lb +/- 20 OVER GAWR 979 lb"}},
		"grown": {loads: []history.LoadHistory{limited(0)}, changes: change("coach", report.CoachLoad, spring, history.Grown), want: []string{"coach 1,000 lb +/- 20 grown by 100 +/- 40 lb"}, marked: "; grown by 100 +/- 40 lb",
			full: "coach 2026-04-11 900, 2026-10-03 1,000 lb: grown by 100 +/- 40 lb"},
		"shrunk": {loads: []history.LoadHistory{limited(0)}, changes: change("coach", report.CoachLoad, spring, history.Shrunk), want: []string{"coach 1,000 lb +/- 20 shrunk by 100 +/- 40 lb"}, marked: "; shrunk by 100 +/- 40 lb",
			full: "coach 2026-04-11 900, 2026-10-03 1,000 lb: shrunk by 100 +/- 40 lb"},
		"unchanged": {loads: []history.LoadHistory{limited(0)}, changes: change("coach", report.CoachLoad, spring, history.NoSureChange), want: []string{"coach 1,000 lb +/- 20 no sure change"}, marked: "; no sure change",
			full: "coach 2026-04-11 900, 2026-10-03 1,000 lb: no sure change (+/- 40 lb)"},
		"since summer":    {loads: []history.LoadHistory{limited(0)}, changes: change("coach", report.CoachLoad, summer, history.Grown), want: []string{"coach 1,000 lb +/- 20"}, full: "coach 2026-07-04 900, 2026-10-03 1,000 lb: grown by 100 +/- 40 lb"},
		"another changed": {loads: []history.LoadHistory{limited(0)}, changes: change("steer", report.CoachLoad, spring, history.Grown), want: []string{"coach 1,000 lb +/- 20"}, full: "steer 2026-04-11 900, 2026-10-03 1,000 lb: grown by 100 +/- 40 lb"},
		"another kind":    {loads: []history.LoadHistory{limited(0)}, changes: change("coach", report.AxleLoad, spring, history.Grown), want: []string{"coach 1,000 lb +/- 20"}, full: "coach axle 2026-04-11 900, 2026-10-03 1,000 lb: grown by 100 +/- 40 lb"},
	} {
		h := threeVisits()
		h.Weighed, h.Loads = c.loads, c.changes
		short, full := historyPages(h)
		if got := below(t, short, "Loads"); !slices.Equal(got, append([]string{"What Now Since 2026-04-11 Limit"}, c.want...)) {
			t.Errorf("%s: %q, want %q", name, got, c.want)
		}
		if got := strings.Join(below(t, full, "Loads"), " / "); got != c.full {
			t.Errorf("%s: %q, want %q", name, got, c.full)
		}
		page := historySheet(t, h)
		for _, mark := range []string{": <b>OVER</b>", ": <b>TOO CLOSE TO CALL</b>", "; grown by", "; shrunk by", "; no sure change"} {
			if name == "its ends, over" { // an axle stands in the chart of its ends
				continue
			}
			if strings.Contains(page, mark) != (c.marked != "" && strings.Contains(c.marked, mark)) || !strings.Contains(page, c.marked) {
				t.Errorf("%s: want %q on the sheet, has %q", name, c.marked, mark)
			}
		}
	}
}

// TestLoadChartsOfASheet: both ends of an axle stand in one chart with the lower of their
// limits, and what stands alone has one of its own.
func TestLoadChartsOfASheet(t *testing.T) {
	t.Parallel()
	left, right, axle, coach := aLoad("steer-left", report.EndLoad, 450, 500), aLoad("steer-right", report.EndLoad, 400, 520), aLoad("steer", report.AxleLoad, 900, 1000), aLoad("coach", report.CoachLoad, 3000, 3010)
	lower, higher := left, right
	lower.Limit, lower.LimitName, higher.Limit, higher.LimitName = 560*weight.Pound, report.HalfGAWR, 600*weight.Pound, report.HalfGAWR
	for name, c := range map[string]struct {
		loads []history.LoadHistory
		want  []string // the charts
		desc  string
		limit string // the one drawn, by its own name
	}{
		"nothing":     {},
		"two ends":    {[]history.LoadHistory{left, right, axle, coach}, []string{"steer", "coach"}, "2026-04-11: L 450. 2026-10-03: L 500. 2026-04-11: R 400. 2026-10-03: R 520.", ""},
		"the left":    {[]history.LoadHistory{left, axle}, []string{"steer-left", "steer"}, "2026-04-11: 450. 2026-10-03: 500.", ""},
		"the right":   {[]history.LoadHistory{right, axle}, []string{"steer-right", "steer"}, "2026-04-11: 400. 2026-10-03: 520.", ""},
		"limits":      {[]history.LoadHistory{lower, higher}, []string{"steer"}, "2026-04-11: L 450. 2026-10-03: L 500. 2026-04-11: R 400. 2026-10-03: R 520. The limit is 560.", "<br>end limit 560 lb"},
		"one limit":   {[]history.LoadHistory{left, higher}, []string{"steer"}, "2026-04-11: L 450. 2026-10-03: L 500. 2026-04-11: R 400. 2026-10-03: R 520. The limit is 600.", "<br>end limit 600 lb"},
		"lower right": {[]history.LoadHistory{{Name: "steer-left", Kind: report.EndLoad, At: left.At, Limit: 600 * weight.Pound, LimitName: report.HalfGAWR}, {Name: "steer-right", Kind: report.EndLoad, At: right.At, Limit: 560 * weight.Pound, LimitName: "tire rating"}}, []string{"steer"}, "2026-04-11: L 450. 2026-10-03: L 500. 2026-04-11: R 400. 2026-10-03: R 520. The limit is 560.", "<br>tire rating 560 lb"},
	} {
		h := threeVisits()
		h.Weighed = c.loads
		page := historySheet(t, h)
		for _, name := range []string{"steer", "steer-left", "steer-right", "coach"} {
			if there := strings.Contains(page, "<figcaption><b>"+name+"</b>"); there != slices.Contains(c.want, name) {
				t.Errorf("%v: a chart of %s: %v", c.want, name, there)
			}
		}
		if got := strings.Count(page, "<svg"); got != len(c.want) {
			t.Errorf("%s: %d charts, want %d", name, got, len(c.want))
		}
		if _, desc, _ := strings.Cut(page, "<desc"); !strings.Contains(desc, ">"+c.desc+"</desc>") && c.desc != "" {
			t.Errorf("%s: no %q in %s", name, c.desc, desc[:min(len(desc), 300)])
		}
		if said := strings.Contains(page, "No load was weighed so that its readings alone determine it."); said != (len(c.loads) == 0) {
			t.Errorf("%s: says that nothing was weighed: %v", name, said)
		}
		if both := strings.Contains(page, "<br>left 500 lb +/- 20") && strings.Contains(page, "<br>right 520 lb +/- 20"); both != (c.want != nil && c.want[0] == "steer") {
			t.Errorf("%s: has both ends: %v", name, both)
		}
		if said := strings.Contains(page, c.limit); !said || c.limit == "" && (strings.Contains(page, "<br>end limit ") || strings.Contains(page, "<br>tire rating ")) {
			t.Errorf("%s: says the limit %q: %v", name, c.limit, said)
		}
	}
}

// TestTiresOfAHistorySheet: a tire with a pace or a leak is drawn, one without and one
// that left is named.
func TestTiresOfAHistorySheet(t *testing.T) {
	t.Parallel()
	seen := []history.TireAtVisit{{Date: spring, At: "spare", Tread: thirtySeconds(10)}, {Date: visited, At: "steer-left", Tread: thirtySeconds(8)}}
	wear := record.Record(history.Wear{Limits: []history.WearLimit{{Depth: 4 * record.ThirtySecond, SoonestOn: visited.AddDays(1)}}})
	leak := []history.LeakBetween{{From: spring, To: visited, Leak: cold.Leak{PerMonth: 2 * inflation.PSI, PlusMinus: inflation.PSI}}}
	for name, c := range map[string]struct {
		tire  history.TireHistory
		drawn int // charts
		has   []string
	}{
		"nothing":     {history.TireHistory{At: "steer-left", Sightings: seen}, 0, []string{"<p>steer-left; tread 10/32 to 8/32 in.</p>"}},
		"a number":    {history.TireHistory{At: "steer-left", Number: "2313", Sightings: seen[1:]}, 0, []string{"<p>steer-left (2313); tread 8/32 in.</p>"}},
		"wear":        {history.TireHistory{At: "steer-left", Sightings: seen, Wear: wear}, 1, []string{"<figcaption><b>steer-left</b> (it was at spare before); 4/32 in on 2026-10-04</figcaption>", ">2026-04-11: 10/32. 2026-10-03: 8/32. The limit is 4/32.</desc>"}},
		"wear, there": {history.TireHistory{At: "steer-left", Number: "2313", Sightings: seen[1:], Wear: wear}, 1, []string{"<figcaption><b>steer-left</b> 2313; 4/32 in on 2026-10-04</figcaption>"}},
		"a leak":      {history.TireHistory{At: "steer-left", Sightings: []history.TireAtVisit{{Date: visited, At: "steer-left"}}, Leaks: leak}, 1, []string{"<figcaption><b>steer-left</b></figcaption>", ">2026-10-03: 2 psi. The limit is 3 psi.</desc>"}},
		"both":        {history.TireHistory{At: "steer-left", Sightings: seen, Wear: wear, Leaks: leak}, 2, nil},
		"no limit":    {history.TireHistory{At: "steer-left", Sightings: seen, Wear: record.Record(history.Wear{})}, 1, []string{">2026-04-11: 10/32. 2026-10-03: 8/32.</desc>"}},
		"gone":        {history.TireHistory{At: "steer-left", Presence: history.OnCoach + 1, Sightings: seen, Wear: wear, Leaks: leak}, 0, []string{"<p>steer-left: " + (history.OnCoach + 1).String() + ", last seen 2026-10-03; tread 10/32 to 8/32 in.</p>"}},
	} {
		h := threeVisits()
		if c.tire.Presence == 0 {
			c.tire.Presence = history.OnCoach
		}
		h.Tires, h.LeakLimit = []history.TireHistory{c.tire}, record.Record(3*inflation.PSI)
		page := historySheet(t, h)
		if n := strings.Count(page, "<svg"); n != c.drawn {
			t.Errorf("%s: %d charts, want %d", name, n, c.drawn)
		}
		for _, want := range c.has {
			if !strings.Contains(page, want) {
				t.Errorf("%s: no %q on %s", name, want, page[strings.Index(page, "</style>"):])
			}
		}
		if named := strings.Contains(page, "Tires with nothing to draw yet"); named != (c.drawn == 0) {
			t.Errorf("%s: named below: %v", name, named)
		}
	}
}

// TestVisitsOfAHistory: a line for each with its odometer, what was driven since, its
// answer and what it could not judge.
func TestVisitsOfAHistory(t *testing.T) {
	t.Parallel()
	h := threeVisits()
	h.Visits = []history.VisitLine{
		{Date: spring, Odometer: miles(35900), Drive: report.MustNotMove, Todo: 4, NotJudged: 3}, {Date: summer, Drive: report.BeforeTheTrip, Todo: 2},
		{Date: summer.AddDays(1), Odometer: miles(38000), Drive: report.NotAtThisPressure, LoadState: "half a tank"}, {Date: summer.AddDays(2), Odometer: miles(38450), Driven: miles(450), Drive: report.NothingFound, Todo: 1},
		{Date: visited, Drive: report.NothingFound},
	}
	_, full := historyPages(h)
	if got, want := below(t, full, "Visits, and the worst that was found at each"), []string{
		"2026-04-11 35,900 mi DO NOT DRIVE, 3 not judged", "2026-07-04 no odometer BEFORE THE TRIP, 0 not judged", "2026-07-05 38,000 mi + ? NOT AT THIS PRESSURE, 0 not judged", "half a tank",
		"2026-07-06 38,450 mi +450 mi 1 thing advised, 0 not judged", "2026-10-03 no odometer nothing found, 0 not judged",
	}; !slices.Equal(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
}

// TestTiresNamedInAHistory: those that left stand under a line of their own, and those
// that are taken for the same without a number are named once.
func TestTiresNamedInAHistory(t *testing.T) {
	t.Parallel()
	h := threeVisits()
	two := []history.TireAtVisit{{Date: spring, At: "x"}, {Date: summer, At: "x"}}
	h.Tires = []history.TireHistory{
		{At: "steer-left", Number: "2313", ByNumber: true, Presence: history.OnCoach, Sightings: two}, {At: "steer-right", Presence: history.OnCoach, Sightings: two}, {At: "drive-left", Presence: history.OnCoach, Sightings: two},
		{At: "drive-right", Presence: history.OnCoach, Sightings: two[:1]}, {At: "spare", Number: "1413", Presence: history.OnCoach + 1, Sightings: two}, {At: "tag-left", Presence: history.OnCoach + 2, Sightings: two[:1]},
	}
	_, full := historyPages(h)
	if got, want := below(t, full, "Tires"), []string{
		"steer-left (2313)", "steer-right", "drive-left", "drive-right", "No longer on the coach, or not known where:", "spare (1413): " + (history.OnCoach + 1).String() + ", last seen 2026-07-04", "tag-left: " + (history.OnCoach + 2).String() + ", last seen 2026-04-11",
		"Without a full number of its own a tire is taken for the same one while it stays at its position and nothing contradicts: steer-right, drive-left.",
	}; !slices.Equal(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
}

// TestLastPartsOfAHistory: what was not judged, with all its places, and the cautions: on
// the short page and the sheet without the general ones but the last.
func TestLastPartsOfAHistory(t *testing.T) {
	t.Parallel()
	for n, want := range map[int][]string{0: nil, 1: {"caution 0"}, 4: {"caution 0", "caution 1", "caution 2", "caution 3"}, 5: {"caution 4"}, 6: {"caution 0", "caution 5"}, 7: {"caution 0", "caution 1", "caution 6"}} {
		h := threeVisits()
		h.Unjudged = []report.NotJudged{{Where: "steer-left", Need: "its tread"}, {Where: "spare", Need: "its age"}, {Where: "steer-right", Need: "its tread"}}
		var all []string
		for i := range n {
			all = append(all, "caution "+string(rune('0'+i)))
		}
		h.Cautions = all
		short, full := historyPages(h)
		const gaps = "\nNot judged, because it was not recorded\n"
		if !strings.HasSuffix(short, gaps+"- its tread - steer-left, steer-right\n- its age - spare\n\n"+strings.Join(append(slices.Clone(want), ""), "\n")) {
			t.Errorf("%d cautions: want %q at the end of%s", n, want, short)
		}
		var listed string
		for _, c := range all {
			listed += "- " + c + "\n"
		}
		if !strings.HasSuffix(full, "\nCautions\n--------\n"+listed) || !strings.Contains(full, "\n- its tread - steer-left, steer-right\n- its age - spare\n") {
			t.Errorf("%d cautions: want %q at the end of%s", n, all, full)
		}
		page := historySheet(t, h)
		if foot := `<footer class="foot">` + strings.ReplaceAll(listed, "- ", ""); n == 1 && !strings.Contains(page, strings.TrimSpace(strings.Replace(foot, "caution 0", "<p>caution 0</p></footer>", 1))) || strings.Count(page, "<p>caution ") != len(want) {
			t.Errorf("%d cautions: not %q at the foot of the sheet", n, want)
		}
		if text := sheet.HistoryText(h, sheet.TextOptions{ReadOn: "Read on."}); !strings.HasSuffix(text, "\nRead on.\n") || strings.Contains(short, "Read on.") {
			t.Errorf("where to read on is not said last, or unasked: %s", text)
		}
	}
}
