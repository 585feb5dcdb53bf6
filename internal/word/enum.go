package word

import (
	"errors"
	"fmt"
	"strings"
)

// Err says that a word is none of those that may stand there.
var Err = errors.New("unknown word")

// Parse finds text among the words; the index of words[0], "", is never given.
func Parse[T ~uint8](kind, text string, words []string) (T, error) {
	for i, w := range words {
		if i > 0 && w == text {
			return T(i), nil
		}
	}
	return 0, fmt.Errorf("%w %q for %s: want one of %s", Err, Clip(text), kind, strings.Join(words[1:], ", "))
}

// Of gives the word of v, or "not known".
func Of[T ~uint8](v T, words []string) string {
	if int(v) >= len(words) || v == 0 {
		return "not known"
	}
	return words[v]
}

// Marshal gives the word of v; zero gives [Err].
func Marshal[T ~uint8](v T, kind string, words []string) ([]byte, error) {
	if int(v) >= len(words) || v == 0 {
		return nil, fmt.Errorf("%w %d for %s", Err, uint8(v), kind)
	}
	return []byte(words[v]), nil
}
