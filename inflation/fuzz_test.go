package inflation_test

import (
	"errors"
	"testing"

	"axleend.example/inflation"
	"axleend.example/inflation/caution"
	"axleend.example/inflation/sidewall"
)

func FuzzParseSize(f *testing.F) {
	for _, s := range []string{"LT225/75R16", "11R22.5", "7.50-16LT", "37x12.50R17LT", "ST205/75D15", "225/50ZR17", "10.00-20", "33×9.50R15LT", "8-14.5MH", "10B10\v"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		s, err := inflation.ParseSize(text)
		if err != nil {
			if !errors.Is(err, inflation.ErrSize) || s != (inflation.Size{}) {
				t.Fatalf("%q: %v %v", text, s, err)
			}
			return
		}
		again, err := inflation.ParseSize(s.String())
		if err != nil || again != s || s.RimDiameter() <= 0 || s.Construction() == 0 {
			t.Fatalf("%q is %q, which reads back as %q, %v", text, s, again, err)
		}
		if n := sidewall.NormalizeSize(text); n != s.String() {
			t.Fatalf("%q normalizes to %q, not %q", text, n, s)
		}
	})
}

func FuzzWords(f *testing.F) {
	for _, s := range []string{"E", "load range xl", "per pair", "light truck", "bias-belted", "125", "A8", "interpolated", `["cold-only"]`} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		if lr, err := inflation.ParseLoadRange(text); err == nil {
			if again, err := inflation.ParseLoadRange(string(lr)); err != nil || again != lr {
				t.Fatalf("load range %q: %q %v", text, again, err)
			}
		}
		if b, err := inflation.ParseLoadPer(text); err == nil {
			if again, err := inflation.ParseLoadPer(b.String()); err != nil || again != b {
				t.Fatalf("basis %q: %q %v", text, again, err)
			}
		}
		if c, err := inflation.ParseClass(text); err == nil && c == 0 {
			t.Fatalf("class %q is none", text)
		}
		if s, err := sidewall.ParseSpeedSymbol(text); err == nil && s.Speed() == 0 {
			t.Fatalf("symbol %q has no speed", text)
		}
		if li, err := sidewall.ParseLoadIndex(text); err == nil && li.Load() == 0 {
			t.Fatalf("index %q has no load", text)
		}
		var s caution.Set
		if s.UnmarshalJSON([]byte(text)) == nil {
			data, err := s.MarshalJSON()
			var again caution.Set
			if err != nil || again.UnmarshalJSON(data) != nil || again != s {
				t.Fatalf("cautions %q: %s", text, data)
			}
		}
	})
}
