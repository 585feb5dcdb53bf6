package weight

import (
	"math/big"
	"math/bits"

	"github.com/shopspring/decimal"

	"axleend.example/internal/quantity"
	"axleend.example/rules/origin"
)

// A Mass is a whole number of nanograms, so 0.0001 lb and 0.000000001 g are
// exact, to 9.2 million kg. What scales and labels call a weight or a load is
// a Mass. 0 is a mass of nothing, not "not recorded". Compare with == and <;
// multiply a constant, as in 3640 * Pound. Sums of many: [Sum].
type Mass int64

// Masses exact by definition (NIST SP 811): 1 lb = 0.45359237 kg.
const (
	Nanogram Mass = 1
	Gram     Mass = 1_000_000_000
	Kilogram Mass = 1000 * Gram
	Pound    Mass = 453_592_370_000
)

var massCodec = &quantity.Codec{
	Kind: "mass",
	Want: `a number and lb or kg, such as "3640 lb"`,
	Units: []quantity.Unit{
		{Names: []string{"lb", "lbs", "pound", "pounds", "#"}, Steps: int64(Pound)},
		{Names: []string{"kg", "kgs"}, Steps: int64(Kilogram)},
		{Names: []string{"g"}, Steps: int64(Gram)},
	},
	Forms: []quantity.Form{
		{Unit: 0, Places: 4, Grid: int64(Pound / 10_000)},
		{Unit: 1, Places: 12, Grid: 1},
	},
	Not: []quantity.Other{{Names: []string{"psi", "kPa", "bar"}, Says: "a mass, in lb or kg: this is a pressure"}},
	Min: -1 << 63,
}

// ParseMass reads a mass as people write it, such as "3640 lb", "3,640 lbs" or
// "1651 kg". Units are lb, lbs, pounds, kg and g, in any case; thousands commas only
// in whole groups of three; at most 18 digits. A bare number is an error, and
// so is a comma after a leading zero ("0,640 kg"). Errors are an
// [origin.TextError] with [origin.ErrSyntax], [origin.ErrUnit],
// [origin.ErrRange] or [origin.ErrPrecision] as cause; nothing is rounded.
func ParseMass(text string) (Mass, error) {
	v, err := massCodec.Parse(text)
	return Mass(v), err
}

// MustParseMass is ParseMass for constants and tests; it panics on an error.
func MustParseMass(text string) Mass {
	v, err := ParseMass(text)
	if err != nil {
		panic(err)
	}
	return v
}

// String gives the canonical text: pounds where m is a whole number of
// 0.0001 lb ("3640 lb"), else kilograms ("1650.5 kg").
func (m Mass) String() string { return massCodec.String(int64(m)) }

// AppendText appends the canonical text of m, which reads back as the same
// value. Only beyond a million kilograms is there a mass without one, when it
// would need more than 18 digits: the error matches [origin.ErrPrecision].
func (m Mass) AppendText(dst []byte) ([]byte, error) {
	return massCodec.Append(dst, int64(m))
}

// MarshalText is AppendText to a new slice.
func (m Mass) MarshalText() ([]byte, error) { return m.AppendText(nil) }

// UnmarshalText reads what [ParseMass] reads.
func (m *Mass) UnmarshalText(text []byte) error {
	v, err := ParseMass(string(text))
	if err != nil {
		return err
	}
	*m = v
	return nil
}

// MassOf counts d units exactly, as in MassOf(d, Pound). The error is an
// [origin.TextError]: [origin.ErrPrecision] for what is finer than one step,
// [origin.ErrRange] for what does not fit, [origin.ErrUnit] for a unit that
// is not positive.
func MassOf(d decimal.Decimal, unit Mass) (Mass, error) {
	v, err := massCodec.Of(d, int64(unit), 0)
	return Mass(v), err
}

// MassOfRat is v nanograms rounded to the grid in the given direction: for
// what is computed in exact fractions. What does not fit gives an error that
// matches [origin.ErrRange]; a grid that is not positive, one that matches
// [origin.ErrUnit].
func MassOfRat(v *big.Rat, grid Mass, r Rounding) (Mass, error) {
	if grid <= 0 {
		return 0, &origin.TextError{Kind: "mass", Text: grid.String(), Err: origin.ErrUnit}
	}
	m := bigDiv(v.Num(), v.Denom(), grid, r)
	if !m.IsInt64() {
		return 0, outOfRange("fraction")
	}
	return Mass(m.Int64()), nil
}

// In gives m in the unit as a decimal with the given places (0 to 12),
// rounded in the given direction. A unit that is not positive gives 0.
func (m Mass) In(unit Mass, places int, r Rounding) decimal.Decimal {
	return quantity.In(int64(m), int64(unit), places, quantity.Rounding(r))
}

// AppendIn appends m in the unit with exactly the given places (0 to 12),
// rounded in the given direction, without the unit's name.
func (m Mass) AppendIn(dst []byte, unit Mass, places int, r Rounding) []byte {
	return quantity.AppendIn(dst, int64(m), int64(unit), places, quantity.Rounding(r))
}

// Round gives m as a multiple of step, rounded in the given direction. A step
// that is not positive, and a result that would not fit, leave m as it is.
func (m Mass) Round(step Mass, r Rounding) Mass {
	if v, ok := quantity.Round(int64(m), int64(step), quantity.Rounding(r)); ok {
		return Mass(v)
	}
	return m
}

// MulDiv gives m*num/den computed in 128 bits and rounded in the given
// direction to one step. The error is an [origin.TextError] with
// [origin.ErrRange] when den is not positive or the result does not fit.
func (m Mass) MulDiv(num, den int64, r Rounding) (Mass, error) {
	v, ok := quantity.MulDiv(int64(m), num, den, quantity.Rounding(r))
	if !ok {
		return 0, &origin.TextError{Kind: "mass", Text: m.String(), Err: origin.ErrRange}
	}
	return Mass(v), nil
}

// Sum adds masses, in any order with the same result. The error is an
// [origin.TextError] with [origin.ErrRange] when the sum does not fit; it
// never wraps.
func Sum(masses ...Mass) (Mass, error) {
	var hi, lo uint64 // 128 bits, two's complement
	for _, m := range masses {
		var carry uint64
		lo, carry = bits.Add64(lo, uint64(m), 0)
		hi += uint64(m>>63) + carry
	}
	sum := Mass(lo)
	if hi != uint64(sum>>63) {
		return 0, &origin.TextError{Kind: "mass", Text: "sum", Err: origin.ErrRange}
	}
	return sum, nil
}
