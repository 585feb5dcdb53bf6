package rules

import (
	"cmp"
	"math/bits"
)

// A test is one bound on one measure, ready to be judged.
type test struct {
	relation Relation
	form     testForm
	index    int32  // of the measure among those of its subject
	self     uint64 // the measure's bit among those of the rule

	literal   int64  // testLiteral
	low, high int64  // testLiteral: the counts that keep it, or with IsNot those that do not
	set       uint64 // testSet: a bit for each word, or for no and yes, that keeps it
	share     *share // testShare

	measure *measure
	text    string // the bound as written
}

// A share is a bound of*num/(den*div).
type share struct {
	num, den      int64
	of, div       *measure // div may be nil: 1
	ofBit, divBit uint64
}

type testForm uint8

const (
	testLiteral testForm = iota + 1
	testShare
	testSet
)

// A gate is a condition on a word or a flag, the most frequent kind.
type gate struct {
	index int32
	self  uint64
	set   uint64
}

// A cond is a test or, if any is set, alternatives: one of them must hold.
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

// use is what a test is judged for.
type use uint8

const (
	// asBound: what is breached at some place that the readings may have within
	// their plus/minus, and not at all of them, is too close.
	asBound use = iota
	// asCondition: the rule applies where the condition is kept, so that it is
	// what is kept at some place, and not at all of them, that is too close.
	asCondition
	// asRead: nothing is open, every quantity is what was read.
	asRead
)

// closeOrOpen is the verdict on a condition that is kept at some place within
// the plus/minus, and open at another. It never leaves [Rule.judge].
const closeOrOpen = Breached + 1

// doubt orders the verdicts on conditions: which of several prevails where none
// of them settles it.
var doubt = [...]uint8{Kept: 0, Breached: 0, TooClose: 1, closeOrOpen: 2, NotRecorded: 3}

// judge returns the verdict and, if it is not certain, the bits of the
// measures that could make it so. values are as many as the subject has
// measures.
func (t *test) judge(values []Value, at use) (Verdict, uint64) {
	v := &values[t.index]
	if t.form == testShare {
		return t.judgeShare(v, values, at)
	}
	switch {
	case v.form == formNone:
		return NotRecorded, t.self
	case t.form == testSet:
		if t.set>>uint64(v.low)&1 != 0 {
			return Kept, 0
		}
		return Breached, 0
	case v.open != 0 && at != asRead:
		return t.judgeOpen(v, nil, nil, at)
	}
	switch in, out := v.low >= t.low && v.high <= t.high, v.high < t.low || v.low > t.high; {
	case in == out:
		return TooClose, t.self
	case in == (t.relation != IsNot):
		return Kept, 0
	}
	return Breached, 0
}

func (t *test) judgeShare(v *Value, values []Value, at use) (Verdict, uint64) {
	s := t.share
	of, div := &values[s.of.index], &Value{low: 1, high: 1, form: formPlusMinus}
	if s.div != nil {
		div = &values[s.div.index]
	}
	var missing uint64
	if v.form == formNone {
		missing = t.self
	}
	if of.form == formNone {
		missing |= s.ofBit
	}
	if !div.divides() && (at != asRead || !div.AsRead().divides()) {
		missing |= s.divBit
	}
	if missing != 0 {
		return NotRecorded, missing
	}
	if v.open|of.open|div.open != 0 && at != asRead {
		return t.judgeOpen(v, of, div, at)
	}
	low, high := s.bound(of, div)
	verdict := t.relation.judge(v.low, v.high, low, high)
	if verdict != TooClose {
		return verdict, 0
	}
	var unsure uint64
	if v.low != v.high {
		unsure = t.self
	}
	if of.low != of.high {
		unsure |= s.ofBit
	}
	if div.low != div.high {
		unsure |= s.divBit
	}
	return TooClose, unsure
}

