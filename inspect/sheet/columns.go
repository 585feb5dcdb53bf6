package sheet

import (
	"strings"
	"unicode"
)

// A wide character takes two columns of a terminal: East Asian Width W or F of
// Unicode Standard Annex 11, in blocks (from memory; a block's few narrow
// characters count as wide too, so that a line comes out shorter, never
// longer).
var wide = [...][2]rune{
	{0x1100, 0x115F}, {0x231A, 0x231B}, {0x23E9, 0x23F3}, {0x25FD, 0x25FE}, {0x2614, 0x2615}, {0x2648, 0x2653},
	{0x267F, 0x26FF}, {0x2705, 0x2728}, {0x274C, 0x2757}, {0x2795, 0x27BF}, {0x2B1B, 0x2B55}, {0x2E80, 0x303E},
	{0x3041, 0xA4CF}, {0xA960, 0xA97C}, {0xAC00, 0xD7A3}, {0xF900, 0xFAFF}, {0xFE10, 0xFE19}, {0xFE30, 0xFE6F},
	{0xFF00, 0xFF60}, {0xFFE0, 0xFFE6}, {0x16FE0, 0x18DFF}, {0x1AFF0, 0x1B2FF}, {0x1F000, 0x1FAFF}, {0x20000, 0x3FFFD},
}

// runeColumns is how many columns of a terminal a character takes: none for
// one that joins the character before it.
func runeColumns(r rune) int {
	if r < 0x300 {
		return 1
	}
	if unicode.In(r, unicode.Mn, unicode.Me, unicode.Cf) {
		return 0
	}
	for _, block := range wide {
		if r <= block[1] {
			if r >= block[0] {
				return 2
			}
			break
		}
	}
	return 1
}

func columns(text string) int {
	n := 0
	for _, r := range text {
		n += runeColumns(r)
	}
	return n
}

// breakAt says where to break a line so that it fits: text[:cut] is the line,
// and text[next:] goes on. It breaks at a space where one stands beyond a
// third of the room, else inside the word, and always gets on by a character.
func breakAt(text string, room int) (cut, next int) {
	used, space := 0, -1
	for i, r := range text {
		used += runeColumns(r)
		if r == ' ' && used > room/3 {
			space = i
		}
		if used <= room {
			continue
		}
		cut = i
		if space > 0 {
			cut = space
		}
		if cut == 0 {
			cut = len(string(r))
		}
		next = cut
		for next < len(text) && text[next] == ' ' {
			next++
		}
		return cut, next
	}
	return len(text), len(text)
}

// plain puts a space for every control character, line break and mark that
// turns the direction of text around: what people wrote in a visit must not
// steer the terminal or reorder the page.
func plain(text string) string {
	clean := true
	for i := range len(text) { // most text is plain ASCII
		if c := text[i]; c < ' ' || c > '~' {
			clean = false
			break
		}
	}
	if clean {
		return text
	}
	return strings.Map(func(r rune) rune {
		switch {
		case unicode.IsControl(r), r == '\u2028', r == '\u2029', r >= '\u202A' && r <= '\u202E', r >= '\u2066' && r <= '\u2069':
			return ' '
		}
		return r
	}, text)
}
