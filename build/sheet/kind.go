package sheet

import (
	"slices"

	"slipleaf/build/almanac"
)

// Kind is how a plant is handled, by the almanac.
type Kind almanac.Kind

// Firm is the part of a plant that is felt for: firm there, it is alive.
type Firm string

// The parts.
const (
	Node    Firm = "node"
	Crown   Firm = "crown"
	OnRoot  Firm = "rhizome"
	Tuber   Firm = "tuber"
	Tips    Firm = "tips"  // mosses and other mats: green at the tips
	StemTip Firm = "stem"  // stems without roots
	Round   Firm = "ball"  // marimo
	Edges   Firm = "edges" // small floaters: green edges
)

// Setting is where a plant is put.
type Setting uint8

// The settings.
const (
	Planted Setting = iota // in the bottom
	Fixed                  // on wood or stone
	Afloat
	Loose // on the bottom, or weighted
	InAir // with its foot in the water
)

// Course is which of the texts of the check days hold for a plant.
type Course string

// The courses.
const (
	StemCourse    Course = "stem"
	CrownCourse   Course = "crown"
	CryptCourse   Course = "crypt"
	RhizomeCourse Course = "rhizome"
	CarpetCourse  Course = "carpet"
	MatCourse     Course = "mat"
	FloatCourse   Course = "float"
	LooseCourse   Course = "loose" // rootless
	TuberCourse   Course = "tuber"
)

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

var handlings = map[almanac.Kind]handling{
	almanac.Stem:            {Node, Planted, StemCourse, 2, 4, false, 3, 12, 21},
	almanac.ClingingStem:    {Node, Fixed, RhizomeCourse, 0, 0, false, 5, 6, 60},
	almanac.BranchingStem:   {Node, Planted, StemCourse, 1, 3, false, 4, 8, 30},
	almanac.StemCarpet:      {Node, Planted, CarpetCourse, 1, 1.5, false, 3, 3, 42},
	almanac.RunnerCarpet:    {Crown, Planted, CarpetCourse, 1, 2, true, 4, 3, 42},
	almanac.RunnerRosette:   {Crown, Planted, CrownCourse, 3, 5, true, 8, 12, 45},
	almanac.PlantletRosette: {Crown, Planted, CrownCourse, 4, 6, true, 15, 12, 45},
	almanac.Crypt:           {Crown, Planted, CryptCourse, 3, 4, true, 10, 10, 90},
	almanac.Tuft:            {Crown, Planted, CrownCourse, 2, 3, true, 5, 8, 45},
	almanac.Rhizome:         {OnRoot, Fixed, RhizomeCourse, 0, 0, false, 5, 8, 60},
	almanac.RootingRhizome:  {OnRoot, Planted, RhizomeCourse, 2, 4, true, 10, 10, 60},
	almanac.Bulb:            {Tuber, Planted, TuberCourse, 1, 2, true, 15, 15, 90},
	almanac.WaterLily:       {Tuber, Planted, TuberCourse, 1, 3, true, 20, 15, 90},
	almanac.FloatingLeaved:  {Node, Planted, CrownCourse, 1, 3, false, 15, 15, 45},
	almanac.Moss:            {Tips, Fixed, MatCourse, 0, 0, false, 5, 3, 45},
	almanac.Liverwort:       {Tips, Fixed, MatCourse, 0, 0, false, 5, 3, 60},
	almanac.LooseLiverwort:  {Tips, Loose, LooseCourse, 0, 0, false, 5, 3, 30},
	almanac.Weighted:        {StemTip, Loose, LooseCourse, 0, 0, false, 5, 10, 30},
	almanac.Marimo:          {Round, Loose, LooseCourse, 0, 0, false, 8, 5, 60},
	almanac.Bladderwort:     {Tips, Planted, CarpetCourse, 0.5, 1, false, 3, 3, 42},
	almanac.FloatingRosette: {Crown, Afloat, FloatCourse, 0, 0, false, 6, 5, 14},
	almanac.FloatingFrond:   {Edges, Afloat, FloatCourse, 0, 0, false, 2, 1, 14},
	almanac.FloatingStem:    {StemTip, Afloat, LooseCourse, 0, 0, false, 5, 12, 21},
	almanac.FrondPlantlets:  {Crown, Planted, CrownCourse, 2, 3, true, 10, 10, 30},
	almanac.Emersed:         {Crown, InAir, CrownCourse, 3, 5, true, 10, 15, 45},
	almanac.Annual:          {Crown, Planted, CrownCourse, 1, 2, true, 5, 5, 30},
	almanac.NoKind:          {Crown, Planted, CrownCourse, 2, 4, true, 8, 10, 45},
}

// KindOf is the kind of a species.
func KindOf(s almanac.Species) Kind { return Kind(s.Kind) }

func (k Kind) handling() handling { return handlings[almanac.Kind(k)] }

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
