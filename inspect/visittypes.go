package inspect

import (
	"encoding/json"
	"errors"
	"fmt"
	"strings"

	"axleend.example/inflation"
	"axleend.example/internal/strictyaml"
	"axleend.example/weight"
)

// ThirtySecond is 1/32 in, the step of a tread-depth probe: 4*ThirtySecond.
const ThirtySecond = weight.Inch / 32

// ErrWord says that a word is none of those that may stand there.
var ErrWord = errors.New("unknown word")

// parseWord finds text among the words; the index of words[0], "", is never
// given.
func parseWord[T ~uint8](kind, text string, words []string) (T, error) {
	for i, w := range words {
		if i > 0 && w == text {
			return T(i), nil
		}
	}
	return 0, fmt.Errorf("%w %q for %s: want one of %s", ErrWord, strictyaml.Clip(text), kind, strings.Join(words[1:], ", "))
}

func wordOf[T ~uint8](v T, words []string) string {
	if int(v) >= len(words) || v == 0 {
		return "not known"
	}
	return words[v]
}

func marshalWord[T ~uint8](v T, kind string, words []string) ([]byte, error) {
	if int(v) >= len(words) || v == 0 {
		return nil, fmt.Errorf("%w %d for %s", ErrWord, uint8(v), kind)
	}
	return []byte(words[v]), nil
}

// ReadAt says where a pressure was read. The zero ReadAt is not recorded and
// counts as the stem.
type ReadAt uint8

// Where a gauge can go.
const (
	AtStem ReadAt = iota + 1
	ThroughExtension
	NotReached
)

var readAtWords = []string{"", "stem", "extension", "not reached"}

// String gives "stem", "extension", "not reached" or "not known".
func (r ReadAt) String() string { return wordOf(r, readAtWords) }

// ParseReadAt reads what [ReadAt.String] writes; the error matches [ErrWord].
func ParseReadAt(text string) (ReadAt, error) {
	return parseWord[ReadAt]("read_at", text, readAtWords)
}

// MarshalText writes the word; a zero ReadAt gives [ErrWord].
func (r ReadAt) MarshalText() ([]byte, error) { return marshalWord(r, "read_at", readAtWords) }

// UnmarshalText reads what [ParseReadAt] reads.
func (r *ReadAt) UnmarshalText(text []byte) (err error) {
	*r, err = ParseReadAt(string(text))
	return err
}

// A Stamp is a load with the pressure it holds at, as a sidewall or a wheel
// states it.
type Stamp struct {
	Load weight.Mass
	At   inflation.Pressure
}

// ErrStamp says that a text is no load with its pressure.
var ErrStamp = errors.New("malformed stamp")

// ParseStamp reads "3640 lb at 95 psi". Errors match [ErrStamp], or are those
// of the two quantities.
func ParseStamp(text string) (Stamp, error) {
	load, at, ok := strings.Cut(text, " at ")
	if !ok {
		return Stamp{}, fmt.Errorf(`%w %q: want a load and its pressure, such as "3640 lb at 95 psi"`, ErrStamp, strictyaml.Clip(text))
	}
	var s Stamp
	var err1, err2 error
	s.Load, err1 = weight.ParseMass(load)
	s.At, err2 = inflation.ParsePressure(at)
	if err := errors.Join(err1, err2); err != nil {
		return Stamp{}, err
	}
	if s.Load <= 0 || s.At <= 0 {
		return Stamp{}, fmt.Errorf("%w %q: both must be above zero", ErrStamp, strictyaml.Clip(text))
	}
	return s, nil
}

// String gives the stamp as [ParseStamp] reads it.
func (s Stamp) String() string { return s.Load.String() + " at " + s.At.String() }

// MarshalText writes the stamp as [ParseStamp] reads it.
func (s Stamp) MarshalText() ([]byte, error) {
	dst, err := s.Load.AppendText(nil)
	if err != nil {
		return nil, err
	}
	return s.At.AppendText(append(dst, " at "...))
}

// UnmarshalText reads what [ParseStamp] reads.
func (s *Stamp) UnmarshalText(text []byte) error {
	v, err := ParseStamp(string(text))
	if err != nil {
		return err
	}
	*s = v
	return nil
}

// Treads are the depths probed on one tire; the least one decides.
type Treads []weight.Length

// Least returns the smallest depth, or false when none was probed.
func (t Treads) Least() (weight.Length, bool) {
	if len(t) == 0 {
		return 0, false
	}
	least := t[0]
	for _, d := range t[1:] {
		least = min(least, d)
	}
	return least, true
}

// MarshalJSON writes the conditions as a list of words.
func (s ConditionSet) MarshalJSON() ([]byte, error) {
	words := []string{}
	for _, c := range s.All() {
		words = append(words, c.String())
	}
	return json.Marshal(words)
}

// UnmarshalJSON reads a list of words; errors match [ErrCondition].
func (s *ConditionSet) UnmarshalJSON(data []byte) error {
	var list []Condition
	if err := json.Unmarshal(data, &list); err != nil {
		return err
	}
	*s = 0
	for _, c := range list {
		*s = s.With(c)
	}
	return nil
}
