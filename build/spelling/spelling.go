// Package spelling finds the nearest right spelling of a word and makes a stranger's words fit to be repeated in a
// message. What counts as near is for some lists of words to say: units are short, names of plants are long.
package spelling

import "strings"

// Edits is the number of slips between a and b: single letters changed, added or left out, and two neighbours swapped
// (Damerau 1964; each letter takes part in one slip), on bytes.
func Edits(a, b string) int { return Within(a, b, len(a)+len(b)) }

// Within is [Edits] as far as it is at most limit, and more than limit otherwise. It looks only at what can be that near.
func Within(a, b string, limit int) int {
	if d := len(a) - len(b); d > limit || -d > limit {
		return limit + 1
	}
	var room [3][64]int
	rows := [3][]int{room[0][:], room[1][:], room[2][:]}
	if len(b) >= len(rows[0]) {
		for i := range rows {
			rows[i] = make([]int, len(b)+1)
		}
	}
	older, old, row := rows[0], rows[1], rows[2]
	for j := 0; j <= len(b); j++ {
		old[j] = j
	}
	for i := 1; i <= len(a); i++ {
		lo, hi := max(1, i-limit), min(len(b), i+limit)
		row[lo-1] = limit + 1
		if lo == 1 {
			row[0] = i
		}
		best := row[lo-1]
		for j := lo; j <= hi; j++ {
			row[j] = slip(a, b, i, j, older, old, row)
			best = min(best, row[j])
		}
		if best > limit {
			return limit + 1
		}
		if hi < len(b) {
			row[hi+1] = limit + 1
		}
		older, old, row = old, row, older
	}
	return min(old[len(b)], limit+1)
}

// slip is the distance between the first i bytes of a and the first j of b, from the rows before.
func slip(a, b string, i, j int, older, old, row []int) int {
	cost := 1
	if a[i-1] == b[j-1] {
		cost = 0
	}
	d := min(old[j-1]+cost, old[j]+1, row[j-1]+1)
	if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
		d = min(d, older[j-2]+1)
	}
	return d
}

// maxWord bounds the words that are compared: a longer one is no misspelling.
const maxWord = 64

// maxWords is with how many words one is compared: with more it takes longer than a hint is worth.
const maxWords = 5000

// Nearest is the word most like s without regard to capitals, or "" where none is close: at most a third of its letters
// differ. Of two equally near the first wins.
func Nearest(s string, words []string) string {
	if len(s) > maxWord {
		return ""
	}
	s = strings.ToLower(s)
	best, at := max(1, len(s)/3)+1, ""
	for _, w := range words[:min(len(words), maxWords)] {
		if w == "" || len(w)-len(s) >= best || len(s)-len(w) >= best {
			continue
		}
		if d := Within(s, strings.ToLower(w), best-1); d < best {
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
