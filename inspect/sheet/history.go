package sheet

import (
	"fmt"
	"slices"
	"strings"

	"axleend.example/dotcode"
	"axleend.example/inflation/cold"
	"axleend.example/inspect/history"
	"axleend.example/inspect/record"
	"axleend.example/inspect/report"
	"axleend.example/rules"
	"axleend.example/weight"
)

// HistoryText renders a history as plain UTF-8 text, ending in a line end. Its first line says the worst action that is still to
// be taken and how much was not judged; what still stands comes first. Wear
// and leaks are shown with their range rounded apart, distances and days to a
// limit rounded down.
//
// Without [TextOptions.Full] it is the short page: every entry that is open by its
// title, one line a tire and one a load, and where to read on.
func HistoryText(h history.History, opt TextOptions) string {
	p := newHistoryPage(h, opt)
	p.head()
	if !opt.Full {
		p.short()
		return p.b.String()
	}
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
	return newHistoryPage(h, TextOptions{}).summary()
}

func newHistoryPage(h history.History, opt TextOptions) *historyPage {
	return &historyPage{page: page{units: units{h.System, h.PressureUnit}, r: report.Report{System: h.System, PressureUnit: h.PressureUnit}, width: opt.width(), full: opt.Full, more: opt.ReadOn}, h: h}
}

type historyPage struct {
	page
	h history.History
}

func (p *historyPage) last() history.VisitLine { return p.h.Visits[len(p.h.Visits)-1] }

func (p *historyPage) head() {
	h := p.h
	open := things(len(h.Open) + len(h.Todo))
	if h.NotJudged == 0 {
		p.line(sayHistoryOpen, p.verdict(), open)
	} else {
		p.line(sayHistoryOpenGaps, p.verdict(), open, fmt.Sprint(h.NotJudged))
	}
	if h.Invented {
		p.line(sayInvented)
	}
	p.line("%s", strings.Join(p.headings(), ", "))
	p.title(titleSince)
	p.line("%s", p.summary())
}

// verdict is the answer about driving by what is still open, or, where that is
// nothing before the trip, the worst action that is.
func (p *historyPage) verdict() string {
	if p.h.Drive != report.NothingFound {
		return historyDrive(p.h.Drive, 0)
	}
	all := []report.Action{""}
	for i := range p.h.Todo {
		all = append(all, p.h.Todo[i].Action)
	}
	for i := range p.h.Open {
		all = append(all, p.h.Open[i].Item.Action)
	}
	worst := slices.MinFunc(all, report.Action.Compare)
	if worst != "" && worst != report.Plan { // of a spare, which keeps no coach from driving
		return sayOnlySpare
	}
	return ActionWords(worst)
}

// historyDrive is a visit's answer about driving in a few words; where nothing is to
// be done before the trip, how much was advised.
func historyDrive(d report.Drive, advised int) string {
	switch {
	case d == report.MustNotMove:
		return ActionWords(report.DoNotDrive)
	case d == report.NothingFound && advised > 0:
		return fmt.Sprintf(sayAdvised, things(advised))
	case d == report.NothingFound:
		return ActionWords("")
	}
	return strings.ToUpper(d.String())
}

// headings are the coach, its visits and how far it is driven.
func (p *historyPage) headings() []string {
	var out []string
	if p.h.Coach != "" {
		out = append(out, p.h.Coach)
	}
	if len(p.h.Visits) == 1 {
		out = append(out, fmt.Sprintf(sayOneVisit, p.last().Date))
	} else {
		out = append(out, fmt.Sprintf(sayManyVisits, len(p.h.Visits), p.h.Visits[0].Date, p.last().Date))
	}
	if d, ok := p.h.PerMonth.Get(); ok {
		out = append(out, fmt.Sprintf(sayMonthly, p.miles(d)))
	}
	return out
}

// things counts things.
func things(n int) string { return counted(n, sayOneThing, sayThings) }

