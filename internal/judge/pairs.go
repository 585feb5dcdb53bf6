package judge

import (
	"axleend.example/dotcode"
	"axleend.example/inspect/record"
	"axleend.example/inspect/report"
	"axleend.example/rules"
	"axleend.example/weight"
)

// Circumference over diameter, enclosed by two fractions.
const (
	piNum, piDen       = 355, 113 // above pi
	piLowNum, piLowDen = 333, 106 // below pi
)

// newPair gathers what is known of a pair, and what the page says of it.
func (a *Assessment) newPair(outer, inner *TireState, name string) *pairOf {
	p := &pairOf{outer: outer, inner: inner, line: report.PairLine{Name: name}, choice: InsideOf(outer, inner)}
	line := &p.line
	if to, ti, ok := record.Both(outer.Line.Tread, inner.Line.Tread); ok {
		line.TreadDifference, line.DeeperInside = record.Record(AbsDiff(to, ti)), record.Record(ti > to)
	}
	if po, pi, ok := record.Both(outer.cold(), inner.cold()); ok {
		line.FoundDifference = record.Record(a.written(AbsDiff(po, pi)))
	}
	if po, pi, ok := record.Both(outer.coldLeft(), inner.coldLeft()); ok {
		line.LeftAtDifference = record.Record(a.written(AbsDiff(po, pi)))
	}
	a.alone(outer, inner, line)
	line.Inside, line.InsideBy = p.choice.Inside, p.choice.Words()
	return p
}

// deeperInside says whether the deeper tire runs inside, where tread decides that.
func (p *pairOf) deeperInside() rules.Value {
	switch p.choice.by {
	case byTread, alike:
		return Flag(p.line.DeeperInside)
	case bySize, twoModels, sizesDisagree:
		return yesNo(false)
	}
	return rules.Value{}
}

func (p *pairOf) largerInside() rules.Value {
	if p.choice.by == sizesDisagree {
		return rules.Value{}
	}
	if do, di, ok := record.Both(p.outer.Diameter, p.inner.Diameter); ok && do != di {
		return yesNo(di > do)
	}
	if co, ci, ok := record.Both(p.outer.Circumference, p.inner.Circumference); ok {
		return yesNo(ci > co)
	}
	if p.outer.Diameter.Is() && p.inner.Diameter.Is() {
		return yesNo(false)
	}
	return rules.Value{}
}

// size is the outside diameter of a tire, from its circumference where no diameter
// was measured: between two fractions that enclose pi.
func (st *TireState) size() (low, high weight.Length, ok bool) {
	if d, ok := st.Diameter.Get(); ok {
		return d, d, true
	}
	c, ok := st.Circumference.Get()
	if !ok {
		return 0, 0, false
	}
	low, err1 := c.MulDiv(piDen, piNum, weight.Floor)
	high, err2 := c.MulDiv(piLowDen, piLowNum, weight.Ceiling)
	return low, high, err1 == nil && err2 == nil
}

// diameter is the smaller outside diameter, which has the stricter band where the
// two straddle one.
func (p *pairOf) diameter() rules.Value {
	ol, oh, ok1 := p.outer.size()
	il, ih, ok2 := p.inner.size()
	if !ok1 || !ok2 {
		return rules.Value{}
	}
	return rules.Between(min(ol, il), min(oh, ih))
}

// diameterDifference is how far the outside diameters are apart. Where of both only
// the circumference was measured, that is judged as it is.
func (p *pairOf) diameterDifference() rules.Value {
	ol, oh, ok1 := p.outer.size()
	il, ih, ok2 := p.inner.size()
	if !ok1 || !ok2 || !p.outer.Diameter.Is() && !p.inner.Diameter.Is() {
		return rules.Value{}
	}
	low := max(0, ol-ih, il-oh)
	return rules.Between(low, max(oh-il, ih-ol))
}

// circumferenceDifference is how far the circumferences are apart, where both were
// measured.
func (p *pairOf) circumferenceDifference() rules.Value {
	x, y, ok := record.Both(p.outer.Circumference, p.inner.Circumference)
	if !ok {
		return rules.Value{}
	}
	return rules.Quantity(AbsDiff(x, y))
}

