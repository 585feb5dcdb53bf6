package quantity_test

import (
	"errors"
	"fmt"
	"math"
	"math/big"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/shopspring/decimal"

	"axleend.example/internal/quantity"
	"axleend.example/rules/origin"
)

// A kind of quantity that belongs to no package: grains and bushels of an
// invented measure whose steps share few factors, with an offset unit.
const (
	grain  = 127 * 1000
	bushel = 1_000_000
	offset = 459_670
)

var codec = &quantity.Codec{
	Kind: "heap",
	Want: `a number and gr or bu, such as "4 gr"`,
	Units: []quantity.Unit{
		{Names: []string{"gr", "grain"}, Steps: grain},
		{Names: []string{"bu", "°B"}, Steps: bushel},
		{Names: []string{"Ks"}, Steps: 1},
	},
	Forms: []quantity.Form{
		{Unit: 0, Grid: grain / 8, Over: 8, Below: grain},
		{Unit: 0, Places: 3, Grid: grain / 1000, Below: 1000 * grain},
		{Unit: 1, Places: 6, Grid: 1},
	},
	Min: math.MinInt64,
}

// warm has zeros that lie elsewhere, and a least value.
var warm = &quantity.Codec{
	Kind:  "warmth",
	Want:  "a number and F or C",
	Units: []quantity.Unit{{Names: []string{"F"}, Steps: 1000, Offset: offset}, {Names: []string{"C"}, Steps: 1800, Offset: 491_670}},
	Forms: []quantity.Form{{Unit: 0, Places: 3, Grid: 1}},
}

