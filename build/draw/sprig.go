package draw

import (
	"html/template"
	"math"
)

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
	return template.HTML(svg) // no caller's string is written
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
	return template.HTML(w.String()) // no caller's string is written
}
