package dotcode

import "fmt"

// Age is how old a tire can be on a day: a range between two days of make. When nothing is known both days are zero, and
// every method says so: an unknown age is never a young one.
type Age struct {
	On       Date `json:"on,omitzero"`       // the day of reading
	Oldest   Date `json:"oldest,omitzero"`   // the earliest day it can have been made; this decides
	Youngest Date `json:"youngest,omitzero"` // the latest day it can have been made, not after On
	// After flags that a reading lies after On: the date or On is wrong, or the tire is of an older form.
	After bool `json:"after,omitzero"`
	// Retread says the days are, or by the number's length can be, those of retreading: the casing is older than Oldest.
	Retread bool `json:"retread,omitzero"`
}

// AgeOn returns the age the candidates allow on a day. Candidates after that day set [Age.After] and count for nothing
// else. With no other candidate, or an on that is no date, the age is not known.
func AgeOn(candidates []Candidate, on Date) Age {
	age := Age{On: on}
	if !on.IsValid() {
		return age
	}
	for i := range candidates {
		c := &candidates[i]
		age.Retread = age.Retread || c.Retread
		if c.First.After(on) {
			age.After = true
			continue
		}
		if age.Oldest.IsZero() || c.First.Before(age.Oldest) {
			age.Oldest = c.First
		}
		if last := earlier(c.Last, on); last.After(age.Youngest) {
			age.Youngest = last
		}
	}
	return age
}

// AgeOn returns the age the number's candidates allow on a day. It allocates nothing.
func (n Number) AgeOn(on Date) Age {
	var room [maxCandidates]Candidate
	return AgeOn(n.AppendCandidates(room[:0], on), on)
}

func earlier(a, b Date) Date {
	if b.Before(a) {
		return b
	}
	return a
}

// Known reports whether any day of make is possible.
func (a Age) Known() bool { return !a.Oldest.IsZero() && a.On.IsValid() }

// AtLeast returns the completed age if the tire was made on the latest possible day. ok is false when it is not known.
func (a Age) AtLeast() (age Span, ok bool) { return Between(a.Youngest, a.On), a.Known() }

// AtMost returns the completed age if the tire was made on the earliest possible day: the figure that decides. ok is false
// when it is not known. For a retread it is the age of the retreading; the casing is older.
func (a Age) AtMost() (age Span, ok bool) { return Between(a.Oldest, a.On), a.Known() }

// ReachesOn returns the day the tire turns so many years old, counted from the earliest possible day of make. From 29 February
// that is 28 February in a common year ([Date.AddYears]). ok is false when it is not known.
func (a Age) ReachesOn(years int) (day Date, ok bool) { return a.Oldest.AddYears(years), a.Known() }

// Reached reports whether the tire can have turned so many years on or before [Age.On]. known is false when the age is not
// known, and when only a retread's own date says no: its casing is older.
func (a Age) Reached(years int) (turned, known bool) {
	day, ok := a.ReachesOn(years)
	turned = ok && !day.IsZero() && !day.After(a.On)
	return turned, ok && (turned || !a.Retread)
}

// String gives the age in completed years and months, as a range where it is one: "13 years 5 months", "26 years 11 months
// to 46 years 11 months", "not known".
func (a Age) String() string {
	least, ok := a.AtLeast()
	most, _ := a.AtMost()
	switch {
	case !ok:
		return "not known"
	case least.String() == most.String():
		return most.String()
	}
	return fmt.Sprintf("%v to %v", least, most)
}
