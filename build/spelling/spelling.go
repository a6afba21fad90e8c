// Package spelling finds the nearest right spelling of a word and makes a stranger's words fit to be repeated in a
// message. What counts as near is for some lists of words to say: units are short, names of plants are long.
package spelling

import "strings"

// Edits is the number of letters to add, drop, change or swap with a neighbour to make b of a (optimal string alignment;
// Damerau 1964, Levenshtein 1966), on bytes.
func Edits(a, b string) int {
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

// maxWord bounds the words that are compared: a longer one is no misspelling.
const maxWord = 64

// Nearest is the word most like s without regard to capitals, or "" where none is close: at most a third of its letters
// differ. Of two equally near the first wins.
func Nearest(s string, words []string) string {
	if len(s) > maxWord {
		return ""
	}
	s = strings.ToLower(s)
	best, at := max(1, len(s)/3)+1, ""
	for _, w := range words {
		if w == "" || len(w)-len(s) >= best || len(s)-len(w) >= best {
			continue
		}
		if d := Edits(s, strings.ToLower(w)); d < best {
			best, at = d, w
		}
	}
	return at
}

// Hint asks whether the nearest word was meant; "" where none is close.
func Hint(s string, words []string) string {
	if near := Nearest(s, words); near != "" {
		return "did you mean " + near + "?"
	}
	return ""
}
