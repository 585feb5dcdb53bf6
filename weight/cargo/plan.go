package cargo

import (
	"errors"

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
}
