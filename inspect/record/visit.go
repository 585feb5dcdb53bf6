package record

import (
	"fmt"

	"axleend.example/dotcode"
	"axleend.example/inflation"
	"axleend.example/internal/word"
	"axleend.example/weight"
)

// Version is the version of the visit format that this package reads
// and writes.
const Version = 1

// MaxSize is how many bytes [Read] takes.
const MaxSize = 64 << 10

// A Visit is the record of one call: the coach, its axles and ratings, what
// was weighed, and what was stamped, measured and seen on each tire. YAML and
// JSON have the same shape, that of the field tags. The zero value of a field
// is "not recorded" wherever that can be said; a Visit from [Read] is
// consistent (positions exist, nothing twice), one built in Go is checked by
// [inspect.Assess] in the same way.
type Visit struct {
	Version   int                     `json:"visit"`
	Invented  bool                    `json:"invented,omitzero"`
	Date      dotcode.Date            `json:"date"`
	System    weight.System           `json:"units,omitzero"`
	Coach     string                  `json:"coach,omitzero"`
	Odometer  Recorded[weight.Length] `json:"odometer,omitzero"`
	LoadState string                  `json:"load_state,omitzero"`
	Stood     Recorded[ParkedFor]     `json:"stood,omitzero"`
	// Moved says that the coach was only moved within those hours, under a mile
	// at yard speed after three hours' rest: its tires are still cold.
	Moved Recorded[bool] `json:"moved,omitzero"`
	// Cold says of all tires at once that they were read cold, in the shade.
	Cold Recorded[bool] `json:"cold,omitzero"`
	// DrivenSince says whether the coach was driven on its tires as they were
	// found. No: they were found low after it was parked, and what was read when
	// it was last driven counts. A tire may say otherwise.
	DrivenSince Recorded[bool] `json:"driven_since,omitzero"`
	// NothingSinceSet says of all tires at once that since they were last set no
	// air was added, no low-pressure alarm came, and none was read lower.
	NothingSinceSet Recorded[bool] `json:"nothing_since_set,omitzero"`
	// LastSetOn and LastSetAir are the day on which, and the air temperature at
	// which, the tires were last set; LastSetGauge is the tolerance of that gauge
	// where it was another one than this visit's.
	LastSetOn    Recorded[dotcode.Date]          `json:"last_set_on,omitzero"`
	LastSetAir   Recorded[inflation.Temperature] `json:"last_set_air,omitzero"`
	LastSetGauge Recorded[inflation.Pressure]    `json:"last_set_gauge_tolerance,omitzero"`
	// Tows is what the coach tows.
	Tows Recorded[Tow] `json:"tows,omitzero"`
	// Towing are the ratings of what couples it.
	Towing Towing `json:"towing,omitzero"`
	// Fastest is the speed above which the coach is never driven.
	Fastest        Recorded[inflation.Speed]       `json:"fastest,omitzero"`
	AirTemperature Recorded[inflation.Temperature] `json:"air_temperature,omitzero"`
	Gauge          string                          `json:"gauge,omitzero"`
	GaugeTolerance Recorded[inflation.Pressure]    `json:"gauge_tolerance,omitzero"`
	GaugeStep      Recorded[inflation.Pressure]    `json:"gauge_step,omitzero"`
	Ratings        Ratings                         `json:"ratings,omitzero"`
	// Packs are rule packs that the visit wants beside those it is judged with.
	Packs []string `json:"packs,omitempty"`
	// Sure names values of the visit that were read again and are right although
	// they can hardly be: the keys, such as air_temperature.
	Sure           []string `json:"sure,omitempty"`
	Axles          []Axle   `json:"axles"`
	EveryTire      Tire     `json:"every_tire,omitzero"`
	EveryTowedTire Tire     `json:"every_towed_tire,omitzero"`
	Tires          []Tire   `json:"tires,omitzero"`
	Weighing       Weighing `json:"weighing,omitzero"`
	Trip           Trip     `json:"trip,omitzero"`
	// Done is what earlier visits advised and was done by this one; it counts
	// in a [history.History] only.
	Done []Done `json:"done,omitempty"`
}

// Ratings are the coach's own, as its label states them.
type Ratings struct {
	GVWR Recorded[weight.Mass] `json:"gvwr,omitzero"`
	GCWR Recorded[weight.Mass] `json:"gcwr,omitzero"`
}

