package almanac_test

import (
	"regexp"
	"strings"
	"testing"

	"slipleaf/build/almanac"
)

// What is said of a plant's care names no other plant: a clause about another genus would be read as being about this one.
func TestCareNamesNoOtherPlant(t *testing.T) {
	a, err := almanac.Open()
	if err != nil {
		t.Fatal(err)
	}
	own := map[string]map[string]bool{} // a genus or an everyday name → the species that bear it
	bear := func(name, taxon string) {
		if name = strings.ToLower(name); len(name) > 4 {
			if own[name] == nil {
				own[name] = map[string]bool{}
			}
			own[name][taxon] = true
		}
	}
	for _, s := range a.All() {
		bear(strings.Fields(s.Taxon)[0], s.Taxon)
		bear(s.Common, s.Taxon)
		bear(s.Spoken("de").Common, s.Taxon)
	}
	var names []string
	for n := range own {
		names = append(names, regexp.QuoteMeta(n))
	}
	word := regexp.MustCompile(`(?i)(?:^|[^\pL])(` + strings.Join(names, "|") + `)(?:[^\pL]|$)`)
	checked := 0
	for _, s := range a.All() {
		c := s.Care
		if c == nil {
			continue
		}
		checked++
		for _, p := range []almanac.Phrase{c.Place, c.Normal, c.Alarm, c.Trim, c.Propagate, c.Never} {
			for _, text := range []string{p.EN, p.DE} {
				for _, m := range word.FindAllStringSubmatch(text, -1) {
					if !own[strings.ToLower(m[1])][s.Taxon] {
						t.Errorf("%s: %q is another plant in %q", s.Taxon, m[1], text)
					}
				}
			}
		}
	}
	if checked < 100 {
		t.Errorf("only %d plants have words of care", checked)
	}
}

// What is said of a genus or a species alone is said of it.
func TestCareOfOneGenus(t *testing.T) {
	a, err := almanac.Open()
	if err != nil {
		t.Fatal(err)
	}
	for id, says := range map[string]string{"leptochilus-pteropus": "plantlets from old leaves", "nymphoides-aquatica": "leaf with its stalk", "echinodorus-major": "seed", "crinum-thaianum": "side bulbs", "potamogeton-wrightii": "rhizome", "trapa-natans": "nut"} {
		s, ok := a.Species(id)
		if !ok || !strings.Contains(s.Care.Propagate.EN, says) {
			t.Errorf("%s is not said to have %q", id, says)
		}
	}
	for id, part := range map[string]string{"anubias-barteri": "frond", "aponogeton-crispus": "flower stalk"} {
		if s, ok := a.Species(id); !ok || strings.Contains(s.Care.Propagate.EN, part) {
			t.Errorf("%s is said to have %q", id, part)
		}
	}
}
