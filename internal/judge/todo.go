package judge

import (
	"bytes"
	"cmp"
	"slices"
	"strings"

	"axleend.example/inflation"
	"axleend.example/inspect/record"
	"axleend.example/inspect/report"
	"axleend.example/rules"
	"axleend.example/weight"
)

// take sorts the findings from the given one on into what the report lists, and
// keeps only those that ask for something, questions included.
func (a *Assessment) take(from int) {
	stay := from
	for i := from; i < len(a.Findings); i++ {
		f := &a.Findings[i]
		if f.Verdict == rules.Kept {
			continue
		}
		if f.Verdict == rules.NotRecorded {
			if AboutLow(f.Rule) && a.condemned(f.Name) {
				continue // it is condemned by another reading
			}
			if f.Name == "combination" && f.Rule.Measure() != a.Refs.comboLoad && a.towsNothing() {
				continue // there is no hitch to look at
			}
			a.Missing(f)
			if !a.asked(f) {
				continue
			}
		}
		if stay != i { // a finding is large
			a.Findings[stay] = *f
		}
		stay++
	}
	a.Findings = a.Findings[:stay]
}

// Missing lists what a finding that could not be judged wants recorded. Where
// nobody looked, it only asks to look: where a hole is, it asks once one was seen.
func (a *Assessment) Missing(f *rules.Finding) {
	missing := f.ToRecord()
	look := func(measure string) bool { return conditionMeasures()[measure] }
	unseen := slices.ContainsFunc(missing, look)
	for _, m := range missing {
		if m == "run_low" && a.askedWhetherLow(f.Name) {
			continue // the question is on the list
		}
		if !unseen || look(m) {
			a.Gap(a.Need(f, m))
		}
	}
}

// asked reports whether a finding that is not recorded is a question of its own:
// not where only a whole axle was weighed, which clears and asks nothing, nor
// where a hot reading cannot say that there is too much.
func (a *Assessment) asked(f *rules.Finding) bool {
	if !f.Asked() || a.onlyShared(f) {
		return false
	}
	m := f.Rule.Measure()
	return m != a.Refs.Found && m != a.Refs.asFound || !AtMost(f.Rule)
}

// askedWhetherLow reports whether the list asks whether a tire of that name ran low.
func (a *Assessment) askedWhetherLow(name string) bool {
	st := a.TireNamed(name)
	return st != nil && st.Line.Low == report.LowAsked
}

// condemned reports whether a tire of that name counts as flat.
func (a *Assessment) condemned(name string) bool {
	st := a.TireNamed(name)
	return st != nil && st.Line.Low == report.Flat
}

// onlyShared reports whether a finding is about a load of which only the whole
// axle was weighed: that clears, and neither condemns nor asks.
func (a *Assessment) onlyShared(f *rules.Finding) bool {
	axle := -1
	switch f.Rule.Subject() {
	case "tire":
		if st := a.TireNamed(f.Name); st != nil {
			axle = st.AxleIndex
		}
		if m := f.Rule.Measure(); m != a.Refs.Load && m != a.Refs.LoadAlone {
			return false
		}
	case "end":
		for i := range a.Layout.EndNames {
			if slices.Contains(a.Layout.EndNames[i][:], f.Name) {
				axle = i
			}
		}
	}
	return axle >= 0 && a.byWhole(axle)
}

// Rank orders actions, the worst first. Those of a vocabulary that extends
// ours come after.
func (a *Assessment) Rank(action report.Action) int {
	own := [...]report.Action{report.DoNotDrive, report.BeforeTrip, report.Plan}
	if i := slices.Index(own[:], action); i >= 0 {
		return i
	}
	// An action nobody knows would be the worst, not lost.
	return max(0, slices.IndexFunc(a.Program.Vocabulary().Definition().Actions, func(x rules.Action) bool { return x.Name == string(action) }))
}

