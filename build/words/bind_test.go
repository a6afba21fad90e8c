package words

import (
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// What is not put to the expression has nothing for it to find.
func TestBindLooksWhereTheExpressionDoes(t *testing.T) {
	part := rapid.SampledFrom([]string{"5", "}", "{n}", " ", "\u00a0", "%", "cm", "mg/L", "°C", "{floor}", "a", "m", ".", "7,5", "é"})
	rapid.Check(t, func(t *rapid.T) {
		s := strings.Join(rapid.SliceOf(part).Draw(t, "parts"), "")
		if got, want := Bind(s), unitGap.ReplaceAllString(s, "$1\u00a0$2$3"); got != want {
			t.Fatalf("%q: %q, not %q", s, got, want)
		}
	})
}
