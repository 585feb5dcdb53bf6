package weight

import "slices"

// InFractions is the same solution computed in fractions of any size.
func (s Solution) InFractions() Solution {
	t := *s.s
	t.widen()
	return Solution{s: &t, assumed: s.assumed}
}

// OutgrewWords reports whether a solution went over to fractions by itself.
func (s Solution) OutgrewWords() bool { return s.s.big != nil }

// Work is that of the linear programs behind a solution.
func (s Solution) Work() int { return s.s.work }

// StretchedAgree reports whether the readings can all be right within the
// tolerances that a contradiction has stretched.
func (s Solution) StretchedAgree() bool {
	t := *s.s
	t.readings = slices.Clone(t.readings)
	list := make([]int, len(t.readings))
	for i := range t.readings {
		list[i], t.readings[i].Tolerance = i, t.stretched[i]
	}
	return t.agree(list) == nil
}

// EnoughWork is the work that a solution may take but for the last program.
const EnoughWork = enoughWork
