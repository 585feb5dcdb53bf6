package placement

import (
	"slices"

	"axleend.example/internal/judge"
	"axleend.example/rules"
	"axleend.example/weight"
)

// findOverloads finds the tires that carried more than they are stamped for, and the
// axles from which load has to come off before anybody buys a tire for them: a rating of
// the axle is broken, and a tire there carries more than any tire at hand of its size and
// load range is stamped for, so that a stronger tire of that size and range is not to be
// had, and would leave the axle over its rating (common practice).
func (b *bench) findOverloads() {
	b.overloaded, b.loadFirst = make([]bool, len(b.as.Tires)), make([]bool, len(b.as.Visit.Axles))
	for axle := range b.as.Visit.Axles {
		if b.as.Visit.Axles[axle].Towed {
			continue
		}
		whole, most := b.overWhole(axle), weight.Mass(0)
		beyond, stamped := false, true
		for i := b.as.Layout.First[axle]; i < b.as.Layout.First[axle+1]; i++ {
			one := b.strongestLike(i)
			most, stamped = most+one, stamped && one > 0
			beyond = beyond || one > 0 && b.loads[i].Known() && b.loads[i].AtLeast() > one
			b.overloaded[i] = whole || b.broke(b.as.Tires[i].Name, func(r *rules.Rule) bool {
				return r.Measure() == b.as.Refs.Load && r.Uses(b.as.Refs.Capacity)
			})
		}
		if whole && stamped {
			line := b.as.Report.Load(b.as.Visit.Axles[axle].ID)
			beyond = beyond || line != nil && line.Estimate.Known() && line.Estimate.AtLeast() > most
		}
		b.loadFirst[axle] = beyond && len(b.overRating(axle)) > 0
	}
}

// overWhole reports whether an axle that was weighed whole carries more than all its tires
// are stamped for together: at least one of them does, and nobody knows which.
func (b *bench) overWhole(axle int) bool {
	return b.broke(b.as.Visit.Axles[axle].ID, func(r *rules.Rule) bool {
		return r.Measure() != b.as.Refs.AxleFit && b.as.Refs.OfLoadCarried(r)
	})
}

// broke reports whether a rule of some kind that forbids an arrangement is broken as the
// coach was found.
func (b *bench) broke(name string, of func(*rules.Rule) bool) bool {
	return slices.ContainsFunc(b.as.Findings, func(f rules.Finding) bool {
		return f.Name == name && f.Verdict == rules.Breached && b.hard(f.Rule) && of(f.Rule)
	})
}

// strongestLike is the most that a tire at hand of the same size and load range as the
// one on a place is stamped for there; 0 where none was read.
func (b *bench) strongestLike(place int) (most weight.Mass) {
	own := &b.as.Tires[place]
	dual := b.as.Visit.Axles[own.AxleIndex].Fitment == weight.Dual
	for _, t := range b.tires {
		st := &b.as.Tires[t]
		if !judge.SameSize(st.Size, own.Size) || st.Options.LoadRange != own.Options.LoadRange {
			continue
		}
		stamp := st.Single
		if dual {
			stamp = st.Dual
		}
		if s, ok := stamp.Get(); ok {
			most = max(most, s.Load)
		}
	}
	return most
}

// overRating are the breached rules that hold the load of an axle, or of one of its ends,
// against a rating of the axle.
func (b *bench) overRating(axle int) (out []rules.Finding) {
	ends := b.as.Layout.EndNames[axle]
	for i := range b.as.Findings {
		f := &b.as.Findings[i]
		if f.Verdict == rules.Breached && b.as.Refs.OfAxleRating(f.Rule) && b.hard(f.Rule) &&
			(f.Name == b.as.Visit.Axles[axle].ID || slices.Contains(ends[:], f.Name)) {
			out = append(out, *f)
		}
	}
	return out
}

// waits reports whether a finding on an axle is about a load that has to come off first.
func (b *bench) waits(f *rules.Finding, axle int) bool {
	return axle >= 0 && b.loadFirst[axle] && !b.asFound && b.as.Refs.OfLoadCarried(f.Rule)
}

// sayLoadFirst lists what has to be put right by taking load off.
func (p *placer) sayLoadFirst() {
	var all []rules.Finding
	for axle, first := range p.loadFirst {
		if first {
			all = append(all, p.overRating(axle)...)
		}
	}
	p.out.LoadFirst = p.items(all)
}
