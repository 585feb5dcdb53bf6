package rules

import (
	"errors"
	"fmt"
	"strings"

	"axleend.example/internal/word"
)

// Sentinel causes, for errors.Is. What is wrong with the shape of a file (an
// unknown key, a tab, oversize) carries only a code: see the package comment.
var (
	// ErrName says that a file or a call names a subject, measure, word,
	// action, rule or pack that is not there; the error is a [*NameError].
	ErrName = errors.New("unknown")
	// ErrSpelling says that something is named with other signs than names
	// may have.
	ErrSpelling = errors.New("misspelled name")
	// ErrDimension says that two things of different dimensions meet: a mass
	// with a length, or a word with a bound that only a quantity can keep.
	ErrDimension = errors.New("wrong dimension")
	// ErrBound says that a bound is missing, doubled or cannot be read.
	ErrBound = errors.New("unclear bound")
	// ErrContradiction says that no value can keep what is asked.
	ErrContradiction = errors.New("contradiction")
	// ErrTwice says that one name stands for two things.
	ErrTwice = errors.New("named twice")
	// ErrCycle says that packs extend each other in a circle.
	ErrCycle = errors.New("packs extend each other in a circle")
	// ErrText says that a text for people is empty, too long, or holds signs
	// that cannot be printed.
	ErrText = errors.New("unusable text")
	// ErrLimit says that there is more of something than the engine takes.
	ErrLimit = errors.New("too many")
	// ErrVocabulary says that a [Definition] is not complete.
	ErrVocabulary = errors.New("incomplete vocabulary")
	// ErrFacts says that facts do not belong to the program's vocabulary, or
	// that a value was set that its measure cannot have.
	ErrFacts = errors.New("facts do not fit")
	// ErrVersion says that a file is in a format that is not known here.
	ErrVersion = errors.New("unknown version")
	// ErrCase says that a case of a pack did not come out as expected; the
	// error is a [*CaseError].
	ErrCase = errors.New("case failed")
	// ErrClause says that a pack and the clauses of its sources do not fit.
	ErrClause = errors.New("pack and clause do not fit")
)

// A NameError is a name that is not known.
type NameError struct {
	Kind       string // what it should have been the name of: "measure"
	Name       string // as written
	In         string // where it was looked for, such as "wheel"; may be empty
	DidYouMean string // the known name that was most likely meant; may be empty
	known      []string
}

// Error gives the name, cut to 40 bytes, and the nearest one or, when there
// are few, all that are known.
func (e *NameError) Error() string {
	out := fmt.Sprintf("%v %s %q", ErrName, e.Kind, word.Clip(e.Name))
	if e.In != "" {
		out += " of " + e.In
	}
	switch {
	case e.DidYouMean != "":
		out += fmt.Sprintf(": did you mean %q?", e.DidYouMean)
	case len(e.known) > 0 && len(e.known) <= 16:
		out += ": want one of " + strings.Join(e.known, ", ")
	}
	return out
}

// Unwrap returns [ErrName].
func (e *NameError) Unwrap() error { return ErrName }

func unknown(kind, name, in string, known []string) error {
	return &NameError{Kind: kind, Name: name, In: in, DidYouMean: word.Nearest(name, known), known: known}
}

// asNameError gives what a codec of words said of an unknown one.
func asNameError(err error) error {
	var e *word.Error
	if !errors.As(err, &e) {
		return err
	}
	return &NameError{Kind: e.Kind, Name: e.Text, DidYouMean: e.Nearest, known: e.Known}
}

// maxName is the longest name taken anywhere.
const maxName = 64

// isName reports whether s is lower-case letters and digits, starting with a
// letter, with sep ('_' or '-') between.
func isName(s string, sep byte) bool {
	if s == "" || len(s) > maxName || s[0] < 'a' || s[0] > 'z' {
		return false
	}
	for i := range len(s) {
		if c := s[i]; (c < 'a' || c > 'z') && (c < '0' || c > '9') && c != sep {
			return false
		}
	}
	return true
}

// isWord is isName for words, which may also start with a digit and hold both
// kinds of separator.
func isWord(s string) bool {
	if s == "" || len(s) > maxName || s[0] == '_' || s[0] == '-' {
		return false
	}
	for i := range len(s) {
		if c := s[i]; (c < 'a' || c > 'z') && (c < '0' || c > '9') && c != '_' && c != '-' {
			return false
		}
	}
	return true
}

func spaced(name string) string { return strings.ReplaceAll(name, "_", " ") }
