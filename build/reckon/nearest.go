package reckon

import (
	"strings"
	"unicode"

	"slipleaf/build/spelling"
)

// DidYouMean offers the word of a list that is closest to a misspelt one; else the whole list.
func DidYouMean(word string, of []string) string {
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
		if d := float64(spelling.Edits(strings.ToLower(word), o)) / float64(max(len(o), 1)); d < best {
			best, at = d, o
		}
	}
	return at
}

// Clip makes a stranger's word short and harmless enough to repeat in a message.
func Clip(s string) string {
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
