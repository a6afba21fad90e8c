package words

import "testing"

// What the almanac says in English is marked on pages of other languages, and on none of its own.
func TestEnglishIsMarked(t *testing.T) {
	for _, c := range []struct{ lang, text, want string }{
		{"de", "star & grass", `<span lang="en">star &amp; grass</span>`},
		{"en", "star & grass", `star &amp; grass`}, {"en-GB", "x", "x"}, {"de", "", ""},
	} {
		if got := (Locale{Words: &Words{Lang: c.lang}}).English(c.text); string(got) != c.want {
			t.Errorf("%s %q: %s", c.lang, c.text, got)
		}
	}
}
