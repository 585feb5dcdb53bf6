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

func TestLengthFactors(t *testing.T) {
	t.Parallel()
	for _, tc := range []struct {
		unit weight.Length
		mm   string
	}{
		{weight.Inch, "25.4"},    // NIST SP 811, appendix B.8: exact
		{weight.Foot, "304.8"},   // the same
		{weight.Mile, "1609344"}, // the same
		{weight.Millimeter, "1"},
		{weight.Meter, "1000"},
		{weight.Kilometer, "1000000"},
		{weight.Nanometer, "0.000001"},
		{weight.Inch / 64, "0.396875"},
	} {
		if want := steps(t, tc.mm, int64(weight.Millimeter)); int64(tc.unit) != want {
			t.Errorf("a unit of %s mm is %d steps, want %d", tc.mm, tc.unit, want)
		}
	}
}

func TestLengthCanonical(t *testing.T) {
	t.Parallel()
	checkCanonical(t, weight.ParseLength, []canonical{
		{"0 in", "0 mm", "0/32 in", "0 mi", "0 km", "0.0 ft"},

		// Tread depths and cracks: 32nds, with a gauge that reads 64ths.
		{"4/32 in", "4/32in", "1/8 in", "0.125 in", "8/64 in", "3.175 mm"},
		{"2/32 in", "1/16 inch"},
		{"1/32 in"},
		{"31/32 in"},
		{"11/64 in", "0.171875 in"},
		{"16/32 in", "1/2 in", "0.5 in", "12.7 mm"},
		{"0.3 in", "7.62 mm"},
		{"1.6 mm"},
		{"3.2 mm", "0.32 cm"},
		{"-4/32 in"},

		// Diameters, circumferences, wheelbases, stations.
		{"1 in", "32/32 in", "2.54 cm"},
		{"38.4 in"},
		{"38.25 in", "153/4 in"},
		{"38.03125 in"},
		{"120.64 in"},
		{"78 in"},
		{"252 in", "21 ft", "252 inches", "252.0 in"},
		{"-40 in"},
		{"900 in", "75 feet"},
		{"1199 in"},
		{"965 mm", "96.5 cm", "0.965 m"},
		{"6400 mm", "6.4 m"},
		{"0.000001 mm"},

		// Elevations.
		{"100 ft", "1200 in", "30.48 m"},
		{"1000 ft", "1,000 feet"},
		{"5000 ft"},
		{"5280 ft", "1 mi"},
		{"10000 ft", "10,000 ft"},
		{"14271 ft"},
		{"1500 m", "1.5 km"},
		{"1609.3 m"},
		{"127 m"}, // 5,000 in
		{"99000 mm", "99 m"},

		// Odometers.
		{"41250 mi", "41,250 miles", "41250.0 mi", "66385.44 km"},
		{"41250.3 mi"},
		{"3 mi", "15840 ft"},
		{"50 mi"},
		{"66000 km", "66,000 km"},
		{"66000.5 km"},
		{"63500 km"}, // 2,500,000,000 in
		{"38100 km"}, // 125,000,000 ft
		{"381 km"},   // 1,250,000 ft
		{"12.3 km"},
		{"5000000 mi"},
		{"8000000 km"},
	})
}

func TestLengthRefused(t *testing.T) {
	t.Parallel()
	checkRefused(t, "length", weight.ParseLength, []refusal{
		{"", origin.ErrSyntax},
		{"4/0 in", origin.ErrSyntax},
		{"3,2 mm", origin.ErrSyntax},
		{"41,25 mi", origin.ErrSyntax},
		{"0,965 m", origin.ErrSyntax},
		{"4/32", origin.ErrUnit},
		{"10/32 mm", origin.ErrUnit}, // inches, by its fraction
		{"4 1/2 cm", origin.ErrUnit},
		{"1/2 m", origin.ErrUnit},
		{"1/2 km", origin.ErrUnit},
		{"9/64nds", origin.ErrUnit},
		{"9/32ths", origin.ErrUnit},
		{"94 33/32 in", origin.ErrUnit},
		{"23 ft 12 in", origin.ErrUnit},
		{"23 ft -4 in", origin.ErrUnit},
		{"-23 ft 4 in", origin.ErrUnit},
		{"23.5 ft 4 in", origin.ErrUnit},
		{"23 ft 4", origin.ErrUnit},
		{"23 in 4 ft", origin.ErrUnit},
		{"3-4 in", origin.ErrUnit},
		{"5.5/32 in", origin.ErrUnit},
		{"4 lb", origin.ErrUnit},
		{"5800000 mi", origin.ErrRange},
		{"-5800000 mi", origin.ErrRange},
		{"1/3 in", origin.ErrPrecision},
		{"0.0000001 mm", origin.ErrPrecision},
		{"1/128 in", origin.ErrPrecision}, // 198,437.5 nm
	})
	if l, err := weight.ParseLength("1/3 ft"); err != nil || l != 4*weight.Inch {
		t.Errorf("1/3 ft = %v, %v, want 4 in", l, err)
	}
	var l weight.Length = 7
	if err := l.UnmarshalText([]byte("4/32")); err == nil || l != 7 {
		t.Errorf("a refused text gives %d, %v", l, err)
	}
}

