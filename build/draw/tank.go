package draw

import (
	"cmp"
	"html/template"
	"math"
	"slices"

	"slipleaf/build/livestock"
)

// Elevation is a tank (trough, cube, tray) seen from the front. The zero value of an optional field leaves the thing out.
type Elevation struct {
	ID        string  // prefix of the ids in the drawing; one a page for each drawing
	Seed      string  // the tank's id
	Title     string  // what the picture shows, in a sentence
	Desc      string  // more, or empty
	LengthCm  float64 // inside, 5–400
	HeightCm  float64 // inside, 3–200
	RimCm     float64 // from the rim down to the water, 0 to the height; not read if Emersed
	PageCm    float64 // length of the longest tank of the page: all are drawn at its scale. 0: this one's
	Emersed   bool    // no water: plants stand in moist air
	Layers    []Layer // of substrate, bottom first; the first 8 are drawn
	Lamps     []Lamp  // the first 12 are drawn
	Plants    []Plant
	Animals   []livestock.Animal // the first 8 kinds are drawn
	Inches    bool               // ticks stand for round inches instead of round centimetres
	MostBytes int                // the most that the drawing weighs, LeastTank–MaxTank; 0: MaxTank
	Moments   []string           // what the moments of the plants' Past are called; none: no stills
}

// Nutrients says what a layer of substrate feeds.
type Nutrients int

// The kinds of substrate, each with its own pattern.
const (
	None Nutrients = iota // sand, gravel
	Some                  // mixed, or with tablets
	Rich                  // soil
)

// Layer is one layer of substrate.
type Layer struct {
	Nutrients Nutrients
	DepthCm   float64 // 0–50
}

// Lamp is a bar over the tank.
type Lamp struct {
	LengthCm   float64 // 1–400
	AboveRimCm float64 // from the rim up to the bar, 0–150
	FromCm     float64 // left end, from the left glass; Centred overrides it
	Centred    bool
	Legs       bool // its height is known: it is on the rim
}

// Stage is how much of a planting there was at one moment. Figures come from Count, else Leaves, else Cover.
type Stage struct {
	Count    int     // stems, plants, plantlets, tufts
	Leaves   int     // leaves or fronds of the whole planting, if they are what was counted
	Cover    float64 // share of its ground that it covers, 0–1
	HeightCm float64 // 0: as now
	Absent   bool
}

// Plant is one planting; with no count, one plant of it is drawn.
type Plant struct {
	ID       string  // seeds the drawing, and comes back in the key
	Name     string  // finished words
	Latin    bool    // they are a scientific name
	Habit    Habit   // see Habit
	Leaf     Leaf    // see LeafOf
	FromCm   float64 // left end of its ground, from the left glass
	ToCm     float64 // right end; From and To both 0: see Spread
	Row      Row
	HeightCm float64 // as it grows; 0: a usual height for the habit. More than the water's depth lies along the surface
	FootCm   float64 // over the substrate, for a plant on wood or stone, 0 to the water; 0: as its habit suggests
	Afloat   bool    // drifts at the surface although its habit is not Floating: a liverwort's mat, a fern
	Count    int     // as in Stage
	Leaves   int
	Cover    float64
	Past     []Stage // one for each of the Elevation's Moments, oldest first; the last is now
}

// Key is one entry of the key, for the page to print below the drawing. Its place in the list is its number in the drawing.
type Key struct {
	ID, Name     string
	FromCm, ToCm float64
}

// Tank is a finished elevation.
type Tank struct {
	SVG    template.HTML
	Key    []Key           // left to right by the middle of each planting, then by name
	TickCm float64         // what one tick of the ruler at the foot stands for
	Stills []template.HTML // first, two between, now; they show figures of SVG, which must be on the same page
	Shown  []int           // which of the Moments each still shows
}

// maxPlants is how many are drawn; all are in the key.
const maxPlants = 30

// LeftToRight is the key of the drawing, for a text alternative that must be known before it is drawn.
func (e Elevation) LeftToRight() []Key {
	s := e.scene()
	key := make([]Key, len(s.plants))
	for i, p := range s.plants {
		key[i] = Key{p.ID, p.Name, p.FromCm, p.ToCm}
	}
	slices.SortStableFunc(key, func(a, b Key) int {
		return cmp.Or(cmp.Compare(math.Round(a.FromCm+a.ToCm), math.Round(b.FromCm+b.ToCm)), cmp.Compare(a.Name, b.Name))
	})
	return key
}

// Draw draws the elevation in at most MostBytes bytes, and its stills in at most MaxStill each, the caller's strings not
// counted: the more there is to draw, the less detail each plant gets and the fewer figures it is drawn with. The first 30
// plants are drawn; all are in the key.
func (e Elevation) Draw() Tank {
	s := e.scene()
	t := Tank{Key: e.LeftToRight(), TickCm: s.tick / s.s}
	s.draw(e, &t)
	return t
}

// Spread gives ground to the plantings that have none (From and To both 0), for a diary that does not say where things
// stand: each row's are laid side by side in the order given, as wide as they are abundant. Places that are given stay.
func Spread(lengthCm float64, plants []Plant) []Plant {
	out := slices.Clone(plants)
	for _, row := range [...]Row{Front, Middle, Back} {
		total, at := 0.0, 0.0
		homeless := func(p Plant) bool { return p.Row == row && p.FromCm == 0 && p.ToCm == 0 }
		for _, p := range out {
			if homeless(p) {
				total += p.share()
			}
		}
		for i, p := range out {
			if homeless(p) {
				next := at + p.share()/total
				out[i].FromCm, out[i].ToCm = lengthCm*(at+0.01), lengthCm*(next-0.01)
				at = next
			}
		}
	}
	return out
}

func (p Plant) share() float64 {
	return 1 + math.Min(2, math.Sqrt(float64(p.Count+p.Leaves/8))/4+p.Cover)
}

// figures is how many figures stand for a stage of the planting, 0–48.
func (p Plant) figures(s Stage) int {
	n := 1
	switch {
	case s.Absent:
		return 0
	case s.Count > 0:
		n = s.Count
	case s.Leaves > 0:
		n = int(math.Ceil(float64(s.Leaves) / p.leavesEach()))
	case s.Cover > 0:
		n = int(math.Ceil(s.Cover * (p.ToCm - p.FromCm) / p.footprint() * 1.6))
	}
	most := 48
	if (form{habit: p.Habit, leaf: p.Leaf}).perched() && p.Habit != Moss && !p.Afloat { // clumps side by side on what they sit on
		most = max(1, int((p.ToCm-p.FromCm)/p.Leaf.WidthCm))
	}
	return max(1, min(n, most))
}

// covers says that the planting was counted as a share of its ground.
func (p Plant) covers() bool { return p.Cover > 0 && p.Count == 0 && p.Leaves == 0 }

func (p Plant) now() Stage {
	return Stage{Count: p.Count, Leaves: p.Leaves, Cover: p.Cover, HeightCm: p.HeightCm}
}

func (p Plant) leavesEach() float64 {
	switch p.Habit {
	case Rhizome:
		return 9
	case Stem:
		return 16
	}
	return 8
}

// footprint is how wide one figure is, cm.
func (p Plant) footprint() float64 {
	switch p.Habit {
	case Stem:
		return math.Max(1, p.Leaf.LengthCm)
	case Carpet, Moss:
		return math.Max(0.8, p.HeightCm*0.8)
	case Floating:
		return math.Max(0.5, p.Leaf.LengthCm*2)
	}
	return math.Max(2, p.HeightCm*0.8)
}
