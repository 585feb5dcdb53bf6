package history

import (
	"slices"

	"axleend.example/dotcode"
	"axleend.example/inflation"
	"axleend.example/inspect/record"
	"axleend.example/inspect/report"
	"axleend.example/internal/judge"
	"axleend.example/internal/word"
	"axleend.example/rules"
	"axleend.example/weight"
)

// A Trend says how a load changed between two weighings.
type Trend uint8

// The trends: grown or shrunk by more than both plus/minus, or neither.
const (
	NoSureChange Trend = iota + 1
	Grown
	Shrunk
)

var trendWords = word.List[Trend]{Kind: "trend", Words: []string{"", "no sure change", "grown", "shrunk"}, Unknown: word.Err}

// String gives "no sure change", "grown" or "shrunk".
func (t Trend) String() string { return trendWords.String(t) }

// AppendText appends the word, and nothing for the zero Trend. An unknown value
// is an error.
func (t Trend) AppendText(dst []byte) ([]byte, error) { return trendWords.Append(dst, t) }

// MarshalText writes what [Trend.AppendText] appends.
func (t Trend) MarshalText() ([]byte, error) { return trendWords.Text(t) }

// UnmarshalText reads what [Trend.MarshalText] writes.
func (t *Trend) UnmarshalText(text []byte) error { return trendWords.Read(t, text) }

// A LoadChange is how the load of an end, an axle or the coach changed from
// one weighing to a later one. PlusMinus is that of both weighings together
// (worst case).
type LoadChange struct {
	// Name is the end's, the axle's or the coach's.
	Name string `json:"name"`
	// Kind says which of them it is.
	Kind report.LoadKind `json:"kind"`
	// From is the day of the earlier weighing.
	From dotcode.Date `json:"from"`
	// To is the day of the later one.
	To dotcode.Date `json:"to"`
	// Before is the load at the earlier one.
	Before weight.Estimate `json:"before"`
	// After is the load at the later one.
	After weight.Estimate `json:"after"`
	// Change is after less before.
	Change weight.Mass `json:"change"`
	// PlusMinus is that of both weighings together, in the worst case.
	PlusMinus weight.Mass `json:"plus_minus"`
	// Trend says whether the change is more than that.
	Trend Trend `json:"trend"`
}

// A LoadHistory is what an end, an axle or the coach weighed at each visit whose
// readings alone determine it, in the order of their dates. Limit is the lowest
// rating it was held against at the last visit, LimitName its name; 0 and empty
// where there was none.
type LoadHistory struct {
	// Name is the end's, the axle's or the coach's name, as in a report.
	Name string `json:"name"`
	// Kind says which of them it is.
	Kind report.LoadKind `json:"kind"`
	// Limit is the lowest rating at the last visit.
	Limit weight.Mass `json:"limit,omitzero"`
	// LimitName is that rating's name.
	LimitName string `json:"limit_name,omitzero"`
	// At has a load for each visit that determines it.
	At []LoadAtVisit `json:"at"`
}

// A LoadAtVisit is a load with its plus/minus at one visit.
type LoadAtVisit struct {
	// Date is that of the visit.
	Date dotcode.Date `json:"date"`
	// Load is the load and its plus/minus.
	Load weight.Estimate `json:"load"`
}

// A loadSeries is one load through the visits whose readings alone determine
// it, without contradiction.
type loadSeries struct {
	kind                report.LoadKind
	name                string
	times               int
	first, before, last weighing
	all                 []LoadAtVisit
}

// A weighing is a load at one visit.
type weighing struct {
	on   dotcode.Date
	load weight.Estimate
}

// takeLoads takes in what a visit's report says of loads.
func (c *comparison) takeLoads(lines []report.LoadLine) {
	c.weighed = lines
	for i := range lines {
		l := &lines[i]
		if l.Estimate.State != weight.Determined {
			continue
		}
		c.visits[c.now].weighed = append(c.visits[c.now].weighed, l.Name)
		s := c.seriesOf(l)
		if s == nil {
			c.loads = append(c.loads, loadSeries{kind: l.Kind, name: l.Name})
			s = &c.loads[len(c.loads)-1]
		}
		s.times++
		s.before, s.last = s.last, weighing{c.visits[c.now].Date, l.Estimate}
		if s.times == 1 {
			s.first = s.last
		}
		s.all = append(s.all, LoadAtVisit{s.last.on, s.last.load})
	}
}

// loadHistories gives every load of the last visit with all its weighings. What
// is towed may be another one every time and is left out.
func (c *comparison) loadHistories() []LoadHistory {
	var out []LoadHistory
	for i := range c.weighed {
		line := &c.weighed[i]
		s := c.seriesOf(line)
		if s == nil || line.Kind == report.CombinationLoad || c.towed(line.Name) {
			continue
		}
		h := LoadHistory{Name: line.Name, Kind: line.Kind, At: s.all}
		for _, g := range line.Ratings {
			if h.Limit == 0 || g.Rating < h.Limit {
				h.Limit, h.LimitName = g.Rating, g.Name
			}
		}
		out = append(out, h)
	}
	return out
}

// towed reports whether a place is of what the coach towed at the last visit.
func (c *comparison) towed(name string) bool {
	return slices.ContainsFunc(c.visits[len(c.visits)-1].Axles, func(a record.Axle) bool { return a.Towed && onAxle(name, a.ID) })
}

// seriesOf is the series of a line's load, or nil where it was never weighed.
func (c *comparison) seriesOf(l *report.LoadLine) *loadSeries {
	for i := range c.loads {
		if s := &c.loads[i]; s.kind == l.Kind && s.name == l.Name {
			return s
		}
	}
	return nil
}

