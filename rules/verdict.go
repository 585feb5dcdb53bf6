package rules

import (
	"slices"

	"axleend.example/internal/word"
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

var verdicts = word.List[Verdict]{
	Kind:    "verdict",
	Words:   []string{Kept: "kept", NotRecorded: "not recorded", TooClose: "too close", Breached: "breached"},
	Unknown: ErrName,
}

// String gives the verdict as files write it, or "not known" for anything but
// the four.
func (v Verdict) String() string { return verdicts.String(v) }

// ParseVerdict reads what [Verdict.String] writes for the four verdicts. The
// error is a [*NameError].
func ParseVerdict(text string) (Verdict, error) {
	v, err := verdicts.Parse(text)
	return v, asNameError(err)
}

// AppendText appends one of the four verdicts, or nothing for the zero Verdict;
// any other value is an error that matches [ErrName].
func (v Verdict) AppendText(dst []byte) ([]byte, error) { return verdicts.Append(dst, v) }

// MarshalText writes what [Verdict.AppendText] appends.
func (v Verdict) MarshalText() ([]byte, error) { return verdicts.Text(v) }

// UnmarshalText reads what [Verdict.MarshalText] wrote. The error is a
// [*NameError].
func (v *Verdict) UnmarshalText(text []byte) error { return asNameError(verdicts.Read(v, text)) }

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

var relations = word.List[Relation]{
	Kind:    "relation",
	Words:   []string{AtMost: "at_most", LessThan: "less_than", AtLeast: "at_least", MoreThan: "more_than", Is: "is", IsNot: "is_not"},
	Unknown: ErrName,
}

// String gives the relation as the key of a pack, such as "at_most", or "not
// known" for anything but the six.
func (r Relation) String() string { return relations.String(r) }

// words gives the relation as in a sentence.
func (r Relation) words() string { return spaced(r.String()) }

// upper and lower tell the direction in which a bound limits.
func (r Relation) upper() bool { return r == AtMost || r == LessThan }
func (r Relation) lower() bool { return r == AtLeast || r == MoreThan }

func verdictWords() []string { return slices.Clone(verdicts.Words[Kept:]) }
