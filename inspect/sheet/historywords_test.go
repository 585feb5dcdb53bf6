package sheet_test

import (
	"fmt"
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
	"axleend.example/rules"
	"axleend.example/weight"
)

var spring, summer = dotcode.Date{Year: 2026, Month: 4, Day: 11}, dotcode.Date{Year: 2026, Month: 7, Day: 4}

// threeVisits is a history of three visits in which nothing was found.
func threeVisits() history.History {
	return history.History{Drive: report.NothingFound, Visits: []history.VisitLine{
		{Date: spring, Drive: report.NothingFound}, {Date: summer, Drive: report.NothingFound}, {Date: visited, Drive: report.NothingFound}}}
}

func historyPages(h history.History) (short, full string) {
	return "\n" + sheet.HistoryText(h, sheet.TextOptions{Columns: unbroken}), "\n" + sheet.HistoryText(h, sheet.TextOptions{Full: true, Columns: unbroken})
}

// below is what a page has under a title, a line for each thing.
func below(t *testing.T, page, title string) []string {
	t.Helper()
	_, rest, ok := strings.Cut(page, "\n"+title+"\n")
	if !ok {
		return nil
	}
	text, _, _ := strings.Cut(rest, "\n\n")
	lines := strings.Split(strings.TrimRight(text, "\n"), "\n")
	if strings.HasPrefix(lines[0], "---") {
		lines = lines[1:]
	}
	for i := range lines {
		lines[i] = strings.Join(strings.Fields(lines[i]), " ")
	}
	return lines
}

func miles(n int64) record.Recorded[weight.Length] {
	return record.Record(weight.Length(n) * weight.Mile)
}

// TestHeadOfAHistory: the answer by what is open, how many visits, and what is driven.
func TestHeadOfAHistory(t *testing.T) {
	t.Parallel()
	open := func(action report.Action) func(h *history.History) {
		return func(h *history.History) {
			h.Open = []history.Advised{{Item: report.Item{Action: action}, First: spring}}
		}
	}
	for name, c := range map[string]struct {
		set  func(h *history.History)
		want []string
	}{
		"nothing":          {func(h *history.History) {}, []string{"nothing found: 0 things still open, everything recorded was judged", "3 visits, from 2026-04-11 to 2026-10-03"}},
		"planned":          {open(report.Plan), []string{"PLAN: 1 thing still open, everything recorded was judged", "3 visits, from 2026-04-11 to 2026-10-03"}},
		"of a spare":       {open(report.BeforeTrip), []string{"NOTHING FOUND BUT AT THE SPARE: 1 thing still open, everything recorded was judged", "3 visits, from 2026-04-11 to 2026-10-03"}},
		"between, a spare": {func(h *history.History) { open(report.Plan)(h); h.Todo = []report.Item{{Action: report.BeforeTrip}} }, []string{"NOTHING FOUND BUT AT THE SPARE: 2 things still open, everything recorded was judged", "3 visits, from 2026-04-11 to 2026-10-03"}},
		"stops":            {func(h *history.History) { open(report.DoNotDrive)(h); h.Drive = report.MustNotMove }, []string{"DO NOT DRIVE: 1 thing still open, everything recorded was judged", "3 visits, from 2026-04-11 to 2026-10-03"}},
		"a trip":           {func(h *history.History) { open(report.BeforeTrip)(h); h.Drive = report.BeforeTheTrip }, []string{"BEFORE THE TRIP: 1 thing still open, everything recorded was judged", "3 visits, from 2026-04-11 to 2026-10-03"}},
		"pressure, gaps":   {func(h *history.History) { h.Drive, h.NotJudged = report.NotAtThisPressure, 1 }, []string{"NOT AT THIS PRESSURE: 0 things still open, 1 not judged (listed below)", "3 visits, from 2026-04-11 to 2026-10-03"}},
		"a coach, driven":  {func(h *history.History) { h.Coach, h.PerMonth = "an invented coach", miles(1234) }, []string{"nothing found: 0 things still open, everything recorded was judged", "an invented coach, 3 visits, from 2026-04-11 to 2026-10-03, about 1,234 mi a month"}},
		"kilometers":       {func(h *history.History) { h.System, h.PerMonth = weight.Metric, record.Record(1235*weight.Kilometer-1) }, []string{"nothing found: 0 things still open, everything recorded was judged", "3 visits, from 2026-04-11 to 2026-10-03, about 1,234 km a month"}},
		"one visit":        {func(h *history.History) { h.Visits = h.Visits[2:] }, []string{"nothing found: 0 things still open, everything recorded was judged", "1 visit, on 2026-10-03"}},
		"two visits":       {func(h *history.History) { h.Visits = h.Visits[1:] }, []string{"nothing found: 0 things still open, everything recorded was judged", "2 visits, from 2026-07-04 to 2026-10-03"}},
		"invented":         {func(h *history.History) { h.Invented = true }, []string{"nothing found: 0 things still open, everything recorded was judged", "Invented example: no real coach, tire or table.", "3 visits, from 2026-04-11 to 2026-10-03"}},
	} {
		h := threeVisits()
		c.set(&h)
		short, full := historyPages(h)
		for _, page := range []string{short, full} {
			if want := "\n" + strings.Join(c.want, "\n") + "\n\nSince the last visit\n"; !strings.HasPrefix(page, want) {
				t.Errorf("%s: want %q at the top of%s", name, want, page)
			}
		}
	}
}

