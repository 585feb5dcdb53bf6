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
// has most left. The steer axle never gets less tread than it has.
func (p *placer) rotate(c cost) error {
	rot := Rotation{Reason: "no rule of the packs says from when on a rotation pays"}
	defer func() { p.out.Rotation = record.Record(rot) }()
	spread := p.as.TreadSpread()
	if !spread.Is() {
		rot.Reason = "not every tire on the road was probed"
		return nil
	}
	rot.Spread = spread
	f, err := p.as.Program.Vocabulary().NewFacts(report.CoachLoad.String(), "")
	if err != nil {
		return err
	}
	f.Reset("coach")
	f.Set(p.as.Refs.CoachWear, judge.Value(spread))
	findings, err := p.as.Program.AppendRun(nil, f)
	if err != nil {
		return err
	}
	called := false
	for i := range findings {
		if r := findings[i].Rule; r.Measure() == p.as.Refs.CoachWear {
			rot.Rules = append(rot.Rules, r.Name())
			rot.Sources = r.AppendSources(rot.Sources)
			called = called || findings[i].Verdict == rules.Breached
			rot.Reason = "the treads on the road are alike enough: " + findings[i].ValueText() + " apart, wanted " + findings[i].BoundText()
		}
	}
	if !called {
		return nil
	}
	worn, ok := p.wear()
	if !ok {
		rot.Reason = "the tires on the road are not known to be of one model: what wore faster and what was newer cannot be told apart"
		return nil
	}
	left := func(g *group, o *option) (least weight.Length, any bool) {
		for i, at := range g.places {
			if g.axle < 0 || o.tires[i] == noTire {
				continue
			}
			d, _ := p.as.Tires[p.tires[o.tires[i]]].Line.Tread.Get() // none is never good
			if d -= worn[at]; !any || d < least {
				least, any = d, true
			}
		}
		return least, any
	}
	var levels []weight.Length
	now := weight.Length(0)
	for gi := range p.groups {
		for i := range p.options[gi] {
			if l, any := left(&p.groups[gi], &p.options[gi][i]); any {
				levels = append(levels, l)
			}
		}
	}
	for at, w := range worn {
		d, _ := p.as.Tires[at].Line.Tread.Get()
		if d -= w; at == 0 || d < now {
			now = d
		}
	}
	steer := weight.Length(0) // its least tread, below zero as in a cost
	for i, at := range p.groups[0].places {
		if d, _ := p.as.Tires[at].Line.Tread.Get(); i == 0 || -d > steer {
			steer = -d
		}
	}
	slices.Sort(levels)
	levels = slices.Compact(levels)
	// The highest level that keeps the rules as well; below it all do.
	var best arrangement
	reached := now
	for low, high := 0, len(levels)-1; low <= high; {
		mid := (low + high) / 2
		a, d, err := p.choose(func(g *group, o *option) bool {
			l, any := left(g, o)
			return !any || l >= levels[mid] && (g.axle != 0 || o.cost.low <= steer)
		})
		if err != nil {
			return err
		}
		if !d.sameRules(c) {
			high = mid - 1
			continue
		}
		best, reached = a, levels[mid]
		low = mid + 1
	}
	rot.Least = record.Record(now)
	if best == nil || reached <= now {
		rot.Reason = "no exchange of places leaves more tread on the most worn tire without breaking a rule or taking tread off the steer axle"
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
