package weight

import (
	"axleend.example/internal/word"
	"axleend.example/rules/origin"
)

// ScaleKind says what a scale can take at once. The zero kind is not known.
type ScaleKind uint8

// The kinds of scale.
const (
	// Platform is one plate that takes everything from the front, or from the
	// rear, up to an axle; also with one side of the vehicle beside the plate.
	Platform ScaleKind = iota + 1
	// Segmented is several plates in a row: any run of axles, also one side.
	Segmented
	// Pads are single pads or wheel-load weighers: an axle end, or one wheel
	// of a dual pair.
	Pads
	// WholeAxles is the usual truck-stop scale: any run of axles, never one
	// side.
	WholeAxles
)

var scaleKinds = word.List[ScaleKind]{Kind: "kind of scale", Unknown: ErrWord, Words: []string{"", "platform", "segmented", "pads", "whole axles"}}

// String gives "platform", "segmented", "pads", "whole axles", or "not known".
func (k ScaleKind) String() string { return scaleKinds.String(k) }

// AppendText appends what String gives; the zero kind is empty text. An unknown value
// is an error.
func (k ScaleKind) AppendText(dst []byte) ([]byte, error) { return scaleKinds.Append(dst, k) }

// MarshalText writes what [ScaleKind.AppendText] appends.
func (k ScaleKind) MarshalText() ([]byte, error) { return scaleKinds.Text(k) }

// UnmarshalText reads what MarshalText writes; any other text gives an error
// that matches [ErrWord].
func (k *ScaleKind) UnmarshalText(text []byte) error { return scaleKinds.Read(k, text) }

// A ToleranceRule is how far off a scale may be, either way.
type ToleranceRule struct {
	// Step is how far off it may be for every Per of load, or part of it.
	Step Mass `json:"step"`
	// Per is the load for which Step counts once; 0 is any load.
	Per Mass `json:"per,omitzero"`
	// Source is where the rule comes from.
	Source origin.Source `json:"source"`
}

// divisionsPerStep is the n of "1 division per n divisions or part".
const divisionsPerStep = 500

// MaintenanceIIIL is the tolerance of a class III L scale in use: one
// division per 500 divisions or part (NIST Handbook 44 T.N.3, from memory).
func MaintenanceIIIL(division Mass) ToleranceRule {
	return ToleranceRule{
		Step: division, Per: satMul(division, divisionsPerStep),
		Source: origin.Source{Grade: origin.FromMemory, Title: "NIST Handbook 44", Locator: "T.N.3, class III L, maintenance"},
	}
}

// AcceptanceIIIL is the tolerance of a class III L scale when it is new or
// newly serviced: half of [MaintenanceIIIL], rounded up.
func AcceptanceIIIL(division Mass) ToleranceRule {
	t := MaintenanceIIIL(division)
	t.Step = t.Step/2 + t.Step%2
	t.Source.Locator = "T.N.3, class III L, acceptance"
	return t
}

// UsualDivision is the division of most vehicle scales, taken where a
// [Scale] states none (NIST Handbook 44 practice, from memory).
const UsualDivision = 20 * Pound

// A Scale is a scale and how the vehicle stood on it. The zero Scale gives
// tolerances (the usual class III L ones), but proposes no further weighings.
type Scale struct {
	// Kind says what the scale can take at once.
	Kind ScaleKind `json:"kind,omitzero"`
	// Class is the accuracy class on its plate, such as "III L"; it is only
	// kept, Rule decides.
	Class string `json:"class,omitzero"`
	// Division is the step of the display; 0 is taken as [UsualDivision].
	Division Mass `json:"division,omitzero"`
	// Rule is the tolerance; without a step it is [MaintenanceIIIL] of the
	// division, never 0.
	Rule ToleranceRule `json:"rule,omitzero"`
	// Plate is the length of the plate; 0 is not known, and then long enough
	// for any run of axles.
	Plate Length `json:"plate,omitzero"`
	// Stance is how the vehicle stood on it.
	Stance Stance `json:"stance,omitzero"`
}

func (s Scale) division() Mass {
	if s.Division > 0 {
		return s.Division
	}
	return UsualDivision
}

// Tolerance is the rule that counts: Rule, or the class III L maintenance
// tolerance of the division where Rule has no step.
func (s Scale) Tolerance() ToleranceRule {
	if s.Rule.Step > 0 && s.Rule.Per >= 0 {
		return s.Rule
	}
	return MaintenanceIIIL(s.division())
}

// ToleranceFor is the tolerance at a load, at least one step of the rule. A
// tolerance that would not fit is the greatest Mass.
func (s Scale) ToleranceFor(load Mass) Mass {
	t := s.Tolerance()
	return t.at(load)
}

// at is the tolerance at a load.
func (t *ToleranceRule) at(load Mass) Mass {
	if t.Per == 0 || load <= t.Per {
		return t.Step
	}
	return satMul(t.Step, int64((load-1)/t.Per)+1) // a part counts as whole
}

