package inflation_test

import (
	"errors"
	"fmt"
	"math"
	"math/big"
	"math/rand/v2"
	"testing"

	"github.com/shopspring/decimal"

	"axleend.example/inflation"
	"axleend.example/rules/origin"
	"axleend.example/weight"
)

// K = (F + 459.67) x 5/9 and K = C + 273.15 (NIST SP 811), in steps of
// 1/1800 K, computed apart from the library.
func TestTemperatureScales(t *testing.T) {
	t.Parallel()
	kelvin := func(zero string, num, den, thousandths int64) *big.Rat {
		off, ok := new(big.Rat).SetString(zero)
		if !ok {
			t.Fatal(zero)
		}
		r := new(big.Rat).Add(off, big.NewRat(thousandths, 1000))
		return r.Mul(r, big.NewRat(num*1800, den))
	}
	rng := rand.New(rand.NewPCG(1, 1))
	for range 5_000 {
		n := rng.Int64N(1_000_000) - 300_000 // thousandths of a degree
		want := kelvin("459.67", 5, 9, n)
		got, err := inflation.Fahrenheit(decimal.New(n, -3))
		if !want.IsInt() {
			t.Fatalf("%d/1000 degF is no whole number of steps", n)
		}
		if err != nil || int64(got) != want.Num().Int64() {
			t.Fatalf("Fahrenheit(%d/1000) = %d, %v, want %v", n, got, err, want)
		}
		want = kelvin("273.15", 1, 1, n/10*10)
		if want.Sign() < 0 {
			continue
		}
		got, err = inflation.Celsius(decimal.New(n/10, -2))
		if err != nil || int64(got) != want.Num().Int64() {
			t.Fatalf("Celsius(%d/100) = %d, %v, want %v", n/10, got, err, want)
		}
	}
	if inflation.Kelvin*5 != inflation.FahrenheitDegree*9 {
		t.Error("5 K are not 9 degF")
	}
}

func TestTemperatureCanonical(t *testing.T) {
	t.Parallel()
	checkQuantityTexts(t, inflation.ParseTemperature, []quantityLine{
		{"60 F", "60F", "60 f", "60 degF", "60 °F", "60.000 F"},
		{"-459.67 F", "-273.15 C"},
		{"-40 F", "-40 C", "-40 °C"},
		{"0 F"},
		{"32 F", "0 C", "0 degc"},
		{"59.9 F", "15.5 C"},
		{"59.018 F", "15.01 C"},
		{"69.8 F", "21 C"},
		{"0.001 F"},
		{"212 F", "100 C"},
	})
	if got := inflation.Temperature(0).String(); got != "-459.67 F" {
		t.Errorf("the zero Temperature is %q, want absolute zero", got)
	}
}

func TestTemperatureRefused(t *testing.T) {
	t.Parallel()
	checkQuantityRefused(t, "temperature", inflation.ParseTemperature, []quantityRefusal{
		{"", origin.ErrSyntax},
		{"warm", origin.ErrSyntax},
		{"15,5 C", origin.ErrSyntax},
		{"60", origin.ErrUnit},
		{"60 K", origin.ErrUnit},
		{"60 °", origin.ErrUnit},
		{"60 psi", origin.ErrUnit},
		{"-459.671 F", origin.ErrRange},
		{"-273.16 C", origin.ErrRange},
		{"9999999999999999 F", origin.ErrRange},
		{"0.0001 F", origin.ErrPrecision},
		{"15.501 C", origin.ErrPrecision}, // 1.8 thousandths of a degF
		{"1/3 F", origin.ErrPrecision},
	})
	_, err := inflation.ParseTemperature("-500 F")
	if want := `temperature "-500 F": out of range: want at least -459.67 F`; err.Error() != want {
		t.Errorf("got %v, want %s", err, want)
	}
	for _, d := range []decimal.Decimal{decimal.New(-45968, -2), decimal.New(-1, 1_000_000)} {
		if v, err := inflation.Fahrenheit(d); v != 0 || !errors.Is(err, origin.ErrRange) {
			t.Errorf("below absolute zero: %v, %v, want ErrRange", v, err)
		}
	}
	if v, err := inflation.Celsius(decimal.New(-27316, -2)); v != 0 || !errors.Is(err, origin.ErrRange) {
		t.Errorf("below absolute zero: %v, %v, want ErrRange", v, err)
	}
	if v, err := inflation.Celsius(decimal.New(15501, -3)); v != 0 || !errors.Is(err, origin.ErrPrecision) {
		t.Errorf("15.501 C: %v, %v, want ErrPrecision", v, err)
	}
	temp := inflation.Temperature(7)
	if err := temp.UnmarshalText([]byte("60")); err == nil || temp != 7 {
		t.Errorf("a refused text gives %d, %v", temp, err)
	}
}

