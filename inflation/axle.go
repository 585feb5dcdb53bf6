package inflation

import (
	"axleend.example/inflation/caution"
	"axleend.example/internal/word"
	"axleend.example/rules/origin"
	"axleend.example/weight"
)

// A Rating is the maximum load of ONE tire or wheel at a cold pressure, as
// stamped. A zero part was not read.
type Rating struct {
	// Load is the most that it carries.
	Load weight.Mass `json:"load,omitzero"`
	// Pressure is the cold pressure that Load is stated at.
	Pressure Pressure `json:"pressure,omitzero"`
}

// A Tire is what is known of one tire of an axle. A zero field was not read,
// and allows nothing.
type Tire struct {
	// Name is how answers call it, such as "drive left inner".
	Name string
	// Size as read. If given and the tire has a table, the two must agree.
	Size string
	// LoadRange as read; where it was not, the lowest in the table counts.
	LoadRange LoadRange
	// Class; if not known, that of the table, else that of the size.
	Class Class
	// Single and Dual are the sidewall's maximum load for that fitment with
	// the cold pressure it holds at.
	Single, Dual Rating
	// MaxPressure is a maximum cold pressure that the sidewall states apart
	// from the loads, as a passenger tire does.
	MaxPressure Pressure
	// LowestPermitted is the lowest cold pressure that the tire's maker
	// permits, if the caller knows it: only an estimate asks for it.
	LowestPermitted Pressure
	// Table is the tire's load and inflation table, nil if there is none.
	Table *Table
}

// A Wheel is what one wheel is stamped with. Whatever is zero was not read,
// and gives no license.
type Wheel struct {
	// Name is how answers call it.
	Name string
	// MaxLoad is the load stamped on it.
	MaxLoad weight.Mass
	// MaxPressure is the cold pressure stamped on it.
	MaxPressure Pressure
}

// A Part is what a limit belongs to. The zero Part is none.
type Part uint8

// The parts.
const (
	// TireRating is the load stamped on a sidewall for the fitment.
	TireRating Part = iota + 1
	// TirePressure is the pressure stamped on a sidewall.
	TirePressure
	// TableRow is the last row of a table that the tire's load range allows.
	TableRow
	// WheelLoad and WheelPressure are a wheel's stamps.
	WheelLoad
	WheelPressure
	// OtherRating is a rating that the caller handed in, such as half GAWR.
	OtherRating
)

var parts = word.List[Part]{Kind: "part", Unknown: ErrWord, Words: []string{"", "tire rating", "tire pressure", "table row", "wheel load", "wheel pressure", "other rating"}}

// String gives the part in words, or "not known".
func (p Part) String() string { return parts.String(p) }

// AppendText appends the words, and nothing for none. An unknown value is an error.
func (p Part) AppendText(dst []byte) ([]byte, error) { return parts.Append(dst, p) }

// MarshalText writes what [Part.AppendText] appends.
func (p Part) MarshalText() ([]byte, error) { return parts.Text(p) }

// UnmarshalText reads what [Part.MarshalText] writes.
func (p *Part) UnmarshalText(text []byte) error { return parts.Read(p, text) }

// A Limit is what one part allows: a cold pressure, a load on one axle END,
// or both (that load at that pressure).
type Limit struct {
	// Part is what the limit belongs to.
	Part Part `json:"part"`
	// Name is the tire's, wheel's or rating's.
	Name string `json:"name,omitzero"`
	// Load is the most that the axle END may carry by it.
	Load weight.Mass `json:"load,omitzero"`
	// Pressure is its cold pressure: a cap, or what Load holds at.
	Pressure Pressure `json:"pressure,omitzero"`
}

// An AxleInput is all that [SetAxle] needs to know of one axle.
type AxleInput struct {
	// Name is how the answer calls the axle.
	Name string
	// Fitment is required: Single or Dual.
	Fitment weight.Fitment
	// Weighed is the coach as it stood on the scale. Heaviest is the heaviest
	// state in which it will be driven, if anybody knows it; without it the
	// answer holds for the weighed load only.
	Weighed, Heaviest AxleLoad
	// Tires of the axle, one entry each; a single entry stands for all. At least
	// one is required.
	Tires []Tire
	// Wheels of the axle, likewise; no entry means not read.
	Wheels []Wheel
	// Ratings are further limits of one axle end, such as half GAWR: they
	// count for the room to the lowest rating, not for the pressure.
	Ratings []Limit
	// AsDriven says that the ends were weighed with everything aboard as it is on
	// the road, or that Heaviest says what was missing. Only then may a table go
	// below the placard.
	AsDriven bool
	// Placard is the vehicle maker's cold pressure; 0 if not read.
	Placard Pressure
	// PlacardNone says that somebody looked, and the coach has no placard.
	PlacardNone bool
	// GAWR is the axle's rating, GVWR the coach's; 0 if not read.
	GAWR, GVWR weight.Mass
	// Fitted says how the tires compare with those on the placard.
	Fitted Fitted
	// Step is the gauge's step, to which the pressure to set is rounded up;
	// 0 is 1 psi (US) or 10 kPa (Metric).
	Step Pressure
	// Cushion is what the shop adds to the minimum, within every cap, and only
	// where the wheels' pressure was read.
	Cushion Pressure
	// Method is that of [Options].
	Method Method
	// OnPassengerCar is that of [Options]: a towed car, say.
	OnPassengerCar bool
	// System is the unit system in which computed loads land on their grid.
	System weight.System
}

