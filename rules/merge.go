package rules

import (
	"cmp"
	"hash/maphash"
	"math/bits"
	"slices"

	"axleend.example/rules/origin"
)

// A Judgment is what all rules that limit one measure of one subject in the same
// direction say.
type Judgment struct {
	Verdict  Verdict   // the worst of the findings
	Findings []Finding // those with this verdict first; among each verdict's, those that are asked, then tighter bounds
}

type direction uint8

const (
	upward direction = iota
	downward
	same
	other
)

func (t *test) direction() direction {
	switch {
	case t.relation.upper():
		return upward
	case t.relation.lower():
		return downward
	case t.relation == Is:
		return same
	}
	return other
}

// Merge brings together the findings with the same subject, measure and
// direction, in the order in which each first comes: at_most and less_than are
// one direction, at_least and more_than another; is and is_not are together
// only where the bound is the same. Two findings are on the same subject if its
// kind and the facts' names are the same.
func Merge(findings []Finding) []Judgment {
	if len(findings) == 0 {
		return nil
	}
	// A hash table of our own with open addressing: a map with such wide keys
	// costs more than all the rest. It is seeded, so that nobody can choose names
	// that make it slow.
	size := 1 << bits.Len(uint(2*len(findings)))
	table := make([]int32, size) // 1 and the group
	seed := maphash.MakeSeed()
	group := make([]int32, len(findings))
	heads := make([]groupHead, 0, len(findings))
	for i := range findings {
		f := &findings[i]
		t := &f.Rule.bound
		mix := uint64(t.index) ^ t.set
		if t.relation == Is || t.relation == IsNot {
			mix ^= uint64(t.literal)
		}
		slot := int((maphash.String(seed, f.Name)^mix)*0x9E3779B97F4A7C15>>32) & (size - 1)
		for table[slot] != 0 && !together(&findings[heads[table[slot]-1].first], f) {
			slot = (slot + 1) & (size - 1)
		}
		if table[slot] == 0 {
			heads = append(heads, groupHead{first: i})
			table[slot] = int32(len(heads))
		}
		g := table[slot] - 1
		group[i] = g
		heads[g].n++
	}
	out := make([]Judgment, len(heads))
	room := make([]Finding, len(findings))
	for g := range heads {
		n := heads[g].n
		out[g].Findings, room = room[:0:n], room[n:]
	}
	for i, g := range group {
		out[g].Findings = append(out[g].Findings, findings[i])
		out[g].Verdict = max(out[g].Verdict, findings[i].Verdict)
	}
	for i := range out {
		if len(out[i].Findings) > 1 {
			slices.SortStableFunc(out[i].Findings, func(a, b Finding) int {
				return cmp.Or(cmp.Compare(b.Verdict, a.Verdict), lastUnless(a.Asked(), b.Asked()), tighter(a, b))
			})
		}
	}
	return out
}

// lastUnless sorts first what a condition is true of: it is negative if only a
// is true.
func lastUnless(a, b bool) int {
	switch {
	case a == b:
		return 0
	case a:
		return -1
	}
	return 1
}

// A groupHead is the first of the findings that are one judgment, and how many
// there are.
type groupHead struct{ first, n int }

// together says whether two findings are of one judgment.
func together(f, g *Finding) bool {
	t, u := &f.Rule.bound, &g.Rule.bound
	switch {
	case t.measure != u.measure || f.Name != g.Name:
		return false
	case t.form == testSet:
		return t.set == u.set // is and is_not of one set say one thing
	case t.direction() != u.direction():
		return false
	case t.direction() == upward || t.direction() == downward:
		return true
	case t.share == nil || u.share == nil:
		return t.share == u.share && t.literal == u.literal
	}
	s, v := t.share, u.share
	return s.num == v.num && s.den == v.den && s.of == v.of && s.div == v.div
}

// tighter is negative if a's bound is the tighter one; a bound that could not
// be computed comes last.
func tighter(a, b Finding) int {
	x, y := a.Bound(), b.Bound()
	var c int
	switch {
	case x.Recorded() != y.Recorded():
		return lastUnless(x.Recorded(), y.Recorded())
	case a.Rule.bound.relation.upper():
		c = cmp.Compare(x.low, y.low)
	case a.Rule.bound.relation.lower():
		c = cmp.Compare(y.high, x.high)
	}
	if c != 0 {
		return c
	}
	strict := func(f Finding) int {
		if r := f.Rule.bound.relation; r == LessThan || r == MoreThan {
			return 0
		}
		return 1
	}
	return cmp.Compare(strict(a), strict(b))
}

// Lead returns the finding that stands for the others: the worst verdict, and
// the tightest bound among those. Of an empty judgment it is the zero Finding.
func (j Judgment) Lead() Finding {
	if len(j.Findings) == 0 {
		return Finding{}
	}
	return j.Findings[0]
}

// Action returns what to do: if the verdict is Breached, the worst action among
// the findings that are; else that of [Judgment.Question]. ok is false where
// nothing is to be done.
func (j Judgment) Action() (a Action, ok bool) {
	if j.Verdict != Breached {
		return j.Question()
	}
	return j.worst(func(f *Finding) bool { return f.Verdict == Breached })
}

// Question returns the worst action that a question stands at: among the
// findings that are TooClose, and those that are [Finding.Asked]. It may be worse
// than that of a breach beside it.
func (j Judgment) Question() (a Action, ok bool) {
	return j.worst(func(f *Finding) bool { return f.Verdict == TooClose || f.Asked() })
}

func (j Judgment) worst(of func(*Finding) bool) (a Action, ok bool) {
	worst := -1
	for i := range j.Findings {
		if f := &j.Findings[i]; of(f) && (worst < 0 || f.Rule.action < worst) {
			a, worst = f.Rule.Action(), f.Rule.action
		}
	}
	return a, worst >= 0
}

// Sources returns the sources of all the findings in their order, each once.
func (j Judgment) Sources() []origin.Source {
	var out []origin.Source
	for _, f := range j.Findings {
		out = f.Rule.AppendSources(out)
	}
	return out
}
