package weight

import "errors"

// Rounding is a direction in which a value that must be rounded goes. There
// is no default: every function that rounds says where.
type Rounding uint8

// The directions. Floor goes toward minus infinity and Ceiling toward plus
// infinity, also for negative values; Nearest takes halves away from zero.
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

// String gives "us" or "metric".
func (s System) String() string {
	if s == Metric {
		return "metric"
	}
	return "us"
}

// MarshalText gives "us" or "metric".
func (s System) MarshalText() ([]byte, error) { return []byte(s.String()), nil }

// UnmarshalText reads "us" or "metric"; any other text gives [ErrSystem].
func (s *System) UnmarshalText(text []byte) error {
	switch string(text) {
	case "us":
		*s = US
	case "metric":
		*s = Metric
	default:
		return ErrSystem
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
