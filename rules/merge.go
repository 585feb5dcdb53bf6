package rules

import (
	"cmp"
	"slices"

	"axleend.example/rules/origin"
)

// A Judgment is what all rules in one direction say of one measure of one
// subject.
type Judgment struct {
	Verdict  Verdict   // the worst of the findings
	Findings []Finding // those with this verdict first; among each verdict's, tighter bounds first
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
// only where the bound is the same. What is the same subject is told by its
// kind and its facts' name.
func Merge(findings []Finding) []Judgment {
	type key struct {
		name      string
		measure   *measure
		direction direction
		set       uint64
		literal   int64
		share     share
	}
	place := make(map[key]int)
	var out []Judgment
	for _, f := range findings {
		t := &f.Rule.bound
		k := key{name: f.Name, measure: t.measure, direction: t.direction()}
		switch {
		case t.form == testSet:
			k.direction, k.set = same, t.set // is and is_not of one set say one thing
		case k.direction == same || k.direction == other:
			k.literal = t.literal
			if t.share != nil {
				k.share = share{num: t.share.num, den: t.share.den, of: t.share.of, div: t.share.div}
			}
		}
		i, ok := place[k]
		if !ok {
			i = len(out)
			place[k] = i
			out = append(out, Judgment{})
		}
		out[i].Findings = append(out[i].Findings, f)
		out[i].Verdict = max(out[i].Verdict, f.Verdict)
	}
	for i := range out {
		if len(out[i].Findings) > 1 {
			slices.SortStableFunc(out[i].Findings, func(a, b Finding) int {
				return cmp.Or(cmp.Compare(b.Verdict, a.Verdict), tighter(a, b))
			})
		}
	}
	return out
}

// tighter is negative if a's bound is the tighter one; a bound that could not
// be computed comes last.
func tighter(a, b Finding) int {
	x, y := a.Bound(), b.Bound()
	var c int
	switch {
	case x.Recorded() != y.Recorded():
		if x.Recorded() {
			return -1
		}
		return 1
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

// Action returns the worst action among the findings that have the judgment's
// verdict: what to do if that is Breached, what may have to be done if it is
// TooClose. For other verdicts ok is false.
func (j Judgment) Action() (a Action, ok bool) {
	if j.Verdict != Breached && j.Verdict != TooClose {
		return Action{}, false
	}
	worst := -1
	for _, f := range j.Findings {
		if f.Verdict == j.Verdict && (worst < 0 || f.Rule.action < worst) {
			a, worst = f.Rule.Action(), f.Rule.action
		}
	}
	return a, worst >= 0
}

// Sources returns the sources of all the findings in their order, each once.
func (j Judgment) Sources() []origin.Source {
	var out []origin.Source
	for _, f := range j.Findings {
		for _, s := range f.Rule.sources {
			if !slices.Contains(out, s) {
				out = append(out, s)
			}
		}
	}
	return out
}
