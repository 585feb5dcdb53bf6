package sheet_test

import (
	"os"
	"strings"
	"testing"
	"unicode/utf8"

	"axleend.example/inflation/tablefile"
	"axleend.example/inspect"
	"axleend.example/inspect/history"
	"axleend.example/inspect/record"
	"axleend.example/inspect/sheet"
)

func demoHistory(t *testing.T, names ...string) history.History {
	t.Helper()
	tables, err := tablefile.LoadFolder(os.DirFS("../../examples/demo"))
	if err != nil {
		t.Fatal(err)
	}
	var visits []*record.Visit
	for _, name := range names {
		data, err := os.ReadFile("../../examples/demo/history/" + name + ".yaml")
		if err != nil {
			t.Fatal(err)
		}
		v, err := record.Read(name, data)
		if err != nil {
			t.Fatal(err)
		}
		visits = append(visits, v)
	}
	h, err := history.Compare(visits, inspect.Setup{Tables: tables})
	if err != nil {
		t.Fatal(err)
	}
	return h
}

// TestHistoryText reads the invented demo as a technician would. The figures
// are worked out by hand from the three files:
// steer-left wore 10/32 to 8/32 in, less or more 1/32, in 41,250 - 35,900 =
// 5,350 mi: 1/5.35 = 0.186 and 3/5.35 = 0.561 of 1/32 in per 1,000 mi, apart.
// drive-left-inner, left at 110 psi in 80 F, would read 105.38 in 60 F
// (124.696 x 519.67/539.67 - 14.696) and read 95.5: 9.88 in 91 days is 3.26 a
// month; its gauge may be off 0.98 in 91 days, so 0.33, shown up to 0.4.
func TestHistoryText(t *testing.T) {
	text := sheet.HistoryText(demoHistory(t, "spring", "summer", "autumn"))
	for i, line := range strings.Split(text, "\n") {
		if n := utf8.RuneCountInString(line); n > 80 || strings.TrimRight(line, " ") != line {
			t.Errorf("line %d, %d columns: %q", i+1, n, line)
		}
	}
	page := strings.Join(strings.Fields(text), " ")
	for _, want := range []string{
		"BEFORE THE TRIP - STILL OPEN: 13, NOT JUDGED: 2", "Invented example",
		"3 visits from 2026-04-11 to 2026-10-03, about 918 mi a month", // 5,350 x 30/175 = 917.1, up
		"The visit before was on 2026-07-04, 2,550 mi ago.",
		"drive-left-inner lost 3.3 +/- 0.4 psi a month: it loses more air than its mates",
		"First at a tread limit is steer-left", "drive-left has grown by 200 +/- 120 lb",
		"worn 1 to 3/32 in from 2026-04-11 to 2026-10-03 (5,350 mi): 0.18 to 0.57/32 in per 1,000 mi",
		"moved from steer-right to steer-left by 2026-10-03",
		"at that pace 4/32 in is reached after 6,200 to 24,000 mi, between 2027-04-25 and 2028-11-28", // 5,350 x 3.5/3 and x 4.5/1
		"Flat: run at 20 % or more below its pressure (since 2026-07-04): tire replaced",
		"done, demounted and inspected by the tire shop",
		"not found on 2026-10-03, but it does not go away by itself",
		"PLAN - drive-left: The deeper tire of the pair runs inside", "found 3 times, last on 2026-10-03",
		"drive-right-inner (4B9AX3DEM1822): replaced, last seen 2026-07-04",
		"this page does not say that a coach is safe",
	} {
		if !strings.Contains(page, want) {
			t.Errorf("%q is not on the page:\n%s", want, text)
		}
	}
	if since := sheet.SinceLastVisit(demoHistory(t, "summer", "spring", "autumn")); !strings.Contains(strings.Join(strings.Fields(text), " "), since) || strings.Contains(since, "\n") {
		t.Errorf("%q is not on the page", since)
	}
}