// An Outcome says whether there is a pressure to set. The zero Outcome is
// none, and never returned without an error.
type Outcome uint8

// The outcomes.
const (
	// CanSet: Setting.Set carries the load, plus/minus included.
	CanSet Outcome = iota + 1
	// TooClose: the load as read fits, but with its plus/minus, or with 55 % of
	// the axle on one end, it may be over what Setting.Short lists. Setting.Set
	// is what the rest needs, the highest allowed pressure if need be.
	TooClose
	// Short: the load as read is over what Setting.Short lists. No pressure
	// makes up for that, and none is given. Setting.OnlyAsRead says that it is not
	// surely over.
	Short
	// NotJudged: too little was read to give a pressure; the cautions say what.
	// Short may list what is too close to call all the same.
	NotJudged
)

var outcomes = word.List[Outcome]{Kind: "outcome", Unknown: ErrWord, Words: []string{"", "can set", "too close to call", "short", "not judged"}}

// String gives the outcome in words, or "not known".
func (o Outcome) String() string { return outcomes.String(o) }

// AppendText appends the words, and nothing for none. An unknown value is an error.
func (o Outcome) AppendText(dst []byte) ([]byte, error) { return outcomes.Append(dst, o) }

// MarshalText writes what [Outcome.AppendText] appends.
func (o Outcome) MarshalText() ([]byte, error) { return outcomes.Text(o) }

// UnmarshalText reads what [Outcome.MarshalText] writes.
func (o *Outcome) UnmarshalText(text []byte) error { return outcomes.Read(o, text) }

// A LoadFrom says what the load of a setting rests on. The zero LoadFrom is
// unweighed.
type LoadFrom uint8

// The bases of a load, from the surest down.
const (
	// EndsWeighed: both ends from a scale. Only this may go below the placard.
	EndsWeighed LoadFrom = iota + 1
	// EndsAssumed: both ends, but planned or guessed.
	EndsAssumed
	// AxleShare: the axle's total only, with 55 % of it assumed on one end
	// (common practice: half of the axle is not safe).
	AxleShare
	// OneEnd: one end only; the other may be heavier.
	OneEnd
)

var loadBases = word.List[LoadFrom]{Kind: "load basis", Unknown: ErrWord, Words: []string{"", "ends weighed", "ends assumed", "55 % of the axle assumed on one end", "one end only"}}

// String gives the basis in words, or "unweighed".
func (b LoadFrom) String() string {
	if b == 0 {
		return "unweighed"
	}
	return loadBases.String(b)
}

// AppendText appends the words, and nothing for unweighed. An unknown value is an
// error.
func (b LoadFrom) AppendText(dst []byte) ([]byte, error) { return loadBases.Append(dst, b) }

// MarshalText writes what [LoadFrom.AppendText] appends.
func (b LoadFrom) MarshalText() ([]byte, error) { return loadBases.Text(b) }

// UnmarshalText reads what [LoadFrom.MarshalText] writes.
func (b *LoadFrom) UnmarshalText(text []byte) error { return loadBases.Read(b, text) }

// A Why is what made the pressure to set what it is. The zero Why is nothing:
// no pressure is given.
type Why uint8

// The reasons.
const (
	// WhyNeed: the load's need by a table, ends weighed as driven, whatever the
	// placard says.
	WhyNeed Why = iota + 1
	// WhyPlacard: the placard, the need being no higher or not sure enough.
	WhyPlacard
	// WhyNeedAbovePlacard: the need by a table is above the placard.
	WhyNeedAbovePlacard
	// WhyLawsFallShort: an estimate, since at the placard the tires carry less
	// than the load by any accepted law.
	WhyLawsFallShort
	// WhyOverHalfGAWR: an estimate above the placard, since a weighed end is over
	// half the GAWR, for which the placard's pressure is made.
	WhyOverHalfGAWR
	// WhyGAWRNotRead: the same, since nobody knows whether an end is.
	WhyGAWRNotRead
	// WhyWeakerTires: the same, since the tires are weaker than the placard's.
	WhyWeakerTires
	// WhyUntilPlacardRead: the sidewall's pressure within the wheel's limit,
	// until the placard is read.
	WhyUntilPlacardRead
	// WhyNoPlacard: there is no placard; the need alone.
	WhyNoPlacard
	// WhyNoPlacardNoNeed: there is no placard, and nothing says what the load
	// needs: the sidewall's pressure within the wheel's limit.
	WhyNoPlacardNoNeed
)

