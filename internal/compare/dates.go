package main

import (
	"fmt"
	"strconv"
	"time"

	"axleend.example/dotcode"
)

// byHand decodes week and year of four digits with the standard library: the
// Sunday of the week, whose first one is the first full week of the year.
func byHand(code string) (time.Time, error) {
	week, err := strconv.Atoi(code[:2])
	if err != nil || week < 1 || week > 53 {
		return time.Time{}, fmt.Errorf("no week: %s", code)
	}
	year, err := strconv.Atoi(code[2:])
	if err != nil {
		return time.Time{}, err
	}
	first := time.Date(2000+year, 1, 1, 0, 0, 0, 0, time.UTC)
	toSunday := (7 - int(first.Weekday())) % 7
	return first.AddDate(0, 0, toSunday+7*(week-1)), nil
}

// compareDates decodes the code of every week from 2001 to 2025. The law's week
// (49 CFR 574.5: Sunday to Saturday, 01 the first full one) is the only one that
// the code itself has; what else it may mean is asked of ours alone.
func compareDates() ([]bench, []string, error) {
	on := dotcode.Date{Year: 2026, Month: 11, Day: 25}
	var codes, days []string
	for day := (dotcode.Date{Year: 2001, Month: 1, Day: 7}); day.Year < 2026; day = day.AddDays(7) {
		code, err := dotcode.CodeFor(day)
		if err != nil {
			return nil, nil, err
		}
		n, err := dotcode.Parse(code.Four)
		if err != nil {
			return nil, nil, err
		}
		candidates := n.Candidates(on)
		sunday, err := byHand(code.Four)
		if err != nil || len(candidates) != 1 || candidates[0].First != dotcode.DateOf(sunday) || candidates[0].First != day {
			return nil, nil, fmt.Errorf("%s: the week of %v: ours %v, by time.Date %v, %v", code.Four, day, candidates, sunday, err)
		}
		codes = append(codes, code.Four)
		days = append(days, fmt.Sprintf("%02d%02d", 1+len(days)%12, len(days)%100))
	}
	room := make([]dotcode.Candidate, 0, 8)
	var last struct { // so that no work is left out
		age dotcode.Age
		at  time.Time
	}
	notes := []string{fmt.Sprintf("The codes of %d weeks, 2001 to 2025: the same Sunday as by time.Date.", len(codes))}
	return []bench{{"four digits", "code", len(codes), []way{
		{"dotcode.Parse and its week", times(len(codes), func(i int) error {
			n, err := dotcode.Parse(codes[i])
			room = n.AppendCandidates(room[:0], on)
			return err
		})},
		{"dotcode.Parse and the age", times(len(codes), func(i int) error {
			n, err := dotcode.Parse(codes[i])
			last.age = n.AgeOn(on)
			return err
		})},
		{"time.Parse of month and year", times(len(codes), func(i int) (err error) {
			last.at, err = time.Parse("0106", days[i])
			return err
		})},
		{"strconv and time.Date, the week", times(len(codes), func(i int) (err error) {
			last.at, err = byHand(codes[i])
			return err
		})},
	}}}, notes, nil
}
