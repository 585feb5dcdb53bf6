package rules

import (
	"math/bits"
	"slices"
)

// This file judges all the rules on a subject together, where most of them are
// kept or do not apply: an assessment of a sound coach takes half the
// instructions that it takes one rule after the other (BenchmarkAssessTenTires in
// inspect: 220,000 for 456,000). [Program.AppendRun] is the plain way, and the
// tests hold the two to the same findings.

// blocks are the rules on one kind of subject, in their order.
type blocks []block

// notKept appends the findings whose verdict is not Kept and those on the
// measures in also, and counts the kept ones. values are as many as the subject
// has measures.
func (bs blocks) notKept(dst []Finding, name string, values []Value, also []MeasureRef) ([]Finding, int) {
	kept := 0
	for i := range bs {
		b := &bs[i]
		out, open := b.settle(values)
		sure, asked := b.all&^(out|open), uint64(0)
		kept += bits.OnesCount64(sure)
		for _, m := range also {
			asked |= b.about(m) &^ out
		}
		for todo := open | asked; todo != 0; todo &= todo - 1 {
			k := bits.TrailingZeros64(todo)
			r, verdict, unsure := b.rules[k], Kept, uint64(0)
			if sure>>k&1 == 0 {
				var applies bool
				if verdict, unsure, applies = r.judge(values); !applies {
					continue
				}
				if verdict == Kept {
					kept++
				}
			}
			if verdict == Kept && asked>>k&1 == 0 {
				continue
			}
			dst = slices.Grow(dst, 1)
			dst = dst[:len(dst)+1]
			r.fill(&dst[len(dst)-1], name, values, verdict, unsure)
		}
	}
	return dst, kept
}

// A block is up to 64 rules, each a bit in sets. Each recorded value is looked
// at once, for all the rules that speak of it.
type block struct {
	rules  []*Rule
	all    uint64
	single uint64 // the rules that have to be judged one by one in any case
	either uint64 // those with alternatives, to be judged unless one is met
	words  []wordLook
	flags  []wordLook // those that settle something only where they are not no
	known  []settled  // what the words and flags settle
	spans  []spanLook
	shares []shareLook
	on     []uint64 // the rules on a measure, by its index
}

const blockSize = 64

// settled is what one recorded value settles: out are the rules that do not
// apply, open those that have to be judged one by one, met those that have an
// alternative that holds.
type settled struct{ out, open, met uint64 }

func (s *settled) add(t settled) { s.out, s.open, s.met = s.out|t.out, s.open|t.open, s.met|t.met }

// A wordLook is at a word or a flag. What it settles stands in the block's known
// from first on: where it was not recorded, then for each of its words, or for
// no and yes.
type wordLook struct {
	index, first int32
	flag         bool
}

// A spanLook is at a quantity: a value from low to high keeps the literal bounds
// of all the rules in of.
type spanLook struct {
	low, high int64
	none      settled // where it was not recorded
	of        uint64
	index     int32
}

// A shareLook is at a quantity and the share that the rules in of hold it
// against.
type shareLook struct {
	test  *test
	none  settled // where it was not recorded
	of    uint64
	index int32
}

// newBlocks makes the blocks of the rules on a subject with that many measures.
func newBlocks(rules []*Rule, measures int) blocks {
	var out blocks
	for part := range slices.Chunk(rules, blockSize) {
		b := block{rules: part, on: make([]uint64, measures)}
		for i, r := range part {
			b.add(r, uint64(1)<<i)
		}
		b.words = slices.DeleteFunc(b.words, func(w wordLook) bool {
			quiet := w.flag && b.known[w.first+1] == (settled{})
			if quiet {
				b.flags = append(b.flags, w)
			}
			return quiet
		})
		out = append(out, b)
	}
	return out
}

// add takes a rule in as bit.
func (b *block) add(r *Rule, bit uint64) {
	b.all |= bit
	b.on[r.bound.index] |= bit
	switch {
	case len(r.others) == 1 && r.others[0].any != nil:
		b.either |= bit
		for _, a := range r.others[0].any {
			if len(a) == 1 && a[0].form == testSet {
				b.word(&a[0].test, settled{}, settled{met: bit}, settled{})
			}
		}
	case len(r.others) > 0:
		b.single |= bit
	}
	for _, w := range r.where {
		if w.any == nil && w.form == testSet {
			b.word(&w.test, settled{open: bit}, settled{}, settled{out: bit})
		}
	}
	none := settled{open: bit}
	if r.passUnrecorded {
		none = settled{out: bit}
	}
	switch t := &r.bound; {
	case t.form == testSet:
		b.word(t, none, settled{}, settled{open: bit})
	case t.form == testShare:
		b.share(t, bit, none)
	case t.relation == IsNot:
		b.single |= bit
	default:
		b.span(t, bit, none)
	}
}