func TestTemperatureReadsBack(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(2, 2))
	for range 20_000 {
		v := inflation.Temperature(quantitySize(rng, 1, int64(inflation.Kelvin)))
		if !checkQuantityReadsBack(t, inflation.ParseTemperature, v) && v >= 0 && v < 1e17 {
			t.Fatalf("%d has no text", v)
		}
	}
	for _, v := range []inflation.Temperature{0, 1, -1, math.MaxInt64, math.MinInt64} {
		checkQuantityReadsBack(t, inflation.ParseTemperature, v)
	}
	if _, err := inflation.Temperature(-1).MarshalText(); !errors.Is(err, origin.ErrRange) {
		t.Errorf("below absolute zero: %v, want ErrRange", err)
	}
	checkQuantityReaders[inflation.Temperature](t, 0)
	checkQuantityReaders(t, inflation.MustParseTemperature("60 F"))
	checkQuantityReaders(t, inflation.MustParseTemperature("15.5 C"))
}

func FuzzTemperature(f *testing.F) {
	for _, text := range []string{"60 F", "15.5 C", "-40 °C", "-459.67 F", "-459.671 F", "60"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		v, err := inflation.ParseTemperature(text)
		if err == nil && (v < 0 || !checkQuantityReadsBack(t, inflation.ParseTemperature, v)) {
			t.Errorf("%q is read as %d, but cannot be written", text, v)
		}
	})
}

func TestTemperatureAppendIn(t *testing.T) {
	t.Parallel()
	for _, tc := range []struct {
		text   string
		s      weight.System
		places int
		r      weight.Rounding
		want   string
	}{
		{"60 F", weight.US, 0, weight.Floor, "60"},
		{"60 F", weight.Metric, 1, weight.Floor, "15.5"},
		{"60 F", weight.Metric, 1, weight.Ceiling, "15.6"},
		{"-40 F", weight.Metric, 0, weight.Nearest, "-40"},
		{"31 F", weight.Metric, 0, weight.Floor, "-1"},
		{"31 F", weight.Metric, 0, weight.Ceiling, "0"},
		{"-459.67 F", weight.US, 2, weight.Nearest, "-459.67"},
		{"-459.67 F", weight.Metric, 2, weight.Nearest, "-273.15"},
	} {
		if got := string(inflation.MustParseTemperature(tc.text).AppendIn([]byte("at "), tc.s, tc.places, tc.r)); got != "at "+tc.want {
			t.Errorf("%s in %v with %d places, direction %d = %q, want at %s", tc.text, tc.s, tc.places, tc.r, got, tc.want)
		}
	}
}

func TestTemperatureDifferences(t *testing.T) {
	t.Parallel()
	warm, cool := inflation.MustParseTemperature("80 F"), inflation.MustParseTemperature("60 F")
	if got := warm.Sub(cool); got != 20*inflation.FahrenheitDegree {
		t.Errorf("80 F - 60 F = %d steps", got)
	}
	if got := cool.Sub(warm); got != -20*inflation.FahrenheitDegree {
		t.Errorf("60 F - 80 F = %d steps", got)
	}
	if got := cool.Add(20 * inflation.FahrenheitDegree); got != warm {
		t.Errorf("60 F and 20 degF = %v", got)
	}
	if got := inflation.MustParseTemperature("15 C").Add(-5 * inflation.Kelvin); got != inflation.MustParseTemperature("10 C") {
		t.Errorf("15 C less 5 K = %v", got)
	}
	for _, tc := range []struct {
		t    inflation.Temperature
		d    inflation.TemperatureDifference
		want inflation.Temperature
	}{
		{0, 0, 0},
		{0, -1, 0},
		{warm, -1_000_000, 0},
		{warm, math.MinInt64, 0},
		{-1, math.MinInt64, 0}, // wraps
		{warm, math.MaxInt64, math.MaxInt64},
		{math.MaxInt64, 1, math.MaxInt64},
		{math.MaxInt64, -1, math.MaxInt64 - 1},
		{-5, 3, 0},
		{-5, 8, 3},
	} {
		if got := tc.t.Add(tc.d); got != tc.want {
			t.Errorf("%d.Add(%d) = %d, want %d", tc.t, tc.d, got, tc.want)
		}
	}
}

func TestMustParseTemperaturePanics(t *testing.T) {
	t.Parallel()
	defer func() {
		if err, ok := recover().(error); !ok || !errors.Is(err, origin.ErrUnit) {
			t.Errorf("MustParseTemperature of a bare number panics with %v", err)
		}
	}()
	inflation.MustParseTemperature("60")
}

func ExampleParseTemperature() {
	for _, text := range []string{"60 F", "15.5 C", "-500 F"} {
		t, err := inflation.ParseTemperature(text)
		fmt.Println(t, err)
	}
	// Output:
	// 60 F <nil>
	// 59.9 F <nil>
	// -459.67 F temperature "-500 F": out of range: want at least -459.67 F
}

func ExampleFahrenheit() {
	t, err := inflation.Fahrenheit(decimal.New(60, 0))
	fmt.Println(t, err)
	fmt.Printf("%s C\n", t.AppendIn(nil, weight.Metric, 1, weight.Nearest))
	// Output:
	// 60 F <nil>
	// 15.6 C
}

func ExampleCelsius() {
	t, err := inflation.Celsius(decimal.New(155, -1))
	fmt.Println(t, err)
	// Output: 59.9 F <nil>
}

func ExampleTemperature_Sub() {
	morning, noon := inflation.MustParseTemperature("48 F"), inflation.MustParseTemperature("81 F")
	fmt.Println(noon.Sub(morning)/inflation.FahrenheitDegree, "degF warmer")
	// Output: 33 degF warmer
}
