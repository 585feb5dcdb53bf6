package dotcode_test

import (
	"encoding/json"
	"errors"
	"math"
	"strings"
	"testing"
	"time"

	"axleend.example/dotcode"
)

func date(text string) dotcode.Date {
	d, err := dotcode.ParseDate(text)
	if err != nil {
		panic(err)
	}
	return d
}

// The independent computation is package time, which counts by other means.
func TestDateAgainstTime(t *testing.T) {
	want := time.Date(1600, 1, 1, 0, 0, 0, 0, time.UTC)
	got := date("1600-01-01")
	for ; want.Year() < 2410; want = want.AddDate(0, 0, 1) {
		if got != dotcode.DateOf(want) || got.Weekday() != want.Weekday() || !got.IsValid() {
			t.Fatalf("%v: got %v %v", want, got, got.Weekday())
		}
		if text := want.Format(time.DateOnly); got.String() != text || date(text) != got {
			t.Fatalf("%v: text %v", want, got)
		}
		next := got.AddDays(1)
		if next.AddDays(-1) != got || got.Compare(next) != -1 || next.Compare(got) != 1 || got.Compare(got) != 0 ||
			!got.Before(next) || !next.After(got) || got.After(got) {
			t.Fatalf("%v: order", got)
		}
		got = next
	}
	for _, n := range []int{-584388, -146097, -36525, -1461, -366, -1, 0, 59, 60, 365, 1460, 36524, 146096, 2913000} {
		from := time.Date(2000, 3, 1, 0, 0, 0, 0, time.UTC)
		if got, want := date("2000-03-01").AddDays(n), dotcode.DateOf(from.AddDate(0, 0, n)); got != want {
			t.Errorf("2000-03-01 and %d days: got %v, want %v", n, got, want)
		}
	}
}

func TestDateLimits(t *testing.T) {
	var none dotcode.Date
	first, last := date("0001-01-01"), date("9999-12-31")
	bad := dotcode.Date{Year: 2025, Month: 2, Day: 29}
	for name, got := range map[string]dotcode.Date{
		"before year 1":        first.AddDays(-1),
		"after year 9999":      last.AddDays(1),
		"far":                  first.AddDays(math.MaxInt),
		"far back":             last.AddDays(math.MinInt),
		"years before":         first.AddYears(-1),
		"years after":          last.AddYears(1),
		"years far":            first.AddYears(math.MaxInt),
		"years far back":       first.AddYears(math.MinInt),
		"from none":            none.AddDays(1),
		"years from none":      none.AddYears(1),
		"from no day":          bad.AddDays(1),
		"years from no day":    bad.AddYears(1),
		"from a thirteenth":    (dotcode.Date{Year: 2025, Month: 13, Day: 1}).AddDays(0),
		"from month 0":         (dotcode.Date{Year: 2025, Month: 0, Day: 1}).AddDays(0),
		"from a negative year": (dotcode.Date{Year: -4, Month: 1, Day: 1}).AddDays(0),
	} {
		if !got.IsZero() {
			t.Errorf("%s: got %v, want no date", name, got)
		}
	}
	if first.AddDays(3652058) != last || last.AddDays(-3652058) != first {
		t.Error("years 1 to 9999 are 3,652,059 days (proleptic Gregorian calendar)")
	}
	if none.Weekday() != time.Sunday || none.String() != "no date" || none.IsValid() {
		t.Error("the zero Date")
	}
}

// 29 February: the earlier day, so that an age is reached sooner (the safe side).
func TestAddYears(t *testing.T) {
	for _, c := range []struct {
		from  string
		years int
		want  string
	}{
		{"2004-02-29", 5, "2009-02-28"}, {"2004-02-29", 4, "2008-02-29"}, {"2020-02-29", 80, "2100-02-28"},
		{"2003-03-01", 1, "2004-03-01"}, {"2013-06-09", 10, "2023-06-09"}, {"2013-06-09", -3, "2010-06-09"},
		{"2004-02-29", -1, "2003-02-28"}, {"2004-02-28", 1, "2005-02-28"},
	} {
		if got := date(c.from).AddYears(c.years); got != date(c.want) {
			t.Errorf("%s and %d years: got %v, want %s", c.from, c.years, got, c.want)
		}
	}
}

