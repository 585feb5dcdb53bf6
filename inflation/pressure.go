package inflation

import (
	"github.com/shopspring/decimal"

	"axleend.example/internal/quantity"
	"axleend.example/rules/origin"
	"axleend.example/weight"
)

// A Pressure is a gauge pressure as a whole number of 1/129,032,000,000 Pa, so
// 0.01 psi and 1 Pa are both exact, to 10,367 psi. 0 is a flat tire, not "not
// recorded". Compare with == and <; multiply a constant, as in 95 * PSI.
type Pressure int64

// Pressures exact by definition (NIST SP 811):
// 1 psi = 8896443230521/1290320000 Pa.
const (
	Pascal     Pressure = 129_032_000_000
	Kilopascal Pressure = 1000 * Pascal
	Bar        Pressure = 100 * Kilopascal
	PSI        Pressure = 889_644_323_052_100
)

var pressureCodec = &quantity.Codec{
	Kind: "pressure",
	Want: `a number and psi, kPa or bar, such as "95 psi"`,
	Units: []quantity.Unit{
		{Names: []string{"psi", "psig"}, Steps: int64(PSI)},
		{Names: []string{"kPa"}, Steps: int64(Kilopascal)},
		{Names: []string{"bar", "bars"}, Steps: int64(Bar)},
		{Names: []string{"Pa"}, Steps: int64(Pascal)},
	},
	Forms: []quantity.Form{
		{Unit: 0, Places: 2, Grid: int64(PSI / 100)},
		// 127 x 127 steps are 0.000000125 Pa: the finest that any decimal
		// of a metric unit can fall on, so each of them can be written down.
		{Unit: 1, Places: 12, Grid: 127 * 127},
	},
	Not: []quantity.Other{{Names: []string{"lb", "lbs", "pounds", "#", "kg"}, Says: "psi, kPa or bar: lb and kg are weights"}},
	Min: -1 << 63,
}

// ParsePressure reads a pressure as people write it, such as "95 psi",
// "655 kPa" or "6.5 bar". Units are psi, kPa, bar and Pa, in any case;
// thousands commas only in whole groups of three; at most 18 digits. A bare
// number is an error, and so is a comma after a leading zero. Errors are an
// [origin.TextError] with [origin.ErrSyntax], [origin.ErrUnit],
// [origin.ErrRange] or [origin.ErrPrecision] as cause; nothing is rounded.
func ParsePressure(text string) (Pressure, error) {
	v, err := pressureCodec.Parse(text)
	return Pressure(v), err
}

// MustParsePressure is ParsePressure for constants and tests; it panics on an error.
func MustParsePressure(text string) Pressure {
	v, err := ParsePressure(text)
	if err != nil {
		panic(err)
	}
	return v
}

// String gives the canonical text: psi where p is a whole number of 0.01 psi
// ("76.4 psi"), else kilopascals; a value that no decimal of either can name
// is shown rounded, with a leading tilde.
func (p Pressure) String() string { return pressureCodec.String(int64(p)) }

// AppendText appends the canonical text of p, which reads back as the same
// value. Whatever [ParsePressure] accepts has one, and so has every multiple
// of a [PressureGrid]; for a p that no decimal can name, such as MulDiv can
// give, the error matches [origin.ErrPrecision].
func (p Pressure) AppendText(dst []byte) ([]byte, error) {
	return pressureCodec.Append(dst, int64(p))
}

// MarshalText is AppendText to a new slice.
func (p Pressure) MarshalText() ([]byte, error) { return p.AppendText(nil) }

// UnmarshalText reads what [ParsePressure] reads.
func (p *Pressure) UnmarshalText(text []byte) error {
	v, err := ParsePressure(string(text))
	if err != nil {
		return err
	}
	*p = v
	return nil
}

// PressureOf counts d units exactly, as in PressureOf(d, PSI). The error is an
// [origin.TextError]: [origin.ErrPrecision] for what is finer than one step,
// [origin.ErrRange] for what does not fit, [origin.ErrUnit] for a unit that
// is not positive.
func PressureOf(d decimal.Decimal, unit Pressure) (Pressure, error) {
	v, err := pressureCodec.Of(d, int64(unit), 0)
	return Pressure(v), err
}

// In gives p in the unit as a decimal with the given places (0 to 12),
// rounded in the given direction. A unit that is not positive gives 0.
func (p Pressure) In(unit Pressure, places int, r weight.Rounding) decimal.Decimal {
	return quantity.In(int64(p), int64(unit), places, quantity.Rounding(r))
}

// AppendIn appends p in the unit with exactly the given places (0 to 12),
// rounded in the given direction, without the unit's name.
func (p Pressure) AppendIn(dst []byte, unit Pressure, places int, r weight.Rounding) []byte {
	return quantity.AppendIn(dst, int64(p), int64(unit), places, quantity.Rounding(r))
}

// Round gives p as a multiple of step, rounded in the given direction. A step
// that is not positive, and a result that would not fit, leave p as it is.
func (p Pressure) Round(step Pressure, r weight.Rounding) Pressure {
	if v, ok := quantity.Round(int64(p), int64(step), quantity.Rounding(r)); ok {
		return Pressure(v)
	}
	return p
}

// MulDiv gives p*num/den computed in 128 bits and rounded in the given
// direction to one step; what is to be written down is then rounded to its
// [PressureGrid]. The error is an [origin.TextError] with
// [origin.ErrRange] when den is not positive or the result does not fit.
func (p Pressure) MulDiv(num, den int64, r weight.Rounding) (Pressure, error) {
	v, ok := quantity.MulDiv(int64(p), num, den, quantity.Rounding(r))
	if !ok {
		return 0, &origin.TextError{Kind: "pressure", Text: p.String(), Err: origin.ErrRange}
	}
	return Pressure(v), nil
}

// PressureGrid is the step on which computed pressures land in a unit system:
// 0.01 psi or 10 Pa.
func PressureGrid(s weight.System) Pressure {
	if s == weight.Metric {
		return 10 * Pascal
	}
	return PSI / 100
}
