package weight

import "axleend.example/internal/word"

// Rounding is the direction in which a value is rounded. There is no default:
// every function that rounds says where.
type Rounding uint8

// The directions. Floor goes toward minus infinity and Ceiling toward plus
// infinity, also for negative values; Nearest takes halves away from zero.
// Any other value is taken as Floor.
const (
	Floor Rounding = iota
	Ceiling
	Nearest
)

// A System is the unit system that a record was written in and is shown in. The
// zero System is US.
type System uint8

// The two systems.
const (
	US System = iota
	Metric
)

var systems = word.List[System]{Kind: "unit system", Unknown: ErrWord, Words: []string{"us", "metric"}}

// String gives "us" or "metric", or "not known" for a value that is neither.
func (s System) String() string { return systems.String(s) }

// AppendText appends "us" or "metric"; any other value gives an error that matches
// [ErrWord]. An unknown value is an error.
func (s System) AppendText(dst []byte) ([]byte, error) { return systems.Append(dst, s) }

// MarshalText writes what [System.AppendText] appends.
func (s System) MarshalText() ([]byte, error) { return systems.Text(s) }

// UnmarshalText reads "us" or "metric"; any other text gives an error that
// matches [ErrWord].
func (s *System) UnmarshalText(text []byte) error { return systems.Read(s, text) }

// MassGrid is the step on which computed masses land: 0.01 lb or 1 g.
func (s System) MassGrid() Mass {
	if s == Metric {
		return Gram
	}
	return Pound / 100
}
