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

// TestAgreesWithin: from 1.45 % below to 1 % above agrees, and nothing beyond it. Load
// index 100 is 800 kg (standards bodies, as quoted).
func TestAgreesWithin(t *testing.T) {
	index, err := sidewall.ParseLoadIndex("100")
	if err != nil || index.Load() != 800*weight.Kilogram {
		t.Fatalf("%s, %v", index.Load(), err)
	}
	for stamped, want := range map[weight.Mass]bool{
		800 * weight.Kilogram: true, 808 * weight.Kilogram: true, 808*weight.Kilogram + 1: false, 7884 * weight.Kilogram / 10: true, 7884*weight.Kilogram/10 - 1: false,
		0: false, -1: false, -800 * weight.Kilogram: false, 1600 * weight.Kilogram: false, 1600*weight.Kilogram + 1: false, 1<<63 - 1: false, -1 << 63: false,
	} {
		if got := index.AgreesWith(stamped); got != want {
			t.Errorf("%d ng: %v", stamped, got)
		}
	}
}

// TestAgreesWithTheStampsOfLightTrucks: the loads that stand on light truck sidewalls
// agree with the indexes beside them, and with no other (trade charts: LT235/85R16 and
// LT245/75R16, load range E, 3,042 and 2,778 lb at 120/116; LT265/75R16, load range E,
// 3,415 and 3,085 lb at 123/120).
func TestAgreesWithTheStampsOfLightTrucks(t *testing.T) {
	for stamped, number := range map[weight.Mass]int{3042: 120, 2778: 116, 3415: 123, 3085: 120} {
		for n := range sidewall.MaxLoadIndex + 1 {
			index, err := sidewall.LoadIndexOf(n)
			if got := index.AgreesWith(stamped * weight.Pound); err != nil || got != (n == number) {
				t.Errorf("%d lb agrees with load index %d: %v, %v", stamped, n, got, err)
			}
		}
	}
}

// TestNeverAgreesWithTheNextIndex: no index's own load passes for the next one's, up or
// down, and no load at all for three indexes.
func TestNeverAgreesWithTheNextIndex(t *testing.T) {
	for n := range sidewall.MaxLoadIndex {
		low, err1 := sidewall.LoadIndexOf(n)
		high, err2 := sidewall.LoadIndexOf(n + 1)
		if err1 != nil || err2 != nil || low.AgreesWith(high.Load()) || high.AgreesWith(low.Load()) {
			t.Errorf("load indexes %d and %d pass for each other", n, n+1)
		}
		if n > 0 {
			before, _ := sidewall.LoadIndexOf(n - 1)
			for l := before.Load(); l <= high.Load(); l += weight.Kilogram / 10 {
				if before.AgreesWith(l) && high.AgreesWith(l) {
					t.Fatalf("%s passes for load index %d and %d", l, n-1, n+1)
				}
			}
		}
	}
}
