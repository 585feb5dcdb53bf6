package strictyaml

import "axleend.example/internal/problem"

// Clip is [problem.Clip].
func Clip(s string) string { return problem.Clip(s) }

// Nearest returns the candidate that a mistyped word most likely meant, or ""
// when none is near: at most two edits and fewer than half of the letters.
func Nearest(word string, candidates []string) string {
	best, bestDist := "", 3
	if len(word) > 64 {
		return ""
	}
	for _, c := range candidates {
		if len(c) > len(word)+2 || len(word) > len(c)+2 {
			continue
		}
		if d := distance(word, c); d < bestDist && 2*d < max(len(word), len(c)) {
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
