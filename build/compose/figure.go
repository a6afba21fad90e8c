package compose

import (
	"regexp"
	"strings"
)

var (
	decimals = regexp.MustCompile(`^(<?[0-9]*)[.,]([0-9]+)$`)
	figure   = regexp.MustCompile(`^<?[0-9]+(\.[0-9]+)?$`)
)

// Number is a figure as the format writes it: with a point, and without zeros at its end.
func Number(s string) string {
	s = strings.TrimSpace(s)
	m := decimals.FindStringSubmatch(s)
	if m == nil {
		return s
	}
	if m[1] == "" || m[1] == "<" {
		m[1] += "0"
	}
	if rest := strings.TrimRight(m[2], "0"); rest != "" {
		return m[1] + "." + rest
	}
	return m[1]
}

// WithUnit gives a bare figure its unit; whatever else was typed is left for the reader to judge.
func WithUnit(s, unit string) string {
	if s = Number(s); figure.MatchString(s) {
		return strings.TrimSpace(s + " " + unit)
	}
	return s
}
