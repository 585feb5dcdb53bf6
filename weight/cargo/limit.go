package cargo

import (
	"math"

	"axleend.example/internal/word"
	"axleend.example/rules/origin"
	"axleend.example/weight"
)

// LimitKind says what a rating is. The zero kind is not known.
type LimitKind uint8

// The kinds of limit.
const (
	// GAWR is an axle's gross axle weight rating.
	GAWR LimitKind = iota + 1
	// HalfGAWR is half of it, at one end (common practice).
	HalfGAWR
	// GVWR is the coach's gross vehicle weight rating.
	GVWR
	// GCWR is the combination's: coach and towed unit, both as loaded.
	GCWR
	// HitchRating is the most the coupling may carry.
	HitchRating
	// TowRating is the most the towed unit may weigh.
	TowRating
	// WheelRating is the stamped rating of the wheels of an end.
	WheelRating
	// TireCapacity is what the tires of an end carry, already derated.
	TireCapacity
	// CargoCapacity is what a label lets be loaded.
	CargoCapacity
	// StationLimit is what a place for cargo may hold.
	StationLimit
)

var limitKinds = word.List[LimitKind]{Kind: "kind of limit", Unknown: weight.ErrWord, Words: []string{"", "GAWR", "half GAWR", "GVWR", "GCWR", "hitch rating", "tow rating", "wheel rating", "tire capacity", "cargo capacity", "station limit"}}

// String gives "GAWR", "half GAWR", "GVWR", "GCWR", "hitch rating", "tow
// rating", "wheel rating", "tire capacity", "cargo capacity", "station limit",
// or "not known".
func (k LimitKind) String() string { return limitKinds.String(k) }

// MarshalText gives what String gives; the zero kind is empty text.
func (k LimitKind) MarshalText() ([]byte, error) { return limitKinds.Text(k) }

// UnmarshalText reads what MarshalText writes; any other text gives an error
// that matches [weight.ErrWord].
func (k *LimitKind) UnmarshalText(text []byte) error {
	return limitKinds.Read(k, text)
}

// A Limit is the most that may rest on a set.
type Limit struct {
	// Kind says what the rating is.
	Kind LimitKind `json:"kind"`
	// Name says whose it is, such as an axle's.
	Name string `json:"name,omitzero"`
	// Rating is the most that may rest on On, all of it together. A rating of
	// 0 or less is none, and nothing is judged by it.
	Rating weight.Mass `json:"rating"`
	// On is the set.
	On weight.Set `json:"on,omitzero"`
	// Source is where the rating comes from.
	Source origin.Source `json:"source"`
}

// AxleLimits is an axle's GAWR and, rounded down, half of it at each end: a
// 5,000 lb axle is good for 2,500 lb an end (common practice).
func AxleLimits(axle int, name string, gawr weight.Mass, source origin.Source) []Limit {
	half := gawr / 2
	practice := origin.Source{Grade: origin.CommonPractice, Locator: "half of the GAWR at each end"}
	return []Limit{
		{Kind: GAWR, Name: name, Rating: gawr, On: weight.AxleOf(axle), Source: source},
		{Kind: HalfGAWR, Name: name + ", left end", Rating: half, On: weight.EndOf(axle, weight.Left), Source: practice},
		{Kind: HalfGAWR, Name: name + ", right end", Rating: half, On: weight.EndOf(axle, weight.Right), Source: practice},
	}
}

// Verdict is what a load is against a limit. The zero Verdict is not known.
type Verdict uint8

// The verdicts.
const (
	NotKnown Verdict = iota
	// Kept: even the most it may be is within the limit.
	Kept
	// Over: even the least it may be is beyond the limit.
	Over
	// TooClose: the limit lies inside the doubt.
	TooClose
)

var verdicts = word.List[Verdict]{Kind: "verdict", Unknown: weight.ErrWord, Words: []string{"", "kept", "over", "too close to call"}}

// String gives "kept", "over", "too close to call", or "not known".
func (v Verdict) String() string { return verdicts.String(v) }

// MarshalText gives what String gives; the zero Verdict is empty text.
func (v Verdict) MarshalText() ([]byte, error) { return verdicts.Text(v) }

// UnmarshalText reads what MarshalText writes; any other text gives an error
// that matches [weight.ErrWord].
func (v *Verdict) UnmarshalText(text []byte) error {
	return verdicts.Read(v, text)
}

// A Margin is a load against a limit. It serves planning and stand-alone use;
// verdicts in a report come from rules.
type Margin struct {
	// Limit is what is kept or not.
	Limit Limit `json:"limit"`
	// Estimate is the load on it.
	Estimate weight.Estimate `json:"estimate"`
	// Room is what may be added for sure: rating less load less doubt. It is
	// negative when the limit is not surely kept, and 0 when not known.
	Room weight.Mass `json:"room"`
	// Verdict is the load against the rating.
	Verdict Verdict `json:"verdict"`
}

// MarginOf judges an estimate by a limit, in the worst case: kept when load
// plus doubt is at most the rating, over when load less doubt is above it,
// else too close to call. Doubt is the plus/minus, what an unlevel plate may
// have moved included. A disputed load is never kept. Undetermined estimates and
// ratings of 0 or less are not known.
func MarginOf(limit Limit, e weight.Estimate) Margin {
	m := Margin{Limit: limit, Estimate: e}
	if !e.Known() || limit.Rating <= 0 {
		return m
	}
	switch {
	case e.AtLeast() > limit.Rating:
		m.Verdict = Over
	case e.AtMost() <= limit.Rating && e.State != weight.Disputed:
		m.Verdict = Kept
	default:
		m.Verdict = TooClose
	}
	m.Room = limit.Rating - max(e.AtMost(), limit.Rating-math.MaxInt64)
	return m
}

// Margins judges what each limit is on by a weighing, in order.
func Margins(s weight.Solution, limits []Limit) []Margin {
	out := make([]Margin, len(limits))
	for i, l := range limits {
		out[i] = MarginOf(l, s.Of(l.On))
	}
	return out
}