// measured reports whether both were measured, across or around.
func (p *pairOf) measured() bool {
	return (p.outer.Diameter.Is() || p.outer.Circumference.Is()) && (p.inner.Diameter.Is() || p.inner.Circumference.Is())
}

// twoMakes says whether the two are of two models, or one of them was retreaded.
func (p *pairOf) twoMakes() rules.Value {
	x, y := p.outer, p.inner
	rx, ry := record.Yes(x.Retread), record.Yes(y.Retread)
	switch {
	case rx != ry && x.Retread.Is() && y.Retread.Is():
		return yesNo(true)
	case x.Model == "" || y.Model == "":
		return rules.Value{}
	}
	return yesNo(x.Model != y.Model)
}

// facingSeen says whether the sidewalls between the duals were looked at.
func (p *pairOf) facingSeen() rules.Value {
	looked := func(st *TireState, facing record.Sidewalls) (bool, bool) {
		at, ok := st.Sidewalls.Get()
		if !ok {
			return false, st.Seen.Is()
		}
		return at == record.BothSidewalls || at == facing, true
	}
	// The outer tire's inner sidewall faces the inner tire's outer one.
	x, ok1 := looked(p.outer, record.InnerSidewall)
	y, ok2 := looked(p.inner, record.OuterSidewall)
	switch {
	case x && y:
		return yesNo(true)
	case ok1 && ok2 && (p.outer.Sidewalls.Is() || p.inner.Sidewalls.Is()):
		return yesNo(false)
	}
	return rules.Value{}
}

// weighedPair is a load of a pair of which each tire was weighed by itself.
func (a *Assessment) weighedPair(p *pairOf, e weight.Estimate) rules.Value {
	if !a.ByWheel || !a.Solution.Of(p.outer.Position.Set).Known() || !a.Solution.Of(p.inner.Position.Set).Known() {
		return rules.Value{}
	}
	return loadValue(e)
}

func (a *Assessment) heavierOfPair(p *pairOf) rules.Value {
	if !a.ByWheel {
		return rules.Value{}
	}
	x, y := a.Solution.Of(p.outer.Position.Set), a.Solution.Of(p.inner.Position.Set)
	if !x.Known() || !y.Known() {
		return rules.Value{}
	}
	return heavierOf(x, y)
}

// heavierOf is the load of the heavier of two.
func heavierOf(x, y weight.Estimate) rules.Value {
	if x.Load < y.Load {
		x, y = y, x
	}
	low, high := max(x.AtLeast(), y.AtLeast()), max(x.AtMost(), y.AtMost())
	if low != x.AtLeast() || high != x.AtMost() {
		return rules.Between(low, high)
	}
	return loadValue(x)
}

// alone says what either tire of a pair carries with its mate off the ground:
// on a block that is too short, or beside a flat.
func (a *Assessment) alone(outer, inner *TireState, line *report.PairLine) {
	end := a.endLoad(outer.AxleIndex, outer.Position.Side)
	rated, other, ok := record.Both(a.Stamped(outer), a.Stamped(inner))
	if !ok || !end.Known() {
		return
	}
	rated = min(rated, other)
	percent, err := end.Load.MulDiv(100, int64(rated), weight.Ceiling)
	if err != nil {
		return
	}
	line.AloneLoad, line.AloneRating, line.AlonePercent = end.Load, rated, int(percent)
}

// madeApart is how far apart two tires can have been made: at least from the
// latest day of the older one to the earliest of the other, at most from the
// earliest to the latest of all.
func madeApart(a, b dotcode.Age) rules.Value {
	if b.Oldest.Before(a.Oldest) {
		a, b = b, a
	}
	latest := a.Youngest
	if latest.Before(b.Youngest) {
		latest = b.Youngest
	}
	return rules.Between(ageSteps(dotcode.Between(a.Youngest, b.Oldest)), ageSteps(dotcode.Between(a.Oldest, latest)))
}