// An Axle is one axle, from the front, the towed unit's after the coach's.
type Axle struct {
	// ID is the axle's name in this visit, up to 24 lower-case letters, digits
	// and dashes.
	ID string `json:"id"`
	// Fitment is single or dual.
	Fitment weight.Fitment `json:"fitment"`
	// Towed says that it is an axle of the towed unit.
	Towed bool `json:"towed,omitzero"`
	// GAWR is the gross axle weight rating on the label (49 CFR 571.3).
	GAWR Recorded[weight.Mass] `json:"gawr,omitzero"`
	// Placard is the cold pressure on the placard, or that there is no placard.
	Placard Recorded[Placard] `json:"placard,omitzero"`
	// PlacardSize and PlacardLoadRange are the tire that the placard names; empty
	// is not read.
	PlacardSize      string `json:"placard_size,omitzero"`
	PlacardLoadRange string `json:"placard_load_range,omitzero"`
	// Behind is how far the axle is behind the steer axle.
	Behind Recorded[weight.Length] `json:"behind_steer,omitzero"`
	// Sure names values of the axle that were read again and are right although
	// they can hardly be, such as gawr.
	Sure []string `json:"sure,omitempty"`
}

// A Placard is what the coach's placard says of an axle's cold pressure, or that
// somebody looked and there is none. The zero Placard says there is none.
type Placard struct{ at inflation.Pressure }

// PlacardAt is a placard with its pressure, above zero.
func PlacardAt(p inflation.Pressure) Placard { return Placard{p} }

// NoPlacard says that somebody looked, and the coach has none.
func NoPlacard() Placard { return Placard{} }

// Pressure is the placard's cold pressure, false where there is no placard.
func (p Placard) Pressure() (inflation.Pressure, bool) { return p.at, p.at > 0 }

// String gives "100 psi", or "none".
func (p Placard) String() string {
	if p.at > 0 {
		return p.at.String()
	}
	return noPlacardText
}

const noPlacardText = "none"

// ParsePlacard reads a pressure above zero, or "none". Errors are those of the
// pressure, or match [ErrNegative].
func ParsePlacard(text string) (Placard, error) {
	if text == noPlacardText {
		return Placard{}, nil
	}
	p, err := inflation.ParsePressure(text)
	if err == nil && p <= 0 {
		err = fmt.Errorf("%w: want a pressure above zero, or none where there is no placard", ErrNegative)
	}
	return Placard{p}, err
}

// MarshalText writes what [ParsePlacard] reads.
func (p Placard) MarshalText() ([]byte, error) {
	if p.at > 0 {
		return p.at.AppendText(nil)
	}
	return []byte(noPlacardText), nil
}

// UnmarshalText reads what [ParsePlacard] reads.
func (p *Placard) UnmarshalText(text []byte) (err error) {
	*p, err = ParsePlacard(string(text))
	return err
}

