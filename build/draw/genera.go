package draw

import "strings"

// LeafOf is the leaf of a plant by its name or id ("Rotala rotundifolia", "rotala-rotundifolia"): the species if the
// table knows it, else the genus, else a plain leaf for the habit. Sizes and colours are those of a healthy plant grown
// under water (on or above it, for floating plants). Basis: from memory, common botanical knowledge; good enough for a
// drawing, not for a key.
func LeafOf(habit Habit, taxon string) Leaf {
	words := strings.FieldsFunc(strings.ToLower(taxon), func(r rune) bool { return r == ' ' || r == '-' || r == '_' })
	if len(words) > 2 && (words[1] == "x" || words[1] == "×") {
		words = append(words[:1:1], words[2:]...)
	}
	l := leafOfHabit(habit)
	for n := min(2, len(words)); n > 0; n-- {
		if known, ok := leaves[strings.Join(words[:n], " ")]; ok {
			l = known
			break
		}
	}
	if len(words) > 0 {
		l.Manner = manners[words[0]]
	}
	return l
}

func leafOfHabit(habit Habit) Leaf {
	switch habit {
	case Stem:
		return leaf(Lanceolate, 3, 0.9, 0, 2, Green)
	case Rhizome:
		return leaf(Ovate, 6, 3.2, 5, 1, Deep)
	case Carpet:
		return leaf(Linear, 4, 0.3, 0, 1, Fresh)
	case Fern:
		return leaf(Lanceolate, 16, 2.6, 3, 1, Deep)
	case Moss:
		return leaf(Sprays, 3, 1, 0, 1, Mossy)
	case Floating:
		return leaf(Round, 1.5, 1.4, 0.3, 1, Pale)
	case Bulb:
		return leaf(Strap, 22, 2.5, 5, 1, Green)
	}
	return leaf(Lanceolate, 10, 2.2, 4, 1, Green)
}

func leaf(s Shape, length, width, petiole float64, perNode int, t Tint) Leaf {
	return Leaf{Shape: s, LengthCm: length, WidthCm: width, PetioleCm: petiole, PerNode: perNode, Tint: t}
}

// manners of genera that habit and leaf do not tell. From memory, common botanical knowledge.
var manners = map[string]Manner{
	"staurogyne": Creeping, "glossostigma": Creeping,
	"elatine": Creeping, "vallisneria": Eelgrass, "crinum": Eelgrass, "sagittaria": Ribbon, "hydrocharis": Pads, "limnobium": Pads, "trapa": Pads,
	"pistia": Cabbage, "stratiotes": Cabbage, "salvinia": Chain, "azolla": Chain, "phyllanthus": Chain, "lemna": Specks, "spirodela": Specks,
	"landoltia": Specks, "wolffia": Specks, "aegagropila": Ball,
}

