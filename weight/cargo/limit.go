package cargo

import (
	"math"

	"axleend.example/rules/origin"
	"axleend.example/weight"
)

// A Limit is the most that may rest on a set. Which limits there are is for
// whoever asks, such as a rule in a pack.
type Limit struct {
	// Name says which rating it is and whose, such as "GAWR, drive".
	Name string `json:"name,omitzero"`
	// Rating is the most that may rest on On, all of it together. A rating of
	// 0 or less is none, and nothing is held to it.
	Rating weight.Mass `json:"rating"`
	// On is the set.
	On weight.Set `json:"on,omitzero"`
	// Source is where the rating comes from.
	Source origin.Source `json:"source"`
}

// A Margin is what a load leaves of a limit. Neither kept nor over is too close to
// call, or not known.
type Margin struct {
	// Limit is what the load is held to.
	Limit Limit `json:"limit"`
	// Estimate is the load on it.
	Estimate weight.Estimate `json:"estimate"`
	// Room is what may be added for sure: rating less load less doubt. It is
	// negative when the limit is not surely kept, and 0 when not known.
	Room weight.Mass `json:"room"`
}

// MarginOf compares an estimate with a limit, in the worst case: with its whole
// plus/minus, which includes what an unlevel plate may have moved.
func MarginOf(limit Limit, e weight.Estimate) Margin {
	m := Margin{Limit: limit, Estimate: e}
	if m.Known() {
		m.Room = limit.Rating - max(e.AtMost(), limit.Rating-math.MaxInt64)
	}
	return m
}

// Known reports whether there is a load and a rating to hold it to: an
// undetermined estimate and a rating of 0 or less are none.
func (m Margin) Known() bool { return m.Estimate.Known() && m.Limit.Rating > 0 }

// Kept reports whether even the most that the load may be is within the limit. A
// disputed load is never kept.
func (m Margin) Kept() bool {
	return m.Known() && m.Estimate.AtMost() <= m.Limit.Rating && m.Estimate.State != weight.Disputed
}

// Over reports whether even the least that the load may be is beyond the limit.
func (m Margin) Over() bool { return m.Known() && m.Estimate.AtLeast() > m.Limit.Rating }

// Margins compares the weighed load on each limit's set with the limit, in the
// order of limits.
func Margins(s weight.Solution, limits []Limit) []Margin {
	out := make([]Margin, len(limits))
	for i, l := range limits {
		out[i] = MarginOf(l, s.Of(l.On))
	}
	return out
}