// word adds what a test of a word or a flag settles: where nothing was recorded,
// where the word is one that keeps the test, and where it is another.
func (b *block) word(t *test, none, in, other settled) {
	i := slices.IndexFunc(b.words, func(w wordLook) bool { return w.index == t.index })
	words := len(t.measure.Words)
	if t.measure.kind == kindFlag {
		words = len(yesNo())
	}
	if i < 0 {
		i = len(b.words)
		b.words = append(b.words, wordLook{t.index, int32(len(b.known)), t.measure.kind == kindFlag})
		b.known = append(b.known, make([]settled, 1+words)...)
	}
	at := b.known[b.words[i].first:][:1+words]
	at[0].add(none)
	for w := range words {
		if t.set>>uint(w)&1 != 0 {
			at[1+w].add(in)
		} else {
			at[1+w].add(other)
		}
	}
}

func (b *block) span(t *test, bit uint64, none settled) {
	i := slices.IndexFunc(b.spans, func(s spanLook) bool { return s.index == t.index })
	if i < 0 {
		i = len(b.spans)
		b.spans = append(b.spans, spanLook{index: t.index, low: t.low, high: t.high})
	}
	s := &b.spans[i]
	s.low, s.high = max(s.low, t.low), min(s.high, t.high)
	s.none.add(none)
	s.of |= bit
}

func (b *block) share(t *test, bit uint64, none settled) {
	i := slices.IndexFunc(b.shares, func(s shareLook) bool { return s.test.alike(t) })
	if i < 0 {
		i = len(b.shares)
		b.shares = append(b.shares, shareLook{test: t, index: t.index})
	}
	s := &b.shares[i]
	s.none.add(none)
	s.of |= bit
}

// alike reports whether two tests on shares are the same.
func (t *test) alike(u *test) bool {
	s, v := t.share, u.share
	return t.index == u.index && t.relation == u.relation && s.num == v.num && s.den == v.den && s.of == v.of && s.div == v.div
}

// surelyKept reports whether a recorded value keeps a share, as far as that
// costs little to tell: no where it takes a closer look.
func (t *test) surelyKept(v *Value, values []Value) bool {
	s := t.share
	of := &values[s.of.index]
	if s.div != nil || of.form == formNone || of.open|v.open != 0 {
		return false
	}
	low, high := ratio{of.low, s.num, s.den}, ratio{of.high, s.num, s.den}
	switch t.relation {
	case AtMost:
		return low.compare(v.high) <= 0
	case LessThan:
		return low.compare(v.high) < 0
	case AtLeast:
		return high.compare(v.low) >= 0
	case MoreThan:
		return high.compare(v.low) > 0
	}
	return false
}

// settle returns the rules that do not apply and, of the others, those that are
// to be judged one by one. The rest is kept.
func (b *block) settle(values []Value) (out, open uint64) {
	s := settled{open: b.single}
	for i := range b.words {
		w := &b.words[i]
		at := w.first
		if v := &values[w.index]; v.form != formNone {
			at += 1 + int32(v.low)
		}
		s.add(b.known[at])
	}
	for _, w := range b.flags {
		switch v := &values[w.index]; {
		case v.form == formNone:
			s.add(b.known[w.first])
		case v.low != 0:
			s.add(b.known[w.first+2])
		}
	}
	s.open |= b.either &^ s.met
	for i := range b.spans {
		look := &b.spans[i]
		switch v := &values[look.index]; {
		case v.form == formNone:
			s.add(look.none)
		case v.low < look.low || v.high > look.high || v.open != 0:
			s.open |= look.of
		}
	}
	for i := range b.shares {
		look := &b.shares[i]
		if look.of&^(s.out|s.open) == 0 {
			continue
		}
		switch v := &values[look.index]; {
		case v.form == formNone:
			s.add(look.none)
		case !look.test.surelyKept(v, values):
			if v, _ := look.test.judgeShare(v, values, asBound); v != Kept {
				s.open |= look.of
			}
		}
	}
	return s.out, s.open &^ s.out
}

// about returns the rules on a measure.
func (b *block) about(m MeasureRef) uint64 {
	if m.m == nil || int(m.index) >= len(b.on) {
		return 0
	}
	on := b.on[m.index]
	if on != 0 && b.rules[bits.TrailingZeros64(on)].bound.measure != m.m {
		return 0 // a measure of another subject
	}
	return on
}
