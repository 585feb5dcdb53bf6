package sheet

import (
	"fmt"
	"slices"
	"strings"

	"axleend.example/inspect/history"
	"axleend.example/inspect/report"
	"axleend.example/rules"
	"axleend.example/weight"
)

// The short page of a history has so many lines of what was closed and what
// contradicts; all of what is open stands on it.
const (
	shortClosed     = 4
	shortContradict = 4
)

// short is the page that fits a screen or two: titles, and a line for each tire
// and each load.
func (p *historyPage) short() {
	p.shortOpen()
	if len(p.h.Closed) > 0 {
		p.firstClosed()
	}
	p.title(titleTires)
	p.table([]string{sayTireHead, sayTreadHead, sayLimitHead, sayLeakHead}, p.tireRows())
	if rows := p.loadRows(); len(rows) > 0 {
		p.title(titleLoads)
		p.table([]string{sayLoadHead, sayNowHead, fmt.Sprintf(sayChangeHead, p.h.Visits[0].Date), sayLimitColumn}, rows)
		if slices.ContainsFunc(p.h.Weighed, func(l history.LoadHistory) bool { return l.LimitName == report.HalfGAWR }) {
			p.line(sayHalfGAWR)
		}
	}
	if len(p.h.Contradictions) > 0 {
		p.lastContradictions()
	}
	if len(p.h.Unjudged) > 0 {
		p.title(titleUnjudged)
		for _, g := range gapsByNeed(p.h.Unjudged) {
			p.wrap("- ", "    ", g.need+" - "+strings.Join(g.places, ", "))
		}
	}
	p.b.WriteByte('\n')
	for _, c := range p.shortCautions() {
		p.line("%s", c)
	}
	if p.more != "" {
		p.line("%s", p.more)
	}
}

// firstClosed has the first of what was closed.
func (p *historyPage) firstClosed() {
	p.title(titleClosed)
	first := p.h.Closed[:min(shortClosed, len(p.h.Closed))]
	for _, ad := range first {
		p.wrap("", "    ", fmt.Sprintf(sayClosedShort, ad.Closed, ad.Item.Where, ad.Item.What, ad.How))
	}
	if more := len(p.h.Closed) - len(first); more > 0 {
		p.line(sayShortMore, more)
	}
}

// lastContradictions has the last contradictions.
func (p *historyPage) lastContradictions() {
	p.title(titleContradict)
	more := max(0, len(p.h.Contradictions)-shortContradict)
	if more > 0 {
		p.line(sayShortMore, more)
	}
	for _, c := range p.h.Contradictions[more:] {
		p.wrap("- ", "  ", fmt.Sprintf("%s, %s: %s", c.Date, c.Where, c.What))
	}
}

// shortCautions are those of what is dangerous, and the last, that nobody says a
// coach is safe.
func (p *historyPage) shortCautions() []string {
	n := len(p.h.Cautions) - generalCautions
	if n < 0 {
		return p.h.Cautions
	}
	return append(slices.Clone(p.h.Cautions[:n]), p.h.Cautions[len(p.h.Cautions)-1])
}

// generalCautions are those that every history ends with.
const generalCautions = 5

// An openGroup is what one rule said with the same words of several places.
type openGroup struct {
	item   report.Item
	places []string
	since  string
}

// openGroups brings together what is open and was found in the same words since
// the same day, the worst first.
func (p *historyPage) openGroups() []openGroup {
	last := p.last().Date
	var out []openGroup
	for i := range p.h.Open {
		ad := &p.h.Open[i]
		since := strings.Join(p.standing(ad, last), " ")
		at := slices.IndexFunc(out, func(g openGroup) bool {
			return g.item.What == ad.Item.What && g.item.Action == ad.Item.Action && g.item.Verdict == ad.Item.Verdict && g.since == since
		})
		if at < 0 {
			at = len(out)
			out = append(out, openGroup{item: ad.Item, since: since})
		}
		out[at].places = append(out[at].places, ad.At)
	}
	return out
}

// actionOf is an action in words, with its doubt.
func actionOf(it *report.Item) string {
	if it.Verdict == rules.TooClose {
		return fmt.Sprintf(sayTooClose, ActionWords(it.Action))
	}
	return ActionWords(it.Action)
}

// openLines are what is open and what was found between the visits, a sentence or
// two each, the worst first.
func (p *historyPage) openLines() []string {
	type line struct {
		action report.Action
		text   string
	}
	var out []line
	for _, g := range p.openGroups() {
		out = append(out, line{g.item.Action, fmt.Sprintf(sayOpenShort, actionOf(&g.item), strings.Join(g.places, ", "), g.item.What, g.since)})
	}
	for _, f := range findings(p.h.Todo) {
		at := len(out)
		for j := range slices.Backward(out) {
			if out[j].action == f.action {
				at = j + 1
				break
			}
			if out[j].action.Compare(f.action) > 0 {
				at = j
			}
		}
		out = slices.Insert(out, at, line{f.action, betweenShort(&f)})
	}
	lines := make([]string, len(out))
	for i := range out {
		lines[i] = out[i].text
	}
	return lines
}

