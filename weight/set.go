package weight

import (
	"errors"
	"fmt"
	"math/bits"
	"strconv"
	"strings"

	"axleend.example/internal/word"
	"axleend.example/rules/origin"
)

// Fitment says how many tires an axle carries at each end. The zero Fitment
// is not known.
type Fitment uint8

// The fitments: one tire at each end of the axle, or a dual pair.
const (
	Single Fitment = iota + 1
	Dual
)

// Side is a side of the vehicle as its driver sits. The zero Side is not
// known.
type Side uint8

// The sides.
const (
	Left Side = iota + 1
	Right
)

// Place is a wheel's place in a dual pair. The zero Place is not known.
type Place uint8

// The places in a dual pair: next to the frame, or outboard.
const (
	Inner Place = iota + 1
	Outer
)

// YesNo is what a record says to a question: yes, no, or nothing. The zero
// YesNo is not said, and never counts as a yes.
type YesNo uint8

// The answers.
const (
	NotSaid YesNo = iota
	Yes
	No
)

// ErrWord says that a type has no such word.
var ErrWord = errors.New("unknown word")

var fitments = word.List[Fitment]{Kind: "fitment", Unknown: ErrWord, Words: []string{"", "single", "dual"}}

// String gives "single", "dual", or "not known".
func (f Fitment) String() string { return fitments.String(f) }

// AppendText appends what String gives; the zero Fitment is empty text. An
// unknown value is an error.
func (f Fitment) AppendText(dst []byte) ([]byte, error) { return fitments.Append(dst, f) }

// MarshalText writes what [Fitment.AppendText] appends.
func (f Fitment) MarshalText() ([]byte, error) { return fitments.Text(f) }

// UnmarshalText reads "single" or "dual", and empty text as not known; any
// other text gives an error that matches [ErrWord].
func (f *Fitment) UnmarshalText(text []byte) error { return fitments.Read(f, text) }

var sides = word.List[Side]{Kind: "side", Unknown: ErrWord, Words: []string{"", "left", "right"}}

// String gives "left", "right", or "not known".
func (s Side) String() string { return sides.String(s) }

// AppendText appends what String gives; the zero Side is empty text. An unknown value
// is an error.
func (s Side) AppendText(dst []byte) ([]byte, error) { return sides.Append(dst, s) }

// MarshalText writes what [Side.AppendText] appends.
func (s Side) MarshalText() ([]byte, error) { return sides.Text(s) }

// UnmarshalText reads "left" or "right", and empty text as not known; any
// other text gives an error that matches [ErrWord].
func (s *Side) UnmarshalText(text []byte) error { return sides.Read(s, text) }

// Opposite is the other side, or the zero Side of the zero Side.
func (s Side) Opposite() Side {
	switch s {
	case Left:
		return Right
	case Right:
		return Left
	}
	return 0
}

var places = word.List[Place]{Kind: "place", Unknown: ErrWord, Words: []string{"", "inner", "outer"}}

// String gives "inner", "outer", or "not known".
func (p Place) String() string { return places.String(p) }

// AppendText appends what String gives; the zero Place is empty text. An unknown value
// is an error.
func (p Place) AppendText(dst []byte) ([]byte, error) { return places.Append(dst, p) }

// MarshalText writes what [Place.AppendText] appends.
func (p Place) MarshalText() ([]byte, error) { return places.Text(p) }

// UnmarshalText reads "inner" or "outer", and empty text as not known; any
// other text gives an error that matches [ErrWord].
func (p *Place) UnmarshalText(text []byte) error { return places.Read(p, text) }

var answers = word.List[YesNo]{Kind: "answer", Unknown: ErrWord, Words: []string{"", "yes", "no"}}

// String gives "yes", "no", or "not known".
func (a YesNo) String() string { return answers.String(a) }

// AppendText appends what String gives; [NotSaid] is empty text. An unknown value
// is an error.
func (a YesNo) AppendText(dst []byte) ([]byte, error) { return answers.Append(dst, a) }

// MarshalText writes what [YesNo.AppendText] appends.
func (a YesNo) MarshalText() ([]byte, error) { return answers.Text(a) }

// UnmarshalText reads "yes" or "no", and empty text as not said; any other
// text gives an error that matches [ErrWord].
func (a *YesNo) UnmarshalText(text []byte) error { return answers.Read(a, text) }

// MaxAxles is how many axles a [Rig] may have, those of the towed unit
// included.
const MaxAxles = 12

// A Set is a set of wheel positions, four to an axle: left inner, left outer,
// right inner, right outer. Axles are indexes from the front, 0 first, the
// coach's and then the towed unit's. An end with one tire is both positions of
// its side. The zero Set is empty; sets compare with ==.
type Set uint64

const (
	axleBits  Set = 0b1111
	leftBits  Set = 0b0011
	rightBits Set = 0b1100
	innerBits Set = 0b0101
	outerBits Set = 0b1010
	everyAxle Set = 1<<(4*MaxAxles) - 1
	eachAxle  Set = everyAxle / axleBits // one bit per axle
)

