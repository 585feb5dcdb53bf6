package sheet

import (
	"fmt"
	"slices"
	"strings"

	"axleend.example/dotcode"
	"axleend.example/inflation"
	"axleend.example/inspect/history"
	"axleend.example/inspect/record"
	"axleend.example/inspect/report"
	"axleend.example/rules"
	"axleend.example/weight"
)

// HistoryText renders a history as plain UTF-8 text, at most 80 columns wide,
// ending in a line end. Its first line says the worst action that is still to
// be taken and how much was not judged; what still stands comes first. Wear
// and leaks are shown with their range rounded apart, distances and days to a
// limit rounded down.
func HistoryText(h history.History) string {
	p := &historyPage{page: page{units: units{h.System}, r: report.Report{System: h.System}}, h: h}
	p.head()
	p.open()
	p.found()
	p.closed()
	p.visits()
	p.tires()
	p.loads()
	p.rest()
	return p.b.String()
}

// SinceLastVisit says in one paragraph, without line ends, what changed from
// the visit before to the last one.
func SinceLastVisit(h history.History) string {
	p := &historyPage{page: page{units: units{h.System}, r: report.Report{System: h.System}}, h: h}
	return p.summary()
}

type historyPage struct {
	page
	h history.History
}

func (p *historyPage) last() history.VisitLine { return p.h.Visits[len(p.h.Visits)-1] }

func (p *historyPage) head() {
	h := p.h
	if h.NotJudged == 0 {
		p.line("%s - STILL OPEN: %d", ActionWords(h.Worst), len(h.Open)+len(h.Todo))
	} else {
		p.line("%s - STILL OPEN: %d, NOT JUDGED: %d, listed below", ActionWords(h.Worst), len(h.Open)+len(h.Todo), h.NotJudged)
	}
	if h.Invented {
		p.line("Invented example: no real coach, tire or table.")
	}
	what := fmt.Sprintf("%s from %s to %s", plural(len(h.Visits), "visit"), h.Visits[0].Date, p.last().Date)
	if len(h.Visits) == 1 {
		what = "1 visit, " + p.last().Date.String()
	}
	if h.Coach != "" {
		what = h.Coach + ", " + what
	}
	if d, ok := h.PerMonth.Get(); ok {
		what += ", about " + p.miles(d) + " a month"
	}
	p.line("%s", what)
	p.title("Since the last visit")
	p.line("%s", p.summary())
}

func plural(n int, word string) string {
	if n == 1 {
		return "1 " + word
	}
	return fmt.Sprintf("%d %ss", n, word)
}

// miles shows a distance to the whole mile or kilometer, down.
func (p *historyPage) miles(d weight.Length) string {
	unit, name := weight.Mile, " mi"
	if p.h.System == weight.Metric {
		unit, name = weight.Kilometer, " km"
	}
	return group(string(d.AppendIn(nil, unit, 0, weight.Floor))) + name
}

// worn shows a range of tread, in thirty-seconds or millimeters.
func (p *historyPage) worn(least, most weight.Length) string {
	unit, name := weight.Length(record.ThirtySecond), "/32 in"
	if p.h.System == weight.Metric {
		unit, name = weight.Millimeter, " mm"
	}
	show := func(d weight.Length, r weight.Rounding) string {
		text := string(d.AppendIn(nil, unit, 2, r))
		return strings.TrimSuffix(strings.TrimRight(text, "0"), ".")
	}
	return show(least, weight.Floor) + " to " + show(most, weight.Ceiling) + name
}

func (p *historyPage) per() string {
	if p.h.System == weight.Metric {
		return "1,000 km"
	}
	return "1,000 mi"
}

// leak shows a loss, or a gain, in 30 days.
func (p *historyPage) leak(l inflation.Leak) string {
	word, by := "lost", l.PerMonth
	if by < 0 {
		word, by = "gained", -by
	}
	return fmt.Sprintf("%s %s +/- %s a month", word, bare(p.psi(by, weight.Nearest)), p.psi(l.PlusMinus, weight.Ceiling))
}

