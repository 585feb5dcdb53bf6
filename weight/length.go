package weight

import (
	"github.com/shopspring/decimal"

	"axleend.example/internal/quantity"
	"axleend.example/rules/origin"
)

// A Length is a whole number of nanometers, so 1/64 in and 0.000001 mm are
// exact, to 5.7 million miles: tread depths, wheelbases and odometers alike.
// 0 is a length (a bald tire), not "not recorded".
type Length int64

// Lengths exact by definition (NIST SP 811): 1 in = 25.4 mm.
const (
	Nanometer  Length = 1
	Millimeter Length = 1_000_000
	Meter      Length = 1000 * Millimeter
	Kilometer  Length = 1000 * Meter
	Inch       Length = 25_400_000
	Foot       Length = 12 * Inch
	Mile       Length = 5280 * Foot
)

const noMetricFraction = "a fraction of an inch, such as 10/32 in, or millimeters with a point, such as 7.9 mm"

var lengthCodec = &quantity.Codec{
	Kind: "length",
	Want: `a number and in, ft, mi, mm, cm, m or km, such as "4/32 in" or "3.2 mm"`,
	Units: []quantity.Unit{
		{Names: []string{"in", "inch", "inches", `"`, "''"}, Steps: int64(Inch)},
		{Names: []string{"mi", "mile", "miles"}, Steps: int64(Mile)},
		{Names: []string{"ft", "foot", "feet", "'"}, Steps: int64(Foot)},
		{Names: []string{"mm"}, Steps: int64(Millimeter), Pointed: noMetricFraction},
		{Names: []string{"cm"}, Steps: int64(10 * Millimeter), Pointed: noMetricFraction},
		{Names: []string{"m"}, Steps: int64(Meter), Pointed: noMetricFraction},
		{Names: []string{"km"}, Steps: int64(Kilometer), Pointed: noMetricFraction},
		{Names: []string{"32nds", "32nd"}, Steps: int64(Inch / 32)},
		{Names: []string{"nds", "nd", "nds in", "nds of an inch"}, Steps: int64(Inch), Over: 32},
		{Names: []string{"ths", "th", "ths in"}, Steps: int64(Inch), Over: 64},
		{Names: []string{"ths", "th", "ths in"}, Steps: int64(Inch), Over: 16},
		{Names: []string{"ths", "th", "ths in"}, Steps: int64(Inch), Over: 8},
	},
	Pairs: []quantity.Pair{{Large: 2, Small: 0}},
	// Odometers in miles or kilometers, elevations in feet or meters, what
	// is measured on a coach in inches or millimeters. The bands keep a round
	// metric length that happens to lie on a US grid from turning into a
	// number nobody writes: 127 m are 5,000 in, and 381 km are 1,250,000 ft.
	Forms: []quantity.Form{
		{Unit: 1, Places: 1, Grid: int64(Mile / 10), Least: int64(3 * Mile)},
		{Unit: 2, Grid: int64(Foot), Least: int64(100 * Foot), Below: int64(10 * Mile)},
		{Unit: 0, Grid: int64(Inch), Below: int64(400 * Foot)},
		{Unit: 0, Grid: int64(Inch / 32), Over: 32, Below: int64(Inch)},
		{Unit: 0, Grid: int64(Inch / 64), Over: 64, Below: int64(Inch)},
		{Unit: 0, Places: 6, Grid: int64(Inch / 64), Below: int64(400 * Foot)},
		{Unit: 0, Places: 2, Grid: int64(Inch / 100), Below: int64(400 * Foot)},
		{Unit: 6, Places: 1, Grid: int64(Kilometer / 10), Least: int64(10 * Kilometer)},
		{Unit: 5, Places: 1, Grid: int64(Meter / 10), Least: int64(100 * Meter)},
		{Unit: 3, Places: 6, Grid: 1},
	},
	Min: -1 << 63,
}

