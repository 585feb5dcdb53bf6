package dotcode

import (
	"errors"
	"fmt"
	"time"

	"axleend.example/internal/word"
)

// ErrDate is the cause of every [DateError]: the text or value is not a day of the calendar.
var ErrDate = errors.New("not a date")

// DateError reports a text or value that is no calendar day. It unwraps to [ErrDate].
type DateError struct {
	Text string // as given; capped when printed
}

// Error says what was read and what was expected.
func (e *DateError) Error() string {
	return fmt.Sprintf("%s: %v, expected year-month-day such as 2026-11-25", word.Quote(e.Text), ErrDate)
}

// Unwrap returns [ErrDate].
func (e *DateError) Unwrap() error { return ErrDate }

// Date is a civil day of the Gregorian calendar, years 1 to 9999, without time or time zone. Dates are comparable with ==
// and usable as map keys. The zero Date is no date; see [Date.IsZero]. A Date built by hand may be no day of the calendar
// (30 February); see [Date.IsValid].
type Date struct {
	Year  int        // 1 to 9999
	Month time.Month // January to December
	Day   int        // of the month, from 1
}

// DateOf returns the day t falls on in t's own location.
func DateOf(t time.Time) Date {
	y, m, d := t.Date()
	return Date{y, m, d}
}

// ParseDate reads a day written as "2026-11-25": four digits, two, two. Any other text is a [*DateError].
func ParseDate(text string) (Date, error) {
	if len(text) == len("2026-11-25") && text[4] == '-' && text[7] == '-' {
		y, okY := digits(text[:4])
		m, okM := digits(text[5:7])
		d, okD := digits(text[8:])
		if date := (Date{y, time.Month(m), d}); okY && okM && okD && date.IsValid() {
			return date, nil
		}
	}
	return Date{}, &DateError{Text: text}
}

func digits(s string) (value int, ok bool) {
	for i := range len(s) {
		if s[i] < '0' || s[i] > '9' {
			return 0, false
		}
		value = value*10 + int(s[i]-'0')
	}
	return value, true
}

// String gives the day as "2026-11-25", and "no date" for the zero Date.
func (d Date) String() string {
	if d.IsZero() {
		return "no date"
	}
	return fmt.Sprintf("%04d-%02d-%02d", d.Year, int(d.Month), d.Day)
}

// AppendText appends the day as "2026-11-25", and nothing for the zero Date. A Date that is no calendar day is a
// [*DateError]; dst is then returned as it was.
func (d Date) AppendText(dst []byte) ([]byte, error) {
	if d.IsZero() {
		return dst, nil
	}
	if !d.IsValid() {
		return dst, &DateError{Text: d.String()}
	}
	y, m, day := d.Year, int(d.Month), d.Day
	return append(dst, digit(y/1000), digit(y/100), digit(y/10), digit(y), '-', digit(m/10), digit(m), '-', digit(day/10), digit(day)), nil
}

// digit gives the last decimal digit of n.
func digit(n int) byte { return byte('0' + n%10) }

// MarshalText gives what [Date.AppendText] appends.
func (d Date) MarshalText() ([]byte, error) { return d.AppendText([]byte{}) }

// UnmarshalText reads what [Date.MarshalText] writes; empty text is the zero Date.
func (d *Date) UnmarshalText(text []byte) error {
	if len(text) == 0 {
		*d = Date{}
		return nil
	}
	parsed, err := ParseDate(string(text))
	if err != nil {
		return err
	}
	*d = parsed
	return nil
}

// IsZero reports whether d is the zero Date, which is no date.
func (d Date) IsZero() bool { return d == Date{} }

// IsValid reports whether d is a day of the calendar in the years 1 to 9999.
func (d Date) IsValid() bool {
	return d.Year >= 1 && d.Year <= 9999 && d.Month >= time.January && d.Month <= time.December &&
		d.Day >= 1 && (d.Day <= 28 || d.Day <= daysIn(d.Year, d.Month))
}

// Compare returns -1 when d is before other, 0 when they are the same, and +1 when d is after other.
func (d Date) Compare(other Date) int {
	switch {
	case d == other:
		return 0
	case d.Before(other):
		return -1
	}
	return 1
}

// Before reports whether d is an earlier day than other.
func (d Date) Before(other Date) bool {
	if d.Year != other.Year {
		return d.Year < other.Year
	}
	if d.Month != other.Month {
		return d.Month < other.Month
	}
	return d.Day < other.Day
}

// After reports whether d is a later day than other.
func (d Date) After(other Date) bool { return other.Before(d) }

// AddDays returns the day n days later, or earlier when n is negative. It returns the zero Date when d is not valid or the
// result leaves the years 1 to 9999.
func (d Date) AddDays(n int) Date {
	if !d.IsValid() || n > lastDayNumber || n < -lastDayNumber {
		return Date{}
	}
	return dateOf(d.number() + n)
}

