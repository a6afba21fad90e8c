package spelling

import (
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"

	"pgregory.net/rapid"
)

// kitten and sitting, 3, is the example of many textbooks (from memory); ca and abc, 3, is where neighbours that are
// swapped may not be changed again (from memory); the rest follow from the definition.
func TestEdits(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want int
	}{
		{"", "", 0}, {"", "abc", 3}, {"abc", "", 3}, {"dGH", "dGH", 0}, {"dG", "dGH", 1}, {"dKH", "dGH", 1}, {"kitten", "sitting", 3}, {"ab", "ba", 1}, {"ca", "abc", 3},
	} {
		if got := Edits(c.a, c.b); got != c.want {
			t.Errorf("%q to %q: %d, want %d", c.a, c.b, got, c.want)
		}
	}
}

// It is symmetric, nothing only for equals, and never more than the longer word.
func TestEditsIsSymmetric(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		word := rapid.StringMatching(`[abc]{0,6}`)
		a, b := word.Draw(t, "a"), word.Draw(t, "b")
		if n := Edits(a, b); n != Edits(b, a) || (n == 0) != (a == b) || n > max(len(a), len(b)) {
			t.Fatalf("%q %q %d", a, b, n)
		}
	})
}

func TestNearest(t *testing.T) {
	words := []string{"title", "grower", "timezone", "hold-for"}
	for s, want := range map[string]string{"titel": "title", "Grower": "grower", "time-zone": "timezone", "x": "", "holdfor": "hold-for", "": ""} {
		if got := Nearest(s, words); got != want {
			t.Errorf("%q: %q, want %q", s, got, want)
		}
	}
}

// What a terminal would act on is in no message: control characters, separators of lines, marks of direction.
func TestClipIsHarmless(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.StringOf(rapid.OneOf(rapid.Rune(), rapid.SampledFrom([]rune("\x1b\a\n\u2028\u2029\u202e\u2066\u200f\ufeff\u0085")))).Draw(t, "s")
		got := Clip(s)
		if strings.ContainsFunc(got, func(r rune) bool { return unicode.In(r, unicode.Cc, unicode.Cf, unicode.Zl, unicode.Zp) }) || utf8.RuneCountInString(got) > clipAt {
			t.Fatalf("%q", got)
		}
	})
}
