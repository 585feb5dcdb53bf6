package dotcode

import (
	"strings"

	"axleend.example/internal/word"
)

// Kind says how a candidate reads the date.
type Kind uint8

// The kinds of reading.
const (
	// WeekYear is week and two digits of the year, required from 2 July 2000 (64 FR 36807, 49 CFR 574.5).
	WeekYear Kind = iota + 1
	// EarlyWeekYear is the same on a tire of 1999, marked before four digits were required.
	EarlyWeekYear
	// WeekDigit is week and the last digit of the year, 1971 to mid-2000.
	WeekDigit
	// DayWeekDigit is a symbol of the optional group, such as the day of the week, and then week and last digit of the year:
	// four digits at the end of a tire older than mid-2000 (NHTSA letter nht73-3.16, 1973).
	DayWeekDigit
	// YearEnd is a week 53 in a year that has none under the rule, taken as that year's last week: the safe reading, as a
	// week 53 in any other count ends no earlier.
	YearEnd
	// ISOWeek is a week 53 in a year that has none under the rule, but has one in ISO 8601: Monday to Sunday.
	ISOWeek
)

var kindNames = word.List[Kind]{Kind: "kind", Words: []string{WeekYear: "week_year", EarlyWeekYear: "early_week_year", WeekDigit: "week_digit", DayWeekDigit: "day_week_digit", YearEnd: "year_end", ISOWeek: "iso_week"}, Unknown: ErrWord}

// String gives the kind in plain words, or "not known".
func (k Kind) String() string { return strings.ReplaceAll(kindNames.String(k), "_", " ") }

// AppendText appends "week_year", "early_week_year", "week_digit", "day_week_digit", "year_end" or "iso_week", and nothing for the zero Kind; any other value is an
// error that matches [ErrWord].
func (k Kind) AppendText(dst []byte) ([]byte, error) { return kindNames.Append(dst, k) }

// MarshalText gives what [Kind.AppendText] appends.
func (k Kind) MarshalText() ([]byte, error) { return kindNames.Text(k) }

// UnmarshalText reads what [Kind.MarshalText] writes; any other text gives an error that matches [ErrWord].
func (k *Kind) UnmarshalText(text []byte) error { return kindNames.Read(k, text) }

// Why a reading is possible.
const (
	reasonWeekYear    = "four digits: week and year"
	reasonEarly       = "four digits ending in 99: a tire of 1999 marked with week and year before that was required"
	reasonThree       = "three digits: week and last digit of the year, used from 1971 to mid-2000"
	reasonNineties    = reasonThree + "; a decade mark was voluntary, so its absence does not rule out the 1990s"
	reasonTriangle    = reasonThree + "; the triangle suggests the 1990s"
	reasonDay         = "older tire, 1971 to mid-2000: day of the week or other symbol, then week and last digit of the year"
	reasonDayTriangle = reasonDay + "; the triangle suggests the 1990s"
	reasonYearEnd     = "no week 53 in this year under 49 CFR 574.5: taken as the year's last week, the safe (older) reading"
	reasonISO         = "no week 53 in this year under 49 CFR 574.5: a plant that counts ISO 8601 weeks has one"
	reasonDayYearEnd  = "older tire with day, week and last digit of the year; " + reasonYearEnd
	reasonDayISO      = "older tire with day, week and last digit of the year; " + reasonISO
)

// maxCandidates is room for the most readings a number has: two of four digits, and a week 53 twice in three years.
const maxCandidates = 8

// Candidate is one reading of a date: the days of one week, and why it is possible.
type Candidate struct {
	First  Date   `json:"first"`  // the earliest day of make
	Last   Date   `json:"last"`   // the latest day of make
	Year   int    `json:"year"`   // the year of the code, which can differ from the year of the day
	Week   int    `json:"week"`   // as read, also where the year has no such week
	Kind   Kind   `json:"kind"`   // how the date was read
	Reason string `json:"reason"` // why it is possible, in words
	// Suggested is set on a reading in the 1990s when a triangle was seen.
	Suggested bool `json:"suggested,omitzero"`
	// After flags a week that begins after the day of reading: it cannot be, or one of the two was misread.
	After bool `json:"after,omitzero"`
	// Retread says the number is, or by its length can be, a retread's. The days are those of retreading: the casing is
	// older.
	Retread bool `json:"retread,omitzero"`
}

// Candidates returns every reading of the date on the day it was read, oldest first, so the first one decides. It is nil
// when the number carries no date.
//
// Four digits have one reading, week and year. Only when that week does not exist, or begins after on, or the year is 99,
// or a triangle contradicts it, the older readings are added, unless the number has the thirteen symbols that exist since
// 2015. Three digits have one for each year from 1971 to mid-2000 that ends in the digit. A week 53 the year does not have
// gives its last week, and the ISO 8601 week where there is one.
//
// Readings after on are left out when an earlier one exists, except the week and year of four digits, which stays and is
// flagged [Candidate.After]. With a zero or invalid on nothing is judged by it.
func (n Number) Candidates(on Date) []Candidate { return n.AppendCandidates(nil, on) }

// AppendCandidates is [Number.Candidates] into a slice of the caller's; with room in it nothing is allocated.
func (n Number) AppendCandidates(to []Candidate, on Date) []Candidate {
	return n.appendCandidates(to, on, false)
}

// EveryCandidate returns the readings [Number.Candidates] gives and, for four digits, also the older readings that were
// in use beside week and year, as if nothing spoke for the latter.
func (n Number) EveryCandidate(on Date) []Candidate { return n.appendCandidates(nil, on, true) }

