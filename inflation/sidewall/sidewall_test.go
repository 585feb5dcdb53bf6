package sidewall_test

import (
	"encoding/csv"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"strconv"
	"strings"
	"testing"

	"axleend.example/inflation"
	"axleend.example/inflation/sidewall"
	"axleend.example/rules/origin"
	"axleend.example/weight"
)

const (
	psi = inflation.PSI
	kPa = inflation.Kilopascal
	lb  = weight.Pound
	kg  = weight.Kilogram
)

// rowsOf reads one of the reference lists beside the tests, without its head.
func rowsOf(t testing.TB, name string) [][]string {
	t.Helper()
	f, err := os.Open("testdata/" + name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	return rows[1:]
}

// TestLoadIndexTable: all indexes of ISO 4000-1 as the reference list has
// them, with its check column kept as the grade.
func TestLoadIndexTable(t *testing.T) {
	rows := rowsOf(t, "load_index.csv")
	if len(rows) != sidewall.MaxLoadIndex+1 {
		t.Fatalf("%d rows", len(rows))
	}
	last := weight.Mass(0)
	for i, r := range rows {
		li, err := sidewall.LoadIndexOf(i)
		if err != nil || r[0] != strconv.Itoa(i) || li.Number() != i || !li.Known() || li.String() != r[0] {
			t.Fatalf("row %d: %v %v", i, li, err)
		}
		if want := weight.MustParseMass(r[1] + " kg"); li.Load() != want {
			t.Errorf("index %d: %s, want %s", i, li.Load(), want)
		}
		if got := li.Load().In(lb, 0, weight.Nearest).String(); got != r[2] {
			t.Errorf("index %d: %s lb, want %s", i, got, r[2])
		}
		if li.Load() <= last {
			t.Errorf("index %d does not rise", i)
		}
		last = li.Load()
		want := origin.Quoted
		if strings.HasPrefix(r[3], "corrected") || strings.Contains(r[3], "misprints") {
			want = origin.Computed
		}
		if s := li.Source(); s.Grade != want || s.Check() != nil || s.Locator == "" {
			t.Errorf("index %d: %v, the list says %q", i, s, r[3])
		}
		// 80 steps are a factor of ten (computed; 1.3 % is what a formula is off
		// by).
		if i >= 80 {
			low, _ := sidewall.LoadIndexOf(i - 80)
			if d := li.Load() - 10*low.Load(); d > li.Load()/75 || d < -li.Load()/75 {
				t.Errorf("index %d is %s, %d is %s", i, li.Load(), i-80, low.Load())
			}
		}
	}
	if s := (sidewall.LoadIndex{}).Source(); !s.IsZero() {
		t.Errorf("source of none: %v", s)
	}
}

// Entries in circulation that are wrong (computed from ISO 4000-1).
func TestWrongLoadIndexes(t *testing.T) {
	for i, wrong := range map[int]int{61: 265, 62: 165, 83: 478, 103: 857, 105: 924} {
		li, err := sidewall.LoadIndexOf(i)
		if err != nil || li.Load() == weight.Mass(wrong)*kg {
			t.Errorf("index %d is %s, %v", i, li.Load(), err)
		}
		// What stamps are rounded by hides the smallest misprint (924 for 925) and no other.
		if li.AgreesWith(weight.Mass(wrong)*kg) != (i == 105) {
			t.Errorf("index %d agrees with %d kg", i, wrong)
		}
	}
}

func TestLoadIndex(t *testing.T) {
	// One tire: 3,640 lb single, 3,415 lb dual is load index 125/123 (common
	// practice; ISO 4000-1).
	single, _ := sidewall.ParseLoadIndex("125")
	dual, _ := sidewall.ParseLoadIndex("123")
	if single.Load() != 1650*kg || dual.Load() != 1550*kg || !single.AgreesWith(3640*lb) || !dual.AgreesWith(3415*lb) {
		t.Errorf("%s %s", single.Load(), dual.Load())
	}
	for _, tt := range []struct {
		stamped weight.Mass
		want    bool
	}{{1626075 * kg / 1000, true}, {1626075*kg/1000 - 1, false}, {16665 * kg / 10, true}, {16665*kg/10 + 1, false}, {0, false}, {-1, false}, {1<<63 - 1, false}} {
		if single.AgreesWith(tt.stamped) != tt.want {
			t.Errorf("125 agrees with %s: %v", tt.stamped, !tt.want)
		}
	}
	var none sidewall.LoadIndex
	if none.Known() || none.Number() != -1 || none.Load() != 0 || none.AgreesWith(0) || none.String() != "not known" {
		t.Error("the zero index is known")
	}
	for _, text := range []string{"", "280", "-1", "1.5", "0x10", strings.Repeat("1", 100)} {
		if _, err := sidewall.ParseLoadIndex(text); !errors.Is(err, inflation.ErrInput) {
			t.Errorf("%q: %v", text, err)
		}
	}
	for _, n := range []int{-1, 280} {
		if _, err := sidewall.LoadIndexOf(n); !errors.Is(err, inflation.ErrInput) {
			t.Errorf("%d: %v", n, err)
		}
	}
}

func TestSpeedSymbols(t *testing.T) {
	rows := rowsOf(t, "speed_symbol.csv")
	var last sidewall.SpeedSymbol
	for _, r := range rows {
		s, err := sidewall.ParseSpeedSymbol(strings.ToLower(r[0]))
		if err != nil || s.String() != r[0] || s <= last {
			t.Errorf("%s: %v %v, after %v", r[0], s, err, last)
		}
		last = s
		kmh, _ := strconv.Atoi(r[1])
		if s.Speed() != inflation.Speed(kmh)*inflation.KilometerPerHour {
			t.Errorf("%s: %s, want %d km/h", r[0], s.Speed(), kmh)
		}
		if got := s.Speed().In(inflation.MilePerHour, 0, weight.Floor).String(); got != r[2] {
			t.Errorf("%s: %s mph, want %s", r[0], got, r[2])
		}
		if s.Below(s.Speed()) || !s.Below(s.Speed()+1) {
			t.Errorf("%s is below its own speed, or not below more", r[0])
		}
	}
	if s := last.Source(); s.Check() != nil {
		t.Error(s)
	}
	if last.String() != "Y" || (last+1).Speed() != 0 || (last+1).String() != "not known" || sidewall.SpeedSymbol(0).Below(inflation.MilePerHour) {
		t.Error("beyond the list")
	}
	for _, text := range []string{"", "I", "O", "X", "Z", "A", "A9", "LL"} {
		if _, err := sidewall.ParseSpeedSymbol(text); !errors.Is(err, inflation.ErrWord) {
			t.Errorf("%q: %v", text, err)
		}
	}
}

// UN R54 annex 7 appendix 2, as quoted: 660 kPa stands beside 95 psi, which
// is 655.0.
func TestStampedKilopascals(t *testing.T) {
	rows := rowsOf(t, "r54_pressure_index.csv")
	for _, r := range rows {
		p, _ := strconv.Atoi(r[0])
		k, ok := sidewall.StampedKilopascals(inflation.Pressure(p) * psi)
		if !ok || fmt.Sprint(int64(k/kPa)) != r[2] || k%kPa != 0 {
			t.Errorf("%d psi: %s %v, want %s kPa", p, k, ok, r[2])
		}
		if got := (inflation.Pressure(p) * psi).In(kPa, 1, weight.Nearest).StringFixed(1); got != r[3] {
			t.Errorf("%d psi is %s kPa, want %s", p, got, r[3])
		}
	}
	for _, p := range []inflation.Pressure{0, 15 * psi, 155 * psi, 96 * psi, 95*psi + 1, -95 * psi} {
		if k, ok := sidewall.StampedKilopascals(p); ok || k != 0 {
			t.Errorf("%s: %s", p, k)
		}
	}
	// Shown, a cap of 95 psi is 655 kPa, never 660, and a pressure to set 656.
	if got := (95 * psi).In(kPa, 0, weight.Floor).String(); got != "655" {
		t.Errorf("cap: %s", got)
	}
	if got := (95 * psi).In(kPa, 0, weight.Ceiling).String(); got != "656" {
		t.Errorf("set: %s", got)
	}
}

func index(t testing.TB, n int) sidewall.LoadIndex {
	li, err := sidewall.LoadIndexOf(n)
	if err != nil {
		t.Fatal(err)
	}
	return li
}

func symbol(t testing.TB, text string) sidewall.SpeedSymbol {
	s, err := sidewall.ParseSpeedSymbol(text)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func TestParseSidewall(t *testing.T) {
	size := func(text string) inflation.Size {
		s, err := inflation.ParseSize(text)
		if err != nil {
			t.Fatal(err)
		}
		return s
	}
	lt := size("LT225/75R16")
	tests := []struct {
		text, want string
		sidewall   sidewall.Stamps
	}{
		{"LT225/75R16", "LT225/75R16", sidewall.Stamps{Size: lt}},
		{"LT225/75R16E", "LT225/75R16 load range E", sidewall.Stamps{Size: lt, LoadRange: "E"}},
		{"LT225/75R16/E", "LT225/75R16 load range E", sidewall.Stamps{Size: lt, LoadRange: "E"}},
		{"lt225/75 r16 e 115/112q", "LT225/75R16 115/112Q load range E",
			sidewall.Stamps{Size: lt, LoadRange: "E", SingleIndex: index(t, 115), DualIndex: index(t, 112), Speed: symbol(t, "Q")}},
		{"LT225/75R16 115/112 LRE", "LT225/75R16 115/112 load range E",
			sidewall.Stamps{Size: lt, LoadRange: "E", SingleIndex: index(t, 115), DualIndex: index(t, 112)}},
		{"LT225/75R16C", "LT225/75R16 load range C", sidewall.Stamps{Size: lt, LoadRange: "C"}},
		{"225/75R16 XL 104H M+S TUBELESS RADIAL", "225/75R16 104H load range XL",
			sidewall.Stamps{Size: size("225/75R16"), LoadRange: "XL", SingleIndex: index(t, 104), Speed: symbol(t, "H")}},
		{"225/75R16 104H XL", "225/75R16 104H load range XL",
			sidewall.Stamps{Size: size("225/75R16"), LoadRange: "XL", SingleIndex: index(t, 104), Speed: symbol(t, "H")}},
		{"225/75R16 extra load", "225/75R16 load range XL", sidewall.Stamps{Size: size("225/75R16"), LoadRange: "XL"}},
		{"11R22.5 14PR", "11R22.5 14 ply rating", sidewall.Stamps{Size: size("11R22.5"), PlyRating: 14}},
		{"11R22.5 14-ply rated load range G", "11R22.5 load range G 14 ply rating", sidewall.Stamps{Size: size("11R22.5"), PlyRating: 14, LoadRange: "G"}},
		{"11R22.5 14 PR 144/142A8", "11R22.5 144/142A8 14 ply rating",
			sidewall.Stamps{Size: size("11R22.5"), PlyRating: 14, SingleIndex: index(t, 144), DualIndex: index(t, 142), Speed: symbol(t, "A8")}},
		{"LT225/75R16 max load single 3640 lb at 95 psi cold", "LT225/75R16; maximum load single 3640 lb at 95 psi cold",
			sidewall.Stamps{Size: lt, Single: inflation.Rating{Load: 3640 * lb, Pressure: 95 * psi}}},
		// Of 1,650 kg (3,637.6 lb) and 3,640 lb the lower; of 660 kPa and 95 psi the psi.
		{"LT225/75R16 MAX. LOAD SINGLE 1650 KG (3640 LBS) AT 660 KPA (95 PSI) COLD. MAX. LOAD DUAL 1550 KG (3415 LBS) AT 660 KPA (95 PSI) COLD.",
			"LT225/75R16; maximum load single 1650 kg at 95 psi cold; maximum load dual 3415 lb at 95 psi cold",
			sidewall.Stamps{Size: lt, Single: inflation.Rating{Load: 1650 * kg, Pressure: 95 * psi}, Dual: inflation.Rating{Load: 3415 * lb, Pressure: 95 * psi}}},
		{"LT225/75R16 maximum load dual 3,415lbs @ 95psi (660kPa)", "LT225/75R16; maximum load dual 3415 lb at 95 psi cold",
			sidewall.Stamps{Size: lt, Dual: inflation.Rating{Load: 3415 * lb, Pressure: 95 * psi}}},
		{"LT225/75R16 max load 3415 lb dual at 6.6 bar (660 kPa)", "LT225/75R16; maximum load dual 3415 lb at 660 kPa cold",
			sidewall.Stamps{Size: lt, Dual: inflation.Rating{Load: 3415 * lb, Pressure: 660 * kPa}}},
		{"LT225/75R16 max load 3640 lb single", "LT225/75R16; maximum load single 3640 lb", sidewall.Stamps{Size: lt, Single: inflation.Rating{Load: 3640 * lb}}},
		{"P225/75R15 max load 615 kg (1356 lbs), max press 300 kPa (44 psi)", "P225/75R15; maximum load single 615 kg; maximum pressure 44 psi",
			sidewall.Stamps{Size: size("P225/75R15"), Single: inflation.Rating{Load: 615 * kg}, MaxPressure: 44 * psi}},
		{"P225/75R15 max inflation pressure 240 kPa 2.4 bar", "P225/75R15; maximum pressure 240 kPa", sidewall.Stamps{Size: size("P225/75R15"), MaxPressure: 240 * kPa}},
	}
	for _, tt := range tests {
		s, err := sidewall.Parse(tt.text)
		if err != nil || s != tt.sidewall || s.String() != tt.want {
			t.Errorf("%q:\n got %s (%+v), %v\nwant %s", tt.text, s, s, err, tt.want)
			continue
		}
		if again, err := sidewall.Parse(s.String()); err != nil || again != s {
			t.Errorf("%q does not read back: %+v, %v", s, again, err)
		}
		data, err := json.Marshal(s)
		var back sidewall.Stamps
		if err = errors.Join(err, json.Unmarshal(data, &back)); err != nil || back != s {
			t.Errorf("%s: JSON %s reads back as %+v, %v", tt.text, data, back, err)
		}
	}
}

func TestParseSidewallRefuses(t *testing.T) {
	for _, tt := range []struct {
		text   string
		word   string
		column int
	}{
		{"LT225/75R16 E E", "E", 15},
		{"LT225/75R16 load range E load range D", "LOAD", 26},
		{"LT225/75R16 115/112Q 115/112Q", "115/112Q", 22},
		{"LT225/75R16 115/112 E", "E", 21},
		{"LT225/75R16 115/300Q", "115/300Q", 13},
		{"LT225/75R16 300Q", "300Q", 13},
		{"LT225/75R16 115I", "115I", 13},
		{"LT225/75R16 115/Q", "115/Q", 13},
		{"LT225/75R16 nonsense", "NONSENSE", 13},
		{"LT225/75R16 tubeless E", "E", 22},
		{"LT225/75R16 load", "", 17},
		{"LT225/75R16 load 5", "5", 18},
		{"LT225/75R16 11PR", "11PR", 13},
		{"LT225/75R16 40 PR", "40", 13},
		{"LT225/75R16 10PR 10PR", "10PR", 18},
		{"LT225/75R16 max", "", 16},
		{"LT225/75R16 max speed", "SPEED", 17},
		{"LT225/75R16 max load single", "", 28},
		{"LT225/75R16 max load single 3640", "3640", 29},
		{"LT225/75R16 max load single 3640 stone", "3640", 29},
		{"LT225/75R16 max load single 0 lb", "0", 29},
		{"LT225/75R16 max load single 36,40 lb", "36,40", 29},
		{"LT225/75R16 max load single 3640 lb 1600 kg", "1600", 37},
		{"LT225/75R16 max load single 3640 lb at", "", 39},
		{"LT225/75R16 max load single 3640 lb at 95", "95", 40},
		{"LT225/75R16 max load single 3640 lb at 0 psi", "0", 40},
		{"LT225/75R16 max load single 3640 lb at 9999 psi", "9999", 40},
		{"LT225/75R16 max load single 3640 lb at 95 psi 690 kPa", "690", 47},
		{"LT225/75R16 max load single 3640 lb max load single 3640 lb", "MAX", 37},
		{"LT225/75R16 max load single 3640 lb dual 3415 lb", "DUAL", 37},
		{"LT225/75R16 max press 44 psi max press 44 psi", "MAX", 30},
		{"LT225/75R16 max press high", "HIGH", 23},
		{"33×9.50R15LT bulge", "BULGE", 14},
		{strings.Repeat("x", 600), strings.Repeat("x", 600), 513},
	} {
		s, err := sidewall.Parse(tt.text)
		var se *sidewall.StampError
		if !errors.As(err, &se) || !errors.Is(err, sidewall.ErrStamp) || se.Text != tt.word || se.Column != tt.column || se.Want == "" || s != (sidewall.Stamps{}) {
			t.Errorf("%q: %v; want %q at column %d", tt.text, err, tt.word, tt.column)
		}
	}
	if _, err := sidewall.Parse("AX240/75R20 E"); !errors.Is(err, inflation.ErrSize) {
		t.Errorf("invented size: %v", err)
	}
	_, err := sidewall.Parse("LT225/75R16 nonsense")
	if want := `column 13: "NONSENSE": not a sidewall's stamp: want a load index with its symbol such as "115/112Q", a load range such as "load range E", a ply rating such as "10 PR", or "max load single 3640 lb at 95 psi"`; err.Error() != want {
		t.Errorf("got  %s\nwant %s", err, want)
	}
}

func TestSidewallClass(t *testing.T) {
	for text, want := range map[string]inflation.Class{
		"225/75R16 104H": inflation.Passenger, "225/75R16 116/114R": inflation.LightTruck, "P225/75R16 116/114R": inflation.Passenger,
		"LT225/75R16 115/112Q": inflation.LightTruck, "11R22.5": inflation.Truck, "ST205/75D15": inflation.Trailer,
	} {
		s, err := sidewall.Parse(text)
		if err != nil || s.Class() != want {
			t.Errorf("%q: %s, %v; want %s", text, s.Class(), err, want)
		}
	}
}

// TestLower: of stamps that contradict each other the lower load counts, and a
// dual load above the single one for nothing.
func TestLower(t *testing.T) {
	at := 95 * psi
	for _, x := range []struct {
		text         string
		single, dual inflation.Rating
	}{
		{"LT225/75R16 125/123L max load single 3640 lb at 95 psi max load dual 3415 lb at 95 psi", inflation.Rating{Load: 3640 * lb, Pressure: at}, inflation.Rating{Load: 3415 * lb, Pressure: at}},
		{"LT225/75R16 125/123L max load single 3700 lb at 95 psi", inflation.Rating{Load: 1650 * kg, Pressure: at}, inflation.Rating{}},
		{"LT225/75R16 125/123L max load single 3500 lb at 95 psi", inflation.Rating{Load: 3500 * lb, Pressure: at}, inflation.Rating{}},
		{"LT225/75R16 125/123L max load single 3640 lb at 95 psi max load dual 6830 lb at 95 psi", inflation.Rating{Load: 3640 * lb, Pressure: at}, inflation.Rating{}},
		{"LT225/75R16 125/123L max load dual 3600 lb at 95 psi", inflation.Rating{}, inflation.Rating{Load: 1550 * kg, Pressure: at}},
	} {
		s, err := sidewall.Parse(x.text)
		if err != nil || s.Lower(weight.Single) != x.single || s.Lower(weight.Dual) != x.dual {
			t.Errorf("%s: %+v, %+v, %v", x.text, s.Lower(weight.Single), s.Lower(weight.Dual), err)
		}
	}
}

func TestDoubts(t *testing.T) {
	for _, tt := range []struct {
		text string
		road inflation.Speed
		want string
	}{
		{"LT225/75R16 125/123L max load single 3640 lb at 95 psi max load dual 3415 lb at 95 psi", 65 * inflation.MilePerHour, ""},
		{"LT225/75R16 E 115/112Q max load single 2680 lb at 80 psi max load dual 2470 lb at 80 psi", 75 * inflation.MilePerHour, ""},
		{"LT225/75R16 125/123L max load single 3700 lb at 95 psi", 0, "load and load index differ, single: 3700 lb, 125 = 1650 kg"},
		{"LT225/75R16 125/123L max load dual 3300 lb", 0, "load and load index differ, dual: 3300 lb, 123 = 1550 kg"},
		{"LT225/75R16 max load single 3415 lb max load dual 3640 lb", 0, "dual above single, dual: 3640 lb, at most 3415 lb"},
		{"LT225/75R16 123/125L", 0, "dual above single, dual: 125, at most 123"},
		{"LT225/75R16 E 12PR", 0, "ply rating and load range differ, not known: 12, 10"},
		{"LT225/75R16 E 10PR", 0, ""},
		{"LT225/75R16 E max load single 2680 lb at 95 psi", 0, "pressure above the load range's, single: 95 psi, at most 80 psi"},
		{"LT225/75R16 E max load dual 2470 lb at 560 kPa", 0, ""},
		// 49 CFR 571.139 S5.5.6: up to 10 psi (69 kPa) above
		{"LT225/75R16 E max load single 2680 lb at 90 psi", 0, ""},
		{"LT225/75R16 E max load single 2680 lb at 620 kPa", 0, ""},
		{"LT225/75R16 E max load single 2680 lb at 91 psi", 0, "pressure above the load range's, single: 91 psi, at most 80 psi"},
		{"11R22.5 G max load single 6175 lb at 105 psi", 0, ""},
		{"LT225/75R16 115/112L", 75 * inflation.MilePerHour, "speed symbol below the road speed, not known: L = 120 km/h, at least 75 mph"},
		{"LT225/75R16 115/112L", 74 * inflation.MilePerHour, ""},
	} {
		s, err := sidewall.Parse(tt.text)
		if err != nil {
			t.Errorf("%q: %v", tt.text, err)
			continue
		}
		var got []string
		for _, d := range s.Doubts(tt.road) {
			got = append(got, fmt.Sprintf("%s, %s: %s, %s", d.Kind, d.Fitment, d.Stamped, d.Expected))
		}
		if strings.Join(got, "; ") != tt.want {
			t.Errorf("%q: %q, want %q", tt.text, got, tt.want)
		}
	}
	anyRating := inflation.Rating{Load: 3640 * lb, Pressure: 95 * psi}
	s := sidewall.Stamps{Single: anyRating}
	if s.Rating(weight.Single) != anyRating || s.Rating(weight.Dual) != (inflation.Rating{}) || s.Rating(0) != (inflation.Rating{}) {
		t.Error("rating by fitment")
	}
}
