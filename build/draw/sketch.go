package draw

import (
	"cmp"
	"math"
	"slices"
	"strconv"
	"strings"

	"slipleaf/build/curve"
	"slipleaf/build/dice"
)

// The tones of a leaf: by where it faces and how old it is.
const (
	shade  = iota // behind, or the oldest
	plainT        // the body of the plant
	light         // towards the viewer
	young         // newest
)

// Lines that a plant is drawn with.
const (
	stemLine  = "d-t" // stems, in the plant's colour
	stalkLine = "d-x" // stalks and what is shaded
	veinLine  = "d-y" // veins, pale
	inkLine   = "d-i" // what is drawn onto a leaf, dark
	rootLine  = "d-r"
)

// mark is one leaf or line, in the order of painting.
type mark struct {
	hue   Tint
	leaf  bool
	tone  int
	class string
	width float64
	cell  cell
	path  curve.Path
}

type cell struct {
	hue  Tint
	X, Y int
}

// crowdCell is the side of the squares in which leaves are counted.
const crowdCell = 16.0

// sketch is one plant in the making. Leaves wait until all are known: then each outline is thinned by how crowded its place is.
type sketch struct {
	*dice.Dice
	s     float64 // units a centimetre
	fine  int     // detail: 0 all of it, more is less
	mass  bool    // one of many: a path for each tone and its veins, outlines alike, lines of few widths
	rough bool    // a silhouette in four tones: no veins, no roots in the ground, outlines of half as many points, a path for each tone
	hue   Tint
	marks []mark
	crowd map[cell]float64
	edge  int     // the outline of all leaves of a mass or silhouette
	press float64 // how much more crowded than drawn: others stand around
	box   curve.Box
}

func newSketch(d *dice.Dice, s float64, fine int, hue Tint) *sketch {
	return &sketch{Dice: d, s: s, fine: fine, hue: hue, crowd: map[cell]float64{}, press: 1}
}

func (k *sketch) cover(p curve.Path) {
	for _, q := range p.Pts {
		k.box.Add(q)
	}
}

// leaf paints an outline in a tone; at is its middle, size how much it crowds its place.
func (k *sketch) leaf(p curve.Path, tone int, at curve.Pt, size float64) {
	c := cell{k.hue, int(math.Floor(at.X / crowdCell)), int(math.Floor(at.Y / crowdCell))}
	k.crowd[c] += size
	k.cover(p)
	k.marks = append(k.marks, mark{hue: k.hue, leaf: true, tone: max(shade, min(young, tone)), cell: c, path: p})
}

// line strokes a path; width 0 is that of the class.
func (k *sketch) line(p curve.Path, class string, width float64) {
	if p.Empty() || k.rough && (class == veinLine || class == inkLine) {
		return
	}
	k.cover(p)
	m := mark{hue: k.hue, class: class, width: width, path: p}
	if n := len(k.marks); n > 0 && m.onLeaf() {
		m.tone = k.marks[n-1].tone
	}
	k.marks = append(k.marks, m)
}

// onLeaf tells what is drawn onto the leaf before it.
func (m mark) onLeaf() bool { return m.class == veinLine || m.class == inkLine }

// stroke strokes a smooth line.
func (k *sketch) stroke(pts []curve.Pt, class string, width float64) {
	var p curve.Path
	p.Stroke(pts)
	k.line(p, class, width)
}

// with paints in another colour.
func (k *sketch) with(hue Tint, f func()) {
	before := k.hue
	k.hue = hue
	f()
	k.hue = before
}

// outline is how thick a leaf's edge is, 0 thickest to 3.
func (k *sketch) outline(c cell) int {
	n := k.crowd[c]
	for _, d := range [...]cell{{c.hue, c.X + 1, c.Y}, {c.hue, c.X - 1, c.Y}, {c.hue, c.X, c.Y + 1}, {c.hue, c.X, c.Y - 1}} {
		n += k.crowd[d] / 4
	}
	n *= k.press
	switch {
	case n < 4:
		return 0
	case n < 8:
		return 1
	case n < 14:
		return 2
	}
	return 3
}

var toneClass = [...][4]string{{"d-a0", "d-a1", "d-a2", "d-a3"}, {"d-b0", "d-b1", "d-b2", "d-b3"}, {"d-c0", "d-c1", "d-c2", "d-c3"}, {"d-d0", "d-d1", "d-d2", "d-d3"}}

// class is the mark's class in the drawing.
func (k *sketch) class(m mark) string {
	switch {
	case m.leaf && (k.rough || k.mass):
		return toneClass[m.tone][k.edge]
	case m.leaf:
		return toneClass[m.tone][k.outline(m.cell)]
	}
	return m.class
}

