package weight_test

import (
	"encoding"
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"io"
	"math"
	"math/big"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/shopspring/decimal"

	"axleend.example/rules/origin"
	"axleend.example/weight"
)

// quantity is what Mass, Length and Volume have in common.
type quantity interface {
	~int64
	encoding.TextMarshaler
	encoding.TextAppender
	fmt.Stringer
}

// steps gives a decimal text in whole steps of 1/perUnit, computed apart from
// the library.
func steps(t testing.TB, text string, perUnit int64) int64 {
	t.Helper()
	r, ok := new(big.Rat).SetString(text)
	if !ok {
		t.Fatalf("%q is no number", text)
	}
	r.Mul(r, new(big.Rat).SetInt64(perUnit))
	if !r.IsInt() || !r.Num().IsInt64() {
		t.Fatalf("%s of %d is no whole number of steps", text, perUnit)
	}
	return r.Num().Int64()
}

// canonical is one line of a table of canonical texts: each of the ways to
// write it gives the first.
type canonical []string

func checkCanonical[T quantity](t *testing.T, parse func(string) (T, error), table []canonical) {
	t.Helper()
	for _, line := range table {
		for _, text := range line {
			v, err := parse(text)
			if err != nil {
				t.Errorf("%q: %v", text, err)
				continue
			}
			if got := v.String(); got != line[0] {
				t.Errorf("%q is written %q, want %q", text, got, line[0])
			}
		}
	}
}

type refusal struct {
	text string
	err  error
}

func checkRefused[T quantity](t *testing.T, kind string, parse func(string) (T, error), table []refusal) {
	t.Helper()
	for _, tc := range table {
		v, err := parse(tc.text)
		var te *origin.TextError
		if v != 0 || !errors.Is(err, tc.err) || !errors.As(err, &te) || te.Kind != kind || te.Text != tc.text {
			t.Errorf("%q = %d, %v, want 0 and a %s TextError that matches %v", tc.text, v, err, kind, tc.err)
		}
	}
}

// checkRoundTrip holds a value to: what is marshaled reads back as the same.
// It reports whether there is a text.
func checkRoundTrip[T quantity](t *testing.T, parse func(string) (T, error), v T) bool {
	t.Helper()
	text, err := v.MarshalText()
	if err != nil {
		if !errors.Is(err, origin.ErrPrecision) && !errors.Is(err, origin.ErrRange) {
			t.Fatalf("%d: %v", v, err)
		}
		if str := v.String(); !strings.HasPrefix(str, "~") {
			t.Fatalf("%d has no text, but is shown as %q", v, str)
		} else if _, err := parse(str); err == nil {
			t.Fatalf("%q is read", str)
		}
		return false
	}
	back, err := parse(string(text))
	if err != nil || back != v {
		t.Fatalf("%d is written %q and read back as %d, %v", v, text, back, err)
	}
	if str := v.String(); str != string(text) {
		t.Fatalf("%d is written %q, but shown as %q", v, text, str)
	}
	if added, err := v.AppendText([]byte("at ")); err != nil || string(added) != "at "+string(text) {
		t.Fatalf("%d is appended as %q, %v", v, added, err)
	}
	return true
}

// sizes gives values of every size and sign, on the given grids as often as
// not.
func sizes(rng *rand.Rand, grids ...int64) int64 {
	v := int64(rng.Uint64()) >> rng.IntN(64)
	if g := grids[rng.IntN(len(grids))]; rng.IntN(2) == 0 {
		v = v / g * g
	}
	return v
}