// findGap finds a gap that is listed already, or gives -1. A map only pays where
// there are many.
func (a *Assessment) findGap(where, need string) int {
	if len(a.Report.Unjudged) < 16 {
		return slices.IndexFunc(a.Report.Unjudged, func(g report.NotJudged) bool { return g.Where == where && g.Need == need })
	}
	if a.Gaps == nil {
		a.Gaps = make(map[[2]string]int)
		for i, g := range a.Report.Unjudged {
			a.Gaps[[2]string{g.Where, g.Need}] = i
		}
	}
	if i, ok := a.Gaps[[2]string{where, need}]; ok {
		return i
	}
	return -1
}

func (a *Assessment) Gap(where, need, rule string) {
	i := a.findGap(where, need)
	if i < 0 {
		i = len(a.Report.Unjudged)
		if a.Gaps != nil {
			a.Gaps[[2]string{where, need}] = i
		}
		a.Report.Unjudged = append(a.Report.Unjudged, report.NotJudged{Where: where, Need: need, Hidden: hiddenNeed(need)})
	}
	g := &a.Report.Unjudged[i]
	if rule != "" && !slices.Contains(g.Rules, rule) {
		g.Rules = append(g.Rules, rule)
	}
}

// Settle makes the list of what is to be done: by action, within one the sure
// ones first, then as they were found. Entries are large, so that each is made
// in its place.
func (a *Assessment) Settle() {
	judgments := rules.Merge(a.Findings)
	now := len(judgments)
	a.planned = slices.DeleteFunc(a.planned, func(f rules.Finding) bool { // where nobody may put air in, more air is no plan
		return f.Rule.Involves(Air) && a.airAt(f.Name) == report.AirForbidden
	})
	judgments = append(judgments, rules.Merge(a.planned)...)
	early := a.Early
	key := make([]int, len(early)+len(judgments)) // of items, then of judgments
	var order []int
	for i := range early {
		key[i] = 8*a.Rank(early[i].Action) + 2*int(rules.Breached-early[i].Verdict)
		order = append(order, i)
	}
	for i := range judgments {
		if act, ok := judgments[i].Action(); ok {
			act = asMeant(&judgments[i], act, i >= now)
			if a.saidElsewhere(&judgments[i], act) {
				continue
			}
			after := 0
			if judgments[i].Findings[0].Rule.Measure() == a.Refs.MateRunLow {
				after = 1 // behind the flat itself
			}
			key[len(early)+i] = 8*a.Rank(report.Action(act.Name)) + 2*int(rules.Breached-judgments[i].Verdict) + after
			order = append(order, len(early)+i)
		}
	}
	if len(order) == 0 {
		return
	}
	slices.SortStableFunc(order, func(x, y int) int { return cmp.Compare(key[x], key[y]) })
	w := ItemWriter{System: a.Visit.System, PressureUnit: a.Visit.PressureUnit}
	a.Report.Todo = make([]report.Item, len(order))
	for i, at := range order {
		if at < len(early) {
			a.Report.Todo[i] = early[at]
			continue
		}
		j := &judgments[at-len(early)]
		act, _ := j.Action()
		it, later := &a.Report.Todo[i], at-len(early) >= now
		w.Write(it, j, act)
		if meant := asMeant(j, act, later); meant.Name != act.Name || later {
			it.Action, it.Stops = report.Action(meant.Name), meant.Stops
		}
		a.withhold(it, j, act)
		if later {
			it.What = "With the changes for the trip: " + it.What
			it.Advice = "Load otherwise than planned, and weigh again before the trip. " + it.Advice
		}
	}
}

// asMeant is what a judgment asks for where that does not stop the coach yet: it
// is only planned, and must not come to that; it is about a spare, which carries
// nothing; or it is not sure.
func asMeant(j *rules.Judgment, act rules.Action, planned bool) rules.Action {
	if planned || act.Stops && (record.IsSpare(j.Findings[0].Name) || j.Verdict != rules.Breached) {
		return rules.Action{Name: string(report.BeforeTrip)}
	}
	return act
}

