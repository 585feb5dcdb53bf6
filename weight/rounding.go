package weight

import (
	"errors"

	"axleend.example/rules/origin"
)

// Rounding is a direction in which a value that must be rounded goes. There
// is no default: every function that rounds says where.
type Rounding uint8

// The directions. Floor goes toward minus infinity and Ceiling toward plus
// infinity, also for negative values; Nearest takes halves away from zero.
// Any other value is taken as Floor.
const (
	Floor Rounding = iota
	Ceiling
	Nearest
)

// A System is the unit system that a record keeps from its paper, and that
// people are shown. The zero System is US.
type System uint8

// The two systems.
const (
	US System = iota
	Metric
)

// ErrSystem says that a word is neither "us" nor "metric".
var ErrSystem = errors.New(`unknown unit system: want "us" or "metric"`)

// String gives "us" or "metric", or "unknown" for a value that is neither.
func (s System) String() string {
	switch s {
	case US:
		return "us"
	case Metric:
		return "metric"
	}
	return "unknown"
}

// MarshalText gives "us" or "metric"; any other value gives [ErrSystem].
func (s System) MarshalText() ([]byte, error) {
	if s != US && s != Metric {
		return nil, ErrSystem
	}
	return []byte(s.String()), nil
}

// UnmarshalText reads "us" or "metric"; any other text gives an
// [origin.TextError] that matches [ErrSystem].
func (s *System) UnmarshalText(text []byte) error {
	switch string(text) {
	case "us":
		*s = US
	case "metric":
		*s = Metric
	default:
		return &origin.TextError{Kind: "unit system", Text: string(text), Err: ErrSystem}
	}
	return nil
}

// MassGrid is the step on which computed masses land: 0.01 lb or 1 g.
func (s System) MassGrid() Mass {
	if s == Metric {
		return Gram
	}
	return Pound / 100
}
