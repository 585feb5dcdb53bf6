package placement

import (
	"cmp"
	"slices"

	"axleend.example/inflation"
	"axleend.example/inspect/record"
	"axleend.example/inspect/record/condition"
	"axleend.example/inspect/report"
	"axleend.example/rules"
	"axleend.example/weight"
)

// A WheelToBuy says what a wheel to buy has to be, for a place where the one at
// hand is rated for too little, or damaged.
type WheelToBuy struct {
	// At is the place that it is for.
	At string `json:"at"`
	// Fitment says whether it runs alone or in a pair.
	Fitment weight.Fitment `json:"fitment"`
	// Tire is the one that goes onto it, by the place where it was found; empty is
	// the tire to buy for the place.
	Tire string `json:"tire,omitzero"`
	// Load is the least that it may be stamped for, in steps of 5 lb or 5 kg, rounded up;
	// 0 where no rule asks for one, as where nothing was weighed, or where no wheel is
	// enough.
	Load weight.Mass `json:"load,omitzero"`
	// Pressure is the least that it may be stamped for: what the axle is to be set to,
	// rounded up to the gauge's step; 0 where that cannot be said yet.
	Pressure inflation.Pressure `json:"pressure,omitzero"`
	// Why are the rules that the wheel at hand breaks there; empty where its stamped
	// pressure alone is too low.
	Why []report.Item `json:"why,omitempty"`
}

// withoutWheel is a tire of whose wheel nothing is known.
func withoutWheel(t record.Tire) record.Tire {
	var none record.Tire
	seen, looked := t.Seen.Get()
	onWheel(&t, &none)
	if t.Seen = none.Seen; looked {
		t.Seen = record.Record(seen &^ ofWheel)
	}
	return t
}

// keepTires finds the tires that go nowhere only because of the wheel they are on:
// such a tire goes onto a wheel to buy, on its own place where that has none.
func (p *placer) keepTires() error {
	p.kept = make(arrangement, len(p.best))
	for i := range p.kept {
		p.kept[i] = noTire
	}
	for gi := range p.groups {
		g := &p.groups[gi]
		for _, at := range g.places {
			if g.axle < 0 || p.best[at] != noTire {
				continue
			}
			if err := p.keepTire(g, at); err != nil {
				return err
			}
		}
	}
	return nil
}

// keepTire finds the tire for one place, first the one that was found there.
func (p *placer) keepTire(g *group, at int) error {
	for _, t := range append([]int{at}, p.tires...) {
		if slices.Contains(p.best, t) || slices.Contains(p.kept, t) || p.condemned(t) || !p.keepsSize(t, at) {
			continue
		}
		p.kept[at] = t
		before, err := p.breaks(g)
		p.onNew[t] = true
		after, err2 := p.breaks(g)
		if err = cmp.Or(err, err2); err != nil {
			return err
		}
		if before && !after {
			return nil
		}
		p.kept[at], p.onNew[t] = noTire, false
	}
	return nil
}

// unswap leaves the outer tire of a pair outside where the inner one, for which it
// was to make room, only gets another wheel.
func (p *placer) unswap() error {
	for gi := range p.groups {
		g := &p.groups[gi]
		for _, outer := range g.places {
			inner := p.as.Tires[outer].Mate
			if g.axle < 0 || inner < 0 || p.best[inner] != outer || p.kept[outer] != inner {
				continue
			}
			p.best[outer], p.best[inner], p.kept[outer], p.kept[inner] = outer, noTire, noTire, inner
			bad, err := p.breaks(g)
			if err != nil {
				return err
			}
			o, err := p.assessAfter(p.best)
			if err != nil {
				return err
			}
			if bad || o.bad() {
				p.best[outer], p.best[inner], p.kept[outer], p.kept[inner] = noTire, outer, inner, noTire
				continue
			}
			p.out.Price = o.price
		}
	}
	return nil
}

// at gives the tire proposed for a place, also one that goes onto a wheel to buy.
func (p *placer) at(place int) int {
	if t := p.best[place]; t != noTire {
		return t
	}
	return p.kept[place]
}

