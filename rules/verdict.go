package rules

import (
	"fmt"
	"slices"
)

// A Verdict is what a rule says of one subject. The order of the constants is
// from good to bad; the zero Verdict is none of them.
type Verdict uint8

// The four verdicts.
const (
	// Kept: the bound is kept by every value within the plus/minus.
	Kept Verdict = iota + 1
	// NotRecorded: a measure that decides was not recorded, or is open on the
	// side that decides; see [Finding.ToRecord].
	NotRecorded
	// TooClose: too close to call; some values within the plus/minus keep the
	// bound and some do not.
	TooClose
	// Breached: no value within the plus/minus keeps the bound.
	Breached
)

var verdictNames = [...]string{
	Kept: "kept", NotRecorded: "not recorded", TooClose: "too close", Breached: "breached",
}

// String gives the verdict as files write it, or "unjudged" for anything but
// the four.
func (v Verdict) String() string {
	if v == 0 || int(v) >= len(verdictNames) {
		return "unjudged"
	}
	return verdictNames[v]
}

// ParseVerdict reads what [Verdict.String] writes for the four verdicts. The
// error is a [*NameError].
func ParseVerdict(text string) (Verdict, error) {
	for v := Kept; v <= Breached; v++ {
		if verdictNames[v] == text {
			return v, nil
		}
	}
	return 0, unknown("verdict", text, "", verdictWords())
}

// MarshalText writes one of the four verdicts; any other value is an error
// that matches [ErrName].
func (v Verdict) MarshalText() ([]byte, error) {
	if v == 0 || int(v) >= len(verdictNames) {
		return nil, fmt.Errorf("%w verdict %d", ErrName, uint8(v))
	}
	return []byte(verdictNames[v]), nil
}

// UnmarshalText is [ParseVerdict].
func (v *Verdict) UnmarshalText(text []byte) error {
	w, err := ParseVerdict(string(text))
	if err != nil {
		return err
	}
	*v = w
	return nil
}

// A Relation is how a measure must stand to its bound.
type Relation uint8

// The six relations. Quantities take all of them, words and flags the last
// two.
const (
	AtMost Relation = iota + 1
	LessThan
	AtLeast
	MoreThan
	Is
	IsNot
)

var relationKeys = [...]string{
	AtMost: "at_most", LessThan: "less_than", AtLeast: "at_least", MoreThan: "more_than", Is: "is", IsNot: "is_not",
}

// String gives the relation as the key of a pack, such as "at_most".
func (r Relation) String() string {
	if r == 0 || int(r) >= len(relationKeys) {
		return "unrelated"
	}
	return relationKeys[r]
}

// words gives the relation as in a sentence.
func (r Relation) words() string { return spaced(r.String()) }

// upper and lower tell the direction in which a bound limits.
func (r Relation) upper() bool { return r == AtMost || r == LessThan }
func (r Relation) lower() bool { return r == AtLeast || r == MoreThan }

func verdictWords() []string { return slices.Clone(verdictNames[Kept:]) }
