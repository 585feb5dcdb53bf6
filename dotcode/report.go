package dotcode

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"axleend.example/internal/word"
)

// Check reports whether the date can be: nil, or [ErrNoDate], or a [*WeekError] for a week 53 the year does not have
// ([ErrWeek53]) or a week after on ([ErrAfter]), joined when both are true. It repeats no error of [Parse]. What can be is
// still among the candidates.
func (n Number) Check(on Date) error {
	if n.digits == 0 {
		return ErrNoDate
	}
	if week, yy := int(n.date[0])*10+int(n.date[1]), int(n.date[2])*10+int(n.date[3]); n.digits == 4 && week <= 52 && 2000+yy < on.Year {
		return nil // every reading is of a year before that of on, and every year has that week
	}
	var room [maxCandidates]Candidate
	candidates := n.AppendCandidates(room[:0], on)
	var errs []error
	// No fault of three digits when the week 53 exists in one of their years, nor of four when only their older reading, whose
	// year ends otherwise, lacks it.
	excused := slices.ContainsFunc(candidates, func(c Candidate) bool { return c.Kind == WeekDigit })
	yy := int(n.date[2])*10 + int(n.date[3])
	for _, c := range candidates {
		if c.Kind == YearEnd && !excused && (n.digits == 3 || c.Year%100 == yy) {
			errs = append(errs, &WeekError{n.text, c.Year, c.Week, on, ErrWeek53})
			break
		}
	}
	for _, c := range candidates {
		if c.After {
			errs = append(errs, &WeekError{n.text, c.Year, c.Week, on, ErrAfter})
			break
		}
	}
	return errors.Join(errs...)
}

// Report is everything about one code on one day, for people and as JSON. It is plain data; see [Explain].
type Report struct {
	Text       string      `json:"text"`                 // as read
	On         Date        `json:"on,omitzero"`          // the day of reading
	Symbols    string      `json:"symbols,omitzero"`     // upper case, without separators and marks
	Marks      Marks       `json:"marks,omitzero"`       // read or given
	Forms      []Form      `json:"forms,omitempty"`      // the number can have
	Groups     []Groups    `json:"groups,omitempty"`     // once for each form
	DateDigits int         `json:"date_digits"`          // 3, 4, or 0 for none
	Problems   []Note      `json:"problems,omitempty"`   // what is wrong with the date: length, symbol, week, week_53, after, no_date
	Notes      []Note      `json:"notes,omitempty"`      // what is odd and hides no date
	MadeBefore Date        `json:"made_before,omitzero"` // of three digits: 2 July 2000 whichever the decade
	LeastAge   Span        `json:"least_age,omitzero"`   // of three digits: what that implies on the day, rounded down
	Candidates []Candidate `json:"candidates,omitempty"` // oldest first
	Age        Age         `json:"age,omitzero"`         // on the day of reading, over all candidates
	AgeKnown   bool        `json:"age_known"`            // there is a date, and a day of reading
	AtLeast    Span        `json:"at_least,omitzero"`    // see [Age.AtLeast]; means nothing unless AgeKnown
	AtMost     Span        `json:"at_most,omitzero"`     // see [Age.AtMost]; means nothing unless AgeKnown
	Birthdays  []Birthday  `json:"turns,omitempty"`      // 5, 7 and 10 years
	Caution    string      `json:"caution"`              // see [Caution]

	err error
}

// Birthday is the day a tire turns so many years old, counted from the earliest day of make.
type Birthday struct {
	Years int  `json:"years"` // how old it turns
	Day   Date `json:"day"`   // the earliest day on which it can be
	Past  bool `json:"past"`  // on or before the day of reading
}

