package dotcode

import (
	"errors"
	"fmt"
	"time"
)

// ErrRange is the cause when no date code exists for a day: before 3 January 1971, the first week of the first year of
// the numbers, or after 3 January 2099, the end of the last week that two digits can name.
var ErrRange = errors.New("no date code exists for this day")

// madeBefore is the day from which four digits are required (64 FR 36807): every three-digit code is older. It is a Sunday,
// so the last week with three digits is week 26 of 2000.
var madeBefore = Date{madeBeforeYear, time.July, 2}

// The years of the forms. Numbers are required since 1971 (35/36 FR 1971); four digits were allowed early, before they
// were required, and no two-digit year can mean 2099 because 99 is taken by those early tires.
const (
	firstYear     = 1971
	firstFourYear = 1999
	lastYear      = 2098

	madeBeforeYear = 2000
	lastThreeWeek  = 26
)

// firstSunday returns the day of January on which week 01 begins, 1 to 7: the first full week starts on the first Sunday
// (49 CFR 574.5(b)(3)).
func firstSunday(year int) int {
	y := year - 1
	newYear := (y + y/4 - y/100 + y/400 + 1) % 7 // the weekday of 1 January; 365 days are 52 weeks and one day
	return 1 + (7-newYear)%7
}

// weekDays returns the seven days that begin on the Sunday of a week of the year, or so many days later. It counts within
// the year, which is faster than by day numbers; the week must be one the year has.
func weekDays(year, week, later int) (first, last Date) {
	first = dayOfYear(year, firstSunday(year)+7*(week-1)+later)
	last = Date{first.Year, first.Month, first.Day + 6}
	if length := daysIn(year, first.Month); last.Day > length {
		last.Day -= length
		if last.Month++; last.Month > time.December {
			last = Date{year + 1, time.January, last.Day}
		}
	}
	return first, last
}

// weeksIn counts the Sundays of a year, 52 or 53: each begins a week of that year.
func weeksIn(year int) int {
	length := 365
	if leap(year) {
		length++
	}
	return (length-firstSunday(year))/7 + 1
}

// isoHas53 reports whether ISO 8601, whose weeks start on Monday, has a week 53: 1 January is a Thursday, or a Wednesday
// in a leap year.
func isoHas53(year int) bool {
	switch (Date{year, time.January, 1}).Weekday() {
	case time.Thursday:
		return true
	case time.Wednesday:
		return leap(year)
	}
	return false
}

// Code is the date code of one week: what a tire made in it carries.
type Code struct {
	Year  int  `json:"year"`  // the year the week belongs to, which can differ from the year of the day
	Week  int  `json:"week"`  // 1 to 53
	First Date `json:"first"` // Sunday
	Last  Date `json:"last"`  // Saturday
	// Three is week and last digit of the year. It is empty from 2 July 2000, when four digits became required.
	Three string `json:"three,omitzero"`
	// Four is week and two digits of the year. It is empty before 1999: a four-digit code that ends in 98 means 2098.
	// Before July 2000 it was allowed, not required.
	Four string `json:"four,omitzero"`
}

// CodeFor returns the code a tire made on day carries, in both forms where both were in use. Days before a year's first
// Sunday belong to the previous year's last week (49 CFR 574.5(b)(3)). A day that is no date is a [*DateError];
// outside 3 January 1971 to 3 January 2099 the error is [ErrRange].
func CodeFor(day Date) (Code, error) {
	if !day.IsValid() {
		return Code{}, &DateError{Text: day.String()}
	}
	year := day.Year
	var week int
	if sunday := firstSunday(year); day.Month > time.January || day.Day >= sunday {
		week = (day.number()-(Date{year, time.January, sunday}).number())/7 + 1
	} else {
		year--
		week = weeksIn(year)
	}
	if year < firstYear || year > lastYear {
		return Code{}, fmt.Errorf("%v: %w, expected 1971-01-03 to 2099-01-03", day, ErrRange)
	}
	code := Code{Year: year, Week: week}
	code.First, code.Last = weekDays(year, week, 0)
	if code.First.Before(madeBefore) {
		code.Three = fmt.Sprintf("%02d%d", week, year%10)
	}
	if year >= firstFourYear {
		code.Four = fmt.Sprintf("%02d%02d", week, year%100)
	}
	return code, nil
}

// digitsAlone reports whether all is digits, more than a date has and fewer than a number with a date must have: 2212.0 of a
// spreadsheet, a digit typed twice, a day such as 2012-05-22. Its last four may be a younger date.
func (s *scan) digitsAlone() bool {
	if s.count <= 4 || s.count >= 10 {
		return false
	}
	for _, c := range s.symbol[:s.count] {
		if !isDigit(c) {
			return false
		}
	}
	return true
}

// isWeek reports whether two digits are a week some year has.
func isWeek(tens, ones byte) bool {
	week := int(tens-'0')*10 + int(ones-'0')
	return week >= 1 && week <= 53
}