// ParseLength reads a length as people write it, such as "4/32 in", "3.2 mm", "252 in"
// or "41,250 mi", and also "9/32\"", "9/32nds", "94 1/8 in", "94-1/8 in" and
// "23 ft 4 in". Units are in, ft, mi, mm, cm, m and km, in any case; thousands
// commas only in whole groups of three; at most 18 digits. A bare
// number is an error, and so are a comma after a leading zero and a fraction of a
// metric unit: 10/32 mm may be inches. Errors are an
// [origin.TextError] with [origin.ErrSyntax], [origin.ErrUnit],
// [origin.ErrRange] or [origin.ErrPrecision] as cause; nothing is rounded.
func ParseLength(text string) (Length, error) {
	v, err := lengthCodec.Parse(text)
	return Length(v), err
}

// MustParseLength is ParseLength for constants and tests; it panics on an error.
func MustParseLength(text string) Length {
	v, err := ParseLength(text)
	if err != nil {
		panic(err)
	}
	return v
}

// String gives the canonical text: inches where l is a whole number of 1/64 in
// or 0.01 in, below an inch as "4/32 in" or "5/64 in"; from 100 ft on whole
// feet, and from 3 mi on tenths of a mile, as an elevation and an odometer are
// written. Else it is millimeters, from 100 m on tenths of a meter, and from
// 10 km on tenths of a kilometer.
func (l Length) String() string { return lengthCodec.String(int64(l)) }

// AppendText appends the canonical text of l, which reads back as the same
// value. Only beyond a million kilometers is there a length without one, when
// it would need more than 18 digits: the error matches [origin.ErrPrecision].
func (l Length) AppendText(dst []byte) ([]byte, error) {
	return lengthCodec.Append(dst, int64(l))
}

// MarshalText is AppendText to a new slice.
func (l Length) MarshalText() ([]byte, error) { return l.AppendText(nil) }

// UnmarshalText reads what [ParseLength] reads.
func (l *Length) UnmarshalText(text []byte) error {
	v, err := ParseLength(string(text))
	if err != nil {
		return err
	}
	*l = v
	return nil
}

// LengthOf counts d units exactly, as in LengthOf(d, Inch). The error is an
// [origin.TextError]: [origin.ErrPrecision] for what is finer than one step,
// [origin.ErrRange] for what does not fit, [origin.ErrUnit] for a unit that
// is not positive.
func LengthOf(d decimal.Decimal, unit Length) (Length, error) {
	v, err := lengthCodec.Of(d, int64(unit), 0)
	return Length(v), err
}

// In gives l in the unit as a decimal with the given places (0 to 12),
// rounded in the given direction. A unit that is not positive gives 0.
func (l Length) In(unit Length, places int, r Rounding) decimal.Decimal {
	return quantity.In(int64(l), int64(unit), places, quantity.Rounding(r))
}

// AppendIn appends l in the unit with exactly the given places (0 to 12),
// rounded in the given direction, without the unit's name.
func (l Length) AppendIn(dst []byte, unit Length, places int, r Rounding) []byte {
	return quantity.AppendIn(dst, int64(l), int64(unit), places, quantity.Rounding(r))
}

// Round gives l as a multiple of step, rounded in the given direction. A step
// that is not positive, and a result that would not fit, leave l as it is.
func (l Length) Round(step Length, r Rounding) Length {
	if v, ok := quantity.Round(int64(l), int64(step), quantity.Rounding(r)); ok {
		return Length(v)
	}
	return l
}

// MulDiv gives l*num/den computed in 128 bits and rounded in the given
// direction to one step. The error is an [origin.TextError] with
// [origin.ErrRange] when den is not positive or the result does not fit.
func (l Length) MulDiv(num, den int64, r Rounding) (Length, error) {
	v, ok := quantity.MulDiv(int64(l), num, den, quantity.Rounding(r))
	if !ok {
		return 0, &origin.TextError{Kind: "length", Text: l.String(), Err: origin.ErrRange}
	}
	return Length(v), nil
}
