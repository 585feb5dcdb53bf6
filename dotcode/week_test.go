package dotcode_test

import (
	"encoding/csv"
	"errors"
	"fmt"
	"os"
	"slices"
	"testing"
	"time"

	"axleend.example/dotcode"
)

type week struct {
	year, week  int
	first, last time.Time
}

// calendar is the independent definition, walked day by day with package time: the first Sunday of a year begins week 01,
// each Sunday begins a week, and days before the first Sunday belong to the week before (49 CFR 574.5(b)(3)).
func calendar(visit func(day time.Time, w week)) {
	var w week
	for day := time.Date(1970, 12, 1, 0, 0, 0, 0, time.UTC); day.Year() <= 2099; day = day.AddDate(0, 0, 1) {
		if day.Weekday() == time.Sunday {
			w.week++
			if day.Year() != w.year {
				w.year, w.week = day.Year(), 1
			}
			w.first, w.last = day, day.AddDate(0, 0, 6)
		}
		visit(day, w)
	}
}

func TestEveryDay(t *testing.T) {
	days, lastThree, firstFour := 0, "", ""
	calendar(func(day time.Time, w week) {
		d := dotcode.DateOf(day)
		code, err := dotcode.CodeFor(d)
		if w.year < 1971 || w.year > 2098 {
			if !errors.Is(err, dotcode.ErrRange) {
				t.Fatalf("%v: got %v, %v", d, code, err)
			}
			return
		}
		days++
		first, last := dotcode.DateOf(w.first), dotcode.DateOf(w.last)
		if err != nil || code.Year != w.year || code.Week != w.week || code.First != first || code.Last != last {
			t.Fatalf("%v: got %+v, %v, want %+v", d, code, err, w)
		}
		three, four := fmt.Sprintf("%02d%d", w.week, w.year%10), fmt.Sprintf("%02d%02d", w.week, w.year%100)
		before2July := day.Before(time.Date(2000, 7, 2, 0, 0, 0, 0, time.UTC)) // 64 FR 36807
		if want := map[bool]string{true: three}[before2July]; code.Three != want {
			t.Fatalf("%v: three digits %q, want %q", d, code.Three, want)
		}
		if want := map[bool]string{true: four}[w.year >= 1999]; code.Four != want {
			t.Fatalf("%v: four digits %q, want %q", d, code.Four, want)
		}
		if code.Three != "" {
			lastThree = d.String()
			n := parse(t, code.Three)
			if !slices.ContainsFunc(n.Candidates(d), covers(first, last, w)) {
				t.Fatalf("%v: %s gives %v", d, code.Three, n.Candidates(d))
			}
			age := n.AgeOn(d)
			if age.Oldest.After(first) || !age.Known() {
				t.Fatalf("%v: %s is not older than %v", d, code.Three, age)
			}
		}
		if code.Four != "" {
			if firstFour == "" {
				firstFour = d.String()
			}
			n := parse(t, code.Four)
			got := n.Candidates(d)
			if w.year > 1999 && len(got) != 1 || !slices.ContainsFunc(got, covers(first, last, w)) {
				t.Fatalf("%v: %s gives %v", d, code.Four, got)
			}
			if w.year > 1999 {
				if age := n.AgeOn(d); age != (dotcode.Age{On: d, Oldest: first, Youngest: d}) {
					t.Fatalf("%v: got %+v", d, age)
				}
			}
		}
	})
	if want := 128*365 + 32 - 2 + 3; days != want { // less 1 and 2 January 1971, and three days of 2099 more
		t.Errorf("walked %d days, want %d", days, want)
	}
	if lastThree != "2000-07-01" || firstFour != "1999-01-03" {
		t.Errorf("three digits to %s, four from %s", lastThree, firstFour)
	}
}

func covers(first, last dotcode.Date, w week) func(dotcode.Candidate) bool {
	return func(c dotcode.Candidate) bool {
		return c.First == first && c.Last == last && c.Year == w.year && c.Week == w.week && !c.After
	}
}