func TestParse(t *testing.T) {
	t.Parallel()
	for _, tc := range []struct {
		text string
		want int64
		err  error
	}{
		{"4 gr", 4 * grain, nil},
		{"4gr", 4 * grain, nil},
		{"  4   gr  ", 4 * grain, nil},
		{"+4 gr", 4 * grain, nil},
		{"-4 gr", -4 * grain, nil},
		{"-0 gr", 0, nil},
		{"0 gr", 0, nil},
		{"00004 gr", 4 * grain, nil},
		{"4 GR", 4 * grain, nil},
		{"4 Grain", 4 * grain, nil},
		{"4 °b", 4 * bushel, nil},
		{"4.25 bu", 4_250_000, nil},
		{"4.9 bu", 4_900_000, nil},
		{"9.09 bu", 9_090_000, nil},
		{"9/9 gr", grain, nil},
		{"4.000001 bu", 4_000_001, nil},
		{"4.0000000 bu", 4 * bushel, nil},
		{"0.5 bu", 500_000, nil},

		// Thousands commas: whole groups of three or none.
		{"3,640 bu", 3640 * bushel, nil},
		{"3,640.5 bu", 3640*bushel + 500_000, nil},
		{"12,345,678 bu", 12_345_678 * bushel, nil},
		{"-1,000 bu", -1000 * bushel, nil},
		{"3,64 bu", 0, origin.ErrSyntax},
		{"3,6400 bu", 0, origin.ErrSyntax},
		{"36,40,000 bu", 0, origin.ErrSyntax},
		{"3640,000 bu", 0, origin.ErrSyntax},
		{",640 bu", 0, origin.ErrSyntax},
		{"3,,640 bu", 0, origin.ErrSyntax},
		{"3,640, bu", 0, origin.ErrSyntax},
		{"3, 640 bu", 0, origin.ErrSyntax},
		{"3,2 bu", 0, origin.ErrSyntax},
		{"3.640,5 bu", 0, origin.ErrUnit},
		{"3.5,000 bu", 0, origin.ErrUnit},
		// A decimal comma, a thousand times too much if read as thousands.
		{"0,640 bu", 0, origin.ErrSyntax},
		{"00,640 bu", 0, origin.ErrSyntax},
		{"-0,640 bu", 0, origin.ErrSyntax},

		// Fractions.
		{"4/8 gr", grain / 2, nil},
		{"3 1/2 gr", 7 * grain / 2, nil},
		{"3-1/2 gr", 7 * grain / 2, nil},
		{"-3 1/2 gr", -7 * grain / 2, nil},
		{"3  1/2gr", 7 * grain / 2, nil},
		{"3 4/2 gr", 0, origin.ErrUnit}, // no part of one
		{"3 0/2 gr", 0, origin.ErrUnit},
		{"3 1/0 gr", 0, origin.ErrUnit},
		{"3-1 gr", 0, origin.ErrUnit}, // from 3 to 1, or 3.1
		{"3 - 1/2 gr", 0, origin.ErrUnit}, {"3- 1/2 gr", 0, origin.ErrUnit},
		{"3,000 1/2 gr", 0, origin.ErrUnit},
		{"3.5 1/2 gr", 0, origin.ErrUnit},
		{"3 1/2000 gr", 0, origin.ErrUnit},
		{"4 gr..", 0, origin.ErrUnit},
		{"-4/8 gr", -grain / 2, nil},
		{"9/8 gr", grain * 9 / 8, nil},
		{"0/8 gr", 0, nil},
		{"4/000008 gr", grain / 2, nil},
		{"4/0000008 gr", 0, origin.ErrSyntax},
		{"4/0 gr", 0, origin.ErrSyntax},
		{"4/ gr", 0, origin.ErrSyntax},
		{"/8 gr", 0, origin.ErrSyntax},
		{"4/8/2 gr", 0, origin.ErrUnit},
		{"4/-8 gr", 0, origin.ErrSyntax},
		{"1,000/8 gr", 0, origin.ErrUnit},
		{"4.5/8 gr", 0, origin.ErrUnit},
		{"1/3 gr", 0, origin.ErrPrecision},
		{"3/3 gr", grain, nil},

		// Eighteen digits, leading and trailing zeros counted.
		{"000000000000000004 gr", 4 * grain, nil},
		{"0000000000000000004 gr", 0, origin.ErrSyntax},
		{"4.00000000000000000 gr", 4 * grain, nil},
		{"4.000000000000000000 gr", 0, origin.ErrSyntax},
		{"999999999999999999 Ks", 999_999_999_999_999_999, nil},
		{"999999999999999999 gr", 0, origin.ErrRange},
		{"-999999999999999999 gr", 0, origin.ErrRange},
		{"9223372036854.775807 bu", 0, origin.ErrSyntax},
		{"9223372036854.7758 bu", 9_223_372_036_854_775_800, nil},
		{"9223372036855 bu", 0, origin.ErrRange},
		{"-9223372036855 bu", 0, origin.ErrRange},
		{"18446744073710 bu", 0, origin.ErrRange}, // past 64 bits as well

		// Numbers that end the text.
		{"4", 0, origin.ErrUnit},
		{"4.5", 0, origin.ErrUnit},
		{"4/8", 0, origin.ErrUnit},
		{"3,640", 0, origin.ErrUnit},

		// Not numbers.
		{"", 0, origin.ErrSyntax},
		{" ", 0, origin.ErrSyntax},
		{"gr", 0, origin.ErrSyntax},
		{"-", 0, origin.ErrSyntax},
		{"- 4 gr", 0, origin.ErrSyntax},
		{"--4 gr", 0, origin.ErrSyntax},
		{"+-4 gr", 0, origin.ErrSyntax},
		{"4. gr", 0, origin.ErrSyntax},
		{".4 gr", 0, origin.ErrSyntax},
		{".", 0, origin.ErrSyntax},
		{"4..5 gr", 0, origin.ErrSyntax},
		{"4.5.6 gr", 0, origin.ErrUnit},
		{"NaN gr", 0, origin.ErrSyntax},
		{"nan", 0, origin.ErrSyntax},
		{"Inf gr", 0, origin.ErrSyntax},
		{"-Inf gr", 0, origin.ErrSyntax},
		{"+infinity gr", 0, origin.ErrSyntax},
		{"0x10 gr", 0, origin.ErrUnit},
		{"1e3 gr", 0, origin.ErrUnit},
		{"1E3 gr", 0, origin.ErrUnit},
		{"1_000 gr", 0, origin.ErrUnit},
		{"1'000 gr", 0, origin.ErrUnit},
		{"1 000 gr", 0, origin.ErrUnit},
		{"$4 gr", 0, origin.ErrSyntax},

		// Only ASCII digits, signs and spaces; units fold ASCII letters only.
		{"٤ gr", 0, origin.ErrSyntax},
		{"４ gr", 0, origin.ErrSyntax},
		{"−4 gr", 0, origin.ErrSyntax},
		{"4\u00a0gr", 4 * grain, nil},
		{"4\u2009gr", 4 * grain, nil},
		{"4\tgr", 0, origin.ErrUnit},
		{"4 gr\n", 0, origin.ErrUnit},
		{"½ gr", 0, origin.ErrSyntax},
		{"4 Ks", 4, nil},
		{"4 \u212as", 0, origin.ErrUnit}, // Kelvin sign
		{"4 K\u017f", 0, origin.ErrUnit}, // long s
		{"4 \xffr", 0, origin.ErrUnit},
		{"4 gr\x00", 0, origin.ErrUnit},

		// Units.
		{"4", 0, origin.ErrUnit},
		{"4 ", 0, origin.ErrUnit},
		{"3,640", 0, origin.ErrUnit},
		{"4 grs", 0, origin.ErrUnit},
		{"4 g", 0, origin.ErrUnit},
		{"4 gr.", 4 * grain, nil},
		{"4 gr gr", 0, origin.ErrUnit},
		{"4 lb", 0, origin.ErrUnit},

		// Finer than a step.
		{"0.0000001 bu", 0, origin.ErrPrecision},
		{"0.5 Ks", 0, origin.ErrPrecision},
	} {
		got, err := codec.Parse(tc.text)
		if !errors.Is(err, tc.err) || got != tc.want {
			t.Errorf("Parse(%q) = %d, %v, want %d, %v", tc.text, got, err, tc.want, tc.err)
		}
		if err == nil {
			continue
		}
		var te *origin.TextError
		if !errors.As(err, &te) || te.Kind != "heap" || te.Text != tc.text || te.Want == "" {
			t.Errorf("Parse(%q): error %#v lacks its kind, text or what is wanted", tc.text, err)
		}
	}
}