// counted says one in its own words, and any other number in those for many.
func counted(n int, one, many string) string {
	if n == 1 {
		return one
	}
	return fmt.Sprintf(many, n)
}

// anyOf says how many there are, as counted does, and nothing of none.
func anyOf(n int, one, many string) []string {
	if n == 0 {
		return nil
	}
	return []string{counted(n, one, many)}
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
	return fmt.Sprintf(sayTreadRange, show(least, weight.Floor), show(most, weight.Ceiling)+name)
}

func (p *historyPage) per() string {
	if p.h.System == weight.Metric {
		return "1,000 km"
	}
	return "1,000 mi"
}

// leak shows a loss, or a gain, in 30 days.
func (p *historyPage) leak(l cold.Leak) string {
	say, by := sayLost, l.PerMonth
	if by < 0 {
		say, by = sayGained, -by
	}
	return fmt.Sprintf(say, bare(p.psi(by, weight.Nearest)), p.psi(l.PlusMinus, weight.Ceiling))
}

// limitDepth shows a limit, a metric one on its strict side.
func (p *historyPage) limitDepth(l history.WearLimit) string {
	if p.h.System == weight.Metric {
		return strings.TrimSuffix(string(l.Depth.AppendIn(nil, weight.Millimeter, 1, weight.Ceiling)), ".0") + " mm"
	}
	return p.depth(l.Depth)
}

// reach says when a limit is reached.
func (p *historyPage) reach(l history.WearLimit) string {
	depth := p.limitDepth(l)
	if near, ok := l.Soonest.Get(); ok && near == 0 || l.SoonestOn == p.last().Date {
		return fmt.Sprintf(sayLimitNow, depth)
	}
	out := fmt.Sprintf(sayLimitIs, depth)
	if soonest, ok := l.Soonest.Get(); ok {
		if latest, ok := l.Latest.Get(); ok {
			out = fmt.Sprintf(sayLimitAfter, depth, bare(p.miles(soonest)), p.miles(latest))
		} else {
			out = fmt.Sprintf(sayLimitAfterMore, depth, p.miles(soonest))
		}
	}
	switch {
	case l.SoonestOn.IsZero():
		return out
	case p.far(l.SoonestOn):
		return fmt.Sprintf(sayLimitTenYears, out)
	case l.LatestOn.IsZero() || p.far(l.LatestOn):
		return fmt.Sprintf(sayLimitFrom, out, l.SoonestOn)
	}
	return fmt.Sprintf(sayLimitBetween, out, l.SoonestOn, l.LatestOn)
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
	p.title(titleBetween)
	p.findings(p.h.Todo)
}

// item writes one entry of what is open.
func (p *historyPage) item(i int, it *report.Item, where string) {
	word := ActionWords(it.Action)
	if it.Verdict == rules.TooClose {
		word = fmt.Sprintf(sayTooClose, word)
	}
	p.wrap(fmt.Sprintf("%2d. ", i+1), "    ", fmt.Sprintf("%s - %s: %s", word, where, it.What))
	if it.Found != "" {
		text := it.Found
		if it.Bound != "" {
			text = fmt.Sprintf(sayFoundWanted, it.Found, it.Bound)
		}
		p.wrap("    ", "    ", text)
	}
	p.because(it.Advice, it.Causes, it.Rules, it.Sources)
}

func (p *historyPage) open() {
	p.title(titleOpen)
	if len(p.h.Open) == 0 {
		p.line(sayNothing)
	}
	last := p.last().Date
	for i, ad := range p.h.Open {
		where := ad.At
		if ad.Number != "" {
			where += " (" + ad.Number + ")"
		}
		p.item(i, &ad.Item, where)
		p.wrap("    ", "    ", strings.Join(p.standing(&p.h.Open[i], last), " "))
	}
}

