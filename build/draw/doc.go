// Package draw makes pictures out of the diary's figures: a tank seen from the front, to scale; a herbarium plate for a
// plant without a photograph; a sprig for a label; and the small marks of state and of the tally.
//
// The drawings are SVG with classes only: the theme's 61-draw.css gives every colour, so dark, print and forced colours
// follow the tokens. Nothing is drawn that was not given, and nothing depends on time or randomness: what varies from
// plant to plant comes from a small generator seeded with the plant's id. A drawing shows habit, leaf shape and size;
// it is no exact likeness, and the page that prints it should say so.
//
// Lengths in exported structs are centimetres. Figures outside the
// stated range, NaN among them, are drawn as the nearest end of the range. Strings (titles, names) come finished from
// the caller and are only escaped here.
package draw

// Habit is how a plant grows; the words are those of the almanac's habit column. Any other word is drawn as a rosette.
type Habit string

// The habits.
const (
	Stem     Habit = "stem"     // upright stems with leaves at the nodes
	Rosette  Habit = "rosette"  // leaves from one crown, runners
	Rhizome  Habit = "rhizome"  // leathery leaves along a creeping rhizome
	Carpet   Habit = "carpet"   // low tufts or shoots on runners
	Fern     Habit = "fern"     // fronds from a rhizome or a crown
	Moss     Habit = "moss"     // fine branched shoots, or a flat thallus
	Floating Habit = "floating" // leaves on the surface, roots hanging
	Bulb     Habit = "bulb"     // leaves from a bulb or tuber
)

// Row is how far behind the front glass a plant is.
type Row int

// The rows, front first. The back row is drawn first and paler.
const (
	Front Row = iota
	Middle
	Back
)

// MaxTank, MaxStill and MaxPlate are the most that a tank's drawing, each of its stills and a plate weigh before
// compression, the caller's strings not counted; LeastTank is the least that the drawing of a tank without
// moments can be held to.
const (
	LeastTank = 46_000
	MaxTank   = 60_000
	MaxStill  = 4_500
	MaxPlate  = 40_000
)

func usualHeight(h Habit) float64 {
	switch h {
	case Stem, Bulb, Fern:
		return 20
	case Carpet, Moss:
		return 4
	case Floating:
		return 1.5
	}
	return 12
}