func (p *historyPage) shortOpen() {
	p.title(titleOpen)
	lines := p.openLines()
	if len(lines) == 0 {
		p.line(sayNothing)
	}
	for _, s := range lines { // not numbered: a line may stand for several places, which are counted each
		p.wrap("- ", "  ", s)
	}
}

// betweenShort is a finding between the visits, and everywhere it is, in one
// sentence.
func betweenShort(f *finding) string {
	var places []string
	bound := ""
	for _, s := range f.spots {
		for _, at := range s.places {
			if s.found != "" {
				at = fmt.Sprintf(sayPlaceFound, at, s.found)
			}
			places = append(places, at)
		}
		bound = s.bound
	}
	action := actionOf(&report.Item{Action: f.action, Verdict: f.verdict})
	if bound == "" {
		return fmt.Sprintf(sayBetweenBare, action, strings.Join(places, ", "), f.what)
	}
	return fmt.Sprintf(sayBetweenShort, action, strings.Join(places, ", "), f.what, bound)
}

// tireRows gives each tire that is on the coach a row.
func (p *historyPage) tireRows() [][]string {
	var out [][]string
	for i := range p.h.Tires {
		t := &p.h.Tires[i]
		if t.Presence == history.OnCoach {
			out = append(out, []string{t.At, p.treadRange(t), p.nextLimit(t), p.lastLeak(t)})
		}
	}
	return out
}

// treadRange is the first and the last tread that was read.
func (p *historyPage) treadRange(t *history.TireHistory) string {
	var depths []string
	for _, s := range t.Sightings {
		if d, ok := s.Tread.Get(); ok {
			depths = append(depths, p.depth(d))
		}
	}
	switch n := len(depths); n {
	case 0:
		return sayTreadNotRead
	case 1:
		return depths[0]
	default:
		return fmt.Sprintf(sayTreadRange, bare(depths[0]), depths[n-1])
	}
}

// nextLimit says which limit a tire's tread can reach first, and when.
func (p *historyPage) nextLimit(t *history.TireHistory) string {
	w, ok := t.Wear.Get()
	if !ok || len(w.Limits) == 0 || w.Limits[0].SoonestOn.IsZero() {
		return sayLimitNone
	}
	l := w.Limits[0] // the deepest comes first
	switch {
	case l.SoonestOn == p.last().Date:
		return fmt.Sprintf(sayLimitOver, p.limitDepth(l))
	case p.far(l.SoonestOn):
		return sayLimitFar
	}
	return fmt.Sprintf(sayLimitOn, p.limitDepth(l), l.SoonestOn)
}

func (p *historyPage) lastLeak(t *history.TireHistory) string {
	if len(t.Leaks) == 0 {
		return sayLeakNone
	}
	l := t.Leaks[len(t.Leaks)-1]
	return bare(p.psi(l.PerMonth, weight.Nearest)) + " +/- " + p.psi(l.PlusMinus, weight.Ceiling)
}

// loadRows gives each end and the coach a row: what it weighs, how that changed
// since it was first weighed, and its limit; an axle where an end is not known, or
// where it is not surely within its rating.
func (p *historyPage) loadRows() [][]string {
	var out [][]string
	for i := range p.h.Weighed {
		l := &p.h.Weighed[i]
		if l.Kind == report.AxleLoad && pastLimit(l) == "" && p.weighed(l.Name, weight.Left) != nil && p.weighed(l.Name, weight.Right) != nil {
			continue
		}
		now := &l.At[len(l.At)-1]
		out = append(out, []string{loadName(report.LoadLine{Name: l.Name, Kind: l.Kind}), p.estimate(now.Load), p.changed(l), p.limitOf(l)})
	}
	return out
}

// changed says how a load changed since it was first weighed, "" where it was
// weighed once.
func (p *historyPage) changed(l *history.LoadHistory) string {
	for _, c := range p.h.Loads {
		if c.Name != l.Name || c.Kind != l.Kind || c.From != l.At[0].Date {
			continue
		}
		switch c.Trend {
		case history.Grown:
			return fmt.Sprintf(sayGrownBy, p.change(c))
		case history.Shrunk:
			return fmt.Sprintf(sayShrunkBy, p.change(c))
		}
		return sayNoChange
	}
	return ""
}

// limitOf says how a load stands to its lowest rating, "" where it has none.
func (p *historyPage) limitOf(l *history.LoadHistory) string {
	if l.Limit == 0 {
		return ""
	}
	e := l.At[len(l.At)-1].Load
	limit := p.mass(l.Limit, weight.Floor)
	switch {
	case e.Load-e.PlusMinus > l.Limit:
		return fmt.Sprintf(sayOverLimit, l.LimitName, limit)
	case e.Load+e.PlusMinus > l.Limit:
		return fmt.Sprintf(sayCloseLimit, l.LimitName, limit)
	}
	return fmt.Sprintf(sayUnderLimit, l.LimitName, limit)
}