func TestLengthReadsBack(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(3, 3))
	grids := []int64{1, int64(weight.Inch), int64(weight.Inch) / 64, int64(weight.Inch) / 100, int64(weight.Mile) / 10,
		int64(weight.Foot), int64(weight.Millimeter), int64(weight.Meter) / 10, int64(weight.Kilometer) / 10}
	for range 30_000 {
		l := weight.Length(sizes(rng, grids...))
		if !checkRoundTrip(t, weight.ParseLength, l) && l > -1_000_000*weight.Kilometer && l < 1_000_000*weight.Kilometer {
			t.Fatalf("%d has no text below a million kilometers", l)
		}
	}
	// The bands of the forms meet without a gap.
	for _, edge := range []weight.Length{weight.Inch, 100 * weight.Foot, 400 * weight.Foot, 3 * weight.Mile, 10 * weight.Mile,
		100 * weight.Meter, 10 * weight.Kilometer, 0, math.MaxInt64, math.MinInt64} {
		for d := weight.Length(-2); d <= 2; d++ {
			for _, step := range []weight.Length{1, weight.Inch / 64, weight.Inch / 100, weight.Inch, weight.Foot, weight.Meter} {
				checkRoundTrip(t, weight.ParseLength, edge+d*step)
				checkRoundTrip(t, weight.ParseLength, -edge-d*step)
			}
		}
	}
	checkJSONAndFlag[weight.Length](t, 0)
	checkJSONAndFlag(t, 4*weight.Inch/32)
	checkJSONAndFlag(t, 41_250*weight.Mile)
	checkJSONAndFlag(t, 32*weight.Millimeter/10)
}

func FuzzLength(f *testing.F) {
	for _, text := range []string{"4/32 in", "11/64 in", "38.4 in", "252 in", "5000 ft", "41,250 mi", "66000 km", "3.2 mm", "1500 m",
		"144115188075855871/15625 mm", "4/32"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		if l, err := weight.ParseLength(text); err == nil && !checkRoundTrip(t, weight.ParseLength, l) {
			t.Errorf("%q is read, but cannot be written", text)
		}
	})
}

func TestLengthArithmetic(t *testing.T) {
	t.Parallel()
	if l, err := weight.LengthOf(decimal.New(384, -1), weight.Inch); err != nil || l != weight.MustParseLength("38.4 in") {
		t.Errorf("LengthOf(38.4 in) = %v, %v", l, err)
	}
	if _, err := weight.LengthOf(decimal.New(1, -9), weight.Inch); !errors.Is(err, origin.ErrPrecision) {
		t.Errorf("a billionth of an inch: %v, want ErrPrecision", err)
	}
	if _, err := weight.LengthOf(decimal.New(1, 30), weight.Mile); !errors.Is(err, origin.ErrRange) {
		t.Errorf("1e30 mi: %v, want ErrRange", err)
	}
	if _, err := weight.LengthOf(decimal.New(1, 0), 0); !errors.Is(err, origin.ErrUnit) {
		t.Errorf("no unit: %v, want ErrUnit", err)
	}
	depth := weight.MustParseLength("3.2 mm")
	thirtySecond := weight.Inch / 32
	if got := depth.Round(thirtySecond, weight.Floor); got != 4*thirtySecond {
		t.Errorf("3.2 mm is %v in whole 32nds, want 4/32 in", got)
	}
	if got := depth.In(weight.Inch, 3, weight.Floor); !got.Equal(decimal.New(125, -3)) { // 0.12598 in
		t.Errorf("3.2 mm is %v in", got)
	}
	if got := string(depth.AppendIn(nil, weight.Inch, 3, weight.Ceiling)); got != "0.126" {
		t.Errorf("3.2 mm is %s in, rounded up", got)
	}
	// Circumference over diameter, in the 355/113 of old: 1 in of it is a
	// diameter of 0.318 in.
	if got, err := weight.Inch.MulDiv(113, 355, weight.Floor); err != nil || got != 8_085_070 { // 25,400,000 x 113 / 355 = 8,085,070.4
		t.Errorf("1 in of circumference = %d, %v", got, err)
	}
	if got, err := weight.Inch.MulDiv(1, 0, weight.Floor); got != 0 || !errors.Is(err, origin.ErrRange) {
		t.Errorf("MulDiv by 0 = %d, %v", got, err)
	}
	if got := weight.Inch.Round(-1, weight.Floor); got != weight.Inch {
		t.Errorf("a negative step changes 1 in to %v", got)
	}
	defer func() {
		if recover() == nil {
			t.Error("MustParseLength of a bare number does not panic")
		}
	}()
	weight.MustParseLength("4/32")
}