// saidElsewhere reports whether a judgment says nothing that the list does not
// say worse, or better: of a placard in doubt, that it was not read; of a flat tire, that its mate is flat, that it leaks or what it was
// driven at; where nobody may put air in, that there is too little.
func (a *Assessment) saidElsewhere(j *rules.Judgment, act rules.Action) bool {
	lead := &j.Findings[0]
	st := a.TireNamed(lead.Name)
	flat := st != nil && st.Line.Low == report.Flat
	condemns := slices.ContainsFunc(j.Findings, func(f rules.Finding) bool {
		return f.Rule.Involves(RanLow) && (f.Verdict == rules.Breached || f.Verdict == rules.TooClose)
	})
	switch {
	case condemns:
		return false
	case lead.Rule.Measure() == a.Refs.placardNeeded && a.doubtful(placardKey(lead.Name)):
		return true // it was read, and is to be read again
	case lead.Rule.Measure() == a.Refs.MateRunLow, lead.Rule.Involves(AskLow), lead.Rule.Involves(LeakTask):
		return flat
	case act.Stops && lead.Rule.Measure() == a.Refs.LeftEmpty: // its air was let out
		return flat
	case act.Stops || record.IsSpare(lead.Name):
		return false
	}
	return a.airAt(lead.Name) == report.AirForbidden && !slices.ContainsFunc(j.Findings, func(f rules.Finding) bool {
		return f.Verdict == j.Verdict && !f.Rule.Involves(Air)
	})
}

// What is said in place of advice that leads to air, where a tire's state does not
// allow it.
const (
	noAirYet   = "Put no air in yet: first do what is listed about it or its dual mate."
	noAirAtAll = "Add no air on the coach: have trained people look at it first, at both tires of a dual pair."
)

// withhold removes advice that leads to air for every tire whose state does not
// allow it. Other advice of the entry, as about a load, stays; air alone is then
// not enough.
func (a *Assessment) withhold(it *report.Item, j *rules.Judgment, act rules.Action) {
	led, other := false, ""
	for i := range j.Findings {
		f := &j.Findings[i]
		switch advice := f.Rule.Advice(); {
		case f.Verdict != j.Verdict || f.Rule.Action().Name != act.Name:
		case f.Rule.Involves(Air):
			led = true
		case !strings.Contains(other, advice):
			other += advice + " "
		}
	}
	if !led {
		return
	}
	if other != "" && a.noPressureAt(it.Where) {
		it.Advice = strings.TrimSuffix(other, " ")
		return
	}
	it.OnlyAir = it.Stops && other == ""
	switch a.airAt(it.Where) {
	case report.AirForbidden:
		it.Advice, it.OnlyAir = other+noAirAtAll, false
	case report.AirNotKnown:
		it.Advice = other + noAirYet
	default:
		it.Air = true
	}
}

// noPressureAt reports whether no pressure carries the load of the axle at a place.
func (a *Assessment) noPressureAt(place string) bool {
	for i := range a.Tires {
		if st := &a.Tires[i]; st.AxleIndex >= 0 && a.standsAt(st, place) {
			set := a.settingOf(st.AxleIndex)
			return set != nil && set.Outcome == inflation.Short
		}
	}
	return false
}

// standsAt reports whether a tire is the one at a place, or on the end or the axle
// of that name.
func (a *Assessment) standsAt(st *TireState, place string) bool {
	return st.Name == place || st.AxleIndex >= 0 &&
		(a.Visit.Axles[st.AxleIndex].ID == place || a.Layout.EndNames[st.AxleIndex][st.Position.Side-weight.Left] == place)
}

// airAt is the worst state of the air of the tires at a place.
func (a *Assessment) airAt(place string) report.Air {
	worst := report.AirFree
	for i := range a.Tires {
		if st := &a.Tires[i]; a.standsAt(st, place) && a.Counts(st) {
			worst = max(worst, st.Line.Air)
		}
	}
	return worst
}

// An ItemWriter writes items in the units of a visit.
type ItemWriter struct {
	// System is that of the visit.
	System weight.System
	// PressureUnit is the one that the visit asks for, empty where it asks for none.
	PressureUnit string
	text         []byte
}