func (p *historyPage) summary() string {
	h := p.h
	if len(h.Visits) < 2 {
		return "This is the only visit given: there is nothing to compare it with."
	}
	last, before := p.last(), h.Visits[len(h.Visits)-2]
	var say []string
	head := "The visit before was on " + before.Date.String()
	if d, ok := last.Driven.Get(); ok {
		head += ", " + p.miles(d) + " ago"
	}
	say = append(say, head)
	fresh, old, closed := 0, 0, 0
	for _, ad := range h.Open {
		if ad.First == last.Date {
			fresh++
		} else {
			old++
		}
	}
	for _, ad := range h.Closed {
		if ad.Closed == last.Date {
			closed++
		}
	}
	say = append(say, fmt.Sprintf("Of what was advised: %d still open from before, %d new, %d closed", old, fresh, closed))
	if stops := p.stopping(); stops > 0 {
		say = append(say, fmt.Sprintf("%d of what is open %s the coach", stops, map[bool]string{true: "stops", false: "stop"}[stops == 1]))
	}
	var leaky, close []string
	for _, it := range h.Todo {
		if it.Verdict == rules.TooClose || slices.Contains(leaky, it.Where) {
			continue // the worse one of a tire is enough here
		}
		leaky = append(leaky, it.Where)
		for _, t := range h.Tires {
			if n := len(t.Leaks); t.At == it.Where && t.Presence == history.OnCoach && n > 0 {
				say = append(say, fmt.Sprintf("%s %s: it %s", it.Where, p.leak(t.Leaks[n-1].Leak), lower(it.What)))
			}
		}
	}
	for _, it := range h.Todo {
		if !slices.Contains(leaky, it.Where) && !slices.Contains(close, it.Where) {
			close = append(close, it.Where)
		}
	}
	if len(close) > 0 {
		say = append(say, "Too close to call with these gauges, whether it leaks: "+strings.Join(close, ", "))
	}
	if t, l, ok := p.soonest(); ok {
		w, _ := t.Wear.Get()
		text := fmt.Sprintf("First at a tread limit is %s", t.At)
		if l, ok2 := perThousand(w); ok2 {
			text += ", which lost " + p.worn(l[0], l[1]) + " per " + p.per()
		}
		say = append(say, text+": at that pace "+p.reach(l))
	}
	for _, c := range h.Loads {
		if c.Kind == report.EndLoad && c.Trend != history.NoSureChange && c.To == last.Date && c.From == before.Date {
			say = append(say, fmt.Sprintf("%s has %s by %s", c.Name, c.Trend, p.change(c)))
		}
	}
	n := 0
	for _, c := range h.Contradictions {
		if c.Date == last.Date {
			n++
		}
	}
	if n > 0 {
		say = append(say, plural(n, "contradiction")+" in what was recorded: see below")
	}
	return strings.Join(say, ". ") + "."
}

func (p *historyPage) stopping() int {
	n := 0
	for _, ad := range p.h.Open {
		if ad.Item.Stops {
			n++
		}
	}
	return n
}

func lower(text string) string { return strings.ToLower(text[:1]) + text[1:] }

func perThousand(w history.Wear) ([2]weight.Length, bool) {
	least, ok1 := w.LeastPer.Get()
	most, ok2 := w.MostPer.Get()
	return [2]weight.Length{least, most}, ok1 && ok2
}

// soonest finds the tire that can be first at a limit that stands above its
// tread's.
func (p *historyPage) soonest() (history.TireHistory, history.WearLimit, bool) {
	var tire history.TireHistory
	var limit history.WearLimit
	found := false
	for _, t := range p.h.Tires {
		w, ok := t.Wear.Get()
		if !ok || t.Presence != history.OnCoach || len(w.Limits) == 0 {
			continue
		}
		l := w.Limits[0] // the deepest comes first
		if !l.SoonestOn.IsZero() && (!found || l.SoonestOn.Before(limit.SoonestOn)) {
			tire, limit, found = t, l, true
		}
	}
	return tire, limit, found
}

// reach says when a limit is reached.
func (p *historyPage) reach(l history.WearLimit) string {
	depth := p.depth(l.Depth)
	if p.h.System == weight.Metric { // a limit is shown on its strict side
		depth = strings.TrimSuffix(string(l.Depth.AppendIn(nil, weight.Millimeter, 1, weight.Ceiling)), ".0") + " mm"
	}
	out := depth + " is reached"
	if near, ok := l.Soonest.Get(); ok && near == 0 || l.SoonestOn == p.last().Date {
		return depth + " may be reached now"
	}
	if soonest, ok := l.Soonest.Get(); ok {
		if latest, ok := l.Latest.Get(); ok {
			out += " after " + bare(p.miles(soonest)) + " to " + p.miles(latest)
		} else {
			out += " after " + p.miles(soonest) + " or more"
		}
	}
	switch {
	case l.SoonestOn.IsZero():
	case p.far(l.SoonestOn):
		out += ", in ten years or more"
	case l.LatestOn.IsZero() || p.far(l.LatestOn):
		out += ", from " + l.SoonestOn.String() + " on"
	default:
		out += ", between " + l.SoonestOn.String() + " and " + l.LatestOn.String()
	}
	return out
}

