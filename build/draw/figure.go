package draw

import "math"

// The layers of a figure in the order in which they are painted. Leaves lie in three depths, so that near ones cover far
// ones; within a depth they share one path, which keeps the file small.
const (
	roots = iota
	runner
	thick // rhizomes
	body  // bulbs
	far
	stalk
	mid
	near
	hair // blades too fine for an edge
	vein
	thread
	layers
)

var layerClass = [layers]string{
	roots: "d-root", runner: "d-axis", thick: "d-axis d-thick", body: "d-body", far: "d-leaf d-under", stalk: "d-axis d-thin",
	mid: "d-leaf", near: "d-leaf", hair: "d-leaf d-hair", vein: "d-vein", thread: "d-thread",
}

// detail says how much a figure may cost.
type detail struct {
	leaves   int // most leaves (threads, shoots) in a figure
	pieces   int // curve pieces a leaf side
	pairs    int // pairs of threads or leaflets
	veins    bool
	side     bool // side veins
	variants int  // figures drawn for one planting
	whole    bool // whole units only
}

// figure is one plant in the making: paths by layer in millimetres, its foot at the origin.
type figure struct {
	*dice
	pens    [layers]pen
	fine    detail
	least   float64 // the narrowest blade that still shows, units
	ground  box
	anchors []anchor
}

// anchor is a place where a strap can hold the specimen.
type anchor struct {
	at    pt
	angle float64
}

func newFigure(d *dice, fine detail, scale float64, off pt) *figure {
	f := &figure{dice: d, fine: fine, least: 2.2}
	for i := range f.pens {
		f.pens[i].scale, f.pens[i].off, f.pens[i].box, f.pens[i].whole = scale, off, &f.ground, fine.whole
	}
	return f
}

// at puts the foot of what is drawn next at p (mm).
func (f *figure) at(p pt) {
	for i := range f.pens {
		f.pens[i].origin = p
	}
}

// anchor notes that a strap could go over the rib at u.
func (f *figure) anchor(r rib, u float64) {
	p, a := r(u)
	o := f.pens[0].origin
	f.anchors = append(f.anchors, anchor{pt{p.x + o.x, p.y + o.y}, a})
}

// form is what a habit's routine is told. Lengths are mm.
type form struct {
	habit  Habit
	leaf   Leaf
	height float64
	column float64 // water over the foot; 0: free air
	count  int     // nodes of a stem, leaves of the others; 0: as the height suggests
	rooted bool    // draw the roots
	flat   bool    // pressed: floating plants seen from above
}

func (fm form) length() float64 { return fm.leaf.LengthCm * 10 }
func (fm form) width() float64  { return fm.leaf.WidthCm * 10 }

// grow draws the form by its habit.
func (f *figure) grow(fm form) {
	switch fm.habit {
	case Stem:
		f.stem(fm)
	case Rhizome:
		f.rhizome(fm)
	case Carpet:
		f.tuft(fm)
	case Fern:
		f.fern(fm)
	case Moss:
		f.moss(fm)
	case Floating:
		f.float(fm)
	case Bulb:
		f.bulb(fm)
	default:
		f.rosette(fm, pt{})
	}
}

// depth picks the layer for a leaf that points away from (-1) or towards (1) the viewer.
func depth(toward float64) int {
	switch {
	case toward < -0.3:
		return far
	case toward < 0.35:
		return mid
	}
	return near
}

// leafOn draws one leaf along its rib; length and width are mm as seen.
func (f *figure) leafOn(l Leaf, r rib, length, width, toward float64) {
	p := &f.pens[depth(toward)]
	shape := l.Shape
	if f.fine.pairs == 0 && shape >= Lobed { // no bytes left for leaflets
		shape, width = Lanceolate, width*0.24
	}
	switch shape {
	case Feather:
		f.pens[thread].comb(r, length, math.Min(width, length*1.1), f.fine.pairs)
	case Lobed:
		p.cut(r, length, width, f.fine.pairs)
	case Pinnate:
		f.pens[stalk].stroke(r, 0, 0.95, 1)
		p.frond(r, width, f.fine.pairs+2+boolInt(f.fine.pairs > 1), 0.1, 0.34)
	case Bipinnate:
		f.lace(p, r, width)
	case Clover:
		at, a := r(0.3)
		p.clover(at, a, math.Max(length, width), 4-boolInt(f.fine.pairs < 2))
	default:
		f.simple(p, shape, r, length, width, toward)
	}
}

func (f *figure) simple(p *pen, s Shape, r rib, length, width, toward float64) {
	if width*p.scale < 3 {
		f.pens[hair].sliver(r, math.Max(width, f.least/p.scale))
		return
	}
	small := length*p.scale < 16 || width*p.scale < 5
	k := f.fine.pieces
	if s == Strap && k > 1 {
		k = k*2 + 1
	}
	if (small || k == 1) && s != Cordate && s != Notched && s != Round && s != Spatulate {
		p.sliver(r, width)
	} else {
		p.blade(r, width, s, max(1+boolInt(s != Spatulate), k-boolInt(small)))
	}
	if f.fine.veins && !small && toward > -0.3 {
		f.pens[vein].veins(r, width, s, f.fine.side && width*p.scale > 16)
	}
}

// lace draws a frond whose leaflets are divided themselves.
func (f *figure) lace(p *pen, r rib, width float64) {
	f.pens[stalk].stroke(r, 0, 0.96, 2)
	pairs := f.fine.pairs + 1
	for i := range pairs {
		u := 0.08 + 0.8*float64(i)/float64(pairs)
		reach := width / 2 * (1.08 - 0.75*u)
		for _, side := range [...]float64{-1, 1} {
			foot, a := r(u + 0.015*side)
			sub := arc(foot, a+side*58*deg, reach, -side*0.5)
			f.pens[stalk].stroke(sub, 0, 0.8, 1)
			p.frond(sub, reach*0.8, max(2, f.fine.pairs-2), 0.25, 0.42)
		}
	}
	foot, a := r(0.86)
	p.frond(arc(foot, a, width*0.3, 0), width*0.26, 2, 0.2, 0.4)
}

// rootlets draws n fine roots that hang from at, about length long (mm).
func (f *figure) rootlets(at pt, n int, length, spread float64) {
	for i := range n {
		t := (float64(i)+0.5)/float64(n)*2 - 1
		l := f.near(length*(1-0.3*math.Abs(t)), 0.25)
		end := pt{at.x + t*spread*f.span(0.7, 1.3), at.y + l}
		p := &f.pens[roots]
		p.move(at)
		wave := f.span(-0.3, 0.3) * l * 0.5
		p.cubic(pt{at.x + t*spread*0.8, at.y + l*0.3}, pt{end.x + wave, at.y + l*0.6}, end)
	}
}
