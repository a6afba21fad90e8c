package sheet

import (
	_ "embed" // the table of kinds
	"encoding/csv"
	"slices"
	"strconv"
	"strings"
	"sync"

	"slipleaf/build/almanac"
)

// Kind is how a plant is handled, by the almanac.
type Kind almanac.Kind

// Firm is the part of a plant that is felt for: firm there, it is alive. The table has them.
type Firm string

// OnRoot is the rhizome.
const OnRoot Firm = "rhizome"

// Setting is where a plant is put.
type Setting string

// The settings.
const (
	Planted Setting = "planted" // in the bottom
	Fixed   Setting = "fixed"   // on wood or stone
	Afloat  Setting = "afloat"
	Loose   Setting = "loose" // on the bottom, or weighted
	InAir   Setting = "air"   // with its foot in the water
)

// Course is which of the texts of the check days hold for a plant. The table has them.
type Course string

// LooseCourse is that of what has no roots.
const LooseCourse Course = "loose"

// handling is what trade practice says of a kind: planting depth and distance in cm, 0 where it is not buried; whether it
// is the roots that go so deep, with the crown above; the length of what is sent; the day before which nobody should
// give it up. Common practice throughout.
type handling struct {
	firm              Firm
	set               Setting
	course            Course
	deepLow, deepHigh float64
	roots             bool
	spacing, piece    float64
	judge             int
}

//go:embed kinds.csv
var kindTable string

var handlings = sync.OnceValue(func() map[Kind]handling {
	rows, _ := csv.NewReader(strings.NewReader(kindTable)).ReadAll() // a test reads it too
	out := map[Kind]handling{}
	for _, r := range rows[1:] {
		number := func(column int) float64 { f, _ := strconv.ParseFloat(r[column], 64); return f }
		out[Kind(r[0])] = handling{Firm(r[1]), Setting(r[2]), Course(r[3]), number(4), number(5), r[6] != "", number(7), number(8), int(number(9))}
	}
	return out
})

func (k Kind) handling() handling { return handlings()[k] }

// Is reports whether it is one of these kinds.
func (k Kind) Is(kinds ...almanac.Kind) bool { return slices.Contains(kinds, almanac.Kind(k)) }

// Firm is the part to feel for.
func (k Kind) Firm() Firm { return k.handling().firm }

// Set is where it is put.
func (k Kind) Set() Setting { return k.handling().set }

// Course is which texts of the check days hold.
func (k Kind) Course() Course { return k.handling().course }

// Rooted reports whether it is planted in the bottom.
func (k Kind) Rooted() bool { return k.Set() == Planted }

// RootsDown reports whether it is the roots that go to the planting depth, the crown staying above.
func (k Kind) RootsDown() bool { return k.handling().roots }

// SaltMost is the conductivity that a species tolerates by the salt that it was seen alive in, in µS/cm: 1 g/kg of sea salt
// makes about 1.9 mS/cm at 25 °C at these strengths (PSS-78, from memory). 0: not known.
func SaltMost(s almanac.Species) float64 { return s.Salt * 1900 }
