package weight_test

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/shopspring/decimal"

	"axleend.example/rules/origin"
	"axleend.example/weight"
)

func TestVolumeFactors(t *testing.T) {
	t.Parallel()
	for _, tc := range []struct {
		unit weight.Volume
		l    string
	}{
		{weight.USGallon, "3.785411784"}, // NIST SP 811, appendix B.8: 231 in3, exact
		{weight.Liter, "1"},
		{weight.Milliliter, "0.001"},
	} {
		if want := steps(t, tc.l, int64(weight.Liter)); int64(tc.unit) != want {
			t.Errorf("a unit of %s L is %d steps, want %d", tc.l, tc.unit, want)
		}
	}
	// 231 in3 at 25.4 mm the inch, in cubic millimeters a million to the liter.
	if got, want := steps(t, "231", 1)*254*254*254, int64(weight.USGallon/1000); got != want {
		t.Errorf("231 in3 are %d thousandths of a cubic millimeter, the gallon %d", got, want)
	}
}

func TestVolumeCanonical(t *testing.T) {
	t.Parallel()
	checkCanonical(t, weight.ParseVolume, []canonical{
		{"0 gal", "0 L", "-0 gal"},
		{"40 gal", "40 GAL", "40.000 gal", "151.41647136 L"},
		{"0.1 gal"},
		{"0.001 gal"},
		{"1000 gal", "1,000 gal"},
		{"150 L", "150 l"},
		{"0.5 L"},
		{"0.000000000001 L"},
	})
}

func TestVolumeRefused(t *testing.T) {
	t.Parallel()
	checkRefused(t, "volume", weight.ParseVolume, []refusal{
		{"gal", origin.ErrSyntax},
		{"0,5 L", origin.ErrSyntax},
		{"0,500 L", origin.ErrSyntax},
		{"40", origin.ErrUnit},
		{"40 lb", origin.ErrUnit},
		{"40 qt", origin.ErrUnit},
		{"-1 gal", origin.ErrRange},
		{"-0.001 L", origin.ErrRange},
		{"3000000 gal", origin.ErrRange},
		{"0.0000000000001 L", origin.ErrPrecision},
		{"1/3 L", origin.ErrPrecision},
	})
	var v weight.Volume = 7
	if err := v.UnmarshalText([]byte("40")); err == nil || v != 7 {
		t.Errorf("a refused text gives %d, %v", v, err)
	}
	if _, err := weight.Volume(-1).MarshalText(); !errors.Is(err, origin.ErrRange) {
		t.Errorf("a negative volume: %v, want ErrRange", err)
	}
	if got := (-2 * weight.Liter).String(); got != "~-2.000000000000 L" {
		t.Errorf("a negative volume is shown as %q", got)
	}
	_, err := weight.ParseVolume("-1 gal")
	if want := `volume "-1 gal": out of range: want at least 0 gal`; err == nil || err.Error() != want {
		t.Errorf("got %v, want %s", err, want)
	}
}

func TestVolumeReadsBack(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(4, 4))
	for range 20_000 {
		v := weight.Volume(sizes(rng, 1, int64(weight.USGallon), int64(weight.USGallon)/1000, int64(weight.Milliliter)))
		if !checkRoundTrip(t, weight.ParseVolume, v) && v >= 0 && v < 1_000_000*weight.Liter {
			t.Fatalf("%d has no text below a million liters", v)
		}
	}
	for _, v := range []weight.Volume{0, 1, math.MaxInt64, math.MinInt64} {
		checkRoundTrip(t, weight.ParseVolume, v)
	}
	checkJSONAndFlag[weight.Volume](t, 0)
	checkJSONAndFlag(t, 40*weight.USGallon)
	checkJSONAndFlag(t, 150*weight.Liter)
}

func FuzzVolume(f *testing.F) {
	for _, text := range []string{"40 gal", "150 L", "0.001 gal", "-1 gal", "40"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		v, err := weight.ParseVolume(text)
		if err == nil && (v < 0 || !checkRoundTrip(t, weight.ParseVolume, v)) {
			t.Errorf("%q is read as %d, but cannot be written", text, v)
		}
	})
}

func TestVolumeArithmetic(t *testing.T) {
	t.Parallel()
	if v, err := weight.VolumeOf(decimal.New(405, -1), weight.USGallon); err != nil || v != 81*weight.USGallon/2 {
		t.Errorf("VolumeOf(40.5 gal) = %v, %v", v, err)
	}
	if _, err := weight.VolumeOf(decimal.New(-1, 0), weight.USGallon); !errors.Is(err, origin.ErrRange) {
		t.Errorf("VolumeOf(-1 gal): %v, want ErrRange", err)
	}
	if _, err := weight.VolumeOf(decimal.New(1, -4), weight.USGallon); !errors.Is(err, origin.ErrPrecision) { // 378,541,178.4 pL
		t.Errorf("VolumeOf(0.0001 gal): %v, want ErrPrecision", err)
	}
	tank := weight.MustParseVolume("30 gal")
	if got := tank.In(weight.Liter, 1, weight.Floor); !got.Equal(decimal.New(1135, -1)) { // 113.562 L
		t.Errorf("30 gal is %v L", got)
	}
	if got := string(tank.AppendIn(nil, weight.Liter, 1, weight.Ceiling)); got != "113.6" {
		t.Errorf("30 gal is %s L, rounded up", got)
	}
	// An LP tank is full at 80 % (the label of 2000, as quoted): 30 gal hold 24.
	if got, err := tank.MulDiv(80, 100, weight.Floor); err != nil || got != 24*weight.USGallon {
		t.Errorf("80 %% of 30 gal = %v, %v", got, err)
	}
	if _, err := tank.MulDiv(1, 0, weight.Floor); !errors.Is(err, origin.ErrRange) {
		t.Errorf("MulDiv by 0: %v, want ErrRange", err)
	}
	if got := (113*weight.Liter + 1).Round(weight.Liter, weight.Ceiling); got != 114*weight.Liter {
		t.Errorf("113 L and a drop, rounded up = %v", got)
	}
	if got := tank.Round(0, weight.Floor); got != tank {
		t.Errorf("a step of 0 changes 30 gal to %v", got)
	}
	defer func() {
		if recover() == nil {
			t.Error("MustParseVolume of a bare number does not panic")
		}
	}()
	weight.MustParseVolume("40")
}

func ExampleParseVolume() {
	v, err := weight.ParseVolume("40 gal")
	fmt.Println(v, err)
	_, err = weight.ParseVolume("-1 gal")
	fmt.Println(err)
	// Output:
	// 40 gal <nil>
	// volume "-1 gal": out of range: want at least 0 gal
}

func ExampleVolume_In() {
	fmt.Println((40 * weight.USGallon).In(weight.Liter, 1, weight.Nearest))
	// Output: 151.4
}
