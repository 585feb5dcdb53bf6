package rules

// This file judges quantities that are open: known other than by a reading's
// plus/minus alone. Few are, so that everything else decides without it.

// An end is where what is known of a quantity stops, below or above: from low to
// high, because of the plus/minus. none says that it does not stop.
type end[T any] struct {
	low, high T
	none      bool
}

// ends returns the lower and the upper end of a recorded quantity. Of one that
// was read they are the same: wherever the reading lies within its plus/minus,
// there is the quantity.
func (v *Value) ends() (lower, upper end[int64]) {
	lower = end[int64]{v.low, v.high, v.open&openBelow != 0}
	upper = end[int64]{v.low, v.high, v.open&openAbove != 0}
	if v.open&openWithin != 0 {
		lower.high, upper.low = v.low, v.high
	}
	return lower, upper
}

// ends returns the ends of the bound of*num/(den*div).
func (s *share) ends(of, div *Value) (lower, upper end[ratio]) {
	ofLow, ofHigh := of.ends()
	divLow, divHigh := div.ends()
	// Dividing by more brings a bound nearer to zero.
	down := func(n, few, many int64) ratio {
		if n < 0 {
			return ratio{n, s.num, s.den * few}
		}
		return ratio{n, s.num, s.den * many}
	}
	up := func(n, few, many int64) ratio { return down(n, many, few) }
	lower = end[ratio]{down(ofLow.low, divLow.low, divHigh.high), down(ofLow.high, divLow.high, divHigh.low), ofLow.none}
	upper = end[ratio]{up(ofHigh.low, divLow.high, divHigh.low), up(ofHigh.high, divLow.low, divHigh.high), ofHigh.none}
	return lower, upper
}

// judgeOpen is [test.judge] where the measure, or what its bound is computed
// from, is open. of and div are nil for a literal.
func (t *test) judgeOpen(v, of, div *Value, at use) (Verdict, uint64) {
	n := ratio{t.literal, 1, 1}
	lower, upper := end[ratio]{low: n, high: n}, end[ratio]{low: n, high: n}
	if of != nil {
		lower, upper = t.share.ends(of, div)
	}
	verdict := t.relation.judgeOpen(v, lower, upper, at)
	if verdict == Kept || verdict == Breached {
		return verdict, 0
	}
	var unsure uint64
	mark := func(w *Value, bit uint64) {
		if w != nil && (w.open != 0 || verdict == TooClose && w.low != w.high) {
			unsure |= bit
		}
	}
	mark(v, t.self)
	if of != nil {
		mark(of, t.share.ofBit)
		mark(div, t.share.divBit)
	}
	return verdict, unsure
}

// judgeOpen holds all that a quantity may be against all that the bound may be.
// Where that is undecided, it asks of each place that the readings may have
// within their plus/minus, whether the relation is breached, kept or open there.
func (r Relation) judgeOpen(v *Value, boundLow, boundHigh end[ratio], at use) Verdict {
	low, high := v.ends()
	// How the quantity stands to the bound at the least and at the most, over
	// all places of the readings, and at that place which makes it the nearest.
	least, leastAtBest := -1, -1
	if !low.none && !boundHigh.none {
		least, leastAtBest = boundHigh.high.compare(low.low), boundHigh.low.compare(low.high)
	}
	most, mostAtBest := 1, 1
	if !high.none && !boundLow.none {
		most, mostAtBest = boundLow.low.compare(high.high), boundLow.high.compare(high.low)
	}
	all := wayBits(least, most)
	switch all & keeps[r] {
	case all:
		return Kept
	case 0:
		return Breached
	}
	var kept, breached bool // surely, at some place
	switch {
	case r.upper():
		kept, breached = keeps[r]&wayBits(mostAtBest, mostAtBest) != 0, keeps[r]&wayBits(leastAtBest, leastAtBest) == 0
	case r.lower():
		kept, breached = keeps[r]&wayBits(leastAtBest, leastAtBest) != 0, keeps[r]&wayBits(mostAtBest, mostAtBest) == 0
	default: // no open quantity is surely at one count
		if apart := mostAtBest < 0 || leastAtBest > 0; r == Is {
			breached = apart
		} else {
			kept = apart
		}
	}
	switch {
	case at == asBound && breached:
		return TooClose
	case at == asCondition && kept:
		return closeOrOpen
	}
	return NotRecorded
}

// wayBits are the bits of keeps from one way of standing to a bound to another.
func wayBits(least, most int) uint8 { return uint8(1)<<(most+2) - uint8(1)<<(least+1) }

// asRead judges once more what is not recorded, with every reading taken as
// exact; see [Finding.AsRead] and [Finding.Open].
func (r *Rule) asRead(values []Value, unsure uint64) (verdict Verdict, open bool) {
	open = true
	for i, m := range r.measures {
		v, bit := &values[m.index], uint64(1)<<i
		if unsure&bit != 0 && (v.open == 0 || r.divisors&bit != 0 && !v.AsRead().divides()) {
			open = false
		}
	}
	where, _ := all(r.where, values, asRead)
	bound, _ := r.bound.judge(values, asRead)
	switch {
	case where == Breached || bound == Kept:
		return Kept, open
	case where == NotRecorded || bound == NotRecorded:
		return NotRecorded, false
	case (where == TooClose || bound == TooClose) && !r.closeBreaches:
		return TooClose, open
	}
	return Breached, open
}
