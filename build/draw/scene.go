package draw

import "math"

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
	if e.Inches {
		s.tick = 4 * mmPerInch
	}
	if s.length < 400 {
		s.tick /= 2
	}
	if s.wet {
		s.water = within(e.RimCm*10, 0, s.depth)
	}
	s.lay(e)
	s.hang(e)
	for _, p := range e.Plants {
		s.plants = append(s.plants, p.tidy(s))
	}
	s.plants = Spread(s.length/10, s.plants)
	s.top = math.Min(s.top, s.crest())
	return s
}

// lay puts in the layers of substrate, up to the water's surface at most.
func (s *scene) lay(e Elevation) {
	s.ground = s.depth
	for _, l := range e.Layers[:min(len(e.Layers), 8)] {
		l.DepthCm = within(l.DepthCm, 0, 50)
		l.DepthCm = math.Min(l.DepthCm, (s.ground-s.water)/10)
		s.ground -= l.DepthCm * 10
		s.layers = append(s.layers, l)
	}
}

// hang puts up the lamps.
func (s *scene) hang(e Elevation) {
	for _, l := range e.Lamps[:min(len(e.Lamps), 12)] {
		l.LengthCm, l.AboveRimCm = within(l.LengthCm, 1, 400), within(l.AboveRimCm, 0, 150)
		if l.Centred {
			l.FromCm = (s.length/10 - l.LengthCm) / 2
		}
		l.FromCm = within(l.FromCm, -200, 400)
		s.lamps = append(s.lamps, l)
		s.top = math.Min(s.top, -l.AboveRimCm*10-lampThick)
	}
}

// crest is the y of the highest leaf: in air the plants may rise over the rim, on water the floating ones.
func (s scene) crest() float64 {
	crest := 0.0
	for _, p := range s.plants[:min(len(s.plants), maxPlants)] {
		switch {
		case !s.wet:
			crest = math.Min(crest, s.ground-(p.FootCm+p.HeightCm*1.2)*10)
		case p.Habit == Floating || p.Afloat && p.Habit != Moss:
			crest = math.Min(crest, s.water-math.Max(p.HeightCm, p.Leaf.LengthCm*0.6)*11)
		}
	}
	return crest
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
