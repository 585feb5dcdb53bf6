package inflation_test

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

	"axleend.example/inflation"
	"axleend.example/rules/origin"
	"axleend.example/weight"
)

// quantity is what Pressure, Temperature and Speed have in common.
type quantity interface {
	~int64
	encoding.TextMarshaler
	encoding.TextAppender
	fmt.Stringer
}

// quantityLine is one line of a table of canonical texts: each of the ways to
// write it gives the first.
type quantityLine []string

func checkQuantityTexts[T quantity](t *testing.T, parse func(string) (T, error), table []quantityLine) {
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

type quantityRefusal struct {
	text string
	err  error
}

func checkQuantityRefused[T quantity](t *testing.T, kind string, parse func(string) (T, error), table []quantityRefusal) {
	t.Helper()
	for _, tc := range table {
		v, err := parse(tc.text)
		var te *origin.TextError
		if v != 0 || !errors.Is(err, tc.err) || !errors.As(err, &te) || te.Kind != kind || te.Text != tc.text {
			t.Errorf("%q = %d, %v, want 0 and a %s TextError that matches %v", tc.text, v, err, kind, tc.err)
		}
	}
}

// checkQuantityReadsBack holds a value to: what is marshaled reads back as
// the same. It reports whether there is a text.
func checkQuantityReadsBack[T quantity](t *testing.T, parse func(string) (T, error), v T) bool {
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

// quantitySize gives values of every size and sign, on the given grids as
// often as not.
func quantitySize(rng *rand.Rand, grids ...int64) int64 {
	v := int64(rng.Uint64()) >> rng.IntN(64)
	if g := grids[rng.IntN(len(grids))]; rng.IntN(2) == 0 {
		v = v / g * g
	}
	return v
}

// checkQuantityReaders takes a value through JSON and flags.
func checkQuantityReaders[T quantity, P interface {
	*T
	encoding.TextUnmarshaler
}](t *testing.T, v T) {
	t.Helper()
	type record struct {
		Value T            `json:"value"`
		Keys  map[T]string `json:"keys"`
	}
	data, err := json.Marshal(record{v, map[T]string{v: "key"}})
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
	for _, bad := range []string{`{"value":95}`, `{"value":"95"}`, `{"value":true}`} {
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
	if err := fs.Parse([]string{"-value", "95"}); err == nil || got != v {
		t.Errorf("a bare number on the flag gives %v, %v", got, err)
	}
}

func TestPressureFactors(t *testing.T) {
	t.Parallel()
	// NIST SP 811: 1 lb = 0.45359237 kg, standard gravity 9.80665 m/s2 and
	// 1 in = 0.0254 m give 1 psi = 8896443230521/1290320000 Pa.
	rat := func(text string) *big.Rat {
		r, ok := new(big.Rat).SetString(text)
		if !ok {
			t.Fatal(text)
		}
		return r
	}
	force := new(big.Rat).Mul(rat("0.45359237"), rat("9.80665"))
	if want := rat("4.4482216152605"); force.Cmp(want) != 0 {
		t.Errorf("1 lbf = %v N, want %v", force, want)
	}
	psi := new(big.Rat).Quo(force, new(big.Rat).Mul(rat("0.0254"), rat("0.0254")))
	if want := rat("8896443230521/1290320000"); psi.Cmp(want) != 0 {
		t.Errorf("1 psi = %v Pa, want %v", psi, want)
	}
	if got := big.NewRat(int64(inflation.PSI), int64(inflation.Pascal)); got.Cmp(psi) != 0 {
		t.Errorf("PSI / Pascal = %v, want %v", got, psi)
	}
	if inflation.Kilopascal != 1000*inflation.Pascal || inflation.Bar != 100_000*inflation.Pascal {
		t.Error("1 kPa is not 1,000 Pa, or 1 bar not 100,000 Pa")
	}
}

func TestPressureIsExactAcrossUnits(t *testing.T) {
	t.Parallel()
	for _, tc := range []struct{ a, b string }{
		{"6.5 bar", "650 kPa"},
		{"655 kPa", "655,000 Pa"},
		{"0.001 kPa", "1 Pa"},
		{"0 psi", "0 kPa"},
		// 129,032 psi are 889,644,323.0521 kPa: past what fits; a hundredth of
		// it is not, and both are exact.
		{"1290.32 psi", "8896.443230521 kPa"},
		{"645.16 psi", "44.482216152605 bar"},
	} {
		if a, b := inflation.MustParsePressure(tc.a), inflation.MustParsePressure(tc.b); a != b {
			t.Errorf("%s is %d steps, %s is %d", tc.a, a, tc.b, b)
		}
	}
	// A sidewall's kPa is rounded: 95 psi is 655.0 kPa, printed 660 (UN R54
	// annex 7, as quoted).
	psi := 95 * inflation.PSI
	if got := string(psi.AppendIn(nil, inflation.Kilopascal, 1, weight.Nearest)); got != "655.0" {
		t.Errorf("95 psi is %s kPa, want 655.0", got)
	}
	if psi == inflation.MustParsePressure("655 kPa") || psi == inflation.MustParsePressure("660 kPa") {
		t.Error("95 psi equals a whole number of kPa")
	}
	// Standard atmosphere: 101,325 Pa (NIST SP 811), 14.696 psi (US Standard
	// Atmosphere 1976).
	if got := string((101_325 * inflation.Pascal).AppendIn(nil, inflation.PSI, 3, weight.Nearest)); got != "14.696" {
		t.Errorf("a standard atmosphere is %s psi, want 14.696", got)
	}
}

func TestPressureCanonical(t *testing.T) {
	t.Parallel()
	checkQuantityTexts(t, inflation.ParsePressure, []quantityLine{
		{"0 psi", "0 kPa", "0.0 bar", "-0 psi"},
		{"95 psi", "95PSI", "95.00 psi", " 95  psi "},
		{"76.4 psi", "76.40 psi"},
		{"76.25 psi", "305/4 psi"},
		{"0.01 psi"},
		{"655 kPa", "6.55 bar", "655 kpa", "655000 Pa"},
		{"660 kPa", "660 KPA"},
		{"650 kPa", "6.5 bar"},
		{"0.01 kPa", "10 Pa"},
		{"0.001 kPa", "1 Pa"},
		{"0.000000125 kPa", "0.000125 Pa"},
		{"0.000000000125 kPa", "0.000000125 Pa"},
		{"-5 psi"},
		{"10367 psi"},
	})
}

func TestPressureRefused(t *testing.T) {
	t.Parallel()
	checkQuantityRefused(t, "pressure", inflation.ParsePressure, []quantityRefusal{
		{"", origin.ErrSyntax},
		{"flat", origin.ErrSyntax},
		{"6,5 bar", origin.ErrSyntax},
		{"0,655 bar", origin.ErrSyntax}, // a decimal comma
		{"95", origin.ErrUnit},
		{"95 lb", origin.ErrUnit},
		{"95 psia", origin.ErrUnit},
		{"9.5e1 psi", origin.ErrUnit},
		{"10368 psi", origin.ErrRange},
		{"-10368 psi", origin.ErrRange},
		{"715 bar", origin.ErrRange},
		{"0.001 psi", origin.ErrPrecision},
		{"1/3 psi", origin.ErrPrecision},
		{"0.0000000001 kPa", origin.ErrPrecision},
		{"1/7 psi", origin.ErrPrecision},  // a whole number of steps that no decimal can name
		{"1/127 Pa", origin.ErrPrecision}, // the same
	})
	_, err := inflation.ParsePressure("95")
	if want := `pressure "95": no unit: want a number and psi, kPa or bar, such as "95 psi"`; err.Error() != want {
		t.Errorf("got %v, want %s", err, want)
	}
	p := 95 * inflation.PSI
	if err := p.UnmarshalText([]byte("95")); err == nil || p != 95*inflation.PSI {
		t.Errorf("a refused text gives %v, %v", p, err)
	}
}

func TestPressureReadsBack(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(1, 1))
	for range 20_000 {
		checkQuantityReadsBack(t, inflation.ParsePressure, inflation.Pressure(quantitySize(rng, 1)))
	}
	// Whatever lies on a grid of computed values has a text, to the largest.
	for _, grid := range []inflation.Pressure{
		inflation.PressureGrid(weight.US), inflation.PressureGrid(weight.Metric), inflation.Pascal, inflation.PSI,
	} {
		for range 5_000 {
			if p := inflation.Pressure(quantitySize(rng, 1)) / grid * grid; !checkQuantityReadsBack(t, inflation.ParsePressure, p) {
				t.Fatalf("%d x %v has no text", p/grid, grid)
			}
		}
	}
	for _, p := range []inflation.Pressure{0, 1, -1, 127 * 127, math.MaxInt64, math.MinInt64} {
		checkQuantityReadsBack(t, inflation.ParsePressure, p)
	}
	if got := (inflation.PSI / 7).String(); got != "~0.984965327595 kPa" {
		t.Errorf("a seventh of a psi is shown as %q", got)
	}
	checkQuantityReaders[inflation.Pressure](t, 0)
	checkQuantityReaders(t, 95*inflation.PSI)
	checkQuantityReaders(t, 655*inflation.Kilopascal)
}

func FuzzPressure(f *testing.F) {
	for _, text := range []string{"95 psi", "655 kPa", "6.5 bar", "0 psi", "76.4 psi", "1/7 psi", "1/127 Pa", "95", "0,655 bar"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		if p, err := inflation.ParsePressure(text); err == nil && !checkQuantityReadsBack(t, inflation.ParsePressure, p) {
			t.Errorf("%q is read, but cannot be written", text)
		}
	})
}

func TestPressureOf(t *testing.T) {
	t.Parallel()
	for _, tc := range []struct {
		d    decimal.Decimal
		unit inflation.Pressure
		want string
		err  error
	}{
		{decimal.New(95, 0), inflation.PSI, "95 psi", nil},
		{decimal.New(7625, -2), inflation.PSI, "76.25 psi", nil},
		{decimal.New(65, -1), inflation.Bar, "650 kPa", nil},
		{decimal.Decimal{}, inflation.PSI, "0 psi", nil},
		{decimal.New(95001, -3), inflation.PSI, "0 psi", origin.ErrPrecision},
		{decimal.New(1, 9), inflation.PSI, "0 psi", origin.ErrRange},
		{decimal.New(95, 0), 0, "0 psi", origin.ErrUnit},
	} {
		got, err := inflation.PressureOf(tc.d, tc.unit)
		if got.String() != tc.want || !errors.Is(err, tc.err) {
			t.Errorf("PressureOf(%v, %d) = %v, %v, want %s, %v", tc.d, tc.unit, got, err, tc.want, tc.err)
		}
	}
}

// Every decimal of a unit that counts as a whole number of steps has a text.
func TestEveryDecimalPressureIsWritable(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(2, 2))
	read := 0
	for range 50_000 {
		unit := []inflation.Pressure{inflation.PSI, inflation.Pascal, inflation.Kilopascal, inflation.Bar}[rng.IntN(4)]
		d := decimal.New(rng.Int64N(1_000_000)*125, int32(-rng.IntN(16)))
		p, err := inflation.PressureOf(d, unit)
		if err != nil {
			continue
		}
		read++
		if !checkQuantityReadsBack(t, inflation.ParsePressure, p) {
			t.Fatalf("%v of %v has no text", d, unit)
		}
	}
	if read < 10_000 {
		t.Errorf("only %d of the decimals are whole steps", read)
	}
}

