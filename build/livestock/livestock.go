// Package livestock finds an animal in a diary's words and has an outline of it.
package livestock

import "strings"

// Animal is a kind of livestock. See Of.
type Animal struct {
	Kind     Kind
	Count    int     // 0 or more
	LengthCm float64 // 0.5–30
}

// Kind is the outline that an animal is drawn with.
type Kind int

// The kinds.
const (
	Shoal  Kind = iota // slender fish in mid-water
	Bottom             // fish that lie on the bottom
	Tall               // high-backed fish
	Shrimp
	Snail
)

// animals: what a diary may call them, in English and German; their kind and their length in cm. From memory, common
// knowledge of the trade; good enough for a drawing. The first that is found in the words counts.
var animals = []struct {
	word string
	kind Kind
	cm   float64
}{
	{"shrimp", Shrimp, 2.5}, {"garnele", Shrimp, 2.5}, {"snail", Snail, 1.5}, {"schnecke", Snail, 1.5},
	{"cory", Bottom, 5}, {"catfish", Bottom, 6}, {"wels", Bottom, 6}, {"loach", Bottom, 6}, {"schmerle", Bottom, 6}, {"otocinclus", Bottom, 4},
	{"angelfish", Tall, 12}, {"skalar", Tall, 12}, {"gourami", Tall, 6}, {"fadenfisch", Tall, 6}, {"betta", Tall, 5}, {"kampffisch", Tall, 5}, {"cichlid", Tall, 8}, {"barsch", Tall, 8},
	{"tetra", Shoal, 3.5}, {"salmler", Shoal, 3.5}, {"rasbora", Shoal, 3}, {"bärbling", Shoal, 3}, {"danio", Shoal, 4}, {"barb", Shoal, 5}, {"barbe", Shoal, 5},
	{"guppy", Shoal, 4}, {"guppies", Shoal, 4}, {"platy", Shoal, 5}, {"minnow", Shoal, 4}, {"ricefish", Shoal, 3.5}, {"killi", Shoal, 4}, {"fish", Shoal, 4}, {"fisch", Shoal, 4},
}

// Of finds the animal in a diary's words ("dwarf shrimp"); ok is false where none is known, and then nothing is drawn.
func Of(words string, count int) (a Animal, ok bool) {
	words = strings.ToLower(words)
	for _, k := range animals {
		if strings.Contains(words, k.word) {
			return Animal{k.kind, count, k.cm}, count > 0
		}
	}
	return a, false
}

// outlines look to the right and are 24 units long; their classes are the theme's.
var outlines = [...]string{
	Shoal:  `<path class="d-fish" d="M11 0c-2-3-6-4.4-11-3.4-4 .8-6 2.2-8.4 2.8l-4-3c.5 2 .4 5.2 0 7.4l4-3c2.4.6 4.4 2.2 8.4 2.6 5 .6 9-.6 11-3.4z"/><path class="d-band" d="M8-.4c-4-.8-11-.6-16.6.5 5.6.9 12.6.9 16.6-.5z"/><circle class="d-eye" cx="8.2" cy="-.9" r="1"/>`,
	Bottom: `<path class="d-fish" d="M12 2.6c-2-4-6-6.2-10-5.8l-2.5-3-1.5 3.4c-3 .6-5.5 1.8-7.5 2.8l-3.5-2.2 1 4-1.5 3 4-1.2c6 1 16 2 21.5-1z"/><path class="d-limb" d="M11.5 2.8l2 1.8M10.5 3.2l.8 2M-1 3.4l-2 2.2"/><circle class="d-eye" cx="8" cy="-.6" r="1"/>`,
	Tall:   `<path class="d-fish" d="M11 0c-2-4-6-8-10-8.5L-4-11l-1 5-4 4-4-3 1 5-1 5 4-3 4 4 1 5 5-2.5c4-.5 8-4.5 10-8.5z"/><path class="d-limb" d="M4-7c-1.5 4-1.5 10 0 14M-3-6c-1 4-1 8 0 12"/><circle class="d-eye" cx="7.5" cy="-1.5" r="1.1"/>`,
	Shrimp: `<path class="d-shrimp" d="M9-2.5C6-4.8 1-5-3-3.6-7.5-2-9.5 1-10 4.5l-3 1.7 3.8.5C-7.6 3.2-5 1.3-1.5.8 2.5 1.2 6.5.6 9-2.5z"/><path class="d-limb" d="M9-2.5c3-1.2 5.5-1.2 8.5 1M9-2.5c3-.2 5 .8 7 3.5M4 1l.8 3.5M2 1v3.6M0 1l-.9 3.4M-3 1.4l-.6 2.2"/>`,
	Snail:  `<path class="d-limb d-foot" d="M-12 6c5-2 14-3 19-2l2-5 1.5 5.5c1 1.5 0 2.5-2 2.5h-18z"/><path class="d-shrimp" d="M6 4C8-3 3-9-3-8-9-7-11 0-7 4c3 2 9 2 13 0z"/><path class="d-limb" d="M3 2c2-4-1-8-5-7s-4 6-1 7 5-2 3-4-3 0-2 1"/>`,
}

// Outline is the animal as elements of SVG, 24 units long and looking to the right; an unknown kind is that of a shoal.
func (k Kind) Outline() string { return outlines[k.Known()] }

// Known is the kind, or a shoal where it is none.
func (k Kind) Known() Kind {
	if k < Shoal || k > Snail {
		return Shoal
	}
	return k
}

// Crawls reports whether it keeps to the ground.
func (k Kind) Crawls() bool { k = k.Known(); return k != Shoal && k != Tall }
