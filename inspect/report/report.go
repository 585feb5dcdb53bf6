package report

import (
	"slices"

	"axleend.example/dotcode"
	"axleend.example/inflation"
	"axleend.example/inflation/sidewall"
	"axleend.example/inspect/record"
	"axleend.example/inspect/record/condition"
	"axleend.example/internal/word"
	"axleend.example/rules"
	"axleend.example/rules/origin"
	"axleend.example/weight"
)

// Version is the version of the report format that this package writes.
const Version = 1

// A Report is the whole answer to a [record.Visit]: loads, settings, tires, what is
// to be done, what was not judged, and the cautions. It is plain data, comes
// out the same for the same input, and reads back from its JSON unchanged.
type Report struct {
	// Version is that of the format, [Version].
	Version int `json:"report"`
	// Invented says that the visit was made up, for a demonstration or a test.
	Invented bool `json:"invented,omitzero"`
	// Date is the day of the visit.
	Date dotcode.Date `json:"date"`
	// System is the unit system: figures land on its grid and are shown in it.
	System weight.System `json:"units"`
	// PressureUnit is the unit that pressures are shown in, as [record.Visit] has it;
	// empty for that of System.
	PressureUnit string `json:"pressure_unit,omitzero"`
	// Coach is which coach, in the words of the visit; empty where none stand there.
	Coach string `json:"coach,omitzero"`
	// Odometer is what it read.
	Odometer record.Recorded[weight.Length] `json:"odometer,omitzero"`
	// LoadState is what was aboard, in the words of the visit.
	LoadState string `json:"load_state,omitzero"`
	// ParkedFor is how long the coach had stood when its tires were read.
	ParkedFor record.Recorded[record.ParkedFor] `json:"stood,omitzero"`
	// AirTemperature is that of the outside air.
	AirTemperature record.Recorded[inflation.Temperature] `json:"air_temperature,omitzero"`
	// Gauge is what tires were read with, in the words of the visit.
	Gauge string `json:"gauge,omitzero"`
	// GaugeTolerance is by how much it may be off either way, as recorded.
	GaugeTolerance record.Recorded[inflation.Pressure] `json:"gauge_tolerance,omitzero"`
	// NextVisit is the day that the visit says the next one is due.
	NextVisit record.Recorded[dotcode.Date] `json:"next_visit,omitzero"`

	// Drive is the one answer to whether the coach may drive.
	Drive Drive `json:"drive"`
	// NotJudged counts the entries of Unjudged. Neither this nor Drive says that a coach
	// is safe.
	NotJudged int `json:"not_judged"`
	// CanRead counts the entries of Unjudged that can still be read here, with a
	// gauge, a probe, a scale or a look; the others no walk-around shows.
	CanRead int `json:"can_read"`

	// Axles are those of the coach from the front, then those of the towed unit.
	Axles []AxleLine `json:"axles,omitempty"`
	// Loads are the axle ends, the axles, the coach and the combination, in that order,
	// weighed or not.
	Loads []LoadLine `json:"loads,omitempty"`
	// Readings are those of the scale as used, in the order of the visit; none where
	// nothing was weighed.
	Readings []ReadingLine `json:"readings,omitempty"`
	// Settings are the cold pressures to set, one for each axle that it could be asked of.
	Settings []inflation.Setting `json:"settings,omitempty"`
	// Tires are those on wheels, axle by axle as [record.Layout] orders them, then the
	// spares.
	Tires []TireLine `json:"tires,omitempty"`
	// Pairs are the dual pairs, axle by axle, left before right.
	Pairs []PairLine `json:"pairs,omitempty"`
	// Slowest is the lowest speed that a speed symbol allows; its zero value where none
	// was read.
	Slowest SpeedLine `json:"slowest,omitzero"`
	// Todo is what is to be done, the worst first.
	Todo []Item `json:"todo,omitempty"`
	// Unjudged is what could not be judged, each with what would settle it.
	Unjudged []NotJudged `json:"unjudged,omitempty"`
	// Kept counts the rules that were kept, each once for every thing that it
	// judged.
	Kept int `json:"kept"`
	// Cautions are to be shown with the report, each a sentence or two.
	Cautions []string `json:"cautions,omitempty"`
	// Packs are those whose rules were asked, in their order.
	Packs []string `json:"packs,omitempty"`
	// Verdicts are all that the rules say, kept and not judged ones too, where the
	// setup asked for every verdict; else empty.
	Verdicts []VerdictLine `json:"verdicts,omitempty"`
}

