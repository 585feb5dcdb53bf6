package history

import (
	"cmp"
	"slices"
	"time"

	"axleend.example/dotcode"
	"axleend.example/inflation"
	"axleend.example/inflation/cold"
	"axleend.example/inspect/record"
	"axleend.example/inspect/report"
	"axleend.example/internal/judge"
	"axleend.example/internal/quantity"
	"axleend.example/rules"
	"axleend.example/weight"
)

// A Wear is how much tread a tire lost between the first and the last probing
// that can be compared, from the least depth of each. A probe shows whole
// steps, so each depth may be off by half a step (computed), and what is worn
// is a range.
type Wear struct {
	// From is the day of the first probing.
	From dotcode.Date `json:"from"`
	// To is the day of the last one.
	To dotcode.Date `json:"to"`
	// Least is the least that can be worn, never below 0.
	Least weight.Length `json:"least"`
	// Most is the most.
	Most weight.Length `json:"most"`
	// Driven is the distance between, where the odometers tell it.
	Driven record.Recorded[weight.Length] `json:"driven,omitzero"`
	// LeastPer is Least per 1,000 mi, or per 1,000 km of a metric visit, rounded down to
	// 0.001 mm; not recorded where the odometers do not tell.
	LeastPer record.Recorded[weight.Length] `json:"least_per_1000,omitzero"`
	// MostPer is Most in the same way, rounded up.
	MostPer record.Recorded[weight.Length] `json:"most_per_1000,omitzero"`
	// Limits are when the depths that rules ask for are reached.
	Limits []WearLimit `json:"limits,omitempty"`
}

// A WearLimit is when a tread depth that rules ask for is reached if the tire
// goes on as it did. Every figure is rounded down, to the earlier side:
// distances to 100 mi or 100 km, times to a day.
type WearLimit struct {
	// Rules are those that ask for the depth.
	Rules []string `json:"rules"`
	// Depth is what they ask for.
	Depth weight.Length `json:"depth"`
	// Soonest is how far the tire still goes at the most wear, counted from the
	// last probing; not recorded where the odometers do not tell.
	Soonest record.Recorded[weight.Length] `json:"soonest,omitzero"`
	// Latest is how far it goes at the least wear; not recorded where that may be none
	// at all.
	Latest record.Recorded[weight.Length] `json:"latest,omitzero"`
	// SoonestOn is the day at the most wear; zero where it is not known.
	SoonestOn dotcode.Date `json:"soonest_on,omitzero"`
	// LatestOn is the day at the least wear.
	LatestOn dotcode.Date `json:"latest_on,omitzero"`
}

// probeStep is the coarsest step that all treads of a visit are multiples of.
func probeStep(v *record.Visit) weight.Length {
	steps := [...]weight.Length{record.ThirtySecond, weight.Millimeter, weight.Millimeter / 2, record.ThirtySecond / 2, weight.Inch / 100}
	for _, step := range steps {
		if !finer(v, step) {
			return step
		}
	}
	return weight.Millimeter / 10
}

// finer reports whether a depth of the visit is no multiple of the step.
func finer(v *record.Visit, step weight.Length) bool {
	for i := range v.Tires {
		treads, _ := v.Tires[i].Tread.Get()
		for _, line := range [...][]weight.Length{treads.Anywhere, treads.Inner, treads.Center, treads.Outer} {
			if slices.ContainsFunc(line, func(d weight.Length) bool { return d%step != 0 }) {
				return true
			}
		}
	}
	return false
}

// wear computes a thread's wear, or says what it takes.
func (c *comparison) wear(t *thread) (Wear, string) {
	const need = "its tread at two visits, with the odometer each time"
	probed := t.probed
	if len(probed) < 2 {
		return Wear{}, need
	}
	// The longest stretch whose distance is known; without odometers, of time.
	last := probed[len(probed)-1]
	first := probed[0]
	for _, x := range probed {
		if _, ok := c.driven(x.visit, last.visit); ok && x != last {
			first = x
			break
		}
	}
	w, ok := c.wearBetween(first, last)
	if !ok {
		return Wear{}, need
	}
	// If the last stretch alone surely wore faster than that, it counts.
	if recent, ok := c.wearBetween(probed[len(probed)-2], last); ok {
		least, ok1 := recent.LeastPer.Get()
		most, ok2 := w.MostPer.Get()
		if ok1 && ok2 && least > most {
			w = recent
		}
	}
	c.limitsOf(&w, last, t.limits)
	return w, ""
}