// TestPairs: a number of a large unit and less than one of it in a small one.
func TestPairs(t *testing.T) {
	t.Parallel()
	feet := &quantity.Codec{Kind: "length", Want: "a number and ft or in", Units: []quantity.Unit{{Names: []string{"in"}, Steps: 2}, {Names: []string{"ft"}, Steps: 24}}, Pairs: []quantity.Pair{{Large: 1, Small: 0}}, Forms: []quantity.Form{{Unit: 0, Places: 1, Grid: 1}}}
	for text, want := range map[string]int64{"23 ft 4 in": 560, "23ft 4in": 560, "23 ft, 4.5 in": 561, "0 ft 4 in": 8, "23 ft 0 in": 552, "23 ft 11.5 in": 575} {
		if got, err := feet.Parse(text); err != nil || got != want {
			t.Errorf("%q: %d, want %d; %v", text, got, want, err)
		}
	}
	for _, text := range []string{"23 ft 12 in", "-23 ft 4 in", "23.5 ft 4 in", "23 ft -4 in", "23 ft 4 ft", "23 in 4 ft", "23 ft 4.3 in", "23 ft 4", "23 ft 4 in 2 in", "400000000000000000 ft 4 in", "384307168202282325 ft 0 in", "384307168202282325 ft 11.5 in"} {
		if got, err := feet.Parse(text); err == nil {
			t.Errorf("%q is taken for %d", text, got)
		}
	}
}

func TestParseWithAnOffset(t *testing.T) {
	t.Parallel()
	for _, tc := range []struct {
		text string
		want int64
		err  error
	}{
		{"0 F", offset, nil},
		{"60 F", offset + 60_000, nil},
		{"15.5 C", 519_570, nil},
		{"-40 F", 419_670, nil},
		{"-40 C", 419_670, nil},
		{"-459.67 F", 0, nil},
		{"-273.15 C", 0, nil},
		{"-459.671 F", 0, origin.ErrRange},
		{"-500 C", 0, origin.ErrRange},
		{"9223372036854775.5 F", 0, origin.ErrRange}, // the offset takes it past 64 bits
	} {
		got, err := warm.Parse(tc.text)
		if !errors.Is(err, tc.err) || got != tc.want {
			t.Errorf("Parse(%q) = %d, %v, want %d, %v", tc.text, got, err, tc.want, tc.err)
		}
	}
}

func TestErrorsSayWhatIsWanted(t *testing.T) {
	t.Parallel()
	for _, tc := range []struct {
		codec *quantity.Codec
		text  string
		want  string
	}{
		{codec, "4", `heap "4": no unit: want a number and gr or bu, such as "4 gr"`},
		{codec, "4 lb", `heap "4 lb": wrong or missing unit: want a number and gr or bu, such as "4 gr"`},
		{codec, "four", `heap "four": malformed number: want a number and gr or bu, such as "4 gr"`},
		{codec, "99,5 gr", `heap "99,5 gr": malformed number: a point goes before decimals, commas between thousands: want a number and gr or bu, such as "4 gr"`},
		{codec, "4.380,5 gr", `heap "4.380,5 gr": wrong or missing unit: a point goes before decimals, commas between thousands: want a number and gr or bu, such as "4 gr"`},
		{codec, "1.234.567 gr", `heap "1.234.567 gr": wrong or missing unit: a point goes before decimals, commas between thousands: want a number and gr or bu, such as "4 gr"`},
		{codec, "4 380 gr", `heap "4 380 gr": wrong or missing unit: a point goes before decimals, commas between thousands: want a number and gr or bu, such as "4 gr"`},
		{codec, "4'380 gr", `heap "4'380 gr": wrong or missing unit: a point goes before decimals, commas between thousands: want a number and gr or bu, such as "4 gr"`},
		{codec, "1/3 gr", `heap "1/3 gr": finer than can be kept exactly: want a rounder value`},
		{codec, "99999999999999 bu", `heap "99999999999999 bu": out of range: want at most 72624976668147 gr`},
		{codec, "-99999999999999 bu", `heap "-99999999999999 bu": out of range: want at least -72624976668147 gr`},
		{warm, "99999999999999999 F", `warmth "99999999999999999 F": out of range: want at most 9223372036854316 F`}, // (2^63 - 1 - 459,670) / 1000
		{warm, "-500 F", `warmth "-500 F": out of range: want at least -459.67 F`},
	} {
		if _, err := tc.codec.Parse(tc.text); err == nil || err.Error() != tc.want {
			t.Errorf("Parse(%q):\n got %v\nwant %s", tc.text, err, tc.want)
		}
	}
	_, err := codec.Parse(strings.Repeat("9", 10_000_000) + " gr")
	if !errors.Is(err, origin.ErrSyntax) || len(err.Error()) > 200 {
		t.Errorf("ten million digits give an error of %d bytes", len(err.Error()))
	}
}

