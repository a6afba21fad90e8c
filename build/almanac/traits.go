package almanac

import (
	"fmt"
	"slices"
	"strconv"
)

// Traits are what a species is beside its tolerances. The zero value means that nothing is known.
type Traits struct {
	Kind   Kind
	Poison Poison
	Salt   Salt
	Carbon Carbon

	Rooting    string // soil | floats | clings | rootless; "" not known
	CrownAbove bool   // crown, rhizome or the neck of a bulb must not be buried

	Season Phrase // what day length or temperature does to it; English
}

// Poison is what of a plant harms whom. What is none known is not safe for that.
type Poison struct {
	Part   string   // "" nothing looked up | none known | sap | all parts
	Harms  []string // people, cats, dogs
	Basis  string
	Source string
}

// Known reports whether the plant is known to harm anyone.
func (p Poison) Known() bool { return p.Part == "sap" || p.Part == "all parts" }

// Salt is how much salt a plant was seen alive in. It is no level to aim at, and nothing known is not "none".
type Salt struct {
	PPT    float64 // g of salt in a kg of water; 0 when there is no figure
	Basis  string  // "" when nothing is known
	Source string  // the trial, or words without a figure
}

// Carbon is what a plant takes its carbon from.
type Carbon struct {
	Use    string // bicarbonate | co2-only | unknown; plants whose leaves are in air count as co2-only, and mean the air's
	Basis  string
	Source string
}

// Bicarbonate reports whether the plant is known to take bicarbonate, so that hard water feeds it.
func (c Carbon) Bicarbonate() bool { return c.Use == "bicarbonate" }

// readTraits reads the table of traits by species id.
func readTraits(t *table) map[string]Traits {
	out := map[string]Traits{}
	for _, r := range t.rows {
		id := idOf(r.must("taxon"))
		if _, twice := out[id]; twice {
			r.fault("taxon", "stands there twice")
		}
		out[id] = Traits{
			Kind: readKind(r),
			Poison: Poison{Part: r.one("poison", "none known", "sap", "all parts"), Harms: r.list("harms"),
				Basis: readBasis(r, "poison_basis"), Source: r.must("poison_source")},
			Salt:       readSalt(r),
			Carbon:     readCarbon(r),
			Rooting:    r.one("rooting", "soil", "floats", "clings", "rootless"),
			CrownAbove: r.one("crown_above", "yes", "no") == "yes",
			Season:     Phrase{EN: r.text("season"), Basis: basisWith(r, "season")},
		}
		if p := out[id].Poison; p.Known() != (len(p.Harms) > 0) {
			r.fault("harms", "whom it harms is said where it harms, and only there")
		}
	}
	return out
}

func readSalt(r row) Salt {
	s := Salt{Basis: basisWith(r, "salt"), Source: r.text("salt_source")}
	if text := r.text("salt_ppt"); text != "" {
		v, err := strconv.ParseFloat(text, 64)
		if err != nil || v <= 0 || v >= 35 || s.Basis == "" { // 35 is the sea
			r.fault("salt_ppt", "%q is no salinity of a water plant, or has no basis", text)
		}
		s.PPT = v
	}
	return s
}

func readCarbon(r row) Carbon {
	c := Carbon{Use: r.one("carbon", "bicarbonate", "co2-only", "unknown"), Source: r.text("carbon_source")}
	if c.Use != "unknown" {
		c.Basis = readBasis(r, "carbon_basis")
	}
	return c
}

// readBasis gives a cell that holds a basis.
func readBasis(r row, column string) string {
	return r.one(column, Seen, SecondHand, Memory, CommonPractice)
}

// basisWith gives the basis of a trait that may be empty: it is there when the words or the source are.
func basisWith(r row, trait string) string {
	said := r.text(trait + "_basis")
	column := trait
	if !slices.Contains(r.table.columns, column) {
		column += "_source"
	}
	if (said == "") != (r.text(column) == "") {
		r.fault(trait+"_basis", "a basis without what it is of, or the other way round")
	}
	if said == "" {
		return ""
	}
	return readBasis(r, trait+"_basis")
}

// joinTraits gives every species its traits and the care of its kind. Every profile has traits, and every row a species.
func joinTraits(species []Species, traits map[string]Traits, care map[Kind]*Care) error {
	used := 0
	for i := range species {
		s := &species[i]
		t, ok := traits[s.ID]
		if s.Profiled && !ok {
			return fmt.Errorf("traits.csv: no row for %q, which has a profile", s.Taxon)
		}
		if ok {
			used++
			s.Traits = t
		} else {
			s.Kind = kindByHabit(*s)
		}
		s.Care = care[s.Kind].of(s.Taxon)
		s.warnOfSap()
	}
	if used != len(traits) {
		return fmt.Errorf("traits.csv: %d rows, of which %d have a species", len(traits), used)
	}
	return nil
}