// Explain reads a code and works out all that can be said of it on a day. It never fails: what is wrong is in
// [Report.Problems] and [Report.Err]. With an on that is no date the candidates are given without an age.
func Explain(text string, marks Marks, on Date) Report {
	n, err := ParseMarked(text, marks)
	r := Report{Text: text, On: on, Symbols: n.Symbols(), Marks: n.Marks(), Forms: n.Forms(), Groups: n.Groups(),
		DateDigits: n.DateDigits(), Notes: n.Notes(), Candidates: n.Candidates(on), Age: n.AgeOn(on), Caution: Caution}
	if !on.IsValid() {
		r.On, r.Age.On = Date{}, Date{}
	}
	check := n.Check(on)
	if err != nil && errors.Is(check, ErrNoDate) {
		check = nil // the error says more
	}
	r.err = errors.Join(err, check)
	r.Problems = problems(r.err, nil)
	if before, ok := n.MadeBefore(); ok && len(r.Candidates) > 0 {
		r.MadeBefore = before
		r.LeastAge = Between(before.AddDays(-1), on)
	}
	if r.AgeKnown = r.Age.Known(); !r.AgeKnown {
		return r
	}
	r.AtLeast, _ = r.Age.AtLeast()
	r.AtMost, _ = r.Age.AtMost()
	for _, years := range [...]int{5, 7, 10} {
		day, _ := r.Age.ReachesOn(years)
		r.Birthdays = append(r.Birthdays, Birthday{years, day, !day.After(on)})
	}
	return r
}

// problems flattens joined errors into notes.
func problems(err error, to []Note) []Note {
	if joined, ok := err.(interface{ Unwrap() []error }); ok {
		for _, e := range joined.Unwrap() {
			to = problems(e, to)
		}
		return to
	}
	if err == nil {
		return to
	}
	note := Note{Code: codeOf(err), Index: -1, Text: err.Error()}
	if e, ok := errors.AsType[*SymbolError](err); ok {
		note.Index, note.Position, note.Symbol, note.Suggestion = e.Index, e.Position, e.Symbol, e.Suggestion
	}
	return append(to, note)
}

func codeOf(err error) string {
	for _, known := range [...]struct {
		err  error
		code string
	}{{ErrLength, "length"}, {ErrSymbol, "symbol"}, {ErrWeek, "week"}, {ErrWeek53, "week_53"}, {ErrAfter, "after"}} {
		if errors.Is(err, known.err) {
			return known.code
		}
	}
	return "no_date"
}

// Err returns the errors of [Parse] and [Number.Check], joined, or nil.
func (r Report) Err() error { return r.err }

// String says it in one line: for three digits first that the tire is older than mid-2000 and what that implies, then the
// possible weeks, the age, the days it turns 5, 7 and 10, and what is wrong or odd.
func (r Report) String() string {
	var parts []string
	say := func(format string, args ...any) { parts = append(parts, fmt.Sprintf(format, args...)) }
	if !r.MadeBefore.IsZero() {
		text := "made before " + r.MadeBefore.String()
		if r.LeastAge != (Span{}) {
			text += fmt.Sprintf(", so at least %v old on %v", r.LeastAge, r.On)
		}
		parts = append(parts, text)
	}
	if len(r.Candidates) == 1 && len(r.Problems) == 0 {
		say("made %v", r.Candidates[0])
	} else if len(r.Candidates) > 0 {
		weeks := make([]string, len(r.Candidates))
		for i, c := range r.Candidates {
			weeks[i] = fmt.Sprintf("%v, %s", c, c.Reason)
		}
		say("possibly %s", strings.Join(weeks, " | "))
	}
	if r.AgeKnown {
		turns := make([]string, len(r.Birthdays))
		for i, t := range r.Birthdays {
			turns[i] = fmt.Sprintf("%d on %v", t.Years, t.Day)
		}
		say("age %v on %v", r.Age, r.On)
		say("counted from the oldest day it turns %s", strings.Join(turns, ", "))
	} else {
		say("age not known")
	}
	switch {
	case r.Marks.Retread:
		say("this dates the retread: the casing is older, and not known unless its own number is read")
	case r.Age.Retread:
		say("seven symbols are a retread's number: if it is one, this dates the retread and the casing is older")
	}
	for _, p := range r.Problems {
		say("%s", p.Text)
	}
	for _, n := range r.Notes {
		say("note, symbol %d: %s", n.Position, n.Text)
	}
	return word.Quote(r.Text) + ": " + strings.Join(parts, "; ")
}

// String gives the week and its days: "week 23 of 2013 (2013-06-09 to 2013-06-15)".
func (c Candidate) String() string {
	s := fmt.Sprintf("week %02d of %d (%v to %v)", c.Week, c.Year, c.First, c.Last)
	if c.After {
		s += " after the day of reading"
	}
	return s
}
