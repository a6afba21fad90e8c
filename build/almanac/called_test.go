package almanac

import (
	"strings"
	"testing"
)

func TestTheCommonNameComesFirst(t *testing.T) {
	for _, c := range []struct {
		s    Species
		want string
	}{
		{Species{ID: "a-b", Taxon: "Aa bb", Common: "bee"}, "bee (Aa bb)"}, {Species{ID: "a-b", Taxon: "Aa bb"}, "Aa bb"},
		{Species{ID: "a-b", Common: "bee"}, "bee"}, {Species{ID: "a-b"}, "a-b"}, {Species{ID: "a-b", Taxon: "Aa bb", Common: "Aa bb"}, "Aa bb"},
	} {
		if got := c.s.Called(); got != c.want {
			t.Errorf("%+v: %s, want %s", c.s, got, c.want)
		}
	}
}

// A plant's plain name is a name: what else a table remarks of it is elsewhere.
func TestPlainNamesHaveNoRemarks(t *testing.T) {
	for _, s := range openEmbedded(t).All() {
		for _, name := range []string{s.Common, s.Spoken("de").Common} {
			if strings.ContainsAny(name, "()[];") {
				t.Errorf("%s is called %q", s.ID, name)
			}
		}
	}
}
