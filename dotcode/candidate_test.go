package dotcode_test

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"

	"axleend.example/dotcode"
)

// list writes candidates as "week year kind", a "!" marking one after the day of reading, "^" one a triangle suggests.
func list(candidates []dotcode.Candidate) string {
	var out []string
	for _, c := range candidates {
		kind, _ := c.Kind.MarshalText()
		s := fmt.Sprintf("%02d/%d %s", c.Week, c.Year, kind)
		if c.After {
			s += "!"
		}
		if c.Suggested {
			s += "^"
		}
		out = append(out, s)
	}
	return strings.Join(out, ", ")
}

// Sources: three digits and the decade mark NHTSA letter 12375wkm (1996); four from July 2000, and early, 64 FR 36807; day,
// week and year NHTSA letter nht73-3.16 (1973); thirteen symbols since 2015 80 FR 19553; week 53 by the calendar.
func TestCandidates(t *testing.T) {
	const on = "2026-11-25"
	for _, c := range []struct{ text, on, want string }{
		{"2313", on, "23/2013 week_year"},
		{"2600", on, "26/2000 week_year"},
		{"1M3ABCDEF2313", on, "23/2013 week_year"},
		{"4B9YABC1126", on, "11/2026 week_year"},
		// The week of the day of reading has begun, the next has not: 25 November 2026 is a Wednesday, 2026 began on a Thursday.
		{"4726", on, "47/2026 week_year"},
		{"4826", on, "48/2026 week_year!"}, // 8 is no week of the older form: 82
		{"4726", "2026-11-22", "47/2026 week_year"},
		{"4726", "2026-11-21", "47/2026 week_year!"},
		{"5026", on, "02/1976 day_week_digit, 02/1986 day_week_digit, 02/1996 day_week_digit, 50/2026 week_year!"},
		{"4375", on, "37/1975 day_week_digit, 37/1985 day_week_digit, 37/1995 day_week_digit, 43/2075 week_year!"},
		{"1M3ABCDEF4375", on, "43/2075 week_year!"},
		{"DOT-R 1M3ABCDEF4375", on, "37/1975 day_week_digit, 37/1985 day_week_digit, 37/1995 day_week_digit, 43/2075 week_year!"},
		// 99 means 1999.
		{"2299", on, "29/1979 day_week_digit, 29/1989 day_week_digit, 22/1999 early_week_year, 29/1999 day_week_digit"},
		{"1M3ABCDEF2299", on, "22/1999 early_week_year"},
		{"0999", on, "09/1999 early_week_year"}, // 99 is no week
		{"5299", on, "29/1979 day_week_digit, 29/1989 day_week_digit, 29/1999 day_week_digit, 52/1999 early_week_year"},
		{"2299", "1990-01-01", "29/1979 day_week_digit, 29/1989 day_week_digit, 22/1999 early_week_year!"},
		// Three digits.
		{"439", on, "43/1979 week_digit, 43/1989 week_digit, 43/1999 week_digit"},
		{"439▲", on, "43/1979 week_digit, 43/1989 week_digit, 43/1999 week_digit^"},
		{"439", "1996-06-01", "43/1979 week_digit, 43/1989 week_digit"},
		{"439", "1975-06-01", "43/1979 week_digit!, 43/1989 week_digit!, 43/1999 week_digit!"},
		{"011", on, "01/1971 week_digit, 01/1981 week_digit, 01/1991 week_digit"},
		{"520", on, "52/1980 week_digit, 52/1990 week_digit"}, // 1970 had no numbers, week 52 of 2000 four digits
		{"260", on, "26/1980 week_digit, 26/1990 week_digit, 26/2000 week_digit"},
		{"270", on, "27/1980 week_digit, 27/1990 week_digit"},
		{"532", on, "53/1972 week_digit, 53/1992 year_end, 53/1992 iso_week"},
		{"535", on, "53/1995 week_digit"},
		{"536▲", on, "53/1976 year_end, 53/1976 iso_week"},
		{"538", on, "53/1978 week_digit, 53/1998 year_end, 53/1998 iso_week"},
		{"538▲", on, "53/1978 week_digit, 53/1998 year_end^, 53/1998 iso_week^"},
		{"530", on, "53/1980 year_end, 53/1990 year_end"},
		{"533▲", on, "53/1973 year_end, 53/1983 year_end, 53/1993 year_end^"},
		// Week 53 where there is none: 2020 has one in ISO 8601, 2005 has none at all.
		{"5320", on, "32/1980 day_week_digit, 32/1990 day_week_digit, 53/2020 year_end, 53/2020 iso_week"},
		{"1M3ABCDEF5320", on, "53/2020 year_end, 53/2020 iso_week"},
		{"1M3ABCDEF5305", on, "53/2005 year_end"},
		{"5306", on, "53/2006 week_year"},
		{"1M3ABCDEF5375", on, "53/2075 year_end!"},
		{"5375", on, "37/1975 day_week_digit, 37/1985 day_week_digit, 37/1995 day_week_digit, 53/2075 year_end!"},
		{"5399", on, "39/1979 day_week_digit, 39/1989 day_week_digit, 39/1999 day_week_digit, 53/1999 year_end"},
		{"1530", on, "53/1980 year_end, 53/1990 year_end, 15/2030 week_year!"},
		{"1538", on, "53/1978 day_week_digit, 53/1998 year_end, 53/1998 iso_week, 15/2038 week_year!"},
		// A triangle says 1990s, four digits say 2009: both are told.
		{"2109▲", on, "10/1979 day_week_digit, 10/1989 day_week_digit, 10/1999 day_week_digit^, 21/2009 week_year"},
		// Run together, the symbol before three digits may be any; apart it must be a day.
		{"MMABCD2927", on, "29/2027 week_year!"},
		{"MMABCD0830", on, "08/2030 week_year!"},
		{"MMABCD0331", on, "33/1971 day_week_digit, 33/1981 day_week_digit, 33/1991 day_week_digit, 03/2031 week_year!"},
		{"MMABCD 0331", on, "33/1971 day_week_digit, 33/1981 day_week_digit, 33/1991 day_week_digit, 03/2031 week_year!"},
		// No day to judge by.
		{"4375", "", "43/2075 week_year"},
		{"439", "", "43/1979 week_digit, 43/1989 week_digit, 43/1999 week_digit"},
		{"1M3ABCDEF", on, ""},
	} {
		var day dotcode.Date
		if c.on != "" {
			day = date(c.on)
		}
		got := parse(t, c.text).Candidates(day)
		if list(got) != c.want {
			t.Errorf("%s on %s:\n got %s\nwant %s", c.text, c.on, list(got), c.want)
		}
		for _, c := range got {
			if c.Reason == "" {
				t.Errorf("%v: no reason", c)
			}
		}
	}
}