// TestSinceTheVisitBefore: each sentence of the summary, and when it is left out.
func TestSinceTheVisitBefore(t *testing.T) {
	t.Parallel()
	const first, none = "The visit before was on 2026-07-04.", " Of what was advised: 0 still open from before, 0 new, 0 closed."
	leak := history.LeakBetween{Leak: cold.Leak{PerMonth: 3 * inflation.PSI, PlusMinus: inflation.PSI}}
	leaking := func(presence history.Presence, at string, todo ...report.Item) func(h *history.History) {
		return func(h *history.History) {
			h.Tires = []history.TireHistory{{At: at, Presence: presence, Leaks: []history.LeakBetween{{}, leak}}}
			h.Todo = todo
		}
	}
	grown := func(kind report.LoadKind, from, to dotcode.Date, trend history.Trend) func(h *history.History) {
		return func(h *history.History) {
			h.Loads = []history.LoadChange{{Name: "drive-left", Kind: kind, From: from, To: to, Change: -200 * weight.Pound, PlusMinus: 120*weight.Pound - 1, Trend: trend}}
		}
	}
	loses := report.Item{Where: "steer-left", What: "Loses air", Verdict: rules.Breached}
	unsure := report.Item{Where: "drive-left", What: "Loses air", Verdict: rules.TooClose}
	for name, c := range map[string]struct {
		set  func(h *history.History)
		want string
	}{
		"nothing":   {func(h *history.History) {}, first + none},
		"one visit": {func(h *history.History) { h.Visits = h.Visits[:1] }, "This is the only visit given: there is nothing to compare it with."},
		"driven":    {func(h *history.History) { h.Visits[2].Driven = miles(2550) }, "The visit before was on 2026-07-04, 2,550 mi ago." + none},
		"counts": {func(h *history.History) {
			h.Open = []history.Advised{{First: spring}, {First: summer}, {First: visited}}
			h.Closed = []history.Advised{{Closed: visited}, {Closed: visited}, {Closed: visited}, {Closed: visited}, {Closed: summer}}
		}, first + " Of what was advised: 2 still open from before, 1 new, 4 closed."},
		"one stops": {func(h *history.History) { h.Open = []history.Advised{{First: spring, Item: report.Item{Stops: true}}} }, first + " Of what was advised: 1 still open from before, 0 new, 0 closed. 1 of what is open stops the coach."},
		"two stop": {func(h *history.History) {
			h.Open = []history.Advised{{First: spring, Item: report.Item{Stops: true}}, {First: spring}, {First: spring, Item: report.Item{Stops: true}}}
		}, first + " Of what was advised: 3 still open from before, 0 new, 0 closed. 2 of what is open stop the coach."},
		"leaks":             {leaking(history.OnCoach, "steer-left", loses, loses), first + none + " steer-left lost 3 +/- 1 psi a month: Loses air."},
		"leaks, gone":       {leaking(history.OnCoach+1, "steer-left", loses), first + none},
		"leaks, elsewhere":  {leaking(history.OnCoach, "steer-right", loses), first + none},
		"leaks, perhaps":    {leaking(history.OnCoach, "drive-left", unsure, unsure), first + none + " These gauges cannot tell whether it leaks: drive-left."},
		"leaks and perhaps": {leaking(history.OnCoach, "steer-left", unsure, loses, report.Item{Where: "steer-left", Verdict: rules.TooClose}), first + none + " steer-left lost 3 +/- 1 psi a month: Loses air. These gauges cannot tell whether it leaks: drive-left."},
		"no leak known":     {func(h *history.History) { leaking(history.OnCoach, "steer-left", loses)(h); h.Tires[0].Leaks = nil }, first + none},
		"grown":             {grown(report.EndLoad, summer, visited, history.Grown), first + none + " drive-left has grown by 200 +/- 120 lb."},
		"shrunk":            {grown(report.EndLoad, summer, visited, history.Shrunk), first + none + " drive-left has shrunk by 200 +/- 120 lb."},
		"no sure change":    {grown(report.EndLoad, summer, visited, history.NoSureChange), first + none},
		"an axle":           {grown(report.AxleLoad, summer, visited, history.Grown), first + none},
		"since spring":      {grown(report.EndLoad, spring, visited, history.Grown), first + none},
		"till summer":       {grown(report.EndLoad, spring, summer, history.Grown), first + none},
		"a contradiction":   {func(h *history.History) { h.Contradictions = []history.Contradiction{{Date: summer}, {Date: visited}} }, first + none + " 1 contradiction in what was recorded: see below."},
		"contradictions": {func(h *history.History) {
			h.Contradictions = []history.Contradiction{{Date: visited}, {Date: summer}, {Date: visited}}
		}, first + none + " 2 contradictions in what was recorded: see below."},
		"the first at a limit": {func(h *history.History) {
			at := func(at string, presence history.Presence, on dotcode.Date) history.TireHistory {
				return history.TireHistory{At: at, Presence: presence, Sightings: []history.TireAtVisit{{Date: visited}}, Wear: record.Record(history.Wear{Limits: []history.WearLimit{{Depth: 4 * record.ThirtySecond, SoonestOn: on}}})}
			}
			h.Tires = []history.TireHistory{{At: "spare", Presence: history.OnCoach, Sightings: []history.TireAtVisit{{Date: visited}}}, at("tag-left", history.OnCoach, dotcode.Date{}), at("steer-left", history.OnCoach, visited.AddDays(20)),
				at("steer-right", history.OnCoach, visited.AddDays(10)), at("drive-left", history.OnCoach, visited.AddDays(10)), at("drive-right", history.OnCoach+1, visited.AddDays(5)), at("tag-right", history.OnCoach, visited.AddDays(30))}
		}, first + none + " The first tire at a tread limit is steer-right: at its pace 4/32 in is reached, from 2026-10-13 on."},
		"its pace": {func(h *history.History) {
			h.Tires = []history.TireHistory{{At: "steer-left", Presence: history.OnCoach, Sightings: []history.TireAtVisit{{Date: visited}}, Wear: record.Record(history.Wear{LeastPer: thirtySeconds(1), MostPer: thirtySeconds(2), Limits: []history.WearLimit{{Depth: 4 * record.ThirtySecond, SoonestOn: visited.AddDays(20)}}})}}
		}, first + none + " The first tire at a tread limit is steer-left, which lost 1 to 2/32 in per 1,000 mi: at that pace 4/32 in is reached, from 2026-10-23 on."},
		"half of its pace": {func(h *history.History) {
			h.Tires = []history.TireHistory{{At: "steer-left", Presence: history.OnCoach, Sightings: []history.TireAtVisit{{Date: visited}}, Wear: record.Record(history.Wear{MostPer: thirtySeconds(2), Limits: []history.WearLimit{{Depth: 4 * record.ThirtySecond, SoonestOn: visited.AddDays(20)}}})}}
		}, first + none + " The first tire at a tread limit is steer-left: at its pace 4/32 in is reached, from 2026-10-23 on."},
	} {
		h := threeVisits()
		c.set(&h)
		if got := sheet.SinceLastVisit(h); got != c.want {
			t.Errorf("%s: %q, want %q", name, got, c.want)
		}
	}
}

