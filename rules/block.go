package rules

import (
	"math/bits"
	"slices"
)

// A block is up to 64 rules on one subject, each of them a bit in sets, and
// what tells of all of them together, by one look at each measure, which do not
// apply and which are kept. Mostly that is nearly all.
type block struct {
	rules  []probe
	all    uint64
	single uint64 // those that a look at one measure after the other does not tell
	either uint64 // those of which it tells if it meets one alternative
	words  []wordLook
	told   []told // of words and flags, by what was recorded
	// Flags of which no tells nothing are looked at where they are not no: a
	// bit for each, and its look, by the index of the measure.
	flags    []uint64
	flagLook []wordLook
	spans    []spanLook
	shares   []shareLook
	on       []uint64 // the rules on a measure, by its index
}

const blockSize = 64

// told are the rules of which a look tells that they do not apply, those that
// stay open: neither that nor kept, as far as this measure decides; and those of
// whose alternatives it meets one.
type told struct{ idle, open, met uint64 }

// A wordLook is at a word or a flag: told[first] where it was not recorded, and
// behind that what its words tell, or no and yes.
type wordLook struct {
	index, first int32
	flag         bool
}

// A spanLook is at a quantity: from low to high it keeps the literal bounds of
// all the rules in of.
type spanLook struct {
	low, high int64
	none      told // where it was not recorded
	of        uint64
	index     int32
}

// A shareLook is at a quantity and what it is held against, once for all the
// rules that hold it so.
type shareLook struct {
	test  *test
	none  told
	of    uint64
	index int32
}

// blocks makes the blocks of a subject's rules.
func blocks(rules []probe, measures int) []block {
	var out []block
	for part := range slices.Chunk(rules, blockSize) {
		b := block{rules: part, on: make([]uint64, measures)}
		for i := range part {
			b.add(part[i].Rule, uint64(1)<<i)
		}
		b.split(measures)
		out = append(out, b)
	}
	return out
}

// split takes the flags of which no tells nothing out of the words.
func (b *block) split(measures int) {
	b.flags, b.flagLook = make([]uint64, bitWords(measures)), make([]wordLook, measures)
	b.words = slices.DeleteFunc(b.words, func(w wordLook) bool {
		quiet := w.flag && b.told[w.first+1] == (told{})
		if quiet {
			b.flags[w.index/64] |= 1 << (w.index % 64)
			b.flagLook[w.index] = w
		}
		return quiet
	})
}

func (b *block) add(r *Rule, bit uint64) {
	b.all |= bit
	b.on[r.bound.index] |= bit
	switch {
	case len(r.others) == 1 && r.others[0].any != nil:
		b.either |= bit
		for _, a := range r.others[0].any {
			if len(a) == 1 && a[0].form == testSet {
				b.word(&a[0].test, told{}, told{met: bit}, told{})
			}
		}
	case len(r.others) > 0:
		b.single |= bit
	}
	for _, w := range r.where {
		if w.any == nil && w.form == testSet {
			b.word(&w.test, told{open: bit}, told{}, told{idle: bit})
		}
	}
	none := told{open: bit}
	if r.passUnrecorded {
		none = told{idle: bit}
	}
	switch t := &r.bound; {
	case t.form == testSet:
		b.word(t, none, told{}, told{open: bit})
	case t.form == testShare:
		b.share(t, bit, none)
	case t.relation == IsNot:
		b.single |= bit
	default:
		b.span(t, bit, none)
	}
}

func (t *told) add(u told) { t.idle, t.open, t.met = t.idle|u.idle, t.open|u.open, t.met|u.met }

// word adds what a word or a flag tells of a rule: none where it was not
// recorded, in where it is in the set, else out.
func (b *block) word(t *test, none, in, out told) {
	i := slices.IndexFunc(b.words, func(w wordLook) bool { return w.index == t.index })
	words := len(t.measure.Words)
	if t.measure.kind == kindFlag {
		words = len(yesNo())
	}
	if i < 0 {
		i = len(b.words)
		b.words = append(b.words, wordLook{t.index, int32(len(b.told)), t.measure.kind == kindFlag})
		b.told = append(b.told, make([]told, 1+words)...)
	}
	at := b.told[b.words[i].first:][:1+words]
	at[0].add(none)
	for w := range words {
		if t.set>>uint(w)&1 != 0 {
			at[1+w].add(in)
		} else {
			at[1+w].add(out)
		}
	}
}

func (b *block) span(t *test, bit uint64, none told) {
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

func (b *block) share(t *test, bit uint64, none told) {
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

// tell returns what a look at a word or a flag tells.
func (b *block) tell(w wordLook, values []Value) *told {
	at := int64(w.first)
	if v := &values[w.index]; v.form != formNone {
		at += 1 + v.low
	}
	return &b.told[at]
}

// keeps reports whether a recorded value surely keeps a bound that no measure
// divides: no where that takes a closer look.
func (t *test) keeps(v *Value, values []Value) bool {
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

// look returns the rules that do not apply, and of the others those that are to
// be judged one by one; the rest is kept. no has a bit for each flag that is no.
func (b *block) look(values []Value, no []uint64) (idle, open uint64) {
	var met uint64
	open = b.single
	for _, w := range b.words {
		t := b.tell(w, values)
		idle |= t.idle
		open |= t.open
		met |= t.met
	}
	for i, odd := range b.flags {
		if i < len(no) {
			odd &^= no[i]
		}
		for ; odd != 0; odd &= odd - 1 {
			t := b.tell(b.flagLook[64*i+bits.TrailingZeros64(odd)], values)
			idle |= t.idle
			open |= t.open
			met |= t.met
		}
	}
	open |= b.either &^ met
	for i := range b.spans {
		s := &b.spans[i]
		switch v := &values[s.index]; {
		case v.form == formNone:
			idle |= s.none.idle
			open |= s.none.open
		case v.low < s.low || v.high > s.high || v.open != 0:
			open |= s.of
		}
	}
	for i := range b.shares {
		s := &b.shares[i]
		if s.of&^(idle|open) == 0 {
			continue
		}
		switch v := &values[s.index]; {
		case v.form == formNone:
			idle |= s.none.idle
			open |= s.none.open
		case !s.test.keeps(v, values):
			if v, _ := s.test.judgeShare(v, values, asBound); v != Kept {
				open |= s.of
			}
		}
	}
	return idle, open &^ idle
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
