package history_test

import (
	"slices"
	"testing"

	"axleend.example/inspect/history"
	"axleend.example/inspect/record"
	"axleend.example/inspect/report"
)

// TestAYearlyInspectionRestsForAYear: once it was done, by done or by who did it, an old
// tire is to be inspected again a year after that day, which is no coming back; another
// tire's does not count for it.
func TestAYearlyInspectionRestsForAYear(t *testing.T) {
	t.Parallel()
	// Week 14 of 2020 may begin on 2020-04-05; it is five years old on 2025-04-05.
	const old = "{at: steer-left, number: 1M3 AX1 DEM 1420"
	visit := func(date, done, tire string) *record.Visit {
		return onVisit(t, date, done+"tires: ["+tire+"}]")
	}
	const doneThere = "done: [{at: steer-left, rule: age-inspect, note: off its wheel}]\n"
	first := visit("2026-04-04", "", old)
	for _, x := range []struct {
		name   string
		visits []*record.Visit
		open   bool
		times  int
		due    string
	}{
		{"not yet", []*record.Visit{first}, true, 1, "2026-04-05"},
		{"done", []*record.Visit{first, visit("2026-06-24", doneThere, old)}, false, 0, "2027-06-24"},
		{"inspected by", []*record.Visit{first, visit("2026-06-24", "", old+", inspected_by: a trained person")}, false, 0, "2027-06-24"},
		{"both", []*record.Visit{first, visit("2026-06-24", doneThere, old+", inspected_by: a trained person")}, false, 0, "2027-06-24"},
		{"at the first visit", []*record.Visit{visit("2026-04-04", doneThere, old)}, false, 0, "2027-04-04"},
		{"inspected by, at the first visit", []*record.Visit{visit("2026-04-04", "", old+", inspected_by: a trained person")}, false, 0, "2027-04-04"},
		{"the day before a year", []*record.Visit{first, visit("2026-06-24", doneThere, old), visit("2027-06-23", "", old)}, false, 0, "2027-06-24"},
		{"a year after", []*record.Visit{first, visit("2026-06-24", doneThere, old), visit("2027-06-24", "", old)}, true, 1, "2028-04-05"},
		{"two years, each done", []*record.Visit{first, visit("2026-06-24", doneThere, old), visit("2027-06-24", "", old), visit("2027-07-01", doneThere, old), visit("2028-06-01", "", old)}, false, 0, "2028-07-01"},
		{"another tire", []*record.Visit{first, visit("2026-06-24", doneThere, old), visit("2026-07-01", "", "{at: steer-left, number: 4B9 KK7 QRS 1420")}, true, 1, "2027-04-05"},
		{"younger than that", []*record.Visit{visit("2024-04-04", "", old+", inspected_by: a trained person")}, false, 0, "2025-04-05"},
	} {
		h := compare(t, x.visits...)
		ad, open := advisedBy(h.Open, "steer-left", "age-inspect")
		if open != x.open || open && (ad.Before != 0 || ad.Times != x.times) {
			t.Errorf("%s: open %t, want %t: %+v", x.name, open, x.open, ad)
		}
		if on, where := dueOn(h, report.DueInspection); on != x.due || !slices.Equal(where, []string{"steer-left"}) {
			t.Errorf("%s: due on %s at %s, want %s", x.name, on, where, x.due)
		}
		if len(h.Contradictions) > 0 {
			t.Errorf("%s: %v", x.name, h.Contradictions)
		}
	}
	// Done at a tire that is not old is one that nobody advised, but of no tire a slip.
	h := compare(t, first, onVisit(t, "2026-06-24", "done: [{at: spare, rule: age-inspect}]\ntires: ["+old+"}]"))
	if _, open := advisedBy(h.Open, "steer-left", "age-inspect"); !open || len(h.Contradictions) != 1 {
		t.Errorf("done at a tire that was not listed: open %t, %v", open, h.Contradictions)
	}
}

// TestEachSeasonIsANewOne: a coach parked for long every winter does not come back, once a
// visit had all its tires looked over and read cold; where none had, it does.
func TestEachSeasonIsANewOne(t *testing.T) {
	t.Parallel()
	visit := func(date, stood, found string) *record.Visit {
		page := "stood: " + stood + "\ntires:\n"
		for _, at := range []string{"steer-left", "steer-right", "drive-left-outer", "drive-left-inner", "drive-right-inner", "drive-right-outer"} {
			page += "  - {at: " + at + found + "}\n"
		}
		return onVisit(t, date, page)
	}
	const looked, read, neither, hot = ", found: 100 psi, hot: no, seen: nothing", ", found: 100 psi, hot: no", "", ", found: 100 psi, hot: yes, seen: nothing"
	for _, x := range []struct {
		name, winter, summer string
		before               int
	}{
		{"looked over in spring", looked, neither, 0}, {"looked over in summer", neither, looked, 0},
		{"only read", read, read, 1}, {"not even read", neither, neither, 1}, {"read hot", hot, hot, 1},
	} {
		h := compare(t, visit("2025-04-12", "170 days", x.winter), visit("2025-07-01", "14 h", x.summer), visit("2026-04-12", "170 days", x.winter))
		ad, open := history.Advised{}, false
		for _, o := range h.Open {
			if o.Item.What == "Parked for long" {
				ad, open = o, true
			}
		}
		if !open || ad.Before != x.before || ad.First != day("2026-04-12") {
			t.Errorf("%s: open %t, closed %d times before, want %d: %+v", x.name, open, ad.Before, x.before, ad)
		}
	}
}
