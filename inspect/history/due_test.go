package history_test

import (
	"slices"
	"strings"
	"testing"

	"axleend.example/inspect"
	"axleend.example/inspect/history"
	"axleend.example/inspect/record"
	"axleend.example/inspect/report"
	"axleend.example/internal/visittest"
)

// dueOn gives the day and the tires of what falls due first of a kind.
func dueOn(h history.History, kind report.DueKind) (on string, where []string) {
	for _, d := range h.Due() {
		if d.Kind == kind {
			return d.On.String(), d.Where
		}
	}
	return "", nil
}

// TestDueOfTheDemo: week 18 of 2022 began on 1 May and week 22 on 29 May (the day of
// make is the first that the code allows); a tire is inspected from 5 years on and
// replaced by 10 (a tire maker's manual, as quoted), and read cold a day after it was
// set on 3 October 2026 (common practice).
func TestDueOfTheDemo(t *testing.T) {
	const folder = "../../examples/demo/history/"
	visits := visittest.Files(t, folder+"spring.yaml", folder+"summer.yaml", folder+"autumn.yaml")
	h := compare(t, visits...)
	for _, x := range []struct {
		kind  report.DueKind
		on    string
		where []string
	}{
		{report.DueColdCheck, "2026-10-04", nil},
		{report.DueInspection, "2027-05-01", []string{"drive-left-outer", "drive-right-outer"}},
		{report.DueReplacement, "2032-05-01", []string{"drive-left-outer", "drive-right-outer"}},
	} {
		if on, where := dueOn(h, x.kind); on != x.on || !slices.Equal(where, x.where) {
			t.Errorf("%s: %s of %v, want %s of %v", x.kind, on, where, x.on, x.where)
		}
	}
	for i := range h.Tires {
		tire := &h.Tires[i]
		want := h.Visits[len(h.Visits)-1].Date
		if tire.Presence != history.OnCoach {
			want = tire.Sightings[len(tire.Sightings)-1].Date
		}
		if tire.Age.On != want {
			t.Errorf("%s, %s: age on %s, want %s", tire.At, tire.Presence, tire.Age.On, want)
		}
	}
}

// TestDueByANumberReadBefore: a number that was read once gives the age at each later
// visit, and what was set at an earlier visit asks for no cold check after the last.
func TestDueByANumberReadBefore(t *testing.T) {
	h := compare(t,
		onVisit(t, "2026-01-01", "tires: [{at: steer-left, found: 95 psi, left: 100 psi, number: 1M3 AX8 DEM 2222}]"),
		onVisit(t, "2027-06-01", "tires: [{at: steer-left, found: 98 psi}]"))
	if on, _ := dueOn(h, report.DueInspection); on != "2028-05-29" {
		t.Errorf("inspection on %q, want 2028-05-29: past 5 years on the day of the last visit", on)
	}
	if on, _ := dueOn(h, report.DueColdCheck); on != "" {
		t.Errorf("cold check on %s of a tire that was not set at the last visit", on)
	}
	for left, want := range map[string]string{"95 psi": "", "100 psi": "2027-06-02"} {
		h := compare(t, onVisit(t, "2026-01-01", "tires: [{at: steer-left, found: 95 psi, left: 100 psi}]"), onVisit(t, "2027-06-01", "tires: [{at: steer-left, found: 95 psi, left: "+left+"}]"))
		if on, _ := dueOn(h, report.DueColdCheck); on != want {
			t.Errorf("found at 95 psi, left at %s: cold check on %q, want %q", left, on, want)
		}
	}
	none := compare(t, onVisit(t, "2026-01-01", "tires: [{at: steer-left, found: 95 psi}]"))
	if on, _ := dueOn(none, report.DueReplacement); on != "" || none.Tires[0].Age.Known() {
		t.Errorf("replacement on %s of a tire whose number nobody read", on)
	}
}

// TestDueByWhatTheLastVisitSays: its own day for the next visit, and the wheels whose
// nuts nobody is known to have checked since they went on.
func TestDueByWhatTheLastVisitSays(t *testing.T) {
	before := onVisit(t, "2026-01-01", "next_visit: 2026-09-01\ntires: [{at: steer-left, found: 95 psi, wheel_on: 2026-01-01}]")
	for _, x := range []struct{ lines, next, torque string }{
		{"tires: [{at: steer-left, found: 95 psi, wheel_on: 2026-01-01}]", "2027-02-01", "2026-02-02"},
		{"tires: [{at: steer-left, found: 95 psi, wheel_on: 2026-01-01, torque_checked: 2026-01-01}]", "2027-02-01", "2026-02-02"},
		{"next_visit: 2026-05-01\ntires: [{at: steer-left, found: 95 psi, wheel_on: 2026-01-01, torque_checked: 2026-01-09}]", "2026-05-01", ""},
	} {
		visit := onVisit(t, "2026-02-01", x.lines)
		h := compare(t, before, visit)
		if on, _ := dueOn(h, report.DueVisit); on != x.next {
			t.Errorf("%s: next visit on %s, want %s", x.lines, on, x.next)
		}
		on, where := dueOn(h, report.DueTorque)
		if on != x.torque || on != "" && !slices.Equal(where, []string{"steer-left"}) {
			t.Errorf("%s: torque check on %q of %v, want %q", x.lines, on, where, x.torque)
		}
		rep, err := inspect.Assess(visit, inspect.Setup{})
		if err != nil {
			t.Fatal(err)
		}
		torque := ""
		for _, d := range rep.Due() {
			if d.Kind == report.DueVisit && d.On.String() != x.next {
				t.Errorf("%s: the report's next visit on %s, want %s", x.lines, d.On, x.next)
			}
			if d.Kind == report.DueTorque {
				torque = d.On.String()
			}
		}
		if torque != x.torque {
			t.Errorf("%s: the report's torque check on %q, want %q", x.lines, torque, x.torque)
		}
	}
}

// TestDueByWear: a tire that wears falls due on the soonest day on which it may reach
// the first of its limits, whose own tests hold that day, and is due no longer once it
// is past.
func TestDueByWear(t *testing.T) {
	visit := func(date, odometer, tread string) string {
		return date + "\nodometer: " + odometer + "\ntires: [{at: steer-left, found: 95 psi, tread: " + tread + ", number: 1M3 AX8 DEM 2222}]"
	}
	read := func(lines ...string) history.History {
		var visits []*record.Visit
		for _, l := range lines {
			date, rest, _ := strings.Cut(l, "\n")
			visits = append(visits, onVisit(t, date, rest))
		}
		return compare(t, visits...)
	}
	for _, x := range []struct {
		last string
		due  bool
	}{{"8/32 in", true}, {"2/32 in", false}} {
		h := read(visit("2026-01-01", "10000 mi", "10/32 in"), visit("2026-04-11", "20000 mi", x.last))
		w, ok := h.Tires[0].Wear.Get()
		if !ok || len(w.Limits) == 0 {
			t.Fatalf("%s: no limit: %+v", x.last, w)
		}
		on, where := dueOn(h, report.DueTread)
		if (on != "") != x.due || x.due && (on != w.Limits[0].SoonestOn.String() || !slices.Equal(where, []string{"steer-left"})) {
			t.Errorf("%s: due on %q of %v, its first limit is reached from %s on", x.last, on, where, w.Limits[0].SoonestOn)
		}
	}
}