// checkJSONAndFlag takes a value through the two other readers of text.
func checkJSONAndFlag[T quantity, P interface {
	*T
	encoding.TextUnmarshaler
}](t *testing.T, v T) {
	t.Helper()
	type record struct {
		Value T            `json:"value"`
		Keys  map[T]string `json:"keys"`
	}
	in := record{v, map[T]string{v: "key"}}
	data, err := json.Marshal(in)
	if err != nil {
		t.Fatal(err)
	}
	if want := fmt.Sprintf(`{"value":%q,"keys":{%q:"key"}}`, v.String(), v.String()); string(data) != want {
		t.Errorf("JSON is %s, want %s", data, want)
	}
	var out record
	if err := json.Unmarshal(data, &out); err != nil || out.Value != v || out.Keys[v] != "key" {
		t.Errorf("JSON %s reads back as %v, %v", data, out, err)
	}
	for _, bad := range []string{`{"value":3640}`, `{"value":"3640"}`, `{"value":true}`} {
		out.Value = v
		if err := json.Unmarshal([]byte(bad), &out); err == nil || out.Value != v {
			t.Errorf("JSON %s gives %v, %v, want an error and nothing changed", bad, out.Value, err)
		}
	}

	fs := flag.NewFlagSet("test", flag.ContinueOnError)
	fs.SetOutput(io.Discard)
	var got T
	fs.TextVar(P(&got), "value", v, "a value")
	if got != v {
		t.Errorf("the flag's default is %v, want %v", got, v)
	}
	got = 0
	if err := fs.Parse([]string{"-value", v.String()}); err != nil || got != v {
		t.Errorf("the flag gives %v, %v, want %v", got, err, v)
	}
	if err := fs.Parse([]string{"-value", "3640"}); err == nil || got != v {
		t.Errorf("a bare number on the flag gives %v, %v", got, err)
	}
}

func TestMassFactors(t *testing.T) {
	t.Parallel()
	for _, tc := range []struct {
		unit weight.Mass
		kg   string
	}{
		{weight.Pound, "0.45359237"}, // NIST SP 811, appendix B.8: exact
		{weight.Kilogram, "1"},
		{weight.Gram, "0.001"},
		{weight.Nanogram, "0.000000000001"},
	} {
		if want := steps(t, tc.kg, int64(weight.Kilogram)); int64(tc.unit) != want {
			t.Errorf("a unit of %s kg is %d steps, want %d", tc.kg, tc.unit, want)
		}
	}
}

func TestMassIsExactAcrossUnits(t *testing.T) {
	t.Parallel()
	for _, tc := range []struct{ a, b string }{
		{"1 lb", "453.59237 g"},
		{"100,000,000 lb", ""},
		{"10,000 lb", "4535.9237 kg"},
		{"0.0001 lb", "0.000045359237 kg"},
		{"1651 kg", "1,651,000 g"},
		{"-20 lb", "-9.0718474 kg"},
		{"1/2 lb", "0.5 lb"},
	} {
		if tc.b == "" {
			if _, err := weight.ParseMass(tc.a); !errors.Is(err, origin.ErrRange) {
				t.Errorf("%s: %v, want ErrRange", tc.a, err)
			}
			continue
		}
		if a, b := weight.MustParseMass(tc.a), weight.MustParseMass(tc.b); a != b {
			t.Errorf("%s is %d steps, %s is %d", tc.a, a, tc.b, b)
		}
	}
	if got := 3640 * weight.Pound; got != weight.MustParseMass("3,640 lbs") {
		t.Errorf("3640 * Pound = %v", got)
	}
	// Load index 125 is 1,650 kg (ISO 4000-1), 3,637.6 lb: not the 3,640 lb
	// that a US sidewall rounds it to.
	if weight.MustParseMass("1650 kg") == weight.MustParseMass("3640 lb") {
		t.Error("1650 kg equals 3640 lb")
	}
}

func TestMassCanonical(t *testing.T) {
	t.Parallel()
	checkCanonical(t, weight.ParseMass, []canonical{
		{"0 lb", "0 kg", "0 g", "-0 lb", "0.000 kg"},
		{"3640 lb", "3,640 lbs", "3640LB", "+3640.0000 lb", "1651076.2268 g"},
		{"3640.5 lb", "3640.50 lb"},
		{"0.0001 lb"},
		{"-20 lb"},
		{"1651 kg", "1,651 kg", "1651 KG", "1651000 g"},
		{"1550.5 kg"},
		{"0.5 kg", "500 g"},
		{"0.001 kg", "1 g"},
		{"0.000000000001 kg"},
		{"-68 kg"},
		{"453.592370000001 kg"},
		{"20000000 lb"},
	})
}

