// Package spelling measures how far two spellings lie apart, so that a complaint can offer the nearest right one. What
// counts as near is for each list of words to say: units are short, names of plants are long.
package spelling

// Edits is the number of single letters to change, add or leave out to make b of a (Levenshtein 1966), on bytes.
func Edits(a, b string) int {
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
