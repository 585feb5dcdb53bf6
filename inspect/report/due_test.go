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
	"axleend.example/rules/origin"
)

func on(year int, month time.Month, day int) dotcode.Date {
	return dotcode.Date{Year: year, Month: month, Day: day}
}

// ages are the limits of the packs shipped: inspected every year from 5 years on,
// replaced by 10 (a tire maker's manual, as quoted).
func ages() []report.AgeLimit {
	practice := origin.Source{Grade: origin.CommonPractice}
	return []report.AgeLimit{{Age: dotcode.Span{Years: 5}, Kind: report.DueInspection, Source: practice}, {Age: dotcode.Span{Years: 10}, Kind: report.DueReplacement, Source: practice}}
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
		for _, d := range report.DueOfAge("steer-left", dotcode.Age{Oldest: made, Youngest: made, On: x.on}, ages()) {
			got = append(got, d.On)
			if err := d.Source.Check(); err != nil {
				t.Error(err)
			}
		}
		if !slices.Equal(got, x.want) {
			t.Errorf("on %s: %v, want %v", x.on, got, x.want)
		}
	}
	if got := report.DueOfAge("steer-left", dotcode.Age{On: on(2026, time.October, 3)}, ages()); got != nil {
		t.Errorf("of a tire whose age is not known: %v", got)
	}
}

// TestDueAfterAVisit: the cold check comes a day after tires were set, the torque
// check once wheels come off, and each day's reasons stand together.
func TestDueAfterAVisit(t *testing.T) {
	day := on(2026, time.October, 3)
	made := on(2024, time.March, 3)
	age := dotcode.Age{Oldest: made, Youngest: made, On: day}
	r := report.Report{Date: day, Tires: []report.TireLine{{At: "steer-left", Age: age, AgeLimits: ages()}, {At: "steer-right", Age: age, AgeLimits: ages()}}}
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

// TestNothingSetNothingToReadAgain: tires left as they were found ask for no cold check,
// which would stand before the day that something is due; what was found and is not
// known was set.
func TestNothingSetNothingToReadAgain(t *testing.T) {
	p := func(psi inflation.Pressure) record.Recorded[inflation.Pressure] {
		return record.Record(psi * inflation.PSI)
	}
	none := record.Recorded[inflation.Pressure]{}
	for _, x := range []struct {
		found, left record.Recorded[inflation.Pressure]
		set         bool
	}{
		{p(95), p(95), false}, {p(95), none, false}, {none, none, false}, {p(95), record.NotRead[inflation.Pressure](), false},
		{p(90), p(95), true}, {p(100), p(95), true}, {none, p(95), true}, {p(0), p(0), false}, {record.NotRead[inflation.Pressure](), p(95), true},
	} {
		same := report.TireLine{At: "steer-right", Found: p(95), LeftAt: p(95)}
		r := report.Report{Date: on(2026, time.October, 3), Tires: []report.TireLine{same, {At: "steer-left", Found: x.found, LeftAt: x.left}}}
		if first := r.Due()[0]; (first.Kind == report.DueColdCheck) != x.set || report.SetTo(x.found, x.left) != x.set {
			t.Errorf("found %s, left %s: first due %s, want a cold check: %t", x.found, x.left, first.Kind, x.set)
		}
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

// TestAgeLimitsByTheCalendar: the day on which a limit is past is the first on which
// the completed age ([dotcode.Between]) has it, or the next where the day itself is
// within; of several limits the soonest counts, and without one nothing is due.
func TestAgeLimitsByTheCalendar(t *testing.T) {
	age := func(made, on dotcode.Date) dotcode.Age { return dotcode.Age{Oldest: made, Youngest: made, On: on} }
	day := on(2020, time.January, 1)
	for _, x := range []struct {
		made  dotcode.Date
		limit dotcode.Span
		until bool
		want  dotcode.Date
	}{
		{on(2019, time.May, 5), dotcode.Span{Years: 10}, false, on(2029, time.May, 5)},
		{on(2019, time.May, 5), dotcode.Span{Years: 10}, true, on(2029, time.May, 6)},
		{on(2019, time.May, 31), dotcode.Span{Years: 6, Months: 1}, false, on(2025, time.June, 30)},
		{on(2019, time.May, 5), dotcode.Span{Years: 6, Months: 11, Days: 3}, false, on(2026, time.April, 8)},
		{on(2019, time.May, 5), dotcode.Span{Years: 6, Days: 1}, false, on(2025, time.May, 6)},
		{on(2016, time.February, 29), dotcode.Span{Years: 5}, false, on(2021, time.February, 28)},
	} {
		l := report.AgeLimit{Age: x.limit, Until: x.until, Kind: report.DueReplacement}
		if got, ok := l.On(age(x.made, day)); !ok || got != x.want {
			t.Errorf("made on %s, %v: %s, want %s", x.made, x.limit, got, x.want)
		}
	}
	made := on(2019, time.May, 5)
	if got, ok := (&report.AgeLimit{Age: dotcode.Span{Years: 5}}).On(dotcode.Age{}); ok {
		t.Errorf("a tire of no known age is past it on %s", got)
	}
	sooner := append(ages(), report.AgeLimit{Age: dotcode.Span{Years: 7}, Kind: report.DueReplacement})
	if got := report.DueOfAge("a", age(made, day), sooner); len(got) != 2 || got[0].On != on(2026, time.May, 5) || got[1].On != on(2024, time.May, 5) {
		t.Errorf("of two ages at which it is replaced: %v", got)
	}
	if got := report.DueOfAge("a", age(made, on(2026, time.May, 5)), sooner); got != nil {
		t.Errorf("past the first of them: %v", got)
	}
	if got := report.DueOfAge("a", age(made, on(2031, time.May, 5)), ages()[:1]); len(got) != 1 || got[0].On != on(2032, time.May, 5) {
		t.Errorf("where no rule asks for a new one: %v", got)
	}
	if got := report.DueOfAge("a", age(made, day), nil); got != nil {
		t.Errorf("without rules: %v", got)
	}
	late := age(on(9990, time.January, 1), on(9999, time.December, 1))
	beyond := []report.AgeLimit{{Age: dotcode.Span{Years: 5, Months: 6}, Kind: report.DueInspection}, {Age: dotcode.Span{Years: 10, Months: 6}, Kind: report.DueReplacement}}
	if got := report.DueOfAge("a", late, beyond); got != nil {
		t.Errorf("behind the end of the calendar: %v", got)
	}
}

// TestActionsInOrder: each action is milder than the one before it.
func TestActionsInOrder(t *testing.T) {
	list := []report.Action{report.DoNotDrive, report.BeforeTrip, report.Plan, "wash it", ""}
	for i, a := range list {
		for j, b := range list {
			if got := a.Compare(b); (got < 0) != (i < j) || (got == 0) != (i == j) {
				t.Errorf("%q beside %q: %d", a, b, got)
			}
		}
	}
	if got := report.Action("wash it").Compare("wax it"); got != 0 {
		t.Errorf("of two of somebody's own: %d", got)
	}
}
