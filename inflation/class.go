package inflation

import (
	"errors"
	"strings"

	"axleend.example/internal/word"
)

// ErrWord says that a word is none of those that may stand there.
var ErrWord = errors.New("unknown word")

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

var classes = word.List[Class]{Kind: "class", Unknown: ErrWord, Words: []string{"", "passenger", "light truck", "truck", "trailer"}}

// String gives "passenger", "light truck", "truck", "trailer" or "not known".
func (c Class) String() string { return classes.String(c) }

// ParseClass reads what [Class.String] writes, in any case; the error matches
// [ErrWord].
func ParseClass(text string) (Class, error) {
	return classes.Parse(strings.ToLower(strings.TrimSpace(text)))
}

// AppendText appends the word, and nothing for a class not known. An unknown value
// is an error.
func (c Class) AppendText(dst []byte) ([]byte, error) { return classes.Append(dst, c) }

// MarshalText writes what [Class.AppendText] appends.
func (c Class) MarshalText() ([]byte, error) { return classes.Text(c) }

// UnmarshalText reads what [Class.MarshalText] writes.
func (c *Class) UnmarshalText(text []byte) error { return classes.Read(c, text) }

// A Construction is how a tire's body plies run. The zero Construction is not
// known.
type Construction uint8

// The constructions that a size designation names: R, a hyphen or D, and B.
const (
	Radial Construction = iota + 1
	Bias
	BiasBelted
)

var constructions = word.List[Construction]{Kind: "construction", Unknown: ErrWord, Words: []string{"", "radial", "bias", "bias-belted"}}

// String gives "radial", "bias", "bias-belted" or "not known".
func (c Construction) String() string { return constructions.String(c) }

// ParseConstruction reads what [Construction.String] writes, in any case; the
// error matches [ErrWord].
func ParseConstruction(text string) (Construction, error) {
	return constructions.Parse(strings.ToLower(strings.TrimSpace(text)))
}

// AppendText appends the word, and nothing for one not known. An unknown value
// is an error.
func (c Construction) AppendText(dst []byte) ([]byte, error) { return constructions.Append(dst, c) }

// MarshalText writes what [Construction.AppendText] appends.
func (c Construction) MarshalText() ([]byte, error) { return constructions.Text(c) }

// UnmarshalText reads what [Construction.MarshalText] writes.
func (c *Construction) UnmarshalText(text []byte) error { return constructions.Read(c, text) }
