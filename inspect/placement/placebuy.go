package placement

import (
	"slices"
	"strings"

	"axleend.example/inflation"
	"axleend.example/inspect/record"
	"axleend.example/inspect/record/condition"
	"axleend.example/inspect/report"
	"axleend.example/internal/judge"
	"axleend.example/rules"
	"axleend.example/rules/origin"
	"axleend.example/weight"
)

// A TireToBuy says what a tire to buy has to be, for a place that no tire at
// hand may take. Size, load range and construction are those of its mate, else
// of the others on its axle, else of the tire found there; empty where none was
// read. The load range is the placard's where that is stronger, or where none was read.
type TireToBuy struct {
	// At is the place that it is for.
	At string `json:"at"`
	// Fitment says whether it runs alone or in a pair.
	Fitment weight.Fitment `json:"fitment"`
	// Size is the one it has to have; empty where none was read.
	Size string `json:"size,omitzero"`
	// LoadRange is the one beside it, never weaker than the one on the placard of its axle
	// (49 CFR 571.120 S5.1.2); empty where neither was read.
	LoadRange string `json:"load_range,omitzero"`
	// Construction is the one beside it.
	Construction record.Recorded[inflation.Construction] `json:"construction,omitzero"`
	// Needs are what the rules ask of it there.
	Needs []TireNeed `json:"needs,omitempty"`
	// Mate names the tire that runs beside it, by the place where that was
	// found, empty where there is none or that is to be bought as well.
	Mate string `json:"mate,omitzero"`
}

// A TireNeed is one measure of a tire to buy. Least and Most are the bounds
// within which no rule is broken and its mate is matched, in the visit's words, empty
// where none bounds that side; Text says it in words, with what to do where the
// bounds are not known.
type TireNeed struct {
	// What is the measure, in words.
	What string `json:"what"`
	// Least is the least it may be, in the visit's units, rounded to the stricter side; of
	// a load rating no less than its mate's, as that was written down. Empty where nothing
	// bounds that side.
	Least string `json:"least,omitzero"`
	// Most is the most it may be, in the same way.
	Most string `json:"most,omitzero"`
	// Text says it in words, with what to do where the bounds are not known.
	Text string `json:"text"`
	// Rules are those that ask for it.
	Rules []string `json:"rules,omitempty"`
	// Sources are where they come from.
	Sources []origin.Source `json:"sources,omitempty"`
}

// name adds a rule with its sources.
func (n *TireNeed) name(r *rules.Rule) {
	for _, have := range n.Rules {
		if have == r.Name() {
			return
		}
	}
	n.Rules = append(n.Rules, r.Name())
	n.Sources = r.AppendSources(n.Sources)
}

// A probe is a tire that nobody has yet, put on a place to see what the rules
// say of it.
type probe struct {
	*placer
	at   int
	mate int // noTire if there is none
	own  record.Tire
}

// buy lists what each place left without a tire needs.
func (p *placer) buy() error {
	for _, at := range p.tires {
		if p.at(at) != noTire || p.as.Tires[at].Position == nil {
			continue
		}
		q := p.probeAt(at)
		line := TireToBuy{At: p.as.Tires[at].Name, Fitment: p.as.Visit.Axles[p.as.Tires[at].AxleIndex].Fitment,
			Size: q.own.Size, LoadRange: q.own.LoadRange, Construction: q.own.Construction}
		if q.mate != noTire {
			line.Mate = p.as.Tires[q.mate].Name
		}
		for _, need := range []func() (TireNeed, bool, error){q.load, q.onWheel, q.tread, q.diameter, q.circumference, q.age, q.retread} {
			n, ok, err := need()
			if err != nil {
				return err
			}
			if ok {
				line.Needs = append(line.Needs, n)
			}
		}
		p.out.Buy = append(p.out.Buy, line)
	}
	return nil
}

// probeAt is a probe for a place.
func (p *placer) probeAt(at int) *probe {
	q := &probe{placer: p, at: at, mate: noTire}
	if m := p.as.Tires[at].Mate; m >= 0 {
		q.mate = p.at(m)
	}
	q.model()
	return q
}

