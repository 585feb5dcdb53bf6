// Package word is the text of types that are one word of a short list.
package word

import (
	"fmt"
	"strconv"
	"strings"
	"unicode/utf8"
)

// Or gives the word of number i, or "not known" for 0 and for a number past
// the list.
func Or(words []string, i int) string {
	if i <= 0 || i >= len(words) {
		return "not known"
	}
	return words[i]
}

// Out gives text as bytes, and empty text for the zero value.
func Out(zero bool, text string) ([]byte, error) {
	if zero {
		return []byte{}, nil
	}
	return []byte(text), nil
}

// In sets v to the number of the word, or gives an error that matches unknown
// and names the words there are.
func In[T ~uint8](v *T, words []string, text []byte, unknown error) error {
	for i, w := range words {
		if w == string(text) {
			*v = T(i)
			return nil
		}
	}
	return fmt.Errorf("%w %s: want one of %s", unknown, Quote(string(text)), strings.Join(words[1:], ", "))
}

// Quote quotes text from outside, and cuts it to 40 bytes before.
func Quote(text string) string { return strconv.Quote(Clip(text)) }

// Clip cuts text from outside to 40 bytes before it is printed.
func Clip(text string) string {
	const most = 40
	if len(text) <= most {
		return text
	}
	cut := most
	for cut > 0 && !utf8.RuneStart(text[cut]) {
		cut--
	}
	return text[:cut] + "…"
}
