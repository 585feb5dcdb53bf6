package placement

import (
	"axleend.example/inflation"
	"axleend.example/inspect/record"
	"axleend.example/inspect/report"
	"axleend.example/rules/origin"
	"axleend.example/weight"
)

// A Placement is which of the tires at hand goes where, the work that takes,
// and what is missing. It is plain data, comes out the same for the same
// input, and reads back from its JSON unchanged.
type Placement struct {
	// Version is that of the format, [Version].
	Version int `json:"placement"`
	report.Heading
	// Outcome says what is proposed.
	Outcome Outcome `json:"outcome"`
	// Stops says that the coach is not to be driven as it stands.
	Stops bool `json:"stops"`
	// NotJudged counts the entries of Unjudged and TooClose: rules that nobody can say the
	// proposed arrangement keeps.
	NotJudged int `json:"not_judged"`

	// Broken are the rules that the tires break where they were found: those
	// that forbid it, and milder ones that the moves satisfy.
	Broken []report.Item `json:"broken,omitempty"`
	// LoadFirst are the ratings of axles that are broken while a tire there carries more
	// than any at hand of its size and load range is stamped for: load comes off before a
	// tire is bought for such an axle, and no tire leaves it for what it carries.
	LoadFirst []report.Item `json:"load_first,omitempty"`
	// Moves are the wheels that end elsewhere, in the order of the places.
	Moves []WheelMove `json:"moves,omitempty"`
	// Steps are the work, in an order in which it can be done.
	Steps []Step `json:"steps,omitempty"`
	// Places are all places of the coach and its spares, with what stood there and what
	// will.
	Places []PlacedTire `json:"places"`
	// Set is the cold pressure of each axle with the tires proposed, where all
	// of them are at hand and it can be said.
	Set []PlacedSetting `json:"set,omitempty"`
	// Out are the tires that go nowhere.
	Out []TireTakenOff `json:"out,omitempty"`
	// Buy are what tires have to be bought.
	Buy []TireToBuy `json:"buy,omitempty"`
	// Wheels are what wheels have to be bought, for these tires or for some at hand
	// that are sound and whose own wheel is not good enough.
	Wheels []WheelToBuy `json:"wheels,omitempty"`
	// Pairs are the dual pairs as proposed, both tires at hand.
	Pairs []PlacedPair `json:"pairs,omitempty"`
	// Rotation says whether a rotation helps; it is absent where rules decide.
	Rotation record.Recorded[Rotation] `json:"rotation,omitzero"`
	// Price is what the assessment after the work would newly list that can be
	// planned, or is about a spare. Nothing that stops the coach or comes before the
	// trip, and no new gap in what is known, is the price of a move.
	Price []report.Item `json:"price,omitempty"`
	// NotProposed says what would have come up in better arrangements, for which
	// they are not proposed; empty where none was passed over.
	NotProposed string `json:"not_proposed,omitzero"`
	// StillToDo is what is to be done about a tire wherever it goes.
	StillToDo []report.Item `json:"still_to_do,omitempty"`
	// TooClose are rules that the proposed arrangement may break: too close to call.
	TooClose []report.Item `json:"too_close,omitempty"`
	// Unjudged is what could not be judged of it, each with what would settle it.
	Unjudged []report.NotJudged `json:"unjudged,omitempty"`
	// Assumptions are what was taken for granted, each a sentence.
	Assumptions []string `json:"assumptions,omitempty"`
	// Cautions are to be shown with the placement, each a sentence.
	Cautions []string `json:"cautions,omitempty"`
	// Packs are those whose rules were asked.
	Packs []string `json:"packs,omitempty"`
}

// A WheelMove is a wheel that ends elsewhere than it was found, or a tire that
// is turned on its wheel. Demount says that the tire has to come off a wheel;
// OntoWheel is then the wheel it goes onto, by the place where that was found, empty
// for one to buy.
type WheelMove struct {
	// Tire is the place where it was found.
	Tire string `json:"tire"`
	// To is the place where it goes.
	To string `json:"to"`
	// Demount says that the tire has to come off its wheel.
	Demount bool `json:"demount,omitzero"`
	// OntoWheel is then the wheel it goes onto, by the place where that was found; empty
	// is one to buy.
	OntoWheel string `json:"onto_wheel,omitzero"`
}

