package chart

import (
	"html/template"
	"strings"
)

// Tree is where plants went, as a plant: a trunk with a branch for each species, and on it a twig for each parcel that
// ends in what became of it. What was passed on again grows from the parcel that it came from. The page sets a nested list
// beside it that says the same.
type Tree struct {
	Caption
	Foot     string // what the trunk grows from
	Branches []Branch
	Marks    TreeMarks
}

// TreeMarks say what the marks mean. An empty one is left out.
type TreeMarks struct{ Established, Gone, Silent, Lot string }

// Branch is a species. Each of its lots is a node with the parcels that were sent from it.
type Branch struct {
	Name, Note string
	Lots       [][]Twig
}

// Twig is a parcel, or what was passed on from one.
type Twig struct {
	Outcome Outcome
	Kids    []Twig
}

// Draw makes the chart in both layouts; an empty picture without a branch.
func (t Tree) Draw() Picture {
	if len(t.Branches) == 0 {
		return Picture{}
	}
	return Picture{Broad: t.draw(broad()), Narrow: t.draw(narrow())}
}

// Measures of the tree, in the units of the picture.
const (
	twigStep  = 19.0 // from twig to twig on one side of a bough
	twigReach = 18.0 // from the bough to the mark
	twigNext  = 20.0 // from a mark to what was passed on from it
	markHalf  = 8.0
	boughRoot = 20.0 // from the trunk to the first twig
)

// shoot is a twig in its place: x along the bough from its first twig.
type shoot struct {
	x             float64
	side          int // 0 above the bough, 1 below
	depth, parent int // parent is -1 for one that springs from the bough itself
	outcome       Outcome
}

// bough is as much of a branch as has room beside the trunk.
type bough struct {
	shoots []shoot
	nodes  []float64 // where a lot begins
	end    [2]float64
	deep   [2]int

	name, note string
	y          float64 // of its line
	left       bool
}

// boughs sets the twigs of a branch by turns above and below, and begins another bough where there is no room for one more.
func (b Branch) boughs(room float64) []bough {
	out := []bough{newBough()}
	out[0].name, out[0].note = oneLine(b.Name), oneLine(b.Note)
	for _, lot := range b.Lots {
		for i, t := range lot {
			last := &out[len(out)-1]
			if last.width()+twigStep > room && len(last.shoots) > 0 {
				out = append(out, newBough())
				last = &out[len(out)-1]
			}
			root := last.sprout(t, last.emptier(), -1, 0)
			if i == 0 {
				last.nodes = append(last.nodes, last.shoots[root].x)
			}
		}
	}
	for i := range out {
		out[i].squeeze(room)
	}
	return out
}

func newBough() bough { return bough{end: [2]float64{0, twigStep / 2}} }

func (g *bough) emptier() int {
	if g.end[1] < g.end[0] {
		return 1
	}
	return 0
}

func (g *bough) width() float64 {
	w := g.end[0]
	if g.deep[1] > 0 {
		w = max(w, g.end[1])
	}
	return w
}

// sprout sets a twig with all that grows from it, and returns its place among the shoots.
func (g *bough) sprout(t Twig, side, parent, depth int) int {
	at := len(g.shoots)
	g.shoots = append(g.shoots, shoot{x: g.end[side], side: side, depth: depth, parent: parent, outcome: t.Outcome})
	g.deep[side] = max(g.deep[side], depth+1)
	if len(t.Kids) == 0 {
		g.end[side] += twigStep
		return at
	}
	first := g.sprout(t.Kids[0], side, at, depth+1)
	last := first
	for _, k := range t.Kids[1:] {
		last = g.sprout(k, side, at, depth+1)
	}
	g.shoots[at].x = (g.shoots[first].x + g.shoots[last].x) / 2
	return at
}

// squeeze makes what came of one parcel fit, where that alone is wider than the room.
func (g *bough) squeeze(room float64) {
	by := min(1, room/max(g.width(), 1))
	for i := range g.shoots {
		g.shoots[i].x *= by
	}
	for i := range g.nodes {
		g.nodes[i] *= by
	}
	g.end[0], g.end[1] = g.end[0]*by, g.end[1]*by
}

// reach is how far the twigs of a side go from the bough.
func (g *bough) reach(side int) float64 {
	if g.deep[side] == 0 {
		return 5
	}
	return twigReach + twigNext*float64(g.deep[side]-1) + markHalf
}

// beside reports whether the names have room at the outer end of the bough.
func (g *bough) beside(room float64) bool {
	return g.width()+6+max(boldWidth(g.name), textWidth(g.note)) <= room
}

// crown is the boughs in their places: y counts up from the foot of the trunk.
type crown struct {
	boughs       []bough
	trunk, room  float64 // x of the trunk; the room for twigs on a side
	top, topmost float64 // height of the highest bough, and of all
}

// arrange hangs each branch on the side that is lower so far.
func (t Tree) arrange(l layout) crown {
	c := crown{trunk: l.width / 2}
	if l.isNarrow() {
		c.trunk = 10
	}
	c.room = l.width - c.trunk - boughRoot - 2
	at := [2]float64{16, 16}
	for _, b := range t.Branches {
		left := !l.isNarrow() && at[0] < at[1]
		side := &at[1]
		if left {
			side = &at[0]
		}
		for _, g := range b.boughs(c.room) {
			g.left = left
			g.y = *side + max(g.reach(1), g.under(c.room))
			*side = g.y + g.reach(0) + g.over(c.room) + 10
			c.boughs = append(c.boughs, g)
			c.top, c.topmost = max(c.top, g.y), max(c.topmost, *side)
		}
	}
	return c
}

