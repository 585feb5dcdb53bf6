package sheet

import (
	"fmt"
	"slices"
	"strings"

	"axleend.example/dotcode"
	"axleend.example/inspect/history"
	"axleend.example/inspect/report"
	"axleend.example/rules"
	"axleend.example/weight"
)

// summary says in a few sentences what the last visit changed.
func (p *historyPage) summary() string {
	h := p.h
	if len(h.Visits) < 2 {
		return sayOnlyVisit
	}
	last, before := p.last(), h.Visits[len(h.Visits)-2]
	var out []string
	say := func(format string, args ...any) { out = append(out, fmt.Sprintf(format, args...)) }
	if d, ok := last.Driven.Get(); ok {
		say(sayVisitBeforeAgo, before.Date, p.miles(d))
	} else {
		say(sayVisitBefore, before.Date)
	}
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
	say(sayAdvisedCount, old, fresh, closed)
	out = append(out, anyOf(p.stopping(), sayStopsOne, sayStopsMany)...)
	p.summaryOfLeaks(say)
	if t, l, ok := p.soonest(); ok {
		w, _ := t.Wear.Get()
		if per, ok := perThousand(w); ok {
			say(sayFirstAtLimitPer, t.At, p.worn(per[0], per[1]), p.per(), p.reach(l))
		} else {
			say(sayFirstAtLimit, t.At, p.reach(l))
		}
	}
	p.summaryOfLoads(before.Date, say)
	n := 0
	for _, c := range h.Contradictions {
		if c.Date == last.Date {
			n++
		}
	}
	out = append(out, anyOf(n, sayOneContradict, sayContradict)...)
	return strings.Join(out, " ")
}

// summaryOfLeaks names the tires that leak, and those of which the gauges cannot
// tell; the worse of a tire's two rules is enough.
func (p *historyPage) summaryOfLeaks(say func(string, ...any)) {
	var leaky, unsure []string
	for _, it := range p.h.Todo {
		if it.Verdict == rules.TooClose || slices.Contains(leaky, it.Where) {
			continue
		}
		leaky = append(leaky, it.Where)
		for _, t := range p.h.Tires {
			if n := len(t.Leaks); t.At == it.Where && t.Presence == history.OnCoach && n > 0 {
				say(sayLeaks, it.Where, p.leak(t.Leaks[n-1].Leak), it.What)
			}
		}
	}
	for _, it := range p.h.Todo {
		if !slices.Contains(leaky, it.Where) && !slices.Contains(unsure, it.Where) {
			unsure = append(unsure, it.Where)
		}
	}
	if len(unsure) > 0 {
		say(sayLeakTooClose, strings.Join(unsure, ", "))
	}
}

// summaryOfLoads names the ends that carry more, or less, than at the visit before.
func (p *historyPage) summaryOfLoads(before dotcode.Date, say func(string, ...any)) {
	for _, c := range p.h.Loads {
		if c.Kind != report.EndLoad || c.To != p.last().Date || c.From != before {
			continue
		}
		switch c.Trend {
		case history.Grown:
			say(sayGrown, c.Name, p.change(c))
		case history.Shrunk:
			say(sayShrunk, c.Name, p.change(c))
		}
	}
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