func TestParseRefusesWhatCannotBeWrittenDown(t *testing.T) {
	t.Parallel()
	// 127 x 127 is the finest grid of the only form; a seventh lies off it.
	odd := &quantity.Codec{
		Kind:  "odd",
		Units: []quantity.Unit{{Names: []string{"x"}, Steps: 700}},
		Forms: []quantity.Form{{Places: 2, Grid: 7}},
		Min:   math.MinInt64,
	}
	if _, err := odd.Parse("1/7 x"); !errors.Is(err, origin.ErrPrecision) {
		t.Errorf("1/7: %v, want ErrPrecision: Append has no text for it", err)
	}
	if v, err := odd.Parse("7/7 x"); err != nil || v != 700 {
		t.Errorf("7/7 = %d, %v, want 700", v, err)
	}
	// A fraction can name a value whose decimals need more digits than are read.
	if _, err := codec.Parse("144115188075855871/15625 bu"); !errors.Is(err, origin.ErrPrecision) {
		t.Errorf("nineteen digits as a fraction: %v, want ErrPrecision", err)
	}
	// The least int64 of all, as a fraction, and one step below it.
	if _, err := codec.Parse("-144115188075855872/15625 bu"); !errors.Is(err, origin.ErrPrecision) {
		t.Errorf("the least value: %v, want ErrPrecision", err)
	}
	if _, err := codec.Parse("144115188075855872/15625 bu"); !errors.Is(err, origin.ErrRange) {
		t.Errorf("one step past the largest: %v, want ErrRange", err)
	}
}

func TestAppend(t *testing.T) {
	t.Parallel()
	for _, tc := range []struct {
		v    int64
		want string
	}{
		{0, "0/8 gr"},
		{grain / 8, "1/8 gr"},
		{-grain * 3 / 8, "-3/8 gr"},
		{grain / 1000, "0.001 gr"},
		{grain, "1 gr"},
		{999 * grain, "999 gr"},
		{-999*grain - grain/2, "-999.5 gr"},
		{1000 * grain, "127 bu"},
		{1, "0.000001 bu"},
		{-1, "-0.000001 bu"},
		{1_234_561, "1.234561 bu"},
		{999_999_999_999_999_999, "999999999999.999999 bu"},
		{math.MaxInt64, "~9223372036854.775807 bu"},
		{math.MinInt64, "~-9223372036854.775808 bu"},
		{-9_223_372_036_854_775_800, "-9223372036854.7758 bu"},
	} {
		if got := codec.String(tc.v); got != tc.want {
			t.Errorf("String(%d) = %q, want %q", tc.v, got, tc.want)
		}
		text, err := codec.Append([]byte("x"), tc.v)
		if strings.HasPrefix(tc.want, "~") {
			if !errors.Is(err, origin.ErrPrecision) || string(text) != "x" {
				t.Errorf("Append(%d) = %q, %v, want ErrPrecision", tc.v, text, err)
			}
			if _, err := codec.Parse(tc.want); !errors.Is(err, origin.ErrSyntax) {
				t.Errorf("Parse(%q) = %v, want ErrSyntax", tc.want, err)
			}
			continue
		}
		if err != nil || string(text) != "x"+tc.want {
			t.Errorf("Append(%d) = %q, %v, want %q", tc.v, text, err, "x"+tc.want)
		}
	}
}

// A form that would have too many digits leaves nothing of them behind, and the
// next one serves.
func TestAppendPassesOverAFormThatIsTooLong(t *testing.T) {
	t.Parallel()
	c := &quantity.Codec{Units: []quantity.Unit{{Names: []string{"bu"}, Steps: bushel}, {Names: []string{"sevens"}, Steps: 7}},
		Forms: []quantity.Form{{Unit: 0, Places: 6, Grid: 1}, {Unit: 1, Grid: 7}}}
	got, err := c.Append([]byte("it is "), 6_999_999_999_999_999_993)
	if want := "it is 999999999999999999 sevens"; err != nil || string(got) != want {
		t.Errorf("%q, %v, want %q", got, err, want)
	}
}