// A Tire is one wheel position (or a spare) with what is stamped on its
// sidewalls and wheel and what was measured and seen there. In
// [Visit.EveryTire] it holds what all of the coach's tires and spares share,
// in [Visit.EveryTowedTire] what the towed unit's do. What is said of one tire
// replaces it, [NotRead] too, and "not read" where the field is a text.
type Tire struct {
	At            string                           `json:"at,omitzero"`
	Size          string                           `json:"size,omitzero"`
	LoadRange     string                           `json:"load_range,omitzero"`
	Service       Recorded[Service]                `json:"service,omitzero"`
	Class         Recorded[inflation.Class]        `json:"class,omitzero"`
	Construction  Recorded[inflation.Construction] `json:"construction,omitzero"`
	Model         string                           `json:"model,omitzero"`
	Single        Recorded[Stamp]                  `json:"single,omitzero"`
	Dual          Recorded[Stamp]                  `json:"dual,omitzero"`
	Wheel         Recorded[Stamp]                  `json:"wheel,omitzero"`
	Number        Recorded[string]                 `json:"number,omitzero"`
	OtherNumber   Recorded[string]                 `json:"other_number,omitzero"`
	DecadeMark    Recorded[bool]                   `json:"decade_mark,omitzero"`
	Retread       Recorded[bool]                   `json:"retread,omitzero"`
	Regrooved     Recorded[bool]                   `json:"regrooved,omitzero"`
	Tread         Recorded[Treads]                 `json:"tread,omitzero"`
	Diameter      Recorded[weight.Length]          `json:"diameter,omitzero"`
	Circumference Recorded[weight.Length]          `json:"circumference,omitzero"`
	LastSet       Recorded[inflation.Pressure]     `json:"last_set,omitzero"`
	Found         Recorded[inflation.Pressure]     `json:"found,omitzero"`
	LowestDriven  Recorded[inflation.Pressure]     `json:"lowest,omitzero"`
	AirAdded      Recorded[bool]                   `json:"air_added,omitzero"`
	// AirAddedBy is how much air was added since it was last driven on, BeforeAir
	// the reading before any was added.
	AirAddedBy Recorded[inflation.Pressure] `json:"air_added_by,omitzero"`
	BeforeAir  Recorded[inflation.Pressure] `json:"before_air,omitzero"`
	// LowAlarm says that a monitor's low-pressure alarm came since it was last set.
	LowAlarm Recorded[bool] `json:"low_alarm,omitzero"`
	// ReadZero says that it was read at 0 at the stem before, whatever it shows now.
	ReadZero Recorded[bool] `json:"read_zero,omitzero"`
	// DrivenSince says whether it was driven on as it was found; see
	// [Visit.DrivenSince]. Of a spare, whether it was ever on the road since it
	// last held its pressure.
	DrivenSince Recorded[bool] `json:"driven_since,omitzero"`
	// NextDay is its cold pressure 24 hours after it was left, which shows whether
	// it leaks.
	NextDay    Recorded[inflation.Pressure] `json:"next_day,omitzero"`
	Hot        Recorded[bool]               `json:"hot,omitzero"`
	InSun      Recorded[bool]               `json:"in_sun,omitzero"`
	ReadAt     Recorded[ReadAt]             `json:"read_at,omitzero"`
	LeftAt     Recorded[inflation.Pressure] `json:"left,omitzero"`
	Seen       Recorded[ConditionSet]       `json:"seen,omitzero"`
	Sidewalls  Recorded[Sidewalls]          `json:"sidewalls,omitzero"`
	CrackDepth Recorded[weight.Length]      `json:"crack_depth,omitzero"`
	CutDepth   Recorded[weight.Length]      `json:"cut_depth,omitzero"`
	// CutLength is how long the longest cut is.
	CutLength Recorded[weight.Length] `json:"cut_length,omitzero"`
	// Stem is the kind of its valve stem, TreadType what its tread is made for.
	Stem      Recorded[Stem]      `json:"stem,omitzero"`
	TreadType Recorded[TreadType] `json:"tread_type,omitzero"`
	// WheelOn is the day on which its wheel was last put on, TorqueChecked the day
	// on which its nuts were last checked with a torque wrench.
	WheelOn       Recorded[dotcode.Date] `json:"wheel_on,omitzero"`
	TorqueChecked Recorded[dotcode.Date] `json:"torque_checked,omitzero"`
	// CutAt is where the deepest cut is, the crown being the tread.
	CutAt       Recorded[InjuryAt]      `json:"cut_at,omitzero"`
	InjuryWidth Recorded[weight.Length] `json:"injury_width,omitzero"`
	InjuryAt    Recorded[InjuryAt]      `json:"injury_at,omitzero"`
	Note        string                  `json:"note,omitzero"`

	// Rotates is the side on which the tire, as it sits on its wheel, turns
	// with the arrow on its sidewall. WheelFits names the places that the
	// wheel fits: axles, what they do, inner or outer, wheel positions.
	Rotates   Recorded[Rotates] `json:"rotates,omitzero"`
	WheelFits []string          `json:"wheel_fits,omitempty"`
	// Sure names values of the tire that were read again and are right although
	// they can hardly be, such as tread.
	Sure []string `json:"sure,omitempty"`
}

// A Tow is what a coach tows. The zero Tow is not recorded.
type Tow uint8

// What can be towed.
const (
	TowsNothing Tow = iota + 1
	TowsCar         // on its own wheels, by a tow bar or on a dolly
	TowsTrailer
	TowsFifthWheel
)

var towWords = []string{"", "nothing", "car", "trailer", "fifth wheel"}

// String gives "nothing", "car", "trailer", "fifth wheel" or "not known".
func (t Tow) String() string { return word.Of(t, towWords) }

// ParseTow reads what [Tow.String] writes; the error matches [ErrWord].
func ParseTow(text string) (Tow, error) { return word.Parse[Tow]("tows", text, towWords) }

// MarshalText writes the word; a zero Tow gives [ErrWord].
func (t Tow) MarshalText() ([]byte, error) { return word.Marshal(t, "tows", towWords) }

// UnmarshalText reads what [ParseTow] reads.
func (t *Tow) UnmarshalText(text []byte) (err error) {
	*t, err = ParseTow(string(text))
	return err
}

