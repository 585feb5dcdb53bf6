package placement_test

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"axleend.example/inflation"
	"axleend.example/inspect"
	"axleend.example/inspect/placement"
	"axleend.example/inspect/record"
	"axleend.example/inspect/record/condition"
	"axleend.example/internal/tabletest"
	"axleend.example/internal/testsize"
	"axleend.example/internal/visittest"
	"axleend.example/weight"
)

// TestWheelToBuy: where the wheel is short, or damaged, it says wheel, load and
// pressure; where the tire is, it says tire (computed by hand from the rig: 4,000 lb
// and 4,100 lb in front, 7,500 lb and 7,400 lb behind, 10 lb of doubt each).
func TestWheelToBuy(t *testing.T) {
	for _, x := range []struct {
		name   string
		own    map[string]string
		wheels string // place, tire, load, pressure
		tires  string
		step   string // one of the steps says
	}{
		{"rated for too little load", map[string]string{"steer-left": "wheel: 3000 lb at 130 psi, wheel_fits: steer", "steer-right": "wheel: 3000 lb at 130 psi, wheel_fits: steer", "drive-left-outer": "wheel_fits: drive", "drive-left-inner": "wheel_fits: drive", "drive-right-outer": "wheel_fits: drive", "drive-right-inner": "wheel_fits: drive"},
			"steer-left steer-left 4010 lb 100 psi; steer-right steer-right 4110 lb 100 psi", "", "steer-left onto bought"},
		{"stamped for too little pressure", map[string]string{"steer-left": "wheel: 6000 lb at 90 psi", "steer-right": "wheel: 6000 lb at 90 psi"},
			"steer-left steer-left 4010 lb 100 psi; steer-right steer-right 4110 lb 100 psi", "", "steer-left onto bought"},
		{"cracked, the inner one of a pair", map[string]string{"drive-left-inner": "seen: cracked wheel"},
			"drive-left-inner drive-left-inner 3755 lb 100 psi", "", "drive-left-inner onto bought"},
		{"a bulge on a cracked wheel", map[string]string{"steer-left": "seen: [bulge, cracked wheel]"},
			"steer-left - 4010 lb 0 psi", "steer-left", "bought steer-left onto bought"},
		{"a bulge on a wheel rated for too little", map[string]string{"steer-left": "seen: bulge, wheel: 3000 lb at 130 psi"},
			"steer-left - 4010 lb 0 psi", "steer-left", "bought steer-left onto bought"},
		{"a bulge on a wheel stamped for less than is set", map[string]string{"steer-left": "seen: bulge, wheel: 6000 lb at 90 psi"},
			"steer-left - 4010 lb 0 psi", "steer-left", "bought steer-left onto bought"},
		{"bulges on two such wheels", map[string]string{"steer-left": "seen: bulge, wheel: 6000 lb at 90 psi", "steer-right": "seen: bulge, wheel: 6000 lb at 90 psi"},
			"steer-left - 4010 lb 0 psi; steer-right - 4110 lb 0 psi", "steer-left; steer-right", "bought steer-right onto bought"},
		{"a bulge on a sound wheel", map[string]string{"steer-left": "seen: bulge"},
			"", "steer-left", "bought steer-left onto steer-left"},
		{"a flat on a cracked wheel", map[string]string{"steer-left": "seen: cracked wheel, found: 60 psi"},
			"steer-left - 4010 lb 0 psi", "steer-left", "bought steer-left onto bought"},
		{"too weak, and worn too far for its mate", map[string]string{"drive-left-inner": "wheel: 3000 lb at 130 psi, tread: 5/32 in"},
			"drive-left-outer - 3755 lb 0 psi", "drive-left-outer", "bought drive-left-outer onto bought"},
		{"too weak, its tires barely carry the load", map[string]string{"drive-left-outer": "dual: 3750 lb at 110 psi", "drive-left-inner": "dual: 3750 lb at 110 psi, wheel: 3000 lb at 130 psi",
			"drive-right-inner": "dual: 3750 lb at 110 psi", "drive-right-outer": "dual: 3750 lb at 110 psi"}, "drive-left-outer drive-left-inner 3755 lb 110 psi", "", "drive-left-inner onto bought"}, // a stronger tire goes inside
		{"nothing wrong", nil, "", "", ""},
	} {
		t.Run(x.name, func(t *testing.T) {
			r := placed(t, visittest.Read(t, wheels(false, x.own)), inspect.Setup{})
			var have, tires, demounts []string
			for _, w := range r.Wheels {
				tire := w.Tire
				if tire == "" {
					tire = "-"
				}
				have = append(have, strings.Join([]string{w.At, tire, w.Load.String(), w.Pressure.String()}, " "))
			}
			for _, b := range r.Buy {
				tires = append(tires, b.At)
			}
			for _, s := range r.Steps {
				if s.Do != placement.Demount {
					continue
				}
				text, onto := s.Tire, s.OntoWheel
				if s.Bought {
					text = "bought " + text
				}
				if s.WheelFor != "" {
					onto = "bought"
				}
				demounts = append(demounts, text+" onto "+onto)
			}
			if got := strings.Join(have, "; "); got != x.wheels {
				t.Errorf("wheels to buy: %s, want %s", got, x.wheels)
			}
			if got := strings.Join(tires, "; "); got != x.tires {
				t.Errorf("tires to buy: %s, want %s", got, x.tires)
			}
			if x.step != "" && !slices.Contains(demounts, x.step) {
				t.Errorf("steps %q, want %q", demounts, x.step)
			}
		})
	}
}