var whys = word.List[Why]{Kind: "reason of a pressure", Unknown: ErrWord, Words: []string{"", "the load's need", "the placard", "the need is above the placard", "no accepted law carries the load at the placard",
	"an end is over half its axle's rating", "the axle's rating was not read", "the tires are weaker than the placard's", "until the placard is read",
	"there is no placard", "there is no placard, and nothing says the need"}}

// String gives the reason in words, or "not known".
func (w Why) String() string { return whys.String(w) }

// AppendText appends the words, and nothing for none. An unknown value is an error.
func (w Why) AppendText(dst []byte) ([]byte, error) { return whys.Append(dst, w) }

// MarshalText writes what [Why.AppendText] appends.
func (w Why) MarshalText() ([]byte, error) { return whys.Text(w) }

// UnmarshalText reads what [Why.MarshalText] writes.
func (w *Why) UnmarshalText(text []byte) error { return whys.Read(w, text) }

// A PressureFrom says where a pressure to set came from. The zero
// PressureFrom is nowhere.
type PressureFrom uint8

// Where a pressure can come from.
const (
	FromTable PressureFrom = iota + 1
	FromEstimate
	FromPlacard
	FromSidewall
)

var pressureBases = word.List[PressureFrom]{Kind: "pressure basis", Unknown: ErrWord, Words: []string{"", "table", "estimate", "placard", "sidewall"}}

// String gives the basis in words, or "not known".
func (b PressureFrom) String() string { return pressureBases.String(b) }

// AppendText appends the word, and nothing for nowhere. An unknown value is an
// error.
func (b PressureFrom) AppendText(dst []byte) ([]byte, error) { return pressureBases.Append(dst, b) }

// MarshalText writes what [PressureFrom.AppendText] appends.
func (b PressureFrom) MarshalText() ([]byte, error) { return pressureBases.Text(b) }

// UnmarshalText reads what [PressureFrom.MarshalText] writes.
func (b *PressureFrom) UnmarshalText(text []byte) error { return pressureBases.Read(b, text) }

// Grounds are what a setting rests on: the kind of load, and where the pressure
// came from.
type Grounds struct {
	// Load is how the load is known.
	Load LoadFrom `json:"load,omitzero"`
	// Pressure is where the pressure comes from.
	Pressure PressureFrom `json:"pressure,omitzero"`
	// Table is the table's name, if it was one.
	Table string `json:"table,omitzero"`
	// Source is the table's; for an estimate, placard or sidewall it says
	// computed or common practice.
	Source origin.Source `json:"source,omitzero"`
}

// An EndRoom is one axle end at the set pressure. Its Load is the heavier of
// the states given. Both rooms are what can still be added even if the load
// is at the top of its plus/minus; below zero is what must come off.
type EndRoom struct {
	Load
	// Capacity is what the end carries at the set pressure: its weakest tire
	// (the stamped rating and the wheel's load count too) times its tires,
	// rounded down. Known is false where nothing says what the tires carry at
	// that pressure; Capacity and Room mean nothing then.
	Capacity weight.Mass `json:"capacity,omitzero"`
	// Room is what the end can still take at the set pressure.
	Room weight.Mass `json:"room"`
	// Known says that Capacity and Room are.
	Known bool `json:"known"`
	// RatingRoom is the room to Setting.Lowest; it means nothing without one.
	RatingRoom weight.Mass `json:"rating_room"`
}

// A Shortfall is a part that cannot carry an end, and by how much that end is
// over it with its plus/minus: what has to come off the end, or which part has
// to be a stronger one.
type Shortfall struct {
	// Side is the end; zero where only the axle was weighed.
	Side weight.Side `json:"side"`
	// Limit is the part and what it allows on the end.
	Limit Limit `json:"limit"`
	// Over is by how much the end is over it, with its plus/minus; 0 is not
	// known.
	Over weight.Mass `json:"over"`
}

