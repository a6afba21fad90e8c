package almanac

import (
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// The short way to fold a name gives what the long way gives, and what is folded stays as it is.
func TestFoldingIsTheSameEitherWay(t *testing.T) {
	a, err := Open()
	if err != nil {
		t.Fatal(err)
	}
	either := func(name string) (string, bool) {
		got := fold(name)
		return got, got == foldAny(strings.ToLower(name)) && fold(got) == got
	}
	short := 0
	for name := range a.names {
		if isFolded(name) {
			short++
		}
		if got, ok := either(name); !ok || got != name {
			t.Errorf("%q is folded to %q", name, got)
		}
	}
	if short < len(a.names)*9/10 {
		t.Errorf("only %d of %d names go the short way", short, len(a.names))
	}
	parts := rapid.SampledFrom([]string{"a", "Ab", "x", "X", "×", " ", "  ", ".", ",", "-", "'", "’", "\"", "“", "_", "ü", "7", "\t", "(", "`"})
	rapid.Check(t, func(t *rapid.T) {
		name := strings.Join(rapid.SliceOfN(parts, 0, 8).Draw(t, "name"), "")
		if got, ok := either(name); !ok {
			t.Fatalf("%q is folded to %q", name, got)
		}
	})
}