// wearBetween compares two probings of one tire.
func (c *comparison) wearBetween(a, b probing) (Wear, bool) {
	from, to := &c.visits[a.visit], &c.visits[b.visit]
	worn, doubt := a.tread-b.tread, (from.step+to.step+1)/2
	w := Wear{From: from.Date, To: to.Date, Least: max(worn-doubt, 0), Most: worn + doubt}
	if _, ok := daysBetween(w.From, w.To); !ok || w.Most < 0 {
		return Wear{}, false
	}
	driven, ok := c.driven(a.visit, b.visit)
	if !ok {
		return w, true
	}
	w.Driven = record.Record(driven)
	per := c.unit() * 1000
	least, ok1 := quantity.MulDiv(int64(w.Least), int64(per), int64(driven), quantity.Floor)
	most, ok2 := quantity.MulDiv(int64(w.Most), int64(per), int64(driven), quantity.Ceiling)
	if ok1 && ok2 {
		const grid = weight.Millimeter / 1000
		w.LeastPer, w.MostPer = record.Record(weight.Length(least).Round(grid, weight.Floor)), record.Record(weight.Length(most).Round(grid, weight.Ceiling))
	}
	return w, true
}

// unit is a mile, or a kilometer where the last visit is metric.
func (c *comparison) unit() weight.Length {
	if c.visits[len(c.visits)-1].System == weight.Metric {
		return weight.Kilometer
	}
	return weight.Mile
}

// limitsOf says when each depth that rules ask for is reached. The last depth
// d may be off by half a step, as may the wear w, so the distance left is
// between (d-h-bound)/most and (d+h-bound)/least of the distance driven.
func (c *comparison) limitsOf(w *Wear, last probing, limits []treadRule) {
	d := last.tread
	half := (c.visits[last.visit].step + 1) / 2
	days, _ := daysBetween(w.From, w.To)
	grid := 100 * c.unit()
	for _, l := range limits {
		id := l.rule.Name()
		if i := slices.IndexFunc(w.Limits, func(x WearLimit) bool { return x.Depth == l.bound }); i >= 0 {
			w.Limits[i].Rules = append(w.Limits[i].Rules, id)
			continue
		}
		out := WearLimit{Rules: []string{id}, Depth: l.bound}
		near, far := max(d-half-l.bound, 0), max(d+half-l.bound, 0)
		if driven, ok := w.Driven.Get(); ok {
			out.Soonest = share(driven, near, w.Most, grid)
			out.Latest = share(driven, far, w.Least, grid)
		}
		if n, ok := share(weight.Length(days), near, w.Most, 1).Get(); ok {
			out.SoonestOn = w.To.AddDays(int(min(n, 1<<30)))
		}
		if n, ok := share(weight.Length(days), far, w.Least, 1).Get(); ok {
			out.LatestOn = w.To.AddDays(int(min(n, 1<<30)))
		}
		w.Limits = append(w.Limits, out)
	}
	slices.SortFunc(w.Limits, func(a, b WearLimit) int { return cmp.Compare(b.Depth, a.Depth) })
}

// share is x*num/den rounded down to a grid; not recorded for no wear, and for
// what is beyond all measure.
func share(x, num, den, grid weight.Length) record.Recorded[weight.Length] {
	v, ok := quantity.MulDiv(int64(x), int64(num), int64(den), quantity.Floor)
	if !ok {
		return record.Recorded[weight.Length]{}
	}
	return record.Record(weight.Length(v).Round(grid, weight.Floor))
}

