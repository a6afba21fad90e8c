package draw

import "math"

// stem draws one shoot with leaves at its nodes: older leaves spread, younger ones fold round the tip.
func (f *figure) stem(fm form) {
	lean, swing := f.side()*f.span(0.01, 0.07), f.span(0.02, 0.08)
	if fm.column > 0 && fm.height > fm.column {
		lean = f.side() * f.span(0.02, 0.1)
	}
	axis := sway(fm.height, fm.column, lean, swing, f.span(0, 6))
	pieces := 3
	if fm.column > 0 && fm.height > fm.column {
		pieces = 6
	}
	f.pens[runner].stroke(axis, 0, 0.985, pieces)
	f.leaves(fm, axis)
	f.anchor(axis, f.span(0.3, 0.36))
	f.anchor(axis, f.span(0.68, 0.76))
	if fm.rooted {
		f.nodeRoots(fm, axis)
	}
}

// nodes is how many nodes a stem of the form gets within the detail's leaves.
func (f *figure) nodes(fm form) int {
	per := max(1, fm.leaf.PerNode)
	n := fm.count
	if n <= 0 {
		gap := math.Max(3.2, fm.length()*[...]float64{0.26, 0.42}[min(per, 2)-1])
		if fm.leaf.grassy() && per == 1 {
			gap = fm.length() * 0.19
		}
		gap = math.Max(gap, fm.width()*0.58)
		if fm.leaf.Shape == Feather {
			gap = math.Max(4, fm.length()*0.55)
		}
		n = int(fm.height/gap + 0.5)
	}
	return max(2, min(n, max(3, f.fine.leaves/min(per, 5)), 90))
}

func (f *figure) leaves(fm form, axis rib) {
	n, per := f.nodes(fm), max(1, fm.leaf.PerNode)
	shown := min(per, 5) // of a whorl of eight the far ones are hidden
	if f.fine.pairs == 0 {
		shown = min(per, 2)
	}
	turn, first := f.span(0.35, 0.65), f.span(-0.2, 0.2)
	for i := range n {
		t := (float64(i) + 0.4) / float64(n)
		u := 1 - 0.95*math.Pow(1-t, 1.28) // nodes close up towards the tip
		at, a := axis(math.Min(u, 1))
		for j := range shown {
			around := f.around(per, shown, i, j, turn) + first
			f.nodeLeaf(fm, at, a, t, around)
		}
	}
	if f.fine.pairs == 0 {
		return
	}
	at, a := axis(1)
	for _, side := range [...]float64{-1, 0, 1} { // the bud
		l := fm.length() * 0.36 * f.span(0.85, 1.15)
		f.leafOn(fm.leaf, arc(at, a+side*0.32, l, -side*0.3), l, math.Min(fm.width(), l)*0.42, 0.2-side*0.5)
	}
}

// around is where on the stem's round leaf j of node i stands; π/2 is the right, 0 towards the viewer.
func (f *figure) around(per, shown, i, j int, turn float64) float64 {
	switch {
	case per == 1: // two ranks, a little twisted
		return math.Pi/2 + math.Pi*float64(i%2) + f.span(-0.5, 0.5)
	case per == 2: // pairs crossing
		return turn + math.Pi*float64(j) + math.Pi/2*float64(i%2) + f.span(-0.12, 0.12)
	}
	return turn + 2*math.Pi*(float64(j)+0.5*float64(i%2))/float64(shown)
}

// nodeLeaf draws the leaf that stands at around, seen from the front. t is how far up the node is.
func (f *figure) nodeLeaf(fm form, at pt, axis, t, around float64) {
	open := f.near((72-44*t*t)*deg, 0.1)
	size := 0.74 + 0.42*math.Sin(math.Pi*math.Min(1, t*0.95))
	if t > 0.78 {
		size *= 1 - 0.62*(t-0.78)/0.22
	}
	size = f.near(size, 0.09)
	out, along := math.Sin(open)*math.Sin(around), math.Cos(open)
	seen := math.Hypot(out, along)
	l := fm.length() * size
	w := fm.width() * size * (0.62 + 0.38*math.Abs(math.Cos(around)))
	angle := axis + math.Atan2(out, along)
	bend := math.Copysign(f.span(0.05, 0.5)*(1.1-t), out)
	if fm.leaf.PetioleCm > fm.leaf.LengthCm*0.6 { // blades on long stalks turn up to the light
		angle, seen = axis+math.Copysign(f.span(0.5, 0.9), out), 1
	}
	if s := fm.leaf.PetioleCm * 10 * size; s > 1.5 {
		f.pens[stalk].move(at)
		at = at.plus(angle, s*seen)
		f.pens[stalk].line(at)
	}
	f.leafOn(fm.leaf, arc(at, angle, l*seen, bend), l*seen, w, math.Cos(around)*math.Sin(open))
}

// nodeRoots draws the roots that a stem makes at its lowest nodes.
func (f *figure) nodeRoots(fm form, axis rib) {
	reach := math.Min(60, math.Max(fm.height*0.1, 6))
	f.rootlets(pt{}, 5, reach, reach*0.5)
	for i := range 3 {
		at, _ := axis(0.035 + 0.035*float64(i))
		side := f.side()
		p := &f.pens[roots]
		p.move(at)
		p.cubic(pt{at.x + side*reach*0.3, at.y - 1}, pt{at.x + side*reach*0.4, at.y + reach*0.3},
			pt{at.x + side*reach*f.span(0.4, 0.7), at.y + reach*f.span(0.35, 0.6)})
	}
}
