package inspect_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"axleend.example/inflation"
	"axleend.example/inspect"
	"axleend.example/inspect/record"
	"axleend.example/inspect/record/condition"
	"axleend.example/inspect/report"
	"axleend.example/internal/visittest"
	"axleend.example/rules"
	"axleend.example/weight"
)

// said lists what a report asks to be done, and what it says it could not
// judge, as "rule at where".
func said(r report.Report) (todo, gaps map[string]bool) {
	todo, gaps = map[string]bool{}, map[string]bool{}
	for _, it := range r.Todo {
		for _, rule := range it.Rules {
			todo[rule+" at "+it.Where] = true
		}
	}
	for _, g := range r.Unjudged {
		for _, rule := range g.Rules {
			gaps[rule] = true
		}
		if len(g.Rules) == 0 {
			gaps[g.Where] = true
		}
	}
	return todo, gaps
}

// copied is a visit whose lists are its own.
func copied(v *record.Visit) *record.Visit {
	out := *v
	out.Axles, out.Tires = slices.Clone(v.Axles), slices.Clone(v.Tires)
	out.Weighing.Readings = slices.Clone(v.Weighing.Readings)
	return &out
}

// TestForgettingClearsNothing: what is wrong does not become right because
// something was not written down. It stays on the list, or its rule is named
// among what was not judged.
func TestForgettingClearsNothing(t *testing.T) {
	t.Parallel()
	v, setup := visittest.Demo(t)
	base, err := inspect.Assess(v, setup)
	if err != nil {
		t.Fatal(err)
	}
	wrong, _ := said(base)
	if len(wrong) < 10 {
		t.Fatalf("the demo shows %d rules broken, want more to test with", len(wrong))
	}
	type forget struct {
		name string
		do   func(*record.Visit, int)
	}
	tire := func(name string, do func(*record.Tire)) forget {
		return forget{name, func(v *record.Visit, i int) { do(&v.Tires[i]) }}
	}
	forgets := []forget{
		tire("tread", func(x *record.Tire) { x.Tread = record.Recorded[record.Treads]{} }),
		tire("found", func(x *record.Tire) { x.Found = record.Recorded[inflation.Pressure]{} }),
		tire("lowest", func(x *record.Tire) { x.LowestDriven = record.Recorded[inflation.Pressure]{} }),
		tire("number", func(x *record.Tire) { x.Number = record.Recorded[string]{} }),
		{"seen", func(v *record.Visit, i int) {
			v.EveryTire.Seen, v.Tires[i].Seen = record.Recorded[condition.Set]{}, record.Recorded[condition.Set]{}
		}},
		{"single", func(v *record.Visit, _ int) { v.EveryTire.Single = record.Recorded[record.Stamp]{} }},
		{"dual", func(v *record.Visit, _ int) { v.EveryTire.Dual = record.Recorded[record.Stamp]{} }},
		{"wheel", func(v *record.Visit, _ int) { v.EveryTire.Wheel = record.Recorded[record.Stamp]{} }},
		{"gawr", func(v *record.Visit, _ int) {
			for i := range v.Axles {
				v.Axles[i].GAWR = record.Recorded[weight.Mass]{}
			}
		}},
		{"gvwr", func(v *record.Visit, _ int) { v.Ratings = record.Ratings{} }},
		{"weighing", func(v *record.Visit, _ int) { v.Weighing.Readings = nil }},
		{"a reading", func(v *record.Visit, i int) {
			if i < len(v.Weighing.Readings) {
				v.Weighing.Readings = slices.Delete(v.Weighing.Readings, i, i+1)
			}
		}},
	}
	for i := range v.Tires {
		for _, f := range forgets {
			less := copied(v)
			f.do(less, i)
			r, err := inspect.Assess(less, setup)
			if err != nil {
				t.Fatalf("%s of %s: %v", f.name, v.Tires[i].At, err)
			}
			todo, gaps := said(r)
			for key := range wrong {
				var rule, where string
				if _, err := fmt.Sscanf(key, "%s at %s", &rule, &where); err != nil {
					t.Fatal(err)
				}
				switch rule { // what is not known is asked of the tire
				case "coach-care/mate-run-low":
					rule = "coach-care/run-low"
				case "coach-care/pair-age":
					rule = "coach-care/age-replace"
				}
				if f.name == "weighing" && (rule == "coach-care/run-low" || rule == "servicing-safety/air-on-vehicle") {
					continue // what its load needs is then not known: the last set and the placard hold
				}
				if !todo[key] && !gaps[rule] && !gaps[where] {
					t.Errorf("without %s of %s: %s is neither to do nor said to be not judged", f.name, v.Tires[i].At, key)
				}
			}
		}
	}
}