// model takes over what a tire there has to share with the others.
func (q *probe) model() {
	from := q.at
	axle := q.as.Tires[q.at].AxleIndex
	for i := q.as.Layout.First[axle]; i < q.as.Layout.First[axle+1]; i++ {
		if t := q.placer.at(i); t != noTire {
			from = t
			break
		}
	}
	if q.mate != noTire {
		from = q.mate
	}
	t, was := &q.as.Tires[from], &q.as.Tires[q.at]
	q.own = record.Tire{Size: t.Size, LoadRange: strongerRange(t.LoadRange, q.as.Visit.Axles[axle].PlacardLoadRange), Class: t.Class, Construction: t.Construction,
		Seen: record.Record(condition.Set(0)), Retread: record.Record(false), Single: t.Single.Or(was.Single), Dual: t.Dual.Or(was.Dual)}
}

// strongerRange is the stronger of two load ranges as written; the placard's where the
// other says no ply rating.
func strongerRange(beside, placard string) string {
	has, err1 := inflation.ParseLoadRange(beside)
	want, err2 := inflation.ParseLoadRange(placard)
	if _, ok := want.PlyRating(); err2 != nil || !ok || err1 == nil && has.Stronger(want) == has {
		return beside
	}
	return string(want)
}

// put puts the tire that nobody has yet on its place in thought.
func (q *probe) put(own record.Tire) *judge.TireState {
	st := q.bench.put(q.at, q.at)
	st.Tire, st.Usable = own, record.Recorded[inflation.Pressure]{}
	st.Fitted = &inflation.Tire{Name: st.Name, Size: own.Size, LoadRange: st.Options.LoadRange}
	st.Fitted.Class, _ = own.Class.Get()
	if s, ok := own.Single.Get(); ok {
		st.Fitted.Single = inflation.Rating{Load: s.Load, Pressure: s.At}
	}
	if s, ok := own.Dual.Get(); ok {
		st.Fitted.Dual = inflation.Rating{Load: s.Load, Pressure: s.At}
	}
	*st.Line = report.TireLine{Load: q.loads[q.at]}
	q.probe(st)
	return st
}

// findings judges it as a tire, beside its mate and, where full is set, on its
// axle; those are kept that speak of one of the measures.
func (q *probe) findings(own record.Tire, full bool, set func(*rules.Facts), about ...rules.MeasureRef) ([]rules.Finding, error) {
	var out []rules.Finding
	take := func(f *rules.Facts) error {
		all, err := q.hold(f, q.as.Tires[q.at].AxleIndex)
		for i := range all {
			if slices.ContainsFunc(about, all[i].Rule.Uses) {
				out = append(out, all[i])
			}
		}
		return err
	}
	st := q.put(own)
	q.tireFacts.Reset(st.Name)
	q.then.TireFacts(st, q.tireFacts)
	if set != nil {
		set(q.tireFacts)
	}
	if err := take(q.tireFacts); err != nil {
		return nil, err
	}
	if q.mate != noTire {
		if err := take(q.besideMate(st)); err != nil {
			return nil, err
		}
	}
	if full {
		if err := take(q.onAxle(st)); err != nil {
			return nil, err
		}
	}
	return out, nil
}

// besideMate gives the facts of its pair.
func (q *probe) besideMate(st *judge.TireState) *rules.Facts {
	outer, inner := st, q.bench.put(q.mate, q.as.Tires[q.at].Mate)
	q.probe(inner)
	if st.Position.Place == record.Inner {
		outer, inner = inner, outer
	}
	q.pairFacts.Reset(st.Name)
	q.then.PairFacts(q.then.PairOf(outer, inner, st.Name), q.pairFacts)
	return q.pairFacts
}