// divides reports whether every value that a recorded divisor may have can
// divide.
func (v Value) divides() bool {
	return v.low >= 1 && v.high <= maxDivisor && v.open&(openBelow|openAbove) == 0
}

// bound returns the least and the greatest that the bound may be.
func (s *share) bound(of, div *Value) (low, high ratio) {
	low, high = ratio{of.low, s.num, s.den}, ratio{of.high, s.num, s.den}
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

// keeps has, for each relation, a bit for each way in which a value that keeps
// it may stand to the bound: below (1), at (2) and above (4).
var keeps = [...]uint8{AtMost: 1 | 2, LessThan: 1, AtLeast: 2 | 4, MoreThan: 4, Is: 2, IsNot: 1 | 4}

// judge holds every value from vl to vh against every bound from low to high.
func (r Relation) judge(vl, vh int64, low, high ratio) Verdict {
	least, most := high.compare(vl), low.compare(vh)
	possible := wayBits(least, most)
	switch possible & keeps[r] {
	case possible:
		return Kept
	case 0:
		return Breached
	}
	return TooClose
}

// all judges conditions that must all hold: Kept means they do, Breached that
// one is false for certain.
func all(conds []cond, values []Value, at use) (Verdict, uint64) {
	worst, unsure := Kept, uint64(0)
	for i := range conds {
		v, u := conds[i].judge(values, at)
		switch {
		case v == Breached:
			return Breached, 0
		case v == worst:
			unsure |= u
		case doubt[v] > doubt[worst]:
			worst, unsure = v, u
		}
	}
	return worst, unsure
}

func (c *cond) judge(values []Value, at use) (Verdict, uint64) {
	if c.any == nil {
		return c.test.judge(values, at)
	}
	best, unsure := Breached, uint64(0)
	for _, alternative := range c.any {
		v, u := all(alternative, values, at)
		switch {
		case v == Kept:
			return Kept, 0
		case v == best:
			unsure |= u
		case doubt[v] > doubt[best]:
			best, unsure = v, u
		}
	}
	return best, unsure
}

// judge returns the verdict and, if it is not certain, the bits of the measures
// that could make it so; applies is false where the rule does not apply.
func (r *Rule) judge(values []Value) (verdict Verdict, unsure uint64, applies bool) {
	if r.passUnrecorded && values[r.bound.index].form == formNone {
		return 0, 0, false
	}
	where, unsure := Kept, uint64(0)
	for i := range r.gates {
		g := &r.gates[i]
		if w := &values[g.index]; w.form == formNone {
			where = NotRecorded
			unsure |= g.self
		} else if g.set>>uint64(w.low)&1 == 0 {
			return 0, 0, false
		}
	}
	if len(r.others) > 0 {
		more, u := all(r.others, values, asCondition)
		switch {
		case more == Breached:
			return 0, 0, false
		case more == where:
			unsure |= u
		case where == Kept:
			where, unsure = more, u
		}
	}
	verdict, u := r.bound.judge(values, asBound)
	switch {
	case where == Kept:
		unsure = u
	case where == NotRecorded:
		if verdict == NotRecorded {
			unsure |= u
		}
		verdict = NotRecorded
	case verdict == Kept && where == closeOrOpen:
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
	return verdict, unsure, true
}

// fill writes a verdict down with what it rests on.
func (r *Rule) fill(into *Finding, name string, values []Value, verdict Verdict, unsure uint64) {
	// Field by field: a whole Finding would be moved under the write barrier.
	into.Rule, into.Name, into.Verdict, into.unsure = r, name, verdict, unsure
	into.Value, into.Of, into.Divisor = values[r.bound.index], Value{}, Value{}
	if s := r.bound.share; s != nil {
		into.Of = values[s.of.index]
		if s.div != nil {
			into.Divisor = values[s.div.index]
		}
	}
	into.asRead, into.open = verdict, false
	if verdict == NotRecorded {
		into.asRead, into.open = r.asRead(values, unsure)
	}
}