// TestWheelToBuyWithoutAPressure: where a table does not fit the axle, as one without
// loads for duals, nothing says what the wheel must take; the wheel itself is said.
func TestWheelToBuyWithoutAPressure(t *testing.T) {
	alone := tabletest.Load(t, "alone.yaml", tabletest.Spec{Name: "alone", Size: "AX240/75R20", Class: "truck", LoadRange: "G", PressureUnit: "psi", LoadUnit: "lb",
		Single: "tire", Rows: [][]string{{"80", "4000"}, {"110", "5000"}}}.YAML())
	tables, err := inflation.NewTables(alone)
	if err != nil {
		t.Fatal(err)
	}
	r := placed(t, visittest.Read(t, wheels(false, map[string]string{"drive-left-inner": "seen: cracked wheel"})), inspect.Setup{Tables: tables})
	if len(r.Wheels) != 1 || r.Wheels[0].At != "drive-left-inner" || r.Wheels[0].Tire != "drive-left-inner" || r.Wheels[0].Pressure != 0 {
		t.Errorf("wheels to buy: %+v", r.Wheels)
	}
}

// TestWheelToBuyWithoutAWeighing: nobody knows what the wheel must carry, and no load is said.
func TestWheelToBuyWithoutAWeighing(t *testing.T) {
	text, _, _ := strings.Cut(wheels(false, map[string]string{"drive-left-inner": "seen: cracked wheel"}), "weighing:")
	r := placed(t, visittest.Read(t, text), inspect.Setup{})
	if len(r.Wheels) != 1 || r.Wheels[0].At != "drive-left-inner" || r.Wheels[0].Load != 0 {
		t.Errorf("wheels to buy: %+v", r.Wheels)
	}
}