// onAxle gives the facts of its axle, on which a place without a tire has one like it.
func (q *probe) onAxle(st *judge.TireState) *rules.Facts {
	for i := q.as.Layout.First[st.AxleIndex]; i < q.as.Layout.First[st.AxleIndex+1]; i++ {
		switch t := q.placer.at(i); {
		case t != noTire:
			q.bench.put(t, i)
		case i != q.at: // to be bought as well
			other := &q.then.Tires[i]
			*other = *st
			other.Line = &q.lines[i]
		}
	}
	q.axleFacts.Reset(q.as.Visit.Axles[st.AxleIndex].ID)
	q.then.AxleFacts(st.AxleIndex, nil, q.axleFacts)
	return q.axleFacts
}

// breached gives the rules that are broken or too close to call.
func breached(findings []rules.Finding) []rules.Finding {
	out := findings[:0]
	for _, f := range findings {
		if f.Verdict == rules.Breached || f.Verdict == rules.TooClose {
			out = append(out, f)
		}
	}
	return out
}

// rating finds the least rating with which no rule that speaks of the measures
// is broken, in steps of 5 lb or 5 kg. Nothing is bad where no rule asks for
// one, and least is 0 where none is enough.
func (q *probe) rating(set func(*record.Tire, record.Recorded[record.Stamp]), about ...rules.MeasureRef) (least weight.Mass, bad []rules.Finding, err error) {
	step := 5 * weight.Pound
	if q.as.Visit.System == weight.Metric {
		step = 5 * weight.Kilogram
	}
	try := func(n int) ([]rules.Finding, error) {
		own := q.own
		set(&own, record.Record(record.Stamp{Load: weight.Mass(n) * step, At: inflation.PSI}))
		all, err := q.findings(own, true, nil, about...)
		return breached(all), err
	}
	const beyond = 8000 // steps, more than any tire carries
	if bad, err = try(1); err != nil || len(bad) == 0 {
		return 0, nil, err
	}
	low, high := 1, beyond
	for high-low > 1 {
		mid := (low + high) / 2
		some, err := try(mid)
		if err != nil {
			return 0, nil, err
		}
		if len(some) > 0 {
			low, bad = mid, some
		} else {
			high = mid
		}
	}
	if high == beyond {
		return 0, bad, nil
	}
	return weight.Mass(high) * step, bad, nil
}

// load finds what its sidewall must state.
func (q *probe) load() (TireNeed, bool, error) {
	dual := q.as.Visit.Axles[q.as.Tires[q.at].AxleIndex].Fitment == weight.Dual
	least, bad, err := q.rating(func(t *record.Tire, s record.Recorded[record.Stamp]) {
		if t.Single, t.Dual = s, s; dual {
			t.Single = record.Recorded[record.Stamp]{}
		}
	}, q.as.Refs.Capacity, q.as.Refs.AxleTires)
	n := TireNeed{What: "load rating"}
	for i := range bad {
		n.name(bad[i].Rule)
	}
	fitment := "single"
	if dual {
		fitment = "dual"
	}
	weighed, beside := q.loads[q.at].Known(), q.ratedBeside(dual)
	switch {
	case q.loadFirst[q.as.Tires[q.at].AxleIndex]:
		n.Text = "as the placard and the tires beside it, once load has come off: what this end carries now is more than any tire of this size and load range at hand is stamped for"
		return n, true, err
	case len(bad) > 0 && least == 0:
		n.Text = "no tire carries this load: unload the end and weigh again"
		return n, true, err
	case len(bad) == 0 && beside == 0:
		n.Text = "as the placard and the tires beside it: what it has to carry was not weighed, or no rating is known"
		return n, true, err
	}
	n.Least = max(least, beside).String()
	n.Text = "at least " + n.Least + " " + fitment + ", stamped on its sidewall"
	switch {
	case !weighed:
		n.Text += "; what it has to carry was not weighed: no less than the tires beside it"
	case beside > least:
		n.Text += ": no less than its mate"
	}
	return n, true, err
}

