// Package word is the text of types that are one word of a short list: how they
// are read, how they are written, and what an unknown word is answered with.
//
//	var sides = word.List[Side]{Words: []string{"", "left", "right"}, Unknown: ErrSide}
//	s, err := sides.Parse("lfet")     // unknown side "lfet": did you mean "left"?
//	text, err := sides.Append(nil, s) // and Read takes it back
package word

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// Err says that a word is none of those that may stand there: the Unknown of lists
// without a cause of their own.
var Err = errors.New("unknown word")

// A List is the words of a type, by number. One rule holds for the zero value:
// where its word is empty, it says nothing, is "not known" to people, and is
// written as empty text, which reads back as it. Where it has a word, that is
// written, and empty text is refused.
type List[T ~uint8] struct {
	Kind    string   // what the word is for, as errors name it: "role"; may be empty
	Words   []string // of each number, from that of the zero value on
	Unknown error    // what errors match
}

// notKnown is what people read of a value without a word.
const notKnown = "not known"

// has reports whether v has a word, or says nothing.
func (l List[T]) has(v T) bool {
	return int(v) < len(l.Words) && (v == 0 || l.Words[v] != "")
}

// String gives the word of v, or "not known".
func (l List[T]) String(v T) string {
	if !l.has(v) || l.Words[v] == "" {
		return notKnown
	}
	return l.Words[v]
}

// Append appends the word of v: nothing for a zero value that says nothing. A
// number past the list is an error that matches Unknown.
func (l List[T]) Append(dst []byte, v T) ([]byte, error) {
	if !l.has(v) {
		return dst, fmt.Errorf("%w %d%s", l.Unknown, uint8(v), forKind(l.Kind))
	}
	return append(dst, l.Words[v]...), nil
}

// Text is [List.Append] to nothing, for MarshalText; the text is never nil.
func (l List[T]) Text(v T) ([]byte, error) {
	if !l.has(v) {
		return l.Append(nil, v)
	}
	return []byte(l.Words[v]), nil
}

// Parse reads a word that somebody wrote, exactly. Empty text is none. The error
// is an [*Error].
func (l List[T]) Parse(text string) (T, error) {
	if i := slices.Index(l.Words, text); i >= 0 && text != "" {
		return T(i), nil
	}
	known := slices.DeleteFunc(slices.Clone(l.Words), func(w string) bool { return w == "" })
	near := Nearest(text, known)
	if near == "" {
		near = begun(text, known)
	}
	return 0, &Error{Kind: l.Kind, Text: text, Nearest: near, Known: known,
		Err: fmt.Errorf("%w %s%s", l.Unknown, Quote(text), forKind(l.Kind))}
}

// begun gives the only candidate whose first word text is: rubber of rubber snap-in.
func begun(text string, candidates []string) string {
	only := ""
	for _, c := range candidates {
		if first, _, more := strings.Cut(c, " "); more && strings.EqualFold(first, text) {
			if only != "" {
				return ""
			}
			only = c
		}
	}
	return only
}

// Read sets v to what [List.Append] wrote, for UnmarshalText. The error is an
// [*Error], and leaves v as it was.
func (l List[T]) Read(v *T, text []byte) error {
	if len(text) == 0 && len(l.Words) > 0 && l.Words[0] == "" {
		*v = 0
		return nil
	}
	got, err := l.Parse(string(text))
	if err == nil {
		*v = got
	}
	return err
}

// All returns the values that have a word, in order.
func (l List[T]) All() []T {
	var out []T
	for i, w := range l.Words {
		if w != "" {
			out = append(out, T(i))
		}
	}
	return out
}

// An Error is a word that is none of those wanted.
type Error struct {
	Kind    string   // what it was for: "role"; may be empty
	Text    string   // as written
	Nearest string   // the word that was most likely meant, or ""
	Known   []string // all that would have been taken
	Err     error    // what was unknown, without what would have been taken
}

func forKind(kind string) string {
	if kind == "" {
		return ""
	}
	return " for " + kind
}

// mostListed is how many words an error lists.
const mostListed = 16

// Error gives the word, cut to 40 bytes, and the nearest one or, when there are
// few, all that are known.
func (e *Error) Error() string {
	out := e.Err.Error()
	switch {
	case e.Nearest != "":
		out += ": did you mean " + strconv.Quote(e.Nearest) + "?"
	case len(e.Known) > 0 && len(e.Known) <= mostListed:
		out += ": want one of " + strings.Join(e.Known, ", ")
	}
	return out
}

// Unwrap returns Err, which matches what the list's errors match.
func (e *Error) Unwrap() error { return e.Err }
