package placement

import (
	"math/bits"
	"slices"

	"axleend.example/inflation"
	"axleend.example/inspect/record"
	"axleend.example/inspect/record/condition"
	"axleend.example/inspect/report"
	"axleend.example/internal/judge"
	"axleend.example/rules"
	"axleend.example/weight"
)

// A verdict is what the rules say of one subject in a candidate arrangement.
type verdict struct {
	hard   bool // breaks a rule whose action stops the coach or comes before the trip
	unsure bool // a rule could not be judged, or is too close to call
	soft   int8 // how many rules it breaks whose action can be planned
}

func (v *verdict) add(w verdict) {
	v.hard, v.unsure, v.soft = v.hard || w.hard, v.unsure || w.unsure, v.soft+w.soft
}

// A bench holds the tires at hand against the places they could go to: each is
// put there in thought, its facts gathered by what gathers those of a visit,
// and judged by the program. What was judged is kept, so that a search only
// looks up.
//
// Pressures as found are no part of an arrangement: every tire is set again
// once its wheel is on. What a tire was driven at stays with it. Nor is a load
// over an axle's rating, which no tire mends.
type bench struct {
	as    *judge.Assessment // as it was found
	then  *judge.Assessment // with the tires put elsewhere; its tires are by place
	tires []int             // of as, the coach's and the spares: the places, too
	loads []weight.Estimate
	lines []report.TireLine

	skip     map[*rules.Rule]bool // rules that say nothing of an arrangement
	needsSet bool                 // a rule asks for the pressure to set
	needsEnd bool                 // a rule asks what the end of a pair carries
	asFound  bool                 // no tire is turned on its wheel
	onNew    []bool               // the tires that are on a wheel to buy
	lowSpare []bool               // the spares that ran low, or that had no pressure

	overloaded []bool // the tires that carried more than they are stamped for
	loadFirst  []bool // the axles from which load comes off before a tire is bought for it

	tireFacts, pairFacts, axleFacts *rules.Facts

	scratch []rules.Finding

	// What was judged: tires by place and, where a rule asks for the pressure
	// to set, by that; pairs by outer and inner; axles by the tires on them.
	tire  []known
	bySet map[tireKey]verdict
	pair  []known
	axle  map[axleKey]axleVerdict
}

// known is a verdict that may not have been found yet.
type known struct {
	verdict
	is bool
}

type tireKey struct {
	tire, place int
	set         inflation.Pressure // 0 where no rule asks for it, or none is known
}

type axleKey struct {
	axle int
	mask uint32 // of tires on it
}

type axleVerdict struct {
	verdict
	set *inflation.Setting
}

// newBench puts the coach's tires, and not a towed unit's, on the bench.
func newBench(as *judge.Assessment) (*bench, error) {
	n := len(as.Tires)
	b := &bench{as: as, skip: make(map[*rules.Rule]bool), tire: make([]known, n*n), bySet: make(map[tireKey]verdict), pair: make([]known, n*n), axle: make(map[axleKey]axleVerdict)}
	b.then, b.onNew, b.lowSpare = as.Elsewhere(), make([]bool, n), make([]bool, n)
	b.loads, b.lines = make([]weight.Estimate, len(as.Tires)), make([]report.TireLine, len(as.Tires))
	for i := range as.Tires {
		st := &as.Tires[i]
		b.loads[i], b.lowSpare[i] = b.load(i), b.ranLowBefore(i)
		if st.AxleIndex < 0 || !as.Visit.Axles[st.AxleIndex].Towed {
			b.tires = append(b.tires, i)
		}
	}
	r := as.Refs
	// Pressures are set anew, and with them how duals share their load; and how far
	// apart a pair was made is told by assess, where it can be measured, and splits
	// none.
	for _, rule := range as.Program.Rules() {
		own := rule.Measures()
		b.skip[rule] = slices.ContainsFunc(own, func(m rules.MeasureRef) bool { return slices.Contains(r.Unasked, m) }) ||
			!slices.ContainsFunc(own, func(m rules.MeasureRef) bool { return !slices.Contains(r.Fixed, m) })
		b.needsSet = b.needsSet || !b.skip[rule] && slices.Contains(own, r.ToSet)
		b.needsEnd = b.needsEnd || !b.skip[rule] && slices.Contains(own, r.PairLoad)
	}
	var err error
	for _, f := range []struct {
		into    **rules.Facts
		subject string
	}{{&b.tireFacts, "tire"}, {&b.pairFacts, "dual_pair"}, {&b.axleFacts, "axle"}} {
		if *f.into, err = as.Program.Vocabulary().NewFacts(f.subject, ""); err != nil {
			return nil, err
		}
	}
	b.findOverloads()
	return b, nil
}

