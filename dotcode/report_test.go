package dotcode_test

import (
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"

	"axleend.example/dotcode"
)

func TestCheck(t *testing.T) {
	on := date("2026-11-25")
	for _, c := range []struct {
		text, on string
		want     []error
	}{
		{"2313", "2026-11-25", nil},
		{"439", "2026-11-25", nil},
		{"2299", "2026-11-25", nil},
		{"535", "2026-11-25", nil},
		{"538", "2026-11-25", nil}, // 1978 has the week, 1998 in ISO 8601 only
		{"1M3ABCDEF", "2026-11-25", []error{dotcode.ErrNoDate}},
		{"5320", "2026-11-25", []error{dotcode.ErrWeek53}},
		{"530", "2026-11-25", []error{dotcode.ErrWeek53}},
		{"5026", "2026-11-25", []error{dotcode.ErrAfter}},
		{"5375", "2026-11-25", []error{dotcode.ErrWeek53, dotcode.ErrAfter}},
		{"439", "1975-06-01", []error{dotcode.ErrAfter}},
	} {
		err := parse(t, c.text).Check(date(c.on))
		if (err == nil) != (c.want == nil) {
			t.Errorf("%s: got %v", c.text, err)
		}
		for _, want := range c.want {
			if !errors.Is(err, want) {
				t.Errorf("%s: got %v, want %v", c.text, err, want)
			}
		}
	}
	var e *dotcode.WeekError
	err := parse(t, "5320").Check(on)
	if !errors.As(err, &e) || e.Year != 2020 || e.Week != 53 || e.On != on || e.Text != "5320" ||
		err.Error() != `"5320": week 53 of 2020: this year has no week 53 under 49 CFR 574.5` {
		t.Errorf("got %v", err)
	}
	err = parse(t, "5026").Check(on)
	if !errors.As(err, &e) || e.Year != 2026 || err.Error() != `"5026": week 50 of 2026: made after the day of reading (2026-11-25)` {
		t.Errorf("got %v", err)
	}
	// 1530 lies after the day; the older readings are week 53 of years without one, which is no fault of 2030's week 15.
	if err := parse(t, "1530").Check(on); !errors.Is(err, dotcode.ErrAfter) || errors.Is(err, dotcode.ErrWeek53) {
		t.Errorf("got %v", err)
	}
}

// Check has a short way for the usual four digits. It must say what the readings say, which this counts out.
func TestCheckSaysWhatTheReadingsSay(t *testing.T) {
	kept := 0
	for i := range 10000 {
		digits := fmt.Sprintf("%04d", i)
		for _, text := range []string{digits, "1M3 ABCDEF " + digits, "ABC " + digits, "MM ABCD " + digits, digits + "▲"} {
			n, _ := dotcode.Parse(text)
			if n.DateDigits() == 0 {
				continue
			}
			for _, on := range []dotcode.Date{{}, date("2000-02-29"), date("2026-11-25"), {Year: 2026, Month: 2, Day: 30}, date("2098-12-31")} {
				var week53, after, three bool
				for _, c := range n.Candidates(on) {
					after = after || c.After
					three = three || c.Kind == dotcode.WeekDigit
					week53 = week53 || c.Kind == dotcode.YearEnd && (n.DateDigits() == 3 || c.Year%100 == i%100)
				}
				week53 = week53 && !three
				err := n.Check(on)
				if errors.Is(err, dotcode.ErrAfter) != after || errors.Is(err, dotcode.ErrWeek53) != week53 || (err == nil) != (!after && !week53) {
					t.Fatalf("%q on %v: got %v of %v", text, on, err, n.Candidates(on))
				}
				if err == nil {
					kept++
				}
			}
		}
	}
	if kept < 10000 {
		t.Errorf("only %d without an error", kept)
	}
}

