package history

import (
	"slices"

	"axleend.example/dotcode"
	"axleend.example/inspect/record"
	"axleend.example/inspect/report"
	"axleend.example/internal/judge"
	"axleend.example/rules"
)

// yearly reports whether a rule asks to have an old tire inspected every year.
func yearly(rule *rules.Rule) bool {
	return rule != nil && rule.Measure() == judge.MeasuresOf().Age && report.Action(rule.Action().Name) == report.Plan && judge.AtMost(rule)
}

// rests reports whether a tire was inspected less than a year before a day.
func (t *thread) rests(on dotcode.Date) bool {
	return !t.inspected.IsZero() && on.Before(t.inspected.AddYears(1))
}

// inspect notes that a tire was inspected, and closes that it was to be.
func (c *comparison) inspect(t *thread) {
	t.inspected = c.visits[c.now].Date
	for _, e := range c.order {
		if e.thread == t && e.closedAt < 0 && yearly(e.rule) {
			c.close(e, ClosedByDone)
		}
	}
}

// takeUnasked takes in what a visit says was done of what was not open.
func (c *comparison) takeUnasked(list []record.Done) {
	for _, d := range list {
		if !c.inspectedUnasked(d) {
			c.contradict(d.At, "done: nothing that the rule %q advised was open there", d.Rule)
		}
	}
}

// inspectedUnasked takes in that a visit says of a tire that its yearly inspection was done
// before it was advised, or again.
func (c *comparison) inspectedUnasked(d record.Done) bool {
	t := c.threadAt(d.At)
	if t == nil {
		return false
	}
	for _, r := range c.rules {
		if yearly(r) && (d.Rule == r.ID() || d.Rule == r.Name() || d.Rule == r.Title()) {
			c.inspect(t)
			return true
		}
	}
	return false
}

// lookedAtAll reports whether every tire on the road was looked over and read cold.
func lookedAtAll(a *judge.Assessment) bool {
	return !slices.ContainsFunc(a.Tires, func(st judge.TireState) bool {
		warm, known := st.Warm.Get()
		return st.AxleIndex >= 0 && (!st.Written || !st.Usable.Is() || warm || !known || !st.Seen.Is())
	})
}

// closedBefore counts how often what is found was closed before: not what is due every
// year and was done, nor a coach parked for long after a time that ended as advised, with
// all tires looked over and read cold.
func (c *comparison) closedBefore(e *advised) int {
	switch {
	case e == nil:
		return 0
	case e.how == ClosedByDone && yearly(e.rule),
		e.rule != nil && e.rule.Measure() == c.judge.Refs.Stood && (e.how == ClosedByDone || c.visits[e.last].lookedAt || c.visits[e.closedAt].lookedAt):
		return e.before
	}
	return e.before + 1
}
