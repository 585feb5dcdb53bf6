package inflation_test

import (
	"encoding/csv"
	"errors"
	"strconv"
	"strings"
	"testing"

	"axleend.example/inflation"
	"axleend.example/inflation/sidewall"
	"axleend.example/weight"
)

// rowsOf reads a reference list beside the tests, without its head.
func rowsOf(t testing.TB, name string) [][]string {
	t.Helper()
	rows, err := csv.NewReader(strings.NewReader(readFile(t, "testdata/"+name))).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	return rows[1:]
}

// TestLoadRangeLetters: no letter but those listed has a ply rating, and the
// rating goes up by two from letter to letter.
func TestLoadRangeLetters(t *testing.T) {
	ply := 0
	for c := range 256 {
		lr := inflation.LoadRange([]byte{byte(c)})
		used := strings.Contains("ABCDEFGHJLMN", string(lr))
		if used {
			ply += 2
		}
		if got, ok := lr.PlyRating(); ok != used || ok && got != ply {
			t.Errorf("%q: got %d, %v", lr, got, ok)
		}
		if _, err := inflation.ParseLoadRange(string(lr)); (err == nil) != strings.Contains("ABCDEFGHJLMN", strings.ToUpper(string(lr))) {
			t.Errorf("%q: got %v", lr, err)
		}
	}
	for _, lr := range []inflation.LoadRange{"", "AB", "SL"} {
		if got, ok := lr.PlyRating(); ok || got != 0 {
			t.Errorf("%q: got %d", lr, got)
		}
	}
}

// TestStrongerLoadRange: the letter with more plies, whichever stands first; the first of
// two that are alike, or that say no ply rating.
func TestStrongerLoadRange(t *testing.T) {
	for _, x := range [][3]inflation.LoadRange{{"F", "G", "G"}, {"G", "F", "G"}, {"G", "G", "G"}, {"", "E", "E"}, {"SL", "C", "C"}, {"C", "SL", "C"}, {"XL", "SL", "XL"}, {"H", "J", "J"}, {"", "", ""}} {
		if got := x[0].Stronger(x[1]); got != x[2] {
			t.Errorf("the stronger of %q and %q is %q, want %q", x[0], x[1], got, x[2])
		}
	}
}

func TestLoadRanges(t *testing.T) {
	for _, r := range rowsOf(t, "load_range.csv") {
		lr, err := inflation.ParseLoadRange(r[0])
		ply, ok := lr.PlyRating()
		if err != nil || !ok || strconv.Itoa(ply) != r[1] {
			t.Errorf("%s: %v, ply %d, want %s", r[0], err, ply, r[1])
		}
		p, source, ok := lr.LTMetricMaximum()
		if want := r[2]; ok != (want != "") || ok && (p.In(psi, 0, weight.Nearest).String() != want || source.Check() != nil) {
			t.Errorf("%s: %s %v, want %q psi", r[0], p, source, want)
		}
	}
	for text, want := range map[string]inflation.LoadRange{"lr e": "E", "LRE": "E", "Load  Range e": "E", "lre": "E", "xl": "XL", "Extra Load": "XL", "SL": "SL",
		"standard load": "SL", "LL": "LL", "light load": "LL", "HL": "HL", "L": "L"} {
		if lr, err := inflation.ParseLoadRange(text); err != nil || lr != want {
			t.Errorf("%q: %v %v", text, lr, err)
		}
	}
	for _, text := range []string{"", "I", "K", "O", "EE", "LR", "load range", "10"} {
		if _, err := inflation.ParseLoadRange(text); !errors.Is(err, inflation.ErrWord) {
			t.Errorf("%q: %v", text, err)
		}
	}
	if _, ok := inflation.LoadRange("XL").PlyRating(); ok {
		t.Error("XL has a ply rating")
	}
}