// endOf names the end that a place is at, empty for a carrier.
func (b *bench) endOf(place int) string {
	w := b.as.Tires[place].Position
	if w == nil {
		return ""
	}
	return b.as.Layout.EndNames[w.Axle][w.Side-weight.Left]
}

// innerOf is the place beside an outer one of a pair, noTire for any other.
func (b *bench) innerOf(place int) int {
	if st := &b.as.Tires[place]; st.Mate >= 0 && st.Position.Place == record.Outer {
		return st.Mate
	}
	return noTire
}

// maskOf gives the tires on a group's places, and whether each place has one.
func (b *bench) maskOf(g *group, on func(place int) int) (mask uint32, all bool) {
	all = true
	for _, at := range g.places {
		if t := on(at); t != noTire {
			mask |= 1 << slices.Index(b.tires, t)
		} else {
			all = false
		}
	}
	return mask, all
}

// load is the most that a place carries: as weighed, or after the changes for
// the trip.
func (b *bench) load(place int) weight.Estimate {
	st := &b.as.Tires[place]
	e := st.Line.Load
	if st.Position == nil || !b.as.Changes {
		return e
	}
	end, _ := b.as.Trip.Heaviest(weight.EndOf(st.AxleIndex, st.Position.Side))
	if one := b.as.OnOne(st.AxleIndex, end); one.Known() && (!e.Known() || one.AtMost() > e.AtMost()) {
		return one
	}
	return e
}

// put puts a tire on a place in thought. It is turned on its wheel where its
// arrow would point the wrong way: that is a demount, which has its price.
func (b *bench) put(tire, place int) *judge.TireState {
	from, own := &b.as.Tires[tire], &b.as.Tires[place]
	st := &b.then.Tires[place]
	*st = *from
	st.AxleIndex, st.Position, st.Mate, st.Setting = own.AxleIndex, own.Position, own.Mate, nil
	b.lines[place] = *from.Line
	st.Line = &b.lines[place]
	st.Line.Load = b.loads[place]
	if b.onNew[tire] {
		st.Tire = withoutWheel(st.Tire)
	}
	if b.turned(tire, place) && !b.asFound {
		st.Rotates = record.Record(arrowFor(own.Position.Side))
	}
	return st
}

func arrowFor(side weight.Side) record.Rotates {
	if side == weight.Left {
		return record.OnLeft
	}
	return record.OnRight
}

// turned reports whether a tire's arrow would point the wrong way there.
func (b *bench) turned(tire, place int) bool {
	w := b.as.Tires[place].Position
	r, ok := b.as.Tires[tire].Rotates.Get()
	return ok && w != nil && !r.RunsOn(w.Side)
}

// fits reports whether a tire's own wheel fits a place; on a spare's carrier
// any does.
func (b *bench) fits(tire, place int) bool {
	w := b.as.Tires[place].Position
	return w == nil || tire == place || b.as.Layout.Fits(b.as.Tires[tire].WheelFits, w)
}

// keepsSize reports whether an axle keeps, with this tire, a size that was found
// on it: which one the placard wants there the visit does not say.
func (b *bench) keepsSize(tire, place int) bool {
	size, axle := b.as.Tires[tire].Size, b.as.Tires[place].AxleIndex
	if size == "" || axle < 0 || axle == b.as.Tires[tire].AxleIndex {
		return true
	}
	on := b.as.OnAxle(axle)
	for i := range on {
		if on[i].Size == "" || judge.SameSize(size, on[i].Size) {
			return true
		}
	}
	return false
}

