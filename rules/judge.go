package rules

import (
	"cmp"
	"math/bits"
)

// A test is one bound on one measure, ready to be judged.
type test struct {
	measure  *measure
	relation Relation
	form     testForm

	literal int64  // testLiteral
	set     uint64 // testSet: a bit for each word, or for no and yes, that keeps it

	// testShare: the bound is of*num/(den*div).
	of, div  *measure
	num, den int64

	self, ofBit, divBit uint64 // the measures' bits among those of the rule

	text string // the bound as written
}

type testForm uint8

const (
	testLiteral testForm = iota + 1
	testShare
	testSet
)

// A cond is a test or, if any is set, alternatives of which one must hold.
type cond struct {
	test
	any [][]cond
}

// maxDivisor keeps what a divisor takes part in within 64 bits.
const maxDivisor = 1_000_000

// A ratio is n*num/den with num and den above zero.
type ratio struct{ n, num, den int64 }

// compare orders the whole number v and r exactly: v*den against n*num, in
// 128 bits.
func (r ratio) compare(v int64) int {
	if r.num == r.den {
		return cmp.Compare(v, r.n)
	}
	if (v < 0) != (r.n < 0) {
		return cmp.Compare(v, r.n)
	}
	ah, al := bits.Mul64(magnitude(v), uint64(r.den))
	bh, bl := bits.Mul64(magnitude(r.n), uint64(r.num))
	c := cmp.Compare(ah, bh)
	if c == 0 {
		c = cmp.Compare(al, bl)
	}
	if v < 0 {
		return -c
	}
	return c
}

func magnitude(v int64) uint64 {
	if v < 0 {
		return -uint64(v)
	}
	return uint64(v)
}

func at(values []Value, m *measure) Value {
	// Facts of a vocabulary that was extended later are shorter.
	if m.index >= len(values) {
		return Value{}
	}
	return values[m.index]
}

// judge returns the verdict and, if it is not certain, the bits of the
// measures that could make it so.
func (t *test) judge(values []Value) (Verdict, uint64) {
	v := at(values, t.measure)
	if t.form == testSet {
		switch {
		case v.form == formNone:
			return NotRecorded, t.self
		case t.set>>uint64(v.low)&1 != 0:
			return Kept, 0
		}
		return Breached, 0
	}
	low, high := ratio{t.literal, 1, 1}, ratio{t.literal, 1, 1}
	unsure := t.self
	if t.form == testShare {
		of, div := at(values, t.of), Value{1, 1, formPlusMinus}
		if t.div != nil {
			div = at(values, t.div)
		}
		var missing uint64
		if of.form == formNone {
			missing = t.ofBit
		}
		if div.form == formNone || div.low < 1 || div.high > maxDivisor {
			missing |= t.divBit
		}
		if v.form == formNone {
			missing |= t.self
		}
		if missing != 0 {
			return NotRecorded, missing
		}
		low, high = t.bound(of, div)
		if of.low != of.high {
			unsure |= t.ofBit
		}
		if div.low != div.high {
			unsure |= t.divBit
		}
		if v.low == v.high {
			unsure &^= t.self
		}
	} else if v.form == formNone {
		return NotRecorded, t.self
	}
	if verdict := t.relation.judge(v.low, v.high, low, high); verdict != TooClose {
		return verdict, 0
	}
	return TooClose, unsure
}

// bound returns the least and the greatest that the bound may be.
func (t *test) bound(of, div Value) (low, high ratio) {
	low, high = ratio{of.low, t.num, t.den}, ratio{of.high, t.num, t.den}
	// Dividing by more brings a bound nearer to zero.
	if of.low < 0 {
		low.den *= div.low
	} else {
		low.den *= div.high
	}
	if of.high < 0 {
		high.den *= div.high
	} else {
		high.den *= div.low
	}
	return low, high
}

// judge holds every value from vl to vh against every bound from low to high.
func (r Relation) judge(vl, vh int64, low, high ratio) Verdict {
	var kept, breached bool
	switch r {
	case AtMost:
		kept, breached = low.compare(vh) <= 0, high.compare(vl) > 0
	case LessThan:
		kept, breached = low.compare(vh) < 0, high.compare(vl) >= 0
	case AtLeast:
		kept, breached = high.compare(vl) >= 0, low.compare(vh) < 0
	case MoreThan:
		kept, breached = high.compare(vl) > 0, low.compare(vh) <= 0
	default:
		kept = high.compare(vl) >= 0 && low.compare(vh) <= 0
		breached = high.compare(vl) > 0 || low.compare(vh) < 0
		if r == IsNot {
			kept, breached = breached, kept
		}
	}
	switch {
	case kept:
		return Kept
	case breached:
		return Breached
	}
	return TooClose
}

// all judges conditions that must all hold: Kept means they do, Breached that
// one is false for certain.
func all(conds []cond, values []Value) (Verdict, uint64) {
	worst, unsure := Kept, uint64(0)
	for i := range conds {
		v, u := conds[i].judge(values)
		switch {
		case v == Breached:
			return Breached, 0
		case v == worst:
			unsure |= u
		case worst == Kept || v == NotRecorded:
			worst, unsure = v, u
		}
	}
	return worst, unsure
}

func (c *cond) judge(values []Value) (Verdict, uint64) {
	if c.any == nil {
		return c.test.judge(values)
	}
	best, unsure := Breached, uint64(0)
	for _, alternative := range c.any {
		v, u := all(alternative, values)
		switch {
		case v == Kept:
			return Kept, 0
		case v == best:
			unsure |= u
		case best == Breached || v == NotRecorded:
			best, unsure = v, u
		}
	}
	return best, unsure
}

// judge writes the finding, or reports false if the rule does not apply.
func (r *Rule) judge(values []Value, name string, into *Finding) bool {
	v := at(values, r.bound.measure)
	if r.passUnrecorded && v.form == formNone {
		return false
	}
	applies, unsure := Kept, uint64(0)
	if len(r.where) > 0 {
		if applies, unsure = all(r.where, values); applies == Breached {
			return false
		}
	}
	verdict, u := r.bound.judge(values)
	switch {
	case applies == Kept:
		unsure = u
	case applies == NotRecorded:
		if verdict == NotRecorded {
			unsure |= u
		}
		verdict = NotRecorded
	case verdict == Kept:
		unsure = 0
	case verdict == NotRecorded:
		unsure = u
	default: // too close to say whether it applies
		verdict, unsure = TooClose, unsure|u
	}
	if verdict == TooClose && r.closeBreaches {
		verdict = Breached
	}
	into.Rule, into.Name, into.Verdict, into.Value, into.unsure = r, name, verdict, v, unsure
	if r.bound.of != nil {
		into.Of = at(values, r.bound.of)
		if r.bound.div != nil {
			into.Divisor = at(values, r.bound.div)
		}
	}
	return true
}