func TestBetween(t *testing.T) {
	for _, c := range []struct {
		from, to string
		want     dotcode.Span
		text     string
	}{
		{"2013-06-09", "2026-11-25", dotcode.Span{Years: 13, Months: 5, Days: 16}, "13 years 5 months"},
		{"2016-11-26", "2026-11-25", dotcode.Span{Years: 9, Months: 11, Days: 30}, "9 years 11 months"}, // never rounded up
		{"2016-11-25", "2026-11-25", dotcode.Span{Years: 10}, "10 years"},
		{"2025-11-24", "2026-11-25", dotcode.Span{Years: 1, Days: 1}, "1 year"},
		{"2025-10-24", "2026-11-25", dotcode.Span{Years: 1, Months: 1, Days: 1}, "1 year 1 month"},
		{"2026-01-31", "2026-02-28", dotcode.Span{Months: 1}, "1 month"},
		{"2026-01-31", "2026-02-27", dotcode.Span{Days: 27}, "less than a month"},
		{"2020-02-29", "2025-02-27", dotcode.Span{Years: 4, Months: 11, Days: 29}, "4 years 11 months"},
		{"2020-02-29", "2025-02-28", dotcode.Span{Years: 5}, "5 years"},
		{"2026-11-25", "2026-11-25", dotcode.Span{}, "less than a month"},
		{"2026-11-26", "2026-11-25", dotcode.Span{}, "less than a month"},
	} {
		got := dotcode.Between(date(c.from), date(c.to))
		if got != c.want || got.String() != c.text {
			t.Errorf("%s to %s: got %+v %q, want %+v %q", c.from, c.to, got, got, c.want, c.text)
		}
	}
	if got := dotcode.Between(dotcode.Date{}, date("2026-11-25")); got != (dotcode.Span{}) {
		t.Errorf("from no date: got %+v", got)
	}
	if got := dotcode.Between(date("2026-11-25"), dotcode.Date{Year: 2027, Month: 2, Day: 30}); got != (dotcode.Span{}) {
		t.Errorf("to no date: got %+v", got)
	}
}

// Walks the calendar and counts birthdays and month days one by one.
func TestBetweenByWalking(t *testing.T) {
	for _, start := range []string{"2019-12-31", "2020-01-30", "2020-02-28", "2020-02-29", "2020-03-31", "2021-06-15"} {
		from := date(start)
		months, since := 0, 0
		for day := from.AddDays(1); day.Year < 2030; day = day.AddDays(1) {
			since++
			lastOfMonth := day.AddDays(1).Day == 1
			if day.Day == from.Day || lastOfMonth && day.Day < from.Day {
				months, since = months+1, 0
			}
			want := dotcode.Span{Years: months / 12, Months: months % 12, Days: since}
			if got := dotcode.Between(from, day); got != want {
				t.Fatalf("%v to %v: got %+v, want %+v", from, day, got, want)
			}
		}
	}
}

func TestDateText(t *testing.T) {
	for _, text := range []string{"2026-11-5", "2026-02-29", "2026-13-01", "2026-00-01", "2026-01-00", "0000-01-01", "2026/11/25",
		"26-11-25", "2026-11-25 ", "+026-11-25", "2026-1a-25", "2026-0;-25", "2026-11-a5", "２026-11-25", "", strings.Repeat("é", 500)} {
		_, err := dotcode.ParseDate(text)
		var typed *dotcode.DateError
		if !errors.Is(err, dotcode.ErrDate) || !errors.As(err, &typed) || typed.Text != text {
			t.Errorf("%q: got %v", text, err)
		} else if len(err.Error()) > 200 {
			t.Errorf("%.10q: the error is %d bytes long", text, len(err.Error()))
		}
	}
	type record struct {
		Day  dotcode.Date `json:"day"`
		None dotcode.Date `json:"none"`
	}
	in := record{Day: date("2026-11-25")}
	text, err := json.Marshal(in)
	if err != nil || string(text) != `{"day":"2026-11-25","none":""}` {
		t.Fatalf("got %s, %v", text, err)
	}
	var out record
	if err := json.Unmarshal(text, &out); err != nil || out != in {
		t.Fatalf("got %v, %v", out, err)
	}
	if err := json.Unmarshal([]byte(`{"day":"soon"}`), &out); !errors.Is(err, dotcode.ErrDate) {
		t.Errorf("got %v", err)
	}
	if _, err := (dotcode.Date{Year: 2025, Month: 2, Day: 29}).MarshalText(); !errors.Is(err, dotcode.ErrDate) {
		t.Errorf("no day of the calendar must not be written: %v", err)
	}
}
