package almanac

import (
	"slices"
	"strings"
	"testing"
)

var kinds = []Kind{Stem, ClingingStem, BranchingStem, StemCarpet, RunnerCarpet, RunnerRosette, PlantletRosette, Crypt,
	Tuft, Rhizome, RootingRhizome, Bulb, WaterLily, FloatingLeaved, Moss, Liverwort, LooseLiverwort, Weighted, Marimo,
	Bladderwort, FloatingRosette, FloatingFrond, FloatingStem, FrondPlantlets, Emersed, Annual}

// Every kind that a row of the traits has is handled in words, in both languages, and none of them is there for nothing.
func TestEveryKindIsUsedAndSaid(t *testing.T) {
	a := openEmbedded(t)
	used := map[Kind]bool{}
	for _, s := range a.All() {
		used[s.Kind] = true
		if s.Care == nil || s.Care.Kind != s.Kind {
			t.Errorf("%s: kind %q has no care", s.ID, s.Kind)
		}
	}
	for _, k := range kinds {
		c := a.care[k]
		if !used[k] || c == nil {
			t.Errorf("kind %q: used %v, care %v", k, used[k], c != nil)
			continue
		}
		for _, p := range []Phrase{c.Place, c.Normal, c.Alarm, c.Trim, c.Propagate, c.Never} {
			if p.EN == "" || p.DE == "" || p.In("de-AT") != p.DE || p.In("en-GB") != p.EN || p.In("fr") != p.EN {
				t.Errorf("%s: %+v", k, p)
			}
			if strings.ContainsAny(p.EN+p.DE, "'\"") {
				t.Errorf("%s: plain quotes in %q or %q", k, p.EN, p.DE)
			}
		}
	}
	if a.care["hedge"] != nil {
		t.Error("there is care for a kind that is none")
	}
}

// Single traits against their published sources.
func TestTraits(t *testing.T) {
	a := openEmbedded(t)
	of := func(id string) Species {
		s, ok := a.Species(id)
		if !ok {
			t.Fatalf("no %s", id)
		}
		return s
	}
	if s := of("lobelia-cardinalis"); s.Poison.Part != "all" || !slices.Equal(s.Poison.Harms, []string{"people", "cats", "dogs"}) {
		t.Errorf("Lobelia cardinalis: %+v", s.Poison) // lobeline: Univ. of Pennsylvania, poisonous plants
	}
	if s := of("ranunculus-inundatus"); s.Poison.Part != "sap" {
		t.Errorf("Ranunculus inundatus: %+v", s.Poison) // protoanemonin
	}
	if s := of("bacopa-caroliniana"); s.Poison.Known() || s.Poison.Part != "none known" {
		t.Errorf("Bacopa caroliniana: %+v", s.Poison)
	}
	if s := of("vallisneria-americana"); s.Salt != 12 { // Twilley & Barko 1990
		t.Errorf("Vallisneria americana: %v", s.Salt)
	}
	if s := of("rotala-macrandra"); s.Salt != 0 || s.Bicarbonate {
		t.Errorf("Rotala macrandra: %v, %v", s.Salt, s.Bicarbonate)
	}
	if s := of("egeria-densa"); !s.Bicarbonate {
		t.Error("Egeria densa takes no bicarbonate")
	}
	if s := of("fontinalis-antipyretica"); s.Bicarbonate { // Bain & Proctor 1980
		t.Error("Fontinalis antipyretica takes bicarbonate")
	}
	if s := of("anubias-barteri"); s.Kind != Rhizome {
		t.Errorf("Anubias barteri: %v", s.Kind)
	}
}

// The kind of a plant that only the grower's file knows follows its habit, and a habit of its own overrules the almanac.
func TestKindOfAnOwnPlant(t *testing.T) {
	a := openEmbedded(t)
	for _, c := range []struct {
		name, id, taxon string
		own             Profile
		want            Kind
	}{
		{"a cultivar is handled as its species", "petite", "Anubias barteri 'Petite'", Profile{}, Rhizome},
		{"an unknown crypt", "c-x", "Cryptocoryne nobodyi", Profile{Habit: "rosette"}, Crypt},
		{"an unknown sword", "e-x", "Echinodorus nobodyi", Profile{}, PlantletRosette},
		{"an unknown sword on wood", "e-x", "Echinodorus nobodyi", Profile{Habit: "rhizome"}, Rhizome},
		{"a genus of two ways", "l-x", "Lemna nobodyi", Profile{Habit: "floating"}, FloatingRosette},
		{"an unknown rosette", "x-y", "Nonsensia plantarum", Profile{Habit: "rosette"}, RunnerRosette},
		{"an unknown fern on wood", "x-y", "Nonsensia plantarum", Profile{Habit: "fern", Placement: "hardscape"}, Rhizome},
		{"an unknown fern", "x-y", "Nonsensia plantarum", Profile{Habit: "fern"}, FrondPlantlets},
		{"nothing known", "x-y", "Nonsensia plantarum", Profile{}, NoKind},
		{"the almanac's habit over again", "riccia-fluitans", "", Profile{Habit: "moss"}, LooseLiverwort},
		{"grown otherwise", "riccia-fluitans", "", Profile{Habit: "floating"}, FloatingRosette},
	} {
		s := a.Introduce(c.id, c.taxon, "", c.own)
		if s.Kind != c.want || (s.Care == nil) != (c.want == NoKind) || s.Care != nil && s.Care.Kind != c.want {
			t.Errorf("%s: %q", c.name, s.Kind)
		}
	}
}

// Who reads English gets the English name, also of a grower whose journal is German.
func TestNamesAreSaidInEitherLanguage(t *testing.T) {
	german := 0
	for _, s := range openEmbedded(t).All() {
		de := s.Spoken("de-AT")
		if de.CommonIn == "" {
			continue
		}
		german++
		if back := de.Spoken("en"); back.Common != s.Common || back.CommonIn != "en" {
			t.Errorf("%s: %q (%s) in English, not %q", s.Taxon, back.Common, back.CommonIn, s.Common)
		}
		if again := de.Spoken("en").Spoken("de"); again.Common != de.Common || again.CommonIn != "de" {
			t.Errorf("%s: %q in German, not %q", s.Taxon, again.Common, de.Common)
		}
	}
	if german < 50 {
		t.Errorf("only %d German names", german)
	}
}

// A German name is one that growers use: it is among the everyday names of the plant.
func TestGermanNamesAreEverydayNames(t *testing.T) {
	a := openEmbedded(t)
	means := map[string][]string{}
	for _, e := range a.Everyday() {
		means[e.Name] = append(means[e.Name], e.Taxa...)
	}
	n := 0
	for _, s := range a.All() {
		de := s.Spoken("de-AT")
		if de.CommonIn == "" {
			continue
		}
		n++
		if !slices.Contains(means[de.Common], s.Taxon) {
			t.Errorf("%s: %q is not among its everyday names", s.Taxon, de.Common)
		}
		if s.Spoken("en").Common != s.Common || s.Spoken("en").CommonIn != "" {
			t.Errorf("%s: %q in English", s.Taxon, s.Spoken("en").Common)
		}
	}
	if n < 130 {
		t.Errorf("only %d plants have a German name", n)
	}
}