// TestWorseIsNeverBetter: with less air, less tread or more load the worst
// action never becomes a milder one, and a coach that must stand does not go.
func TestWorseIsNeverBetter(t *testing.T) {
	t.Parallel()
	_, setup := visittest.Demo(t)
	v, err := record.Read("ten.yaml", []byte(ten)) // with nothing wrong
	if err != nil {
		t.Fatal(err)
	}
	rank := func(r report.Report) int {
		return slices.Index([]report.Action{"", report.Plan, report.BeforeTrip, report.DoNotDrive}, worst(r))
	}
	for name, worse := range map[string]func(v *record.Visit, tire, step int){
		"less air": func(v *record.Visit, tire, step int) {
			v.Tires[tire].Found = record.Record(inflation.Pressure(95-step) * inflation.PSI)
			v.Tires[tire].LowestDriven = v.Tires[tire].Found
		},
		"less tread": func(v *record.Visit, tire, step int) {
			v.Tires[tire].Tread = record.Record(record.Treads{Anywhere: []weight.Length{max(0, weight.Length(120-step)) * record.ThirtySecond / 10}})
		},
		"more load": func(v *record.Visit, _, step int) {
			for i := range v.Weighing.Readings {
				v.Weighing.Readings[i].Load += weight.Mass(40*step) * weight.Pound
			}
		},
		"a coarser scale": func(v *record.Visit, _, step int) {
			v.Weighing.Tolerance = record.Record(weight.Mass(10*step+20) * weight.Pound)
		},
		"an older tire": func(v *record.Visit, tire, step int) {
			v.Tires[tire].Number = record.Record(fmt.Sprintf("22%02d", max(0, 24-step/3)))
		},
	} {
		for tire := range v.Tires {
			last, stopped, changes := -1, false, 0
			for step := 0; step <= 88; step++ {
				one := copied(v)
				worse(one, tire, step)
				r, err := inspect.Assess(one, setup)
				if err != nil {
					t.Fatalf("%s, %s, step %d: %v", name, v.Tires[tire].At, step, err)
				}
				now := rank(r)
				if now < last || stopped && !r.Drive.Stops() {
					t.Errorf("%s, %s, step %d: %q after a worse one; stops %v", name, v.Tires[tire].At, step, worst(r), r.Drive.Stops())
				}
				if now != last {
					changes++
				}
				last, stopped = now, r.Drive.Stops()
			}
			if changes < 2 {
				t.Errorf("%s, %s: nothing changed, so nothing was tested (%d)", name, v.Tires[tire].At, last)
			}
		}
	}
}

// TestMateNotRead: a low tire whose dual mate nobody read is not to be aired up
// yet: a mate that ran low would have left it the whole end (common practice).
func TestMateNotRead(t *testing.T) {
	t.Parallel()
	v, setup := visittest.Demo(t) // drive-left-outer is at 109 of 110 psi; nobody reached the valve of its mate
	r, err := inspect.Assess(v, setup)
	if err != nil {
		t.Fatal(err)
	}
	if it, ok := has(r, "drive-left-outer", "below-set"); !ok || it.Air || tireOf(t, r, "drive-left-outer").Air != report.AirNotKnown {
		t.Errorf("it is to be set: %v, %+v", ok, it)
	}
	known := copied(v)
	for i := range known.Tires {
		if known.Tires[i].At == "drive-left-inner" {
			known.Tires[i].ReadAt = record.Record(record.AtStem)
			known.Tires[i].Found = record.Record(110 * inflation.PSI)
		}
	}
	if r, err = inspect.Assess(known, setup); err != nil {
		t.Fatal(err)
	}
	if it, ok := has(r, "drive-left-outer", "below-set"); !ok || !it.Air {
		t.Errorf("with its mate read and full, it is not to be set: %v, %+v", ok, it)
	}
}

