package draw

import "math"

// scene is the elevation within its ranges, in units, with y = 0 at the rim and x = 0 at the left glass.
type scene struct {
	id      string
	s       float64 // units a centimetre
	wide    float64 // of the whole drawing
	long    float64 // inside
	deep    float64
	water   float64 // y of the surface; the rim if there is none
	ground  float64 // y of the substrate's top at the front glass
	top     float64 // y of the highest thing drawn
	left    float64 // x at which the drawing begins
	tick    float64
	wet     bool
	layers  []Layer
	lamps   []Lamp
	plants  []Plant
	moments int
}

const (
	glassThick = 2.4
	lampThick  = 8.0
	benchThick = 6.0
	sideRoom   = 24.0 // beside the tank
)

// shown are the plants that are drawn.
func (s scene) shown() []Plant { return s.plants[:min(len(s.plants), maxPlants)] }

func (e Elevation) scene() scene {
	s := scene{id: name(e.ID), wet: !e.Emersed, moments: min(len(e.Moments), maxMoments)}
	length := within(e.LengthCm, 5, 400)
	s.size(length, math.Max(length, within(e.PageCm, 0, 400)))
	s.deep = within(e.HeightCm, 3, 200) * s.s
	s.tick = 10 * s.s
	if e.Inches {
		s.tick = 4 * cmPerInch * s.s
	}
	if length < 40 {
		s.tick /= 2
	}
	if s.wet {
		s.water = within(e.RimCm*s.s, 0, s.deep)
	}
	s.lay(e)
	s.hang(e, length)
	for _, p := range e.Plants {
		s.plants = append(s.plants, p.tidy(s))
	}
	s.plants = Spread(length, s.plants)
	s.top = math.Min(s.top, s.crest())
	return s
}

// mostOfTank is the largest scale of a tank, units a centimetre.
const mostOfTank = 14

// fullWide is how wide the drawing of a long tank is: the text of a wide page.
const fullWide = 920.0

// size chooses the scale: the longest tank of the page fills the drawing, but no tank is drawn larger than 14 units a centimetre.
func (s *scene) size(length, longest float64) {
	s.s = math.Min(mostOfTank, (fullWide-2*sideRoom)/longest)
	s.wide = fullWide
	for _, w := range [...]float64{480, 680} {
		if longest*s.s+2*sideRoom <= w {
			s.wide = w
			break
		}
	}
	s.long = length * s.s
	s.left = -sideRoom
	if longest == length {
		s.left = -(s.wide - s.long) / 2
	}
}

// lay puts in the layers of substrate, up to the water's surface at most.
func (s *scene) lay(e Elevation) {
	s.ground = s.deep
	for _, l := range e.Layers[:min(len(e.Layers), 8)] {
		h := math.Min(within(l.DepthCm, 0, 50)*s.s, s.ground-s.water)
		l.DepthCm = h / s.s
		s.ground -= h
		s.layers = append(s.layers, l)
	}
}

// hang puts up the lamps.
func (s *scene) hang(e Elevation, length float64) {
	for _, l := range e.Lamps[:min(len(e.Lamps), 12)] {
		l.LengthCm, l.AboveRimCm = within(l.LengthCm, 1, 400), within(l.AboveRimCm, 0, 150)
		if l.Centred {
			l.FromCm = (length - l.LengthCm) / 2
		}
		l.FromCm = within(l.FromCm, -200, 400)
		s.lamps = append(s.lamps, l)
		s.top = math.Min(s.top, -l.AboveRimCm*s.s-lampThick)
	}
}

// perchedPart is the most of the water's depth that a plant on wood or stone takes.
const perchedPart = 0.62

// crest is the y of the highest leaf: in air the plants may rise over the rim, on water the floating ones.
func (s scene) crest() float64 {
	crest := 0.0
	for _, p := range s.shown() {
		switch {
		case !s.wet:
			crest = math.Min(crest, s.ground-(p.FootCm+p.HeightCm*1.25)*s.s)
		case p.Habit == Floating || p.Afloat && p.Habit != Moss:
			crest = math.Min(crest, s.water-math.Max(p.HeightCm, p.Leaf.LengthCm*0.6)*1.1*s.s)
		}
	}
	return crest
}

func (p Plant) tidy(s scene) Plant {
	p.Leaf = p.Leaf.tidy()
	length := s.long / s.s
	p.FromCm, p.ToCm = within(p.FromCm, 0, length), within(p.ToCm, 0, length)
	if p.FromCm > p.ToCm {
		p.FromCm, p.ToCm = p.ToCm, p.FromCm
	}
	p.Row = max(Front, min(Back, p.Row))
	if p.HeightCm <= 0 || math.IsNaN(p.HeightCm) {
		p.HeightCm = usualHeight(p.Habit)
	}
	p.HeightCm = within(p.HeightCm, 0.2, 250)
	if f := (form{habit: p.Habit, leaf: p.Leaf}); s.wet && f.perched() && !p.Afloat { // so that what it sits on is seen
		p.HeightCm = math.Max(0.2, math.Min(p.HeightCm, (s.ground-s.water)/s.s*perchedPart))
	}
	p.FootCm = within(p.FootCm, 0, math.Max(0, (s.ground-s.water)/s.s))
	p.Cover = within(p.Cover, 0, 1)
	p.Count, p.Leaves = max(0, p.Count), max(0, p.Leaves)
	past := make([]Stage, 0, s.moments)
	for _, g := range p.Past[:min(len(p.Past), s.moments)] {
		g.Count, g.Leaves, g.Cover = max(0, g.Count), max(0, g.Leaves), within(g.Cover, 0, 1)
		g.HeightCm = within(g.HeightCm, 0, 250)
		past = append(past, g)
	}
	for len(past) < s.moments {
		past = append(past, p.now())
	}
	p.Past = past
	return p
}

// stand is the y of the ground for a row: the further back, the higher the bank.
func (s scene) stand(row Row) float64 {
	rise := math.Min(9, (s.ground-s.water)*0.05)
	return s.ground - rise*[...]float64{Front: -0.2, Middle: 0.55, Back: 1}[row]
}
