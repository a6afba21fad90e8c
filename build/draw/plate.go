package draw

import (
	"html/template"
	"math"
	"strconv"
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
}

// Specimen is a finished plate.
type Specimen struct {
	SVG     template.HTML
	ScaleCm float64 // what the scale bar stands for
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
	var svg string
	var bar float64
	words := len(plain(p.Title)) + len(plain(p.Desc)) + 8*len(name(p.ID))
	for _, fine := range plateLevels {
		f, scale := p.fit(d, fine)
		svg, bar = p.svg(f, scale)
		if len(svg)-words <= MaxBytes {
			break
		}
	}
	return Specimen{template.HTML(svg), bar} //nolint:gosec // all strings are escaped by plain and name
}

// MaxSprig is the most that a sprig weighs, bytes: a page has many.
const MaxSprig = 6_000

// Sprig draws the plant small, without straps, roots or scale, for a label beside its name. It carries no title and is
// hidden from screen readers; 72 × 102 units, at most MaxSprig.
func (p Plate) Sprig() template.HTML {
	p = p.tidy()
	p.Unrooted = p.Habit != Floating
	p.Single = p.Single || p.Habit != Stem
	if p.Habit == Stem {
		p.HeightCm = math.Min(p.HeightCm, math.Max(6*p.Leaf.LengthCm, 4))
	}
	var svg string
	for _, fine := range sprigLevels {
		f, _ := p.fit(layout{width: 70, height: 100, most: 6}, fine)
		w := new(page)
		w.put(`<svg class="d-sprig" viewBox="0 0 72 102" aria-hidden="true" focusable="false"><g class="`, p.Leaf.Tint.class(), `">`)
		w.paths(f)
		w.put(`</g></svg>`)
		if svg = w.String(); len(svg) <= MaxSprig {
			break
		}
	}
	return template.HTML(svg) //nolint:gosec // no caller's string is written
}

var sprigLevels = [...]detail{
	{leaves: 30, pieces: 2, pairs: 4, veins: true},
	{leaves: 24, pieces: 1, pairs: 3, veins: true},
	{leaves: 20, pieces: 1, pairs: 2},
	{leaves: 16, pieces: 1, pairs: 2},
	{leaves: 12, pieces: 1, pairs: 1},
	{leaves: 8, pieces: 1, pairs: 1},
	{leaves: 6, pieces: 1, pairs: 1},
	{leaves: 5, pieces: 1, pairs: 1},
	{leaves: 4, pieces: 1, pairs: 1},
	{leaves: 3, pieces: 1, pairs: 1},
	{leaves: 3, pieces: 1, pairs: 0},
}

// Blade draws one leaf enlarged, for the line that says that a plate is drawn; hidden from screen readers, 44 × 156 units.
func (p Plate) Blade() template.HTML {
	p = p.tidy()
	l := p.Leaf
	f := newFigure(seeded(p.Seed, "blade"), detail{leaves: 60, pieces: 3, pairs: 6, veins: true, side: true}, 1, pt{22, 150})
	k := math.Min(140/(l.LengthCm*1.5), 40/l.WidthCm)
	long, wide := l.LengthCm*k, l.WidthCm*k
	if l.Shape == Feather {
		long, wide = 120, 40
	}
	if l.Shape == Linear || l.Shape == Strap || l.Shape == Needle || l.Shape == Lanceolate {
		long, wide = 140, math.Max(4, math.Min(36, 140*l.WidthCm/l.LengthCm))
	}
	foot := math.Min(140-long, long*l.stalk()+4)
	if l.Shape == Sprays {
		f.spray(form{leaf: l}, arc(pt{0, 0}, up, 140, 0.25), 140)
	} else if l.Shape == Thallus {
		f.fork(&f.pens[stalk], pt{}, up, 44, 3)
	} else {
		f.pens[stalk].stroke(arc(pt{}, up, foot+2, 0), 0, 1, 1)
		f.leafOn(l, arc(pt{0, -foot}, up, long, f.side()*0.12), long, wide, 0.5)
	}
	w := new(page)
	w.put(`<svg class="d-blade" viewBox="0 0 44 156" aria-hidden="true" focusable="false"><g class="`, l.Tint.class(), `">`)
	w.paths(f)
	w.put(`</g></svg>`)
	return template.HTML(w.String()) //nolint:gosec // no caller's string is written
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

func (p Plate) svg(f *figure, scale float64) (string, float64) {
	w := new(page)
	bottom := plateMargin + (f.ground.hi.y-f.ground.lo.y)*scale
	tall := math.Min(plateTall, bottom+plateFoot+plateMargin*0.6)
	w.open("d-plate", name(p.ID), 0, 0, plateWidth, tall, p.Title, p.Desc)
	w.put(`<g class="`, p.Leaf.Tint.class(), `">`)
	w.paths(f)
	w.put(`</g>`)
	f.straps(w, scale)
	bar := w.scaleBar(scale, tall-14)
	w.put(`</svg>`)
	return w.String(), bar
}

// straps holds the specimen with three paper straps, as far from each other as its stalks allow.
func (f *figure) straps(w *page, scale float64) {
	middle := pt{(f.ground.lo.x + f.ground.hi.x) / 2, f.ground.lo.y*0.35 + f.ground.hi.y*0.65}
	var held []pt
	for range min(3, len(f.anchors)) {
		best, found := 0.0, -1
		for i, a := range f.anchors {
			away := 1 / (1 + math.Hypot(a.at.x-middle.x, a.at.y-middle.y)) // the first: near the middle
			for k, h := range held {
				d := math.Hypot(a.at.x-h.x, a.at.y-h.y)
				if k == 0 || d < away {
					away = d
				}
			}
			if away > best {
				best, found = away, i
			}
		}
		if found < 0 || len(held) > 0 && best*scale < 30 {
			return
		}
		a, off := f.anchors[found], f.pens[0].off
		held = append(held, a.at)
		turn := math.Mod(a.angle/deg+90+f.span(-8, 8), 180)
		w.put(`<rect class="d-strap" x="-21" y="-4.5" width="42" height="9" transform="translate(`, num(a.at.x*scale+off.x), ` `,
			num(a.at.y*scale+off.y), `)rotate(`, num(turn), `)"/>`)
	}
}

// scaleBar draws a bar of a round length, 50–140 units long where one is, and returns the centimetres it stands for.
func (w *page) scaleBar(scale, y float64) float64 {
	bar := 500.0
	for _, mm := range [...]float64{1, 2, 5, 10, 20, 50, 100, 200} {
		if mm*scale >= 52 {
			bar = mm
			break
		}
	}
	words := strconv.Itoa(int(bar/10)) + " cm"
	if bar < 10 {
		words = strconv.Itoa(int(bar)) + " mm"
	}
	x := plateMargin
	w.put(`<path class="d-scale" d="M`, num(x), ` `, num(y-5), `v5h`, num(bar*scale), `v-5"/><text class="d-text" x="`, num(x+bar*scale+9), `" y="`, num(y), `">`, words, `</text>`)
	return bar / 10
}
