package draw

import (
	"html/template"
	"math"

	"slipleaf/build/curve"
	"slipleaf/build/dice"
)

// Plate is one plant, drawn from habit and leaf: as a herbarium plate, as a sprig for a label, on a shelf, or as a drawing
// of a care sheet.
type Plate struct {
	ID       string // prefix of the ids in the drawing
	Seed     string // the plant's id
	Title    string
	Desc     string
	Habit    Habit
	Leaf     Leaf    // see LeafOf
	HeightCm float64 // of a grown plant, 0.2–250; 0: usual for the habit
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
	plateMargin = 24.0
	plateFoot   = 34.0  // for the scale bar
	mostScale   = 140.0 // units a centimetre
)

// Draw draws the plate: 420 units wide and as tall as the specimen needs, at most 604, in at most MaxPlate bytes. The scale
// bar is true to the drawing.
func (p Plate) Draw() Specimen {
	p = p.tidy().upTo(8, 34)
	var s Specimen
	words := len(plain(p.Title)) + len(plain(p.Desc)) + 8*len(name(p.ID))
	for fine := range 12 {
		k := p.fit(plateWidth-2*plateMargin, plateTall-2*plateMargin-plateFoot, fine, p.specimen)
		s = p.finish(k)
		if len(s.SVG)-words <= MaxPlate {
			break
		}
	}
	return s
}

func (p Plate) tidy() Plate {
	p.Leaf = p.Leaf.tidy()
	if !(p.HeightCm > 0) {
		p.HeightCm = usualHeight(p.Habit)
	}
	p.HeightCm = within(p.HeightCm, 0.2, 250)
	return p
}

// upTo is a piece that still shows its leaves where there is little room: so many leaves of a stem, so many widths of a ribbon.
func (p Plate) upTo(leaves, widths float64) Plate {
	f := form{habit: p.Habit, leaf: p.Leaf}
	switch {
	case p.Habit == Stem && f.manner() != Creeping:
		p.HeightCm = math.Min(p.HeightCm, math.Max(4, leaves*p.Leaf.LengthCm))
	case f.manner() == Eelgrass:
		p.HeightCm = math.Min(p.HeightCm, math.Max(9, widths*p.Leaf.WidthCm))
	}
	return p
}

// form is the plant at a scale, in free air.
func (p Plate) form(k *sketch) form {
	f := form{habit: p.Habit, leaf: p.Leaf, height: p.HeightCm * k.s}
	return f.fitted(k.s)
}

// fitted makes the leaves of a low plant short: they are no taller than it is.
func (f form) fitted(s float64) form {
	f.height = math.Max(f.height, 1.5)
	whole := (f.leaf.LengthCm + f.leaf.PetioleCm) * s
	if most := f.height * 1.05; f.habit != Stem && f.habit != Floating && f.habit != Moss && whole > most {
		r := most / whole
		f.leaf.LengthCm *= r
		f.leaf.PetioleCm *= r
		f.leaf.WidthCm *= math.Sqrt(r)
	}
	return f
}

// fit sketches twice: once to learn how much ground is covered, and again at the scale that fills the width and height.
func (p Plate) fit(width, height float64, fine int, draw func(*sketch)) *sketch {
	s := 10.0
	var k *sketch
	for range 3 {
		k = newSketch(dice.Seeded(p.Seed, "plate"), s, fine, p.Leaf.Tint)
		draw(k)
		r := math.Min(width/math.Max(k.box.Wide(), 0.1), height/math.Max(k.box.Tall(), 0.1))
		if r > 0.985 && r < 1.04 {
			break
		}
		s = math.Min(mostScale, s*r*0.995)
	}
	return k
}

// finish puts the specimen on its plate.
func (p Plate) finish(k *sketch) Specimen {
	w := new(page)
	tall := k.box.Tall() + 2*plateMargin + plateFoot*0.7
	w.open("d-plate", name(p.ID), 0, 0, plateWidth, tall, p.Title, p.Desc)
	dx, dy := (plateWidth-k.box.Wide())/2-k.box.Lo.X, plateMargin-k.box.Lo.Y
	w.at(dx, dy, k)
	if f := p.form(k); p.Habit != Floating && !f.perched() {
		for _, h := range k.straps(p.Habit == Stem) {
			w.strap(h, dx, dy)
		}
	}
	b := w.scaleBar(k.s, plateMargin, tall-14, p.Inch)
	w.put(`</svg>`)
	return Specimen{template.HTML(w.String()), b.cm, b.name} // all strings are escaped by plain and name
}

// MaxSprig is the most that a sprig weighs, bytes: a page has many.
const MaxSprig = 6_000