// A LeakBetween is what a tire lost from as left at one visit to as found at
// the next that read it, in 30 days and at one temperature, the second
// visit's (gas law; see [cold.LeakRate]). Its plus/minus holds both
// gauges' tolerances.
type LeakBetween struct {
	// From is the visit that left it at a pressure.
	From dotcode.Date `json:"from"`
	// To is the next that read it.
	To dotcode.Date `json:"to"`
	cold.Leak
	// OverMates is how much more it lost than its mates: the median of the
	// other tires of its axle or, where none of these could be judged, of the
	// coach; of two in the middle, the lower. Rounded to 0.01 psi or 10 Pa. It is as
	// read, without plus/minus: what a gauge is off by, it is off by for all it reads at
	// a visit. Over 28 or 29 days, a month too, it is what was lost by then.
	OverMates record.Recorded[cold.Leak] `json:"over_mates,omitzero"`
	// Mates is how many tires that median was found among.
	Mates int `json:"mates,omitzero"`
}

// A lack is what is missing of a visit so that a leak can be judged.
type lack struct {
	what string
	on   dotcode.Date
}

// leak adds the tire's leak that ends at a reading, or notes what it lacks.
func (c *comparison) leak(t *thread, end reading) {
	leak, lacks := c.leakBetween(&t.since, &end)
	between := LeakBetween{From: c.visits[t.since.visit].Date, To: c.visits[end.visit].Date, Leak: leak}
	if lacks.what == "" || leak != (cold.Leak{}) {
		t.asRead = record.Record(between)
	}
	if t.lacks = lacks; lacks.what != "" {
		return
	}
	if t.leaks == nil { // as many as it may be seen
		t.leaks = make([]LeakBetween, 0, max(cap(t.seen)-len(t.seen), 1))
	}
	t.leaks = append(t.leaks, between)
	t.leaking = true
}

// leakBetween compares as left with as found, or says what is missing: the leak is empty
// but where only the time was too short.
func (c *comparison) leakBetween(a, b *reading) (cold.Leak, lack) {
	on := func(x *reading, what string) (cold.Leak, lack) {
		return cold.Leak{}, lack{what, c.visits[x.visit].Date}
	}
	left, ok := a.left.Get()
	if !ok {
		return on(a, "the pressure it was left at")
	}
	found, ok := b.found.Get()
	if !ok || !b.usable {
		return on(b, "its pressure, read at the stem,")
	}
	if b.airAdded {
		return on(b, "a time without air added; it was")
	}
	if b.setOn.IsValid() && c.visits[a.visit].Date.Before(b.setOn) && b.setOn.Before(c.visits[b.visit].Date) {
		return on(b, "a time in which nobody set it anew; it was set on "+b.setOn.String())
	}
	for _, x := range [...]*reading{a, b} {
		if cold, ok := x.cold.Get(); !ok {
			return on(x, `whether it was cold ("hot: no")`)
		} else if !cold {
			return on(x, "a cold reading; it was hot")
		}
		if !c.visits[x.visit].GaugeTolerance.Is() {
			return on(x, "the gauge's tolerance")
		}
	}
	first, ok1 := c.coldReading(a.visit, left)
	second, ok2 := c.coldReading(b.visit, found)
	if !ok1 {
		return on(a, "the air's temperature")
	}
	if !ok2 {
		return on(b, "the air's temperature")
	}
	days, _ := daysBetween(c.visits[a.visit].Date, c.visits[b.visit].Date)
	leak, err := cold.LeakRate(first, second, time.Duration(days)*24*time.Hour, c.visits[len(c.visits)-1].System)
	if err != nil {
		return on(b, "readings that can be compared ("+judge.OneLine(err)+")")
	}
	if leak.PerMonth <= leak.PlusMinus && leak.PlusMinus >= judge.LeakPerMonth {
		_, short := on(b, "a longer time: in so few days the gauge's doubt is as much as any tire loses")
		return leak, short // what its mates lost is held against it as read
	}
	return leak, lack{}
}