// minimumDivisions is the least net weight of a vehicle scale in divisions.
const minimumDivisions = 50

// MinimumLoad is the load below which a vehicle scale's reading deserves a
// caution: 50 divisions (NIST Handbook 44 UR.3.7, from memory).
func (s Scale) MinimumLoad() Mass { return satMul(s.division(), minimumDivisions) }

// MinimumLoadSource is where [Scale.MinimumLoad] comes from.
func MinimumLoadSource() origin.Source {
	return origin.Source{Grade: origin.FromMemory, Title: "NIST Handbook 44", Locator: "UR.3.7"}
}

// Reading is a reading of this scale with its tolerance filled in.
func (s Scale) Reading(name string, load Mass, on Set) Reading {
	return Reading{Name: name, Load: load, Tolerance: s.ToleranceFor(load), On: on}
}

// Stance is how the vehicle stood when it was weighed, as far as anybody
// wrote it down. Weigh as driven (common practice).
type Stance struct {
	// Level says whether the plate is level, and in one plane with what the
	// other wheels stand on.
	Level YesNo `json:"level,omitzero"`
	// RideHeight says whether air suspension was at ride height.
	RideHeight YesNo `json:"ride_height,omitzero"`
	// LevelersUp says whether every leveler was up.
	LevelersUp YesNo `json:"levelers_up,omitzero"`
	// SlidesIn says whether every slide-out was in, as on the road.
	SlidesIn YesNo `json:"slides_in,omitzero"`
	// Tanks says whether the tanks were filled as for the trip.
	Tanks YesNo `json:"tanks,omitzero"`
	// Fuel says whether the fuel was as for the trip.
	Fuel YesNo `json:"fuel,omitzero"`
	// People says whether the people sat as for the trip.
	People YesNo `json:"people,omitzero"`
	// Hitched says whether the towed unit hung on the coach.
	Hitched YesNo `json:"hitched,omitzero"`
}

// Cautions lists what people should be told about how the vehicle stood: one
// caution for each condition that is not known to be right. Ride height is
// asked only unless the rig is known to have no air suspension, the hitch
// only of a rig that tows.
func (st Stance) Cautions(rig Rig) []Caution {
	var out []Caution
	for _, q := range [...]struct {
		answer  YesNo
		asked   bool
		caution Caution
	}{
		{st.Level, true, NotLevel},
		{st.RideHeight, rig.Air != No, NotAtRideHeight},
		{st.LevelersUp, true, LevelersDown},
		{st.SlidesIn, true, SlidesOut},
		{st.Tanks, true, TanksNotAsDriven},
		{st.Fuel, true, FuelNotAsDriven},
		{st.People, true, PeopleNotAsDriven},
		{st.Hitched, rig.Towed() != 0 && rig.Coach() != 0, NotHitched},
	} {
		if q.asked && q.answer != Yes {
			out = append(out, q.caution)
		}
	}
	return out
}

// A Caution is something that must be said beside a figure. It marshals as a
// short code; [Caution.String] is the sentence.
type Caution uint8

// The cautions.
const (
	// SplitWeighing: figures were put together from several readings.
	SplitWeighing Caution = iota + 1
	// SmallLoad: a reading lies below the scale's minimum.
	SmallLoad
	// OffDivision: a reading is no multiple of the scale's division, so it was
	// not read off the scale like that.
	OffDivision
	// NotLevel: the plate is not known to be level.
	NotLevel
	// NotAtRideHeight: air suspension is not known to have been at ride height.
	NotAtRideHeight
	// LevelersDown: the levelers are not known to have been up.
	LevelersDown
	// SlidesOut: the slides are not known to have been in.
	SlidesOut
	// TanksNotAsDriven, FuelNotAsDriven, PeopleNotAsDriven: not known to have
	// been as for the trip.
	TanksNotAsDriven
	FuelNotAsDriven
	PeopleNotAsDriven
	// NotHitched: the towed unit is not known to have hung on the coach.
	NotHitched
	// HeavyDiagonal: one front end and the opposite rear end are heavy.
	HeavyDiagonal
	// AssumedShare: an end rests on an assumed share of its axle.
	AssumedShare
	// ReadingsDisagree: readings contradict each other.
	ReadingsDisagree
	// SharedByMoments: planned loads were shared between the axles by moments
	// and between the sides by their offset.
	SharedByMoments
	// RearAxlesShare: planned loads on several rear axles were shared in the
	// proportion weighed.
	RearAxlesShare
	// WeighAgain: the figures are a plan, not a weighing.
	WeighAgain
)

var cautionCodes = word.List[Caution]{Kind: "caution", Unknown: ErrWord, Words: []string{"", "split-weighing", "small-load", "off-division", "not-level", "not-at-ride-height", "levelers-down", "slides-out",
	"tanks-not-as-driven", "fuel-not-as-driven", "people-not-as-driven", "not-hitched", "heavy-diagonal", "assumed-share",
	"readings-disagree", "shared-by-moments", "rear-axles-share", "weigh-again"}}

