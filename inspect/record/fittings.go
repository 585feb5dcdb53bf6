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

var stemWords = word.List[Stem]{Kind: "stem", Words: []string{"", "rubber snap-in", "high-pressure snap-in", "metal"}, Unknown: word.Err}

// String gives "rubber snap-in", "high-pressure snap-in", "metal" or "not known".
func (s Stem) String() string { return stemWords.String(s) }

// ParseStem reads what [Stem.String] writes; the error matches [ErrWord].
func ParseStem(text string) (Stem, error) { return stemWords.Parse(text) }

// AppendText appends the word, and nothing for the zero Stem. An unknown value
// is an error.
func (s Stem) AppendText(dst []byte) ([]byte, error) { return stemWords.Append(dst, s) }

// MarshalText writes what [Stem.AppendText] appends.
func (s Stem) MarshalText() ([]byte, error) { return stemWords.Text(s) }

// UnmarshalText reads what [ParseStem] reads.
func (s *Stem) UnmarshalText(text []byte) error { return stemWords.Read(s, text) }

// A TreadType is what a tread is made for. The zero TreadType is not recorded.
type TreadType uint8

// The types of tread.
const (
	Rib TreadType = iota + 1
	Traction
	AllPosition
	Winter
)

var treadTypeWords = word.List[TreadType]{Kind: "tread_type", Words: []string{"", "rib", "traction", "all position", "winter"}, Unknown: word.Err}

// String gives "rib", "traction", "all position", "winter" or "not known".
func (t TreadType) String() string { return treadTypeWords.String(t) }

// ParseTreadType reads what [TreadType.String] writes; the error matches
// [ErrWord].
func ParseTreadType(text string) (TreadType, error) {
	return treadTypeWords.Parse(text)
}

// AppendText appends the word, and nothing for the zero TreadType. An unknown value
// is an error.
func (t TreadType) AppendText(dst []byte) ([]byte, error) { return treadTypeWords.Append(dst, t) }

// MarshalText writes what [TreadType.AppendText] appends.
func (t TreadType) MarshalText() ([]byte, error) { return treadTypeWords.Text(t) }

// UnmarshalText reads what [ParseTreadType] reads.
func (t *TreadType) UnmarshalText(text []byte) error { return treadTypeWords.Read(t, text) }
