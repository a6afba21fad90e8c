package almanac

import (
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// grown is how plants of a habit can be handled. A plant that creeps on wood is no marsh plant with a rhizome in the mud, and
// one that lies on the surface takes no "leaf tops dry" if it hangs below: so the habit alone decides little (botany, from
// memory; common practice).
var grown = map[string][]Kind{
	"stem":     {Stem, ClingingStem, BranchingStem, StemCarpet, Tuft, Emersed, Weighted, FloatingStem, FloatingLeaved},
	"rosette":  {RunnerRosette, PlantletRosette, Crypt, Tuft, RootingRhizome, Emersed, Annual},
	"rhizome":  {Rhizome, RootingRhizome},
	"carpet":   {StemCarpet, RunnerCarpet, Bladderwort, Annual},
	"floating": {FloatingRosette, FloatingFrond, FloatingStem, FloatingLeaved},
	"moss":     {Moss, Liverwort, LooseLiverwort, Weighted, Marimo},
	"bulb":     {Bulb, WaterLily, FloatingLeaved},
	"fern":     {Rhizome, FrondPlantlets, FloatingRosette, Emersed},
}

// Every plant is handled in a way that its habit allows, whether the table of traits has it or its genus lends it one.
func TestEveryPlantIsHandledAsItsHabitAllows(t *testing.T) {
	for _, s := range openEmbedded(t).All() {
		if !slices.Contains(grown[s.Habit], s.Kind) {
			t.Errorf("%s: a %s is handled as %q", s.Taxon, s.Habit, s.Kind)
		}
	}
}

// What families and genera are, from memory of the floras: who lives on wood, who has no true roots, who is a water lily.
func TestFamiliesAreHandledAsTheyGrow(t *testing.T) {
	for _, c := range []struct {
		is               string
		families, genera string // one of them
		kinds            []Kind
		only             bool // no other plant is handled so
		but              string
	}{
		{"a rhizome that clings to wood or stone", "Araceae Polypodiaceae Dryopteridaceae Hymenophyllaceae", "", []Kind{Rhizome}, true, ""},
		{"a water lily", "Nymphaeaceae Nelumbonaceae", "", []Kind{WaterLily}, true, "Barclaya longifolia"},
		{"a rosette like a crypt", "", "Cryptocoryne", []Kind{Crypt}, true, ""},
		{"a small floater", "", "Salvinia Azolla Wolffia Spirodela Landoltia Lemna Phyllanthus Ricciocarpos", []Kind{FloatingFrond}, false, "Lemna trisulca"},
		{"a stonewort or a seaweed", "Characeae Caulerpaceae", "", []Kind{Weighted}, false, ""},
		{"a moss", "Hypnaceae Fissidentaceae Fontinalaceae Amblystegiaceae Daltoniaceae", "", []Kind{Moss}, true, ""},
		{"a liverwort", "Aneuraceae Lophocoleaceae Plagiochilaceae", "", []Kind{Liverwort}, true, ""},
		{"a bladderwort", "Lentibulariaceae", "", []Kind{Bladderwort, FloatingStem}, false, ""},
		{"a floating heart", "Menyanthaceae", "Nymphoides Trapa Hydrocleys", []Kind{FloatingLeaved}, false, "Menyanthes trifoliata, Nymphoides aquatica"},
		{"a marsh plant", "Iridaceae Butomaceae Saururaceae", "Iris Caltha Typha Sparganium Menyanthes Lysichiton Orontium Acorus", []Kind{Emersed}, false, "Saururus cernuus"},
		{"a house or garden plant", "Asparagaceae Selaginellaceae", "Hemigraphis Epipremnum Spathiphyllum", []Kind{Emersed}, false, ""},
	} {
		found := false
		for _, s := range openEmbedded(t).All() {
			genus, _, _ := strings.Cut(s.Taxon, " ")
			of := slices.Contains(strings.Fields(c.families), s.Family) || slices.Contains(strings.Fields(c.genera), genus)
			as := slices.Contains(c.kinds, s.Kind)
			found = found || of
			switch {
			case of && !as && c.only && c.is == "a rhizome that clings to wood or stone": // the family has others too
			case of && !as && !strings.Contains(c.but, s.Taxon):
				t.Errorf("%s is %s and is handled as %q", s.Taxon, c.is, s.Kind)
			case as && !of && c.only:
				t.Errorf("%s is handled as %q and is not %s", s.Taxon, s.Kind, c.is)
			}
		}
		if !found {
			t.Errorf("nothing is %s", c.is)
		}
	}
}

// Arums but for duckweeds, buttercups, onion lilies, irises, sweet flags, spatterdocks, water clovers and lobelias harm
// somebody, whichever table has them and also where only the grower's file does (poison handbooks, from memory).
func TestPoisonousGeneraWarn(t *testing.T) {
	a := openEmbedded(t)
	bad := strings.Fields("Crinum Iris Acorus Nuphar Marsilea Lobelia Caltha Ranunculus Dracaena Lysichiton")
	duckweeds := strings.Fields("Lemna Landoltia Spirodela Wolffia")
	for _, s := range a.All() {
		genus, _, _ := strings.Cut(s.Taxon, " ")
		want := s.Family == "Araceae" && !slices.Contains(duckweeds, genus) || slices.Contains(bad, genus) || s.Family == "Ranunculaceae"
		if p := s.Poison; want && (!p.Known() || p.Source.Text == "") {
			t.Errorf("%s harms nobody: %+v", s.Taxon, p)
		}
		if slices.Contains(duckweeds, genus) && s.Poison.Known() {
			t.Errorf("%s, a duckweed that is eaten, warns", s.Taxon)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.SampledFrom(a.All()).Draw(t, "species")
		genus, _, _ := strings.Cut(s.Taxon, " ")
		own := a.Introduce("mine", genus+" sp. 'My Find'", "", Profile{Habit: s.Habit})
		if s.Poison.Known() && !own.Poison.Known() {
			t.Fatalf("%s warns, and an unnamed one of its genus does not", s.Taxon)
		}
	})
}

// What the genus says is what all of it says: of two plants of a habit in it, an unknown third is handled as both or by its
// habit alone.
func TestAGenusLendsOnlyWhatAllOfItIs(t *testing.T) {
	a := openEmbedded(t)
	traits := map[string]bool{}
	for _, r := range rawRows(t, "traits.csv") {
		traits[r["taxon"]] = true
	}
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.SampledFrom(a.All()).Draw(t, "species")
		genus, _, _ := strings.Cut(s.Taxon, " ")
		var kinds []Kind
		for _, o := range a.All() {
			if traits[o.Taxon] && o.Habit == s.Habit && strings.HasPrefix(o.Taxon, genus+" ") && !slices.Contains(kinds, o.Kind) {
				kinds = append(kinds, o.Kind)
			}
		}
		want := kindByHabit(s)
		if len(kinds) == 1 {
			want = kinds[0]
		}
		if own := a.Introduce("mine", genus+" cf. nobodyi", "", Profile{Habit: s.Habit}); own.Kind != want {
			t.Fatalf("%s of habit %s: %q, of %q", genus, s.Habit, own.Kind, kinds)
		}
	})
}

// What a sheet says of propagation is how the profile says that the plant does it: both name an organ in common.
func TestPropagationIsThatOfThePlant(t *testing.T) {
	organs := strings.Fields("runner tuber bulb plantlet seed rhizome top nut stalk tuft crown rosette stem leaf frond scoop mat plug clump thread tangle piece pieces apart shoot fan node ball tear")
	in := func(text string) (out []string) {
		for _, w := range strings.FieldsFunc(strings.ToLower(text), func(r rune) bool { return r < 'a' || r > 'z' }) {
			if i := slices.IndexFunc(organs, func(o string) bool {
				return w == o || w == o+"s" || w == "fruits" && o == "seed" || w == "leaves" && o == "leaf"
			}); i >= 0 {
				out = append(out, organs[i])
			}
		}
		return out
	}
	for _, s := range openEmbedded(t).All() {
		if s.Propagation != "" && !meet(in(s.Propagation), in(s.Care.Propagate.EN)) {
			t.Errorf("%s: %q on its sheet, %q in its profile", s.Taxon, s.Care.Propagate.EN, s.Propagation)
		}
	}
}