// After a week that no year has, the older form may still explain four digits, but nothing reads them as week and year.
func TestCandidatesAfterError(t *testing.T) {
	for text, want := range map[string]string{
		"5412":             "41/1972 day_week_digit, 41/1982 day_week_digit, 41/1992 day_week_digit",
		"4B9Y ABC 7412":    "41/1972 day_week_digit, 41/1982 day_week_digit, 41/1992 day_week_digit",
		"ABCD439975":       "", // run together, but 97 is no week of three digits either
		"8412":             "", // no day 8
		"DOT1M3ABCDEF5412": "",
		"009":              "",
		"549":              "",
		"5992":             "",
	} {
		n, err := dotcode.Parse(text)
		if got := list(n.Candidates(date("2026-11-25"))); !errors.Is(err, dotcode.ErrWeek) || got != want {
			t.Errorf("%s: got %s, %v, want %s", text, got, err, want)
		}
	}
}

func TestEveryCandidate(t *testing.T) {
	on := date("2026-11-25")
	for text, want := range map[string]string{
		"2219":          "21/1979 day_week_digit, 21/1989 day_week_digit, 21/1999 day_week_digit, 22/2019 week_year",
		"1M3ABCDEF2219": "22/2019 week_year",
		"219":           "21/1979 week_digit, 21/1989 week_digit, 21/1999 week_digit",
	} {
		if got := list(parse(t, text).EveryCandidate(on)); got != want {
			t.Errorf("%s: got %s, want %s", text, got, want)
		}
	}
}