// loadChanges compares the last weighing of each end, axle and the coach with
// the one before, and with the first.
func (c *comparison) loadChanges() []LoadChange {
	var out []LoadChange
	for i := range c.weighed {
		line := &c.weighed[i]
		if line.Kind == report.CombinationLoad {
			continue // it may tow now this and now that
		}
		if c.towed(line.Name) {
			continue
		}
		s := c.seriesOf(line)
		if s == nil || s.times < 2 {
			if line.Kind == report.EndLoad {
				c.gap(line.Name, "its load at two visits: weigh it each time")
			}
			continue
		}
		out = append(out, s.change(s.before))
		if s.times > 2 {
			out = append(out, s.change(s.first))
		}
	}
	return out
}

// onAxle reports whether a place is an axle or one of its ends.
func onAxle(name, axle string) bool {
	return name == axle || name == record.EndName(axle, weight.Left) || name == record.EndName(axle, weight.Right)
}

// change compares the last weighing with one before it.
func (s *loadSeries) change(since weighing) LoadChange {
	before, after := since.load, s.last.load
	out := LoadChange{Name: s.name, Kind: s.kind, From: since.on, To: s.last.on, Before: before, After: after,
		Change: after.Load - before.Load, Trend: NoSureChange}
	var err error
	if out.PlusMinus, err = weight.Sum(before.PlusMinus, after.PlusMinus); err != nil {
		return out // beyond any scale
	}
	switch {
	case out.Change > out.PlusMinus:
		out.Trend = Grown
	case out.Change < -out.PlusMinus:
		out.Trend = Shrunk
	}
	return out
}

// weighedOn is the day of a visit's weighing: its own, where nothing else is said.
func (v *visited) weighedOn() dotcode.Date {
	if on, ok := v.Weighing.Date.Get(); ok && on.IsValid() && on.Before(v.Date) {
		return on
	}
	return v.Date
}

// slipAnswers reports whether this visit's weighing may settle what was found: not if it
// is older than the one by which it was, nor if there is none any more, nor what is to
// be set of an axle that was weighed then and is not now.
func (c *comparison) slipAnswers(e *advised) bool {
	then, now := &c.visits[e.weighed], &c.visits[c.now]
	switch {
	case len(then.Weighing.Readings) == 0 || then == now:
		return true
	case len(now.Weighing.Readings) == 0 || now.weighedOn().Before(then.weighedOn()):
		return false
	case e.rule != nil && e.rule.Uses(c.judge.Refs.ToSet) && !c.endWeighed(e.at, then, now):
		return false
	case now.Weighing.Date.Is():
		return true
	}
	was := then.Weighing.Odometer
	if !was.Is() && !then.Weighing.Date.Is() {
		was = then.Odometer
	}
	before, after, ok := record.Both(was, now.Weighing.Odometer)
	return !ok || after >= before
}

// endWeighed reports whether all that one visit weighed of the axle under a tire's place,
// another weighed as well.
func (c *comparison) endWeighed(at string, then, now *visited) bool {
	st := c.judge.TireNamed(at)
	return st == nil || st.AxleIndex < 0 || !slices.ContainsFunc(then.weighed, func(name string) bool {
		return onAxle(name, c.judge.Visit.Axles[st.AxleIndex].ID) && !slices.Contains(now.weighed, name)
	})
}

// weighedAgain reports whether what is kept now settles what was found: if it was found by
// a weighing that this visit does not answer, a load is not, and a pressure only where it
// is what that weighing asked for.
func (c *comparison) weighedAgain(e *advised, a *judge.Assessment) bool {
	if c.slipAnswers(e) {
		return true
	}
	st, was := a.TireNamed(e.place()), a.TireNamed(e.at)
	if judge.OnLoad(e.rule) || e.heldTo == 0 || !e.rule.Uses(a.Refs.ToSet) || st == nil || was == nil || st.AxleIndex != was.AxleIndex {
		return !judge.OnLoad(e.rule)
	}
	p, read := pressureOf(e.rule, st)
	return read && p >= e.heldTo
}

// pressureOf is what a tire has now by what a rule is on: as left, where that was written
// down, else as found.
func pressureOf(rule *rules.Rule, st *judge.TireState) (inflation.Pressure, bool) {
	if p, ok := st.LeftAt.Get(); ok || rule.Measure() == judge.MeasuresOf().Left {
		return p, ok
	}
	return st.FoundAtStem().Get()
}

// hold notes what a finding was held to: a load's rating; to be set, the most that was asked since the last
// weighing; the most allowed, as last found.
func (c *comparison) hold(e *advised, f *rules.Finding) {
	if n := limitOf(f); n > 0 && (e.limit == 0 || n < e.limit || !judge.OnLabel(f.Rule)) {
		e.limit = n // of a label the lowest
	}
	if p := heldTo(f); p > e.heldTo || !f.Rule.Uses(c.judge.Refs.ToSet) {
		e.heldTo = p
	}
}

// heldTo is the pressure to set, or the most allowed, that a tire was held against; 0 if it
// was another bound or one that is not known.
func heldTo(f *rules.Finding) inflation.Pressure {
	r := judge.MeasuresOf()
	low, high, _ := f.Bound().Interval()
	switch {
	case f.Verdict == rules.NotRecorded:
	case f.Rule.Uses(r.ToSet):
		return inflation.Pressure(high)
	case f.Rule.Uses(r.MostPressure):
		return inflation.Pressure(low)
	}
	return 0
}
