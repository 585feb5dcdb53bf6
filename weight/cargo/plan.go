package cargo

import (
	"errors"

	"axleend.example/internal/word"
	"axleend.example/rules/origin"
	"axleend.example/weight"
)

// A Station is a place where something can be loaded.
type Station struct {
	// Name is how it is called in an answer, and by items.
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
	// Name is how it is called in an error.
	Name string `json:"name"`
	// Mass is what is put on; negative is taken off.
	Mass weight.Mass `json:"mass"`
	// At is the place.
	At Station `json:"at"`
}

// A Stage is one state of a trip: the weighed state with all of its changes.
type Stage struct {
	// Name is how it is called in an answer.
	Name string `json:"name"`
	// Changes are all made to the weighed state.
	Changes []Change `json:"changes"`
}

// Sentinel causes of a plan that cannot be made.
var (
	// ErrGeometry says that a distance that moments need is not known.
	ErrGeometry = errors.New("a distance is not known")
	// ErrPlan says that a plan's input contradicts itself.
	ErrPlan = errors.New("impossible plan")
)

// A LeastLoad is the least that must rest on a set, such as on the steer axle.
type LeastLoad struct {
	// Name is how it is called in an answer.
	Name string `json:"name"`
	// Load is the least that must rest on the set.
	Load weight.Mass `json:"load"`
	// On is the set.
	On weight.Set `json:"on"`
	// Source is where the figure comes from.
	Source origin.Source `json:"source"`
}

// A Room is how much may still be loaded at a place.
type Room struct {
	// Mass is the most that surely breaks no limit, rounded down to the grid;
	// 0 when a limit that loading there presses on is not surely kept.
	Mass weight.Mass `json:"mass"`
	// LimitedBy names what binds first: a limit, or a least load. It is empty
	// when nothing judged binds; then Mass is 0 too and Known false.
	LimitedBy string `json:"binds,omitzero"`
	// LimitedOn is the set of what binds first; empty for a place's own limit.
	LimitedOn weight.Set `json:"bound,omitzero"`
	// Known says whether Mass answers the question.
	Known bool `json:"known"`
	// NotJudged names limits that loading there may press on, but whose load
	// is not known; Mass does not answer for them.
	NotJudged []string `json:"not_judged,omitzero"`
	// LimitKind is the kind of limit that binds; zero for a least load.
	LimitKind LimitKind `json:"kind,omitzero"`
}

// An Item is cargo that may move.
type Item struct {
	// Name is how it is called in an answer.
	Name string `json:"name"`
	// Mass is what it weighs, more than nothing.
	Mass weight.Mass `json:"mass"`
	// At is the name of the station where it is.
	At string `json:"at"`
	// To are the names of the stations where it may go; nil is anywhere.
	To []string `json:"to,omitzero"`
}

// A TongueLimit keeps a tongue or pin within its band while cargo moves.
type TongueLimit struct {
	// Band is the shares of Towed that Weight must stay between.
	Band Band `json:"band"`
	// Weight is the tongue weight as loaded now.
	Weight weight.Estimate `json:"weight"`
	// Towed is the whole loaded towed unit, its tongue included.
	Towed weight.Estimate `json:"towed"`
}

// A Task is cargo that may move, and what must be kept: the question
// [PlanMoves] answers.
type Task struct {
	// Stations are the places where cargo may be, at most [MaxStations].
	Stations []Station `json:"stations"`
	// Items are the cargo that may move, at most [MaxItems].
	Items []Item `json:"items"`
	// Limits are the ratings to keep, with all doubt to spare.
	Limits []Limit `json:"limits"`
	// LeastLoads are the least loads to keep, with all doubt to spare.
	LeastLoads []LeastLoad `json:"least_loads,omitzero"`
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
	// Item is its name.
	Item string `json:"item"`
	// Mass is what it weighs.
	Mass weight.Mass `json:"mass"`
	// From is the name of the station where it is.
	From string `json:"from"`
	// To is the name of the station where it goes.
	To string `json:"to"`
}

// Moves is a plan for moving cargo.
type Moves struct {
	// Outcome says what the plan is worth, or why there is none.
	Outcome Outcome `json:"outcome"`
	// Moves are the items to put somewhere else, the heaviest first.
	Moves []Move `json:"moves,omitzero"`
	// MovedMass is the weight that is moved within the rig.
	MovedMass weight.Mass `json:"moved"`
	// StayHome names the items that stay, the heaviest first.
	StayHome []string `json:"stay_home,omitzero"`
	// StayMass is what the items that stay weigh.
	StayMass weight.Mass `json:"stay,omitzero"`
	// NoLessThan is the proven bound: of the weight moved, or for the two
	// must-stay outcomes of the weight that stays.
	NoLessThan weight.Mass `json:"no_less_than"`
	// Blocking names limits that no arrangement keeps, whatever moves.
	Blocking []string `json:"blocking,omitzero"`
	// NotJudged names limits whose load is not known.
	NotJudged []string `json:"not_judged,omitzero"`
	// Cautions are what must be said beside the plan.
	Cautions []weight.Caution `json:"cautions"`
	// Tried is how many arrangements the search looked at.
	Tried int `json:"tried"`
}