func TestAppendBelowTheLeast(t *testing.T) {
	t.Parallel()
	for _, v := range []int64{-1, -1000, math.MinInt64, math.MinInt64 + 1000} {
		if _, err := warm.Append(nil, v); !errors.Is(err, origin.ErrRange) {
			t.Errorf("Append(%d): %v, want ErrRange", v, err)
		}
		if got := warm.String(v); !strings.HasPrefix(got, "~-") || !strings.HasSuffix(got, " F") {
			t.Errorf("String(%d) = %q, want a negative value with a tilde", v, got)
		}
	}
}

func TestWhatIsAppendedReadsBack(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(1, 2))
	for range 20_000 {
		v := wide(rng)
		if rng.IntN(2) == 0 {
			v = v / grain * grain // mostly off the grids otherwise
		}
		for _, c := range []*quantity.Codec{codec, warm} {
			text, err := c.Append(nil, v)
			if err != nil {
				continue
			}
			if back, err := c.Parse(string(text)); err != nil || back != v {
				t.Fatalf("%s %d is written %q and read back as %d, %v", c.Kind, v, text, back, err)
			}
		}
	}
}

// wide gives values of every size, and the extremes often.
func wide(rng *rand.Rand) int64 {
	switch rng.IntN(12) {
	case 0:
		return math.MinInt64 + int64(rng.IntN(3))
	case 1:
		return math.MaxInt64 - int64(rng.IntN(3))
	case 2:
		return int64(rng.IntN(5)) - 2
	}
	return int64(rng.Uint64()) >> rng.IntN(64)
}

var directions = []quantity.Rounding{quantity.Floor, quantity.Ceiling, quantity.Nearest}

// quotient is the independent computation: num/den in the given direction.
func quotient(num, den *big.Int, r quantity.Rounding) *big.Int {
	q := new(big.Rat).SetFrac(num, den)
	one := big.NewInt(1)
	floor := new(big.Int).Div(q.Num(), q.Denom()) // denominators are positive
	switch r {
	case quantity.Ceiling:
		if !q.IsInt() {
			floor.Add(floor, one)
		}
	case quantity.Nearest:
		half := new(big.Rat).Sub(q, new(big.Rat).SetInt(floor))
		cmp := half.Cmp(big.NewRat(1, 2))
		if cmp > 0 || cmp == 0 && q.Sign() > 0 {
			floor.Add(floor, one)
		}
	}
	return floor
}

func TestMulDivAgainstBig(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(3, 4))
	check := func(a, b, c int64) {
		for _, r := range directions {
			got, ok := quantity.MulDiv(a, b, c, r)
			if c <= 0 {
				if ok || got != 0 {
					t.Fatalf("MulDiv(%d, %d, %d) = %d, %v, want false", a, b, c, got, ok)
				}
				continue
			}
			want := quotient(new(big.Int).Mul(big.NewInt(a), big.NewInt(b)), big.NewInt(c), r)
			if ok != want.IsInt64() || ok && got != want.Int64() || !ok && got != 0 {
				t.Fatalf("MulDiv(%d, %d, %d, %d) = %d, %v, want %v", a, b, c, r, got, ok, want)
			}
		}
	}
	for range 20_000 {
		check(wide(rng), wide(rng), wide(rng))
	}
	for range 10_000 { // quotients that do fit
		a, b := wide(rng), wide(rng)>>rng.IntN(40)
		check(a, b, b>>2+int64(rng.IntN(5)))
	}
	edge := []int64{math.MinInt64, math.MinInt64 + 1, -3, -2, -1, 0, 1, 2, 3, math.MaxInt64 - 1, math.MaxInt64}
	for _, a := range edge {
		for _, b := range edge {
			for _, c := range edge {
				check(a, b, c)
			}
		}
	}
	// The quotient is 2^64-1 and a rest: rounding up must not wrap to 0.
	check(7_378_697_629_483_820_641, 5, 2)
	check(math.MaxInt64, 4, 2)
}

// TestMulDivDoesNotWrap looks for products just below a multiple of 2^64.
func TestMulDivDoesNotWrap(t *testing.T) {
	t.Parallel()
	top := new(big.Int).Lsh(big.NewInt(1), 64)
	hits := 0
	for c := int64(3); c < 2000; c++ {
		low := new(big.Int).Sub(new(big.Int).Mul(top, big.NewInt(c)), big.NewInt(c)) // (2^64-1)c
		for b := 2*c + 1; b < 2*c+40; b++ {
			a := new(big.Int).Div(new(big.Int).Add(low, big.NewInt(c-1)), big.NewInt(b))
			if !a.IsInt64() {
				continue
			}
			rest := new(big.Int).Sub(new(big.Int).Mul(a, big.NewInt(b)), low)
			if rest.Sign() <= 0 || rest.Cmp(big.NewInt(c)) >= 0 {
				continue
			}
			hits++
			if got, ok := quantity.MulDiv(a.Int64(), b, c, quantity.Ceiling); ok {
				t.Fatalf("MulDiv(%v, %d, %d) = %d, true; the quotient is past 2^64-1", a, b, c, got)
			}
		}
	}
	if hits == 0 {
		t.Fatal("no product tried has a quotient of 2^64-1 and a rest")
	}
}

