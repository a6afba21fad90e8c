package livestock

import (
	"encoding/csv"
	"slices"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestOf(t *testing.T) {
	for words, want := range map[string]Kind{"dwarf shrimp": Shrimp, "Zwerggarnelen": Shrimp, "ramshorn snails": Snail, "nerites": Snail, "small tetras": Shoal, "Panzerwelse": Bottom, "sparkling gourami": Tall, "Prachtbarsche": Tall} {
		if a, ok := Of(words, 3); !ok || !a.Drawn() || a.Kind != want || a.Count != 3 {
			t.Errorf("%s: %+v %v", words, a, ok)
		}
	}
	for _, words := range []string{"", "axolotl", "frogs", "Schildkröte"} {
		if a, _ := Of(words, 2); a.Drawn() {
			t.Errorf("%q is drawn", words)
		}
	}
}

// What animals do to plants, and what copper kills: common knowledge of the trade, from memory. Names that hold the name of
// another animal are the pitfalls.
func TestWhatAnimalsDo(t *testing.T) {
	for does, names := range map[string]string{
		"eats digs": "goldfish, Goldfische, fancy goldfishes, Schleierschwanz-Goldfisch, koi, kois, Karpfen, grass carp, turtle, Wasserschildkröten",
		"eats":      "silver dollars, Scheibensalmler, tinfoil barb, Haibarben, Leporinus, Buenos Aires tetras, scats",
		"eats dies": "apple snail, Apfelschnecken", "eats digs dies": "blue crayfish, Flusskrebse, red-clawed crabs",
		"digs": "axolotl, oscars, cichlid, Buntbarsche, plecos, catfish, Harnischwels, clown loach, Prachtschmerlen, malawis",
		"dies": "shrimp, Garnelen, Amanos, rcs, red cherries, Red Fire, nerites, ramshorns, Posthornschnecken, snails, Muscheln, CPO dwarf crayfish, Zwergkrebse",
		"":     "koi betta, Koi-Kampffisch, Zahnkarpfen, guppies, Mollys, cory catfish, corydoras, Panzerwels, bristlenose pleco, Antennenwelse, otos, Ohrgitterharnischwels, kuhli loaches, Dornaugen, angelfish, Skalare, Schmetterlingsbuntbarsche, tetras, Salmler, scattered fish, cherry barbs, angels",
	} {
		for name := range strings.SplitSeq(names, ", ") {
			if a, ok := Of(name, 0); !ok || a.does() != does {
				t.Errorf("%s: %v, %q, not %q", name, ok, a.does(), does)
			}
		}
	}
}

// An animal that a sheet names is named in the sheet's language, and as its owner wrote it where that is in it already; its own
// names in the table lead to it.
func TestCalledInTheLanguageOfTheSheet(t *testing.T) {
	rows, err := csv.NewReader(strings.NewReader(table)).ReadAll()
	if err != nil || len(animals()) != len(rows)-1 {
		t.Fatal(err, len(animals()))
	}
	for _, r := range rows[1:] {
		if cm, err := strconv.ParseFloat(r[5], 64); err != nil || cm < 0.5 || cm > 30 || r[4] != "" && !slices.Contains(outlineNames, r[4]) {
			t.Errorf("%v: no length or outline", r)
		}
	}
	var named []Animal
	for _, k := range animals() {
		if (k.en == "") != (k.de == "") || (k.Eats || k.Digs) && k.en == "" {
			t.Errorf("%v: named in one language, or not", k.english)
		}
		if k.en != "" {
			named = append(named, k)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		k := rapid.SampledFrom(named).Draw(t, "animal")
		count := rapid.IntRange(0, 9).Draw(t, "count")
		small := rapid.SampledFrom([]string{"", "3 ", "two "}).Draw(t, "before")
		for _, name := range []string{k.en, k.de} {
			a, ok := Of(small+name, count)
			if !ok || a.does() != k.does() {
				t.Fatalf("%q: %v, %q, not %q", name, ok, a.does(), k.does())
			}
			for lang, in := range map[string]string{"en": k.en, "en-GB": k.en, "de": k.de, "de-AT": k.de} {
				if got := a.Called(lang); got != in && (got != small+name || name != in && !a.both(name)) {
					t.Fatalf("%q in %s: %q", name, lang, got)
				}
			}
		}
	})
	for _, c := range []struct{ written, lang, want string }{
		{"Goldfische", "en", "goldfish"}, {"goldfish", "de", "Goldfische"}, {"fancy goldfish", "en-GB", "fancy goldfish"},
		{"Schleierschwanz-Goldfische", "de", "Schleierschwanz-Goldfische"}, {"Flusskrebse", "en", "crayfish"}, {"Oscars", "en", "Oscars"},
	} {
		if a, _ := Of(c.written, 1); a.Called(c.lang) != c.want {
			t.Errorf("%s in %s: %q", c.written, c.lang, a.Called(c.lang))
		}
	}
}

// both reports whether a name is one in both languages, as koi is.
func (a Animal) both(name string) bool {
	return a.english.MatchString(name) && a.german.MatchString(name)
}

// does is what an animal does, in words.
func (a Animal) does() string {
	var out []string
	for _, is := range []struct {
		so   bool
		word string
	}{{a.Eats, "eats"}, {a.Digs, "digs"}, {a.Invertebrate, "dies"}} {
		if is.so {
			out = append(out, is.word)
		}
	}
	return strings.Join(out, " ")
}
