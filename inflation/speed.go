package inflation

import (
	"github.com/shopspring/decimal"

	"axleend.example/internal/quantity"
	"axleend.example/rules/origin"
	"axleend.example/weight"
)

// A Speed is a whole number of millimeters an hour, so half a mile an hour and
// 0.000001 km/h are exact. It has no direction: a negative one is refused.
type Speed int64

// Speeds exact by definition (NIST SP 811): 1 mi = 1,609,344 mm.
const (
	KilometerPerHour Speed = 1_000_000
	MilePerHour      Speed = 1_609_344
)

var speedCodec = &quantity.Codec{
	Kind: "speed",
	Want: `a number and mph or km/h, such as "65 mph"`,
	Units: []quantity.Unit{
		{Names: []string{"mph"}, Steps: int64(MilePerHour)},
		{Names: []string{"km/h", "kmh", "kph"}, Steps: int64(KilometerPerHour)},
	},
	Forms: []quantity.Form{
		{Unit: 0, Places: 1, Grid: int64(MilePerHour / 2)},
		{Unit: 1, Places: 6, Grid: 1},
	},
}

// ParseSpeed reads a speed as people write it, such as "65 mph" or "105 km/h".
// Units are mph, km/h, kmh and kph, in any case; thousands commas only in whole
// groups of three; at most 18 digits. A bare number is an error, and so are a
// comma after a leading zero and a speed below 0. Errors are an
// [origin.TextError] with [origin.ErrSyntax], [origin.ErrUnit],
// [origin.ErrRange] or [origin.ErrPrecision] as cause; nothing is rounded.
func ParseSpeed(text string) (Speed, error) {
	v, err := speedCodec.Parse(text)
	return Speed(v), err
}

// String gives the canonical text: whole or half miles an hour where s is that,
// else km/h; a negative one is marked with a leading tilde.
func (s Speed) String() string { return speedCodec.String(int64(s)) }

// AppendText appends the canonical text of s, which reads back as the same
// value. A negative speed has none: [origin.ErrRange]; nor has one beyond a
// million km/h that would need more than 18 digits: [origin.ErrPrecision].
func (s Speed) AppendText(dst []byte) ([]byte, error) {
	return speedCodec.Append(dst, int64(s))
}

// MarshalText is AppendText to a new slice.
func (s Speed) MarshalText() ([]byte, error) { return s.AppendText(nil) }

// UnmarshalText reads what [ParseSpeed] reads.
func (s *Speed) UnmarshalText(text []byte) error {
	v, err := ParseSpeed(string(text))
	if err != nil {
		return err
	}
	*s = v
	return nil
}

// In gives s in the unit as a decimal with the given places (0 to 12),
// rounded in the given direction. A unit that is not positive gives 0.
func (s Speed) In(unit Speed, places int, r weight.Rounding) decimal.Decimal {
	return quantity.In(int64(s), int64(unit), places, quantity.Rounding(r))
}

// AppendIn appends s in the unit with exactly the given places (0 to 12),
// rounded in the given direction, without the unit's name.
func (s Speed) AppendIn(dst []byte, unit Speed, places int, r weight.Rounding) []byte {
	return quantity.AppendIn(dst, int64(s), int64(unit), places, quantity.Rounding(r))
}

// Round gives s as a multiple of step, rounded in the given direction. A step
// that is not positive, and a result that would not fit, leave s as it is.
func (s Speed) Round(step Speed, r weight.Rounding) Speed {
	if v, ok := quantity.Round(int64(s), int64(step), quantity.Rounding(r)); ok {
		return Speed(v)
	}
	return s
}

// MulDiv gives s*num/den computed in 128 bits and rounded in the given
// direction to one step. The error is an [origin.TextError] with
// [origin.ErrRange] when den is not positive or the result does not fit.
func (s Speed) MulDiv(num, den int64, r weight.Rounding) (Speed, error) {
	v, ok := quantity.MulDiv(int64(s), num, den, quantity.Rounding(r))
	if !ok {
		return 0, &origin.TextError{Kind: "speed", Text: s.String(), Err: origin.ErrRange}
	}
	return Speed(v), nil
}
