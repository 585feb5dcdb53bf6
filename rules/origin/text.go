package origin

import (
	"errors"

	"axleend.example/internal/word"
)

// Sentinel causes of a text that is no quantity.
var (
	// ErrSyntax says that the number is not written as one.
	ErrSyntax = errors.New("malformed number")
	// ErrUnit says that the unit is missing, unknown, or of another kind.
	ErrUnit = errors.New("wrong or missing unit")
	// ErrRange says that the value does not fit, or makes no sense: too
	// large for the type, or negative where nothing can be.
	ErrRange = errors.New("out of range")
	// ErrPrecision says that the value is finer than the type's step.
	ErrPrecision = errors.New("finer than can be kept exactly")
)

// A TextError is a text that could not be read as what was wanted.
type TextError struct {
	Kind string // what it should have been: "mass"
	Text string // as written
	Want string // what was expected, in words; may be empty
	Err  error  // the cause, such as [ErrUnit]
}

// Error gives the text, cut to 40 bytes, the cause and what was expected.
func (e *TextError) Error() string {
	out := e.Kind + " " + word.Quote(e.Text) + ": "
	if e.Err != nil {
		out += e.Err.Error()
	} else {
		out += "not accepted"
	}
	if e.Want != "" {
		out += ": want " + e.Want
	}
	return out
}

// Unwrap returns the cause.
func (e *TextError) Unwrap() error { return e.Err }
