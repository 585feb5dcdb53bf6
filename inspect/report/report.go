package report

import (
	"axleend.example/dotcode"
	"axleend.example/inflation"
	"axleend.example/inflation/sidewall"
	"axleend.example/inspect/record"
	"axleend.example/internal/word"
	"axleend.example/rules"
	"axleend.example/rules/origin"
	"axleend.example/weight"
)

// Version is the version of the report format that this package writes.
const Version = 1

// The names of the actions, the worst first. Do not drive stops the coach.
const (
	DoNotDrive = "do_not_drive"
	BeforeTrip = "before_trip"
	Plan       = "plan"
)

// A Report is the whole answer to a [record.Visit]: loads, settings, tires, what is
// to be done, what was not judged, and the cautions. It is plain data, comes
// out the same for the same input, and reads back from its JSON unchanged.
type Report struct {
	Version        int                                    `json:"report"`
	Invented       bool                                   `json:"invented,omitzero"`
	Date           dotcode.Date                           `json:"date"`
	System         weight.System                          `json:"units"`
	Coach          string                                 `json:"coach,omitzero"`
	Odometer       record.Recorded[weight.Length]         `json:"odometer,omitzero"`
	LoadState      string                                 `json:"load_state,omitzero"`
	Stood          record.Recorded[record.ParkedFor]      `json:"stood,omitzero"`
	AirTemperature record.Recorded[inflation.Temperature] `json:"air_temperature,omitzero"`
	Gauge          string                                 `json:"gauge,omitzero"`
	GaugeTolerance record.Recorded[inflation.Pressure]    `json:"gauge_tolerance,omitzero"`

	// Drive is the one answer to whether the coach may drive.
	Drive Drive `json:"drive"`
	// Worst is the worst action there is to take, empty when nothing was
	// found; Stops says whether any stops the coach: what is wrong with a spare
	// never does. NotJudged counts the
	// entries of Unjudged. None of them says that a coach is safe.
	Worst     string `json:"worst,omitzero"`
	Stops     bool   `json:"stops"`
	NotJudged int    `json:"not_judged"`
	// CanRead counts the entries of Unjudged that can still be read here, with a
	// gauge, a probe, a scale or a look; the others no walk-round shows.
	CanRead int `json:"can_read"`

	Axles    []AxleLine          `json:"axles,omitempty"`
	Loads    []LoadLine          `json:"loads,omitempty"`
	Readings []ReadingLine       `json:"readings,omitempty"`
	Settings []inflation.Setting `json:"settings,omitempty"`
	Tires    []TireLine          `json:"tires,omitempty"`
	Pairs    []PairLine          `json:"pairs,omitempty"`
	Slowest  SpeedLine           `json:"slowest,omitzero"`
	Todo     []Item              `json:"todo,omitempty"`
	Unjudged []NotJudged         `json:"unjudged,omitempty"`
	Kept     int                 `json:"kept"`
	Cautions []string            `json:"cautions,omitempty"`
	Packs    []string            `json:"packs,omitempty"`
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
	// Verdict is what the rule says; Asked, that what is not recorded is a question
	// at the rule's action.
	Verdict rules.Verdict `json:"verdict"`
	Asked   bool          `json:"asked,omitzero"`
}