func TestPressureArithmetic(t *testing.T) {
	t.Parallel()
	p := 95 * inflation.PSI
	// Set pressures go up to the gauge's step, capacities are looked up down.
	if got := (p + 1).Round(5*inflation.PSI, weight.Ceiling); got != 100*inflation.PSI {
		t.Errorf("a step above 95 psi, rounded up to 5 psi = %v", got)
	}
	if got := (p + 1).Round(5*inflation.PSI, weight.Floor); got != p {
		t.Errorf("a step above 95 psi, rounded down to 5 psi = %v", got)
	}
	if got := p.Round(0, weight.Ceiling); got != p {
		t.Errorf("a step of 0 changes 95 psi to %v", got)
	}
	for _, tc := range []struct {
		r    weight.Rounding
		want string
	}{
		{weight.Floor, "655"}, {weight.Ceiling, "656"}, {weight.Nearest, "655"},
	} {
		if got := p.In(inflation.Kilopascal, 0, tc.r).StringFixed(0); got != tc.want {
			t.Errorf("95 psi in kPa, direction %d = %s, want %s", tc.r, got, tc.want)
		}
	}
	// 80 % of 95 psi is exactly 76 psi: the edge of "run flat" (common practice).
	if got, err := p.MulDiv(80, 100, weight.Floor); err != nil || got != 76*inflation.PSI {
		t.Errorf("80 %% of 95 psi = %v, %v", got, err)
	}
	for _, den := range []int64{0, -1} {
		got, err := p.MulDiv(1, den, weight.Floor)
		var te *origin.TextError
		if got != 0 || !errors.Is(err, origin.ErrRange) || !errors.As(err, &te) || te.Kind != "pressure" {
			t.Errorf("MulDiv by %d = %v, %v, want ErrRange", den, got, err)
		}
	}
	if _, err := p.MulDiv(math.MaxInt64, 2, weight.Floor); !errors.Is(err, origin.ErrRange) {
		t.Errorf("a product that does not fit: %v, want ErrRange", err)
	}
	// A third of a psi has no text until it is rounded to the grid.
	third, err := inflation.PSI.MulDiv(1, 3, weight.Ceiling)
	if err != nil || checkQuantityReadsBack(t, inflation.ParsePressure, third) {
		t.Errorf("a third of a psi, %v, is written as %v", err, third)
	}
	if got := third.Round(inflation.PressureGrid(weight.US), weight.Ceiling); got.String() != "0.34 psi" {
		t.Errorf("a third of a psi on the grid is %v", got)
	}
	if got := inflation.PressureGrid(weight.Metric); got != 10*inflation.Pascal {
		t.Errorf("the metric grid is %v, want 10 Pa", got)
	}
	if got := inflation.PressureGrid(weight.US); got*100 != inflation.PSI {
		t.Errorf("the US grid is %v, want 0.01 psi", got)
	}
}