// TestWhatIsSaidOfATireInAHistory: where it was, its treads, its pace, its limits and its
// last leak, on the full page and in the short page's row.
func TestWhatIsSaidOfATireInAHistory(t *testing.T) {
	t.Parallel()
	ten := visited.AddYears(10)
	worn := func(w history.Wear) func(x *history.TireHistory) {
		return func(x *history.TireHistory) {
			w.From, w.To, w.Least, w.Most = spring, visited, record.ThirtySecond, record.ThirtySecond*9/4
			x.Wear = record.Record(w)
		}
	}
	limit := func(l history.WearLimit) func(x *history.TireHistory) {
		l.Depth = 4 * record.ThirtySecond
		return worn(history.Wear{Limits: []history.WearLimit{l}})
	}
	leaks := func(l history.LeakBetween) func(x *history.TireHistory) {
		l.From, l.To = summer, visited
		return func(x *history.TireHistory) { x.Leaks = []history.LeakBetween{{}, l} }
	}
	loss := cold.Leak{PerMonth: 3 * inflation.PSI, PlusMinus: inflation.PSI + 1}
	const wore = "worn 1 to 2.25/32 in from 2026-04-11 to 2026-10-03"
	for name, c := range map[string]struct {
		set  func(x *history.TireHistory)
		row  string
		full []string
	}{
		"nothing": {func(x *history.TireHistory) {}, "tread not read pace not known not known", nil},
		"a tread": {func(x *history.TireHistory) { x.Sightings[1].Tread = thirtySeconds(9) }, "9/32 in pace not known not known", []string{"tread 9/32 in (2026-07-04)"}},
		"treads": {func(x *history.TireHistory) {
			x.Sightings[0].Tread, x.Sightings[2].Tread = thirtySeconds(10), thirtySeconds(8)
		}, "10/32 to 8/32 in pace not known not known", []string{"tread 10/32 in (2026-04-11), 8/32 in (2026-10-03)"}},
		"moved":      {func(x *history.TireHistory) { x.Sightings[0].At = "spare" }, "tread not read pace not known not known", []string{"moved from spare to steer-left by 2026-07-04"}},
		"five":       {sightings(5), "10/32 to 6/32 in pace not known not known", []string{"tread 10/32 in (2026-01-01), 9/32 in (2026-01-02), 8/32 in (2026-01-03), 7/32 in (2026-01-04), 6/32 in (2026-01-05)"}},
		"six":        {sightings(6), "10/32 to 5/32 in pace not known not known", []string{"tread 10/32 in (2026-01-01), ..., 8/32 in (2026-01-03), 7/32 in (2026-01-04), 6/32 in (2026-01-05), 5/32 in (2026-01-06)"}},
		"worn":       {worn(history.Wear{}), "tread not read pace not known not known", []string{wore}},
		"driven":     {worn(history.Wear{Driven: miles(5350)}), "tread not read pace not known not known", []string{wore + " (5,350 mi)"}},
		"per mile":   {worn(history.Wear{Driven: miles(5350), LeastPer: thirtySeconds(1), MostPer: thirtySeconds(2)}), "tread not read pace not known not known", []string{wore + " (5,350 mi): 1 to 2/32 in per 1,000 mi"}},
		"half of it": {worn(history.Wear{Driven: miles(5350), LeastPer: thirtySeconds(1)}), "tread not read pace not known not known", []string{wore + " (5,350 mi)"}},

		"no day":          {limit(history.WearLimit{}), "tread not read pace not known not known", []string{wore, "pace not known"}},
		"after miles":     {limit(history.WearLimit{Soonest: miles(6200), Latest: miles(24000)}), "tread not read pace not known not known", []string{wore, "at that pace 4/32 in is reached after 6,200 to 24,000 mi"}},
		"after some":      {limit(history.WearLimit{Soonest: miles(6200)}), "tread not read pace not known not known", []string{wore, "at that pace 4/32 in is reached after 6,200 mi or more"}},
		"now, by miles":   {limit(history.WearLimit{Soonest: miles(0), Latest: miles(100)}), "tread not read pace not known not known", []string{wore, "at that pace 4/32 in may be reached now"}},
		"now, by its day": {limit(history.WearLimit{SoonestOn: visited}), "tread not read 4/32 in now not known", []string{wore, "at that pace 4/32 in may be reached now"}},
		"tomorrow":        {limit(history.WearLimit{SoonestOn: visited.AddDays(1), LatestOn: visited.AddDays(2)}), "tread not read 4/32 in on 2026-10-04 not known", []string{wore, "at that pace 4/32 in is reached, between 2026-10-04 and 2026-10-05"}},
		"from a day":      {limit(history.WearLimit{SoonestOn: visited.AddDays(1)}), "tread not read 4/32 in on 2026-10-04 not known", []string{wore, "at that pace 4/32 in is reached, from 2026-10-04 on"}},
		"ten years":       {limit(history.WearLimit{SoonestOn: ten, LatestOn: ten}), "tread not read 4/32 in on 2036-10-03 not known", []string{wore, "at that pace 4/32 in is reached, between 2036-10-03 and 2036-10-03"}},
		"more than ten":   {limit(history.WearLimit{SoonestOn: ten.AddDays(1), LatestOn: ten.AddDays(2)}), "tread not read not for ten years not known", []string{wore, "at that pace 4/32 in is reached, in ten years or more"}},
		"up to ten":       {limit(history.WearLimit{SoonestOn: ten, LatestOn: ten.AddDays(1)}), "tread not read 4/32 in on 2036-10-03 not known", []string{wore, "at that pace 4/32 in is reached, from 2036-10-03 on"}},
		"all of it":       {limit(history.WearLimit{Soonest: miles(6200), Latest: miles(24000), SoonestOn: visited.AddDays(1), LatestOn: ten}), "tread not read 4/32 in on 2026-10-04 not known", []string{wore, "at that pace 4/32 in is reached after 6,200 to 24,000 mi, between 2026-10-04 and 2036-10-03"}},

		"lost":       {leaks(history.LeakBetween{Leak: loss}), "tread not read pace not known 3 +/- 1.1 psi", []string{"lost 3 +/- 1.1 psi a month from 2026-07-04 to 2026-10-03"}},
		"lost none":  {leaks(history.LeakBetween{}), "tread not read pace not known 0 +/- 0 psi", []string{"lost 0 +/- 0 psi a month from 2026-07-04 to 2026-10-03"}},
		"gained":     {leaks(history.LeakBetween{Leak: cold.Leak{PerMonth: -inflation.PSI}}), "tread not read pace not known -1 +/- 0 psi", []string{"gained 1 +/- 0 psi a month from 2026-07-04 to 2026-10-03"}},
		"over one":   {leaks(history.LeakBetween{Leak: loss, Mates: 1, OverMates: record.Record(cold.Leak{PerMonth: 2 * inflation.PSI, PlusMinus: 1})}), "tread not read pace not known 3 +/- 1.1 psi", []string{"lost 3 +/- 1.1 psi a month from 2026-07-04 to 2026-10-03; 2 +/- 0.1 psi more than the tire beside it"}},
		"as one":     {leaks(history.LeakBetween{Leak: loss, Mates: 1, OverMates: record.Record(cold.Leak{})}), "tread not read pace not known 3 +/- 1.1 psi", []string{"lost 3 +/- 1.1 psi a month from 2026-07-04 to 2026-10-03; 0 psi more than the tire beside it"}},
		"under one":  {leaks(history.LeakBetween{Leak: loss, Mates: 1, OverMates: record.Record(cold.Leak{PerMonth: -2 * inflation.PSI})}), "tread not read pace not known 3 +/- 1.1 psi", []string{"lost 3 +/- 1.1 psi a month from 2026-07-04 to 2026-10-03; 2 psi less than the tire beside it"}},
		"over some":  {leaks(history.LeakBetween{Leak: loss, Mates: 3, OverMates: record.Record(cold.Leak{PerMonth: 2 * inflation.PSI})}), "tread not read pace not known 3 +/- 1.1 psi", []string{"lost 3 +/- 1.1 psi a month from 2026-07-04 to 2026-10-03; 2 psi more than its 3 mates taken together (their median)"}},
		"under some": {leaks(history.LeakBetween{Leak: loss, Mates: 2, OverMates: record.Record(cold.Leak{PerMonth: -2 * inflation.PSI})}), "tread not read pace not known 3 +/- 1.1 psi", []string{"lost 3 +/- 1.1 psi a month from 2026-07-04 to 2026-10-03; 2 psi less than its 2 mates taken together (their median)"}},
	} {
		h := threeVisits()
		x := history.TireHistory{At: "steer-left", Presence: history.OnCoach, ByNumber: true}
		for _, v := range h.Visits {
			x.Sightings = append(x.Sightings, history.TireAtVisit{Date: v.Date, At: "steer-left"})
		}
		c.set(&x)
		h.Tires = []history.TireHistory{x}
		short, full := historyPages(h)
		if got := below(t, short, "Tires"); !slices.Equal(got, []string{"Tire Tread, first to last Can be at its limit Air lost a month", "steer-left " + c.row}) {
			t.Errorf("%s: %q, want %q", name, got[1:], c.row)
		}
		if got := below(t, full, "Tires"); !slices.Equal(got[1:], c.full) {
			t.Errorf("%s: %q, want %q", name, got[1:], c.full)
		}
	}
}