// blade is the outline of a leaf along its rib.
func (k *sketch) blade(rib []curve.Pt, width float64, half func(u float64) float64) curve.Path {
	if n := len(rib) / 2; k.rough && n > 2 {
		few := make([]curve.Pt, n+1)
		for i := range few {
			few[i], _ = curve.Along(rib, float64(i)/float64(n))
		}
		rib = few
	}
	return curve.Blade(rib, width, half)
}

// grouped puts the marks in order: by colour, stems and stalks first, then leaves from the darkest on, what is drawn onto
// them after those of their tone.
func (k *sketch) grouped() []mark {
	var hues []Tint
	for _, m := range k.marks {
		if !slices.Contains(hues, m.hue) {
			hues = append(hues, m.hue)
		}
	}
	rank := func(m mark) int {
		switch {
		case m.leaf:
			return 1 + 2*m.tone
		case m.onLeaf():
			return 2 + 2*m.tone
		}
		return 0
	}
	out := slices.Clone(k.marks)
	for i, m := range out {
		if m.width > 0 {
			out[i].width = math.Max(1, math.Round(2*m.width)) / 2
		}
	}
	slices.SortStableFunc(out, func(a, b mark) int {
		return cmp.Or(cmp.Compare(slices.Index(hues, a.hue), slices.Index(hues, b.hue)), cmp.Compare(rank(a), rank(b)),
			cmp.Compare(a.class, b.class), cmp.Compare(a.width, b.width))
	})
	return out
}

// evenEdge is the outline that leaves have in the middle.
func (k *sketch) evenEdge() int {
	edges, leaves := 0, 0
	for _, m := range k.marks {
		if m.leaf {
			edges, leaves = edges+k.outline(m.cell), leaves+1
		}
	}
	return (edges + leaves/2) / max(1, leaves)
}

// body writes the marks: a group for each colour, and one path for marks of the same class as far as that looks the same.
func (k *sketch) body(w *page) {
	var on Tint = -1
	data := curve.Path.Data
	if k.rough {
		data = curve.Path.Rough
	}
	for _, l := range k.layers() {
		if l.hue != on {
			if on >= 0 {
				w.put(`</g>`)
			}
			on = l.hue
			w.put(`<g class="`, l.hue.class(), `">`)
		}
		w.put(`<path class="`, l.class, `"`)
		if l.width > 0 {
			w.put(` stroke-width="`, hundredths(l.width), `"`)
		}
		w.put(` d="`)
		w.scratch = data(l.path, w.scratch[:0])
		w.Write(w.scratch)
		w.put(`"/>`)
	}
	if on >= 0 {
		w.put(`</g>`)
	}
}

// layer is marks of one class painted as one path, and the box of each.
type layer struct {
	mark
	boxes []curve.Box
}

// layers are the marks with as few paths as show the same: a mark joins an earlier layer of its class if it covers nothing painted
// since, for a browser pays for each path, and in a tank once more for each figure. In a mass, and where detail is low, leaves
// of one layer may lie on each other.
func (k *sketch) layers() []layer {
	marks := k.marks
	if k.mass || k.rough {
		marks, k.edge = k.grouped(), 1
	}
	if k.mass && !k.rough {
		k.edge = k.evenEdge()
	}
	var out []layer
next:
	for _, m := range marks {
		m.class = k.class(m)
		box := m.box()
		for i := len(out) - 1; i >= 0; i-- {
			l := &out[i]
			same := l.hue == m.hue && l.class == m.class && l.width == m.width
			covers := slices.ContainsFunc(l.boxes, box.Meets)
			if same && (!covers || !m.leaf || k.fine >= 2 || k.mass) {
				l.path.Add(m.path)
				l.boxes = append(l.boxes, box)
				continue next
			}
			if covers {
				break
			}
		}
		out = append(out, layer{m, []curve.Box{box}})
	}
	return out
}

// widest is the widest line of a class that states none.
const widest = 1.0

// box is what the mark covers, its line included.
func (m mark) box() (b curve.Box) {
	for _, p := range m.path.Pts {
		b.Add(p)
	}
	return b.Grown(math.Max(m.width, widest) / 2)
}

func hundredths(v float64) string {
	s := strconv.FormatFloat(math.Round(v*100)/100, 'f', -1, 64)
	if strings.HasPrefix(s, "0.") {
		return s[1:]
	}
	return strings.Replace(s, "-0.", "-.", 1)
}

// roots draws n fine roots that hang from a point, at most length long.
func (k *sketch) roots(at curve.Pt, n int, length, spread float64) {
	if k.rough {
		return
	}
	k.with(Root, func() {
		var p curve.Path
		for range n {
			p.Stroke(curve.Rib(pt(at.X+k.Span(-1, 1), at.Y), -up+k.Span(-spread, spread), length*k.Span(0.5, 1), curve.Bow{Bend: k.Span(-0.5, 0.5)}, 4))
		}
		k.line(p, rootLine, 0)
	})
}
