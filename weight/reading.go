package weight

import (
	"errors"
	"fmt"
	"strings"

	"axleend.example/internal/word"
)

// A Reading is what a scale showed: a load, its tolerance, and what stood on
// the plate.
type Reading struct {
	// Name is how the reading is called where something is said about it.
	Name string `json:"name"`
	// Load is what the scale showed, tare taken off.
	Load Mass `json:"load"`
	// Tolerance is how far off the reading may be, either way. 0 is not
	// "exact": [Solve] then takes the scale's own tolerance at that load.
	Tolerance Mass `json:"tolerance,omitzero"`
	// On is the wheel positions on the plate.
	On Set `json:"on"`
}

// MaxReadings is how many readings [Solve] takes.
const MaxReadings = 64

// Sentinel causes of a reading that is left out.
var (
	// ErrReading is matched by every [ReadingError].
	ErrReading = errors.New("impossible reading")
	// ErrEmptyPlate says that nothing stood on the plate.
	ErrEmptyPlate = errors.New("an empty set of positions")
	// ErrNoLoad says that a reading weighs nothing, or less.
	ErrNoLoad = errors.New("a reading of nothing")
	// ErrTolerance says that a tolerance is negative.
	ErrTolerance = errors.New("negative tolerance")
	// ErrOutsideRig says that a position is on no axle of the rig.
	ErrOutsideRig = errors.New("a position outside the rig")
	// ErrOneWheel says that one wheel of a pair was read on an axle of single
	// tires.
	ErrOneWheel = errors.New("one wheel of a pair on an axle with single tires")
	// ErrTooManyReadings says that there are more than [MaxReadings] readings.
	ErrTooManyReadings = errors.New("too many readings")
	// ErrConflict is matched by every [Conflict].
	ErrConflict = errors.New("readings contradict each other")
)

// A ReadingError is a reading that was left out, and why. It matches
// [ErrReading] and its cause.
type ReadingError struct {
	// Name is the reading's.
	Name string
	// On is the reading's.
	On Set
	// Err is the cause.
	Err error
}

// Error names the reading and the cause.
func (e *ReadingError) Error() string {
	return "reading " + word.Quote(e.Name) + ": " + e.Err.Error()
}

// Unwrap returns [ErrReading] and the cause.
func (e *ReadingError) Unwrap() []error { return []error{ErrReading, e.Err} }

// ConflictKind says how readings contradict each other.
type ConflictKind uint8

// The kinds of conflict.
const (
	// Disagree: two ways to the same load come out different.
	Disagree ConflictKind = iota + 1
	// Negative: a load would have to be less than nothing, as with a side
	// lighter than its own front end.
	Negative
)

var conflictKinds = word.List[ConflictKind]{Kind: "kind of conflict", Unknown: ErrWord, Words: []string{"", "disagree", "negative"}}

// String gives "disagree" or "negative".
func (k ConflictKind) String() string { return conflictKinds.String(k) }

// AppendText appends what String gives; the zero kind is empty text. An unknown value
// is an error.
func (k ConflictKind) AppendText(dst []byte) ([]byte, error) { return conflictKinds.Append(dst, k) }

// MarshalText writes what [ConflictKind.AppendText] appends.
func (k ConflictKind) MarshalText() ([]byte, error) { return conflictKinds.Text(k) }

// UnmarshalText reads what MarshalText writes; any other text gives an error
// that matches [ErrWord].
func (k *ConflictKind) UnmarshalText(text []byte) error {
	return conflictKinds.Read(k, text)
}

// A Conflict is a smallest set of readings that cannot all be right. It is an
// error that matches [ErrConflict].
type Conflict struct {
	// Kind says how they contradict each other.
	Kind ConflictKind `json:"kind"`
	// Readings names them, in the order given.
	Readings []string `json:"readings"`
	// Apart is how far they are apart, rounded up: two passes 60 lb apart.
	Apart Mass `json:"apart"`
	// Allowed is how far apart their tolerances would let them be, rounded up.
	Allowed Mass `json:"allowed"`
	// Where is the set that would weigh less than nothing; only for [Negative].
	Where Set `json:"where,omitzero"`
	// Suspects names each reading without which all others agree.
	Suspects []string `json:"suspects,omitzero"`
	// OddOneOut is the suspect where there is exactly one.
	OddOneOut string `json:"odd_one_out,omitzero"`
}

// Error names the readings and by how much they contradict each other.
func (c *Conflict) Error() string {
	names := make([]string, len(c.Readings))
	for i, n := range c.Readings {
		names[i] = word.Quote(n)
	}
	list := strings.Join(names, ", ")
	what := fmt.Sprintf("readings %s are %s apart: their tolerances allow %s", list, c.Apart, c.Allowed)
	if c.Kind == Negative {
		what = fmt.Sprintf("readings %s leave %s less than nothing: their tolerances allow %s", list, c.Apart, c.Allowed)
	}
	if c.OddOneOut != "" {
		what += "; without " + word.Quote(c.OddOneOut) + " the rest agree"
	}
	return what
}

// Unwrap returns [ErrConflict].
func (c *Conflict) Unwrap() error { return ErrConflict }