// An AxleLine is one axle as it stands under the coach, from the front, the
// towed unit's last: also one of which nothing else was written down. Its
// setting has its ID as name, its tires have it as axle.
type AxleLine struct {
	ID      string         `json:"id"`
	Role    record.Role    `json:"role"`
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

// MarshalText writes the word, and empty text for the zero LoadKind.
func (k LoadKind) MarshalText() ([]byte, error) { return loadKindWords.Text(k) }

// UnmarshalText reads what [LoadKind.MarshalText] writes.
func (k *LoadKind) UnmarshalText(text []byte) error { return loadKindWords.Read(k, text) }

// A LoadLine is what an axle end, an axle, the coach or the combination
// carries, and the ratings it was held against.
type LoadLine struct {
	Name     string          `json:"name"`
	Kind     LoadKind        `json:"kind"`
	Estimate weight.Estimate `json:"estimate"`
	Ratings  []RatingLine    `json:"ratings,omitempty"`
	// Settle says, for a load that is open, which further weighings of this
	// scale would settle it.
	Settle []string `json:"settle,omitempty"`
}

// A RatingLine is one rating that a load was held against. Room is the rating
// less the load less its doubt: what may surely be added; below zero the
// rating is not surely kept.
type RatingLine struct {
	Rule    string        `json:"rule"`
	Name    string        `json:"name"`
	Rating  weight.Mass   `json:"rating"`
	Room    weight.Mass   `json:"room"`
	Verdict rules.Verdict `json:"verdict"`
}

// A ReadingLine is a scale reading as used, and how far it lies from what all
// readings together say.
type ReadingLine struct {
	Name      string      `json:"name"`
	Load      weight.Mass `json:"load"`
	Tolerance weight.Mass `json:"tolerance"`
	Residual  weight.Mass `json:"residual,omitzero"`
}

// A TireLine is one tire: what is stamped on it, what was found, and how old
// it can be.
type TireLine struct {
	At string `json:"at"`
	// Axle is the axle's ID, empty for a spare, which has no side either.
	Axle          string                              `json:"axle,omitzero"`
	Side          weight.Side                         `json:"side,omitzero"`
	Place         record.Place                        `json:"place,omitzero"`
	Size          string                              `json:"size,omitzero"`
	Load          weight.Estimate                     `json:"load,omitzero"`
	Found         record.Recorded[inflation.Pressure] `json:"found,omitzero"`
	LowestDriven  record.Recorded[inflation.Pressure] `json:"lowest,omitzero"`
	LeftAt        record.Recorded[inflation.Pressure] `json:"left,omitzero"`
	Hot           bool                                `json:"hot,omitzero"`
	Reference     record.Recorded[inflation.Pressure] `json:"judged_by,omitzero"`
	ReferenceFrom string                              `json:"judged_of,omitzero"`
	FlatAt        record.Recorded[inflation.Pressure] `json:"flat_at,omitzero"`
	// Unjudged says why it cannot be told whether it ran low.
	Unjudged string                         `json:"unjudged,omitzero"`
	Tread    record.Recorded[weight.Length] `json:"tread,omitzero"`
	// TreadAt has all the depths, Tread the least of them.
	TreadAt record.Recorded[record.Treads] `json:"tread_at,omitzero"`
	// Service is the service description; Sidewalls are those looked at.
	Service   record.Recorded[record.Service]   `json:"service,omitzero"`
	Sidewalls record.Recorded[record.Sidewalls] `json:"sidewalls,omitzero"`
	// CrackDepth, CutDepth and InjuryWidth are as measured.
	CrackDepth  record.Recorded[weight.Length]   `json:"crack_depth,omitzero"`
	CutDepth    record.Recorded[weight.Length]   `json:"cut_depth,omitzero"`
	InjuryWidth record.Recorded[weight.Length]   `json:"injury_width,omitzero"`
	InjuryAt    record.Recorded[record.InjuryAt] `json:"injury_at,omitzero"`
	// Number is that of the sidewall with the date, OtherNumber what the other
	// sidewall has; WholeNumber says that Number can be a whole one, as a look
	// for recalls needs it.
	Number      string              `json:"number,omitzero"`
	OtherNumber string              `json:"other_number,omitzero"`
	WholeNumber bool                `json:"whole_number,omitzero"`
	Made        []dotcode.Candidate `json:"made,omitempty"`
	Age         dotcode.Age         `json:"age,omitzero"`
	// MadeBefore is 2 July 2000 for a three-digit code, whatever its decade.
	MadeBefore dotcode.Date `json:"made_before,omitzero"`
	// Casing says what is missing of a retread, or of what can be one by its
	// number: Made and Age are then those of the retreading.
	Casing string                               `json:"casing,omitzero"`
	Seen   record.Recorded[record.ConditionSet] `json:"seen,omitzero"`
	Note   string                               `json:"note,omitzero"`
	// Air says whether it may be aired up on the coach; Low, how it stands to the
	// pressure it was driven at.
	Air Air `json:"air,omitzero"`
	Low Low `json:"low,omitzero"`
	// Worst is the worst action for this tire, empty when nothing was found.
	Worst string `json:"worst,omitzero"`
}

// A PairLine is one dual pair.
type PairLine struct {
	Name            string                         `json:"name"`
	TreadDifference record.Recorded[weight.Length] `json:"tread_difference,omitzero"`
	DeeperInside    record.Recorded[bool]          `json:"deeper_inside,omitzero"`
	// FoundDifference is that of the cold pressures as found, LeftDifference
	// that of the pressures they were left at; rounded up where, of psi and kPa,
	// no decimal names it.
	FoundDifference record.Recorded[inflation.Pressure] `json:"found_difference,omitzero"`
	LeftDifference  record.Recorded[inflation.Pressure] `json:"left_difference,omitzero"`
	// AloneLoad is what either tire carries while its mate is off the ground,
	// on a block or beside a flat: the whole end's load. AloneRating is the
	// lower of their ratings, AlonePercent the one of the other, rounded up.
	AloneLoad    weight.Mass `json:"alone_load,omitzero"`
	AloneRating  weight.Mass `json:"alone_rating,omitzero"`
	AlonePercent int         `json:"alone_percent,omitzero"`
	// Inside names the place where the tire runs that belongs inside, empty
	// where nothing says so or the two may not stay together; InsideBy says
	// why, and which reason yields where two disagree.
	Inside   string `json:"inside,omitzero"`
	InsideBy string `json:"inside_by,omitzero"`
	Worst    string `json:"worst,omitzero"`
}

// A SpeedLine is the lowest speed that the speed symbols of the mounted tires
// allow, which tires have that symbol, and on which none was read: those may
// allow less. Speed is exact in km/h; show it rounded down.
type SpeedLine struct {
	Symbol  sidewall.SpeedSymbol `json:"symbol,omitzero"`
	Speed   inflation.Speed      `json:"speed,omitzero"`
	At      []string             `json:"at,omitempty"`
	NotRead []string             `json:"not_read,omitempty"`
}

// An Item is something that is to be done, or that was too close to call.
type Item struct {
	Action  string        `json:"action"`
	Stops   bool          `json:"stops,omitzero"`
	Verdict rules.Verdict `json:"verdict"`
	Where   string        `json:"where"`
	What    string        `json:"what"`
	Found   string        `json:"found,omitzero"`
	Bound   string        `json:"bound,omitzero"`
	Advice  string        `json:"advice"`
	// Causes are what may have led to it, the likeliest first, none certain.
	Causes []string `json:"causes,omitempty"`
	// WheelOff says that following the advice takes a wheel off.
	WheelOff bool `json:"wheel_off,omitzero"`
	// Air says that following the advice puts air in. It is never set of a tire
	// whose air is not free.
	Air bool `json:"air,omitzero"`
	// OnlyAir says of an item that stops that setting the pressure here is all it
	// takes, once what is asked of the tire is settled.
	OnlyAir bool `json:"only_air,omitzero"`
	// Rules are those that say so, with their packs; Sources where they come from.
	Rules   []string        `json:"rules,omitempty"`
	Sources []origin.Source `json:"sources,omitempty"`
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
	// Hidden says that no walk-round shows it: it has to be taken apart, weighed
	// elsewhere, or asked of somebody.
	Hidden bool `json:"hidden,omitzero"`
}

// A Heading says what a placement, a weighing or a plan is about.
type Heading struct {
	Invented  bool          `json:"invented,omitzero"`
	Date      dotcode.Date  `json:"date"`
	System    weight.System `json:"units"`
	Coach     string        `json:"coach,omitzero"`
	LoadState string        `json:"load_state,omitzero"`
}