// inOwnUnits adds to a bound that stands in the other system's unit, such as that of a
// pack or a table, what it is in the visit's own, rounded to the stricter side.
func (w *ItemWriter) inOwnUnits(text []byte, f *rules.Finding) []byte {
	low, least := f.Bound().Least()
	high, most := f.Bound().Most()
	switch { // the text names the side that says something
	case !most:
		high = low
	case !least || low <= 0:
		low = high
	}
	if !least && !most || low != high || low == 0 {
		return text
	}
	bound, of, computed := bytes.Cut(text, []byte(" ("))
	number, _, _ := bytes.Cut(bound, []byte(", ")) // perhaps more or less
	own := w.ownUnit(low, string(number[bytes.LastIndexByte(number, ' ')+1:]), stricter(f))
	if own == nil {
		return text
	}
	if computed {
		own = append(append(own, "; "...), bytes.TrimSuffix(of, []byte(")"))...)
	}
	return append(append(append(slices.Clip(bound), " ("...), own...), ')')
}

// ownUnit writes what stands in a unit of the other system in the visit's own: nil
// where it is that.
func (w *ItemWriter) ownUnit(is int64, unit string, r weight.Rounding) []byte {
	mass, length, pressure := weight.Mass(is), weight.Length(is), inflation.Pressure(is)
	metric, pressures := w.System == weight.Metric, w.PressureUnit == "" // else written so already
	switch {
	case metric && pressures && unit == "psi":
		return append(pressure.AppendIn(nil, inflation.Kilopascal, 0, r), " kPa"...)
	case metric && unit == "in":
		return append(length.AppendIn(nil, weight.Millimeter, 1, r), " mm"...)
	case metric && unit == "lb":
		return append(commas(mass.AppendIn(nil, weight.Kilogram, 0, r), 0), " kg"...)
	case !metric && pressures && unit == "kPa":
		return append(pressure.AppendIn(nil, inflation.PSI, 1, r), " psi"...)
	case !metric && unit == "mm":
		return append(length.AppendIn(nil, weight.Inch, 2, r), " in"...)
	case !metric && unit == "kg":
		return append(commas(mass.AppendIn(nil, weight.Pound, 0, r), 0), " lb"...)
	}
	return nil
}

// stricter is how a bound is rounded: the most that something may be down, the least
// up.
func stricter(f *rules.Finding) weight.Rounding {
	if AtMost(f.Rule) {
		return weight.Floor
	}
	return weight.Ceiling
}

// asPrinted writes the pressures of what was found and of its bound in the unit that
// the visit asks for: the bound rounded to the stricter side, what was found away from
// it, a plus/minus up.
func (w *ItemWriter) asPrinted(it *report.Item, f *rules.Finding) {
	if w.PressureUnit == "" {
		return
	}
	bound, found := stricter(f), weight.Floor
	if bound == weight.Floor {
		found = weight.Ceiling
	}
	it.Bound, it.Found = w.pressures(it.Bound, bound), w.pressures(it.Found, found)
}

// pressures writes each pressure of a text in the unit that the visit asks for.
func (w *ItemWriter) pressures(text string, r weight.Rounding) string {
	words := strings.Split(text, " ")
	out := words[:0]
	for i := 0; i < len(words); i++ {
		if i+1 < len(words) {
			unit := strings.TrimRight(words[i+1], ",;)")
			number := strings.TrimLeft(words[i], "(")
			if p, err := inflation.ParsePressure(number + " " + unit); err == nil {
				round := r
				if i > 0 && words[i-1] == "+/-" {
					round = weight.Ceiling
				}
				out = append(out, words[i][:len(words[i])-len(number)]+record.PressureText(p, w.PressureUnit, w.System, round)+words[i+1][len(unit):])
				i++
				continue
			}
		}
		out = append(out, words[i])
	}
	return strings.Join(out, " ")
}

// Write says in one entry what a judgment's findings of its verdict say, led by
// the one whose action it is; among those by what a tire was driven at, or lost.
func (w *ItemWriter) Write(it *report.Item, j *rules.Judgment, act rules.Action) {
	it.Action, it.Stops, it.Verdict = report.Action(act.Name), act.Stops && j.Verdict == rules.Breached, j.Verdict
	place := func(f *rules.Finding) int {
		switch {
		case f.Rule.Action().Name != act.Name:
			return 2
		case AboutLow(f.Rule):
			return 0
		}
		return 1
	}
	for turn := range 3 {
		led := turn < 2
		for i := range j.Findings {
			f := &j.Findings[i]
			if f.Verdict != j.Verdict || place(f) != turn {
				continue
			}
			if it.What == "" {
				w.lead(it, f)
			}
			if led {
				advise(it, f)
			}
			it.WheelOff = it.WheelOff || f.Rule.Involves(WheelOff) && !record.IsSpare(f.Name)
			it.Rules = append(it.Rules, f.Rule.Name())
			it.Sources = f.Rule.AppendSources(it.Sources)
		}
	}
}

