package judge

import (
	"cmp"
	"slices"

	"axleend.example/inspect/record"
	"axleend.example/inspect/report"
	"axleend.example/rules"
	"axleend.example/rules/origin"
)

// lowTasks are the tasks of rules that say whether a tire was driven too low.
var lowTasks = [...]string{RanLow, LeakTask, AskLow}

// AboutLow reports whether a rule says that a tire was driven too low.
func AboutLow(r *rules.Rule) bool {
	for _, task := range lowTasks {
		if r.Involves(task) {
			return true
		}
	}
	return false
}

// judgesLow reports whether the program has rules on running low at all: compared
// with what the tire needs or was set to. A rule on whether any air is left does not
// count.
func (a *Assessment) judgesLow() bool {
	return a.Program.Has(func(r *rules.Rule) bool {
		return r.Involves(RanLow) && slices.ContainsFunc(a.Refs.HeldTo, r.Uses)
	})
}

// lowOf says whether a tire was driven too low, by what the rules found.
func (a *Assessment) lowOf(st *TireState, findings []rules.Finding) report.Low {
	low := report.NotLow
	for i := range findings {
		f := &findings[i]
		if !AboutLow(f.Rule) {
			continue
		}
		switch f.Verdict {
		case rules.Breached, rules.TooClose:
			switch {
			case f.Rule.Involves(RanLow):
				low = report.Flat
			case f.Rule.Involves(LeakTask):
				low = max(low, report.Leaking)
			default:
				low = max(low, report.LowAsked)
			}
		case rules.NotRecorded:
			switch {
			case conditionMeasures()[f.Rule.Measure().Measure().Name]:
				// a sign that nobody looked for says nothing of what it was driven at
			case f.Asked():
				low = max(low, report.LowAsked)
			case !f.Rule.Involves(LeakTask): // nor does an unknown leak
				low = max(low, report.LowUnknown)
			}
		}
	}
	hides := st.AxleIndex >= 0 && (a.addedUnknown(st) || !st.Pressures.driven.Recorded()) // air of an unknown amount, or a warm reading after it stood
	if low == report.NotLow && (!a.lowRules || hides) {
		return report.LowUnknown
	}
	return low
}

// airBy is what the findings on a tire say about its air, apart from whether it was
// driven too low. A rule that forbids air when it is breached leaves the air unknown
// when a measured value cannot decide it. What nobody looked for does not count
// here.
func airBy(findings []rules.Finding) report.Air {
	air := report.AirFree
	for i := range findings {
		f := &findings[i]
		broken := f.Verdict == rules.Breached || f.Verdict == rules.TooClose
		switch {
		case broken && f.Rule.Involves(NoAir):
			return report.AirForbidden
		case broken && f.Rule.Involves(LookTask):
			air = report.AirNotKnown
		case !f.Rule.Involves(NoAir):
		case f.Verdict == rules.NotRecorded && !AboutLow(f.Rule) && !conditionMeasures()[f.Rule.Measure().Measure().Name]:
			air = report.AirNotKnown
		}
	}
	return air
}

// lookedAt reports whether somebody wrote down what was seen on a tire, and looked at one
// of its sidewalls at least.
func (st *TireState) lookedAt() bool {
	sides, _ := st.Sidewalls.Get()
	return st.Seen.Is() && sides != record.NeitherSidewall
}

// airOf is the one state of a tire's air: forbidden where it or its mate counts as
// flat, or something found on it rules air out; not known while something is to be
// read, looked at or found first on it or its mate; else free.
func (a *Assessment) airOf(st, mate *TireState) report.Air {
	unknown := func(st *TireState) bool {
		switch {
		case !st.Pressures.read, !st.lookedAt(), st.Line.Low == report.LowAsked, st.Line.Low == report.Leaking:
			return true
		case st.AxleIndex < 0:
			return !a.keptReadyAt(st).Recorded() || st.Line.Low == report.LowUnknown
		}
		return st.Line.Low == report.LowUnknown && !(a.addedUnknown(st) && a.toppedUp(st.AxleIndex))
	}
	switch {
	case st.airBy == report.AirForbidden, st.Line.Low == report.Flat, mate != nil && mate.Line.Low == report.Flat:
		return report.AirForbidden
	case st.airBy == report.AirNotKnown, unknown(st), mate != nil && unknown(mate):
		return report.AirNotKnown
	}
	return report.AirFree
}

// judgeTires judges each tire, a dual pair's two together: first as if none had
// run low, which tells whether each was driven too low. Then, where one counts
// as flat, the tire and its mate are judged again with that known.
func (a *Assessment) judgeTires() error {
	for i := range a.Tires {
		st := &a.Tires[i]
		if !a.Counts(st) || st.Mate >= 0 && st.Mate < i {
			continue
		}
		pair, n := [2]*TireState{st}, 1
		if st.Mate >= 0 {
			pair[1], n = &a.Tires[st.Mate], 2
		}
		if err := a.judgeTogether(pair[:n]); err != nil {
			return err
		}
	}
	return nil
}

