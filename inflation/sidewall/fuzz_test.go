package sidewall_test

import (
	"errors"
	"testing"

	"axleend.example/inflation"
	"axleend.example/inflation/sidewall"
)

func FuzzParse(f *testing.F) {
	for _, s := range []string{"LT225/75R16 115/112Q E", "11R22.5 14PR 144/142L", "225/75R16 XL 104H", "P225/75R15 max load 615 kg (1356 lbs) max press 300 kPa (44 psi)",
		"LT225/75R16 MAX. LOAD SINGLE 1650 KG (3640 LBS) AT 660 KPA (95 PSI) COLD. MAX. LOAD DUAL 1550 KG (3415 LBS) AT 660 KPA (95 PSI) COLD."} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		s, err := sidewall.Parse(text)
		if err != nil {
			if !errors.Is(err, inflation.ErrSize) && !errors.Is(err, sidewall.ErrStamp) || s != (sidewall.Stamps{}) || len(err.Error()) > 500 {
				t.Fatalf("%q: %v %v", text, s, err)
			}
			return
		}
		again, err := sidewall.Parse(s.String())
		if err != nil || again != s {
			t.Fatalf("%q is %q, which reads back as %+v, %v", text, s, again, err)
		}
		s.Doubts(65 * inflation.MilePerHour)
	})
}

func BenchmarkParse(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if _, err := sidewall.Parse("LT225/75R16 115/112Q load range E; max load single 2680 lb at 80 psi cold; max load dual 2470 lb at 80 psi cold"); err != nil {
			b.Fatal(err)
		}
	}
}