func TestMassRefused(t *testing.T) {
	t.Parallel()
	checkRefused(t, "mass", weight.ParseMass, []refusal{
		{"", origin.ErrSyntax},
		{"heavy", origin.ErrSyntax},
		{"0,640 kg", origin.ErrSyntax}, // a decimal comma
		{"1,5 kg", origin.ErrSyntax},
		{"1e3 lb", origin.ErrUnit},
		{"3640", origin.ErrUnit},
		{"3640 psi", origin.ErrUnit},
		{"3640 lbf", origin.ErrUnit},
		{"5 t", origin.ErrUnit},
		{"5 tons", origin.ErrUnit},
		{"20334055 lb", origin.ErrRange},
		{"-20334055 lb", origin.ErrRange},
		{"9223373 kg", origin.ErrRange},
		{"0.00001 lb", origin.ErrPrecision},
		{"0.0000000000001 kg", origin.ErrPrecision},
		{"1/3 kg", origin.ErrPrecision},
	})
	// The largest whole pounds and kilograms are read.
	for _, text := range []string{"20334054 lb", "9223372 kg"} {
		if _, err := weight.ParseMass(text); err != nil {
			t.Error(err)
		}
	}
	var m weight.Mass = 7
	if err := m.UnmarshalText([]byte("3640")); err == nil || m != 7 {
		t.Errorf("a refused text gives %d, %v", m, err)
	}
}

func TestMassReadsBack(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(1, 1))
	written := 0
	for range 20_000 {
		m := weight.Mass(sizes(rng, 1, int64(weight.Pound), int64(weight.Pound)/100, int64(weight.Gram)))
		if checkRoundTrip(t, weight.ParseMass, m) {
			written++
		} else if m > -1_000_000*weight.Kilogram && m < 1_000_000*weight.Kilogram {
			t.Fatalf("%d has no text below a million kilograms", m)
		}
	}
	if written < 15_000 {
		t.Errorf("only %d of 20,000 have a text", written)
	}
	for _, m := range []weight.Mass{0, 1, -1, math.MaxInt64, math.MinInt64, math.MinInt64 + 1} {
		checkRoundTrip(t, weight.ParseMass, m)
	}
	checkJSONAndFlag[weight.Mass](t, 0)
	checkJSONAndFlag[weight.Mass](t, 3640*weight.Pound)
	checkJSONAndFlag[weight.Mass](t, weight.MustParseMass("1651.25 kg"))
}

func FuzzMass(f *testing.F) {
	for _, text := range []string{"3,640 lbs", "1651 kg", "-20 lb", "0 lb", "500 g", "1/2 lb", "3640", "0,640 kg"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		if m, err := weight.ParseMass(text); err == nil && !checkRoundTrip(t, weight.ParseMass, m) {
			t.Errorf("%q is read, but cannot be written", text)
		}
	})
}

func TestMassOf(t *testing.T) {
	t.Parallel()
	for _, tc := range []struct {
		d    decimal.Decimal
		unit weight.Mass
		want weight.Mass
		err  error
	}{
		{decimal.New(3640, 0), weight.Pound, 3640 * weight.Pound, nil},
		{decimal.New(364, 1), weight.Pound, 3640 * weight.Pound, nil},
		{decimal.New(-36405, -1), weight.Pound, -3640*weight.Pound - weight.Pound/2, nil},
		{decimal.Decimal{}, weight.Kilogram, 0, nil},
		{decimal.New(1, -12), weight.Kilogram, weight.Nanogram, nil},
		{decimal.New(1, -13), weight.Kilogram, 0, origin.ErrPrecision},
		{decimal.New(1, -5), weight.Pound, 0, origin.ErrPrecision},
		{decimal.New(1, 10), weight.Kilogram, 0, origin.ErrRange},
		{decimal.New(-1, 1_000_000_000), weight.Kilogram, 0, origin.ErrRange},
		{decimal.New(1, 0), 0, 0, origin.ErrUnit},
		{decimal.New(1, 0), -weight.Pound, 0, origin.ErrUnit},
	} {
		got, err := weight.MassOf(tc.d, tc.unit)
		if got != tc.want || !errors.Is(err, tc.err) {
			t.Errorf("MassOf(%v, %d) = %d, %v, want %d, %v", tc.d.Coefficient(), tc.unit, got, err, tc.want, tc.err)
		}
		var te *origin.TextError
		if err != nil && (!errors.As(err, &te) || te.Kind != "mass") {
			t.Errorf("MassOf error %v is no TextError of a mass", err)
		}
	}
}