// A VerdictLine is what one rule says of one subject.
type VerdictLine struct {
	// Rule is the rule with its pack, such as coach-care/run-low.
	Rule string `json:"rule"`
	// Subject is the kind of thing it is about, such as tire.
	Subject string `json:"subject"`
	// Where is its name, such as steer-left.
	Where string `json:"where"`
	// Verdict is what the rule says.
	Verdict rules.Verdict `json:"verdict"`
	// Asked says that what is not recorded is a question at the rule's action.
	Asked bool `json:"asked,omitzero"`
}

// An AxleLine is one axle as it stands under the coach, from the front, the
// towed unit's last: listed even where nothing else was written down about it.
// Its setting has its ID as name, its tires have it as axle.
type AxleLine struct {
	// ID is what the visit calls it.
	ID string `json:"id"`
	// Role is what it does.
	Role record.Role `json:"role"`
	// Fitment says whether each end has one tire or two.
	Fitment weight.Fitment `json:"fitment"`
	// Rows are those rows of the table behind the setting that the load range
	// allows, each with the load on one tire; none where there was no table.
	// Axles on one table share them: change a copy, not these.
	Rows []inflation.Row `json:"rows,omitempty"`
}

// A LoadKind says what a [LoadLine] is about.
type LoadKind uint8

// The kinds of load lines, in the order of a report.
const (
	EndLoad LoadKind = iota + 1
	AxleLoad
	CoachLoad
	CombinationLoad
)

var loadKindWords = word.List[LoadKind]{Kind: "kind", Words: []string{"", "end", "axle", "coach", "combination"}, Unknown: word.Err}

// String gives "end", "axle", "coach" or "combination".
func (k LoadKind) String() string { return loadKindWords.String(k) }

// AppendText appends the word, and nothing for the zero LoadKind. An unknown value
// is an error.
func (k LoadKind) AppendText(dst []byte) ([]byte, error) { return loadKindWords.Append(dst, k) }

// MarshalText writes what [LoadKind.AppendText] appends.
func (k LoadKind) MarshalText() ([]byte, error) { return loadKindWords.Text(k) }

// UnmarshalText reads what [LoadKind.MarshalText] writes.
func (k *LoadKind) UnmarshalText(text []byte) error { return loadKindWords.Read(k, text) }

// A LoadLine is what an axle end, an axle, the coach or the combination
// carries, and the ratings it was held against.
type LoadLine struct {
	// Name is the end's or the axle's, or coach, or combination.
	Name string `json:"name"`
	// Kind says which of them it is.
	Kind LoadKind `json:"kind"`
	// Estimate is the load with its worst-case plus/minus. Its State says where it could
	// not be found.
	Estimate weight.Estimate `json:"estimate"`
	// Ratings are what rules hold it to, one line for each rule; none where no rating was
	// recorded.
	Ratings []RatingLine `json:"ratings,omitempty"`
	// Settle says, for a load that is open, which further weighings of this
	// scale would settle it.
	Settle []string `json:"settle,omitempty"`
}

// HalfGAWR is the name of the rating of an axle's end, where a rule says that each is
// good for half of the axle's: see [RatingLine.Name].
const HalfGAWR = "half GAWR"

