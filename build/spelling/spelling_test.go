package spelling

import (
	"testing"

	"pgregory.net/rapid"
)

// kitten and sitting, 3, is the example of many textbooks (from memory); the rest follow from the definition.
func TestEdits(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want int
	}{
		{"", "", 0}, {"", "abc", 3}, {"abc", "", 3}, {"dGH", "dGH", 0}, {"dG", "dGH", 1}, {"dKH", "dGH", 1}, {"kitten", "sitting", 3}, {"ab", "ba", 2},
	} {
		if got := Edits(c.a, c.b); got != c.want {
			t.Errorf("%q to %q: %d, want %d", c.a, c.b, got, c.want)
		}
	}
}

// A distance is symmetric, nothing only for equals, and no longer by way of a third.
func TestEditsIsADistance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		word := rapid.StringMatching(`[abc]{0,6}`)
		a, b, c := word.Draw(t, "a"), word.Draw(t, "b"), word.Draw(t, "c")
		if Edits(a, b) != Edits(b, a) || (Edits(a, b) == 0) != (a == b) || Edits(a, c) > Edits(a, b)+Edits(b, c) {
			t.Fatalf("%q %q %q", a, b, c)
		}
	})
}