func TestMassIn(t *testing.T) {
	t.Parallel()
	for _, tc := range []struct {
		m      weight.Mass
		unit   weight.Mass
		places int
		r      weight.Rounding
		want   string
	}{
		{3640 * weight.Pound, weight.Pound, 0, weight.Floor, "3640"},
		{3640 * weight.Pound, weight.Kilogram, 1, weight.Floor, "1651.0"},
		{3640 * weight.Pound, weight.Kilogram, 1, weight.Ceiling, "1651.1"},
		{3640 * weight.Pound, weight.Kilogram, 7, weight.Nearest, "1651.0762268"},
		{-3640 * weight.Pound, weight.Kilogram, 1, weight.Floor, "-1651.1"},
		{-3640 * weight.Pound, weight.Kilogram, 1, weight.Ceiling, "-1651.0"},
		{-weight.Pound / 2, weight.Pound, 0, weight.Nearest, "-1"},
		{weight.Pound / 2, weight.Pound, 0, weight.Nearest, "1"},
		{-weight.Pound / 2, weight.Pound, 0, weight.Ceiling, "0"},
		{weight.Pound, weight.Pound, -1, weight.Floor, "1"},
		{weight.Pound, weight.Pound, 13, weight.Floor, "1.000000000000"},
		{math.MinInt64, weight.Nanogram, 12, weight.Floor, "-9223372036854775808.000000000000"},
		{weight.Pound, 0, 1, weight.Floor, "0.0"},
	} {
		d := tc.m.In(tc.unit, tc.places, tc.r)
		if got := d.StringFixed(-d.Exponent()); got != tc.want {
			t.Errorf("%d.In(%d, %d, %d) = %s, want %s", tc.m, tc.unit, tc.places, tc.r, got, tc.want)
		}
		if got := string(tc.m.AppendIn([]byte("at "), tc.unit, tc.places, tc.r)); got != "at "+tc.want {
			t.Errorf("%d.AppendIn(%d, %d, %d) = %s, want at %s", tc.m, tc.unit, tc.places, tc.r, got, tc.want)
		}
	}
}

func TestMassRound(t *testing.T) {
	t.Parallel()
	for _, tc := range []struct {
		m, step weight.Mass
		r       weight.Rounding
		want    weight.Mass
	}{
		{3641 * weight.Pound, 20 * weight.Pound, weight.Floor, 3640 * weight.Pound},
		{3641 * weight.Pound, 20 * weight.Pound, weight.Ceiling, 3660 * weight.Pound},
		{3650 * weight.Pound, 20 * weight.Pound, weight.Nearest, 3660 * weight.Pound},
		{-3650 * weight.Pound, 20 * weight.Pound, weight.Nearest, -3660 * weight.Pound},
		{-3641 * weight.Pound, 20 * weight.Pound, weight.Floor, -3660 * weight.Pound},
		{3640 * weight.Pound, 20 * weight.Pound, weight.Ceiling, 3640 * weight.Pound},
		{3641, 0, weight.Floor, 3641},
		{3641, -20, weight.Floor, 3641},
		{math.MaxInt64, weight.Kilogram, weight.Ceiling, math.MaxInt64}, // would not fit
		{math.MinInt64, weight.Kilogram, weight.Floor, math.MinInt64},
	} {
		if got := tc.m.Round(tc.step, tc.r); got != tc.want {
			t.Errorf("%d.Round(%d, %d) = %d, want %d", tc.m, tc.step, tc.r, got, tc.want)
		}
	}
}

func TestMassMulDiv(t *testing.T) {
	t.Parallel()
	// A passenger tire's load is looked up at 1.10 times itself (49 CFR
	// 571.120 S5.1.2).
	if got, err := (1000 * weight.Pound).MulDiv(110, 100, weight.Ceiling); err != nil || got != 1100*weight.Pound {
		t.Errorf("1000 lb x 1.10 = %v, %v", got, err)
	}
	for _, tc := range []struct {
		m        weight.Mass
		num, den int64
		r        weight.Rounding
		want     weight.Mass
		ok       bool
	}{
		{10, 1, 3, weight.Floor, 3, true},
		{10, 1, 3, weight.Ceiling, 4, true},
		{-10, 1, 3, weight.Floor, -4, true},
		{-10, 1, 3, weight.Nearest, -3, true},
		{math.MaxInt64, math.MaxInt64, math.MaxInt64, weight.Floor, math.MaxInt64, true},
		{math.MinInt64, math.MaxInt64, math.MaxInt64, weight.Floor, math.MinInt64, true},
		{math.MaxInt64, 2, 1, weight.Floor, 0, false},
		{10, 1, 0, weight.Floor, 0, false},
		{10, 1, -3, weight.Floor, 0, false},
	} {
		got, err := tc.m.MulDiv(tc.num, tc.den, tc.r)
		var te *origin.TextError
		if got != tc.want || (err == nil) != tc.ok || err != nil && (!errors.Is(err, origin.ErrRange) || !errors.As(err, &te)) {
			t.Errorf("%d.MulDiv(%d, %d, %d) = %d, %v, want %d", tc.m, tc.num, tc.den, tc.r, got, err, tc.want)
		}
	}
}