// The years that have a week 53 (reference table, computed), and none of them is an ISO 8601 week-53 year.
func TestWeek53(t *testing.T) {
	want := []int{2000, 2006, 2012, 2017, 2023, 2028, 2034, 2040, 2045, 2051, 2056, 2062, 2068, 2073, 2079, 2084, 2090, 2096}
	on := date("2099-12-31")
	for year := 2000; year <= 2098; year++ {
		n := parse(t, fmt.Sprintf("53%02d", year%100))
		found := n.Candidates(on)
		_, isoWeeks := time.Date(year, 12, 28, 0, 0, 0, 0, time.UTC).ISOWeek()
		if slices.Contains(want, year) {
			if isoWeeks == 53 || len(found) != 1 || found[0].Kind != dotcode.WeekYear || n.Check(on) != nil {
				t.Errorf("%d: got %v, %v", year, found, n.Check(on))
			}
			continue
		}
		if !errors.Is(n.Check(on), dotcode.ErrWeek53) {
			t.Errorf("%d: got %v", year, n.Check(on))
		}
		var end, iso *dotcode.Candidate
		for i, c := range found {
			switch c.Kind {
			case dotcode.YearEnd:
				end = &found[i]
			case dotcode.ISOWeek:
				iso = &found[i]
			}
		}
		lastWeek, _ := dotcode.CodeFor(dotcode.Date{Year: year, Month: time.December, Day: 31})
		if end == nil || end.First != lastWeek.First || end.Last != lastWeek.Last || end.Week != 53 || end.Year != year {
			t.Errorf("%d: the safe reading is %+v, want %+v", year, end, lastWeek)
		}
		if (iso != nil) != (isoWeeks == 53) {
			t.Errorf("%d: ISO 8601 has %d weeks, got %+v", year, isoWeeks, iso)
		}
		if iso != nil {
			y, w := time.Date(iso.First.Year, iso.First.Month, iso.First.Day, 0, 0, 0, 0, time.UTC).ISOWeek()
			if iso.First.Weekday() != time.Monday || iso.First.AddDays(6) != iso.Last || y != year || w != 53 || !end.First.Before(iso.First) {
				t.Errorf("%d: got %+v", year, iso)
			}
		}
		if found[0].First.After(end.First) {
			t.Errorf("%d: a younger reading decides: %v", year, found)
		}
	}
}

func TestCodeForNoDay(t *testing.T) {
	for _, d := range []dotcode.Date{{}, {Year: 2025, Month: 2, Day: 29}} {
		if _, err := dotcode.CodeFor(d); !errors.Is(err, dotcode.ErrDate) {
			t.Errorf("%v: got %v", d, err)
		}
	}
	for _, text := range []string{"0001-01-01", "1971-01-02", "2099-01-04", "9999-12-31"} {
		if _, err := dotcode.CodeFor(date(text)); !errors.Is(err, dotcode.ErrRange) {
			t.Errorf("%s: got %v", text, err)
		}
	}
}

// testdata/date_weeks.csv: source in testdata/README.md.
func TestDateWeeksTable(t *testing.T) {
	file, err := os.Open("testdata/date_weeks.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	rows, err := csv.NewReader(file).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if len(rows) != 39 {
		t.Errorf("got %d rows with the heading, want 39", len(rows))
	}
	on := date("2099-12-31") // so that no row lies after it
	for _, row := range rows[1:] {
		code, note := row[0], row[3]
		n, err := dotcode.Parse(code)
		if row[1] == "" {
			if err == nil {
				err = n.Check(on)
			}
			if !errors.Is(err, dotcode.ErrWeek) && !errors.Is(err, dotcode.ErrWeek53) {
				t.Errorf("%s (%s): got %v", code, note, err)
			}
			for _, c := range n.Candidates(on) {
				if c.Kind == dotcode.WeekYear {
					t.Errorf("%s (%s): got %v", code, note, c)
				}
			}
			continue
		}
		if err != nil || n.Check(on) != nil {
			t.Errorf("%s (%s): got %v, %v", code, note, err, n.Check(on))
		}
		first, last := date(row[1]), date(row[2])
		found := slices.ContainsFunc(n.Candidates(on), func(c dotcode.Candidate) bool {
			return c.First == first && c.Last == last
		})
		if !found {
			t.Errorf("%s (%s): got %v, want %v to %v", code, note, n.Candidates(on), first, last)
		}
		back, err := dotcode.CodeFor(first)
		if err != nil || back.Four != code && back.Three != code {
			t.Errorf("%v: got %+v, %v, want %s", first, back, err, code)
		}
	}
}
