package page_test

import (
	"strings"
	"testing"

	"slipleaf/build/almanac"
)

// On a plant's page, every figure of every plant says on which basis it is known, in at most three words of either language.
func TestTheBasisIsThreeWords(t *testing.T) {
	a, err := almanac.Open()
	if err != nil {
		t.Fatal(err)
	}
	keys := map[string]string{almanac.OwnFigure: "own", almanac.Seen: "seen", almanac.SecondHand: "second-hand", almanac.Memory: "memory", almanac.CommonPractice: "common-practice"}
	columns := strings.Fields("temperature ph gh kh light light-good co2 height spread spacing growth melts feeding placement habit propagation weediness rgr cutting-size melt-note conversion-note hardy-note")
	n := 0
	for _, lang := range []string{"en", "de"} {
		words := sentences(t, "words/"+lang+".yaml")
		for _, s := range a.All() {
			for _, c := range columns {
				basis := s.Basis(c)
				if basis == "" {
					continue
				}
				n++
				said := words["basis."+keys[basis]]
				if many := len(strings.Fields(said)); many == 0 || many > 3 {
					t.Errorf("%s of %s in %s: %q says %q", c, s.ID, lang, basis, said)
				}
			}
		}
	}
	if n < 5000 {
		t.Errorf("%d figures only", n)
	}
}