func TestUnknownDirectionIsFloor(t *testing.T) {
	t.Parallel()
	for _, v := range []int64{7, -7, math.MaxInt64, math.MinInt64} {
		want, _ := quantity.MulDiv(v, 1, 2, quantity.Floor)
		if got, _ := quantity.MulDiv(v, 1, 2, 99); got != want {
			t.Errorf("MulDiv(%d, 1, 2, 99) = %d, want %d", v, got, want)
		}
		floor := quantity.AppendIn(nil, v, 7, 12, quantity.Floor) // by way of big.Int
		if got := quantity.AppendIn(nil, v, 7, 12, 99); string(got) != string(floor) {
			t.Errorf("AppendIn(%d, 7, 12, 99) = %s, want %s", v, got, floor)
		}
	}
}

func TestRoundAgainstBig(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(5, 6))
	check := func(v, step int64) {
		for _, r := range directions {
			got, ok := quantity.Round(v, step, r)
			if step <= 0 {
				if ok {
					t.Fatalf("Round(%d, %d) is accepted", v, step)
				}
				continue
			}
			want := quotient(big.NewInt(v), big.NewInt(step), r)
			want.Mul(want, big.NewInt(step))
			if ok != want.IsInt64() || ok && got != want.Int64() {
				t.Fatalf("Round(%d, %d, %d) = %d, %v, want %v", v, step, r, got, ok, want)
			}
		}
	}
	for range 20_000 {
		check(wide(rng), wide(rng))
	}
	check(math.MinInt64, 2)
	check(math.MinInt64, 1<<62)
	check(math.MinInt64, math.MaxInt64)
}

func TestInAgainstBig(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(7, 8))
	for range 10_000 {
		v, unit, places := wide(rng), wide(rng), rng.IntN(16)-2
		r := directions[rng.IntN(3)]
		kept := min(max(places, 0), 12)
		want := new(big.Int)
		if unit > 0 {
			num := new(big.Int).Exp(big.NewInt(10), big.NewInt(int64(kept)), nil)
			want = quotient(num.Mul(num, big.NewInt(v)), big.NewInt(unit), r)
		}
		got := quantity.In(v, unit, places, r)
		if got.Exponent() != -int32(kept) || got.Coefficient().Cmp(want) != 0 {
			t.Fatalf("In(%d, %d, %d, %d) = %v, want %ve-%d", v, unit, places, r, got, want, kept)
		}
		text := string(quantity.AppendIn([]byte("x"), v, unit, places, r))
		if text != "x"+got.StringFixed(int32(kept)) {
			t.Fatalf("AppendIn(%d, %d, %d, %d) = %s, want x%s", v, unit, places, r, text, got.StringFixed(int32(kept)))
		}
	}
	for _, tc := range []struct {
		v, unit int64
		places  int
		want    string
	}{
		{0, grain, 2, "0.00"},
		{-1, grain, 2, "0.00"}, // no minus zero
		{-grain, grain, 0, "-1"},
		{math.MaxInt64, 1, 12, "9223372036854775807.000000000000"},
		{math.MinInt64, 1, 12, "-9223372036854775808.000000000000"},
		{math.MinInt64, 1, 0, "-9223372036854775808"},
		{grain, 0, 2, "0.00"},
		{grain, -1, 2, "0.00"},
	} {
		if got := string(quantity.AppendIn(nil, tc.v, tc.unit, tc.places, quantity.Nearest)); got != tc.want {
			t.Errorf("AppendIn(%d, %d, %d) = %s, want %s", tc.v, tc.unit, tc.places, got, tc.want)
		}
	}
}

