package cargo

import (
	"errors"

	"axleend.example/internal/word"
	"axleend.example/rules/origin"
	"axleend.example/weight"
)

// A Station is a place where something can be loaded.
type Station struct {
	Name string `json:"name"`
	// Behind is the distance behind the first axle, the towed unit standing
	// straight behind; negative is ahead of it.
	Behind weight.Length `json:"behind"`
	// Offset is the distance from the centerline, to the right; negative is to
	// the left.
	Offset weight.Length `json:"offset,omitzero"`
	// Most is the most this place may hold; 0 is not stated.
	Most weight.Mass `json:"most,omitzero"`
	// Towed marks a place in the towed unit.
	Towed bool `json:"towed,omitzero"`
}

// A Change is mass put on (or, negative, taken off) at a place: a tank filled
// or emptied, people seated, cargo.
type Change struct {
	Name string      `json:"name"`
	Mass weight.Mass `json:"mass"`
	At   Station     `json:"at"`
}

// A Stage is one state of a trip: the weighed state with all of its changes.
type Stage struct {
	Name    string   `json:"name"`
	Changes []Change `json:"changes"`
}

// Sentinel causes of a plan that cannot be made.
var (
	// ErrGeometry says that a distance that moments need is not known.
	ErrGeometry = errors.New("a distance is not known")
	// ErrPlan says that a plan's input contradicts itself.
	ErrPlan = errors.New("impossible plan")
)

// A Least is the least that must rest on a set, such as on the steer axle.
type Least struct {
	Name   string        `json:"name"`
	Least  weight.Mass   `json:"least"`
	On     weight.Set    `json:"on"`
	Source origin.Source `json:"source"`
}

// A Room is how much may still be loaded at a place.
type Room struct {
	// Mass is the most that surely breaks no limit, rounded down to the grid;
	// 0 when a limit that loading there presses on is not surely kept.
	Mass weight.Mass `json:"mass"`
	// Binds names what binds first: a limit, or a least. Bound is its set. Both
	// are empty when nothing judged binds; then Mass is 0 too and Known false.
	Binds string     `json:"binds,omitzero"`
	Bound weight.Set `json:"bound,omitzero"`
	Known bool       `json:"known"`
	// NotJudged names limits that loading there may press on, but whose load
	// is not known; Mass does not answer for them.
	NotJudged []string `json:"not_judged,omitzero"`
	// Kind is the kind of limit that binds; zero for a least.
	Kind LimitKind `json:"kind,omitzero"`
}

// An Item is cargo that may move.
type Item struct {
	Name string      `json:"name"`
	Mass weight.Mass `json:"mass"`
	// At and To are names of stations: where it is, and where it may go. A nil
	// To is anywhere.
	At string   `json:"at"`
	To []string `json:"to,omitzero"`
}

// A TongueLimit keeps a tongue or pin within its band while cargo moves.
type TongueLimit struct {
	Band Band `json:"band"`
	// Weight is the tongue weight as loaded now, Towed the whole loaded towed
	// unit (tongue included).
	Weight weight.Estimate `json:"weight"`
	Towed  weight.Estimate `json:"towed"`
}

// Cargo is the question [PlanMoves] answers.
type Cargo struct {
	Stations []Station `json:"stations"`
	Items    []Item    `json:"items"`
	Limits   []Limit   `json:"limits"`
	Leasts   []Least   `json:"leasts,omitzero"`
	// Tongue is nil when there is none to keep.
	Tongue *TongueLimit `json:"tongue,omitzero"`
	// Budget is how many arrangements are tried at most; 0 is [UsualBudget].
	Budget int `json:"budget,omitzero"`
}

// UsualBudget is the search budget where none is stated.
const UsualBudget = 20_000_000

// Outcome is how a search for moves ended.
type Outcome uint8

// The outcomes.
const (
	// NothingToMove: every limit judged is kept as it is.
	NothingToMove Outcome = iota + 1
	// Best: the moves are proven to be the least weight, then the fewest items.
	Best
	// BestFound: the moves are enough, but the budget ran out; no plan moves
	// less than NoLessThan.
	BestFound
	// MustStay: proven that no moves are enough; the least weight that must
	// stay home is Stay, and the moves are what else it takes.
	MustStay
	// MustStayFound: proven that no moves are enough, and Stay is enough, but
	// the budget ran out; no less than NoLessThan must stay.
	MustStayFound
	// Hopeless: proven that even leaving every item home is not enough.
	Hopeless
	// NotSettled: the budget ran out with no plan found; no plan moves less
	// than NoLessThan.
	NotSettled
)

var outcomeWords = []string{"", "nothing to move", "best", "best found", "must stay", "must stay, best found", "hopeless", "not settled"}

// String gives the outcome in words, or "not known".
func (o Outcome) String() string { return word.Or(outcomeWords, int(o)) }

// MarshalText gives what String gives; the zero Outcome is empty text.
func (o Outcome) MarshalText() ([]byte, error) { return word.Out(o == 0, o.String()) }

// UnmarshalText reads what MarshalText writes; any other text gives an error
// that matches [weight.ErrWord].
func (o *Outcome) UnmarshalText(text []byte) error {
	return word.In(o, outcomeWords, text, weight.ErrWord)
}

// A Move is one item put somewhere else.
type Move struct {
	Item string      `json:"item"`
	Mass weight.Mass `json:"mass"`
	From string      `json:"from"`
	To   string      `json:"to"`
}

// Moves is a plan for moving cargo.
type Moves struct {
	Outcome Outcome `json:"outcome"`
	Moves   []Move  `json:"moves,omitzero"`
	// Moved is the weight that is moved within the rig.
	Moved weight.Mass `json:"moved"`
	// StayHome names the items that stay, Stay is their weight.
	StayHome []string    `json:"stay_home,omitzero"`
	Stay     weight.Mass `json:"stay,omitzero"`
	// NoLessThan is the proven bound: of the weight moved, or for the two
	// must-stay outcomes of the weight that stays.
	NoLessThan weight.Mass `json:"no_less_than"`
	// Blocking names limits that no arrangement keeps, whatever moves.
	Blocking []string `json:"blocking,omitzero"`
	// NotJudged names limits whose load is not known.
	NotJudged []string         `json:"not_judged,omitzero"`
	Cautions  []weight.Caution `json:"cautions"`
	// Tried is how many arrangements the search looked at.
	Tried int `json:"tried"`
}
