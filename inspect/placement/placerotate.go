package placement

import (
	"slices"

	"axleend.example/inspect/record"
	"axleend.example/inspect/report"
	"axleend.example/internal/judge"
	"axleend.example/rules"
	"axleend.example/weight"
)

// rotate looks for a rotation where no rule asks for a move: the packs say how
// far apart treads may be before one is worth the work. It puts the deeper
// tires where most tread went, so that after as much wear again the shallowest
// has most left. The steer axle never gets less tread than it has; duals stay beside
// the mates they wore in with, the two ends of a steer or drive axle come no further apart,
// and nobody borrows a wheel for it: it is no mend (common practice).
func (p *placer) rotate(c cost) error {
	rot := Rotation{Reason: "no rule of the packs says when a rotation pays"}
	defer func() { p.out.Rotation = record.Record(rot) }()
	spread := p.as.TreadSpread()
	if !spread.Is() {
		rot.Reason = "not every tire on the road was probed"
		return nil
	}
	rot.Spread = spread
	if called, err := p.rotationCalledFor(&rot); err != nil || !called {
		return err
	}
	worn, ok := p.wear()
	if !ok {
		rot.Reason = "the tires on the road are not known to be of one model: what wore faster and what was newer cannot be told apart"
		return nil
	}
	now := p.leastLeft(worn)
	best, reached, err := p.rotated(c, worn, now)
	if err != nil {
		return err
	}
	rot.Least = record.Record(now)
	if best == nil {
		rot.Reason = "no exchange of places leaves clearly more tread on the most worn tire without breaking a rule, taking tread off the steer axle, splitting a pair or setting the two ends of a steer or drive axle further apart"
		return nil
	}
	if slices.ContainsFunc(p.bench.steps(p.mountings(best)), func(s Step) bool { return s.Borrowed }) {
		rot.Reason = "it would take a wheel to borrow, to stand on: no wheel at hand is free"
		return nil
	}
	o, err := p.assessAfter(best)
	if err != nil {
		return err
	}
	if o.bad() {
		rot.Reason = "after the rotation this would come up: " + o.reason()
		return nil
	}
	p.out.Price = o.price
	rot.Helps, rot.LeastRotated = true, record.Record(reached)
	rot.Reason = "the deeper tires go where most tread went, if all of them went on together; have the alignment checked first"
	p.best, p.out.Outcome = best, Rotate
	return nil
}

// rotationCalledFor asks the packs whether the treads are far enough apart, and
// writes down which rules say so.
func (p *placer) rotationCalledFor(rot *Rotation) (called bool, err error) {
	f, err := p.as.Program.Vocabulary().NewFacts(report.CoachLoad.String(), "")
	if err != nil {
		return false, err
	}
	f.Reset("coach")
	f.Set(p.as.Refs.CoachWear, judge.Value(rot.Spread))
	findings, err := p.as.Program.AppendRun(nil, f)
	if err != nil {
		return false, err
	}
	for i := range findings {
		if r := findings[i].Rule; r.Measure() == p.as.Refs.CoachWear {
			rot.Rules = append(rot.Rules, r.Name())
			rot.Sources = r.AppendSources(rot.Sources)
			called = called || findings[i].Verdict == rules.Breached
			rot.Reason = "the treads on the road are alike enough: " + findings[i].ValueText() + " apart, wanted " + findings[i].BoundText()
		}
	}
	return called, nil
}

// tread is the least tread of a tire, zero where it was not probed.
func (p *placer) tread(tire int) weight.Length {
	d, _ := p.as.Tires[tire].Line.Tread.Get()
	return d
}

// leastLeft is what the shallowest tire on the road has left after as much wear
// again where it runs now.
func (p *placer) leastLeft(worn []weight.Length) (least weight.Length) {
	for at, w := range worn {
		if left := p.tread(at) - w; at == 0 || left < least {
			least = left
		}
	}
	return least
}