func TestReportText(t *testing.T) {
	for _, c := range []struct {
		text  string
		marks dotcode.Marks
		on    string
		parts []string // in this order
	}{
		{"2313", dotcode.Marks{}, "2026-11-25", []string{`"2313": made week 23 of 2013 (2013-06-09 to 2013-06-15); age 13 years 5 months on 2026-11-25; ` +
			`counted from the oldest day it turns 5 on 2018-06-09, 7 on 2020-06-09, 10 on 2023-06-09`}},
		{"439", dotcode.Marks{Triangle: true}, "2026-11-25", []string{`"439": made before 2000-07-02, so at least 26 years 4 months old on 2026-11-25; possibly week 43 of 1979`,
			"(1999-10-24 to 1999-10-30), three digits", "the triangle suggests the 1990s; age 27 years to 47 years"}},
		{"439", dotcode.Marks{}, "1996-01-01", []string{`"439": made before 2000-07-02; possibly`, "1979", "1989", "age 6 years 2 months to 16 years 2 months"}},
		{"535", dotcode.Marks{}, "2026-11-25", []string{"made before 2000-07-02", "; made week 53 of 1995"}},
		{"5320", dotcode.Marks{}, "2026-11-25", []string{"possibly", "safe (older) reading", "age 5 years 10 months to 46 years 3 months", "no week 53 under 49 CFR 574.5"}},
		{"1M3ABCDEF4375", dotcode.Marks{}, "2026-11-25", []string{"week 43 of 2075 (2075-10-27 to 2075-11-02) after the day of reading", "age not known", "made after the day"}},
		{"1M3ABCDEF", dotcode.Marks{}, "2026-11-25", []string{`"1M3ABCDEF": age not known; no date in this number: read the other sidewall`}},
		{"ABC 2313", dotcode.Marks{Retread: true}, "2026-11-25", []string{"this dates the retread: the casing is older"}},
		{"ABC 2313", dotcode.Marks{}, "2026-11-25", []string{"seven symbols are a retread's number", "note, symbol 4"}},
		{"1M3 ABCDEO 2313", dotcode.Marks{}, "2026-11-25", []string{"13 years 5 months", "note, symbol 9: the letter O is never used in a number; likely a misread 0"}},
		{"23I3", dotcode.Marks{}, "2026-11-25", []string{`age not known; "23I3": "I" at symbol 3: not a digit in the date; likely a misread 1`}},
		{"8160", dotcode.Marks{}, "2026-11-25", []string{"age not known", "week 81 at symbol 1", "upside down it reads 0918"}},
		{"2313", dotcode.Marks{}, "", []string{"made week 23 of 2013", "age not known"}},
		{"ab\n\x1b[31m", dotcode.Marks{}, "2026-11-25", []string{`"ab\n\x1b[31m"`}}, // input is printed escaped
	} {
		var on dotcode.Date
		if c.on != "" {
			on = date(c.on)
		}
		got := dotcode.Explain(c.text, c.marks, on).String()
		rest := got
		for _, part := range c.parts {
			_, after, found := strings.Cut(rest, part)
			if !found {
				t.Errorf("%q: want %q in\n%s", c.text, part, got)
				break
			}
			rest = after
		}
		if strings.ContainsAny(got, "\n\x1b") {
			t.Errorf("%q: more than a line", got)
		}
	}
}

func TestReportValues(t *testing.T) {
	on := date("2026-11-25")
	r := dotcode.Explain("DOT 1M3 ABCDEF 2318", dotcode.Marks{}, on)
	want := []dotcode.Birthday{{Years: 5, Day: date("2023-06-10"), Past: true}, {Years: 7, Day: date("2025-06-10"), Past: true}, {Years: 10, Day: date("2028-06-10")}}
	if !slices.Equal(r.Birthdays, want) || r.Err() != nil || r.Problems != nil || !r.AgeKnown || r.AtMost.Years != 8 || r.AtLeast.Years != 8 || r.Caution != dotcode.Caution {
		t.Errorf("got %+v", r)
	}
	r = dotcode.Explain("439", dotcode.Marks{}, on)
	if r.MadeBefore != date("2000-07-02") || r.LeastAge != (dotcode.Span{Years: 26, Months: 4, Days: 24}) { // from 1 July 2000
		t.Errorf("got %+v", r)
	}
	r = dotcode.Explain("1M3ABCDEFZ3I3", dotcode.Marks{}, on)
	if len(r.Problems) != 2 || r.Problems[1].Index != 11 || r.Problems[1].Code != "symbol" || r.AgeKnown || !errors.Is(r.Err(), dotcode.ErrSymbol) {
		t.Errorf("got %+v", r)
	}
	r = dotcode.Explain("2313", dotcode.Marks{}, dotcode.Date{Year: 2026, Month: 2, Day: 30})
	if !r.On.IsZero() || r.AgeKnown || len(r.Candidates) != 1 {
		t.Errorf("no day: got %+v", r)
	}
	for text, code := range map[string]string{"": "length", "2I13": "symbol", "9912": "week", "5320": "week_53", "5026": "after", "1M3ABCDEF": "no_date"} {
		if r := dotcode.Explain(text, dotcode.Marks{}, on); len(r.Problems) != 1 || r.Problems[0].Code != code || r.Problems[0].Text == "" || r.Err() == nil {
			t.Errorf("%q: got %+v", text, r.Problems)
		}
	}
}

func TestReportJSON(t *testing.T) {
	on := date("2026-11-25")
	for _, text := range []string{"DOT 1M3 ABCDEO 2313", "439▲", "5320", "1M3ABCDEF", "DOT-R ABC 2I13", ""} {
		in := dotcode.Explain(text, dotcode.Marks{}, on)
		first, err := json.Marshal(in)
		if err != nil {
			t.Fatal(err)
		}
		var out dotcode.Report
		if err := json.Unmarshal(first, &out); err != nil {
			t.Fatal(err)
		}
		second, _ := json.Marshal(out)
		if string(first) != string(second) || in.String() != out.String() {
			t.Errorf("%q:\n%s\n%s", text, first, second)
		}
	}
	got, _ := json.Marshal(dotcode.Explain("2313", dotcode.Marks{}, on))
	want := `{"text":"2313","on":"2026-11-25","symbols":"2313","forms":["date_only"],"groups":[{"form":"date_only","date":"2313"}],"date_digits":4,` +
		`"candidates":[{"first":"2013-06-09","last":"2013-06-15","year":2013,"week":23,"kind":"week_year","reason":"four digits: week and year"}],` +
		`"age":{"on":"2026-11-25","oldest":"2013-06-09","youngest":"2013-06-15"},"age_known":true,` +
		`"at_least":{"years":13,"months":5,"days":10},"at_most":{"years":13,"months":5,"days":16},` +
		`"turns":[{"years":5,"day":"2018-06-09","past":true},{"years":7,"day":"2020-06-09","past":true},{"years":10,"day":"2023-06-09","past":true}],"caution":"` +
		dotcode.Caution + `"}`
	if string(got) != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}