func TestReasons(t *testing.T) {
	on := date("2026-11-25")
	for _, c := range []struct{ text, want string }{
		{"439", "does not rule out the 1990s"}, {"439▲", "the triangle suggests the 1990s"}, {"439", "1971 to mid-2000"},
		{"2299", "tire of 1999"}, {"2299", "day of the week"}, {"2109▲", "day of the week or other symbol, then week and last digit of the year; the triangle"},
		{"5320", "safe (older) reading"}, {"5320", "ISO 8601"}, {"1530", "older tire with day, week and last digit of the year; no week 53"},
		{"1538", "older tire with day, week and last digit of the year; no week 53 in this year under 49 CFR 574.5: a plant"}, {"2313", "week and year"},
	} {
		if !slices.ContainsFunc(parse(t, c.text).Candidates(on), func(x dotcode.Candidate) bool { return strings.Contains(x.Reason, c.want) }) {
			t.Errorf("%s: no reason says %q", c.text, c.want)
		}
	}
}

func TestAppendCandidates(t *testing.T) {
	on := date("2026-11-25")
	kept := dotcode.Candidate{Year: 3000, After: true}
	for _, text := range []string{"2313", "439", "5026", "5320", "1M3ABCDEF"} {
		n := parse(t, text)
		got := n.AppendCandidates([]dotcode.Candidate{kept}, on)
		if got[0] != kept || !slices.Equal(got[1:], n.Candidates(on)) {
			t.Errorf("%s: got %v", text, got)
		}
	}
	// The room kept for an age is enough for every four digits and three: nothing is allocated.
	most := 0
	for i := range 10000 {
		n, _ := dotcode.ParseMarked(fmt.Sprintf("%04d", i), dotcode.Marks{Triangle: true})
		most = max(most, len(n.EveryCandidate(on)))
	}
	if most > 8 {
		t.Errorf("%d candidates", most)
	}
	for _, text := range []string{"2313", "DOT 1M3 ABCDEF 2313", "439", "5026", "5320", "1538"} {
		if allocs := testing.AllocsPerRun(100, func() {
			n, _ := dotcode.Parse(text)
			if !n.AgeOn(on).Known() {
				t.Error("not known")
			}
		}); allocs != 0 {
			t.Errorf("%s: %v allocations", text, allocs)
		}
	}
}

func TestMadeBefore(t *testing.T) {
	if day, ok := parse(t, "439").MadeBefore(); !ok || day != date("2000-07-02") { // 64 FR 36807
		t.Errorf("got %v, %v", day, ok)
	}
	for _, text := range []string{"2313", "1M3ABCDEF"} {
		if day, ok := parse(t, text).MadeBefore(); ok || !day.IsZero() {
			t.Errorf("%s: got %v, %v", text, day, ok)
		}
	}
	// No three-digit code has a candidate from that day on, and together they have every week before it.
	seen := map[dotcode.Date]bool{}
	for i := range 1000 {
		n, _ := dotcode.Parse(fmt.Sprintf("%03d", i))
		for _, c := range n.Candidates(date("2026-11-25")) {
			if !c.First.Before(date("2000-07-02")) || !c.Last.Before(date("2000-07-02")) || c.First.Before(date("1971-01-03")) {
				t.Errorf("%03d: %v", i, c)
			}
			seen[c.First] = true
		}
	}
	for day := date("1971-01-03"); day.Before(date("2000-07-02")); day = day.AddDays(7) {
		if !seen[day] {
			t.Errorf("no code for the week of %v", day)
		}
	}
}