// far reports a day on which the tire's age has long decided.
func (p *historyPage) far(d dotcode.Date) bool { return d.After(p.last().Date.AddYears(10)) }

func (p *historyPage) change(c history.LoadChange) string {
	return bare(p.mass(max(c.Change, -c.Change), weight.Nearest)) + " +/- " + p.mass(c.PlusMinus, weight.Ceiling)
}

func (p *historyPage) found() {
	if len(p.h.Todo) == 0 {
		return
	}
	p.title("Found between the visits")
	p.findings(p.h.Todo)
}

// item writes one entry of what is open.
func (p *historyPage) item(i int, it *report.Item, where string) {
	word := ActionWords(it.Action)
	if it.Verdict == rules.TooClose {
		word += " (too close to call)"
	}
	p.wrap(fmt.Sprintf("%2d. ", i+1), "    ", fmt.Sprintf("%s - %s: %s", word, where, it.What))
	if it.Found != "" {
		text := it.Found
		if it.Bound != "" {
			text += "; wanted " + it.Bound
		}
		p.wrap("    ", "    ", text)
	}
	p.because(it.Advice, it.Causes, it.Rules, it.Sources)
}

func (p *historyPage) open() {
	p.title("Advised and still open, worst first")
	if len(p.h.Open) == 0 {
		p.line("Nothing.")
	}
	last := p.last().Date
	for i, ad := range p.h.Open {
		where := ad.At
		if ad.Number != "" {
			where += " (" + ad.Number + ")"
		}
		p.item(i, &ad.Item, where)
		text := "since " + ad.First.String()
		switch {
		case ad.Times > 1:
			text += fmt.Sprintf(", found %d times, last on %s", ad.Times, ad.Last)
		case ad.First == last:
			text = "new at this visit"
		}
		if ad.At != ad.Item.Where && !ad.LostSight {
			text += ", then at " + ad.Item.Where
		}
		if ad.Before > 0 {
			text += fmt.Sprintf("; closed %s before, and came back", plural(ad.Before, "time"))
		}
		switch {
		case ad.LostSight:
			text += "; where this tire is now is not known"
		case !ad.NotFound.IsZero():
			text += fmt.Sprintf("; not found on %s, but it does not go away by itself: once it was put right, write that under done", ad.NotFound)
		case ad.Last != last:
			text += "; not judged since"
		}
		p.wrap("    ", "    ", text)
	}
}

// shownClosed is how many closed entries a page lists.
const shownClosed = 20

func (p *historyPage) closed() {
	if len(p.h.Closed) == 0 {
		return
	}
	p.title("Advised and closed, the last first")
	for i, ad := range p.h.Closed {
		if i == shownClosed {
			p.line("... and %d before these.", len(p.h.Closed)-i)
			break
		}
		text := fmt.Sprintf("%s - %s: %s (since %s): %s", ad.Closed, ad.Item.Where, ad.Item.What, ad.First, ad.How)
		if ad.Note != "" {
			text += ", " + ad.Note
		}
		p.wrap("", "    ", text)
	}
}

func (p *historyPage) visits() {
	p.title("Visits, and the worst that was found at each")
	for i, v := range p.h.Visits {
		text := v.Date.String() + "  "
		odometer := "no odometer"
		if d, ok := v.Odometer.Get(); ok {
			odometer = p.miles(d)
		}
		driven := ""
		if d, ok := v.Driven.Get(); ok {
			driven = "+" + p.miles(d)
		} else if i > 0 && v.Odometer.Is() {
			driven = "+ ?"
		}
		p.line("%s%12s %10s  %s, %d not judged", text, odometer, driven, ActionWords(v.Worst), v.NotJudged)
		if v.LoadState != "" {
			p.wrap("            ", "            ", v.LoadState)
		}
	}
}