// repairable are conditions that are put right where the wheel is, or by a
// repair: a tire that shows one may stay in use once that is done.
var repairable = condition.Set(0).With(condition.NailOrObject).With(condition.Cut).With(condition.PlugOnWheel).With(condition.ValveLeaking).
	With(condition.StemCracked).With(condition.ExtensionLoose).With(condition.CapMissing).With(condition.ObjectBetweenDuals).With(condition.WheelBent).With(condition.NarrowBlock)

// carried reports whether a breach moves with the tire wherever it goes, to be
// put right on its own.
func (b *bench) carried(f *rules.Finding) bool {
	m := f.Rule.Measure()
	switch {
	case f.Verdict != rules.Breached:
		return false
	case m == b.as.Refs.Found && record.IsSpare(f.Name):
		return true // how it was kept, and what to do before it is used
	case m == b.as.Refs.Conditions[condition.LugNutLoose]:
		return true // how the wheel is fastened, nothing of the tire
	case f.Rule.Action().Stops:
		return false
	}
	for _, c := range condition.All() {
		if repairable.Has(c) && m == b.as.Refs.Conditions[c] {
			return true
		}
	}
	return false
}

// hard reports whether a rule's breach forbids an arrangement.
func (b *bench) hard(r *rules.Rule) bool {
	act := r.Action()
	return act.Stops || report.Action(act.Name).Compare(report.Plan) < 0
}

// hold judges facts of something on an axle, -1 for none, and gives the findings that
// count for an arrangement, none of which is kept.
func (b *bench) hold(f *rules.Facts, axle int) ([]rules.Finding, error) {
	all, _, err := b.then.Program.AppendNotKept(b.scratch[:0], f)
	if err != nil {
		return nil, err
	}
	out := all[:0]
	for i := range all {
		if all[i].Verdict != rules.Kept && !b.skip[all[i].Rule] && !b.carried(&all[i]) && !b.waits(&all[i], axle) {
			out = append(out, all[i])
		}
	}
	b.scratch = out
	return out, nil
}

func (b *bench) weigh(findings []rules.Finding) verdict {
	var v verdict
	for i := range findings {
		switch f := &findings[i]; {
		case f.Verdict != rules.Breached, b.as.MayNotFit(f):
			v.unsure = true
		case b.hard(f.Rule):
			v.hard = true
		default:
			v.soft++
		}
	}
	return v
}

// condemned reports whether nobody may drive on a tire because of the pressure
// it was driven at; a spare, also because it had none.
func (b *bench) condemned(tire int) bool { return b.as.Tires[tire].Condemned() || b.lowSpare[tire] }

// ranLowBefore reports whether a spare that a rule calls low is known to have been on
// the road like that, or was read at 0 (common practice; 29 CFR 1910.177(f)(2)(i) of a
// tire that was driven at 80 % or less). One that only lost air on its carrier, or of
// which nobody knows, goes on once trained people looked at it.
func (b *bench) ranLowBefore(spare int) bool {
	st := &b.as.Tires[spare]
	if st.Position != nil || !slices.ContainsFunc(b.as.Findings, func(f rules.Finding) bool { return f.Name == st.Name && b.callsLow(&f) }) {
		return false
	}
	found, read := st.Usable.Get()
	lowest, driven := st.LowestDriven.Get()
	before, known := st.BeforeAir.Get()
	return record.Yes(st.DrivenSince) || driven && (!read || lowest <= found) ||
		record.Yes(st.ReadZero) || read && found == 0 || known && before == 0
}

// callsLow reports whether a finding says that a spare is too low to be aired up unseen.
func (b *bench) callsLow(f *rules.Finding) bool {
	return f.Verdict == rules.Breached && f.Rule.Measure() == b.as.Refs.Found && f.Rule.Involves(judge.NoAir) && record.IsSpare(f.Name)
}

// repairFirst are conditions of a tire that is demounted and looked at inside before
// anybody relies on it.
const repairFirst condition.Set = 1<<condition.NailOrObject | 1<<condition.Cut | 1<<condition.PlugOnWheel

