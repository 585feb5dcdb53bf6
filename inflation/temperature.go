package inflation

import (
	"math"

	"github.com/shopspring/decimal"

	"axleend.example/internal/quantity"
	"axleend.example/weight"
)

// A Temperature is a whole number of 1/1800 K above absolute zero, so
// 0.001 degF and 0.01 degC are exact. The zero Temperature is absolute zero.
// Make one with [Fahrenheit], [Celsius] or [ParseTemperature]; the difference
// of two is a [TemperatureDifference].
type Temperature int64

// A TemperatureDifference is a whole number of 1/1800 K.
type TemperatureDifference int64

// Temperature differences: 1 K (and 1 degC) and 1 degF, K = (F + 459.67) x 5/9
// (NIST SP 811).
const (
	Kelvin           TemperatureDifference = 1800
	FahrenheitDegree TemperatureDifference = 1000
)

const (
	zeroFahrenheit Temperature = 459_670
	zeroCelsius    Temperature = 491_670 // 273.15 x 1800
)

var temperatureCodec = &quantity.Codec{
	Kind: "temperature",
	Want: `a number and F or C, such as "60 F"`,
	Units: []quantity.Unit{
		{Names: []string{"F", "degF", "°F", "deg F", "degrees F"}, Steps: int64(FahrenheitDegree), Offset: int64(zeroFahrenheit)},
		{Names: []string{"C", "degC", "°C", "deg C", "degrees C"}, Steps: int64(Kelvin), Offset: int64(zeroCelsius)},
	},
	Forms: []quantity.Form{{Unit: 0, Places: 3, Grid: 1}},
}

// ParseTemperature reads a temperature as people write it, such as "60 F" or
// "15.5 C". Units are F, degF, °F, C, degC and °C, in any case; thousands
// commas only in whole groups of three; at most 18 digits. A bare number is an
// error, and so is what lies below absolute zero. Errors are an
// origin.TextError with origin.ErrSyntax, origin.ErrUnit,
// origin.ErrRange or origin.ErrPrecision as cause; nothing is rounded.
func ParseTemperature(text string) (Temperature, error) {
	v, err := temperatureCodec.Parse(text)
	return Temperature(v), err
}

// MustParseTemperature is ParseTemperature for constants and tests; it panics
// on an error.
func MustParseTemperature(text string) Temperature {
	v, err := ParseTemperature(text)
	if err != nil {
		panic(err)
	}
	return v
}

// String gives the canonical text: degrees Fahrenheit, whose thousandths hold
// every value ("60 F"). One below absolute zero is marked with a tilde.
func (t Temperature) String() string { return temperatureCodec.String(int64(t)) }

// AppendText appends the canonical text of t, which reads back as the same
// value. Below absolute zero there is none: origin.ErrRange; nor is there for
// what would need more than 18 digits: origin.ErrPrecision.
func (t Temperature) AppendText(dst []byte) ([]byte, error) {
	return temperatureCodec.Append(dst, int64(t))
}

// MarshalText is AppendText to a new slice.
func (t Temperature) MarshalText() ([]byte, error) { return t.AppendText(nil) }

// UnmarshalText reads what [ParseTemperature] reads.
func (t *Temperature) UnmarshalText(text []byte) error {
	v, err := ParseTemperature(string(text))
	if err != nil {
		return err
	}
	*t = v
	return nil
}

// Fahrenheit counts d degrees Fahrenheit exactly. Errors are an
// origin.TextError: origin.ErrPrecision for what is finer than 0.001 degF,
// origin.ErrRange below absolute zero and for what does not fit.
func Fahrenheit(d decimal.Decimal) (Temperature, error) {
	v, err := temperatureCodec.Of(d, int64(FahrenheitDegree), int64(zeroFahrenheit))
	return Temperature(v), err
}

// Celsius counts d degrees Celsius exactly. Errors are as for [Fahrenheit],
// with steps of 1/1800 degC (so 0.01 degC is exact).
func Celsius(d decimal.Decimal) (Temperature, error) {
	v, err := temperatureCodec.Of(d, int64(Kelvin), int64(zeroCelsius))
	return Temperature(v), err
}

// AppendIn appends t in degrees Fahrenheit (US) or Celsius (Metric) with
// exactly the given places (0 to 12), rounded in the given direction.
func (t Temperature) AppendIn(dst []byte, s weight.System, places int, r weight.Rounding) []byte {
	if s == weight.Metric {
		return quantity.AppendIn(dst, int64(t-zeroCelsius), int64(Kelvin), places, quantity.Rounding(r))
	}
	return quantity.AppendIn(dst, int64(t-zeroFahrenheit), int64(FahrenheitDegree), places, quantity.Rounding(r))
}

// Sub returns the difference t - u.
func (t Temperature) Sub(u Temperature) TemperatureDifference {
	return TemperatureDifference(t - u)
}

// Add returns t + d, but never less than absolute zero, nor more than the
// largest Temperature.
func (t Temperature) Add(d TemperatureDifference) Temperature {
	sum := t + Temperature(d)
	switch {
	case d > 0 && sum < t:
		return math.MaxInt64
	case sum < 0 || d < 0 && sum > t:
		return 0
	}
	return sum
}