// A Weighing is a visit to a scale: the scale, how the coach stood on it, and
// what it read.
type Weighing struct {
	// Date is the day of the weighing, the visit's where it is not recorded.
	Date Recorded[dotcode.Date] `json:"date,omitzero"`
	// Odometer is what it read at the weighing.
	Odometer Recorded[weight.Length] `json:"odometer,omitzero"`
	// AsDriven says of tanks, fuel and people at once that they were as for the
	// trip. What is said of one of them counts before it.
	AsDriven Recorded[bool] `json:"as_driven,omitzero"`
	// WorkSince says whether work that changes what the axles carry was done since
	// the weighing.
	WorkSince Recorded[bool] `json:"work_since,omitzero"`
	// Raised names the axles that were raised off the plate.
	Raised         []string                   `json:"raised,omitempty"`
	Scale          Recorded[weight.ScaleKind] `json:"scale,omitzero"`
	Division       Recorded[weight.Mass]      `json:"division,omitzero"`
	Tolerance      Recorded[weight.Mass]      `json:"tolerance,omitzero"`
	Level          Recorded[bool]             `json:"level,omitzero"`
	RideHeight     Recorded[bool]             `json:"ride_height,omitzero"`
	LevelersUp     Recorded[bool]             `json:"levelers_up,omitzero"`
	SlidesIn       Recorded[bool]             `json:"slides_in,omitzero"`
	TanksAsDriven  Recorded[bool]             `json:"tanks_as_driven,omitzero"`
	FuelAsDriven   Recorded[bool]             `json:"fuel_as_driven,omitzero"`
	PeopleAsDriven Recorded[bool]             `json:"people_as_driven,omitzero"`
	Hitched        Recorded[bool]             `json:"hitched,omitzero"`
	HeavierShare   Recorded[weight.Share]     `json:"heavier_share,omitzero"`
	Readings       []Reading                  `json:"readings,omitzero"`
}

// A Reading is what one plate or platform showed, and what stood on it:
// wheel positions ("drive-left-outer"), axle ends ("drive-left"), axles
// ("drive"), "left", "right", "coach", "towed" or "all".
type Reading struct {
	Name      string                `json:"name,omitzero"`
	Load      weight.Mass           `json:"load"`
	Tolerance Recorded[weight.Mass] `json:"tolerance,omitzero"`
	On        []string              `json:"on"`
	// Sure says that the load was read again and is right although it can hardly
	// be.
	Sure bool `json:"sure,omitzero"`
}

// Fill takes over what the visit says once for all tires.
func (t *Tire) Fill(every *Tire) {
	t.Size, t.LoadRange, t.Model = told(t.Size, every.Size), told(t.LoadRange, every.LoadRange), told(t.Model, every.Model)
	t.Class = t.Class.Or(every.Class)
	t.Construction = t.Construction.Or(every.Construction)
	t.Single = t.Single.Or(every.Single)
	t.Dual = t.Dual.Or(every.Dual)
	t.Wheel = t.Wheel.Or(every.Wheel)
	t.Service = t.Service.Or(every.Service)
	t.Retread = t.Retread.Or(every.Retread)
	t.Regrooved = t.Regrooved.Or(every.Regrooved)
	t.Stem = t.Stem.Or(every.Stem)
	t.TreadType = t.TreadType.Or(every.TreadType)
	t.WheelOn = t.WheelOn.Or(every.WheelOn)
	t.TorqueChecked = t.TorqueChecked.Or(every.TorqueChecked)
	t.LastSet = t.LastSet.Or(every.LastSet)
	t.ReadAt = t.ReadAt.Or(every.ReadAt)
	t.Hot = t.Hot.Or(every.Hot)
	t.AirAdded = t.AirAdded.Or(every.AirAdded)
	t.LowAlarm = t.LowAlarm.Or(every.LowAlarm)
	t.DrivenSince = t.DrivenSince.Or(every.DrivenSince)
	t.InSun = t.InSun.Or(every.InSun)
	t.Seen = t.Seen.Or(every.Seen)
	t.Sidewalls = t.Sidewalls.Or(every.Sidewalls)
}

// told is a text of a tire's own, else of all; "not read" is none, and no other
// stands in for it.
func told(own, every string) string {
	if own == "" {
		own = every
	}
	if own == notReadText {
		return ""
	}
	return own
}

// FoundAtStem is the cold pressure as found where it may be judged: not a zero
// read through an extension, nor what nobody could reach (common practice).
func (t *Tire) FoundAtStem() Recorded[inflation.Pressure] {
	at, _ := t.ReadAt.Get()
	found, ok := t.Found.Get()
	if !ok || at == NotReached || at == ThroughExtension && found == 0 {
		return Recorded[inflation.Pressure]{}
	}
	return t.Found
}

// A Done is something advised at an earlier visit that was done before this
// one: where, by which rule it was advised ("run-low", or with its pack; or
// the title that the page shows), and how. It settles all that was
// advised together with that rule.
type Done struct {
	At   string `json:"at"`
	Rule string `json:"rule"`
	Note string `json:"note,omitzero"`
}
