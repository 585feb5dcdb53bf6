package weight

import (
	"github.com/shopspring/decimal"

	"axleend.example/internal/quantity"
	"axleend.example/rules/origin"
)

// A Volume is a whole number of picoliters, so 0.001 US gal and a milliliter
// are exact, to 9.2 million liters. (Nanoliters would not hold 0.1 US gal.) A
// tank never holds a negative volume: such a text is refused.
type Volume int64

// Volumes exact by definition (NIST SP 811): 1 US gal = 231 in3 = 3.785411784 L.
const (
	Milliliter Volume = 1_000_000_000
	Liter      Volume = 1000 * Milliliter
	USGallon   Volume = 3_785_411_784_000
)

var volumeCodec = &quantity.Codec{
	Kind: "volume",
	Want: `a number and gal or L, such as "40 gal"`,
	Units: []quantity.Unit{
		{Names: []string{"gal", "gals", "gallon", "gallons"}, Steps: int64(USGallon)},
		{Names: []string{"L", "liter", "liters"}, Steps: int64(Liter)},
	},
	Forms: []quantity.Form{
		{Unit: 0, Places: 3, Grid: int64(USGallon / 1000)},
		{Unit: 1, Places: 12, Grid: 1},
	},
}

// ParseVolume reads a volume as people write it, such as "40 gal" (US gallons)
// or "150 L". Units are gal and L, in any case; thousands commas only in whole
// groups of three; at most 18 digits. A bare number is an error, and so are a
// comma after a leading zero and a volume below 0. Errors are an
// [origin.TextError] with [origin.ErrSyntax], [origin.ErrUnit],
// [origin.ErrRange] or [origin.ErrPrecision] as cause; nothing is rounded.
func ParseVolume(text string) (Volume, error) {
	v, err := volumeCodec.Parse(text)
	return Volume(v), err
}

// MustParseVolume is ParseVolume for constants and tests; it panics on an error.
func MustParseVolume(text string) Volume {
	v, err := ParseVolume(text)
	if err != nil {
		panic(err)
	}
	return v
}

// String gives the canonical text: US gallons where vol is a whole number of
// 0.001 gal, else liters; a negative one is marked with a leading tilde.
func (vol Volume) String() string { return volumeCodec.String(int64(vol)) }

// AppendText appends the canonical text of vol, which reads back as the same
// value. A negative volume has none: [origin.ErrRange]; nor has one beyond a
// million liters that would need more than 18 digits: [origin.ErrPrecision].
func (vol Volume) AppendText(dst []byte) ([]byte, error) {
	return volumeCodec.Append(dst, int64(vol))
}

// MarshalText is AppendText to a new slice.
func (vol Volume) MarshalText() ([]byte, error) { return vol.AppendText(nil) }

// UnmarshalText reads what [ParseVolume] reads.
func (vol *Volume) UnmarshalText(text []byte) error {
	v, err := ParseVolume(string(text))
	if err != nil {
		return err
	}
	*vol = v
	return nil
}

// VolumeOf counts d units exactly, as in VolumeOf(d, USGallon). The error is an
// [origin.TextError]: [origin.ErrPrecision] for what is finer than one step,
// [origin.ErrRange] for what does not fit or is negative, [origin.ErrUnit] for
// a unit that is not positive.
func VolumeOf(d decimal.Decimal, unit Volume) (Volume, error) {
	v, err := volumeCodec.Of(d, int64(unit), 0)
	return Volume(v), err
}

// In gives vol in the unit as a decimal with the given places (0 to 12),
// rounded in the given direction. A unit that is not positive gives 0.
func (vol Volume) In(unit Volume, places int, r Rounding) decimal.Decimal {
	return quantity.In(int64(vol), int64(unit), places, quantity.Rounding(r))
}

// AppendIn appends vol in the unit with exactly the given places (0 to 12),
// rounded in the given direction, without the unit's name.
func (vol Volume) AppendIn(dst []byte, unit Volume, places int, r Rounding) []byte {
	return quantity.AppendIn(dst, int64(vol), int64(unit), places, quantity.Rounding(r))
}

// Round gives vol as a multiple of step, rounded in the given direction. A step
// that is not positive, and a result that would not fit, leave vol as it is.
func (vol Volume) Round(step Volume, r Rounding) Volume {
	if v, ok := quantity.Round(int64(vol), int64(step), quantity.Rounding(r)); ok {
		return Volume(v)
	}
	return vol
}

// MulDiv gives vol*num/den computed in 128 bits and rounded in the given
// direction to one step. The error is an [origin.TextError] with
// [origin.ErrRange] when den is not positive or the result does not fit.
func (vol Volume) MulDiv(num, den int64, r Rounding) (Volume, error) {
	v, ok := quantity.MulDiv(int64(vol), num, den, quantity.Rounding(r))
	if !ok {
		return 0, &origin.TextError{Kind: "volume", Text: vol.String(), Err: origin.ErrRange}
	}
	return Volume(v), nil
}