func TestOfAgainstBig(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(9, 10))
	kinds := map[string]int{}
	for range 20_000 {
		coef := new(big.Int).Mul(big.NewInt(wide(rng)), big.NewInt(wide(rng)>>rng.IntN(64)))
		exp := int32(rng.IntN(60) - 40)
		unit := []int64{1, 2, 1000, grain, bushel, 453_592_370_000, math.MaxInt64}[rng.IntN(7)]
		if rng.IntN(3) == 0 { // values that fit more often than not
			coef, exp = big.NewInt(wide(rng)>>rng.IntN(64)), int32(rng.IntN(8)-6)
		}
		off := []int64{0, offset, math.MaxInt64, -5}[rng.IntN(4)]
		d := decimal.NewFromBigInt(coef, exp)
		steps := new(big.Rat).SetInt(new(big.Int).Mul(coef, big.NewInt(unit)))
		ten := new(big.Rat).SetInt(new(big.Int).Exp(big.NewInt(10), big.NewInt(int64(max(exp, -exp))), nil))
		if exp < 0 {
			ten.Inv(ten)
		}
		steps.Mul(steps, ten)
		want := steps.Add(steps, new(big.Rat).SetInt64(off))

		got, err := codec.Of(d, unit, off)
		switch {
		case want.IsInt() && want.Num().IsInt64():
			kinds["exact"]++
			if err != nil || got != want.Num().Int64() {
				t.Fatalf("Of(%v, %d, %d) = %d, %v, want %v", d, unit, off, got, err, want)
			}
		case want.IsInt():
			kinds["range"]++
			if !errors.Is(err, origin.ErrRange) {
				t.Fatalf("Of(%v, %d, %d) = %d, %v, want ErrRange", d, unit, off, got, err)
			}
		default:
			kinds["precision"]++
			if !errors.Is(err, origin.ErrPrecision) && !errors.Is(err, origin.ErrRange) {
				t.Fatalf("Of(%v, %d, %d) = %d, %v, want an error", d, unit, off, got, err)
			}
		}
	}
	for _, kind := range []string{"exact", "range", "precision"} {
		if kinds[kind] < 1000 {
			t.Errorf("only %d cases are %s", kinds[kind], kind)
		}
	}
}

func TestOf(t *testing.T) {
	t.Parallel()
	zeros := decimal.NewFromBigInt(new(big.Int).Exp(big.NewInt(10), big.NewInt(900), nil), -900) // 1.000…
	for _, tc := range []struct {
		name string
		d    decimal.Decimal
		unit int64
		want int64
		err  error
	}{
		{"zero value", decimal.Decimal{}, bushel, 0, nil},
		{"zero with a huge exponent", decimal.New(0, math.MaxInt32), bushel, 0, nil},
		{"zero with a tiny exponent", decimal.New(0, math.MinInt32), bushel, 0, nil},
		{"one", decimal.New(1, 0), bushel, bushel, nil},
		{"one with 900 zeros", zeros, bushel, bushel, nil},
		{"half a step", decimal.New(5, -7), bushel, 0, origin.ErrPrecision},
		{"no unit", decimal.New(1, 0), 0, 0, origin.ErrUnit},
		{"negative unit", decimal.New(1, 0), -1, 0, origin.ErrUnit},
		{"largest", decimal.New(math.MaxInt64, 0), 1, math.MaxInt64, nil},
		{"least", decimal.New(math.MinInt64, 0), 1, math.MinInt64, nil},
		{"too large by one", decimal.NewFromBigInt(new(big.Int).Lsh(big.NewInt(1), 63), 0), 1, 0, origin.ErrRange},
	} {
		got, err := codec.Of(tc.d, tc.unit, 0)
		if got != tc.want || !errors.Is(err, tc.err) {
			t.Errorf("%s: %d, %v, want %d, %v", tc.name, got, err, tc.want, tc.err)
		}
	}
	if got, err := warm.Of(decimal.New(-45967, -2), 1000, offset); err != nil || got != 0 {
		t.Errorf("absolute zero = %d, %v", got, err)
	}
	_, err := warm.Of(decimal.New(-45968, -2), 1000, offset)
	if want := `warmth "-459.68": out of range: want at least -459.67 F`; err == nil || err.Error() != want {
		t.Errorf("below absolute zero: %v, want %s", err, want)
	}
}

// A hostile decimal must be refused by its size, before any of it is spelled
// out: these take hours where that is forgotten.
func TestOfHugeDecimals(t *testing.T) {
	t.Parallel()
	million := new(big.Int).Exp(big.NewInt(7), big.NewInt(1_183_295), nil) // a million digits
	for _, tc := range []struct {
		name string
		d    decimal.Decimal
		err  error
		text string
	}{
		{"1e1000000000", decimal.New(1, 1_000_000_000), origin.ErrRange, "1e1000000000 or so"},
		{"-1e1000000000", decimal.New(-1, 1_000_000_000), origin.ErrRange, "-1e1000000000 or so"},
		{"1e2147483647", decimal.New(1, math.MaxInt32), origin.ErrRange, "1e2147483647 or so"},
		{"1e-1000000000", decimal.New(1, -1_000_000_000), origin.ErrPrecision, "1e-1000000000 or so"},
		{"1e-2147483648", decimal.New(1, math.MinInt32), origin.ErrPrecision, "1e-2147483648 or so"},
		{"a million digits", decimal.NewFromBigInt(million, 0), origin.ErrRange, "1e999"},
		{"a million decimals", decimal.NewFromBigInt(million, -999_999), origin.ErrPrecision, "1e-"},
		{"a million decimals of a large number", decimal.NewFromBigInt(million, -900_000), origin.ErrRange, "1e9"},
		{"1e60", decimal.New(1, 60), origin.ErrRange, "1e60 or so"},
		{"1e-900", decimal.New(1, -900), origin.ErrPrecision, "0.0"},
	} {
		_, err := codec.Of(tc.d, bushel, 0)
		var te *origin.TextError
		if !errors.Is(err, tc.err) || !errors.As(err, &te) || !strings.HasPrefix(te.Text, tc.text) {
			t.Errorf("%s: %v, want %v about %s", tc.name, err, tc.err, tc.text)
		}
	}
}

