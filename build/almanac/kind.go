package almanac

import "strings"

// Kind is how a plant is grown and handled.
type Kind string

// The kinds of growing. A plant that fits two has the one in which it is mostly passed on.
const (
	NoKind          Kind = "" // not known
	Stem            Kind = "stem"
	ClingingStem    Kind = "clinging-stem"
	BranchingStem   Kind = "branching-stem"
	StemCarpet      Kind = "stem-carpet"
	RunnerCarpet    Kind = "runner-carpet"
	RunnerRosette   Kind = "runner-rosette"
	PlantletRosette Kind = "plantlet-rosette" // plantlets on the flower stalk
	Crypt           Kind = "crypt"
	Tuft            Kind = "tuft"
	Rhizome         Kind = "rhizome"         // on wood or stone
	RootingRhizome  Kind = "rooting-rhizome" // may root in soil
	Bulb            Kind = "bulb"
	WaterLily       Kind = "water-lily"
	FloatingLeaved  Kind = "floating-leaved" // rooted, leaves on the surface
	Moss            Kind = "moss"
	Liverwort       Kind = "liverwort"       // clings
	LooseLiverwort  Kind = "loose-liverwort" // does not cling
	Weighted        Kind = "weighted"        // rootless, held down
	Marimo          Kind = "marimo"
	Bladderwort     Kind = "bladderwort"
	FloatingRosette Kind = "floating-rosette"
	FloatingFrond   Kind = "floating-frond"
	FloatingStem    Kind = "floating-stem"
	FrondPlantlets  Kind = "frond-plantlets" // fern with plantlets on its fronds
	Emersed         Kind = "emersed"
	Annual          Kind = "annual"
)

// Phrase is a text of the almanac in both languages.
type Phrase struct{ EN, DE string }

// In gives the phrase in a language of BCP 47: German, else English.
func (p Phrase) In(lang string) string {
	if p.DE != "" && german(lang) {
		return p.DE
	}
	return p.EN
}

func german(lang string) bool { return lang == "de" || strings.HasPrefix(lang, "de-") }

// Care is how a kind of plant is handled.
type Care struct {
	Kind      Kind
	Place     Phrase // how to plant or fix it
	Normal    Phrase // in the first two weeks
	Alarm     Phrase
	Trim      Phrase // the first trim
	Propagate Phrase
	Never     Phrase
	others    []other
}

// other is what is said instead of a genus or a species.
type other struct {
	taxon, part string
	phrase      Phrase
}

// of is the care of a plant of the kind, with what is said of its genus or species alone.
func (c *Care) of(taxon string) *Care {
	if c == nil {
		return nil
	}
	own := *c
	for _, o := range c.others {
		if taxon == o.taxon || strings.HasPrefix(taxon, o.taxon+" ") {
			*own.part(o.part) = o.phrase
		}
	}
	return &own
}

// part gives the named part of the care; nil where there is none of that name.
func (c *Care) part(name string) *Phrase {
	return map[string]*Phrase{"place": &c.Place, "normal": &c.Normal, "alarm": &c.Alarm, "trim": &c.Trim,
		"propagate": &c.Propagate, "never": &c.Never}[name]
}

// readCare reads the table of care: for every kind all parts, and what is said instead of a genus or species.
func readCare(t *table) map[Kind]*Care {
	out := map[Kind]*Care{}
	for _, r := range t.rows {
		k := Kind(r.must("kind"))
		if out[k] == nil {
			out[k] = &Care{Kind: k}
		}
		part, taxon, said := r.must("part"), r.text("of"), Phrase{r.must("en"), r.must("de")}
		p := out[k].part(part)
		if p == nil || taxon == "" && p.EN != "" {
			r.fault("part", "%q is no part, or comes twice", part)
			continue
		}
		if taxon != "" {
			out[k].others = append(out[k].others, other{taxon, part, said})
			continue
		}
		*p = said
	}
	return out
}

// kindByHabit is the kind of a plant of which only the habit is known, and no relative that is handled in one way. A fern on wood or stone is a rhizome.
func kindByHabit(s Species) Kind {
	switch s.Habit {
	case "stem", "rhizome", "moss", "bulb":
		return Kind(s.Habit)
	case "rosette":
		return RunnerRosette
	case "carpet":
		return RunnerCarpet
	case "floating":
		return FloatingRosette
	case "fern":
		if s.Placement == "hardscape" {
			return Rhizome
		}
		return FrondPlantlets
	}
	return NoKind
}