// AddYears returns the same day n years later, or earlier when n is negative. From 29 February it gives 28 February in a
// common year and not 1 March: an age reached a day early is the safe error. It returns the zero Date when d is not valid
// or the result leaves the years 1 to 9999.
func (d Date) AddYears(n int) Date {
	if n < -9999 || n > 9999 {
		return Date{}
	}
	return d.addMonths(12 * n)
}

// addMonths keeps the day of the month, or takes the month's last day when the month is shorter.
func (d Date) addMonths(n int) Date {
	if !d.IsValid() {
		return Date{}
	}
	months := d.Year*12 + int(d.Month) - 1 + n
	year, month := months/12, time.Month(months%12+1)
	if months < 12 || year > 9999 {
		return Date{}
	}
	return Date{year, month, min(d.Day, daysIn(year, month))}
}

// Weekday returns the day of the week, and Sunday for a Date that is not valid.
func (d Date) Weekday() time.Weekday {
	if !d.IsValid() {
		return time.Sunday
	}
	return time.Weekday(d.number() % 7)
}

// Span is a completed length of time: whole years, then whole months, then days. It is never rounded up.
type Span struct {
	Years  int `json:"years"`  // whole years
	Months int `json:"months"` // whole months besides, 0 to 11
	Days   int `json:"days"`   // days besides, 0 to 30
}

// Between returns the time completed from one day to another, by the calendar: a year is complete on the day
// [Date.AddYears] gives, a month on the same day of the next month or on its last day when it is shorter. It is zero when
// either Date is not valid or the second lies before the first.
func Between(from, to Date) Span {
	if !from.IsValid() || !to.IsValid() || to.Before(from) {
		return Span{}
	}
	months := (to.Year-from.Year)*12 + int(to.Month) - int(from.Month)
	days := to.Day - min(from.Day, daysIn(to.Year, to.Month))
	if days < 0 {
		// The last month is not complete: count from the day in the month before.
		months--
		length := 31 // of December
		if to.Month > time.January {
			length = daysIn(to.Year, to.Month-1)
		}
		days = length - min(from.Day, length) + to.Day
	}
	return Span{months / 12, months % 12, days}
}

// String gives years and months, truncated: "13 years 5 months", "1 year", "less than a month".
func (s Span) String() string {
	years, months := count(s.Years, "year"), count(s.Months, "month")
	switch {
	case s.Years == 0 && s.Months == 0:
		return "less than a month"
	case s.Months == 0:
		return years
	case s.Years == 0:
		return months
	}
	return years + " " + months
}

func count(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}

// lastDayNumber is 31 December 9999, counting 1 January of year 1 as day 1.
const lastDayNumber = 3_652_059

func leap(year int) bool { return year%4 == 0 && (year%100 != 0 || year%400 == 0) }

func daysIn(year int, month time.Month) int {
	if month == time.February && leap(year) {
		return 29
	}
	return int(daysBefore[month] - daysBefore[month-1])
}

// daysBefore holds the days of a common year up to the end of each month.
var daysBefore = [13]int16{0, 31, 59, 90, 120, 151, 181, 212, 243, 273, 304, 334, 365}

// number counts days, 1 January of year 1 being 1. That day was a Monday, so the remainder by 7 is the weekday.
func (d Date) number() int {
	y := d.Year - 1
	n := 365*y + y/4 - y/100 + y/400 + int(daysBefore[d.Month-1]) + d.Day
	if d.Month > time.February && leap(d.Year) {
		n++
	}
	return n
}

// dateOf is the inverse of number; out of range it is the zero Date.
func dateOf(number int) Date {
	if number < 1 || number > lastDayNumber {
		return Date{}
	}
	rest := number - 1
	year := 1 + rest/146_097*400
	rest %= 146_097
	// The last year of a century and of a four-year group has one day more, hence min.
	centuries := min(rest/36_524, 3)
	rest -= centuries * 36_524
	year += centuries*100 + rest/1461*4
	rest %= 1461
	years := min(rest/365, 3)
	rest -= years * 365
	year += years

	return dayOfYear(year, rest+1)
}

// dayOfYear returns a day by its number in the year, 1 January being 1.
func dayOfYear(year, day int) Date {
	if leap(year) {
		switch {
		case day == 60:
			return Date{year, time.February, 29}
		case day > 60:
			day--
		}
	}
	// No month is longer than 31 days, so this is the month or the one before it.
	month := (day-1)/31 + 1
	if day > int(daysBefore[month]) {
		month++
	}
	return Date{year, time.Month(month), day - int(daysBefore[month-1])}
}