// damaged are conditions of a tire or wheel that may burst.
const damaged condition.Set = 1<<condition.ExposedCord | 1<<condition.Separation | 1<<condition.Bulge | 1<<condition.ZipperSigns | 1<<condition.CutToCord | 1<<condition.BeadDamage | 1<<condition.WheelCracked

// airOut reports whether a tire's air comes out before its wheel comes off: it
// ran low or its mate did, or it is damaged (29 CFR 1910.177(f)(2)(i)
// and (ii)).
func (b *bench) airOut(tire int) bool {
	seen, _ := b.as.Tires[tire].Seen.Get()
	return b.condemned(tire) || seen&damaged != 0
}

// lowUnknown reports whether nobody can say that a tire did not run low. A spare that
// was read and is low goes on after trained people inspected it, as a step of the work.
func (b *bench) lowUnknown(tire int) bool {
	st := &b.as.Tires[tire]
	return !st.RanLow.Is() && (st.Position != nil || !st.Usable.Is())
}

// unread reports whether something of a tire is not known that the road asks for, or
// is still to be found inside it.
func (b *bench) unread(tire int, v verdict) bool {
	seen, _ := b.as.Tires[tire].Seen.Get()
	return v.unsure || seen&repairFirst != 0 || b.lowUnknown(tire) || b.as.Tires[tire].Line.Casing != ""
}

// judgeTire judges a tire at a place of an axle that is set so.
func (b *bench) judgeTire(tire, place int, set *inflation.Setting) (verdict, error) {
	at := &b.tire[tire*len(b.as.Tires)+place]
	key := tireKey{tire: tire, place: place}
	if b.needsSet && set != nil {
		key.set = set.Set
		if v, ok := b.bySet[key]; ok {
			return v, nil
		}
	} else if at.is {
		return at.verdict, nil
	}
	findings, err := b.tireFindings(tire, place, set)
	if err != nil {
		return verdict{}, err
	}
	v := b.weigh(findings)
	v.hard = v.hard || b.condemned(tire)
	if b.needsSet && set != nil {
		b.bySet[key] = v
	} else {
		*at = known{v, true}
	}
	return v, nil
}

func (b *bench) tireFindings(tire, place int, set *inflation.Setting) ([]rules.Finding, error) {
	st := b.put(tire, place)
	if b.needsSet {
		st.Setting = set
	}
	b.tireFacts.Reset(st.Name)
	b.then.TireFacts(st, b.tireFacts)
	return b.hold(b.tireFacts, st.AxleIndex)
}

// soonWorn reports whether a tire has at most 1/32 in to wear at a place before it
// breaks a rule there that forbids it.
func (b *bench) soonWorn(tire, place int) (bool, error) {
	st := b.put(tire, place)
	d, ok := b.as.Tires[tire].Line.Tread.Get()
	if !ok {
		return false, nil
	}
	st.Tread = record.Record(record.Treads{Anywhere: []weight.Length{max(0, d-record.ThirtySecond)}})
	b.tireFacts.Reset(st.Name)
	b.then.TireFacts(st, b.tireFacts)
	findings, err := b.hold(b.tireFacts, st.AxleIndex)
	return slices.ContainsFunc(findings, func(f rules.Finding) bool {
		return f.Rule.Measure() == b.as.Refs.Tread && f.Verdict == rules.Breached && b.hard(f.Rule)
	}), err
}

// judgePair judges two tires as outer and inner of a dual pair: wherever, unless a
// rule asks for the place.
func (b *bench) judgePair(outer, inner int, at int) (verdict, error) {
	k := &b.pair[outer*len(b.as.Tires)+inner]
	if k.is && !b.needsEnd {
		return k.verdict, nil
	}
	findings, err := b.pairFindings(outer, inner, at)
	if err != nil {
		return verdict{}, err
	}
	*k = known{b.weigh(findings), true}
	return k.verdict, nil
}

