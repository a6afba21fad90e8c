package almanac

import "testing"

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