func TestParseSize(t *testing.T) {
	const (
		pass  = inflation.Passenger
		light = inflation.LightTruck
		truck = inflation.Truck
		trail = inflation.Trailer
	)
	tests := []struct {
		text, want string
		class      inflation.Class
		con        inflation.Construction
		rim        string
	}{
		{"LT225/75R16", "LT225/75R16", light, inflation.Radial, "16 in"},
		{"lt 225/75 r16", "LT225/75R16", light, inflation.Radial, "16 in"},
		{" LT225 / 75 R 16 ", "LT225/75R16", light, inflation.Radial, "16 in"},
		{"P225/75R15", "P225/75R15", pass, inflation.Radial, "15 in"},
		{"225/75R16", "225/75R16", pass, inflation.Radial, "16 in"},
		{"225/75R16C", "225/75R16C", light, inflation.Radial, "16 in"},
		{"225/50zr17", "225/50ZR17", pass, inflation.Radial, "17 in"},
		{"225/60HR15", "225/60HR15", pass, inflation.Radial, "15 in"},
		{"T145/80D16", "T145/80D16", pass, inflation.Bias, "16 in"},
		{"HL245/40R19", "HL245/40R19", pass, inflation.Radial, "19 in"},
		{"ST205/75D15", "ST205/75D15", trail, inflation.Bias, "15 in"},
		{"ST205/75-15", "ST205/75D15", trail, inflation.Bias, "15 in"},
		{"ST205/75B15", "ST205/75B15", trail, inflation.BiasBelted, "15 in"},
		{"245/70R19.5", "245/70R19.5", truck, inflation.Radial, "19.5 in"},
		{"315/80R22.5", "315/80R22.5", truck, inflation.Radial, "22.5 in"},
		{"365/80R20", "365/80R20", 0, inflation.Radial, "20 in"},
		{"11R22.5", "11R22.5", truck, inflation.Radial, "22.5 in"},
		{"11.00R22.5", "11.00R22.5", truck, inflation.Radial, "22.5 in"},
		{"11/70R22.5", "11/70R22.5", truck, inflation.Radial, "22.5 in"},
		{"10.00R20", "10.00R20", truck, inflation.Radial, "20 in"},
		{"10.00-20", "10.00-20", truck, inflation.Bias, "20 in"},
		{"7.50-16LT", "7.50-16LT", light, inflation.Bias, "16 in"},
		{"7.5R16 LT", "7.50R16LT", light, inflation.Radial, "16 in"},
		{"7.50-16", "7.50-16", 0, inflation.Bias, "16 in"},
		{"7.50R16C", "7.50R16C", light, inflation.Radial, "16 in"},
		{"4.00-15", "4.00-15", 0, inflation.Bias, "15 in"},
		{"8-14.5MH", "8-14.5MH", 0, inflation.Bias, "14.5 in"},
		{"8.75R16.5LT", "8.75R16.5LT", light, inflation.Radial, "16.5 in"},
		{"9.00-15ST", "9.00-15ST", trail, inflation.Bias, "15 in"},
		{"37x12.50R17LT", "37x12.50R17LT", light, inflation.Radial, "17 in"},
		{"37X12.5R17LT", "37x12.50R17LT", light, inflation.Radial, "17 in"},
		{"33×9.50R15LT", "33x9.50R15LT", light, inflation.Radial, "15 in"},
		{"31.5x13R15LT", "31.5x13R15LT", light, inflation.Radial, "15 in"},
		{"31x10.50R15", "31x10.50R15", 0, inflation.Radial, "15 in"},
	}
	for _, tt := range tests {
		s, err := inflation.ParseSize(tt.text)
		if err != nil || s.String() != tt.want || s.Class() != tt.class || s.Construction() != tt.con || s.RimDiameter() != weight.MustParseLength(tt.rim) {
			t.Errorf("%q: %q %s %s %s %v", tt.text, s, s.Class(), s.Construction(), s.RimDiameter(), err)
			continue
		}
		if again, err := inflation.ParseSize(s.String()); err != nil || again != s {
			t.Errorf("%q reads back as %#v, %v", s, again, err)
		}
		if got := sidewall.NormalizeSize(tt.text); got != tt.want {
			t.Errorf("%q normalizes to %q", tt.text, got)
		}
	}
	for _, text := range []string{"", "AX240/75R20", "225", "LT225", "225/75", "225/75R", "225/75X16", "3.99-15", "25.01-15", "225/75R16.3", "225/75R160", "225/75R3", "22/75R16", "P7.50R16", "7.50",
		"225/7R16", "225/101R16", "225/75.5R16", "P31x10.50R15", "31x", "31xR15", "19x7R10", "31x4R15", "31.2x10R15", "3R16", "26R16", "225R16", "225/75QQR16", "225/75IR16",
		"11R22.514PR", "11R22.5 14PR", "1125/75R16", "11R22.55", "-16", "R16", "225/75R16/E", strings.Repeat(" ", 600) + "11R22.5"} {
		if s, err := inflation.ParseSize(text); !errors.Is(err, inflation.ErrSize) || s != (inflation.Size{}) {
			t.Errorf("%q: %q, %v", text, s, err)
		}
	}
	var zero inflation.Size
	if zero.String() != "" || zero.Class() != 0 || zero.Construction() != 0 || zero.RimDiameter() != 0 {
		t.Errorf("zero size: %q", zero)
	}
	for text, want := range map[string]string{"ax240/75 r20": "AX240/75R20", "lt225/75r16 e": "LT225/75R16", "11r22.5 144/142L 14PR": "11R22.5", "": ""} {
		if got := sidewall.NormalizeSize(text); got != want {
			t.Errorf("%q normalizes to %q, want %q", text, got, want)
		}
	}
}
