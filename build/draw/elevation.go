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
	FootCm   float64 // over the substrate, for a plant on wood or stone, 0 to the height
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
	return Tank{template.HTML(s.svg(e)), key, s.tick / 10} //nolint:gosec // all strings are escaped by plain and name
}

const maxPlants = 30

// scene is the elevation within its ranges, in millimetres, with y = 0 at the rim.
type scene struct {
	id            string
	length, depth float64 // inside
	water         float64 // y of the surface; the rim if there is none
	ground        float64 // y of the substrate's top
	top           float64 // y of the highest thing drawn
	tick          float64
	wet           bool
	layers        []Layer
	lamps         []Lamp
	plants        []Plant
}

func (e Elevation) scene() scene {
	s := scene{id: name(e.ID), length: within(e.LengthCm, 5, 400) * 10, depth: within(e.HeightCm, 3, 200) * 10, wet: !e.Emersed}
	s.tick = 100
	if s.length < 400 {
		s.tick = 50
	}
	if s.wet {
		s.water = within(e.RimCm*10, 0, s.depth)
	}
	s.ground = s.depth
	for _, l := range e.Layers[:min(len(e.Layers), 8)] {
		l.DepthCm = within(l.DepthCm, 0, 50)
		l.DepthCm = math.Min(l.DepthCm, (s.ground-s.water)/10)
		s.ground -= l.DepthCm * 10
		s.layers = append(s.layers, l)
	}
	for _, l := range e.Lamps[:min(len(e.Lamps), 12)] {
		l.LengthCm, l.AboveRimCm = within(l.LengthCm, 1, 400), within(l.AboveRimCm, 0, 150)
		if l.Centred {
			l.FromCm = (s.length/10 - l.LengthCm) / 2
		}
		l.FromCm = within(l.FromCm, -200, 400)
		s.lamps = append(s.lamps, l)
		s.top = math.Min(s.top, -l.AboveRimCm*10-lampThick)
	}
	for _, p := range e.Plants {
		s.plants = append(s.plants, p.tidy(s))
	}
	for _, p := range Spread(s.length/10, s.plants)[:min(len(s.plants), maxPlants)] {
		if !s.wet {
			s.top = math.Min(s.top, s.ground-(p.FootCm+p.HeightCm*1.2)*10)
		}
	}
	s.plants = Spread(s.length/10, s.plants)
	if s.wet {
		s.top = math.Min(s.top, s.water-s.emergent())
	}
	return s
}

// emergent is how far leaves on the surface rise over it, mm.
func (s scene) emergent() float64 {
	most := 0.0
	for _, p := range s.plants {
		if p.Habit == Floating {
			most = math.Max(most, math.Max(p.HeightCm, p.Leaf.LengthCm*0.6)*11)
		}
	}
	return most
}

func (p Plant) tidy(s scene) Plant {
	p.Leaf = p.Leaf.tidy()
	p.FromCm, p.ToCm = within(p.FromCm, 0, s.length/10), within(p.ToCm, 0, s.length/10)
	if p.FromCm > p.ToCm {
		p.FromCm, p.ToCm = p.ToCm, p.FromCm
	}
	if p.HeightCm <= 0 || math.IsNaN(p.HeightCm) {
		p.HeightCm = usualHeight(p.Habit)
	}
	p.HeightCm = within(p.HeightCm, 0.2, 250)
	p.FootCm = within(p.FootCm, 0, math.Max(0, (s.ground-s.water)/10))
	p.Cover = within(p.Cover, 0, 1)
	p.Count, p.Leaves = max(0, p.Count), max(0, p.Leaves)
	return p
}

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
