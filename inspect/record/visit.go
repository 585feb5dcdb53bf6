package record

import (
	"fmt"
	"slices"
	"strings"

	"axleend.example/dotcode"
	"axleend.example/inflation"
	"axleend.example/inspect/record/condition"
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
	// Version is that of the format, [Version].
	Version int `json:"visit"`
	// Invented says that the visit is made up, for a demonstration or a test.
	Invented bool `json:"invented,omitzero"`
	// Date is the day of the visit.
	Date dotcode.Date `json:"date"`
	// System is how computed figures are rounded and shown.
	System weight.System `json:"units,omitzero"`
	// PressureUnit is the unit in which pressures are printed: psi, kPa, bar, or
	// empty for what System has.
	PressureUnit string `json:"pressure_unit,omitzero"`
	// Coach is which coach, in the writer's own words.
	Coach string `json:"coach,omitzero"`
	// Names are whose coach it is and who worked on it.
	Names Names `json:"names,omitzero"`
	// Use says whether the coach earns money: private or commercial.
	Use Recorded[string] `json:"use,omitzero"`
	// Country is where it is registered, in the letters of ISO 3166: US, CA-QC.
	Country string `json:"country,omitzero"`
	// Odometer is what the coach's odometer reads.
	Odometer Recorded[weight.Length] `json:"odometer,omitzero"`
	// Fastest is the speed above which the coach is never driven.
	Fastest Recorded[inflation.Speed] `json:"fastest,omitzero"`
	// LoadState is the people, water, fuel and cargo aboard, in words.
	LoadState string `json:"load_state,omitzero"`
	// ParkedFor is how long the coach has stood since it was driven.
	ParkedFor Recorded[ParkedFor] `json:"stood,omitzero"`
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
	// LastSetOn is the day on which the tires were last set.
	LastSetOn Recorded[dotcode.Date] `json:"last_set_on,omitzero"`
	// LastSetAir is the air temperature when they were set.
	LastSetAir Recorded[inflation.Temperature] `json:"last_set_air,omitzero"`
	// LastSetGauge is the tolerance, either way, of the gauge that set them where
	// it was another one than this visit's.
	LastSetGauge Recorded[inflation.Pressure] `json:"last_set_gauge_tolerance,omitzero"`
	// Tows is what the coach tows.
	Tows Recorded[Tow] `json:"tows,omitzero"`
	// AirTemperature is the temperature of the air.
	AirTemperature Recorded[inflation.Temperature] `json:"air_temperature,omitzero"`
	// NextDayAir is that 24 hours later, when tires that were set are read again; see
	// [Tire.NextDay].
	NextDayAir Recorded[inflation.Temperature] `json:"next_day_air,omitzero"`
	// Gauge is which gauge was used.
	Gauge string `json:"gauge,omitzero"`
	// GaugeTolerance is by how much the gauge may be off, either way.
	GaugeTolerance Recorded[inflation.Pressure] `json:"gauge_tolerance,omitzero"`
	// GaugeStep is what pressures to set are rounded up to.
	GaugeStep Recorded[inflation.Pressure] `json:"gauge_step,omitzero"`
	// GaugeChecked is the day the gauge was compared with a master gauge.
	GaugeChecked Recorded[dotcode.Date] `json:"gauge_checked,omitzero"`
	// Ratings are the coach's own.
	Ratings Ratings `json:"ratings,omitzero"`
	// Packs are more rule packs to judge this visit with.
	Packs []string `json:"packs,omitempty"`
	// Own are values of measures that rule packs of one's own declare of the coach, by their
	// names, each with its unit: "since_mounted" is "180 mi". What was not read is
	// left out.
	Own Own `json:"own,omitempty"`
	// Sure names values of the visit, its ratings or its weighing that were read
	// again and are right although they can hardly be: the keys, such as
	// air_temperature.
	Sure []string `json:"sure,omitempty"`
	// Axles are all of them from the front, the towed unit's last.
	Axles []Axle `json:"axles"`
	// EveryTire is what all of the coach's tires and spares share.
	EveryTire Tire `json:"every_tire,omitzero"`
	// EveryTowedTire is what all of the towed unit's tires share.
	EveryTowedTire Tire `json:"every_towed_tire,omitzero"`
	// Tires are the wheel positions and spares, each with what is its own.
	Tires []Tire `json:"tires,omitzero"`
	// Weighing is the scale and what it showed.
	Weighing Weighing `json:"weighing,omitzero"`
	// Towing is what the hitch and the towed unit are rated for.
	Towing Towing `json:"towing,omitzero"`
	// Trip is what can be loaded, may move and will change.
	Trip Trip `json:"trip,omitzero"`
	// Done is what earlier visits advised and was done by this one; it counts
	// in a [history.History] only.
	Done []Done `json:"done,omitempty"`
	// Declined is advice that the owner declined.
	Declined []Done `json:"declined,omitempty"`
	// Notes are anything else about the visit, a line each.
	Notes []string `json:"notes,omitempty"`
	// TorqueDue is the odometer reading at which to check the wheel nuts again.
	TorqueDue Recorded[weight.Length] `json:"torque_due,omitzero"`
	// NextVisit is the day the next visit is due.
	NextVisit Recorded[dotcode.Date] `json:"next_visit,omitzero"`
}