var cautionTexts = [...]string{
	SplitWeighing:     "Figures put together from several readings are good for loading and tires, but are no legal-for-trade weight.",
	SmallLoad:         "A reading lies below 50 divisions of the scale, less than a vehicle scale is meant to weigh; read such a load on a finer scale.",
	OffDivision:       "A reading is no multiple of the scale's division, and no scale shows such a figure: read it again on the ticket.",
	NotLevel:          "The plate is not known to be level: a slope moves load from side to side, so an end near its limit is too close to call.",
	NotAtRideHeight:   "The air suspension did not stand at ride height, or nobody wrote down that it did; weigh again with it at ride height before trusting the ends.",
	LevelersDown:      "The levelers were not up, or nobody wrote down that they were; a leveler that touches the ground takes load off the tires.",
	SlidesOut:         "The slide-outs were not in, as they are on the road, or nobody wrote down that they were.",
	TanksNotAsDriven:  "The tanks were not filled as for the trip, or nobody wrote down that they were.",
	FuelNotAsDriven:   "The fuel was not as for the trip, or nobody wrote down that it was.",
	PeopleNotAsDriven: "The people were not aboard as for the trip, or nobody wrote down that they were.",
	NotHitched:        "The towed unit was not hitched, or nobody wrote down that it was; what its tongue or pin puts on the coach may be missing.",
	HeavyDiagonal:     "One front end and the opposite rear end are heavy. On air suspension that points to ride height first: have it checked by trained people, and weigh again before cargo is moved.",
	AssumedShare:      "An end rests on an assumed share of its axle, not on a reading; weigh the ends.",
	ReadingsDisagree:  "Readings contradict each other beyond their tolerances; weigh again before trusting what rests on them.",
	SharedByMoments:   "Planned loads are shared between the axles by moments about stiff supports, and between the two ends of each axle by the offset from the centerline.",
	RearAxlesShare:    "Planned loads on several rear axles are shared in the proportion they were weighed at; the suspension may share them otherwise.",
	WeighAgain:        "This is a plan, not a weighing: weigh again once it is loaded.",
}

// String gives the caution as a sentence for people.
func (c Caution) String() string {
	if c == 0 || int(c) >= len(cautionTexts) {
		return "not known"
	}
	return cautionTexts[c]
}

// AppendText appends a short code such as "not-level"; the zero Caution is empty text.
// An unknown value is an error.
func (c Caution) AppendText(dst []byte) ([]byte, error) { return cautionCodes.Append(dst, c) }

// MarshalText writes what [Caution.AppendText] appends.
func (c Caution) MarshalText() ([]byte, error) { return cautionCodes.Text(c) }

// UnmarshalText reads what MarshalText writes; any other text gives an error
// that matches [ErrWord].
func (c *Caution) UnmarshalText(text []byte) error { return cautionCodes.Read(c, text) }

// The slope that is assumed where nothing better is stated: 2 % crossfall,
// center of gravity 54 in high, track 78 in (computed example).
const (
	UsualCrossfall = 2 * Percent
	usualHeight    = 54 * Inch
	usualTrack     = 78 * Inch
)

// CrossfallShift is the load that a slope across the vehicle moves from one side
// to the other: load x slope x height / track, rounded up. 26,000 lb at 2 %,
// 54 in high and 78 in wide, gives 360 lb (computed from moments). A height or
// track of 0 is taken as 54 in and 78 in. What does not fit, or is negative,
// gives an error that matches [origin.ErrRange].
func CrossfallShift(load Mass, slope Share, height, track Length) (Mass, error) {
	if height == 0 {
		height = usualHeight
	}
	if track == 0 {
		track = usualTrack
	}
	if load < 0 || slope < 0 || height < 0 || track < 0 || height > farthest {
		return 0, outOfRange("load")
	}
	// One rounding only: slope and height together stay far below 64 bits.
	const unit = Length(1000) // micrometers, so that track times 10,000 fits
	if h, t := height%unit, track%unit; h != 0 || t != 0 {
		height, track = height.Round(unit, Ceiling), max(track.Round(unit, Floor), unit)
	}
	return load.MulDiv(int64(slope)*int64(height/unit), int64(Whole)*int64(track/unit), Ceiling)
}

func outOfRange(what string) error {
	return &origin.TextError{Kind: "mass", Text: what, Err: origin.ErrRange}
}

const greatest Mass = 1<<63 - 1

// satMul multiplies what is not negative; a product that does not fit is the
// greatest Mass, which as a tolerance decides nothing.
func satMul(m Mass, n int64) Mass {
	if m <= 0 || n <= 0 {
		return 0
	}
	if m > greatest/Mass(n) {
		return greatest
	}
	return m * Mass(n)
}

// satAdd adds what is not negative, up to the greatest Mass.
func satAdd(a, b Mass) Mass {
	if a > greatest-b {
		return greatest
	}
	return a + b
}