// A RatingLine is one rating that a load was held against. Room is the rating
// less the load less its doubt: what may surely be added; below zero the
// rating is not surely kept.
type RatingLine struct {
	// Rule is the rule with its pack, such as label/gawr.
	Rule string `json:"rule"`
	// Name is the rating in words, such as "half GAWR".
	Name string `json:"name"`
	// Rating is the most that may rest there, rounded down.
	Rating weight.Mass `json:"rating"`
	// Room is what may surely be added: rating less load less doubt. Below zero the rating
	// is not surely kept.
	Room weight.Mass `json:"room"`
	// Verdict is what the rule says.
	Verdict rules.Verdict `json:"verdict"`
}

// A ReadingLine is a scale reading as used, and how far it lies from what all
// readings together say.
type ReadingLine struct {
	// Name is the reading's, or what stood on the plate.
	Name string `json:"name"`
	// Load is what the scale showed.
	Load weight.Mass `json:"load"`
	// Tolerance is by how much it may be off either way: as recorded, else the handbook's.
	Tolerance weight.Mass `json:"tolerance"`
	// Residual is the reading less what all readings together say, rounded to the nearest
	// step of the grid.
	Residual weight.Mass `json:"residual,omitzero"`
}

// A TireLine is one tire: what is stamped on it, what was found, and how old
// it can be.
type TireLine struct {
	// At is its place, such as drive-left-inner, or the spare's name.
	At string `json:"at"`
	// Axle is the axle's ID, empty for a spare, which has no side either.
	Axle string `json:"axle,omitzero"`
	// Side is that of the coach.
	Side weight.Side `json:"side,omitzero"`
	// Place says whether it runs alone or as which of two.
	Place record.Place `json:"place,omitzero"`
	// Size is as on its sidewall; empty where nobody read it.
	Size string `json:"size,omitzero"`
	// Load is what it carries, of a pair half of the end's where nothing says how they
	// share, rounded up.
	Load weight.Estimate `json:"load,omitzero"`
	// Found is the pressure as read when the coach came in.
	Found record.Recorded[inflation.Pressure] `json:"found,omitzero"`
	// LowestDriven is the lowest that it is known to have been driven at.
	LowestDriven record.Recorded[inflation.Pressure] `json:"lowest,omitzero"`
	// LeftAt is what it was left at.
	LeftAt record.Recorded[inflation.Pressure] `json:"left,omitzero"`
	// Hot says that it was not cold when it was read: driven on, in the sun, or fast.
	Hot bool `json:"hot,omitzero"`
	// Reference is the pressure that Found is compared with, rounded up; not recorded
	// where there is none.
	Reference record.Recorded[inflation.Pressure] `json:"reference,omitzero"`
	// ReferenceFrom says where that comes from: for its load, last set, placard, or kept
	// ready at.
	ReferenceFrom string `json:"reference_from,omitzero"`
	// FlatAt is the pressure at or under which it counts as flat, the highest that a rule
	// gives, rounded up; not recorded where no rule could.
	FlatAt record.Recorded[inflation.Pressure] `json:"flat_at,omitzero"`
	// Unjudged says why it cannot be told whether it ran low.
	Unjudged string `json:"unjudged,omitzero"`
	// TorqueOpen says that its wheel was put on, and that no check of its nuts on a later
	// day is recorded.
	TorqueOpen bool `json:"torque_open,omitzero"`
	// Tread is the least of the depths probed.
	Tread record.Recorded[weight.Length] `json:"tread,omitzero"`
	// TreadAt has all the depths.
	TreadAt record.Recorded[record.Treads] `json:"tread_at,omitzero"`
	// Service is the service description on its sidewall.
	Service record.Recorded[record.Service] `json:"service,omitzero"`
	// Sidewalls are those that were looked at.
	Sidewalls record.Recorded[record.Sidewalls] `json:"sidewalls,omitzero"`
	// CrackDepth is that of the deepest crack, as measured.
	CrackDepth record.Recorded[weight.Length] `json:"crack_depth,omitzero"`
	// CutDepth is that of the deepest cut, as measured.
	CutDepth record.Recorded[weight.Length] `json:"cut_depth,omitzero"`
	// InjuryWidth is the width of the largest hole, as measured.
	InjuryWidth record.Recorded[weight.Length] `json:"injury_width,omitzero"`
	// InjuryAt is where that is.
	InjuryAt record.Recorded[record.InjuryAt] `json:"injury_at,omitzero"`
	// Number is the identification number of the sidewall with the date, as read; empty
	// where nobody read one.
	Number string `json:"number,omitzero"`
	// OtherNumber is what the other sidewall has.
	OtherNumber string `json:"other_number,omitzero"`
	// WholeNumber says that Number can be a whole one, as a look for recalls needs it.
	WholeNumber bool `json:"whole_number,omitzero"`
	// Made are the readings of its date code, as [dotcode.Number.Candidates] orders
	// them; none where it cannot be read.
	Made []dotcode.Candidate `json:"made,omitempty"`
	// Age is from the youngest to the oldest that the code allows on the day of the visit.
	Age dotcode.Age `json:"age,omitzero"`
	// AgeLimits are the ages at which rules ask something of it, the least first,
	// whether its own is known or not.
	AgeLimits []AgeLimit `json:"age_limits,omitempty"`
	// MadeBefore is 2 July 2000 for a three-digit code, whatever its decade.
	MadeBefore dotcode.Date `json:"made_before,omitzero"`
	// Casing says what is missing about a retread, or a tire that can be one by
	// its number: Made and Age are then those of the retreading.
	Casing string `json:"casing,omitzero"`
	// Seen is what was seen on it; not recorded where nobody looked.
	Seen record.Recorded[condition.Set] `json:"seen,omitzero"`
	// Note is what the visit says of it in words.
	Note string `json:"note,omitzero"`
	// Air says whether it may be aired up on the coach.
	Air Air `json:"air,omitzero"`
	// Low says whether it was driven too low.
	Low Low `json:"low,omitzero"`
	// Worst is the worst action for this tire, empty when nothing was found.
	Worst Action `json:"worst,omitzero"`
}

