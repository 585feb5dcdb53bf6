package dotcode_test

import (
	"errors"
	"fmt"
	"time"

	"axleend.example/dotcode"
)

var today = dotcode.Date{Year: 2026, Month: time.November, Day: 25}

func Example() {
	number, err := dotcode.Parse("DOT 1M3 ABCDEF 2313")
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, candidate := range number.Candidates(today) {
		fmt.Println(candidate)
	}
	fmt.Println(number.AgeOn(today))
	// Output:
	// week 23 of 2013 (2013-06-09 to 2013-06-15)
	// 13 years 5 months
}

func ExampleParse() {
	number, err := dotcode.Parse("4b9y-a 2313")
	fmt.Println(number.Symbols(), number.Forms(), number.DateDigits(), err)
	for _, groups := range number.Groups() {
		fmt.Printf("%v: plant %q, maker %q, date %q\n", groups.Form, groups.Plant, groups.Maker, groups.Date)
	}
	// Output:
	// 4B9YA2313 [older partial] 4 <nil>
	// older: plant "4B", maker "9YA", date "2313"
	// partial: plant "4B9", maker "YA2313", date ""
}

func ExampleParse_misread() {
	_, err := dotcode.Parse("DOT 1M3 ABCDEF 23I3")
	var symbol *dotcode.SymbolError
	if errors.As(err, &symbol) {
		fmt.Printf("symbol %d, %q: perhaps %s\n", symbol.Position, symbol.Symbol, symbol.Suggestion)
	}
	_, err = dotcode.Parse("8160")
	fmt.Println(err)
	// Output:
	// symbol 12, "I": perhaps 1
	// "8160": week 81 at symbol 1: no such week in any year, expected 01 to 53; held upside down it reads 0918
}

func ExampleParseMarked() {
	number, _ := dotcode.ParseMarked("439", dotcode.Marks{Triangle: true})
	for _, candidate := range number.Candidates(today) {
		fmt.Println(candidate.Year, candidate.Suggested)
	}
	// Output:
	// 1979 false
	// 1989 false
	// 1999 true
}

func ExampleNumber_Notes() {
	number, err := dotcode.Parse("1M3 ABCDEO 2313")
	fmt.Println(err)
	for _, note := range number.Notes() {
		fmt.Printf("symbol %d: %s\n", note.Position, note.Text)
	}
	// Output:
	// <nil>
	// symbol 9: the letter O is never used in a number; likely a misread 0
}

func ExampleNumber_Candidates() {
	// A plant that counts ISO 8601 weeks stamped a week 53 that 2020 does not have under the rule.
	number, _ := dotcode.Parse("1M3 ABCDEF 5320")
	for _, candidate := range number.Candidates(today) {
		fmt.Printf("%v to %v: %v\n", candidate.First, candidate.Last, candidate.Kind)
	}
	fmt.Println(number.Check(today))
	// Output:
	// 2020-12-27 to 2021-01-02: year end
	// 2020-12-28 to 2021-01-03: iso week
	// "1M3 ABCDEF 5320": week 53 of 2020: this year has no week 53 under 49 CFR 574.5
}

func ExampleNumber_AppendCandidates() {
	room := make([]dotcode.Candidate, 0, 8) // used again for every code: nothing is allocated
	for _, code := range []string{"2313", "0824"} {
		number, _ := dotcode.Parse(code)
		room = number.AppendCandidates(room[:0], today)
		fmt.Println(room[0])
	}
	// Output:
	// week 23 of 2013 (2013-06-09 to 2013-06-15)
	// week 08 of 2024 (2024-02-25 to 2024-03-02)
}

func ExampleNumber_EveryCandidate() {
	number, _ := dotcode.Parse("2219")
	fmt.Println(len(number.Candidates(today)), len(number.EveryCandidate(today)))
	// Output: 1 4
}