// Sprig draws the plant small, without roots or scale, for a label beside its name. It carries no title and is hidden from
// screen readers; 72 × 102 units, at most MaxSprig bytes.
func (p Plate) Sprig() template.HTML {
	return template.HTML(`<svg class="d-sprig" viewBox="0 0 72 102" width="72" height="102" aria-hidden="true" focusable="false">` + p.small(72, 102, MaxSprig-120) + `</svg>`) // no caller's string is written
}

// small is one plant without roots that fills a width and height, in at most so many bytes.
func (p Plate) small(width, height float64, most int) string {
	p = p.short()
	w := new(page)
	for fine := 1; fine < 24; fine++ {
		k := p.fit(width-4, height-4, fine, func(k *sketch) { p.single(k, true) })
		w.Reset()
		w.at((width-k.box.Lo.X-k.box.Hi.X)/2, height-2-k.box.Hi.Y, k)
		if w.Len() < most {
			break
		}
	}
	return w.String()
}

// Blade draws one leaf enlarged, for the line that says that a plate is drawn; hidden from screen readers, 44 × 156 units.
func (p Plate) Blade() template.HTML {
	p = p.tidy()
	l := p.Leaf
	grown := math.Min(136/(l.LengthCm*1.2+math.Min(l.PetioleCm, l.LengthCm*0.3)), 40/l.WidthCm)
	k := newSketch(dice.Seeded(p.Seed, "blade"), grown, 0, l.Tint)
	f := form{habit: p.Habit, leaf: l, height: 130, rich: true, bare: true}
	switch {
	case l.Shape == Sprays:
		k.s = 30
		k.shoot(curve.Pt{}, up, 130, f, 1, 1)
	case l.Shape == Thallus:
		var d curve.Path
		k.fork(&d, curve.Pt{}, up, 40, 3)
		k.line(d, stemLine, 5)
	case l.Shape == Bipinnate:
		k.antler(curve.Pt{}, up, 130, 0.1, light, false)
	default:
		long, wide := l.LengthCm*grown, l.WidthCm*grown
		if l.grassy() || l.Shape == Strap {
			long, wide = 136, math.Max(5, 136*l.WidthCm/l.LengthCm)
		}
		stalk := math.Min(l.PetioleCm*grown, 20)
		k.stroke([]curve.Pt{pt(0, 0), pt(0.5, -stalk/2), pt(0, -stalk-3)}, stalkLine, 1.6)
		k.leafOn(l, twig{at: pt(0, -stalk), angle: up, length: long, width: wide, bend: k.Side() * 0.12, toward: 0.5}, true)
	}
	w := new(page)
	w.put(`<svg class="d-blade" viewBox="0 0 44 156" width="44" height="156" aria-hidden="true" focusable="false">`)
	r := math.Min(1, math.Min(42/math.Max(1, k.box.Wide()), 150/math.Max(1, k.box.Tall())))
	w.put(`<g transform="translate(`, num(22-r*(k.box.Lo.X+k.box.Hi.X)/2), ` `, num(152-r*k.box.Hi.Y), `)scale(`, hundredths(r), `)">`)
	k.body(w)
	w.put(`</g></svg>`)
	return template.HTML(w.String()) // no caller's string is written
}

// bar is a scale bar: its length and what it is called.
type bar struct {
	cm   float64
	name string
}

// cmPerInch is the international inch (exact; NIST SP 811, from memory).
const cmPerInch = 2.54

// metricBars and inchBars are round lengths, shortest first. Nobody reads a twentieth of an inch, so those begin at a half.
var (
	metricBars = [...]bar{{0.1, "1 mm"}, {0.2, "2 mm"}, {0.5, "5 mm"}, {1, "1 cm"}, {2, "2 cm"}, {5, "5 cm"}, {10, "10 cm"}, {20, "20 cm"}, {50, "50 cm"}}
	inchBars   = [...]bar{{cmPerInch / 2, "½"}, {cmPerInch, "1"}, {2 * cmPerInch, "2"}, {4 * cmPerInch, "4"}, {8 * cmPerInch, "8"}, {20 * cmPerInch, "20"}}
)

// scaleBar draws a bar of a round length, 50–140 units long where one is (of inches: 50–178), and returns it with
// its whole name. inch is the sign of an inch; "" asks for a metric bar.
func (w *page) scaleBar(scale, x, y float64, inch string) bar {
	all := metricBars[:]
	if inch != "" {
		all = inchBars[:]
	}
	b := all[len(all)-1]
	for _, x := range all {
		if x.cm*scale >= 52 {
			b = x
			break
		}
	}
	if inch != "" {
		b.name += " " + inch
	}
	w.put(`<path class="d-scale" d="M`, num(x), ` `, num(y-5), `v5h`, num(b.cm*scale), `v-5"/><text class="d-text" x="`, num(x+b.cm*scale+9), `" y="`, num(y), `">`, plain(b.name), `</text>`)
	return b
}
