package inflation

import (
	"errors"
	"fmt"
	"strings"

	"axleend.example/internal/problem"
)

// ErrWord says that a word is none of those that may stand there.
var ErrWord = errors.New("unknown word")

func parseWord[T ~uint8](kind, text string, words []string) (T, error) {
	word := strings.ToLower(strings.TrimSpace(text))
	for i, w := range words {
		if i > 0 && w == word {
			return T(i), nil
		}
	}
	return 0, fmt.Errorf("%w %q for %s: want one of %s", ErrWord, problem.Clip(text), kind, strings.Join(words[1:], ", "))
}

func wordOf[T ~uint8](v T, words []string) string {
	if v == 0 || int(v) >= len(words) {
		return "not known"
	}
	return words[v]
}

func marshalWord[T ~uint8](v T, kind string, words []string) ([]byte, error) {
	if v == 0 {
		return []byte{}, nil
	}
	if int(v) >= len(words) {
		return nil, fmt.Errorf("%w %d for %s", ErrWord, uint8(v), kind)
	}
	return []byte(words[v]), nil
}

func unmarshalWord[T ~uint8](text []byte, kind string, words []string) (T, error) {
	if len(text) == 0 {
		return 0, nil
	}
	return parseWord[T](kind, string(text), words)
}

// A Class is the kind of tire that a size designation is made for; it decides
// whether a load is derated and whether an estimate is allowed. The zero
// Class is not known, which is treated as the strictest of them: derated like
// a passenger tire, and with no estimate.
type Class uint8

// The classes.
const (
	// Passenger: P-metric and metric sizes of cars. On a motorhome, truck, bus
	// or trailer such a tire carries its rating divided by 1.10 (49 CFR
	// 571.120 S5.1.2).
	Passenger Class = iota + 1
	// LightTruck: LT sizes, flotation sizes and commercial (C) sizes.
	LightTruck
	// Truck: sizes for medium and heavy trucks and buses.
	Truck
	// Trailer: special trailer (ST) sizes, for free-rolling wheels only.
	Trailer
)

var classWords = [...]string{"", "passenger", "light truck", "truck", "trailer"}

// String gives "passenger", "light truck", "truck", "trailer" or "not known".
func (c Class) String() string { return wordOf(c, classWords[:]) }

// ParseClass reads what [Class.String] writes, in any case; the error matches
// [ErrWord].
func ParseClass(text string) (Class, error) { return parseWord[Class]("class", text, classWords[:]) }

// MarshalText writes the word, and empty text for a class not known.
func (c Class) MarshalText() ([]byte, error) { return marshalWord(c, "class", classWords[:]) }

// UnmarshalText reads what [Class.MarshalText] writes.
func (c *Class) UnmarshalText(text []byte) (err error) {
	*c, err = unmarshalWord[Class](text, "class", classWords[:])
	return err
}

// A Construction is how a tire's body plies run. The zero Construction is not
// known.
type Construction uint8

// The constructions that a size designation names: R, a hyphen or D, and B.
const (
	Radial Construction = iota + 1
	Bias
	BiasBelted
)

var constructionWords = [...]string{"", "radial", "bias", "bias-belted"}

// String gives "radial", "bias", "bias-belted" or "not known".
func (c Construction) String() string { return wordOf(c, constructionWords[:]) }

// ParseConstruction reads what [Construction.String] writes, in any case; the
// error matches [ErrWord].
func ParseConstruction(text string) (Construction, error) {
	return parseWord[Construction]("construction", text, constructionWords[:])
}

// MarshalText writes the word, and empty text for one not known.
func (c Construction) MarshalText() ([]byte, error) {
	return marshalWord(c, "construction", constructionWords[:])
}

// UnmarshalText reads what [Construction.MarshalText] writes.
func (c *Construction) UnmarshalText(text []byte) (err error) {
	*c, err = unmarshalWord[Construction](text, "construction", constructionWords[:])
	return err
}