// A PairLine is one dual pair.
type PairLine struct {
	// Name is the axle end's.
	Name string `json:"name"`
	// TreadDifference is between their least depths; not recorded unless both were probed.
	TreadDifference record.Recorded[weight.Length] `json:"tread_difference,omitzero"`
	// DeeperInside says whether the one with more tread runs inside.
	DeeperInside record.Recorded[bool] `json:"deeper_inside,omitzero"`
	// FoundDifference is between their cold pressures as found, rounded up where, of psi
	// and kPa, no decimal names it.
	FoundDifference record.Recorded[inflation.Pressure] `json:"found_difference,omitzero"`
	// LeftAtDifference is between the pressures they were left at, in the same way.
	LeftAtDifference record.Recorded[inflation.Pressure] `json:"left_difference,omitzero"`
	// AloneLoad is what either tire carries while its mate is off the ground, on a block
	// or beside a flat: the whole end's load. It is 0 where that is not known.
	AloneLoad weight.Mass `json:"alone_load,omitzero"`
	// AloneRating is the lower of their ratings, 0 where not both are known.
	AloneRating weight.Mass `json:"alone_rating,omitzero"`
	// AlonePercent is AloneLoad in percent of AloneRating, rounded up.
	AlonePercent int `json:"alone_percent,omitzero"`
	// Inside names the place of the tire that belongs inside; empty where nothing tells,
	// or the two may not stay together.
	Inside string `json:"inside,omitzero"`
	// InsideBy says why, and which reason yields where two disagree.
	InsideBy string `json:"inside_by,omitzero"`
	// Worst is the worst action for this pair, empty where nothing was found.
	Worst Action `json:"worst,omitzero"`
}

