package reckon

import (
	"cmp"
	"slices"
	"strings"

	"slipleaf/build/spelling"
)

// DidYouMean offers the word of a list that is closest to a misspelt one; else the whole list.
func DidYouMean(word string, of []string) string {
	return cmp.Or(spelling.Hint(word, of), "known are "+strings.Join(of, ", "))
}

// Chosen is the place of a name among those that an input may have, whatever its case and spaces. "" is the first of them,
// and so is one that is not known, with an error.
func Chosen(input, name string, of []string) (int, error) {
	plain := strings.ReplaceAll(strings.ToLower(strings.TrimSpace(name)), " ", "-")
	if i := slices.Index(of, plain); i >= 0 || plain == "" {
		return max(i, 0), nil
	}
	return 0, &InputError{Kind: Unknown, Name: input, Value: spelling.Clip(name), Hint: DidYouMean(plain, of)}
}