// set is what an axle is to be set to with the tires proposed for it, nil where none
// has one or a table does not fit it, and whether all of its places have one.
func (p *placer) set(g *group) (*inflation.Setting, []rules.Finding, bool, error) {
	mask, all := p.maskOf(g, p.at)
	findings, set, err := p.axleFindings(g.axle, p.fill(g.axle, mask))
	return set, findings, all, err
}

// breaks reports whether the tires proposed for an axle break a rule that forbids
// it, those on wheels to buy among them.
func (p *placer) breaks(g *group) (bool, error) {
	set, findings, _, err := p.set(g)
	if err != nil || p.weigh(findings).hard {
		return true, err
	}
	for _, at := range g.places {
		t := p.at(at)
		if t == noTire {
			continue
		}
		findings, err := p.tireFindings(t, at, set)
		if err != nil || p.weigh(findings).hard {
			return true, err
		}
		if inner := p.innerOf(at); inner != noTire && p.at(inner) != noTire {
			findings, err := p.pairFindings(t, p.at(inner), at)
			if err != nil || p.weigh(findings).hard {
				return true, err
			}
		}
	}
	return false, nil
}

// wheels settles which wheel carries each tire that is to be bought or that leaves
// its own, and lists the wheels to buy for them.
func (p *placer) wheels() error {
	p.want = p.mountings(p.best)
	for gi := range p.groups {
		g := &p.groups[gi]
		for _, at := range g.places {
			if g.axle < 0 || p.best[at] != noTire {
				continue
			}
			if err := p.wheel(g, at); err != nil {
				return err
			}
		}
	}
	return nil
}

func (p *placer) wheel(g *group, at int) error {
	q, m := p.probeAt(at), &p.want[at]
	set, _, all, err := p.set(g)
	if err != nil {
		return err
	}
	line := WheelToBuy{At: p.as.Tires[at].Name, Fitment: p.as.Visit.Axles[g.axle].Fitment}
	if all && set != nil && (set.Outcome == inflation.CanSet || set.Outcome == inflation.TooClose) {
		line.Pressure = set.Set
	}
	if m.tire = p.kept[at]; m.tire != noTire {
		line.Tire = p.as.Tires[m.tire].Name
	}
	if m.wheel >= 0 && m.wheel != m.tire { // its own is why it went
		unfit, err := q.unfit(m.wheel)
		if err != nil {
			return err
		}
		stamp, known := p.as.Tires[m.wheel].Wheel.Get()
		if len(unfit) == 0 && !(known && stamp.At > 0 && stamp.At < p.leastSet(g, set)) {
			return nil
		}
		line.Why = p.items(unfit)
	} else if m.tire != noTire {
		line.Why = p.why(m.tire)
	}
	m.wheel = anyWheel(at)
	if line.Load, _, err = q.wheelRating(); err != nil {
		return err
	}
	p.out.Wheels = append(p.out.Wheels, line)
	return nil
}

// leastSet is the least that an axle may come to be set to, also while one of its
// tires is yet to be bought: 0 where nothing says.
func (p *placer) leastSet(g *group, set *inflation.Setting) inflation.Pressure {
	least := p.then.AxleInput(g.axle).Placard
	if set != nil {
		least = max(least, set.Set)
	}
	return least
}

// unfit are the rules that a wheel at hand breaks on the place, whichever tire is on it.
func (q *probe) unfit(wheel int) ([]rules.Finding, error) {
	own := q.own
	onWheel(&own, &q.as.Tires[wheel].Tire)
	about := []rules.MeasureRef{q.as.Refs.WheelCapacity}
	for _, c := range condition.All() {
		if ofWheel.Has(c) {
			about = append(about, q.as.Refs.Conditions[c])
		}
	}
	all, err := q.findings(own, false, nil, about...)
	return slices.DeleteFunc(all, func(f rules.Finding) bool { return f.Verdict != rules.Breached || !q.hard(f.Rule) }), err
}
