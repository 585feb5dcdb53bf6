package cargo_test

import (
	"encoding"
	"errors"
	"fmt"
	"testing"

	"axleend.example/weight"
	"axleend.example/weight/cargo"
)

// wordsOf checks that every word of a type reads back as itself, and that
// nothing else is taken.
func wordsOf[T interface {
	comparable
	fmt.Stringer
	encoding.TextMarshaler
}, P interface {
	*T
	encoding.TextUnmarshaler
}](t *testing.T, words ...T) {
	t.Helper()
	var zero T
	seen := map[string]bool{}
	for _, w := range append(words, zero) {
		text, err := w.MarshalText()
		if err != nil || seen[string(text)] || (w == zero) != (len(text) == 0) {
			t.Errorf("%T %v: %q twice, or %v", w, w, text, err)
		}
		seen[string(text)] = true
		var got T
		if err := P(&got).UnmarshalText(text); err != nil || got != w {
			t.Errorf("%q reads back as %v, %v", text, got, err)
		}
		if (w.String() == "not known") != (w == zero) {
			t.Errorf("%T %q", w, w)
		}
	}
	if err := P(&zero).UnmarshalText([]byte("neither of them, and rather long for a word of a list")); !errors.Is(err, weight.ErrWord) || len(err.Error()) > 400 {
		t.Errorf("%T: an unknown word gives %v", zero, err)
	}
}

func TestWords(t *testing.T) {
	wordsOf(t, cargo.NCC, cargo.CCC, cargo.OCCC)
	wordsOf(t, cargo.NothingToMove, cargo.Best, cargo.BestFound, cargo.MustStay, cargo.MustStayFound, cargo.Hopeless, cargo.NotSettled)
	for _, w := range []fmt.Stringer{cargo.OCCC + 1, cargo.NotSettled + 1} {
		if w.String() != "not known" {
			t.Errorf("%T: the word after the last is %q", w, w)
		}
	}
}