// pairFindings has the tires at the pair whose outer place is at.
func (b *bench) pairFindings(outer, inner, at int) ([]rules.Finding, error) {
	o, i := b.put(outer, at), b.put(inner, b.as.Tires[at].Mate)
	b.probe(o)
	b.probe(i)
	name := b.endOf(at)
	b.pairFacts.Reset(name)
	b.then.PairFacts(b.then.PairOf(o, i, name), b.pairFacts)
	findings, err := b.hold(b.pairFacts, o.AxleIndex)
	if b.as.Tires[outer].Mate == inner { // found so: to be measured where it is
		findings = slices.DeleteFunc(findings, func(f rules.Finding) bool { return aboutMakes(&f) })
	}
	return findings, err
}

// aboutMakes reports whether a finding says that two tires are of two makes.
func aboutMakes(f *rules.Finding) bool { return f.Rule.Measure().Measure().Name == "two_makes" }

// probe puts the least tread into a tire's line, as its facts do.
func (b *bench) probe(st *judge.TireState) {
	if t, ok := st.Tread.Get(); ok {
		if d, ok := t.Least(); ok {
			st.Line.Tread = record.Record(d)
		}
	}
}

// judgeAxle judges an axle with these tires on it: what it is to be set to and
// what rests on all of them hold whichever of its places each has.
func (b *bench) judgeAxle(axle int, mask uint32) (axleVerdict, error) {
	key := axleKey{axle, mask}
	v, ok := b.axle[key]
	if ok {
		return v, nil
	}
	findings, set, err := b.axleFindings(axle, b.fill(axle, mask))
	if err != nil {
		return axleVerdict{}, err
	}
	v = axleVerdict{b.weigh(findings), set}
	b.axle[key] = v
	return v, nil
}

// fill puts tires on an axle's places in order and says how many there are.
func (b *bench) fill(axle int, mask uint32) int {
	place := b.as.Layout.First[axle]
	for rest := mask; rest != 0; rest &= rest - 1 {
		b.put(b.tires[bits.TrailingZeros32(rest)], place)
		place++
	}
	return place - b.as.Layout.First[axle]
}

// axleFindings judges an axle on whose first n places tires were put; the
// others have none yet, so nothing can be said about them.
func (b *bench) axleFindings(axle, n int) ([]rules.Finding, *inflation.Setting, error) {
	first, end := b.as.Layout.First[axle], b.as.Layout.First[axle+1]
	on := b.then.Tires[first:end]
	in := b.then.AxleInput(axle)
	for i := range on {
		if i < n {
			in.Tires = on[i].AppendToSet(in.Tires)
			in.Wheels = append(in.Wheels, on[i].StampedWheel())
			continue
		}
		on[i] = judge.TireState{AxleIndex: axle, Fitted: new(inflation.Tire), Line: new(report.TireLine)}
		if n > 0 {
			on[i].Construction, on[i].Size = on[0].Construction, on[0].Size
		}
	}
	var set *inflation.Setting
	if s, err := inflation.SetAxle(in); err == nil && n > 0 {
		set = &s
	}
	b.axleFacts.Reset(in.Name)
	b.then.AxleFacts(axle, set, b.axleFacts)
	findings, err := b.hold(b.axleFacts, axle)
	if n < len(on) {
		kept := findings[:0]
		for i := range findings {
			if findings[i].Verdict == rules.Breached {
				kept = append(kept, findings[i]) // what is missing is still to be bought
			}
		}
		findings = kept
	}
	return findings, set, err
}

// airAt is the worse of what the report says of the air of the tire proposed for a
// place and of the one beside it.
func (p *placer) airAt(at int) report.Air {
	air := p.as.Tires[p.at(at)].Line.Air
	if m := p.as.Tires[at].Mate; m >= 0 && p.at(m) != noTire {
		air = max(air, p.as.Tires[p.at(m)].Line.Air)
	}
	return air
}

// setCaution says how the tires proposed are set, and that no air goes into one of
// which something is to be done first.
func (p *placer) setCaution() string {
	text := "Set every tire cold once its wheel is on, one pressure across the axle, and assess the coach again (common practice)."
	if slices.ContainsFunc(p.out.Places, func(l PlacedTire) bool { return l.Axle != "" && l.Air > report.AirFree }) {
		text += " But no air goes into a tire whose air is not free before what assess lists about it is done."
	}
	return text
}