// sightings has so many treads, a thirty-second less each day.
func sightings(n int) func(x *history.TireHistory) {
	return func(x *history.TireHistory) {
		x.Sightings = nil
		for i := range n {
			x.Sightings = append(x.Sightings, history.TireAtVisit{At: "steer-left", Date: dotcode.Date{Year: 2026, Month: 1, Day: 1 + i}, Tread: thirtySeconds(int64(10 - i))})
		}
	}
}

// TestMetricHistory: millimeters, a worn range rounded apart, and a limit rounded to its
// strict side: 1.6 mm, 4/32 in being 3.175 mm and so 3.2 (computed).
func TestMetricHistory(t *testing.T) {
	t.Parallel()
	h := threeVisits()
	h.System = weight.Metric
	h.Tires = []history.TireHistory{{At: "steer-left", Presence: history.OnCoach, Sightings: []history.TireAtVisit{{Date: visited, At: "steer-left", Tread: record.Record(8 * weight.Millimeter)}},
		Wear: record.Record(history.Wear{From: spring, To: visited, Least: 801 * weight.Millimeter / 1000, Most: 1501 * weight.Millimeter / 1000, Driven: record.Record(5000 * weight.Kilometer), LeastPer: record.Record(weight.Millimeter / 2), MostPer: record.Record(weight.Millimeter),
			Limits: []history.WearLimit{{Depth: 4 * record.ThirtySecond, SoonestOn: visited.AddDays(1)}, {Depth: 2 * weight.Millimeter, SoonestOn: visited.AddDays(1)}}})}}
	short, full := historyPages(h)
	if got, want := below(t, full, "Tires")[1:], []string{"tread 8 mm (2026-10-03)", "worn 0.8 to 1.51 mm from 2026-04-11 to 2026-10-03 (5,000 km): 0.5 to 1 mm per 1,000 km", "at that pace 3.2 mm is reached, from 2026-10-04 on", "at that pace 2 mm is reached, from 2026-10-04 on"}; !slices.Equal(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
	if got, want := below(t, short, "Tires")[1], "steer-left 8 mm 3.2 mm on 2026-10-04 not known"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
}

// TestOpenEntries: since when, what became of it, and where it was then; between the
// others stand what was found between the visits, the worst first.
func TestOpenEntries(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct {
		ad   history.Advised
		want string
	}{
		"new":            {history.Advised{First: visited, Last: visited, Times: 1}, "New at this visit."},
		"since":          {history.Advised{First: summer, Last: visited, Times: 1}, "Since 2026-07-04."},
		"often":          {history.Advised{First: spring, Last: visited, Times: 2}, "Since 2026-04-11, found 2 times, last on 2026-10-03."},
		"not judged":     {history.Advised{First: spring, Last: spring, Times: 1}, "Since 2026-04-11. Not judged since."},
		"not found":      {history.Advised{First: spring, Last: spring, Times: 1, NotFound: visited}, "Since 2026-04-11. Not found on 2026-10-03, but it does not go away by itself: once it is fixed, write that under done."},
		"lost":           {history.Advised{First: spring, Last: spring, Times: 1, NotFound: visited, LostSight: true}, "Since 2026-04-11. Where this tire is now is not known."},
		"moved":          {history.Advised{First: visited, Last: visited, Times: 1, Item: report.Item{Where: "spare"}}, "New at this visit. It was then at spare."},
		"moved and lost": {history.Advised{First: visited, Last: visited, Times: 1, LostSight: true, Item: report.Item{Where: "spare"}}, "New at this visit. Where this tire is now is not known."},
		"came back":      {history.Advised{First: visited, Last: visited, Times: 1, Before: 1}, "New at this visit. CAME BACK: it had been closed once before."},
		"came back more": {history.Advised{First: visited, Last: visited, Times: 1, Before: 2}, "New at this visit. CAME BACK: it had been closed 2 times before."},
	} {
		h := threeVisits()
		ad := c.ad
		ad.At, ad.Number = "steer-left", "2313"
		ad.Item.Action, ad.Item.What, ad.Item.Advice, ad.Item.Found, ad.Item.Verdict = report.Plan, "Old", "Replace.", "10 years", rules.Breached
		if ad.Item.Where == "" {
			ad.Item.Where = ad.At
		}
		bound := ad
		bound.Item.Bound, bound.Item.Verdict, bound.Number = "under 10 years", rules.TooClose, ""
		bare := ad
		bare.Item.Found = ""
		h.Open = []history.Advised{ad, bound, bare}
		short, full := historyPages(h)
		if got, want := below(t, full, "Advised and still open, worst first"), []string{
			"1. PLAN - steer-left (2313): Old", "10 years", "Replace.", c.want, "2. PLAN (too close to call) - steer-left: Old", "10 years; wanted under 10 years", "Replace.", c.want,
			"3. PLAN - steer-left (2313): Old", "Replace.", c.want}; !slices.Equal(got, want) {
			t.Errorf("%s: %q, want %q", name, got, want)
		}
		if got, want := below(t, short, "Advised and still open, worst first"), []string{"- PLAN - steer-left, steer-left: Old. " + c.want, "- PLAN (too close to call) - steer-left: Old. " + c.want}; !slices.Equal(got, want) {
			t.Errorf("%s: %q, want %q", name, got, want)
		}
	}
}

// TestFoundBetweenVisitsStandsByItsAction: behind what is open under its action and what
// is worse, before what is milder.
func TestFoundBetweenVisitsStandsByItsAction(t *testing.T) {
	t.Parallel()
	between := func(action report.Action, what string) []report.Item { return items(action, what, "spare") }
	for want, c := range map[string]struct {
		open []report.Action
		todo []report.Item
	}{
		"Nothing.":                            {},
		"do_not_drive":                        {[]report.Action{report.DoNotDrive}, nil},
		"do_not_drive before_trip found plan": {[]report.Action{report.DoNotDrive, report.BeforeTrip, report.Plan}, between(report.BeforeTrip, "found")},
		"do_not_drive found plan":             {[]report.Action{report.DoNotDrive, report.Plan}, between(report.BeforeTrip, "found")},
		"found plan":                          {[]report.Action{report.Plan}, between(report.BeforeTrip, "found")},
		"plan found":                          {[]report.Action{report.Plan}, between(report.Plan, "found")},
		"before_trip found also":              {[]report.Action{report.BeforeTrip}, append(between(report.Plan, "found"), between(report.Plan, "also")...)},
		"plan call_the_yard found park_it":    {[]report.Action{report.Plan, "call_the_yard", "park_it"}, between("call_the_yard", "found")},
		"found":                               {nil, between(report.Plan, "found")},
	} {
		h := threeVisits()
		for _, a := range c.open {
			h.Open = append(h.Open, history.Advised{At: "steer-left", First: visited, Last: visited, Item: report.Item{Action: a, What: string(a), Where: "steer-left"}})
		}
		h.Todo = c.todo
		short, full := historyPages(h)
		var got []string
		for _, line := range below(t, short, "Advised and still open, worst first") {
			_, what, ok := strings.Cut(line, ": ")
			if what, _, _ = strings.Cut(what, "."); !ok {
				what = line
			}
			got = append(got, what)
		}
		if strings.Join(got, " ") != want {
			t.Errorf("%q, want %q", got, want)
		}
		if strings.Contains(full, "\nFound between the visits\n") != (len(c.todo) > 0) || strings.Contains(below(t, full, "Advised and still open, worst first")[0], "Nothing.") != (len(c.open) == 0) {
			t.Errorf("%s:%s", want, full)
		}
	}
	h := threeVisits()
	h.Todo = append(items(report.BeforeTrip, "Leaks", "steer-left", "steer-right"), items(report.Plan, "Wears", "spare")...)
	h.Todo[0].Found, h.Todo[0].Bound, h.Todo[1].Bound = "lost 3 psi", "at most 2 psi", "at most 2 psi"
	short, _ := historyPages(h)
	if got, want := below(t, short, "Advised and still open, worst first"), []string{"- BEFORE THE TRIP - steer-left (lost 3 psi), steer-right: Leaks. Wanted: at most 2 psi.", "- PLAN - spare: Wears."}; !slices.Equal(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
}

// TestClosedAndContradictions: the short page has four of each, the full one twenty that
// were closed, and each says how many it leaves out.
func TestClosedAndContradictions(t *testing.T) {
	t.Parallel()
	for _, n := range []int{0, 1, 4, 5, 20, 21, 23} {
		h := threeVisits()
		for i := range n {
			what := fmt.Sprintf("thing %02d", i)
			h.Closed = append(h.Closed, history.Advised{Item: report.Item{Where: "spare", What: what}, First: spring, Closed: summer, How: history.ClosedByDone})
			h.Contradictions = append(h.Contradictions, history.Contradiction{Date: summer, Where: "spare", What: what})
		}
		var shortClosed, fullClosed, shortWrong, fullWrong []string
		for i := range n {
			if i < 4 {
				shortClosed = append(shortClosed, fmt.Sprintf("2026-07-04 - spare: thing %02d: done", i))
			}
			if i < 20 {
				fullClosed = append(fullClosed, fmt.Sprintf("2026-07-04 - spare: thing %02d (since 2026-04-11): done", i))
			}
			if i >= n-4 {
				shortWrong = append(shortWrong, fmt.Sprintf("- 2026-07-04, spare: thing %02d", i))
			}
			fullWrong = append(fullWrong, fmt.Sprintf("- 2026-07-04, spare: thing %02d", i))
		}
		if n > 4 {
			shortClosed, shortWrong = append(shortClosed, fmt.Sprintf("%d more on the full page.", n-4)), append([]string{fmt.Sprintf("%d more on the full page.", n-4)}, shortWrong...)
		}
		if n > 20 {
			fullClosed = append(fullClosed, fmt.Sprintf("... and %d before these.", n-20))
		}
		short, full := historyPages(h)
		for _, c := range []struct {
			page, title string
			want        []string
		}{{short, "Advised and closed, latest first", shortClosed}, {full, "Advised and closed, latest first", fullClosed}, {short, "Contradictions", shortWrong}, {full, "Contradictions", fullWrong}} {
			if got := below(t, c.page, c.title); !slices.Equal(got, c.want) {
				t.Errorf("%d, %s: %q, want %q", n, c.title, got, c.want)
			}
		}
		var b strings.Builder
		if err := sheet.HistoryHTML(&b, h); err != nil {
			t.Fatal(err)
		}
		_, closed, there := strings.Cut(b.String(), "<h2>Advised and closed, latest first</h2>\n")
		closed, _, _ = strings.Cut(closed, "</section>")
		if rows := strings.Count(closed, "<li>"); there != (n > 0) || n <= 4 && rows != n || n > 4 && (rows != 5 || !strings.Contains(closed, fmt.Sprintf("<li>... and %d before these.</li>", n-4))) {
			t.Errorf("%d: the sheet has %d that were closed: %s", n, rows, closed)
		}
	}
	h := threeVisits()
	h.Closed = []history.Advised{{Item: report.Item{Where: "spare", What: "thing"}, First: spring, Closed: summer, How: history.ClosedByDone, Note: "by the shop"}}
	_, full := historyPages(h)
	if got, want := below(t, full, "Advised and closed, latest first"), []string{"2026-07-04 - spare: thing (since 2026-04-11): done, by the shop"}; !slices.Equal(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
}