// ratedBeside is the rating that a tire to buy is not below: that of its mate, and
// where nothing was weighed that of any tire on its axle (common practice); 0 where
// none was read.
func (q *probe) ratedBeside(dual bool) (most weight.Mass) {
	axle := q.as.Tires[q.at].AxleIndex
	for i := q.as.Layout.First[axle]; i < q.as.Layout.First[axle+1]; i++ {
		t := q.placer.at(i)
		if t == noTire || t != q.mate && q.loads[q.at].Known() {
			continue
		}
		stamp := q.as.Tires[t].Single
		if dual {
			stamp = q.as.Tires[t].Dual
		}
		if s, ok := stamp.Get(); ok {
			most = max(most, s.Load)
		}
	}
	return most
}

// wheelRating is the least that the wheel of the place may be stamped for.
func (q *probe) wheelRating() (weight.Mass, []rules.Finding, error) {
	return q.rating(func(t *record.Tire, s record.Recorded[record.Stamp]) { t.Wheel = s }, q.as.Refs.WheelCapacity)
}

// onWheel finds what the wheel that it goes onto must be stamped for.
func (q *probe) onWheel() (TireNeed, bool, error) {
	least, bad, err := q.wheelRating()
	n := TireNeed{What: "its wheel"}
	for i := range bad {
		n.name(bad[i].Rule)
	}
	if least > 0 {
		n.Least = least.String()
		n.Text = "good for at least " + n.Least + ", stamped on it"
	} else {
		n.Text = "no wheel carries this load: unload the end and weigh again"
	}
	return n, len(bad) > 0, err
}

// band finds the values of a length, in steps, for which no rule that speaks of
// the measures is broken.
func (q *probe) band(from, to, step weight.Length, set func(*record.Tire, weight.Length), about ...rules.MeasureRef) (n TireNeed, least, most record.Recorded[weight.Length], err error) {
	var before []rules.Finding
	for d := from; d <= to; d += step {
		own := q.own
		set(&own, d)
		all, err := q.findings(own, false, nil, about...)
		if err != nil {
			return n, least, most, err
		}
		bad := breached(all)
		switch {
		case len(bad) == 0:
			if !least.Is() {
				least = record.Record(d)
				for i := range before {
					n.name(before[i].Rule)
				}
			}
			most = record.Record(d)
		case most.Is():
			for i := range bad {
				n.name(bad[i].Rule)
			}
			return n, least, most, nil
		}
		before = bad
	}
	if !least.Is() {
		for i := range before {
			n.name(before[i].Rule)
		}
	}
	return n, least, most, nil
}

// length writes a length in the visit's own unit; every one that is tried is whole
// tenths of a millimeter there.
func (q *probe) length(l weight.Length) string {
	if q.as.Visit.System != weight.Metric {
		return l.String()
	}
	return strings.TrimSuffix(string(l.AppendIn(nil, weight.Millimeter, 1, weight.Nearest)), ".0") + " mm"
}

// tread finds the tread that keeps the rules of the place and of the pair.
func (q *probe) tread() (TireNeed, bool, error) {
	step, deepest := record.ThirtySecond, 32*record.ThirtySecond // more than a highway tire has
	if q.as.Visit.System == weight.Metric {
		step, deepest = weight.Millimeter/2, 25*weight.Millimeter
	}
	r := q.as.Refs
	n, least, most, err := q.band(0, deepest, step, func(t *record.Tire, d weight.Length) {
		t.Tread = record.Record(record.Treads{Anywhere: []weight.Length{d}})
	},
		r.Tread, r.PairTread, r.PairDeeper)
	if err != nil {
		return n, false, err
	}
	n.What = "tread"
	low, ok := least.Get()
	if !ok {
		n.Text = "no tread keeps the rules beside this mate: replace both of the pair"
		return n, true, nil
	}
	high, _ := most.Get()
	if n.Text = "any"; low > 0 {
		n.Least = q.length(low)
		n.Text = "at least " + n.Least
	}
	if high < deepest {
		n.Most = q.length(high)
		if n.Text = "at most " + n.Most; low > 0 {
			n.Text = n.Least + " to " + n.Most
		}
		n.Text += ": if a new tire has more, look for a part-worn one, or replace both of the pair"
	}
	if q.mate != noTire && !q.as.Tires[q.mate].Line.Tread.Is() {
		n.Text += "; and within what its mate allows, whose tread was not probed"
	}
	return n, len(n.Rules) > 0, nil
}

