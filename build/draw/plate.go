package draw

import (
	"html/template"
	"math"
)

// Plate is a herbarium plate for a plant that has no photograph: a specimen made from habit and leaf, held by three straps.
type Plate struct {
	ID       string // prefix of the ids in the drawing
	Seed     string // the plant's id
	Title    string
	Desc     string
	Habit    Habit
	Leaf     Leaf    // see LeafOf
	HeightCm float64 // of a grown plant, 0.2–250; 0: usual for the habit
	Count    int     // nodes of a stem; leaves or fronds of the others; 0: as usual
	Unrooted bool    // a cutting: no roots
	Single   bool    // no second stem, daughter or tuft
	Inch     string  // the sign of an inch, for a scale bar of inches; "": it is metric
}

// Specimen is a finished plate.
type Specimen struct {
	SVG     template.HTML
	ScaleCm float64 // what the scale bar stands for
	Scale   string  // the same as it is written beside the bar: "5 cm", "2 in"
}

const (
	plateWidth  = 420.0 // units
	plateTall   = 604.0
	plateMargin = 26.0
	plateFoot   = 34.0 // for the scale bar
)

// Draw draws the plate: 420 units wide and as tall as the specimen needs, at most 604. The scale bar is true to the drawing.
func (p Plate) Draw() Specimen {
	d := layout{width: plateWidth - 2*plateMargin, height: plateTall - 2*plateMargin - plateFoot, most: 14}
	var s Specimen
	words := len(plain(p.Title)) + len(plain(p.Desc)) + 8*len(name(p.ID))
	for _, fine := range plateLevels {
		f, scale := p.fit(d, fine)
		s = p.finish(f, scale)
		if len(s.SVG)-words <= MaxBytes {
			break
		}
	}
	return s
}

// plateLevels of detail, finest first: side veins go before leaves do, leaves before leaflets.
var plateLevels = [...]detail{
	{leaves: 90, pieces: 3, pairs: 6, veins: true, side: true},
	{leaves: 90, pieces: 2, pairs: 5, veins: true, side: true},
	{leaves: 90, pieces: 2, pairs: 4, veins: true},
	{leaves: 64, pieces: 2, pairs: 4, veins: true},
	{leaves: 56, pieces: 1, pairs: 4, veins: true},
	{leaves: 44, pieces: 1, pairs: 4, veins: true},
	{leaves: 34, pieces: 1, pairs: 4, veins: true},
	{leaves: 26, pieces: 1, pairs: 4, veins: true},
	{leaves: 20, pieces: 1, pairs: 3},
	{leaves: 14, pieces: 1, pairs: 3},
	{leaves: 10, pieces: 1, pairs: 2},
	{leaves: 6, pieces: 1, pairs: 1},
}

// layout is the ground that a specimen may fill, in units, and the most that a millimetre may be enlarged.
type layout struct{ width, height, most float64 }

func (p Plate) height() float64 {
	if !(p.HeightCm > 0) {
		return usualHeight(p.Habit)
	}
	return within(p.HeightCm, 0.2, 250)
}

func (p Plate) tidy() Plate {
	p.HeightCm = p.height()
	p.Leaf = p.Leaf.tidy()
	p.Count = max(0, min(p.Count, 90))
	p.HeightCm = math.Min(p.HeightCm, p.most())
	return p
}

// most is the longest piece that still shows its leaves on a sheet of paper, cm: a collector would cut a long stem and
// take a young ribbon plant.
func (p Plate) most() float64 {
	switch {
	case p.Habit == Stem:
		return math.Max(6, 9*p.Leaf.LengthCm)
	case p.Leaf.ribbon() && p.Habit != Carpet:
		return math.Max(12, 40*p.Leaf.WidthCm)
	}
	return p.HeightCm
}

// fit draws the specimen twice: once to learn how much ground it covers, and again to the scale at which it fills the
// layout, with pen strokes that do not grow with it.
func (p Plate) fit(d layout, fine detail) (*figure, float64) {
	p = p.tidy()
	scale, off := 1.0, pt{}
	for range 3 { // what is left out at a small scale changes the ground a little
		f := newFigure(seeded(p.Seed, "plate"), fine, scale, off)
		p.specimen(f)
		b := f.ground
		wide, tall := math.Max(b.hi.x-b.lo.x, 0.1), math.Max(b.hi.y-b.lo.y, 0.1)
		scale = math.Min(d.most, math.Min(d.width/wide, d.height/tall))
		off = pt{(d.width-wide*scale)/2 - b.lo.x*scale + 1, d.height - b.hi.y*scale + 1}
		if d.height > 200 { // a plate is as tall as its specimen, from the top margin down
			off = pt{plateMargin + (d.width-wide*scale)/2 - b.lo.x*scale, plateMargin - b.lo.y*scale}
		}
	}
	f := newFigure(seeded(p.Seed, "plate"), fine, scale, off)
	p.specimen(f)
	return f, scale
}

func (p Plate) finish(f *figure, scale float64) Specimen {
	w := new(page)
	bottom := plateMargin + (f.ground.hi.y-f.ground.lo.y)*scale
	tall := math.Min(plateTall, bottom+plateFoot+plateMargin*0.6)
	w.open("d-plate", name(p.ID), 0, 0, plateWidth, tall, p.Title, p.Desc)
	w.put(`<g class="`, p.Leaf.Tint.class(), `">`)
	w.paths(f)
	w.put(`</g>`)
	f.straps(w, scale)
	b := w.scaleBar(scale, tall-14, p.Inch)
	w.put(`</svg>`)
	return Specimen{template.HTML(w.String()), b.mm / 10, b.name} // all strings are escaped by plain and name
}
