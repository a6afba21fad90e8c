package almanac

import (
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
	Part   string   // "" nothing looked up | none known | sap | all parts
	Harms  []string // people, cats, dogs
	Source string
}

// Known reports whether the plant is known to harm anyone.
func (p Poison) Known() bool { return p.Part == "sap" || p.Part == "all parts" }

// readTraits reads the table of traits by species id.
func readTraits(t *table) map[string]Traits {
	out := map[string]Traits{}
	for _, r := range t.rows {
		t := Traits{
			Kind:        Kind(r.must("kind")),
			Poison:      Poison{Part: r.one("poison", "none known", "sap", "all parts"), Harms: r.list("harms"), Source: r.must("poison_source")},
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

// joinTraits gives every species its traits and the care of its kind.
func joinTraits(species []Species, traits map[string]Traits, care map[Kind]*Care) {
	for i := range species {
		s := &species[i]
		if t, ok := traits[s.ID]; ok {
			s.Traits = t
		} else {
			s.Kind = kindByHabit(*s)
		}
		s.Care = care[s.Kind].of(s.Taxon)
		s.warnOfSap()
	}
}
