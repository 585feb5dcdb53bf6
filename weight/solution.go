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
	Name string `json:"name"`
	Load Mass   `json:"load"`
	// Tolerance is how far off the reading may be, either way. 0 is not
	// "exact": [Solve] then takes the scale's own tolerance at that load.
	Tolerance Mass `json:"tolerance,omitzero"`
	On        Set  `json:"on"`
}

// MaxReadings is how many readings [Solve] takes.
const MaxReadings = 64

// Sentinel causes of a reading that is left out.
var (
	// ErrReading is matched by every [ReadingError].
	ErrReading = errors.New("impossible reading")
	// ErrEmpty says that nothing stood on the plate.
	ErrEmpty = errors.New("an empty set of positions")
	// ErrNothing says that a reading weighs nothing, or less.
	ErrNothing = errors.New("a reading of nothing")
	// ErrTolerance says that a tolerance is negative.
	ErrTolerance = errors.New("negative tolerance")
	// ErrOutside says that a position is on no axle of the rig.
	ErrOutside = errors.New("a position outside the rig")
	// ErrWheel says that one wheel of a pair was read on an axle of single
	// tires.
	ErrWheel = errors.New("one wheel of a pair on an axle with single tires")
	// ErrTooMany says that there are more than [MaxReadings] readings.
	ErrTooMany = errors.New("too many readings")
	// ErrConflict is matched by every [Conflict].
	ErrConflict = errors.New("readings contradict each other")
)

// A ReadingError is a reading that was left out, and why. It matches
// [ErrReading] and its cause.
type ReadingError struct {
	Name string
	On   Set
	Err  error
}

// Error names the reading and the cause.
func (e *ReadingError) Error() string {
	return "reading " + word.Quote(e.Name) + ": " + e.Err.Error()
}

// Unwrap returns [ErrReading] and the cause.
func (e *ReadingError) Unwrap() []error { return []error{ErrReading, e.Err} }

// ConflictKind says how readings contradict each other.
type ConflictKind uint8

// The kinds of conflict: two ways to the same load that come out different,
// or a load that would have to be less than nothing (a side lighter than its
// own front end).
const (
	Disagree ConflictKind = iota + 1
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
	Kind ConflictKind `json:"kind"`
	// Readings names them, in the order given.
	Readings []string `json:"readings"`
	// Apart is how far they are apart and Within how far their tolerances
	// would allow, both rounded up: two passes 60 lb apart, within 40 lb.
	Apart  Mass `json:"apart"`
	Within Mass `json:"within"`
	// Where is, for [Negative], what would weigh less than nothing.
	Where Set `json:"where,omitzero"`
	// Suspects names each reading whose leaving out alone restores agreement
	// of all readings. OddOneOut is set when there is exactly one.
	Suspects  []string `json:"suspects,omitzero"`
	OddOneOut string   `json:"odd_one_out,omitzero"`
}

// Error names the readings and by how much they contradict each other.
func (c *Conflict) Error() string {
	names := make([]string, len(c.Readings))
	for i, n := range c.Readings {
		names[i] = word.Quote(n)
	}
	list := strings.Join(names, ", ")
	what := fmt.Sprintf("readings %s are %s apart: their tolerances allow %s", list, c.Apart, c.Within)
	if c.Kind == Negative {
		what = fmt.Sprintf("readings %s leave %s less than nothing: their tolerances allow %s", list, c.Apart, c.Within)
	}
	if c.OddOneOut != "" {
		what += "; without " + word.Quote(c.OddOneOut) + " the rest agree"
	}
	return what
}

// Unwrap returns [ErrConflict].
func (c *Conflict) Unwrap() error { return ErrConflict }

// State says how an [Estimate] came about. The zero State is Open.
type State uint8

// The states of an estimate.
const (
	// Open: the readings do not say.
	Open State = iota
	// Determined: the readings say, within the plus/minus.
	Determined
	// Assumed: it rests on an assumed share of an axle. The share leans to the
	// heavy side; the plus/minus is only that of what was read.
	Assumed
	// Disputed: it rests on readings that contradict each other. The truth
	// lies inside the plus/minus if just one of them is wrong.
	Disputed
)

var stateWords = []string{"open", "determined", "assumed", "disputed"}

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
	// Load is on the rig's grid (0.01 lb or 1 g, nearest); 0 when Open.
	Load Mass `json:"load"`
	// PlusMinus is the worst case: whatever the errors inside the tolerances,
	// the truth is no farther from Load. Rounded up to the grid, the rounding
	// of Load included.
	PlusMinus Mass `json:"plus_minus"`
	// Tilt is what an unlevel plate may have moved besides, where it is not
	// known to be level and one side was found by subtraction; rounded up.
	Tilt  Mass  `json:"tilt,omitzero"`
	State State `json:"state"`
	// Drafts counts the readings it rests on; 1 is a single draft.
	Drafts int `json:"drafts,omitzero"`
	// Subtracted says that some reading was subtracted.
	Subtracted bool `json:"subtracted,omitzero"`
}

// Known reports whether there is a load at all: anything but [Open].
func (e Estimate) Known() bool { return e.State != Open }

// Doubt is PlusMinus and Tilt together, up to the greatest Mass.
func (e Estimate) Doubt() Mass { return satAdd(e.PlusMinus, e.Tilt) }

// AtMost is Load and Doubt together, up to the greatest Mass.
func (e Estimate) AtMost() Mass {
	if e.Load < 0 {
		return e.Load + e.Doubt()
	}
	return satAdd(e.Load, e.Doubt())
}

// AtLeast is Load less Doubt; it may be negative.
func (e Estimate) AtLeast() Mass {
	if e.Load < 0 {
		return -satAdd(-e.Load, e.Doubt())
	}
	return e.Load - e.Doubt()
}

// A Residual is how far a reading lies from what all readings together say:
// reading less fitted load, rounded to the grid.
type Residual struct {
	Name string `json:"name"`
	Load Mass   `json:"load"` // as read
	By   Mass   `json:"by"`
	// Tolerance is what the reading may be off.
	Tolerance Mass `json:"tolerance"`
}

// A Placement is one further reading that a scale can take.
type Placement struct {
	On Set `json:"on"`
	// Words says what to do, for the driver.
	Words string `json:"words"`
}

// An OpenSet is a sum the readings do not determine, and the placements that
// would settle it.
type OpenSet struct {
	Set  Set    `json:"set"`
	Name string `json:"name"`
	// Settle is as few further placements as settle it; empty when this scale
	// cannot.
	Settle []Placement `json:"settle,omitzero"`
	// Fewest is false when the search was cut short: Settle is enough, but
	// fewer might do.
	Fewest bool `json:"fewest"`
}

// A Diagonal is a heavy pair of opposite ends: a front end and the ends of
// the other side behind it.
type Diagonal struct {
	Heavy Set      `json:"heavy"`
	By    Estimate `json:"by"`
}