// Names are whose coach it is and who worked on it. Nothing is judged by them,
// and [Visit.WithoutNames] leaves them out.
type Names struct {
	// Customer is the owner's name.
	Customer string `json:"customer,omitzero"`
	// Technician is who did the work.
	Technician string `json:"technician,omitzero"`
	// LastSetBy is who set the tires last.
	LastSetBy string `json:"last_set_by,omitzero"`
	// Plate is the license plate.
	Plate string `json:"plate,omitzero"`
	// UnitNumber is the coach's number in a fleet.
	UnitNumber string `json:"unit_number,omitzero"`
	// WorkOrder is the number of the order.
	WorkOrder string `json:"work_order,omitzero"`
}

// WithoutNames gives a visit that says the same and tells nobody whose coach it
// is: without its Names and without who inspected a tire. Texts in the writer's
// own words (Coach, notes, the names of pictures) are left as they are. The
// visit itself is not changed, and shares what it lists with the copy.
func (v *Visit) WithoutNames() *Visit {
	if v == nil {
		return nil
	}
	out := *v
	out.Names = Names{}
	out.Tires = slices.Clone(v.Tires)
	for i := range out.Tires {
		out.Tires[i].InspectedBy = ""
	}
	return &out
}

// Ratings are the coach's own, as its label states them.
type Ratings struct {
	// GVWR is the gross vehicle weight rating (49 CFR 571.3).
	GVWR Recorded[weight.Mass] `json:"gvwr,omitzero"`
	// GCWR is the gross combination weight rating: coach and towed unit.
	GCWR Recorded[weight.Mass] `json:"gcwr,omitzero"`
}

