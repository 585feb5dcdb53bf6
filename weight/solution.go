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

var conflictWords = []string{"", "disagree", "negative"}

// String gives "disagree" or "negative".
func (k ConflictKind) String() string { return word.Or(conflictWords, int(k)) }

// MarshalText gives what String gives; the zero kind is empty text.
func (k ConflictKind) MarshalText() ([]byte, error) { return word.Out(k == 0, k.String()) }

// UnmarshalText reads what MarshalText writes; any other text gives an error
// that matches [ErrWord].
func (k *ConflictKind) UnmarshalText(text []byte) error {
	return word.In(k, conflictWords, text, ErrWord)
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
	// Where is, for [Negative], what would weigh less than nothing.
	Where Set `json:"where,omitzero"`
	// Suspects names each reading whose leaving out alone restores agreement
	// of all readings.
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

// State says how an [Estimate] came about. The zero State is
// Undetermined.
type State uint8

// The states of an estimate.
const (
	// Undetermined: the readings do not say.
	Undetermined State = iota
	// Determined: the readings say, within the plus/minus.
	Determined
	// Assumed: it rests on an assumed share of an axle. The share leans to the
	// heavy side; the plus/minus is only that of what was read.
	Assumed
	// Disputed: it rests on readings that contradict each other. The truth
	// lies inside the plus/minus if just one of them is wrong.
	Disputed
)

var stateWords = []string{"undetermined", "determined", "assumed", "disputed"}

// String gives "open", "determined", "assumed" or "disputed".
func (s State) String() string {
	if int(s) < len(stateWords) {
		return stateWords[s]
	}
	return "not known"
}

// MarshalText gives what String gives.
func (s State) MarshalText() ([]byte, error) { return []byte(s.String()), nil }

// UnmarshalText reads what String gives; any other text gives an error that
// matches [ErrWord].
func (s *State) UnmarshalText(text []byte) error { return word.In(s, stateWords, text, ErrWord) }

// An Estimate is what the readings say about one sum of positions.
type Estimate struct {
	// Load is on the rig's grid (0.01 lb or 1 g, nearest); 0 when
	// Undetermined.
	Load Mass `json:"load"`
	// PlusMinus is the whole doubt, in the worst case: whatever the errors
	// inside the tolerances, and whatever an unlevel plate moved, the truth is
	// no farther from Load. Rounded up to the grid, the rounding of Load
	// included; what does not fit is the greatest Mass.
	PlusMinus Mass `json:"plus_minus"`
	// FromSlope is the part of PlusMinus that an unlevel plate may have moved,
	// where it is not known to be level and one side was found by subtraction;
	// rounded up. The rest comes from the scale: see [Estimate.FromScale].
	FromSlope Mass `json:"from_slope,omitzero"`
	// State says whether there is a load, and how it was found.
	State State `json:"state"`
	// Drafts counts the readings it rests on; 1 is a single draft.
	Drafts int `json:"drafts,omitzero"`
	// Subtracted says that some reading was subtracted.
	Subtracted bool `json:"subtracted,omitzero"`
}

// Known reports whether there is a load at all: anything but [Undetermined].
func (e Estimate) Known() bool { return e.State != Undetermined }

// FromScale is the part of PlusMinus that comes from the tolerances of the
// readings and from rounding; the rest is FromSlope.
func (e Estimate) FromScale() Mass { return max(e.PlusMinus-e.FromSlope, 0) }

// AtMost is Load and PlusMinus together, up to the greatest Mass.
func (e Estimate) AtMost() Mass {
	if e.Load < 0 {
		return e.Load + e.PlusMinus
	}
	return satAdd(e.Load, e.PlusMinus)
}

// AtLeast is Load less PlusMinus; it may be negative.
func (e Estimate) AtLeast() Mass {
	if e.Load < 0 {
		return -satAdd(-e.Load, e.PlusMinus)
	}
	return e.Load - e.PlusMinus
}

// A Residual is how far a reading lies from what all readings together say.
type Residual struct {
	// Name is the reading's.
	Name string `json:"name"`
	// Load is the reading's, as read.
	Load Mass `json:"load"`
	// Off is the reading less what all readings together say, rounded to the
	// grid (nearest).
	Off Mass `json:"off"`
	// Tolerance is what the reading may be off, either way.
	Tolerance Mass `json:"tolerance"`
}

// A NextWeighing is one further reading that a scale can take.
type NextWeighing struct {
	// On is what stands on the plate.
	On Set `json:"on"`
	// Instruction says what to do, for the driver.
	Instruction string `json:"instruction"`
}

// An UndeterminedSum is a sum the readings do not determine, and the further
// weighings that would settle it.
type UndeterminedSum struct {
	// Set is the sum's positions.
	Set Set `json:"set"`
	// Name is the set in words; see [Rig.Name].
	Name string `json:"name"`
	// Weighings are as few further weighings as settle it; empty when this
	// scale cannot.
	Weighings []NextWeighing `json:"weighings,omitzero"`
	// Fewest is false when the search was cut short: Weighings are enough, but
	// fewer might do.
	Fewest bool `json:"fewest"`
}

// A Diagonal is a heavy pair of opposite ends: a front end and the ends of
// the other side behind it.
type Diagonal struct {
	// Heavy is the positions of the heavier diagonal.
	Heavy Set `json:"heavy"`
	// By is how much more it carries than the other one.
	By Estimate `json:"by"`
}
