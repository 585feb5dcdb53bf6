package history

import "strings"

// numbersDiffer reports whether two numbers cannot be of one tire. A date code
// or a part may be of the longer number that holds it.
func numbersDiffer(a, b string) bool {
	return a != "" && b != "" && !strings.Contains(a, b) && !strings.Contains(b, a)
}

// dateSymbols is how many symbols a date code has: among so few, two that differ
// mostly mean another date.
const dateSymbols = 4

// symbolsApart is by how many symbols two texts differ if one is a misreading of the
// other: one or two that are different, missing or too many; for a date code or a part
// beside a whole number, one of its last symbols. Two neighbors that changed places are
// one slip. It is 0 where they differ by more, or not at all.
func symbolsApart(a, b string) int {
	a, b, most := endings(a, b)
	if swapped(a, b) {
		return 1
	}
	for n := 1; a != b && n <= most; n++ {
		if within(a, b, n) {
			return n
		}
	}
	return 0
}

// endings gives the shorter of two texts and what of the other is compared with it, and by
// how many symbols they may differ.
func endings(a, b string) (short, other string, most int) {
	if len(a) > len(b) {
		a, b = b, a
	}
	if a != "" && len(a) <= dateSymbols {
		return a, b[len(b)-len(a):], 1
	}
	return a, b, 2
}

// wordsApart says what a misreading would have changed, "" where it is none.
func wordsApart(a, b string) string {
	short, other, _ := endings(a, b)
	switch n := symbolsApart(a, b); {
	case n == 0:
		return ""
	case swapped(short, other):
		return "two neighbors swapped"
	case n == 1:
		return "one symbol apart"
	}
	return "two symbols apart"
}

// swapped reports whether two texts differ by two neighbors that changed places.
func swapped(a, b string) bool {
	for len(a) > 2 && len(a) == len(b) && a[0] == b[0] {
		a, b = a[1:], b[1:]
	}
	return len(a) > 1 && len(a) == len(b) && a[0] != a[1] && a[0] == b[1] && a[1] == b[0] && a[2:] == b[2:]
}

// within reports whether at most n symbols of two texts are different, missing or too
// many.
func within(a, b string, n int) bool {
	for a != "" && b != "" && a[0] == b[0] {
		a, b = a[1:], b[1:]
	}
	switch {
	case a == "" || b == "":
		return len(a)+len(b) <= n
	case n == 0:
		return false
	}
	return within(a[1:], b[1:], n-1) || within(a[1:], b, n-1) || within(a, b[1:], n-1)
}