// Towing are the ratings stamped on what couples the towed unit, and what rests
// on the coupling. The weakest part governs.
type Towing struct {
	// Hitch is the most the hitch may pull.
	Hitch Recorded[weight.Mass] `json:"hitch,omitzero"`
	// HitchTongue is the most that may rest on the hitch.
	HitchTongue Recorded[weight.Mass] `json:"hitch_tongue,omitzero"`
	// BallMount is the most the ball mount and its ball may pull.
	BallMount Recorded[weight.Mass] `json:"ball_mount,omitzero"`
	// TowBar is the most the tow bar may pull.
	TowBar Recorded[weight.Mass] `json:"tow_bar,omitzero"`
	// Coupler is the most the towed unit's coupler or base plate is made for.
	Coupler Recorded[weight.Mass] `json:"coupler,omitzero"`
	// GVWR is the towed unit's own gross vehicle weight rating.
	GVWR Recorded[weight.Mass] `json:"gvwr,omitzero"`
	// Tongue is what rests on the hitch, as measured.
	Tongue Recorded[weight.Mass] `json:"tongue,omitzero"`
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
	// PlacardSize is the tire size on the placard; empty is not read.
	PlacardSize string `json:"placard_size,omitzero"`
	// PlacardLoadRange is the load range on the placard; empty is not read.
	PlacardLoadRange string `json:"placard_load_range,omitzero"`
	// Behind is how far the axle is behind the steer axle.
	Behind Recorded[weight.Length] `json:"behind_steer,omitzero"`
	// TorqueAsked is the torque for its wheel nuts, by the maker of coach or
	// wheel.
	TorqueAsked Recorded[Torque] `json:"torque_asked,omitzero"`
	// TorqueApplied is the torque that they were tightened to.
	TorqueApplied Recorded[Torque] `json:"torque_applied,omitzero"`
	// Own are values of measures that rule packs of one's own declare of the axle, by their
	// names, each with its unit: "since_mounted" is "180 mi". What was not read is
	// left out.
	Own Own `json:"own,omitempty"`
	// Sure names values of the axle that were read again and are right,
	// unlikely as they look, such as gawr.
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
	if strings.EqualFold(text, noPlacardText) || strings.EqualFold(text, "no placard") {
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
	// At is the wheel position, or spare, spare-2 to spare-9.
	At string `json:"at,omitzero"`
	// Size is as stamped, letters and all.
	Size string `json:"size,omitzero"`
	// LoadRange is as stamped.
	LoadRange string `json:"load_range,omitzero"`
	// Service is load index and speed symbol.
	Service Recorded[Service] `json:"service,omitzero"`
	// Class is the class of its size.
	Class Recorded[inflation.Class] `json:"class,omitzero"`
	// Construction is how its body plies run.
	Construction Recorded[inflation.Construction] `json:"construction,omitzero"`
	// Model is one word of the writer's own for each make and model.
	Model string `json:"model,omitzero"`
	// TreadType is what its tread is made for.
	TreadType Recorded[TreadType] `json:"tread_type,omitzero"`
	// Single is its maximum load alone, with the cold pressure, as stamped.
	Single Recorded[Stamp] `json:"single,omitzero"`
	// Dual is its maximum load beside a dual mate, for one tire.
	Dual Recorded[Stamp] `json:"dual,omitzero"`
	// Wheel is the maximum stamped on the wheel.
	Wheel Recorded[Stamp] `json:"wheel,omitzero"`
	// Retread says that it is a retread.
	Retread Recorded[bool] `json:"retread,omitzero"`
	// Regrooved says that its grooves were cut anew.
	Regrooved Recorded[bool] `json:"regrooved,omitzero"`
	// Number is the tire identification number, from the sidewall with the date.
	Number Recorded[string] `json:"number,omitzero"`
	// OtherNumber is what the other sidewall has of it; on a retread the casing's.
	OtherNumber Recorded[string] `json:"other_number,omitzero"`
	// DecadeMark says that a triangle follows the date code.
	DecadeMark Recorded[bool] `json:"decade_mark,omitzero"`
	// LastSet is the cold pressure it was last set to.
	LastSet Recorded[inflation.Pressure] `json:"last_set,omitzero"`
	// Found is the pressure as found.
	Found Recorded[inflation.Pressure] `json:"found,omitzero"`
	// LeftAt is the pressure it was left at.
	LeftAt Recorded[inflation.Pressure] `json:"left,omitzero"`
	// LowestDriven is the lowest cold pressure it was driven at.
	LowestDriven Recorded[inflation.Pressure] `json:"lowest,omitzero"`
	// AirAdded says that air was added since it was driven lowest.
	AirAdded Recorded[bool] `json:"air_added,omitzero"`
	// AirAddedBy is how much air was added since it was last driven on.
	AirAddedBy Recorded[inflation.Pressure] `json:"air_added_by,omitzero"`
	// BeforeAir is the reading before any was added.
	BeforeAir Recorded[inflation.Pressure] `json:"before_air,omitzero"`
	// LowAlarm says that a monitor's low-pressure alarm came since it was last set.
	LowAlarm Recorded[bool] `json:"low_alarm,omitzero"`
	// ReadZero says that it was read at 0 at the stem before, whatever it shows now.
	ReadZero Recorded[bool] `json:"read_zero,omitzero"`
	// DrivenSince says whether it was driven on as it was found; see
	// [Visit.DrivenSince]. Of a spare, whether it was ever on the road since it
	// last held its pressure.
	DrivenSince Recorded[bool] `json:"driven_since,omitzero"`
	// NextDay is its cold pressure 24 hours after it was left at LeftAt. At what the air
	// then makes of that, or more, it ends a leak; lower, it shows one. Without the air
	// of both days it ends none.
	NextDay Recorded[inflation.Pressure] `json:"next_day,omitzero"`
	// SensorReading is what the monitor's sensor shows when the gauge reads Found.
	SensorReading Recorded[inflation.Pressure] `json:"sensor_reading,omitzero"`
	// SensorFitted is the day its sensor was fitted.
	SensorFitted Recorded[dotcode.Date] `json:"sensor_fitted,omitzero"`
	// Hot says that it was read warm from the road.
	Hot Recorded[bool] `json:"hot,omitzero"`
	// InSun says that the sun shone on it.
	InSun Recorded[bool] `json:"in_sun,omitzero"`
	// ReadAt is where the gauge sat.
	ReadAt Recorded[ReadAt] `json:"read_at,omitzero"`
	// Stem is the kind of its valve stem.
	Stem Recorded[Stem] `json:"stem,omitzero"`
	// Extension is the stem's: none, rigid, flexible.
	Extension Recorded[string] `json:"extension,omitzero"`
	// StemFitted is the day its stem was fitted.
	StemFitted Recorded[dotcode.Date] `json:"stem_fitted,omitzero"`
	// WheelOn is the day its wheel was last put on.
	WheelOn Recorded[dotcode.Date] `json:"wheel_on,omitzero"`
	// TorqueChecked is the day its nuts were last checked with a torque wrench.
	TorqueChecked Recorded[dotcode.Date] `json:"torque_checked,omitzero"`
	// Tread is its depths.
	Tread Recorded[Treads] `json:"tread,omitzero"`
	// Diameter is the outside diameter, mounted and inflated.
	Diameter Recorded[weight.Length] `json:"diameter,omitzero"`
	// Circumference is the length all around, mounted and inflated.
	Circumference Recorded[weight.Length] `json:"circumference,omitzero"`
	// Seen is what was found; no condition once it was looked over.
	Seen Recorded[condition.Set] `json:"seen,omitzero"`
	// Sidewalls is which of them were looked at.
	Sidewalls Recorded[Sidewalls] `json:"sidewalls,omitzero"`
	// CrackDepth is the depth of its deepest weather crack.
	CrackDepth Recorded[weight.Length] `json:"crack_depth,omitzero"`
	// CutDepth is that of its deepest cut.
	CutDepth Recorded[weight.Length] `json:"cut_depth,omitzero"`
	// CutAt is where the deepest cut is, the crown being the tread.
	CutAt Recorded[InjuryAt] `json:"cut_at,omitzero"`
	// CutLength is that of its longest cut.
	CutLength Recorded[weight.Length] `json:"cut_length,omitzero"`
	// InjuryWidth is that of the hole of a nail or another object.
	InjuryWidth Recorded[weight.Length] `json:"injury_width,omitzero"`
	// InjuryAt is where that hole is.
	InjuryAt Recorded[InjuryAt] `json:"injury_at,omitzero"`
	// Note is anything else about it.
	Note string `json:"note,omitzero"`
	// Photos are the names of picture files.
	Photos []string `json:"photos,omitempty"`
	// InspectedBy is who inspected it off its wheel.
	InspectedBy string `json:"inspected_by,omitzero"`
	// Rotates is the side on which the tire, as it sits on its wheel, turns
	// with the arrow on its sidewall.
	Rotates Recorded[Rotates] `json:"rotates,omitzero"`
	// WheelFits names the places that the wheel fits: axles, what they do, inner
	// or outer, wheel positions.
	WheelFits []string `json:"wheel_fits,omitempty"`
	// Own are values of measures that rule packs of one's own declare of the tire, by their
	// names, each with its unit: "since_mounted" is "180 mi". What was not read is
	// left out.
	Own Own `json:"own,omitempty"`
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

var towWords = word.List[Tow]{Kind: "tows", Words: []string{"", "nothing", "car", "trailer", "fifth wheel"}, Unknown: word.Err}

// String gives "nothing", "car", "trailer", "fifth wheel" or "not known".
func (t Tow) String() string { return towWords.String(t) }

// ParseTow reads what [Tow.String] writes; the error matches [ErrWord].
func ParseTow(text string) (Tow, error) { return towWords.Parse(text) }

// AppendText appends the word, and nothing for the zero Tow. An unknown value
// is an error.
func (t Tow) AppendText(dst []byte) ([]byte, error) { return towWords.Append(dst, t) }

// MarshalText writes what [Tow.AppendText] appends.
func (t Tow) MarshalText() ([]byte, error) { return towWords.Text(t) }

// UnmarshalText reads what [ParseTow] reads.
func (t *Tow) UnmarshalText(text []byte) error { return towWords.Read(t, text) }

// A Weighing is a visit to a scale: the scale, how the coach stood on it, and
// what it read.
type Weighing struct {
	// Date is the day of the weighing, the visit's where it is not recorded.
	Date Recorded[dotcode.Date] `json:"date,omitzero"`
	// Place is where the scale is.
	Place string `json:"place,omitzero"`
	// Odometer is what it read at the weighing.
	Odometer Recorded[weight.Length] `json:"odometer,omitzero"`
	// AsDriven says of tanks, fuel and people at once that they were as for the
	// trip. What is said of one of them counts instead.
	AsDriven Recorded[bool] `json:"as_driven,omitzero"`
	// WorkSince says whether work done since the weighing changes what the
	// axles carry.
	WorkSince Recorded[bool] `json:"work_since,omitzero"`
	// Raised names the axles that were raised off the plate.
	Raised []string `json:"raised,omitempty"`
	// Scale is what kind of scale it was.
	Scale Recorded[weight.ScaleKind] `json:"scale,omitzero"`
	// Division is the scale's step.
	Division Recorded[weight.Mass] `json:"division,omitzero"`
	// Tolerance is by how much a reading may be off, either way.
	Tolerance Recorded[weight.Mass] `json:"tolerance,omitzero"`
	// Level says that the plate is known to be level.
	Level Recorded[bool] `json:"level,omitzero"`
	// RideHeight says that the air suspension stood at ride height.
	RideHeight Recorded[bool] `json:"ride_height,omitzero"`
	// LevelersUp says that the levelers were up.
	LevelersUp Recorded[bool] `json:"levelers_up,omitzero"`
	// SlidesIn says that the slide-outs were in.
	SlidesIn Recorded[bool] `json:"slides_in,omitzero"`
	// TanksAsDriven says that there was water as for the trip.
	TanksAsDriven Recorded[bool] `json:"tanks_as_driven,omitzero"`
	// FuelAsDriven says that there was fuel as for the trip.
	FuelAsDriven Recorded[bool] `json:"fuel_as_driven,omitzero"`
	// PeopleAsDriven says that the people were aboard as for the trip.
	PeopleAsDriven Recorded[bool] `json:"people_as_driven,omitzero"`
	// Hitched says that the towed unit was hitched.
	Hitched Recorded[bool] `json:"hitched,omitzero"`
	// HeavierShare is the heavier end's share that is assumed where only an axle
	// was weighed.
	HeavierShare Recorded[weight.Share] `json:"heavier_share,omitzero"`
	// Readings are what the scale showed, each time.
	Readings []Reading `json:"readings,omitzero"`
	// Unhitched is what it showed with the towed unit off. Nothing is judged by it.
	Unhitched []Reading `json:"unhitched,omitempty"`
}

// A Reading is what one plate or platform showed, and what stood on it:
// wheel positions ("drive-left-outer"), axle ends ("drive-left"), axles
// ("drive"), "left", "right", "coach", "towed" or "all".
type Reading struct {
	// Name is what to call it.
	Name string `json:"name,omitzero"`
	// Load is what it showed.
	Load weight.Mass `json:"load"`
	// Tolerance is by how much this one may be off, either way.
	Tolerance Recorded[weight.Mass] `json:"tolerance,omitzero"`
	// On is what stood on the plate.
	On []string `json:"on"`
	// Sure says that the load was read again and is right, unlikely as it looks.
	Sure bool `json:"sure,omitzero"`
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
// the title that the page shows), and how. It settles what it names, and
// what is less in an entry that this leads: that the placard was found right does not
// settle a flat in the same entry.
type Done struct {
	// At is where it was advised, or where the tire is now.
	At string `json:"at"`
	// Rule is the rule that advised it, or its title.
	Rule string `json:"rule"`
	// Note is how it was done, or why it was not.
	Note string `json:"note,omitzero"`
}
