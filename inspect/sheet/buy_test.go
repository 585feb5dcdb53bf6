package sheet_test

import (
	"os"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"axleend.example/inflation"
	"axleend.example/inflation/sidewall"
	"axleend.example/inflation/tablefile"
	"axleend.example/inspect"
	"axleend.example/inspect/record"
	"axleend.example/inspect/sheet"
	"axleend.example/weight"
)

var boughtIndex = regexp.MustCompile(`<li>Buy for ([a-z-]+): ([24]) tires of (\S+)\. (Dual load|Load) index (\d+) or higher`)

// bought is what the card of a changed demo says to buy: each axle's least index.
func bought(t *testing.T, change func(v *record.Visit)) (indexes map[string]sidewall.LoadIndex, page string) {
	t.Helper()
	data, err := os.ReadFile(demos[0])
	if err != nil {
		t.Fatal(err)
	}
	v, err := record.Read(demos[0], data)
	if err != nil {
		t.Fatal(err)
	}
	change(v)
	tables, err := tablefile.LoadFolder(os.DirFS("../../examples/demo"))
	if err != nil {
		t.Fatal(err)
	}
	r, err := inspect.Assess(v, inspect.Setup{Tables: tables})
	if err != nil {
		t.Fatal(err)
	}
	page = render(t, r, sheet.HTMLOptions{OneSheet: true, Visit: v})
	indexes = make(map[string]sidewall.LoadIndex)
	for _, m := range boughtIndex.FindAllStringSubmatch(page, -1) {
		n, err := strconv.Atoi(m[5])
		if err != nil {
			t.Fatal(err)
		}
		if indexes[m[1]], err = sidewall.LoadIndexOf(n); err != nil {
			t.Fatal(err)
		}
	}
	return indexes, page
}

// TestWhatToBuy: the least load index carries the heavier end as weighed with its
// plus/minus, and the GAWR, on each tire; the one below does not (49 CFR 571.120
// S5.1.2; ISO 4000-1). A passenger tire's counts divided by 1.10.
func TestWhatToBuy(t *testing.T) {
	least := func(axle string, got map[string]sidewall.LoadIndex, need weight.Mass) {
		t.Helper()
		index := got[axle]
		below, err := sidewall.LoadIndexOf(index.Number() - 1)
		if err != nil || index.Load() < need || below.Load() >= need {
			t.Errorf("%s: load index %s for %s on each tire", axle, index, need)
		}
	}
	as, page := bought(t, func(*record.Visit) {})
	least("steer", as, 4750*weight.Pound) // half of the GAWR of 9,500 lb
	least("drive", as, 4510*weight.Pound) // the left end as weighed, 9,000 lb and its plus/minus
	if !strings.Contains(page, "Speed symbol L or higher. Load range G or higher, as fitted. Fitted: 136/133L. Wheels allow 5000 lb at 120 psi.") {
		t.Error("stamps and wheels are missing")
	}
	more, _ := bought(t, func(v *record.Visit) { v.Axles[1].GAWR = record.Record(22000 * weight.Pound) })
	least("drive", more, 5500*weight.Pound)
	least("steer", more, 4750*weight.Pound)
	car, _ := bought(t, func(v *record.Visit) { // a size of the passenger class, by its letters
		v.EveryTire.Class, v.EveryTire.Size = record.Recorded[inflation.Class]{}, "250/72R21"
	})
	least("steer", car, 5225*weight.Pound)
	for name, change := range map[string]func(v *record.Visit){
		"no GAWR":     func(v *record.Visit) { v.Axles[1].GAWR = record.Recorded[weight.Mass]{} },
		"not weighed": func(v *record.Visit) { v.Weighing.Readings = nil },
		"no class": func(v *record.Visit) {
			v.EveryTire.Class, v.EveryTire.Size = record.Recorded[inflation.Class]{}, "XV999/72R21"
		},
	} {
		if got, page := bought(t, change); got["drive"].Known() || !strings.Contains(page, "The least load index is not known") {
			t.Errorf("%s: %s", name, got["drive"])
		}
	}
	mixed, page := bought(t, func(v *record.Visit) {
		v.Tires[0].Size = "XM260/71R20"
		v.Tires[1].Wheel = record.Record(record.Stamp{Load: 4000 * weight.Pound, At: 110 * inflation.PSI})
	})
	if mixed["steer"].Known() || !strings.Contains(page, "Buy for steer: 2 tires; the sizes fitted differ") || !strings.Contains(page, "The wheels differ") {
		t.Error("sizes or wheels that differ are not said")
	}
}

// TestWhatToBuyIsAsStrongAsThePlacard: the least load range to buy is the placard's where
// what runs there is weaker, differs or was not read (49 CFR 571.120 S5.1.2).
func TestWhatToBuyIsAsStrongAsThePlacard(t *testing.T) {
	for _, x := range []struct{ placard, fitted, odd, want string }{
		{"G", "F", "F", "Load range G or higher, as on the placard."},
		{"G", "G", "G", "Load range G or higher, as fitted."},
		{"G", "H", "H", "Load range H or higher, as fitted."},
		{"G", "G", "F", "Load range G or higher, as on the placard."},
		{"G", "", "", "Load range G or higher, as on the placard."},
		{"", "F", "F", "Load range F or higher, as fitted."},
		{"", "G", "F", ""},
	} {
		_, page := bought(t, func(v *record.Visit) {
			for i := range v.Axles {
				v.Axles[i].PlacardLoadRange = x.placard
			}
			v.EveryTire.LoadRange = ""
			for i := range v.Tires {
				if v.Tires[i].LoadRange = x.fitted; i%2 == 1 {
					v.Tires[i].LoadRange = x.odd
				}
			}
		})
		if x.want == "" && strings.Contains(page, "or higher, as fitted") || !strings.Contains(page, x.want) || strings.Contains(page, "Load range F or higher") && x.want != "Load range F or higher, as fitted." {
			t.Errorf("placard %q, fitted %q and %q: want %q", x.placard, x.fitted, x.odd, x.want)
		}
	}
}
