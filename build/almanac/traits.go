package almanac

import (
	"cmp"
	"strconv"
)

// Traits are what a species is beside its tolerances. The zero value means that nothing is known.
type Traits struct {
	Kind   Kind
	Poison Poison
	// Salt is how much of it the plant was seen alive in, g in a kg of water. It is no level to aim at, and 0, no figure, is
	// not "none".
	Salt float64
	// Bicarbonate: the plant is known to take it, so that hard water feeds it.
	Bicarbonate bool
}

// Poison is what of a plant harms whom. What is none known is not safe for that.
type Poison struct {
	Part   string   // "" nothing looked up | none known | sap | all
	Harms  []string // people, cats, dogs
	Source Citation
}

// Known reports whether the plant is known to harm anyone.
func (p Poison) Known() bool { return p.Part == "sap" || p.Part == "all" }

// readTraits reads the table of traits by species id.
func readTraits(t *table) map[string]Traits {
	out := map[string]Traits{}
	for _, r := range t.rows {
		t := Traits{
			Kind:        Kind(r.must("kind")),
			Poison:      Poison{Part: r.one("poison", "none known", "sap", "all"), Harms: r.list("harms"), Source: readCitation(r, "poison_source", r.must("poison_source"))},
			Salt:        readSalt(r),
			Bicarbonate: r.one("carbon", "bicarbonate", "co2-only", "unknown") == "bicarbonate",
		}
		if t.Poison.Known() != (len(t.Poison.Harms) > 0) {
			r.fault("harms", "whom it harms is said where it harms, and only there")
		}
		out[IDOf(r.must("taxon"))] = t
	}
	return out
}

func readSalt(r row) float64 {
	text := r.text("salt_ppt")
	if text == "" {
		return 0
	}
	v, err := strconv.ParseFloat(text, 64)
	if err != nil || v <= 0 || v >= 35 { // 35 is the sea
		r.fault("salt_ppt", "%q is no salinity of a water plant", text)
	}
	return v
}

// kinOf gathers what genera say of a plant that nothing else is known of: by genus and habit how all of it that have traits
// of their own are handled, NoKind where that differs; by genus alone the same of any habit, and the gravest harm of any.
func kinOf(species []Species, traits map[string]Traits) map[string]Traits {
	out := map[string]Traits{}
	for _, s := range species {
		t, ok := traits[s.ID]
		if !ok {
			continue
		}
		for _, key := range []string{firstWord(s.Taxon) + " " + s.Habit, firstWord(s.Taxon) + " "} {
			k, met := out[key]
			if !met {
				k.Kind = t.Kind
			} else if k.Kind != t.Kind {
				k.Kind = NoKind
			}
			if t.Poison.Known() && k.Poison.Part != "all" {
				k.Poison = t.Poison
				k.Poison.Source.Text = "by its genus; " + t.Poison.Source.Text
			}
			out[key] = k
		}
	}
	return out
}

// learn fills in from the genus how a plant is handled and whom it harms, where that is not known of the plant itself.
func (s *Species) learn(kin map[string]Traits) {
	genus := firstWord(s.Taxon) + " "
	if s.Kind == NoKind {
		s.Kind = cmp.Or(kin[genus+s.Habit].Kind, kindByHabit(*s))
	}
	if s.Poison.Part == "" {
		s.Poison = kin[genus].Poison
	}
}

// joinTraits gives every species its traits, else what its genus says, and the care of its kind.
func joinTraits(species []Species, traits, kin map[string]Traits, care map[Kind]*Care) {
	for i := range species {
		s := &species[i]
		s.Traits = traits[s.ID]
		s.learn(kin)
		s.Care = care[s.Kind].of(s.Taxon)
	}
}

// propagateItsOwnWay gives a plant its own words on propagation where under a third of its kind share them: what most do, the
// words of the kind say better (our choice).
func propagateItsOwnWay(species []Species) {
	n := map[string]int{} // of a kind, and of those of it that share the words
	for _, s := range species {
		if s.Profiled {
			n[string(s.Kind)]++
			n[string(s.Kind)+s.Propagation]++
		}
	}
	for _, s := range species {
		if s.Profiled && 3*n[string(s.Kind)+s.Propagation] < n[string(s.Kind)] {
			s.Care.Propagate = Phrase{s.Propagation, s.german[s.Propagation]}
		}
	}
}
