package journal

import (
	"strings"
	"unicode"
)

// nearest is the word most like s, or "" where none is close: at most a third of its letters differ. Of two equally
// near the first wins.
func nearest(s string, words []string) string {
	if len(s) > 64 {
		return ""
	}
	s = strings.ToLower(s)
	best, at := max(1, len(s)/3)+1, ""
	for _, w := range words {
		if w == "" || len(w)-len(s) >= best || len(s)-len(w) >= best {
			continue
		}
		if d := distance(s, strings.ToLower(w)); d < best {
			best, at = d, w
		}
	}
	return at
}

// distance counts the letters to add, drop, change or swap with a neighbour to make b of a (optimal string alignment;
// Damerau 1964, Levenshtein 1966), on bytes.
func distance(a, b string) int {
	prev, row, next := make([]int, len(b)+1), make([]int, len(b)+1), make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := 1; i <= len(a); i++ {
		next[0] = i
		for j := 1; j <= len(b); j++ {
			cost := 1
			if a[i-1] == b[j-1] {
				cost = 0
			}
			next[j] = min(row[j]+1, next[j-1]+1, row[j-1]+cost)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				next[j] = min(next[j], prev[j-2]+1)
			}
		}
		prev, row, next = row, next, prev
	}
	return row[len(b)]
}

// clip shortens what a complaint repeats, and takes control characters out of it.
func clip(s string) string {
	s = strings.Map(func(r rune) rune {
		if unicode.IsControl(r) {
			return ' '
		}
		return r
	}, s)
	if r := []rune(s); len(r) > 40 {
		return string(r[:39]) + "…"
	}
	return s
}
