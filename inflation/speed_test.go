package inflation_test

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/shopspring/decimal"

	"axleend.example/inflation"
	"axleend.example/rules/origin"
	"axleend.example/weight"
)

func TestSpeedFactors(t *testing.T) {
	t.Parallel()
	// 1 mi = 5,280 ft of 304.8 mm (NIST SP 811, appendix B.8).
	if got := inflation.Speed(5280 * 3048 / 10); got != inflation.MilePerHour {
		t.Errorf("1 mph is %d mm/h, want %d", inflation.MilePerHour, got)
	}
	if inflation.KilometerPerHour != 1_000_000 {
		t.Errorf("1 km/h is %d mm/h", inflation.KilometerPerHour)
	}
	if int64(inflation.MilePerHour) != int64(weight.Mile/weight.Millimeter) {
		t.Error("the mile of a speed is not the mile of a length")
	}
	a, err1 := inflation.ParseSpeed("62.5 mph")
	b, err2 := inflation.ParseSpeed("100.584 km/h")
	if err1 != nil || err2 != nil || a != b {
		t.Errorf("62.5 mph is %d, 100.584 km/h is %d", a, b)
	}
}

func TestSpeedCanonical(t *testing.T) {
	t.Parallel()
	checkQuantityTexts(t, inflation.ParseSpeed, []quantityLine{
		{"0 mph", "0 km/h", "-0 mph"},
		{"65 mph", "65MPH", "65.0 mph", "104.60736 km/h"},
		{"62.5 mph", "125/2 mph"},
		{"105 km/h", "105 kmh", "105 KM/H"},
		{"100.5 km/h"},
		{"0.000001 km/h"},
	})
}

func TestSpeedRefused(t *testing.T) {
	t.Parallel()
	checkQuantityRefused(t, "speed", inflation.ParseSpeed, []quantityRefusal{
		{"", origin.ErrSyntax},
		{"fast", origin.ErrSyntax},
		{"0,105 km/h", origin.ErrSyntax},
		{"65", origin.ErrUnit},
		{"65 mi", origin.ErrUnit},
		{"65 m/s", origin.ErrUnit},
		{"-1 mph", origin.ErrRange},
		{"-0.5 km/h", origin.ErrRange},
		{"9999999999999 mph", origin.ErrRange},
		{"62.3 mph", origin.ErrPrecision}, // 100,262,131.2 mm/h
		{"0.0000001 km/h", origin.ErrPrecision},
	})
	if _, err := inflation.Speed(-1).MarshalText(); !errors.Is(err, origin.ErrRange) {
		t.Errorf("a negative speed: %v, want ErrRange", err)
	}
	if got := (-65 * inflation.MilePerHour).String(); got != "~-104.607360 km/h" {
		t.Errorf("a negative speed is shown as %q", got)
	}
	s := inflation.Speed(7)
	if err := s.UnmarshalText([]byte("65")); err == nil || s != 7 {
		t.Errorf("a refused text gives %d, %v", s, err)
	}
}

func TestSpeedReadsBack(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(3, 3))
	for range 20_000 {
		s := inflation.Speed(quantitySize(rng, 1, int64(inflation.MilePerHour), int64(inflation.KilometerPerHour)))
		if !checkQuantityReadsBack(t, inflation.ParseSpeed, s) && s >= 0 && s < 1_000_000*inflation.KilometerPerHour {
			t.Fatalf("%d has no text below a million km/h", s)
		}
	}
	for _, s := range []inflation.Speed{0, 1, -1, math.MaxInt64, math.MinInt64} {
		checkQuantityReadsBack(t, inflation.ParseSpeed, s)
	}
	checkQuantityReaders[inflation.Speed](t, 0)
	checkQuantityReaders(t, 65*inflation.MilePerHour)
	checkQuantityReaders(t, 105*inflation.KilometerPerHour)
}

func FuzzSpeed(f *testing.F) {
	for _, text := range []string{"65 mph", "105 km/h", "62.5 mph", "0 mph", "-1 mph", "65"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		s, err := inflation.ParseSpeed(text)
		if err == nil && (s < 0 || !checkQuantityReadsBack(t, inflation.ParseSpeed, s)) {
			t.Errorf("%q is read as %d, but cannot be written", text, s)
		}
	})
}

func TestSpeedArithmetic(t *testing.T) {
	t.Parallel()
	s := 65 * inflation.MilePerHour
	if got := s.In(inflation.KilometerPerHour, 1, weight.Ceiling); !got.Equal(decimal.New(1047, -1)) { // 104.60736
		t.Errorf("65 mph is %v km/h, rounded up", got)
	}
	if got := string(s.AppendIn(nil, inflation.KilometerPerHour, 0, weight.Floor)); got != "104" {
		t.Errorf("65 mph is %s km/h, rounded down", got)
	}
	if got := s.Round(5*inflation.KilometerPerHour, weight.Ceiling); got != 105*inflation.KilometerPerHour {
		t.Errorf("65 mph, rounded up to 5 km/h = %v", got)
	}
	if got := s.Round(0, weight.Ceiling); got != s {
		t.Errorf("a step of 0 changes 65 mph to %v", got)
	}
	if got, err := s.MulDiv(1, 2, weight.Floor); err != nil || got.String() != "32.5 mph" {
		t.Errorf("half of 65 mph = %v, %v", got, err)
	}
	if got, err := s.MulDiv(1, 0, weight.Floor); got != 0 || !errors.Is(err, origin.ErrRange) {
		t.Errorf("MulDiv by 0 = %v, %v", got, err)
	}
}

func ExampleParseSpeed() {
	for _, text := range []string{"65 mph", "105 km/h", "65"} {
		s, err := inflation.ParseSpeed(text)
		fmt.Println(s, err)
	}
	// Output:
	// 65 mph <nil>
	// 105 km/h <nil>
	// 0 mph speed "65": no unit: want a number and mph or km/h, such as "65 mph"
}

func ExampleSpeed_In() {
	fmt.Println((65 * inflation.MilePerHour).In(inflation.KilometerPerHour, 1, weight.Nearest))
	// Output: 104.6
}