// TestWeighedOtherwiseThanItIsDriven: a leveler on the ground, a slide out, the wrong ride
// height, a trailer that was off, or readings that contradict keep no rating, and set no
// less than the placard.
func TestWeighedOtherwiseThanItIsDriven(t *testing.T) {
	t.Parallel()
	v, setup := visittest.Demo(t)
	v.Tows = record.Record(record.TowsNothing)
	v.Weighing.LevelersUp, v.Weighing.SlidesIn, v.Weighing.RideHeight = record.Record(true), record.Record(true), record.Record(true)
	kept := func(v *record.Visit) (gvwr, gcwr rules.Verdict, r report.Report) {
		r, err := inspect.Assess(v, setup)
		if err != nil {
			t.Fatal(err)
		}
		for _, l := range r.Loads {
			for _, to := range l.Ratings {
				switch {
				case l.Kind == report.CoachLoad && to.Name == "GVWR":
					gvwr = to.Verdict
				case l.Kind == report.CombinationLoad && to.Name == "GCWR":
					gcwr = to.Verdict
				}
			}
		}
		return gvwr, gcwr, r
	}
	if gvwr, gcwr, _ := kept(v); gvwr != rules.Kept || gcwr != rules.Kept {
		t.Fatalf("as driven: GVWR %s, GCWR %s", gvwr, gcwr)
	}
	no, yes := record.Record(false), record.Record(true)
	for name, change := range map[string]func(*record.Visit){
		"on its levelers":       func(v *record.Visit) { v.Weighing.LevelersUp = no },
		"a slide out":           func(v *record.Visit) { v.Weighing.SlidesIn = no },
		"on a slope":            func(v *record.Visit) { v.Weighing.Level = no },
		"not at ride height":    func(v *record.Visit) { v.Weighing.RideHeight = no },
		"a trailer not hitched": func(v *record.Visit) { v.Tows, v.Weighing.Hitched = record.Record(record.TowsTrailer), no },
		"a trailer, not said":   func(v *record.Visit) { v.Tows = record.Record(record.TowsTrailer) },
		"a tongue, not said": func(v *record.Visit) {
			v.Tows, v.Towing.Tongue = record.Recorded[record.Tow]{}, record.Record(400*weight.Pound)
		},
		"a fifth wheel": func(v *record.Visit) { v.Tows, v.Weighing.Hitched = record.Record(record.TowsFifthWheel), no },
	} {
		w := *v
		change(&w)
		gvwr, gcwr, r := kept(&w)
		if gvwr != rules.NotRecorded || gcwr != rules.NotRecorded {
			t.Errorf("%s: GVWR %s, GCWR %s", name, gvwr, gcwr)
		}
		for _, s := range r.Settings {
			if s.Set < s.Placard {
				t.Errorf("%s: SET %s of %s, placard %s", name, s.Set, s.Name, s.Placard)
			}
		}
		if len(r.Unjudged) == 0 {
			t.Errorf("%s: nothing is asked", name)
		}
	}
	// What was towed and never weighed is part of the combination.
	w := *v
	w.Tows, w.Weighing.Hitched = record.Record(record.TowsTrailer), yes
	if gvwr, gcwr, _ := kept(&w); gvwr != rules.Kept || gcwr != rules.NotRecorded {
		t.Errorf("hitched, and not weighed: GVWR %s, GCWR %s", gvwr, gcwr)
	}
}

// TestAirThatContradicts: air added that makes a tire much lower than what was read before
// it asks; the lower of the two is never cleared.
func TestAirThatContradicts(t *testing.T) {
	t.Parallel()
	const common = "last_set: 100 psi, found: 99 psi, air_added: yes, before_air: "
	for own, flat := range map[string]bool{
		"95 psi, air_added_by: 4 psi": false, "95 psi, air_added_by: 9 psi": false, "95 psi, air_added_by: 60 psi": false, "70 psi, air_added_by: 60 psi": true, "70 psi, air_added_by: 3 psi": true,
	} {
		r := visittest.Assess(t, visittest.Read(t, strings.Replace(one("steer-left", common+own+", size: XV250/72R21, class: truck, seen: nothing"), "visit: 1\n", "visit: 1\ncold: yes\ngauge_tolerance: 0.5 psi\n", 1)))
		asked := slices.ContainsFunc(r.Todo, func(it report.Item) bool { return it.What == "Read again: how much air was added" })
		tire := r.Tire("steer-left")
		if (tire.Low == report.Flat) != flat || asked != strings.Contains(own, "by: 60") || asked && (tire.Low == report.NotLow || tire.Air == report.AirFree) {
			t.Errorf("%s: %s, air %s, asked %t", own, tire.Low, tire.Air, asked)
		}
	}
}

// TestNothingSeenFromNowhere: who looked at neither sidewall looked a tire over as little
// as who wrote nothing; a leak that is heard is found before any air.
func TestNothingSeenFromNowhere(t *testing.T) {
	t.Parallel()
	const text = ", size: XV250/72R21, class: truck, tread: 9/32 in, number: 2222, last_set: 100 psi, found: 100 psi"
	for own, want := range map[string]report.Air{
		"seen: nothing, sidewalls: both": report.AirFree, "seen: nothing, sidewalls: outer": report.AirFree, "seen: nothing": report.AirFree, "seen: [leaking valve]": report.AirFree,
		"seen: nothing, sidewalls: neither": report.AirNotKnown, "note: dark": report.AirNotKnown, "seen: [audible leak]": report.AirNotKnown,
	} {
		r := visittest.Assess(t, visittest.Read(t, "visit: 1\ndate: 2026-10-03\ncold: yes\nnothing_since_set: yes\ngauge_tolerance: 0.5 psi\naxles: [{id: steer, fitment: single, placard: 100 psi}]\n"+
			"tires: [{at: steer-left, "+own+text+"}, {at: steer-right, seen: nothing"+text+"}]\n"))
		if air := r.Tire("steer-left").Air; air != want {
			t.Errorf("%s: air %s, want %s", own, air, want)
		}
		_, asked := has(r, "coach", "not-looked-at")
		if looked := !strings.Contains(own, "neither") && !strings.Contains(own, "dark"); asked == looked {
			t.Errorf("%s: to be looked at: %t", own, asked)
		}
	}
}
