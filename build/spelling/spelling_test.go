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

// plain is the definition, without any shortcut.
func plain(a, b string) int {
	d := make([][]int, len(a)+1)
	for i := range d {
		d[i] = make([]int, len(b)+1)
		d[i][0] = i
		for j := range d[i] {
			switch {
			case i == 0:
				d[i][j] = j
			case j > 0:
				cost := 1
				if a[i-1] == b[j-1] {
					cost = 0
				}
				d[i][j] = min(d[i-1][j]+1, d[i][j-1]+1, d[i-1][j-1]+cost)
				if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
					d[i][j] = min(d[i][j], d[i-2][j-2]+1)
				}
			}
		}
	}
	return d[len(a)][len(b)]
}

// A distance is symmetric, nothing only for equals, as defined, and cut off above its limit.
func TestEditsIsAsDefined(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		word := rapid.StringMatching(`[abc]{0,8}`)
		a, b, limit := word.Draw(t, "a"), word.Draw(t, "b"), rapid.IntRange(0, 9).Draw(t, "limit")
		want := plain(a, b)
		if Edits(a, b) != want || Edits(b, a) != want || (want == 0) != (a == b) {
			t.Fatalf("%q %q: %d and %d, want %d", a, b, Edits(a, b), Edits(b, a), want)
		}
		if got := Within(a, b, limit); got != min(want, limit+1) {
			t.Fatalf("%q %q within %d: %d, want %d", a, b, limit, got, min(want, limit+1))
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