// TestHistoryTextSaysEachThingOnce: tires of which the gauges cannot tell whether
// they leak share an entry, and nobody is told that they do.
func TestHistoryTextSaysEachThingOnce(t *testing.T) {
	read := func(date, found string) *record.Visit {
		v, err := record.Read("visit.yaml", []byte("visit: 1\ndate: "+date+"\nair_temperature: 60 F\ngauge_tolerance: 1 psi\n"+
			"axles: [{id: steer, fitment: single}, {id: drive, fitment: single}]\nevery_tire: {hot: no}\ntires:\n"+
			"  - {at: steer-left, tread: 12/32 in, "+found+": 100 psi}\n  - {at: steer-right, "+found+": 100 psi}\n"+
			"  - {at: drive-left, "+found+": 100 psi}\n  - {at: drive-right, "+found+": "+map[string]string{"left": "100", "found": "90"}[found]+" psi}\n"))
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
	h, err := history.Compare([]*record.Visit{read("2026-01-01", "left"), read("2026-03-02", "found")}, inspect.Setup{})
	if err != nil {
		t.Fatal(err)
	}
	text := sheet.HistoryText(h)
	page := strings.Join(strings.Fields(text), " ")
	for _, want := range []string{
		"drive-right lost 5 +/- 1 psi a month: it loses more air than its mates",
		"Too close to call with these gauges, whether it leaks: steer-left, steer-right.",
		"BEFORE THE TRIP (too close to call) - steer-left, steer-right: Loses more air than its mates",
		"First at a tread limit is steer-left: at that pace 4/32 in is reached, from 20",
	} {
		if !strings.Contains(page, want) {
			t.Errorf("%q is not on the page:\n%s", want, text)
		}
	}
	if n := strings.Count(page, "Have this tire's leak found"); n != 2 {
		t.Errorf("said %d times, want once of what is sure and once of what is not:\n%s", n, text)
	}
}

// TestHistoryTextOfOddOnes: one visit, metric ones, contradictions.
func TestHistoryTextOfOddOnes(t *testing.T) {
	one := sheet.HistoryText(demoHistory(t, "summer"))
	for _, want := range []string{"DO NOT DRIVE - STILL OPEN", "1 visit, 2026-07-04", "nothing to compare"} {
		if !strings.Contains(strings.Join(strings.Fields(one), " "), want) {
			t.Errorf("%q is not on the page:\n%s", want, one)
		}
	}
	two := sheet.SinceLastVisit(demoHistory(t, "spring", "summer"))
	if !strings.Contains(two, "2 of what is open stop the coach") {
		t.Errorf("%q", two)
	}
	read := func(date, lines string) *record.Visit {
		v, err := record.Read("visit.yaml", []byte("visit: 1\ndate: "+date+"\nunits: metric\naxles: [{id: steer, fitment: single}]\n"+lines))
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
	h, err := history.Compare([]*record.Visit{
		read("2026-01-01", "odometer: 20000 km\nair_temperature: 10 C\ngauge_tolerance: 5 kPa\ntires: [{at: steer-left, tread: 9.4 mm, hot: no, left: 700 kPa}, {at: steer-right, tread: 3 mm}]"),
		read("2026-04-11", "odometer: 30000 km\nair_temperature: 10 C\ngauge_tolerance: 5 kPa\ntires: [{at: steer-left, tread: 8.2 mm, hot: no, found: 710 kPa}, {at: steer-right, tread: 9 mm}]\ndone: [{at: steer-left, rule: run-low}]"),
	}, inspect.Setup{})
	if err != nil {
		t.Fatal(err)
	}
	text := sheet.HistoryText(h)
	page := strings.Join(strings.Fields(text), " ")
	for _, want := range []string{
		"0.11 to 0.13 mm per 1,000 km", "3.2 mm is reached", "after 38,200 to 46,100 km", // (8.15 - 3.175) / 1.3 x 10,000 and (8.25 - 3.175) / 1.1
		"gained 3 +/- 3 kPa a month", // 10 x 30/100, and both gauges' 5 kPa x 30/100
		"Contradictions", "steer-right: tread 9 mm, deeper than 3 mm", `nothing that the rule "run-low" advised was open there`,
		"2 contradictions in what was recorded",
	} {
		if !strings.Contains(page, want) {
			t.Errorf("%q is not on the page:\n%s", want, text)
		}
	}
}