// A Setting is the cold pressure of one axle and everything it rests on. The
// same pressure goes into every tire of the axle.
type Setting struct {
	// Name is the axle's.
	Name string `json:"name,omitzero"`
	// Fitment is the axle's.
	Fitment weight.Fitment `json:"fitment"`
	// Outcome says whether there is a pressure to set.
	Outcome Outcome `json:"outcome"`
	// Why is what made Set what it is.
	Why Why `json:"why,omitzero"`
	// AskPlacard says that the placard counts and was not read: Set holds until it
	// is.
	AskPlacard bool `json:"ask_placard,omitzero"`
	// AskTirePressure says that there is no number before a sidewall's maximum
	// pressure is read.
	AskTirePressure bool `json:"ask_tire_pressure,omitzero"`
	// AskWheelPressure says the same of a wheel's.
	AskWheelPressure bool `json:"ask_wheel_pressure,omitzero"`
	// Need is the highest need of the axle's tires for the load that Set rests
	// on, whatever wheel or axle allow.
	Need Need `json:"need,omitzero"`
	// Set is the one number to set; 0 unless the outcome is CanSet or
	// TooClose.
	Set Pressure `json:"set,omitzero"`
	// Minimum is the least pressure for the load with its plus/minus, within the
	// caps; 0 if nothing says it or nothing allowed carries it.
	Minimum Pressure `json:"minimum,omitzero"`
	// PlainMinimum is the minimum for the load as read, without its
	// plus/minus. Where it differs from Minimum, the scale decides the row.
	PlainMinimum Pressure `json:"plain_minimum,omitzero"`
	// Placard is the placard's pressure, to show beside Set; 0 if not read.
	Placard Pressure `json:"placard,omitzero"`
	// Governing is the end that carries most; neither, if the two carry the
	// same or no end is known.
	Governing weight.Side `json:"governing,omitzero"`
	// HeaviestGoverns says that the load comes from AxleInput.Heaviest.
	HeaviestGoverns bool `json:"heaviest_governs,omitzero"`
	// TireLoad is that end's load with its plus/minus on one tire, rounded up.
	TireLoad weight.Mass `json:"tire_load,omitzero"`
	// Tire is the name of the tire with the highest need.
	Tire string `json:"tire,omitzero"`
	// LookUp is that tire's look-up or estimate.
	LookUp LookUp `json:"answer,omitzero"`
	// Left is the left end, if its load is known.
	Left EndRoom `json:"left,omitzero"`
	// Right is the right end, if its load is known.
	Right EndRoom `json:"right,omitzero"`
	// Lowest is the lowest rating of an end, whatever the pressure.
	Lowest Limit `json:"lowest,omitzero"`
	// Cap is the weakest of the pressure caps.
	Cap Limit `json:"cap,omitzero"`
	// Capped says that Cap kept Set lower than the step, the cushion or the
	// placard would have it.
	Capped bool `json:"capped,omitzero"`
	// Grounds are what the setting rests on.
	Grounds Grounds `json:"grounds"`
	// Short lists the parts that are over, or too close to call.
	Short []Shortfall `json:"short,omitzero"`
	// OnlyAsRead says of Short that the load less its plus/minus is over nothing: it
	// may fit, and is to be weighed again.
	OnlyAsRead bool `json:"only_as_read,omitzero"`
	// Cautions go along with the setting whenever it is shown.
	Cautions caution.Set `json:"cautions,omitzero"`
}

// WheelForbids reports whether nothing but a wheel's maximum pressure keeps the
// axle from carrying its load: with more air the tires would.
func (s *Setting) WheelForbids() bool {
	for _, short := range s.Short {
		if short.Limit.Part != WheelPressure {
			return false
		}
	}
	return len(s.Short) > 0
}

// PlusMinusMatters reports whether the scale's plus/minus changes the row:
// the minimum would be PlainMinimum if the scale were exact.
func (s *Setting) PlusMinusMatters() bool { return s.Minimum != s.PlainMinimum }

// Cautions gives the cautions to show with this answer to the load of a share;
// the zero LookUp stands for a load that nothing carries. t is the table that
// was used, nil for an estimate, and opt are the options. A look-up by itself
// has seen neither a sidewall's nor a wheel's maximum, and says so; an estimate
// rests on the sidewall's. For a whole axle use [SetAxle].
func (a LookUp) Cautions(share TireShare, t *Table, opt Options) caution.Set {
	s := caution.Set(0).With(caution.ColdOnly).With(caution.ThisLoadOnly).With(caution.WheelPressureNotRead).With(caution.WheelLoadNotRead)
	if share.Assumed {
		s = s.With(caution.ShareAssumed)
	}
	if t == nil {
		s = s.With(caution.Estimated)
		if a.AtFloor {
			s = s.With(caution.NoTableFloor)
		}
		return s
	}
	s = s.With(caution.TirePressureNotRead).With(caution.TireLoadNotRead)
	if opt.LoadRange == "" && len(t.caps) > 0 {
		s = s.With(caution.LoadRangeNotRead)
	}
	if derates(t.class, opt.OnPassengerCar) {
		s = s.With(caution.Derated)
	}
	return s
}
