package reckon

import (
	"strings"
	"unicode"
)

// didYouMean offers the word of a list that is closest to a misspelt one; else the whole list.
func didYouMean(word string, of []string) string {
	if n := nearest(word, of); n != "" {
		return "did you mean " + n + "?"
	}
	return "known are " + strings.Join(of, ", ")
}

// nearest gives the word that is fewest edits away, if that is under half of its length; else "".
func nearest(word string, of []string) string {
	best, at := 0.5, ""
	if len(word) > 64 {
		return ""
	}
	for _, o := range of {
		if d := float64(edits(strings.ToLower(word), o)) / float64(max(len(o), 1)); d < best {
			best, at = d, o
		}
	}
	return at
}

// edits counts the single-letter changes between two words (Levenshtein 1966), on bytes.
func edits(a, b string) int {
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := 1; i <= len(a); i++ {
		diag := row[0]
		row[0] = i
		for j := 1; j <= len(b); j++ {
			cost := 1
			if a[i-1] == b[j-1] {
				cost = 0
			}
			diag, row[j] = row[j], min(row[j]+1, row[j-1]+1, diag+cost)
		}
	}
	return row[len(b)]
}

// clip makes a stranger's word short and harmless enough to repeat in a message.
func clip(s string) string {
	s = strings.Map(func(r rune) rune {
		if unicode.IsControl(r) || r == unicode.ReplacementChar {
			return ' '
		}
		return r
	}, s)
	if r := []rune(s); len(r) > 40 {
		return string(r[:39]) + "…"
	}
	return s
}
