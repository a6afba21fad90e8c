package draw

import (
	_ "embed"
	"encoding/csv"
	"slices"
	"strconv"
	"strings"
	"sync"
)

// LeafOf is the leaf of a plant by its name or id ("Rotala rotundifolia", "rotala-rotundifolia"): the species if the
// table knows it, else the genus, else a plain leaf for the habit. Sizes and colours are those of a healthy plant grown
// under water (on or above it, for floating plants). Basis of leaves.csv: from memory, common botanical knowledge; good enough for a
// drawing, not for a key.
func LeafOf(habit Habit, taxon string) Leaf {
	words := strings.FieldsFunc(strings.ToLower(taxon), func(r rune) bool { return r == ' ' || r == '-' || r == '_' })
	if len(words) > 2 && (words[1] == "x" || words[1] == "×") {
		words = append(words[:1:1], words[2:]...)
	}
	for n := min(2, len(words)); n > 0; n-- {
		if known, ok := leaves()[strings.Join(words[:n], " ")]; ok {
			return known
		}
	}
	return leafOfHabit(habit)
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

// shapeNames and mannerNames are in the order of the constants.
var (
	shapeNames  = strings.Fields("lanceolate linear strap elliptic ovate cordate round notched spatulate needle feather lobed pinnate bipinnate clover sprays thallus fan forked")
	mannerNames = strings.Split(",creeping,eelgrass,ribbon,pads,cabbage,chain,specks,ball", ",")
)

//go:embed leaves.csv
var leavesCSV string

// leaves reads the table of genera and species.
var leaves = sync.OnceValue(func() map[string]Leaf {
	rows, err := csv.NewReader(strings.NewReader(leavesCSV)).ReadAll()
	if err != nil {
		panic(err) // the table is ours
	}
	out := make(map[string]Leaf, len(rows))
	number := func(s string) float64 { n, _ := strconv.ParseFloat(s, 64); return n }
	for _, r := range rows[1:] {
		l := leaf(Shape(slices.Index(shapeNames, r[1])), number(r[2]), number(r[3]), number(r[4]), int(number(r[5])), Tint(slices.Index(tintClass[:], "d-"+r[6])))
		l.Manner = Manner(slices.Index(mannerNames, r[7]))
		out[r[0]] = l
	}
	return out
})
