package reckon

import (
	"cmp"
	"strings"

	"slipleaf/build/spelling"
)

// DidYouMean offers the word of a list that is closest to a misspelt one; else the whole list.
func DidYouMean(word string, of []string) string {
	return cmp.Or(spelling.Hint(word, of), "known are "+strings.Join(of, ", "))
}