// judgeLeaks holds each tire's last leak, and how much more that is than its
// mates', to the rules. It stands until the tire is read cold again: a hot reading, or
// none, ends no leak.
func (c *comparison) judgeLeaks() ([]report.Item, error) {
	r := judge.MeasuresOf()
	facts, err := c.judge.Program.Vocabulary().NewFacts("between_visits", "")
	if err != nil {
		return nil, err
	}
	var found []rules.Finding
	for _, t := range c.threads {
		if t.presence != OnCoach || !t.leaking {
			continue
		}
		l := &t.leaks[len(t.leaks)-1]
		facts.Reset(t.at)
		facts.Set(r.Leak, rules.PlusMinus(l.PerMonth, l.PlusMinus))
		if over, ok := l.OverMates.Get(); ok {
			facts.Set(r.LeakOverMates, rules.Quantity(over.PerMonth))
		}
		if found, err = c.judge.Program.AppendRun(found, facts); err != nil {
			return nil, err
		}
	}
	c.leakLimit = leakLimit(found, r.Leak)
	found = slices.DeleteFunc(found, func(f rules.Finding) bool { return f.Verdict != rules.Breached && f.Verdict != rules.TooClose })
	var out []report.Item
	last := c.visits[len(c.visits)-1]
	w := judge.ItemWriter{System: last.System, PressureUnit: last.PressureUnit}
	for _, j := range rules.Merge(found) {
		if act, ok := j.Action(); ok {
			var it report.Item
			w.Write(&it, &j, act)
			out = append(out, it)
		}
	}
	rank := c.judge.Rank
	slices.SortStableFunc(out, func(a, b report.Item) int {
		return cmp.Or(cmp.Compare(rank(a.Action), rank(b.Action)), cmp.Compare(b.Verdict, a.Verdict))
	})
	return out, nil
}

// leakLimit is the lowest bound that rules set to a leak.
func leakLimit(found []rules.Finding, leak rules.MeasureRef) (limit record.Recorded[inflation.Pressure]) {
	for _, f := range found {
		if f.Rule.Measure() != leak || !judge.AtMost(f.Rule) {
			continue
		}
		low, _, ok := f.Bound().Interval()
		if was, set := limit.Get(); ok && (!set || inflation.Pressure(low) < was) {
			limit = record.Record(inflation.Pressure(low))
		}
	}
	return limit
}

// compareMates finds how much more a tire lost than the middle one of its
// mates over the same time.
func (c *comparison) compareMates(s *sightedTire) {
	own := s.thread.lastLeak()
	if own == nil {
		return
	}
	mates := c.mates[:0]
	for _, sameAxle := range [...]bool{true, false} {
		for i := range c.tires {
			m := &c.tires[i]
			if m == s || sameAxle && (s.AxleIndex < 0 || m.AxleIndex != s.AxleIndex) {
				continue
			}
			if x, ok := m.thread.asRead.Get(); ok && x.From == own.From && x.To == own.To {
				mates = append(mates, x.Leak)
			}
		}
		if len(mates) > 0 {
			break
		}
	}
	c.mates = mates
	if len(mates) == 0 {
		return
	}
	slices.SortFunc(mates, func(a, b cold.Leak) int { return cmp.Compare(a.PerMonth, b.PerMonth) })
	over := own.PerMonth - mates[(len(mates)-1)/2].PerMonth
	own.Mates, own.OverMates = len(mates), record.Record(cold.Leak{PerMonth: c.overAMonth(over, own)})
}

// overAMonth is what a tire lost more than its mates in 30 days, but over 28 or 29 days,
// which are a month too, in these, rounded down.
func (c *comparison) overAMonth(over inflation.Pressure, between *LeakBetween) inflation.Pressure {
	const shortest, month = 28, 30 // days
	days, _ := daysBetween(between.From, between.To)
	if over <= 0 || days < shortest || days >= month {
		return over
	}
	by, ok := quantity.MulDiv(int64(over), int64(days), month, quantity.Floor)
	if !ok {
		return over
	}
	return inflation.Pressure(by).Round(inflation.PressureGrid(c.visits[len(c.visits)-1].System), weight.Floor)
}