// TestDecimalGlobals is not parallel: it changes the decimal package's
// variables, which must change nothing here.
func TestDecimalGlobals(t *testing.T) {
	run := func() string {
		var b strings.Builder
		for _, d := range []decimal.Decimal{
			decimal.New(12345678, -4), decimal.New(5, -7), decimal.New(-5, 3), decimal.New(1, 30), decimal.New(100, -2),
			decimal.New(1, 1_000_000), decimal.New(1, -1_000_000),
		} {
			v, err := codec.Of(d, grain, 0)
			fmt.Fprintln(&b, v, err)
		}
		for _, r := range directions {
			d := quantity.In(-1_234_567_000, grain, 5, r)
			fmt.Fprintln(&b, d.Coefficient(), d.Exponent(), string(quantity.AppendIn(nil, -1_234_567_000, grain, 5, r)))
		}
		fmt.Fprintln(&b, codec.String(1_234_567), codec.String(math.MaxInt64))
		return b.String()
	}
	want := run()

	division, pow, quotes := decimal.DivisionPrecision, decimal.PowPrecisionNegativeExponent, decimal.MarshalJSONWithoutQuotes
	trim, scientific := decimal.TrimTrailingZeros, decimal.UseScientificNotation
	iterations, exponent := decimal.ExpMaxIterations, decimal.MaxDecodeExponent
	defer func() {
		decimal.DivisionPrecision, decimal.PowPrecisionNegativeExponent, decimal.MarshalJSONWithoutQuotes = division, pow, quotes
		decimal.TrimTrailingZeros, decimal.UseScientificNotation = trim, scientific
		decimal.ExpMaxIterations, decimal.MaxDecodeExponent = iterations, exponent
	}()
	for _, odd := range []int{0, 1, 3} {
		decimal.DivisionPrecision, decimal.PowPrecisionNegativeExponent, decimal.MarshalJSONWithoutQuotes = odd, odd, true
		decimal.TrimTrailingZeros, decimal.UseScientificNotation = odd == 1, odd != 0
		decimal.ExpMaxIterations, decimal.MaxDecodeExponent = odd, odd
		if got := run(); got != want {
			t.Errorf("with odd globals (%d):\n%swant\n%s", odd, got, want)
		}
	}
}

func FuzzParse(f *testing.F) {
	for _, text := range []string{
		"4 gr", "-3,640.25 bu", "4/8 gr", "999999999999999999 Ks", "0,640 bu", "1e3 gr", "NaN", "4 °B",
		"144115188075855872/15625 bu", "-144115188075855872/15625 bu", "4", "60 F", "-40 C", "\xff",
	} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		for _, c := range []*quantity.Codec{codec, warm} {
			v, err := c.Parse(text)
			if err != nil {
				var te *origin.TextError
				if v != 0 || !errors.As(err, &te) || te.Text != text || len(err.Error()) > 400 {
					t.Fatalf("Parse(%q) = %d, %v", text, v, err)
				}
				continue
			}
			if v < c.Min {
				t.Fatalf("Parse(%q) = %d, below the least value", text, v)
			}
			out, err := c.Append(nil, v)
			if err != nil {
				t.Fatalf("Parse(%q) = %d, which has no text: %v", text, v, err)
			}
			if back, err := c.Parse(string(out)); err != nil || back != v {
				t.Fatalf("Parse(%q) = %d, written %q, read back as %d, %v", text, v, out, back, err)
			}
			if str := c.String(v); str != string(out) {
				t.Fatalf("String(%d) = %q, Append gives %q", v, str, out)
			}
		}
	})
}

func BenchmarkParse(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if _, err := codec.Parse("3,640.5 bu"); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkAppend(b *testing.B) {
	b.ReportAllocs()
	buf := make([]byte, 0, 64)
	for b.Loop() {
		if _, err := codec.Append(buf, 3_640_500_001); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkAppendIn(b *testing.B) {
	b.ReportAllocs()
	buf := make([]byte, 0, 64)
	for b.Loop() {
		quantity.AppendIn(buf, 3_640_500_001, grain, 2, quantity.Ceiling)
	}
}

func BenchmarkMulDiv(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if _, ok := quantity.MulDiv(3_640_500_001, 95_000_000_000, 100_000_007, quantity.Ceiling); !ok {
			b.Fatal("does not fit")
		}
	}
}