// judgeTogether judges one tire, or a dual pair's two.
func (a *Assessment) judgeTogether(pair []*TireState) error {
	from := len(a.Findings)
	kept := 0
	for k, t := range pair {
		facts := a.facts.tire[k]
		facts.Reset(t.Name)
		a.TireFacts(t, facts)
		a.ranWell(facts)
		a.own(facts)
		first := len(a.Findings)
		more, err := a.runTire(facts)
		if err != nil {
			return err
		}
		kept += more
		t.Line.Low, t.airBy = a.lowOf(t, a.Findings[first:]), airBy(a.Findings[first:])
		a.flatAt(t, a.Findings[first:])
		a.ageLimits(t.Line, a.Findings[first:])
	}
	if low := [2]report.Low{pair[0].Line.Low, pair[len(pair)-1].Line.Low}; low != [2]report.Low{report.NotLow, report.NotLow} {
		a.Findings, kept = a.Findings[:from], 0
		for k, t := range pair {
			facts := a.facts.tire[k]
			facts.Set(a.Refs.RunLow, ranLow(t.Line.Low))
			if t.Mate >= 0 {
				facts.Set(a.Refs.MateRunLow, ranLow(low[1-k]))
			}
			more, err := a.runTire(facts)
			if err != nil {
				return err
			}
			kept += more
		}
	}
	for k, t := range pair {
		t.RanLow = record.Recorded[bool]{}
		if yes, ok := ranLow(t.Line.Low).Yes(); ok {
			t.RanLow = record.Record(yes)
		}
		if err := a.seen(a.facts.tire[k]); err != nil {
			return err
		}
	}
	a.sayAir(pair)
	a.Report.Kept += kept
	a.take(from)
	return nil
}

// sayAir says whether each of the tires judged together may be given air, and
// whether nobody may drive on it.
func (a *Assessment) sayAir(pair []*TireState) {
	for k, t := range pair {
		var mate *TireState
		if len(pair) == 2 {
			mate = pair[1-k]
		}
		t.Line.Air = a.airOf(t, mate)
		t.condemned = t.Line.Low == report.Flat || mate != nil && mate.Line.Low == report.Flat
	}
}

// ranLow is whether a tire ran low, as a fact.
func ranLow(low report.Low) rules.Value {
	switch low {
	case report.NotLow:
		return rules.Flag(false)
	case report.Flat:
		return rules.Flag(true)
	}
	return rules.Value{}
}

// runTire judges one tire's facts and counts what is kept.
func (a *Assessment) runTire(facts *rules.Facts) (kept int, err error) {
	a.Findings, kept, err = a.Program.AppendNotKept(a.Findings, facts, a.Refs.Lowest, a.Refs.Age) // what is kept says where it counts as flat, or as old
	return kept, err
}

// flatAt puts the bound below which a tire counts as flat into its line: the
// highest of several.
func (a *Assessment) flatAt(st *TireState, findings []rules.Finding) {
	for i := range findings {
		f := &findings[i]
		if f.Rule.Measure() != a.Refs.Lowest || !f.Rule.Involves(RanLow) {
			continue
		}
		bound := f.Bound()
		if low, ok := bound.Least(); ok && bound.Recorded() && low > 0 {
			if at, known := st.Line.FlatAt.Get(); !known || low > int64(at) {
				st.Line.FlatAt = record.Record(a.written(pressureOf(low)))
			}
		}
	}
}

// ageLimits puts the ages at which a rule asks something of a tire into its line, the
// least first.
func (a *Assessment) ageLimits(line *report.TireLine, findings []rules.Finding) {
	for i := range findings {
		f := &findings[i]
		r := f.Rule.Relation()
		if f.Rule.Measure() != a.Refs.Age || r != rules.LessThan && r != rules.AtMost {
			continue
		}
		at, ok := f.Bound().Least()
		if !ok {
			continue
		}
		limit := report.AgeLimit{Age: spanOf(at), Until: r == rules.AtMost, Kind: report.DueReplacement}
		if report.Action(f.Rule.Action().Name) == report.Plan {
			limit.Kind = report.DueInspection
		}
		var sources [4]origin.Source
		for _, s := range f.Rule.AppendSources(sources[:0]) {
			if limit.Source.Title == "" { // the first that names what it rests on
				limit.Source = s
			}
		}
		if line.AgeLimits == nil {
			line.AgeLimits = a.ages.two() // an inspection and a new tire
		}
		line.AgeLimits = append(line.AgeLimits, limit)
	}
	slices.SortStableFunc(line.AgeLimits, func(x, y report.AgeLimit) int { return cmp.Compare(ageSteps(x.Age), ageSteps(y.Age)) })
}

// Condemned reports whether nobody may drive on a tire for what it, or its dual
// mate, was driven at.
func (st *TireState) Condemned() bool { return st.condemned }

// MayNotFit reports whether a finding says that the load of an axle may be over
// what its tires or wheels carry, and not that it is.
func (a *Assessment) MayNotFit(f *rules.Finding) bool {
	i, ok := f.Value.Index()
	return f.Rule.Measure() == a.Refs.AxleFit && ok && i == 1
}

// WhyLowUnknown tells what is missing to know whether a tire was driven too
// low.
func (a *Assessment) WhyLowUnknown(st *TireState, tell func(where, need, rule string)) {
	low := make(map[string]bool)
	for _, r := range a.Program.Rules() {
		if AboutLow(r) {
			low[r.Name()] = true
		}
	}
	for _, g := range a.Report.Unjudged {
		for _, rule := range g.Rules {
			if g.Where == st.Name && low[rule] {
				tell(g.Where, g.Need, rule)
			}
		}
	}
}
