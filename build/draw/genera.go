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
// table knows it, else the genus, else the table's leaf for any plant of the habit. Sizes and colours are those of a healthy plant grown
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
	if usual, ok := leaves()["any "+string(habit)]; ok {
		return usual
	}
	return leaves()["any rosette"]
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
		out[r[0]] = Leaf{
			Shape: Shape(slices.Index(shapeNames, r[1])), LengthCm: number(r[2]), WidthCm: number(r[3]), PetioleCm: number(r[4]),
			PerNode: int(number(r[5])), Tint: Tint(slices.Index(tintClass[:], "d-"+r[6])), Manner: Manner(slices.Index(mannerNames, r[7])),
		}
	}
	return out
})
