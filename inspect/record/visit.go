package record

import (
	"axleend.example/dotcode"
	"axleend.example/inflation"
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
	Version        int                             `json:"visit"`
	Invented       bool                            `json:"invented,omitzero"`
	Date           dotcode.Date                    `json:"date"`
	System         weight.System                   `json:"units,omitzero"`
	Coach          string                          `json:"coach,omitzero"`
	Odometer       Recorded[weight.Length]         `json:"odometer,omitzero"`
	LoadState      string                          `json:"load_state,omitzero"`
	Stood          Recorded[ParkedFor]             `json:"stood,omitzero"`
	AirTemperature Recorded[inflation.Temperature] `json:"air_temperature,omitzero"`
	Gauge          string                          `json:"gauge,omitzero"`
	GaugeTolerance Recorded[inflation.Pressure]    `json:"gauge_tolerance,omitzero"`
	GaugeStep      Recorded[inflation.Pressure]    `json:"gauge_step,omitzero"`
	Ratings        Ratings                         `json:"ratings,omitzero"`
	Axles          []Axle                          `json:"axles"`
	EveryTire      Tire                            `json:"every_tire,omitzero"`
	EveryTowedTire Tire                            `json:"every_towed_tire,omitzero"`
	Tires          []Tire                          `json:"tires,omitzero"`
	Weighing       Weighing                        `json:"weighing,omitzero"`
	Trip           Trip                            `json:"trip,omitzero"`
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
	ID      string                       `json:"id"`
	Fitment weight.Fitment               `json:"fitment"`
	Towed   bool                         `json:"towed,omitzero"`
	GAWR    Recorded[weight.Mass]        `json:"gawr,omitzero"`
	Placard Recorded[inflation.Pressure] `json:"placard,omitzero"`
	Behind  Recorded[weight.Length]      `json:"behind_steer,omitzero"`
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
	Lowest        Recorded[inflation.Pressure]     `json:"lowest,omitzero"`
	AirAdded      Recorded[bool]                   `json:"air_added,omitzero"`
	Hot           Recorded[bool]                   `json:"hot,omitzero"`
	InSun         Recorded[bool]                   `json:"in_sun,omitzero"`
	ReadAt        Recorded[ReadAt]                 `json:"read_at,omitzero"`
	Left          Recorded[inflation.Pressure]     `json:"left,omitzero"`
	Seen          Recorded[ConditionSet]           `json:"seen,omitzero"`
	Sidewalls     Recorded[Sidewalls]              `json:"sidewalls,omitzero"`
	CrackDepth    Recorded[weight.Length]          `json:"crack_depth,omitzero"`
	CutDepth      Recorded[weight.Length]          `json:"cut_depth,omitzero"`
	InjuryWidth   Recorded[weight.Length]          `json:"injury_width,omitzero"`
	InjuryAt      Recorded[InjuryAt]               `json:"injury_at,omitzero"`
	Note          string                           `json:"note,omitzero"`

	// Rotates is the side on which the tire, as it sits on its wheel, turns
	// with the arrow on its sidewall. WheelFits names the places that the
	// wheel fits: axles, what they do, inner or outer, wheel positions.
	Rotates   Recorded[Rotates] `json:"rotates,omitzero"`
	WheelFits []string          `json:"wheel_fits,omitempty"`
}

// A Weighing is a visit to a scale: the scale, how the coach stood on it, and
// what it read.
type Weighing struct {
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
	t.LastSet = t.LastSet.Or(every.LastSet)
	t.ReadAt = t.ReadAt.Or(every.ReadAt)
	t.Hot = t.Hot.Or(every.Hot)
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