// diameter finds the sizes that its mate's measured size allows.
func (q *probe) diameter() (TireNeed, bool, error) {
	return q.beside("diameter", 2*weight.Inch, func(t *record.Tire) *record.Recorded[weight.Length] { return &t.Diameter },
		q.as.Refs.PairDiameter, q.as.Refs.PairDiameterDiff, q.as.Refs.PairLarger)
}

func (q *probe) circumference() (TireNeed, bool, error) {
	return q.beside("circumference", 4*weight.Inch, func(t *record.Tire) *record.Recorded[weight.Length] { return &t.Circumference },
		q.as.Refs.PairDiameter, q.as.Refs.PairRoundDiff, q.as.Refs.PairLarger)
}

func (q *probe) beside(what string, reach weight.Length, of func(*record.Tire) *record.Recorded[weight.Length], about ...rules.MeasureRef) (TireNeed, bool, error) {
	n := TireNeed{What: what}
	if q.mate == noTire {
		return n, false, nil
	}
	m, ok := of(&q.as.Tires[q.mate].Tire).Get()
	if !ok {
		n.Text = "match the mate: measure it, mounted and inflated, and let the larger tire run outside"
		return n, what == "diameter" && !q.as.Tires[q.mate].Circumference.Is(), nil
	}
	step := weight.Inch / 16
	if q.as.Visit.System == weight.Metric {
		step = 2 * weight.Millimeter
	}
	reach -= reach % step
	n, least, most, err := q.band(m-reach, m+reach, step, func(t *record.Tire, d weight.Length) { *of(t) = record.Record(d) }, about...)
	if err != nil {
		return n, false, err
	}
	n.What = what
	low, ok := least.Get()
	if !ok {
		n.Text = "none keeps the rules beside this mate: replace both of the pair"
		return n, true, nil
	}
	high, _ := most.Get()
	n.Least, n.Most = q.length(low), q.length(high)
	n.Text = n.Least + " to " + n.Most + ", mounted and inflated to its mate's pressure"
	return n, len(n.Rules) > 0, nil
}

// age gives the bounds that the rules set to a tire's age there.
func (q *probe) age() (TireNeed, bool, error) {
	n := TireNeed{What: "age"}
	old := rules.Quantity(int64(100 * 12 * judge.AgeUnit)) // years beyond any bound
	all, err := q.findings(q.own, false, func(f *rules.Facts) { f.Set(q.as.Refs.Age, old) }, q.as.Refs.Age)
	if err != nil {
		return n, false, err
	}
	for _, f := range breached(all) {
		if n.Text != "" {
			n.Text += "; "
		}
		n.Text += f.BoundText() + " (else: " + f.Rule.Title() + ")"
		n.name(f.Rule)
	}
	return n, n.Text != "", nil
}

// retread says whether a retread or a regrooved tire may run there.
func (q *probe) retread() (TireNeed, bool, error) {
	n := TireNeed{What: "casing"}
	for _, x := range []struct {
		word string
		own  func(*record.Tire)
		m    rules.MeasureRef
	}{
		{"not a retread", func(t *record.Tire) { t.Retread = record.Record(true) }, q.as.Refs.Retread},
		{"not regrooved", func(t *record.Tire) { t.Regrooved = record.Record(true) }, q.as.Refs.Regrooved},
	} {
		own := q.own
		x.own(&own)
		all, err := q.findings(own, false, nil, x.m)
		if err != nil {
			return n, false, err
		}
		bad := breached(all)
		if len(bad) == 0 {
			continue
		}
		if n.Text != "" {
			n.Text += ", "
		}
		n.Text += x.word
		for i := range bad {
			n.name(bad[i].Rule)
		}
	}
	return n, n.Text != "", nil
}