// lead takes from the first finding what is wrong, what was found, and the bound.
func (w *ItemWriter) lead(it *report.Item, f *rules.Finding) {
	it.Where, it.What = f.Name, f.Rule.Title()
	if f.Verdict == rules.NotRecorded {
		it.What = "Not known: " + lowerFirst(f.Rule.Title())
	}
	if _, isFlag := f.Value.Yes(); isFlag {
		return
	}
	it.Found = foundText(f)
	w.text = w.inOwnUnits(f.AppendBoundText(w.text[:0]), f)
	if it.Bound = string(w.text); it.Bound == "not "+it.Found {
		it.Found, it.Bound = "", "" // the title says it
	}
	it.Found = w.foundInOwnUnits(it.Found, f)
	w.asPrinted(it, f)
}

// foundInOwnUnits adds to what was read in the other system's unit what it is in the
// visit's own, rounded away from the bound.
func (w *ItemWriter) foundInOwnUnits(text string, f *rules.Finding) string {
	low, high, known := f.Value.Interval()
	if f.Value.Open() {
		low = high // what was read; how far it is off is not known
	}
	read, more, said := strings.Cut(text, " (")
	words := strings.Fields(read) // 860 kPa, or 860 kPa +/- 10 kPa
	if !known || len(words) != 2 && (len(words) != 5 || words[2] != "+/-") {
		return text
	}
	round := weight.Floor
	if low == high && stricter(f) == weight.Floor {
		round = weight.Ceiling
	}
	own := w.ownUnit(low, words[1], round)
	if own == nil {
		return text
	}
	if low != high {
		own = append(append(own, " to "...), w.ownUnit(high, words[1], weight.Ceiling)...)
	}
	if said {
		return read + " (" + string(own) + "; " + more
	}
	return read + " (" + string(own) + ")"
}

// advise adds a finding's advice and its causes, each once.
func advise(it *report.Item, f *rules.Finding) {
	advice := f.Rule.Advice()
	if ask := f.Rule.Ask(); f.Verdict == rules.NotRecorded && ask != "" {
		advice = ask
	}
	switch {
	case strings.Contains(it.Advice, advice):
	case it.Advice == "":
		it.Advice = advice
	default:
		it.Advice += " " + advice
	}
	for _, c := range f.Rule.Causes() {
		if !slices.Contains(it.Causes, c) {
			it.Causes = append(it.Causes, c)
		}
	}
}

// lowerFirst begins a title within a sentence, but for an abbreviation.
func lowerFirst(text string) string {
	if len(text) > 1 && text[0] >= 'A' && text[0] <= 'Z' && text[1] >= 'a' && text[1] <= 'z' {
		return string(text[0]-'A'+'a') + text[1:]
	}
	return text
}

// hiddenNeed reports whether no walk-around shows what is needed.
func hiddenNeed(need string) bool {
	for _, part := range [...]string{needLoad, needLighter, "weighing", "casing", "a table", needFacing} {
		if strings.Contains(need, part) {
			return true
		}
	}
	return false
}

// foundText is what was found, as it was read where only the gauge is in doubt.
func foundText(f *rules.Finding) string {
	m := f.Rule.Measure()
	const unknown = " (the gauge's tolerance was not written down)"
	text := m.Text(f.Value)
	if m.Measure().Name != "lowest" {
		return strings.ReplaceAll(text, "_", " ") // a word: too_close
	}
	if most, _, within := strings.Cut(text, ", as read "); within {
		return most + unknown
	}
	if _, high, ok := f.Value.Interval(); ok && f.Value.Open() {
		return m.Text(rules.Quantity(high)) + unknown
	}
	return text
}