// standing says since when an entry is open, and what became of it.
func (p *historyPage) standing(ad *history.Advised, last dotcode.Date) []string {
	var out []string
	say := func(format string, args ...any) { out = append(out, fmt.Sprintf(format, args...)) }
	switch {
	case ad.Times > 1:
		say(sayOpenTimes, ad.First, ad.Times, ad.Last)
	case ad.First == last:
		say(sayOpenNew)
	default:
		say(sayOpenSince, ad.First)
	}
	if ad.At != ad.Item.Where && !ad.LostSight {
		say(sayThenAt, ad.Item.Where)
	}
	out = append(out, anyOf(ad.Before, sayCameBackOnce, sayCameBack)...)
	switch {
	case ad.LostSight:
		say(sayLostSight)
	case !ad.NotFound.IsZero():
		say(sayNotFoundAgain, ad.NotFound)
	case ad.Last != last:
		say(sayNotJudgedSince)
	}
	return out
}

// shownClosed is how many closed entries a page lists.
const shownClosed = 20

func (p *historyPage) closed() {
	if len(p.h.Closed) == 0 {
		return
	}
	p.title(titleClosed)
	for i, ad := range p.h.Closed {
		if i == shownClosed {
			p.line(sayClosedMore, len(p.h.Closed)-i)
			break
		}
		text := fmt.Sprintf(sayClosed, ad.Closed, ad.Item.Where, ad.Item.What, ad.First, ad.How)
		if ad.Note != "" {
			text = fmt.Sprintf(sayClosedNote, ad.Closed, ad.Item.Where, ad.Item.What, ad.First, ad.How, ad.Note)
		}
		p.wrap("", "    ", text)
	}
}

func (p *historyPage) visits() {
	p.title(titleVisits)
	for i, v := range p.h.Visits {
		text := v.Date.String() + "  "
		odometer := sayOdometerUnknown
		if d, ok := v.Odometer.Get(); ok {
			odometer = p.miles(d)
		}
		driven := ""
		if d, ok := v.Driven.Get(); ok {
			driven = "+" + p.miles(d)
		} else if i > 0 && v.Odometer.Is() {
			driven = "+ ?"
		}
		p.line(sayVisitLine, text, odometer, driven, historyDrive(v.Drive, v.Todo), v.NotJudged)
		if v.LoadState != "" {
			p.wrap("            ", "            ", v.LoadState)
		}
	}
}

func (p *historyPage) tires() {
	p.title(titleTires)
	assumed := []string{}
	gone := false
	for _, t := range p.h.Tires {
		if t.Presence != history.OnCoach && !gone {
			gone = true
			p.line(sayGoneFrom)
		}
		head := t.At
		if t.Number != "" {
			head += " (" + t.Number + ")"
		}
		if t.Presence != history.OnCoach {
			head = fmt.Sprintf(saySeenLast, head, t.Presence, t.Sightings[len(t.Sightings)-1].Date)
		} else if !t.ByNumber && len(t.Sightings) > 1 {
			assumed = append(assumed, t.At)
		}
		p.line("%s", head)
		p.tire(t)
	}
	if len(assumed) > 0 {
		p.wrap("", "  ", fmt.Sprintf(sayAssumedSame, strings.Join(assumed, ", ")))
	}
}

// shownSightings is how many visits a line of treads names: the first and the
// last ones.
const shownSightings = 5

func (p *historyPage) tire(t history.TireHistory) {
	say := func(format string, args ...any) { p.wrap("    ", "      ", fmt.Sprintf(format, args...)) }
	var treads []string
	for i, s := range t.Sightings {
		if i > 0 && s.At != t.Sightings[i-1].At {
			say(sayMoved, t.Sightings[i-1].At, s.At, s.Date)
		}
		if d, ok := s.Tread.Get(); ok {
			treads = append(treads, p.depth(d)+" ("+s.Date.String()+")")
		}
	}
	if n := len(treads); n > shownSightings {
		treads = append(treads[:1:1], append([]string{"..."}, treads[n-shownSightings+1:]...)...)
	}
	if len(treads) > 0 {
		say(sayTreads, strings.Join(treads, ", "))
	}
	if w, ok := t.Wear.Get(); ok {
		p.wear(&t, w, say)
	}
	if n := len(t.Leaks); n > 0 {
		say("%s", p.leakBetween(&t.Leaks[n-1]))
	}
}

