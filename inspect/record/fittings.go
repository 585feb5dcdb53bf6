package record

import "axleend.example/internal/word"

// A Stem is what kind of valve stem a wheel has, which limits its pressure. The
// zero Stem is not recorded.
type Stem uint8

// The kinds of stem.
const (
	SnapIn             Stem = iota + 1 // rubber, pulled into the hole
	HighPressureSnapIn                 // rubber over metal, for light trucks
	MetalStem                          // clamped in by a nut
)

var stemWords = []string{"", "rubber snap-in", "high-pressure snap-in", "metal"}

// String gives "rubber snap-in", "high-pressure snap-in", "metal" or "not known".
func (s Stem) String() string { return word.Of(s, stemWords) }

// ParseStem reads what [Stem.String] writes; the error matches [ErrWord].
func ParseStem(text string) (Stem, error) { return word.Parse[Stem]("stem", text, stemWords) }

// MarshalText writes the word; a zero Stem gives [ErrWord].
func (s Stem) MarshalText() ([]byte, error) { return word.Marshal(s, "stem", stemWords) }

// UnmarshalText reads what [ParseStem] reads.
func (s *Stem) UnmarshalText(text []byte) (err error) {
	*s, err = ParseStem(string(text))
	return err
}

// A TreadType is what a tread is made for. The zero TreadType is not recorded.
type TreadType uint8

// The types of tread.
const (
	Rib TreadType = iota + 1
	Traction
	AllPosition
	Winter
)

var treadTypeWords = []string{"", "rib", "traction", "all position", "winter"}

// String gives "rib", "traction", "all position", "winter" or "not known".
func (t TreadType) String() string { return word.Of(t, treadTypeWords) }

// ParseTreadType reads what [TreadType.String] writes; the error matches
// [ErrWord].
func ParseTreadType(text string) (TreadType, error) {
	return word.Parse[TreadType]("tread_type", text, treadTypeWords)
}

// MarshalText writes the word; a zero TreadType gives [ErrWord].
func (t TreadType) MarshalText() ([]byte, error) {
	return word.Marshal(t, "tread_type", treadTypeWords)
}

// UnmarshalText reads what [ParseTreadType] reads.
func (t *TreadType) UnmarshalText(text []byte) (err error) {
	*t, err = ParseTreadType(string(text))
	return err
}