// TestWhatIsOfTheWheel: for a shop that drives on none of them, a wheel mends what is
// of the wheel, its valve and its fasteners, and only a tire what is of the tire.
func TestWhatIsOfTheWheel(t *testing.T) {
	t.Parallel()
	ofWheel := []condition.Condition{condition.ValveLeaking, condition.StemCracked, condition.StemNotRadial, condition.ExtensionLoose, condition.CapMissing,
		condition.WheelBent, condition.WheelCracked, condition.WheelHolesElongated, condition.WheelWelded, condition.WheelClampWorn,
		condition.LockRingDamaged, condition.LugNutLoose, condition.FastenerDamaged}
	var rules strings.Builder
	all := append(slices.Clone(ofWheel), condition.Bulge, condition.FlapAtStem)
	for _, c := range all {
		measure := strings.ReplaceAll(c.String(), " ", "_")
		fmt.Fprintf(&rules, "  %s: {title: %s, subject: tire, measure: %s, is: no, action: do_not_drive, advice: See to it., source: {grade: invented, title: the made-up shop's handbook}}\n",
			strings.ReplaceAll(c.String(), " ", "-"), c, measure)
	}
	program := visittest.Compile(t, rules.String())
	for _, c := range all {
		r := placed(t, visittest.Read(t, wheels(false, map[string]string{"drive-left-inner": "seen: " + c.String()})), inspect.Setup{Program: program})
		wheel, tightened := slices.Contains(ofWheel, c), c == condition.LugNutLoose
		if (wheel && !tightened) != (len(r.Wheels) == 1) || wheel != (len(r.Buy) == 0) {
			t.Errorf("%s: wheels to buy %+v, tires %+v", c, r.Wheels, r.Buy)
		}
	}
}

// TestNoTireOnABadWheel: over random coaches with short and damaged wheels, no wheel
// that does not do for its place carries a tire in the end, and a sound tire goes
// nowhere only where no wheel is to blame.
func TestNoTireOnABadWheel(t *testing.T) {
	r := rand.New(rand.NewPCG(9, 14))
	wheels, both := 0, 0
	n := 120
	if testsize.Full() {
		n = 2000
	}
	for range n {
		x := newTrial(r, r.IntN(4) == 0, r.IntN(2))
		bad := make([]bool, len(x.spots))
		for i := range x.visit.Tires {
			if bad[i] = r.IntN(5) == 0; !bad[i] {
				continue
			}
			tire := &x.visit.Tires[i]
			if r.IntN(2) == 0 {
				tire.Wheel = record.Record(record.Stamp{Load: 1200 * weight.Pound, At: 130 * inflation.PSI}) // no place has less than 2,300 lb for one or two
				continue
			}
			seen, _ := tire.Seen.Get()
			tire.Seen = record.Record(seen.With(condition.WheelCracked))
		}
		p := placed(t, x.visit, inspect.Setup{})
		if err := x.carryOut(p); err != nil {
			t.Fatalf("%v\n%s\n%s", err, visittest.YAML(x.visit), steps(p))
		}
		moved := map[string]placement.WheelMove{}
		for _, m := range p.Moves {
			moved[m.To] = m
		}
		for i, l := range p.Places {
			on := l.Tire // the wheel in the end
			if m, ok := moved[l.At]; ok && m.Demount {
				on = m.OntoWheel
			}
			if on != "" && x.spots[i].road() && bad[x.index(on)] {
				t.Fatalf("%s runs on the bad wheel %s\n%s", l.At, on, visittest.YAML(x.visit))
			}
		}
		for _, s := range p.Steps {
			if s.Do == placement.Demount && s.Bought && s.OntoWheel != "" && bad[x.index(s.OntoWheel)] {
				t.Fatalf("a bought tire goes onto the bad wheel %s\n%s", s.OntoWheel, visittest.YAML(x.visit))
			}
		}
		for _, w := range p.Wheels {
			wheels++
			if w.Tire == "" {
				both++
			}
			if w.Tire != "" && (x.flat(x.index(w.Tire)) || !bad[x.index(w.Tire)]) {
				t.Fatalf("%s: the tire of %s gets a wheel\n%s", w.At, w.Tire, visittest.YAML(x.visit))
			}
		}
	}
	if wheels == 0 || both == 0 || both == wheels {
		t.Errorf("%d wheels to buy, %d of them for bought tires: want some of both", wheels, both)
	}
}
