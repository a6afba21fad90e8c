package spelling

import (
	"strings"
	"unicode"
)

// Clean takes out of a stranger's words what could move a terminal's cursor, break its lines or turn its direction of
// writing: control characters, line and paragraph separators, marks of direction and other characters without a shape.
// Each becomes a space.
func Clean(s string) string {
	return strings.Map(func(r rune) rune {
		if unicode.In(r, unicode.Cc, unicode.Cf, unicode.Co, unicode.Zl, unicode.Zp) || r == unicode.ReplacementChar {
			return ' '
		}
		return r
	}, s)
}

// clipAt is how many characters a message repeats.
const clipAt = 40

// Clip is [Clean], shortened to what a message repeats.
func Clip(s string) string {
	s = Clean(s)
	if r := []rune(s); len(r) > clipAt {
		return string(r[:clipAt-1]) + "…"
	}
	return s
}
