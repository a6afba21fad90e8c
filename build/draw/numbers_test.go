package draw

import (
	"regexp"
	"strconv"
)

type fataler interface{ Fatalf(string, ...any) }

var oneNumber = regexp.MustCompile(`-?(\d+(\.\d)?|\.\d)`)

// numbers reads the numbers of path data.
func numbers(t fataler, s string) []float64 {
	var out []float64
	for _, word := range oneNumber.FindAllString(s, -1) {
		v, err := strconv.ParseFloat(word, 64)
		if err != nil {
			t.Fatalf("%q in %q: %v", word, s, err)
		}
		out = append(out, v)
	}
	return out
}

// match returns the first group of the pattern in s as a number.
func match(t fataler, s, pattern string) float64 {
	m := regexp.MustCompile(pattern).FindStringSubmatch(s)
	if m == nil {
		t.Fatalf("no %s", pattern)
		return 0
	}
	return numbers(t, m[1])[0]
}