func ExampleParseLength() {
	for _, text := range []string{"4/32 in", "3.2 mm", "38.40 in", "21 ft", "5,000 ft", "41,250 mi"} {
		l, err := weight.ParseLength(text)
		fmt.Println(l, err)
	}
	// Output:
	// 4/32 in <nil>
	// 3.2 mm <nil>
	// 38.4 in <nil>
	// 252 in <nil>
	// 5000 ft <nil>
	// 41250 mi <nil>
}

func ExampleLengthOf() {
	l, err := weight.LengthOf(decimal.New(384, -1), weight.Inch)
	fmt.Println(l, err)
	// Output: 38.4 in <nil>
}

func ExampleLength_In() {
	fmt.Println((252 * weight.Inch).In(weight.Meter, 2, weight.Nearest))
	// Output: 6.4
}

func ExampleLength_Round() {
	worn := weight.MustParseLength("3.2 mm")
	fmt.Println(worn.Round(weight.Inch/32, weight.Floor))
	// Output: 4/32 in
}

// TestLengthAsPeopleWriteIt: what can mean one thing only is read as that.
func TestLengthAsPeopleWriteIt(t *testing.T) {
	for text, want := range map[string]weight.Length{
		`9/32"`: 9 * weight.Inch / 32, "9/32nds": 9 * weight.Inch / 32, "9 32nds": 9 * weight.Inch / 32, "5/64ths": 5 * weight.Inch / 64,
		"7/32 in.": 7 * weight.Inch / 32, "7/32\u00a0in": 7 * weight.Inch / 32, "9/32\u201d": 9 * weight.Inch / 32, "9\u204432 in": 9 * weight.Inch / 32,
		"23 ft 4 in": 280 * weight.Inch, "23' 4\"": 280 * weight.Inch, "23\u2032 4\u2033": 280 * weight.Inch, "23ft 4 1/2in.": 280*weight.Inch + weight.Inch/2,
		"94 1/8 in": 94*weight.Inch + weight.Inch/8, "94-1/8 in": 94*weight.Inch + weight.Inch/8, "38.4\"": 384 * weight.Inch / 10, "21'": 21 * weight.Foot,
	} {
		if got, err := weight.ParseLength(text); err != nil || got != want {
			t.Errorf("%q is read as %s, %v, want %s", text, got, err, want)
		}
	}
	for text, want := range map[string]weight.Mass{
		"47,000 lbs.": 47000 * weight.Pound, "3640#": 3640 * weight.Pound, "3640 pounds": 3640 * weight.Pound, "1651 kgs": 1651 * weight.Kilogram,
	} {
		if got, err := weight.ParseMass(text); err != nil || got != want {
			t.Errorf("%q is read as %s, %v, want %s", text, got, err, want)
		}
	}
}

// TestMixedLengths: a whole number with a fraction is their sum, however it is
// joined, and feet with inches are theirs.
func TestMixedLengths(t *testing.T) {
	r := rand.New(rand.NewPCG(15, 4))
	for range 2000 {
		whole, over := r.IntN(2000), 1<<(1+r.IntN(5))
		part := 1 + r.IntN(over-1)
		want := weight.Length(whole)*weight.Inch + weight.Length(part)*weight.Inch/weight.Length(over)
		for _, format := range []string{"%d %d/%d in", "%d-%d/%d in", "%d %d/%d\"", "%d  %d/%d inches"} {
			text := fmt.Sprintf(format, whole, part, over)
			if got, err := weight.ParseLength(text); err != nil || got != want {
				t.Fatalf("%q is read as %s, %v, want %s", text, got, err, want)
			}
		}
		feet, inches := r.IntN(100), r.IntN(12)
		want = weight.Length(feet)*weight.Foot + weight.Length(inches)*weight.Inch + weight.Length(part)*weight.Inch/weight.Length(over)
		text := fmt.Sprintf("%d ft %d %d/%d in", feet, inches, part, over)
		if got, err := weight.ParseLength(text); err != nil || got != want {
			t.Fatalf("%q is read as %s, %v, want %s", text, got, err, want)
		}
	}
}