// A SpeedLine is the lowest speed that the speed symbols of the mounted tires
// allow, which tires have that symbol, and on which none was read: those may
// allow less. Speed is exact in km/h; show it rounded down.
type SpeedLine struct {
	// Symbol is the slowest one read.
	Symbol sidewall.SpeedSymbol `json:"symbol,omitzero"`
	// Speed is what it allows, exact in km/h: show it rounded down.
	Speed inflation.Speed `json:"speed,omitzero"`
	// At are the tires that have it.
	At []string `json:"at,omitempty"`
	// NotRead are the tires on which none was read; they may allow less.
	NotRead []string `json:"not_read,omitempty"`
}

// An Item is something that is to be done, or that was too close to call.
type Item struct {
	// Action is the name of what kind of work it is, such as before_trip.
	Action Action `json:"action"`
	// Stops says that the coach is not to be driven before it is done.
	Stops bool `json:"stops,omitzero"`
	// Verdict is Breached, TooClose, or NotRecorded where it is a question.
	Verdict rules.Verdict `json:"verdict"`
	// Where is the tire, pair, end, axle or vehicle that it is about.
	Where string `json:"where"`
	// What says what is wrong, in words.
	What string `json:"what"`
	// Found is what was found, in words; empty where the rule has no quantity.
	Found string `json:"found,omitzero"`
	// Bound is what it was held against, in words.
	Bound string `json:"bound,omitzero"`
	// Advice is what to do, in words.
	Advice string `json:"advice"`
	// Causes are what may have led to it, the likeliest first, none certain.
	Causes []string `json:"causes,omitempty"`
	// WheelOff says that following the advice takes a wheel off.
	WheelOff bool `json:"wheel_off,omitzero"`
	// Air says that following the advice puts air in. It is never set for a
	// tire whose air is not free.
	Air bool `json:"air,omitzero"`
	// OnlyAir marks an item that stops the coach, and for which setting the
	// pressure here is enough, once what is asked about the tire is settled.
	OnlyAir bool `json:"only_air,omitzero"`
	// Rules are those that say so, with their packs; none where the reading itself is what
	// is wrong.
	Rules []string `json:"rules,omitempty"`
	// Sources are where they come from.
	Sources []origin.Source `json:"sources,omitempty"`
}

// SaysAs reports whether two entries say the same of their places, so that a page
// has them under one number: all but where, what was found, and the bound.
func (it *Item) SaysAs(other *Item) bool {
	return it.What == other.What && it.Advice == other.Advice && it.Action == other.Action && it.Verdict == other.Verdict &&
		it.Stops == other.Stops && slices.Equal(it.Rules, other.Rules) && slices.Equal(it.Causes, other.Causes)
}

// A NotJudged is something that could not be judged, what would settle it, and the
// rules that wait for it.
type NotJudged struct {
	// Where is the tire, axle, end or coach it is about.
	Where string `json:"where"`
	// Need says what to read or write down.
	Need string `json:"need"`
	// Rules are those that wait for it.
	Rules []string `json:"rules,omitempty"`
	// Hidden says that no walk-around shows it: it has to be taken apart, weighed
	// elsewhere, or asked of somebody.
	Hidden bool `json:"hidden,omitzero"`
}

// NeedSetting begins the Need of an axle for which no pressure to set can be worked
// out; the reason stands behind it.
const NeedSetting = "its pressure to set: "

// A Heading says what a placement, a weighing or a plan is about.
type Heading struct {
	// Invented says that the visit was made up, for a demonstration or a test.
	Invented bool `json:"invented,omitzero"`
	// Date is the day of the visit.
	Date dotcode.Date `json:"date"`
	// System is the unit system: figures land on its grid and are shown in it.
	System weight.System `json:"units"`
	// PressureUnit is the unit that pressures are shown in, as [record.Visit] has it;
	// empty for that of System.
	PressureUnit string `json:"pressure_unit,omitzero"`
	// Coach is which coach, in the words of the visit.
	Coach string `json:"coach,omitzero"`
	// LoadState is what was aboard, in the words of the visit.
	LoadState string `json:"load_state,omitzero"`
}
