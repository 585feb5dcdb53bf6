package report_test

import (
	"reflect"
	"slices"
	"testing"
	"time"

	"axleend.example/dotcode"
	"axleend.example/inflation"
	"axleend.example/inspect/record"
	"axleend.example/inspect/report"
)

func on(year int, month time.Month, day int) dotcode.Date {
	return dotcode.Date{Year: year, Month: month, Day: day}
}

// TestDueOfAge: a tire is looked at every year from 5 years on and replaced by 10
// (a tire maker's manual, as quoted), counted from the oldest day it can be of.
func TestDueOfAge(t *testing.T) {
	made := on(2019, time.May, 5)
	for _, x := range []struct {
		on   dotcode.Date
		want []dotcode.Date // replaced, inspected
	}{
		{on(2020, time.January, 1), []dotcode.Date{on(2029, time.May, 5), on(2024, time.May, 5)}},
		{on(2024, time.May, 4), []dotcode.Date{on(2029, time.May, 5), on(2024, time.May, 5)}},
		{on(2024, time.May, 5), []dotcode.Date{on(2029, time.May, 5), on(2025, time.May, 5)}},
		{on(2026, time.October, 3), []dotcode.Date{on(2029, time.May, 5), on(2027, time.May, 5)}},
		{on(2028, time.June, 1), []dotcode.Date{on(2029, time.May, 5)}}, // no inspection on the day it is replaced
		{on(2029, time.May, 5), nil}, // due: it stands in what is to be done
	} {
		var got []dotcode.Date
		for _, d := range report.DueOfAge("steer-left", dotcode.Age{Oldest: made, Youngest: made, On: x.on}) {
			got = append(got, d.On)
			if err := d.Source.Check(); err != nil {
				t.Error(err)
			}
		}
		if !slices.Equal(got, x.want) {
			t.Errorf("on %s: %v, want %v", x.on, got, x.want)
		}
	}
	if got := report.DueOfAge("steer-left", dotcode.Age{On: on(2026, time.October, 3)}); got != nil {
		t.Errorf("of a tire whose age is not known: %v", got)
	}
}

// TestDueAfterAVisit: the cold check comes a day after tires were set, the torque
// check once wheels come off, and each day's reasons stand together.
func TestDueAfterAVisit(t *testing.T) {
	day := on(2026, time.October, 3)
	made := on(2024, time.March, 3)
	age := dotcode.Age{Oldest: made, Youngest: made, On: day}
	r := report.Report{Date: day, Tires: []report.TireLine{{At: "steer-left", Age: age}, {At: "steer-right", Age: age}}}
	kinds := func() (out []report.DueKind) {
		for _, d := range r.Due() {
			out = append(out, d.Kind)
		}
		return out
	}
	if got := kinds(); !slices.Equal(got, []report.DueKind{report.DueVisit, report.DueInspection, report.DueReplacement}) {
		t.Errorf("%v", got)
	}
	if d := r.Due()[1]; d.On != on(2029, time.March, 3) || !slices.Equal(d.Where, []string{"steer-left", "steer-right"}) {
		t.Errorf("%+v", d)
	}
	r.Tires[0].LeftAt = record.Record(95 * inflation.PSI)
	r.Todo = []report.Item{{Where: "steer-left", WheelOff: true}}
	if got := kinds(); !slices.Equal(got[:2], []report.DueKind{report.DueColdCheck, report.DueTorque}) || r.Due()[0].On != on(2026, time.October, 4) {
		t.Errorf("%v", r.Due())
	}
}

// TestDueByWhatTheVisitSays: the day that it gives for the next visit is kept where it
// is later than the visit, and a wheel that went on asks for its nuts until a check is
// recorded.
func TestDueByWhatTheVisitSays(t *testing.T) {
	day := on(2026, time.October, 3)
	for _, x := range []struct {
		next record.Recorded[dotcode.Date]
		want dotcode.Date
	}{
		{record.Recorded[dotcode.Date]{}, on(2027, time.October, 3)},
		{record.NotRead[dotcode.Date](), on(2027, time.October, 3)},
		{record.Record(on(2026, time.December, 1)), on(2026, time.December, 1)},
		{record.Record(on(2029, time.May, 1)), on(2029, time.May, 1)},
		{record.Record(day), on(2027, time.October, 3)}, // that is this one
		{record.Record(on(2026, time.March, 1)), on(2027, time.October, 3)},
	} {
		r := report.Report{Date: day, NextVisit: x.next}
		if got := r.Due(); len(got) != 1 || got[0].On != x.want || got[0].Kind != report.DueVisit || got[0].Source.Check() != nil {
			t.Errorf("next visit %s: %v, want %s", x.next, got, x.want)
		}
	}
	r := report.Report{Date: day, Tires: []report.TireLine{{At: "steer-left", Axle: "steer", TorqueOpen: true}, {At: "steer-right", Axle: "steer"}, {At: "spare", TorqueOpen: true}}}
	if d := r.Due()[0]; d.Kind != report.DueTorque || d.On != on(2026, time.October, 4) || !slices.Equal(d.Where, []string{"steer-left"}) {
		t.Errorf("a wheel that went on: %+v", d)
	}
	r.Todo = []report.Item{{Where: "steer-right", WheelOff: true}}
	if got := r.Due(); len(got) != 2 || got[0].Kind != report.DueTorque || got[0].Where != nil {
		t.Errorf("a wheel that went on, and one to come off: %+v", got)
	}
}

// TestSortDue: the soonest first; of one day the lesser kind, and places of one reason
// together.
func TestSortDue(t *testing.T) {
	early, late := on(2026, time.October, 3), on(2027, time.October, 3)
	list := []report.Due{
		{On: late, Kind: 1, Where: []string{"a"}}, {On: early, Kind: 2, Where: []string{"b"}}, {On: late, Kind: 1, Where: []string{"c"}}, {On: early, Kind: 1, Where: []string{"d"}},
	}
	want := []report.Due{{On: early, Kind: 1, Where: []string{"d"}}, {On: early, Kind: 2, Where: []string{"b"}}, {On: late, Kind: 1, Where: []string{"a", "c"}}}
	if got := report.SortDue(list); !reflect.DeepEqual(got, want) {
		t.Errorf("%v, want %v", got, want)
	}
	if list[0].Where[0] != "a" || len(list[0].Where) != 1 {
		t.Errorf("the caller's own list was changed: %v", list)
	}
}