// MadeBefore returns 2 July 2000 for a three-digit code: whichever its decade, the tire is older than that, because four
// digits were required from that day (64 FR 36807). Otherwise ok is false.
func (n Number) MadeBefore() (day Date, ok bool) {
	if n.digits != 3 {
		return Date{}, false
	}
	return madeBefore, true
}

func (n Number) appendCandidates(list []Candidate, on Date, every bool) []Candidate {
	if n.digits == 0 {
		return list
	}
	r := reader{on: on, judge: on.IsValid(), triangle: n.marks.Triangle, retread: n.CanBe(Retread) || n.marks.Retread}
	a, b, c, d := int(n.date[0]), int(n.date[1]), int(n.date[2]), int(n.date[3])
	from := len(list)
	if n.digits == 3 {
		return r.sorted(r.digitYears(list, a*10+b, c, false), from, 0)
	}
	list, certain := r.weekYear(list, a*10+b, c*10+d)
	if certain && !every {
		return list
	}
	main := len(list) - from
	// Thirteen symbols exist since 2015, so the older readings cannot be, unless it is an old retread's long number.
	older := !n.CanBe(ThirteenSymbol) || n.marks.Retread
	// Apart from the rest, the first digit must be a day: 1 to 7, or 0 to 6, as plants count.
	day := a <= 7 || !n.isolated
	if older && day {
		list = r.digitYears(list, b*10+c, d, true)
	}
	return r.sorted(list, from, main)
}

// reader is what all readings of a date have in common. Its methods hand the list on by value, which keeps it off the heap.
type reader struct {
	on       Date
	judge    bool // on is a day to judge by
	triangle bool
	retread  bool
}

// weekYear adds the reading of four digits and reports whether nothing speaks against it.
func (r *reader) weekYear(list []Candidate, week, yy int) (_ []Candidate, certain bool) {
	if week < 1 || week > 53 {
		return list, false
	}
	year, kind, reason := 2000+yy, WeekYear, reasonWeekYear
	if yy == firstFourYear%100 {
		year, kind, reason = firstFourYear, EarlyWeekYear, reasonEarly
	}
	if week == 53 && weeksIn(year) < 53 {
		return r.noWeek53(list, year, reasonYearEnd, reasonISO), false
	}
	list = r.add(list, year, week, 0, kind, reason, false)
	return list, kind == WeekYear && !list[len(list)-1].After && !r.triangle
}

// digitYears adds a reading for every year from 1971 to mid-2000 that ends in the digit.
func (r *reader) digitYears(list []Candidate, week, digit int, day bool) []Candidate {
	if week < 1 || week > 53 {
		return list
	}
	yearEnd, iso := reasonYearEnd, reasonISO
	if day {
		yearEnd, iso = reasonDayYearEnd, reasonDayISO
	}
	before := len(list)
	start := firstYear + (digit+9)%10
	for year := start; year <= madeBeforeYear; year += 10 {
		switch {
		case year == madeBeforeYear && week > lastThreeWeek:
		case week < 53 || weeksIn(year) == 53:
			kind, reason := WeekDigit, reasonThree
			suggested := r.triangle && nineties(year)
			switch {
			case day && suggested:
				kind, reason = DayWeekDigit, reasonDayTriangle
			case day:
				kind, reason = DayWeekDigit, reasonDay
			case suggested:
				reason = reasonTriangle
			case nineties(year):
				reason = reasonNineties
			}
			list = r.add(list, year, week, 0, kind, reason, suggested)
		case isoHas53(year):
			list = r.noWeek53(list, year, yearEnd, iso)
		}
	}
	if len(list) > before {
		return list
	}
	// No year has this week 53 in any count we know: each may be meant.
	for year := start; year < madeBeforeYear; year += 10 {
		list = r.noWeek53(list, year, yearEnd, iso)
	}
	return list
}

func nineties(year int) bool { return year >= 1990 && year <= 1999 }

// noWeek53 adds the year's last week, which begins on its last Sunday, and the ISO week 53 from the Monday after, if any.
func (r *reader) noWeek53(list []Candidate, year int, yearEnd, iso string) []Candidate {
	suggested := r.triangle && nineties(year)
	list = r.add(list, year, weeksIn(year), 0, YearEnd, yearEnd, suggested)
	list[len(list)-1].Week = 53
	if isoHas53(year) {
		list = r.add(list, year, weeksIn(year), 1, ISOWeek, iso, suggested)
		list[len(list)-1].Week = 53
	}
	return list
}

// add appends the days of a week of the rule, or the seven days so many later.
func (r *reader) add(list []Candidate, year, week, later int, kind Kind, reason string, suggested bool) []Candidate {
	first, last := weekDays(year, week, later)
	return append(list, Candidate{
		First: first, Last: last, Year: year, Week: week, Kind: kind, Reason: reason, Suggested: suggested,
		After: r.judge && first.After(r.on), Retread: r.retread,
	})
}

// sorted leaves out of list[from:] the readings after the day of reading when an earlier one exists, except the main ones in
// front, and orders the rest by first day.
func (r *reader) sorted(list []Candidate, from, main int) []Candidate {
	added := list[from:]
	earlier := false
	for i := range added {
		earlier = earlier || !added[i].After
	}
	kept := added[:0]
	for i := range added {
		if !added[i].After || !earlier || i < main {
			kept = append(kept, added[i])
		}
	}
	// Insertion keeps the order of readings with the same days; there are eight at most.
	for i := 1; i < len(kept); i++ {
		for j := i; j > 0 && kept[j].First.Before(kept[j-1].First); j-- {
			kept[j], kept[j-1] = kept[j-1], kept[j]
		}
	}
	return list[:from+len(kept)]
}
