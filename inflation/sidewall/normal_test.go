package sidewall_test

import (
	"testing"

	"axleend.example/inflation/sidewall"
	"axleend.example/weight"
)

// TestNormalizeSize: a size in any writing is one text, with whatever stands behind it
// left off; what is no size is in capitals without blanks.
func TestNormalizeSize(t *testing.T) {
	for text, want := range map[string]string{
		"lt 225/75 r16": "LT225/75R16", "LT225/75R16 115/112Q": "LT225/75R16", " 11r22.5\t": "11R22.5",
		"ax240/75 r20": "AX240/75R20", "ax\t240 / 75": "AX240/75", "Az az": "AZAZ", "@[`{": "@[`{", "": "", " \t": "",
	} {
		if got := sidewall.NormalizeSize(text); got != want {
			t.Errorf("%q is %q, want %q", text, got, want)
		}
	}
}

// TestAgreesWithin: 1 % either way agrees, and nothing beyond it. Load index 100 is 800 kg
// (standards bodies, as quoted).
func TestAgreesWithin(t *testing.T) {
	index, err := sidewall.ParseLoadIndex("100")
	if err != nil || index.Load() != 800*weight.Kilogram {
		t.Fatalf("%s, %v", index.Load(), err)
	}
	for stamped, want := range map[weight.Mass]bool{
		800 * weight.Kilogram: true, 808 * weight.Kilogram: true, 808*weight.Kilogram + 1: false, 792 * weight.Kilogram: true, 792*weight.Kilogram - 1: false,
		0: false, -1: false, -800 * weight.Kilogram: false, 1600 * weight.Kilogram: false, 1600*weight.Kilogram + 1: false, 1<<63 - 1: false, -1 << 63: false,
	} {
		if got := index.AgreesWith(stamped); got != want {
			t.Errorf("%d ng: %v", stamped, got)
		}
	}
}