// rotated finds the arrangement that leaves most tread on the tire with least, and
// how much; none if it is no more than now, or breaks a rule.
func (p *placer) rotated(c cost, worn []weight.Length, now weight.Length) (best arrangement, reached weight.Length, err error) {
	levels := p.levels(worn, now)
	steer := -p.tread(p.groups[0].places[0]) // its least tread, below zero as in a cost
	for _, at := range p.groups[0].places {
		steer = max(steer, -p.tread(at))
	}
	// The highest level that keeps the rules as well; below it all do.
	for low, high := 0, len(levels)-1; low <= high; {
		mid := (low + high) / 2
		a, d, err := p.choose(func(g *group, o *option) bool {
			l, any := p.leftOf(g, o, worn)
			return !any || l >= levels[mid] && (g.axle != 0 || o.cost.low <= steer) && p.keepsPairs(g, o) && p.keepsEnds(g, o)
		})
		if err != nil {
			return nil, 0, err
		}
		if !d.sameRules(c) {
			high = mid - 1
			continue
		}
		best, reached = a, levels[mid]
		low = mid + 1
	}
	return best, reached, nil
}

// keepsPairs reports whether each tire of a pair in an option that was found in a pair
// runs beside the same mate still.
func (p *placer) keepsPairs(g *group, o *option) bool {
	for i := range g.places {
		outer, inner, ok := p.pairAt(g, o, i)
		if ok && p.as.Tires[outer].Mate != inner && (p.as.Tires[outer].Mate >= 0 || p.as.Tires[inner].Mate >= 0) {
			return false
		}
	}
	return true
}

// keepsEnds reports whether the treads of the two ends of a steer or drive axle, each
// end's added up, are no further apart in an option than they were found: ends that roll
// differently pull, and wear the differential.
func (p *placer) keepsEnds(g *group, o *option) bool {
	if g.axle < 0 || p.as.Layout.Roles[g.axle] == record.Tag {
		return true
	}
	apart := func(at func(i int) int) weight.Length {
		var d weight.Length
		for i, place := range g.places {
			t := at(i)
			switch {
			case t == noTire:
			case p.as.Tires[place].Position.Side == weight.Left:
				d += p.tread(t)
			default:
				d -= p.tread(t)
			}
		}
		return max(d, -d)
	}
	return apart(func(i int) int { return p.tireOf(o, i) }) <= apart(func(i int) int { return p.found[g.places[i]] })
}

// levels are the treads that any option leaves on its worst tire, rising: those above now
// by more than 1/32 in, which is what a probe shows (common practice).
func (p *placer) levels(worn []weight.Length, now weight.Length) []weight.Length {
	var out []weight.Length
	for gi := range p.groups {
		for i := range p.options[gi] {
			if l, any := p.leftOf(&p.groups[gi], &p.options[gi][i], worn); any && l > now+record.ThirtySecond {
				out = append(out, l)
			}
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// leftOf is what an option leaves on the tire with least; of a carrier, or an axle
// without tires, there is none.
func (p *placer) leftOf(g *group, o *option, worn []weight.Length) (least weight.Length, any bool) {
	if g.axle < 0 {
		return 0, false
	}
	for i, at := range g.places {
		if o.tires[i] == noTire {
			continue
		}
		if d := p.tread(p.tires[o.tires[i]]) - worn[at]; !any || d < least {
			least, any = d, true
		}
	}
	return least, any
}

// wear is how much more tread went at each wheel position than at the one that
// is worn least. It can be told only for tires of one model that nobody
// replaced one by one; that they went on together the visit does not say.
func (p *placer) wear() ([]weight.Length, bool) {
	deepest := weight.Length(0)
	model := ""
	for _, at := range p.tires {
		st := &p.as.Tires[at]
		if st.Position == nil {
			continue
		}
		if st.Model == "" || model != "" && st.Model != model {
			return nil, false
		}
		model = st.Model
		d, _ := st.Line.Tread.Get()
		deepest = max(deepest, d)
	}
	worn := make([]weight.Length, len(p.as.Layout.Wheels))
	for _, at := range p.tires {
		if st := &p.as.Tires[at]; st.Position != nil {
			d, _ := st.Line.Tread.Get()
			worn[at] = deepest - d
		}
	}
	return worn, true
}