func (p *historyPage) tires() {
	p.title("Tires")
	assumed := []string{}
	gone := false
	for _, t := range p.h.Tires {
		if t.Presence != history.OnCoach && !gone {
			gone = true
			p.line("No longer on the coach, or not known where:")
		}
		head := t.At
		if t.Number != "" {
			head += " (" + t.Number + ")"
		}
		if t.Presence != history.OnCoach {
			head += fmt.Sprintf(": %s, last seen %s", t.Presence, t.Sightings[len(t.Sightings)-1].Date)
		} else if !t.ByNumber && len(t.Sightings) > 1 {
			assumed = append(assumed, t.At)
		}
		p.line("%s", head)
		p.tire(t)
	}
	if len(assumed) > 0 {
		p.wrap("", "  ", "Without a full number of its own a tire is taken for the same one while it stays at its position and nothing contradicts: "+strings.Join(assumed, ", ")+".")
	}
}

// shownSightings is how many visits a line of treads names: the first and the
// last ones.
const shownSightings = 5

func (p *historyPage) tire(t history.TireHistory) {
	say := func(format string, args ...any) { p.wrap("    ", "      ", fmt.Sprintf(format, args...)) }
	var moves, treads []string
	for i, s := range t.Sightings {
		if i > 0 && s.At != t.Sightings[i-1].At {
			moves = append(moves, fmt.Sprintf("from %s to %s by %s", t.Sightings[i-1].At, s.At, s.Date))
		}
		if d, ok := s.Tread.Get(); ok {
			treads = append(treads, p.depth(d)+" ("+s.Date.String()+")")
		}
	}
	if len(moves) > 0 {
		say("moved %s", strings.Join(moves, ", "))
	}
	if n := len(treads); n > shownSightings {
		treads = append(treads[:1:1], append([]string{"..."}, treads[n-shownSightings+1:]...)...)
	}
	if len(treads) > 0 {
		say("tread %s", strings.Join(treads, ", "))
	}
	if w, ok := t.Wear.Get(); ok {
		text := fmt.Sprintf("worn %s from %s to %s", p.worn(w.Least, w.Most), w.From, w.To)
		if d, ok := w.Driven.Get(); ok {
			text += " (" + p.miles(d) + ")"
		}
		if per, ok := perThousand(w); ok {
			text += fmt.Sprintf(": %s per %s", p.worn(per[0], per[1]), p.per())
		}
		say("%s", text)
		if t.Presence == history.OnCoach {
			for _, l := range w.Limits {
				say("at that pace %s", p.reach(l))
			}
		}
	}
	if n := len(t.Leaks); n > 0 {
		l := t.Leaks[n-1]
		text := fmt.Sprintf("%s from %s to %s", p.leak(l.Leak), l.From, l.To)
		if over, ok := l.OverMates.Get(); ok {
			word, by := "more", over.PerMonth
			if by < 0 {
				word, by = "less", -by
			}
			text += fmt.Sprintf("; %s +/- %s %s than the middle one of %s", bare(p.psi(by, weight.Nearest)), p.psi(over.PlusMinus, weight.Ceiling), word, plural(l.Mates, "mate"))
		}
		say("%s", text)
	}
}

func (p *historyPage) loads() {
	if len(p.h.Loads) == 0 {
		return
	}
	p.title("Loads")
	column := 0
	for _, c := range p.h.Loads {
		column = max(column, len(loadName(report.LoadLine{Name: c.Name, Kind: c.Kind})))
	}
	for _, c := range p.h.Loads {
		word := c.Trend.String()
		if c.Trend != history.NoSureChange {
			word += " by " + p.change(c)
		} else {
			word += " (+/- " + p.mass(c.PlusMinus, weight.Ceiling) + ")"
		}
		p.wrap("", "    ", fmt.Sprintf("%-*s %s %s, %s %s: %s", column, loadName(report.LoadLine{Name: c.Name, Kind: c.Kind}),
			c.From, bare(p.mass(c.Before.Load, weight.Nearest)), c.To, p.mass(c.After.Load, weight.Nearest), word))
	}
}

func (p *historyPage) rest() {
	if len(p.h.Contradictions) > 0 {
		p.title("Contradictions")
		for _, c := range p.h.Contradictions {
			p.wrap("- ", "  ", fmt.Sprintf("%s, %s: %s", c.Date, c.Where, c.What))
		}
	}
	p.title("Not judged, because it was not recorded")
	if len(p.h.Unjudged) == 0 {
		p.line("Nothing.")
	}
	for _, g := range gapsByNeed(p.h.Unjudged) {
		p.wrap("- ", "    ", g.need+" - "+strings.Join(g.places, ", "))
	}
	p.title("Cautions")
	for _, c := range p.h.Cautions {
		p.wrap("- ", "  ", c)
	}
}
