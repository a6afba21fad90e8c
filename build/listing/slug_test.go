package listing

import (
	"strings"
	"testing"
	"unicode"

	"pgregory.net/rapid"
)

func TestSlug(t *testing.T) {
	for name, want := range map[string]string{
		"Großes Becken": "grosses-becken", "Ännchens Tümpel": "aennchens-tuempel", "A\u0308nne": "aenne", "Étang à côté": "etang-a-cote", "Łódź": "lodz", "Ada's tank": "adas-tank",
		"Con": "con-1", "nul": "nul-1", "COM1": "com1-1", "com¹": "com", "Lpt9.": "lpt9-1", "aux ": "aux-1", "con.md": "con-md", "tank. . ": "tank", " ..\\..//etc ": "etc", "Rio 180/2": "rio-180-2",
		"": "", "---": "", "水草": "", "水草 60": "60", strings.Repeat("a", 39) + " b": strings.Repeat("a", 39), "İstanbul": "istanbul", "ﬁn": "n",
	} {
		if got := Slug(name); got != want {
			t.Errorf("%q is %q, not %q", name, got, want)
		}
	}
}

// A slug is a name that the reader takes on every system, it stays as it is, and a Latin letter or a digit is enough for one.
func TestSlugsAreNames(t *testing.T) {
	hard := rapid.SampledFrom([]string{"con", "PRN", "nul", "aux", "com1", "LPT³", ".", " ", "..", "/", "\\", ":", "ü", "e\u0301", "水", "a", "-", "7", "\x00", "\xff", "\u202e"})
	rapid.Check(t, func(t *rapid.T) {
		name := strings.Join(rapid.SliceOf(rapid.OneOf(hard, rapid.String())).Draw(t, "parts"), rapid.SampledFrom([]string{"", " "}).Draw(t, "between"))
		s := Slug(name)
		if Slug(s) != s {
			t.Fatalf("%q of %q becomes %q", s, name, Slug(s))
		}
		if s == "" {
			if strings.ContainsFunc(name, func(r rune) bool { return r < unicode.MaxASCII && (unicode.IsLetter(r) || unicode.IsDigit(r)) }) {
				t.Fatalf("%q has no name", name)
			}
			return
		}
		w := &Listing{}
		if !w.named("tanks/"+s, s) || len(s) > longestSlug+2 {
			t.Fatalf("%q of %q: %v", s, name, w.Problems)
		}
	})
}
