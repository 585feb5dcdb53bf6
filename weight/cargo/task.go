package cargo

import (
	"axleend.example/internal/word"
	"axleend.example/weight"
)

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
	// Budget bounds the work of the search, counted in effects looked at; 0 is
	// [UsualBudget].
	Budget int `json:"budget,omitzero"`
}

// UsualBudget is the search budget where none is stated.
const UsualBudget = 100_000_000

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
	// MustStay: proven that no moves are enough; StayMass is the least weight
	// that must stay home; the moves are needed besides.
	MustStay
	// MustStayFound: proven that no moves are enough; leaving StayMass home is
	// enough, but the budget ran out: no less than NoLessThan must stay.
	MustStayFound
	// Hopeless: proven that even leaving every item home is not enough.
	Hopeless
	// NotSettled: the budget ran out, and whether moves alone are enough is not
	// known. If a plan is given, it is enough with what stays home in it.
	NotSettled
)

var outcomes = word.List[Outcome]{Kind: "outcome", Unknown: weight.ErrWord, Words: []string{"", "nothing to move", "best", "best found", "must stay", "must stay, best found", "hopeless", "not settled"}}

// String gives the outcome in words, or "not known".
func (o Outcome) String() string { return outcomes.String(o) }

// AppendText appends what String gives; the zero Outcome is empty text. An
// unknown value is an error.
func (o Outcome) AppendText(dst []byte) ([]byte, error) { return outcomes.Append(dst, o) }

// MarshalText writes what [Outcome.AppendText] appends.
func (o Outcome) MarshalText() ([]byte, error) { return outcomes.Text(o) }

// UnmarshalText reads what MarshalText writes; any other text gives an error
// that matches [weight.ErrWord].
func (o *Outcome) UnmarshalText(text []byte) error {
	return outcomes.Read(o, text)
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
	// NoLessThan is the proven bound: no plan moves less. For the two must-stay
	// outcomes, and where Blocking names a limit, no less may stay home.
	NoLessThan weight.Mass `json:"no_less_than"`
	// Blocking names limits that no arrangement keeps, whatever moves.
	Blocking []string `json:"blocking,omitzero"`
	// NotJudged names limits whose load is not known.
	NotJudged []string `json:"not_judged,omitzero"`
	// Cautions are what must be said beside the plan.
	Cautions []weight.Caution `json:"cautions"`
	// Work is what the search took, counted in effects looked at.
	Work int `json:"work"`
}
