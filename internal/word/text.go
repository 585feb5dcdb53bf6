package word

import (
	"strconv"
	"unicode/utf8"
)

// Quote quotes text from outside, and cuts it to 40 bytes before.
func Quote(text string) string { return strconv.Quote(Clip(text)) }

// Clip cuts text from outside to 40 bytes before it is printed, so that a
// hostile file cannot fill the screen.
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

// Nearest returns the candidate that a mistyped word most likely meant, or ""
// when none is near: at most two edits and fewer than half of the letters.
func Nearest(text string, candidates []string) string {
	best, bestDist := "", 3
	if len(text) > 64 {
		return ""
	}
	for _, c := range candidates {
		if len(c) > len(text)+2 || len(text) > len(c)+2 {
			continue
		}
		if d := distance(text, c); d < bestDist && 2*d < max(len(text), len(c)) {
			best, bestDist = c, d
		}
	}
	return best
}

// distance counts insertions, deletions, substitutions and swaps of
// neighbors.
func distance(a, b string) int {
	prev2 := make([]int, len(b)+1)
	prev := make([]int, len(b)+1)
	cur := make([]int, len(b)+1)
	for j := range prev {
		prev[j] = j
	}
	for i := 1; i <= len(a); i++ {
		cur[0] = i
		for j := 1; j <= len(b); j++ {
			cost := 1
			if a[i-1] == b[j-1] {
				cost = 0
			}
			cur[j] = min(prev[j]+1, cur[j-1]+1, prev[j-1]+cost)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				cur[j] = min(cur[j], prev2[j-2]+1)
			}
		}
		prev2, prev, cur = prev, cur, prev2
	}
	return prev[len(b)]
}