// A PlacedTire is one place with the tire found there and the one proposed,
// by the place where that was found; empty is one to buy, or an empty carrier.
type PlacedTire struct {
	// At is the place.
	At string `json:"at"`
	// Axle is the ID of its axle; empty for a carrier.
	Axle string `json:"axle,omitzero"`
	// FoundTread is the least depth of the tire found there.
	FoundTread record.Recorded[weight.Length] `json:"found_tread,omitzero"`
	// Tire is the one proposed, by the place where it was found; empty is one to buy, or
	// an empty carrier.
	Tire string `json:"tire,omitzero"`
	// Tread is its least depth.
	Tread record.Recorded[weight.Length] `json:"tread,omitzero"`
	// Air says whether it may be given air, by the report: of it where it was found, and
	// of the tire that it is proposed beside, whichever is worse. Unless it is free, what
	// the report lists about the tire comes before the pressure to set. Empty where no
	// tire at hand is proposed.
	Air report.Air `json:"air,omitzero"`
}

// A PlacedSetting is the one cold pressure to set across an axle. Estimated says
// that no table was seen for it. No tire whose [PlacedTire.Air] is not free is set to
// it before what the report lists about that tire is done.
type PlacedSetting struct {
	// Axle is the axle's ID.
	Axle string `json:"axle"`
	// Set is the pressure, rounded up to the gauge's step.
	Set inflation.Pressure `json:"set"`
	// Estimated says that no table was seen for it.
	Estimated bool `json:"estimated,omitzero"`
}

// A TireTakenOff is a tire that goes nowhere: it is to be replaced, or released by
// trained people. Why are the rules that say so; it is empty where the tire only
// finds no place beside the others. NoAir says that it, or its dual mate, ran low, or that it
// is a spare that was read at 0.
type TireTakenOff struct {
	// Tire is the place where it was found.
	Tire string `json:"tire"`
	// Stops says that nobody may drive on it.
	Stops bool `json:"stops,omitzero"`
	// NoAir says that it, or its dual mate, ran low, or that it is a spare that was read
	// at 0.
	NoAir bool `json:"no_air,omitzero"`
	// Why are the rules that say so; empty where it only finds no place beside the others.
	Why []report.Item `json:"why,omitempty"`
}

// A PlacedPair is a dual pair as proposed, by the places where its tires were
// found, and the reason for which one runs inside.
type PlacedPair struct {
	// Name is the axle end's.
	Name string `json:"name"`
	// Outer is the outer tire, by the place where it was found.
	Outer string `json:"outer"`
	// Inner is the inner one.
	Inner string `json:"inner"`
	// Why says why that one runs inside; empty where nothing decides.
	Why string `json:"why"`
}

// A Rotation says whether a rotation evens out wear, and why. Spread is how far
// apart the treads on the road are now. Least is the tread that the most worn
// tire would have left after as much wear again where everything stays,
// LeastRotated that after the rotation; both may be below zero.
type Rotation struct {
	// Helps says that a rotation evens out wear.
	Helps bool `json:"helps"`
	// Reason says why, or why not.
	Reason string `json:"reason"`
	// Spread is how far apart the treads on the road are now; not recorded unless all were
	// probed.
	Spread record.Recorded[weight.Length] `json:"spread,omitzero"`
	// Least is the tread that the most worn tire would have left after as much wear again
	// where everything stays; it may be below zero.
	Least record.Recorded[weight.Length] `json:"least,omitzero"`
	// LeastRotated is that after the rotation.
	LeastRotated record.Recorded[weight.Length] `json:"least_rotated,omitzero"`
	// Rules are those that call for a rotation.
	Rules []string `json:"rules,omitempty"`
	// Sources are where they come from.
	Sources []origin.Source `json:"sources,omitempty"`
}