func TestSum(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(2, 2))
	outside := 0
	for range 10_000 {
		masses := make([]weight.Mass, rng.IntN(6))
		want := new(big.Int)
		for i := range masses {
			masses[i] = weight.Mass(rng.Uint64()) >> rng.IntN(3)
			want.Add(want, big.NewInt(int64(masses[i])))
		}
		got, err := weight.Sum(masses...)
		if want.IsInt64() {
			if err != nil || int64(got) != want.Int64() {
				t.Fatalf("Sum(%d) = %d, %v, want %v", masses, got, err, want)
			}
			continue
		}
		outside++
		if got != 0 || !errors.Is(err, origin.ErrRange) {
			t.Fatalf("Sum(%d) = %d, %v, want ErrRange", masses, got, err)
		}
	}
	if outside < 500 {
		t.Errorf("only %d sums do not fit", outside)
	}
	// What passes the limit on the way, but not at the end, fits.
	if got, err := weight.Sum(math.MaxInt64, 1, -2); err != nil || got != math.MaxInt64-1 {
		t.Errorf("Sum(max, 1, -2) = %d, %v", got, err)
	}
	if got, err := weight.Sum(math.MinInt64, math.MinInt64, math.MaxInt64, math.MaxInt64, 2); err != nil || got != 0 {
		t.Errorf("the extremes cancel to %d, %v", got, err)
	}
}

func TestMustParseMassPanics(t *testing.T) {
	t.Parallel()
	defer func() {
		if err, ok := recover().(error); !ok || !errors.Is(err, origin.ErrUnit) {
			t.Errorf("MustParseMass of a bare number panics with %v", err)
		}
	}()
	weight.MustParseMass("3640")
}

func BenchmarkParseMass(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if _, err := weight.ParseMass("3,640 lbs"); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkMassAppendText(b *testing.B) {
	b.ReportAllocs()
	buf := make([]byte, 0, 32)
	for b.Loop() {
		if _, err := (3640 * weight.Pound).AppendText(buf); err != nil {
			b.Fatal(err)
		}
	}
}

func ExampleParseMass() {
	m, err := weight.ParseMass("3,640 lbs")
	fmt.Println(m, err)
	_, err = weight.ParseMass("3640")
	fmt.Println(err)
	// Output:
	// 3640 lb <nil>
	// mass "3640": no unit: want a number and lb or kg, such as "3640 lb"
}

func ExampleMassOf() {
	m, err := weight.MassOf(decimal.New(36405, -1), weight.Pound)
	fmt.Println(m, err)
	_, err = weight.MassOf(decimal.New(1, -6), weight.Pound)
	fmt.Println(errors.Is(err, origin.ErrPrecision))
	// Output:
	// 3640.5 lb <nil>
	// true
}

func ExampleMass_In() {
	m := 3640 * weight.Pound
	fmt.Println(m.In(weight.Kilogram, 0, weight.Floor))
	fmt.Println(m.In(weight.Kilogram, 0, weight.Ceiling))
	// Output:
	// 1651
	// 1652
}

func ExampleMass_AppendIn() {
	fmt.Printf("%s kg\n", (3640*weight.Pound).AppendIn(nil, weight.Kilogram, 1, weight.Nearest))
	// Output: 1651.1 kg
}

func ExampleMass_Round() {
	fmt.Println((3641 * weight.Pound).Round(20*weight.Pound, weight.Ceiling))
	// Output: 3660 lb
}

func ExampleMass_MulDiv() {
	// Half of an axle's rating is what each of its ends is good for.
	half, err := (10_001 * weight.Pound).MulDiv(1, 2, weight.Floor)
	fmt.Println(half, err)
	// Output: 5000.5 lb <nil>
}

func ExampleSum() {
	gross, err := weight.Sum(4600*weight.Pound, 4400*weight.Pound, 8600*weight.Pound, 8400*weight.Pound)
	fmt.Println(gross, err)
	// Output: 26000 lb <nil>
}

func ExampleMustParseMass() {
	fmt.Println(weight.MustParseMass("1651 kg") > weight.MustParseMass("3639 lb"))
	// Output: true
}