// leaves: shape, length cm, width cm, stalk cm, leaves at a node, tint.
var leaves = map[string]Leaf{
	// stems
	"alternanthera":           leaf(Lanceolate, 4.5, 1.5, 0.3, 2, Red),
	"ammannia":                leaf(Lanceolate, 7, 1.1, 0, 2, Brown),
	"bacopa":                  leaf(Round, 1.6, 1.3, 0, 2, Green),
	"bacopa monnieri":         leaf(Spatulate, 1.4, 0.7, 0, 2, Green),
	"cabomba":                 leaf(Fan, 3, 3.4, 0.6, 2, Green),
	"cabomba furcata":         leaf(Fan, 2.8, 3.2, 0.5, 3, Red),
	"cardamine":               leaf(Round, 2, 2, 1.6, 1, Fresh),
	"ceratophyllum":           leaf(Forked, 2.4, 1.4, 0, 8, Green),
	"egeria":                  leaf(Linear, 2.4, 0.4, 0, 5, Green),
	"elodea":                  leaf(Lanceolate, 1.1, 0.35, 0, 3, Green),
	"heteranthera":            leaf(Linear, 4.5, 0.45, 0, 1, Green),
	"hydrocotyle":             leaf(Notched, 3, 3, 4.5, 1, Fresh),
	"hydrocotyle tripartita":  leaf(Clover, 1.3, 1.3, 2.4, 1, Fresh),
	"hygrophila":              leaf(Lanceolate, 4, 1.1, 0.3, 2, Green),
	"hygrophila corymbosa":    leaf(Lanceolate, 11, 3.2, 1.5, 2, Green),
	"hygrophila difformis":    leaf(Lobed, 8, 5, 1, 2, Fresh),
	"hygrophila pinnatifida":  leaf(Lobed, 9, 3, 0.4, 2, Brown),
	"limnophila":              leaf(Feather, 2.4, 2, 0, 8, Fresh),
	"limnophila aromatica":    leaf(Lanceolate, 4.5, 0.8, 0, 3, Brown),
	"lobelia":                 leaf(Spatulate, 4, 2.2, 1.2, 1, Fresh),
	"ludwigia":                leaf(Elliptic, 3, 1.4, 0.5, 2, Brown),
	"ludwigia arcuata":        leaf(Linear, 2.6, 0.22, 0, 2, Red),
	"ludwigia palustris":      leaf(Elliptic, 2.4, 1.3, 0.6, 2, Red),
	"lysimachia":              leaf(Round, 1.7, 1.6, 0.2, 2, Fresh),
	"micranthemum":            leaf(Round, 0.6, 0.5, 0, 2, Fresh),
	"micranthemum glomeratum": leaf(Elliptic, 0.9, 0.4, 0, 3, Fresh),
	"myriophyllum":            leaf(Feather, 3, 1.8, 0, 5, Fresh),
	"najas":                   leaf(Linear, 2, 0.16, 0, 2, Green),
	"pogostemon":              leaf(Linear, 5, 0.5, 0, 6, Green),
	"pogostemon stellatus":    leaf(Linear, 7, 0.6, 0, 7, Brown),
	"pogostemon helferi":      leaf(Strap, 6, 0.9, 0, 4, Green),
	"proserpinaca":            leaf(Lobed, 3.4, 1.3, 0.1, 1, Brown),
	"rotala":                  leaf(Elliptic, 1.6, 0.6, 0, 2, Red),
	"rotala macrandra":        leaf(Ovate, 2.6, 1.7, 0, 2, Red),
	"rotala wallichii":        leaf(Needle, 1.4, 0.12, 0, 9, Red),
	"shinnersia":              leaf(Lobed, 5, 2.4, 0.6, 2, Green),
	"staurogyne":              leaf(Elliptic, 2.8, 1.1, 0.4, 2, Green),
	"tonina":                  leaf(Lanceolate, 1.4, 0.45, 0, 1, Fresh),
	"mayaca":                  leaf(Needle, 1, 0.12, 0, 9, Fresh),
	"didiplis":                leaf(Linear, 1.8, 0.3, 0, 4, Olive),
	"hottonia":                leaf(Feather, 5, 3, 0, 5, Fresh),
	"lindernia":               leaf(Round, 1.3, 1.1, 0, 2, Fresh),
	"murdannia":               leaf(Lanceolate, 5, 0.8, 0, 1, Green),
	"persicaria":              leaf(Lanceolate, 7, 1.3, 0.3, 1, Red),
	"pontederia":              leaf(Linear, 6, 0.5, 0, 1, Green),
	"potamogeton":             leaf(Linear, 9, 0.5, 0, 1, Brown),
	"syngonanthus":            leaf(Needle, 3, 0.15, 0, 9, Fresh),
	// rosettes
	"blyxa":                       leaf(Linear, 13, 0.45, 0, 1, Fresh),
	"cryptocoryne":                leaf(Lanceolate, 9, 2.4, 7, 1, Brown),
	"cryptocoryne beckettii":      leaf(Lanceolate, 8, 2.6, 8, 1, Brown),
	"cryptocoryne crispatula":     leaf(Strap, 42, 1.6, 5, 1, Brown),
	"cryptocoryne parva":          leaf(Lanceolate, 2.6, 0.6, 2, 1, Green),
	"cryptocoryne willisii":       leaf(Lanceolate, 5, 1, 4, 1, Green),
	"echinodorus":                 leaf(Elliptic, 22, 5, 9, 1, Green),
	"helanthium":                  leaf(Linear, 12, 0.7, 0, 1, Fresh),
	"helanthium tenellum":         leaf(Linear, 7, 0.22, 0, 1, Green),
	"sagittaria":                  leaf(Linear, 13, 0.65, 0, 1, Fresh),
	"sagittaria subulata":         leaf(Linear, 11, 0.42, 0, 1, Fresh),
	"vallisneria":                 leaf(Linear, 60, 0.9, 0, 1, Green),
	"vallisneria americana":       leaf(Linear, 90, 1.6, 0, 1, Green),
	"vallisneria nana":            leaf(Linear, 35, 0.3, 0, 1, Green),
	"aponogeton":                  leaf(Strap, 25, 2.8, 7, 1, Fresh),
	"aponogeton madagascariensis": leaf(Elliptic, 22, 6, 9, 1, Deep),
	"barclaya":                    leaf(Strap, 22, 3, 6, 1, Brown),
	"crinum":                      leaf(Strap, 70, 0.9, 0, 1, Deep),
	"lagenandra":                  leaf(Lanceolate, 11, 4, 8, 1, Green),
	"schismatoglottis":            leaf(Lanceolate, 5, 1.6, 3, 1, Green),
	"acorus":                      leaf(Linear, 14, 0.5, 0, 1, Green),
	"eriocaulon":                  leaf(Needle, 4, 0.2, 0, 1, Fresh),
	"cyperus":                     leaf(Linear, 25, 0.4, 0, 1, Green),
	"samolus":                     leaf(Spatulate, 7, 3, 2, 1, Fresh),
	"ottelia":                     leaf(Ovate, 18, 9, 14, 1, Fresh),
	"nuphar":                      leaf(Cordate, 15, 10, 12, 1, Fresh),
	"nymphoides":                  leaf(Cordate, 9, 9, 12, 1, Fresh),
	"hydrocleys":                  leaf(Round, 6, 5, 12, 1, Fresh),
	"nymphaea":                    leaf(Cordate, 13, 11, 12, 1, Red),
	// rhizomes and ferns
	"anubias":       leaf(Ovate, 7, 4, 6, 1, Deep),
	"bucephalandra": leaf(Elliptic, 4, 1.3, 1.6, 1, Deep),
	"bolbitis":      leaf(Pinnate, 22, 11, 7, 1, Deep),
	"ceratopteris":  leaf(Bipinnate, 26, 16, 5, 1, Fresh),
	"leptochilus":   leaf(Lanceolate, 20, 3, 3, 1, Deep),
	"microsorum":    leaf(Lanceolate, 20, 3, 3, 1, Deep),
	// carpets
	"eleocharis":   leaf(Needle, 7, 0.1, 0, 1, Green),
	"glossostigma": leaf(Spatulate, 0.8, 0.35, 0.4, 2, Fresh),
	"hemianthus":   leaf(Elliptic, 0.35, 0.22, 0, 2, Fresh),
	"lilaeopsis":   leaf(Linear, 5, 0.28, 0, 1, Green),
	"marsilea":     leaf(Clover, 1.5, 1.5, 2.5, 1, Green),
	"utricularia":  leaf(Linear, 4, 0.2, 0, 1, Fresh),
	"elatine":      leaf(Elliptic, 0.7, 0.3, 0, 2, Fresh),
	"ranunculus":   leaf(Clover, 2.2, 2.2, 5, 1, Fresh),
	// mosses and liverworts
	"aegagropila":  leaf(Sprays, 3, 3, 0, 1, Mossy),
	"leptodictyum": leaf(Sprays, 6, 0.8, 0, 1, Mossy),
	"lomariopsis":  leaf(Thallus, 3, 0.8, 0, 1, Deep),
	"riccardia":    leaf(Thallus, 1.5, 0.3, 0, 1, Deep),
	"fissidens":    leaf(Sprays, 1.5, 0.5, 0, 1, Mossy),
	"fontinalis":   leaf(Sprays, 20, 1.4, 0, 1, Mossy),
	"monosolenium": leaf(Thallus, 3, 0.8, 0, 1, Green),
	"riccia":       leaf(Thallus, 2, 0.15, 0, 1, Fresh),
	"taxiphyllum":  leaf(Sprays, 5, 1.6, 0, 1, Mossy),
	"vesicularia":  leaf(Sprays, 4, 2, 0, 1, Mossy),
	// floating
	"azolla":      leaf(Elliptic, 0.5, 0.35, 0, 2, Red),
	"hydrocharis": leaf(Round, 3, 2.8, 1.5, 1, Pale),
	"limnobium":   leaf(Round, 3, 2.8, 1.5, 1, Pale),
	"lemna":       leaf(Elliptic, 0.35, 0.25, 0, 1, Pale),
	"phyllanthus": leaf(Round, 1.6, 1.5, 0, 1, Red),
	"spirodela":   leaf(Elliptic, 0.7, 0.6, 0, 1, Pale),
	"landoltia":   leaf(Elliptic, 0.45, 0.3, 0, 1, Pale),
	"stratiotes":  leaf(Lanceolate, 18, 2.2, 0, 1, Green),
	"trapa":       leaf(Round, 3, 3, 4, 1, Red),
	"pistia":      leaf(Spatulate, 8, 5, 0, 1, Pale),
	"salvinia":    leaf(Round, 1.2, 1, 0, 2, Pale),
}
