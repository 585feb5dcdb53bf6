package dotcode

import (
	"errors"
	"fmt"

	"axleend.example/internal/word"
)

// The causes of errors, for errors.Is. [SymbolError] carries the first three, [WeekError] the next two.
var (
	// ErrLength: no date code has this few symbols or this many digits, or no number this many symbols.
	ErrLength = errors.New("wrong number of symbols")
	// ErrSymbol: a symbol where a digit of the date belongs is no digit.
	ErrSymbol = errors.New("not a digit in the date")
	// ErrWeek: week 00, or 54 and above, which no year has.
	ErrWeek = errors.New("no such week in any year")
	// ErrWeek53: week 53 in a year that has 52 weeks under 49 CFR 574.5.
	ErrWeek53 = errors.New("this year has no week 53 under 49 CFR 574.5")
	// ErrAfter: the week of make lies after the day of reading.
	ErrAfter = errors.New("made after the day of reading")
	// ErrNoDate: the number as read carries no date.
	ErrNoDate = errors.New("no date in this number: read the other sidewall")
	// ErrWord: a text is none of the words that a [Form] or a [Kind] is written as.
	ErrWord = errors.New("unknown word")
)

// SymbolError reports what is wrong with a number as read, and where. It unwraps to [ErrLength], [ErrSymbol] or [ErrWeek].
type SymbolError struct {
	Text       string // as read; capped when printed
	Index      int    // byte offset into Text of the symbol, or -1 when the error has no one symbol
	Position   int    // the symbol's place in the number, counting from 1 without separators and marks; 0 when Index is -1
	Symbol     string // the symbol as read, or the two digits of a week
	Suggestion string // what was likely misread: a digit, or the whole date; empty when nothing suggests itself
	Symbols    int    // how many symbols were counted
	Err        error  // the cause
}

// Error says what was read, where, and what was expected. A suggestion is never applied silently.
func (e *SymbolError) Error() string {
	switch {
	case errors.Is(e.Err, ErrLength):
		return fmt.Sprintf("%s: %v: %d, expected 3 or 4 for a date alone, up to 13 for a whole number",
			word.Quote(e.Text), e.Err, e.Symbols)
	case errors.Is(e.Err, ErrWeek):
		s := fmt.Sprintf("%s: week %s at symbol %d: %v, expected 01 to 53", word.Quote(e.Text), e.Symbol, e.Position, e.Err)
		if e.Suggestion != "" {
			s += "; held upside down it reads " + e.Suggestion
		}
		return s
	}
	s := fmt.Sprintf("%s: %s at symbol %d: %v", word.Quote(e.Text), word.Quote(e.Symbol), e.Position, e.Err)
	if e.Suggestion != "" {
		s += "; likely a misread " + e.Suggestion
	}
	return s
}

// Unwrap returns the cause.
func (e *SymbolError) Unwrap() error { return e.Err }

// WeekError reports a readable date that cannot be: a week 53 the year does not have, or a week after the day of reading.
// It unwraps to [ErrWeek53] or [ErrAfter].
type WeekError struct {
	Text string // the number as read; capped when printed
	Year int    // of the date, in full
	Week int    // of the date, as read
	On   Date   // the day of reading
	Err  error  // the cause
}

// Error names the week, the year and the day of reading.
func (e *WeekError) Error() string {
	s := fmt.Sprintf("%s: week %02d of %d: %v", word.Quote(e.Text), e.Week, e.Year, e.Err)
	if errors.Is(e.Err, ErrAfter) {
		s += " (" + e.On.String() + ")"
	}
	return s
}

// Unwrap returns the cause.
func (e *WeekError) Unwrap() error { return e.Err }
