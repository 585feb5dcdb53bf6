package inspect_test

import (
	"fmt"
	"slices"
	"testing"

	"axleend.example/inflation"
	"axleend.example/inspect"
	"axleend.example/inspect/record"
	"axleend.example/inspect/record/condition"
	"axleend.example/inspect/report"
	"axleend.example/internal/visittest"
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