func TestMustParsePressurePanics(t *testing.T) {
	t.Parallel()
	defer func() {
		if err, ok := recover().(error); !ok || !errors.Is(err, origin.ErrUnit) {
			t.Errorf("MustParsePressure of a bare number panics with %v", err)
		}
	}()
	inflation.MustParsePressure("95")
}

func BenchmarkParsePressure(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if _, err := inflation.ParsePressure("95 psi"); err != nil {
			b.Fatal(err)
		}
	}
}

func ExampleParsePressure() {
	for _, text := range []string{"95 psi", "655 kPa", "6.5 bar", "95"} {
		p, err := inflation.ParsePressure(text)
		fmt.Println(p, err)
	}
	// Output:
	// 95 psi <nil>
	// 655 kPa <nil>
	// 650 kPa <nil>
	// 0 psi pressure "95": no unit: want a number and psi, kPa or bar, such as "95 psi"
}

func ExamplePressureOf() {
	p, err := inflation.PressureOf(decimal.New(764, -1), inflation.PSI)
	fmt.Println(p, err)
	// Output: 76.4 psi <nil>
}

func ExamplePressure_In() {
	fmt.Println((95 * inflation.PSI).In(inflation.Kilopascal, 1, weight.Ceiling))
	// Output: 655.1
}

func ExamplePressure_Round() {
	need := inflation.MustParsePressure("81.2 psi")
	fmt.Println(need.Round(5*inflation.PSI, weight.Ceiling))
	// Output: 85 psi
}
