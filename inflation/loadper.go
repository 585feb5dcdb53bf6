package inflation

import (
	"fmt"
	"strings"

	"axleend.example/internal/word"
	"axleend.example/weight"
)

// A LoadPer says what a load counts: one tire, the one or two tires of an axle
// end, or all tires of the axle. Published tables quote dual loads on any of
// the three. The zero LoadPer is not known.
type LoadPer uint8

// The bases.
const (
	PerTire LoadPer = iota + 1
	// PerEnd is one tire in single fitment and a pair in dual fitment.
	PerEnd
	PerAxle
)

var bases = word.List[LoadPer]{Kind: "basis", Unknown: ErrWord, Words: []string{"", "per tire", "per end", "per axle"}}

// String gives "per tire", "per end", "per axle" or "not known".
func (b LoadPer) String() string { return bases.String(b) }

// ParseLoadPer reads "per tire", "per end", "per pair" (which is per end) or
// "per axle" in any case, with or without the "per". The error matches
// [ErrWord].
func ParseLoadPer(text string) (LoadPer, error) {
	said := strings.Join(strings.Fields(strings.ToLower(text)), " ")
	switch strings.TrimPrefix(said, "per ") {
	case "tire":
		return PerTire, nil
	case "end", "pair", "dual pair":
		return PerEnd, nil
	case "axle":
		return PerAxle, nil
	}
	return bases.Parse(said)
}

// AppendText appends the words, and nothing for one not known. An unknown value
// is an error.
func (b LoadPer) AppendText(dst []byte) ([]byte, error) { return bases.Append(dst, b) }

// MarshalText writes what [LoadPer.AppendText] appends.
func (b LoadPer) MarshalText() ([]byte, error) { return bases.Text(b) }

// UnmarshalText reads what [LoadPer.MarshalText] writes.
func (b *LoadPer) UnmarshalText(text []byte) error {
	return bases.Read(b, text)
}

// tiresPer is how many tires a basis counts in a fitment, 0 for none.
func (b LoadPer) tiresPer(fit weight.Fitment) int64 {
	n := int64(fit) // Single is 1, Dual is 2
	if n < 1 || n > 2 {
		return 0
	}
	switch b {
	case PerTire:
		return 1
	case PerEnd:
		return n
	case PerAxle:
		return 2 * n
	}
	return 0
}

// HeavierEndPercent is the share of an axle's total that is assumed on its
// heavier end when only the axle was weighed (common practice: half of the
// axle is not safe).
const HeavierEndPercent = 55

// A TireShare is a load brought to one tire, with all that was done to it:
// an echo for whoever typed it in.
type TireShare struct {
	// Load is what was given.
	Load weight.Mass `json:"load"`
	// Per is what Load counts.
	Per LoadPer `json:"basis"`
	// Fitment is the axle's.
	Fitment weight.Fitment `json:"fitment"`
	// End is the load on the axle end: for a load per axle the assumed
	// 55 %, rounded up, with Assumed set.
	End weight.Mass `json:"end"`
	// Assumed says that 55 % of the axle was assumed on the end.
	Assumed bool `json:"assumed,omitzero"`
	// Tires is how many tires stand under the end, Tire the load on each,
	// rounded up.
	Tires int `json:"tires"`
	// Tire is the load on each tire, rounded up.
	Tire weight.Mass `json:"tire"`
}

// ShareOf brings a load on a basis to one tire, rounded up to 0.01 lb or 1 g.
// Of a load per axle, [HeavierEndPercent] is taken to stand on one end, and
// said so. Errors: [ErrFitment] for a fitment not known, [ErrInput] for a
// basis not known, a negative load, or one too large to compute with.
func ShareOf(load weight.Mass, basis LoadPer, fit weight.Fitment, system weight.System) (TireShare, error) {
	n := PerEnd.tiresPer(fit)
	switch {
	case n == 0:
		return TireShare{}, fmt.Errorf("fitment not known: want single or dual: %w", ErrFitment)
	case basis == 0 || basis > PerAxle:
		return TireShare{}, fmt.Errorf("basis of the load not known: want per tire, per end or per axle: %w", ErrInput)
	case !possibleLoad(load):
		return TireShare{}, fmt.Errorf("load of %s: want 0 to %s: %w", load, maxLoad, ErrInput)
	}
	s := TireShare{Load: load, Per: basis, Fitment: fit, Tires: int(n)}
	grid := system.MassGrid()
	switch basis {
	case PerTire:
		s.Tire, s.End = load, load*weight.Mass(n)
		return s, nil
	case PerEnd:
		s.End = load
	case PerAxle:
		s.End, s.Assumed = percentOf(load, HeavierEndPercent, grid), true
	}
	s.Tire = onEach(s.End, n, grid)
	return s, nil
}

// maxLoad keeps the sums and products here in 64 bits: a million kilograms.
const maxLoad = 1_000_000 * weight.Kilogram

func possibleLoad(m weight.Mass) bool { return 0 <= m && m <= maxLoad }

// percentOf rounds up to the grid; m is at most maxLoad.
func percentOf(m weight.Mass, percent int64, grid weight.Mass) weight.Mass {
	v, _ := m.MulDiv(percent, 100, weight.Ceiling)
	return v.Round(grid, weight.Ceiling)
}

// onEach divides among n tires and rounds up to the grid; a load on one tire
// stays as it is.
func onEach(end weight.Mass, n int64, grid weight.Mass) weight.Mass {
	if n == 1 {
		return end
	}
	v, _ := end.MulDiv(1, n, weight.Ceiling)
	return v.Round(grid, weight.Ceiling)
}

// String gives the sentence, such as "9400 lb on the end = 4700 lb on each
// tire" or "12800 lb on the axle, 55 % assumed on one end = 7040 lb = 3520 lb
// on each tire".
func (s TireShare) String() string {
	switch s.Per {
	case PerTire:
		return s.Load.String() + " on each tire"
	case PerEnd:
		if s.Tires == 1 {
			return s.Load.String() + " on the end = " + s.Tire.String() + " on its one tire"
		}
		return s.Load.String() + " on the end = " + s.Tire.String() + " on each tire"
	case PerAxle:
		return fmt.Sprintf("%s on the axle, %d %% assumed on one end = %s = %s on each tire", s.Load, HeavierEndPercent, s.End, s.Tire)
	}
	return "not known"
}
