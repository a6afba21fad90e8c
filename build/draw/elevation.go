package draw

import (
	"cmp"
	"html/template"
	"math"
	"slices"
)

// Elevation is a tank (trough, cube, tray) seen from the front. The zero value of an optional field leaves the thing out.
type Elevation struct {
	ID       string  // prefix of the ids in the drawing; one a page for each drawing
	Seed     string  // the tank's id
	Title    string  // what the picture shows, in a sentence
	Desc     string  // more, or empty
	LengthCm float64 // inside, 5–400
	HeightCm float64 // inside, 3–200
	RimCm    float64 // from the rim down to the water, 0 to the height; not read if Emersed
	Emersed  bool    // no water: plants stand in moist air
	Layers   []Layer // of substrate, bottom first; the first 8 are drawn
	Lamps    []Lamp  // the first 12 are drawn
	Plants   []Plant
	OffBench bool // leave out the bench's line, because the page draws it
	Inches   bool // ticks stand for round inches instead of round centimetres
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
}

// Plant is one planting. How much of it is drawn comes from Count, else Leaves, else Cover; with none of them, one plant.
type Plant struct {
	ID       string  // seeds the drawing, and comes back in the key
	Name     string  // finished words, for the key only
	Habit    Habit   // see Habit
	Leaf     Leaf    // see LeafOf
	FromCm   float64 // left end of its ground, from the left glass
	ToCm     float64 // right end; From and To both 0: see Spread
	Row      Row
	HeightCm float64 // as it grows; 0: a usual height for the habit. More than the water's depth lies along the surface
	FootCm   float64 // over the substrate, for a plant on wood or stone, 0 to the water; 0 if the diary does not say
	Afloat   bool    // drifts at the surface although its habit is not Floating: a liverwort's mat, a fern
	Count    int     // stems, plants, plantlets, tufts
	Leaves   int     // leaves or fronds of the whole planting, if they are what was counted
	Cover    float64 // share of its ground that it covers, 0–1
}

// Key is one entry of the key, for the page to print below the drawing.
type Key struct {
	ID, Name     string
	FromCm, ToCm float64
}

// Tank is a finished elevation.
type Tank struct {
	SVG    template.HTML
	Key    []Key   // left to right by the middle of each planting, then by name
	TickCm float64 // what one tick of the rulers at the foot and at the right stands for
}

// Draw draws the elevation in at most MaxBytes: the more there is to draw, the less detail each plant gets. The first 30
// plants are drawn; all are in the key.
func (e Elevation) Draw() Tank {
	s := e.scene()
	key := make([]Key, len(s.plants))
	for i, p := range s.plants {
		key[i] = Key{p.ID, p.Name, p.FromCm, p.ToCm}
	}
	slices.SortStableFunc(key, func(a, b Key) int {
		return cmp.Or(cmp.Compare(math.Round(a.FromCm+a.ToCm), math.Round(b.FromCm+b.ToCm)), cmp.Compare(a.Name, b.Name))
	})
	return Tank{template.HTML(s.svg(e)), key, s.tick / 10} // all strings are escaped by plain and name
}

const maxPlants = 30

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