// wear says what a tire wore, and when its limits are reached at that pace.
func (p *historyPage) wear(t *history.TireHistory, w history.Wear, say func(string, ...any)) {
	driven, known := w.Driven.Get()
	per, ok := perThousand(w)
	worn := p.worn(w.Least, w.Most)
	switch {
	case ok:
		say(sayWornPer, worn, w.From, w.To, p.miles(driven), p.worn(per[0], per[1]), p.per())
	case known:
		say(sayWornMiles, worn, w.From, w.To, p.miles(driven))
	default:
		say(sayWorn, worn, w.From, w.To)
	}
	if t.Presence != history.OnCoach {
		return
	}
	for _, l := range w.Limits {
		switch known := l.Soonest.Is() || !l.SoonestOn.IsZero(); {
		case known:
			say(sayAtPace, p.reach(l))
			continue
		case w.Most == 0:
			say(sayPaceNotKnown)
		default:
			say(sayLimitNone)
		}
		return // of one limit as of all
	}
}

// leakBetween says what a tire lost between two visits, and how much more or less
// than its mates.
func (p *historyPage) leakBetween(l *history.LeakBetween) string {
	lost := p.leak(l.Leak)
	over, ok := l.OverMates.Get()
	if !ok {
		return fmt.Sprintf(sayLostBetween, lost, l.From, l.To)
	}
	by, more := over.PerMonth, over.PerMonth >= 0
	if !more {
		by = -by
	}
	amount := p.psi(by, weight.Nearest)
	if over.PlusMinus > 0 {
		amount = bare(amount) + " +/- " + p.psi(over.PlusMinus, weight.Ceiling)
	}
	switch {
	case l.Mates == 1 && more:
		return fmt.Sprintf(sayMoreThanMate, lost, l.From, l.To, amount)
	case l.Mates == 1:
		return fmt.Sprintf(sayLessThanMate, lost, l.From, l.To, amount)
	case more:
		return fmt.Sprintf(sayMoreThanMates, lost, l.From, l.To, amount, l.Mates)
	}
	return fmt.Sprintf(sayLessThanMates, lost, l.From, l.To, amount, l.Mates)
}

func (p *historyPage) loads() {
	if len(p.h.Loads) == 0 {
		return
	}
	p.title(titleLoads)
	column := 0
	for _, c := range p.h.Loads {
		column = max(column, len(loadName(report.LoadLine{Name: c.Name, Kind: c.Kind})))
	}
	for _, c := range p.h.Loads {
		word := fmt.Sprintf(sayNoChangeWithin, p.mass(c.PlusMinus, weight.Ceiling))
		switch c.Trend {
		case history.Grown:
			word = fmt.Sprintf(sayGrownBy, p.change(c))
		case history.Shrunk:
			word = fmt.Sprintf(sayShrunkBy, p.change(c))
		}
		p.wrap("", "    ", fmt.Sprintf(sayChange, column, loadName(report.LoadLine{Name: c.Name, Kind: c.Kind}),
			c.From, bare(p.mass(c.Before.Load, weight.Nearest)), c.To, p.mass(c.After.Load, weight.Nearest), word))
	}
}

func (p *historyPage) rest() {
	if len(p.h.Contradictions) > 0 {
		p.title(titleContradict)
		for _, c := range p.h.Contradictions {
			p.wrap("- ", "  ", fmt.Sprintf("%s, %s: %s", c.Date, c.Where, c.What))
		}
	}
	p.title(titleUnjudged)
	if len(p.h.Unjudged) == 0 {
		p.line(sayNothing)
	}
	for _, g := range gapsByNeed(p.h.Unjudged) {
		p.wrap("- ", "    ", g.need+" - "+strings.Join(g.places, ", "))
	}
	p.title(titleCautions)
	for _, c := range p.h.Cautions {
		p.wrap("- ", "  ", c)
	}
}