func ExampleNumber_MadeBefore() {
	number, _ := dotcode.Parse("439")
	if day, ok := number.MadeBefore(); ok {
		fmt.Printf("made before %v, so at least %v old\n", day, dotcode.Between(day.AddDays(-1), today))
	}
	// Output: made before 2000-07-02, so at least 26 years 4 months old
}

func ExampleNumber_Check() {
	number, _ := dotcode.Parse("1M3 ABCDEF 5026")
	err := number.Check(today)
	fmt.Println(errors.Is(err, dotcode.ErrAfter), number.AgeOn(today))
	// Output: true not known
}

func ExampleAge() {
	number, _ := dotcode.Parse("439")
	age := number.AgeOn(today)
	most, ok := age.AtMost() // the figure that decides
	fmt.Println(age, most.Years, ok)
	// Output: 27 years to 47 years 47 true
}

func ExampleAge_ReachesOn() {
	number, _ := dotcode.Parse("2318")
	age := number.AgeOn(today)
	for _, years := range []int{5, 7, 10} {
		day, _ := age.ReachesOn(years)
		turned, known := age.Reached(years)
		fmt.Println(years, day, turned, known)
	}
	// Output:
	// 5 2023-06-10 true true
	// 7 2025-06-10 true true
	// 10 2028-06-10 false true
}

func ExampleAge_Reached() {
	// A retread's own date cannot say that the casing is young.
	number, _ := dotcode.Parse("DOT-R ABC 2323")
	fmt.Println(number.AgeOn(today).Reached(5))
	// Output: false false
}

func ExampleAgeOn() {
	number, _ := dotcode.Parse("2313")
	candidates := number.Candidates(today)
	fmt.Println(dotcode.AgeOn(candidates, dotcode.Date{Year: 2023, Month: time.June, Day: 9}))
	// Output: 9 years 11 months to 10 years
}

func ExampleCodeFor() {
	for _, day := range []string{"1999-12-31", "2006-12-31", "2010-01-02", "2010-01-03"} {
		d, _ := dotcode.ParseDate(day)
		code, err := dotcode.CodeFor(d)
		fmt.Printf("%v: week %d of %d, three digits %q, four %q, %v\n", d, code.Week, code.Year, code.Three, code.Four, err)
	}
	// Output:
	// 1999-12-31: week 52 of 1999, three digits "529", four "5299", <nil>
	// 2006-12-31: week 53 of 2006, three digits "", four "5306", <nil>
	// 2010-01-02: week 52 of 2009, three digits "", four "5209", <nil>
	// 2010-01-03: week 1 of 2010, three digits "", four "0110", <nil>
}

func ExampleExplain() {
	report := dotcode.Explain("2313", dotcode.Marks{}, today)
	fmt.Println(report)
	fmt.Println(report.Err())
	// Output:
	// "2313": made week 23 of 2013 (2013-06-09 to 2013-06-15); age 13 years 5 months on 2026-11-25; counted from the oldest day it turns 5 on 2018-06-09, 7 on 2020-06-09, 10 on 2023-06-09
	// <nil>
}

func ExampleBetween() {
	made, _ := dotcode.ParseDate("2016-11-26")
	fmt.Println(dotcode.Between(made, today)) // ten years tomorrow
	// Output: 9 years 11 months
}

func ExampleDate_AddYears() {
	made, _ := dotcode.ParseDate("2020-02-29")
	fmt.Println(made.AddYears(5))
	// Output: 2025-02-28
}

func ExampleParseDate() {
	day, err := dotcode.ParseDate("2026-11-25")
	fmt.Println(day, day.Weekday(), err)
	_, err = dotcode.ParseDate("11/25/2026")
	fmt.Println(err)
	// Output:
	// 2026-11-25 Wednesday <nil>
	// "11/25/2026": not a date, expected year-month-day such as 2026-11-25
}

func ExampleDateOf() {
	fmt.Println(dotcode.DateOf(time.Date(2026, time.November, 25, 23, 59, 0, 0, time.UTC)))
	// Output: 2026-11-25
}