// under and over are the rooms that the names take below the line of a bough, and above its twigs.
func (g *bough) under(room float64) float64 {
	if g.note != "" && g.beside(room) {
		return lineStep + descent
	}
	return descent
}

func (g *bough) over(room float64) float64 {
	switch {
	case g.name == "" && g.note == "" || g.beside(room):
		return 0
	case g.note == "":
		return lineStep
	}
	return 2 * lineStep
}

func (t Tree) draw(l layout) template.HTML {
	w := t.arrange(l)
	foot := w.topmost
	c := newCanvas(l, t.Caption, foot+2*lineStep+8)
	keys := t.keys(c.width)
	if len(keys) > 0 {
		c.height += lineStep * float64(keys[len(keys)-1].row+1)
	}
	c.line("soil", max(w.trunk-90, 0), foot, w.trunk+90, foot)
	for _, g := range w.boughs {
		g.y = foot - g.y
		c.bough(&g, w)
	}
	c.path("trunk", "M"+n(w.trunk-4)+" "+n(foot)+"L"+n(w.trunk-1)+" "+n(foot-w.top+12)+"H"+n(w.trunk+1)+"L"+n(w.trunk+4)+" "+n(foot)+"Z")
	c.put(text{x: w.trunk, y: foot + lineStep, anchor: middle, class: "tick", s: fitTo(t.Foot, c.width)}.inward(c.width))
	for _, k := range keys {
		y := foot + 2*lineStep + 8 + lineStep*float64(k.row)
		if k.outcome == Stock {
			c.circle("pt", k.x+8, y-5, 2.8)
		} else {
			c.outcome(k.outcome, k.x+8, y-5)
		}
		c.put(text{x: k.x + 20, y: y, class: "tick", s: k.s})
	}
	return c.svg()
}

// bough draws one with its twigs, their marks and its names.
func (c *canvas) bough(g *bough, w crown) {
	dir, outward := 1.0, start
	if g.left {
		dir, outward = -1, end
	}
	at := func(x float64) float64 { return w.trunk + dir*(boughRoot+x) }
	rise := func(s shoot) float64 {
		y := twigReach + twigNext*float64(s.depth)
		if s.side == 0 {
			return g.y - y
		}
		return g.y + y
	}
	tip := at(max(g.lastRoot(), 0))
	c.path("bough", "M"+n(w.trunk)+" "+n(g.y+14)+"Q"+n(w.trunk)+" "+n(g.y)+" "+n(w.trunk+dir*14)+" "+n(g.y)+"H"+n(tip))
	for _, s := range g.shoots {
		x0, y0 := at(s.x)-dir*7, g.y
		if s.parent >= 0 {
			x0, y0 = at(g.shoots[s.parent].x), rise(g.shoots[s.parent])
		}
		c.path("twig", "M"+n(x0)+" "+n(y0)+"Q"+n(at(s.x))+" "+n(y0)+" "+n(at(s.x))+" "+n(rise(s)))
	}
	for _, x := range g.nodes {
		c.circle("pt", at(x)-dir*7, g.y, 2.8)
	}
	for _, s := range g.shoots {
		c.circle("gap", at(s.x), rise(s), markHalf-1)
		c.outcome(s.outcome, at(s.x), rise(s))
	}
	if g.beside(w.room) {
		x := at(g.width()+6) - dir*8
		c.put(text{x: x, y: g.y - 2, anchor: outward, class: "lab", bold: true, s: g.name})
		c.put(text{x: x, y: g.y - 2 + lineStep, anchor: outward, class: "tick", s: g.note})
		return
	}
	y := g.y - g.reach(0) - descent - 2
	if g.note != "" {
		c.put(text{x: at(0) - dir*8, y: y, anchor: outward, class: "tick", s: fitTo(g.note, w.room)})
		y -= lineStep
	}
	c.put(text{x: at(0) - dir*8, y: y, anchor: outward, class: "lab", bold: true, s: shortName(g.name, w.room/1.1)})
}

// shortName leaves out what is in brackets behind a name that has no room.
func shortName(name string, room float64) string {
	if short, _, ok := strings.Cut(name, " ("); ok && textWidth(name) > room {
		name = short
	}
	return fitTo(name, room)
}

// lastRoot is the place of the outermost twig that springs from the bough itself.
func (g *bough) lastRoot() float64 {
	x := 0.0
	for _, s := range g.shoots {
		if s.parent < 0 {
			x = max(x, s.x)
		}
	}
	return x - 7
}

// key is a mark with what it means, in rows under the foot.
type key struct {
	outcome Outcome
	s       string
	x       float64
	row     int
}

// keys flow from row to row.
func (t Tree) keys(width float64) []key {
	var out []key
	x, row := 0.0, 0
	for _, k := range []key{{outcome: Established, s: t.Marks.Established}, {outcome: Gone, s: t.Marks.Gone}, {outcome: Silent, s: t.Marks.Silent}, {outcome: Stock, s: t.Marks.Lot}} {
		if k.s = fitTo(k.s, width-22); k.s == "" {
			continue
		}
		w := 20 + textWidth(k.s) + 1
		if x > 0 && x+w > width {
			x, row = 0, row+1
		}
		k.x, k.row = x, row
		out = append(out, k)
		x += w + 14
	}
	return out
}