// AxleOf is all of an axle; it is empty for an index below 0 or from
// [MaxAxles] on.
func AxleOf(axle int) Set {
	if axle < 0 || axle >= MaxAxles {
		return 0
	}
	return axleBits << (4 * axle)
}

// EndOf is one end of an axle, whether it carries one tire or two. It is
// empty for an axle or a side that does not exist.
func EndOf(axle int, side Side) Set { return AxleOf(axle) & SideOf(side) }

// WheelOf is one wheel of a dual pair. It is empty for an axle, a side or a
// place that does not exist.
func WheelOf(axle int, side Side, place Place) Set {
	switch place {
	case Inner:
		return EndOf(axle, side) & (eachAxle * innerBits)
	case Outer:
		return EndOf(axle, side) & (eachAxle * outerBits)
	}
	return 0
}

// SideOf is one side of all possible axles. Intersect it with the axles you
// mean: rig.Coach() & SideOf(Left) is the left side of the coach.
func SideOf(side Side) Set {
	switch side {
	case Left:
		return eachAxle * leftBits
	case Right:
		return eachAxle * rightBits
	}
	return 0
}

// Union is every position that is in one of the sets; a | b is the same.
func Union(sets ...Set) Set {
	var all Set
	for _, s := range sets {
		all |= s
	}
	return all
}

// Contains reports whether every position of part is in s.
func (s Set) Contains(part Set) bool { return s&part == part }

// Axles lists the axles that s touches, from the front.
func (s Set) Axles() []int {
	var out []int
	for a := range MaxAxles {
		if s&AxleOf(a) != 0 {
			out = append(out, a)
		}
	}
	return out
}

// Len counts the positions in s.
func (s Set) Len() int { return bits.OnesCount64(uint64(s)) }

// oneSided is the axles on which s holds more of one side than of the other.
func (s Set) oneSided() Set {
	var out Set
	for a := range MaxAxles {
		part := s >> (4 * a) & axleBits
		if part&leftBits != part>>2 {
			out |= AxleOf(a)
		}
	}
	return out
}

// String gives the canonical text: axles counted from 1, a side as L or R, a
// wheel as o or i, as in "1 2L 3Ro"; empty for the empty set.
func (s Set) String() string {
	b, _ := s.AppendText(nil)
	return string(b)
}

// AppendText appends the canonical text of s. Bits beyond the positions of
// [MaxAxles] axles give an error that matches [ErrOutsideRig].
func (s Set) AppendText(dst []byte) ([]byte, error) {
	if s&^everyAxle != 0 {
		return dst, fmt.Errorf("set of positions: %w", ErrOutsideRig)
	}
	space := func() {
		if len(dst) > 0 && dst[len(dst)-1] != ' ' {
			dst = append(dst, ' ')
		}
	}
	for a := range MaxAxles {
		part := s >> (4 * a) & axleBits
		name := strconv.Itoa(a + 1)
		if part == axleBits {
			space()
			dst = append(dst, name...)
			continue
		}
		for _, side := range [...]struct {
			letter byte
			bits   Set
		}{{'L', part & 3}, {'R', part >> 2}} {
			if side.bits == 0 {
				continue
			}
			space()
			dst = append(append(dst, name...), side.letter)
			if side.bits != 3 {
				dst = append(dst, " io"[side.bits])
			}
		}
	}
	return dst, nil
}

// MarshalText is AppendText to a new slice.
func (s Set) MarshalText() ([]byte, error) { return s.AppendText([]byte{}) }

// UnmarshalText reads what [Set.String] writes, its parts in any order. The
// error is an [origin.TextError] with [origin.ErrSyntax] or, for an axle that
// cannot be, [origin.ErrRange].
func (s *Set) UnmarshalText(text []byte) error {
	var out Set
	for _, word := range strings.Fields(string(text)) {
		part, err := parsePart(word)
		if err != nil {
			return &origin.TextError{Kind: "set of positions", Text: string(text), Want: `axles counted from 1 with L or R and o or i, such as "1 2L 3Ro"`, Err: err}
		}
		out |= part
	}
	*s = out
	return nil
}

func parsePart(word string) (Set, error) {
	digits := 0
	for digits < len(word) && word[digits] >= '0' && word[digits] <= '9' {
		digits++
	}
	if digits == 0 || digits > 2 || word[0] == '0' {
		return 0, origin.ErrSyntax
	}
	n, _ := strconv.Atoi(word[:digits])
	if n > MaxAxles {
		return 0, origin.ErrRange
	}
	part := AxleOf(n - 1)
	switch rest := word[digits:]; rest {
	case "":
		return part, nil
	case "L", "Li", "Lo":
		part &= SideOf(Left)
		word = rest[1:]
	case "R", "Ri", "Ro":
		part &= SideOf(Right)
		word = rest[1:]
	default:
		return 0, origin.ErrSyntax
	}
	switch word {
	case "i":
		part &= eachAxle * innerBits
	case "o":
		part &= eachAxle * outerBits
	}
	return part, nil
}
