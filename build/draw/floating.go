package draw

import "math"

// float draws a floating plant with its crown at the surface: from the side in a tank, from above when pressed.
func (f *figure) float(fm form) {
	reach := f.hanging(fm)
	switch {
	case fm.flat:
		f.pressed(fm)
	case fm.leaf.Shape == Spatulate: // leaves stand up in a cup
		up := fm
		up.rooted, up.column, up.height = false, 0, math.Max(fm.height, fm.length()*0.6)
		f.rosette(up, pt{})
	default:
		f.raft(fm)
	}
	if reach > 0 {
		n := max(1, min(9, int(fm.length()/2.2)))
		f.rootlets(pt{}, n, reach, fm.length()*0.35)
		f.anchor(arc(pt{}, -up, reach, 0), 0.55)
	}
}

// hanging is how long the roots are, from the leaf's length: short under duckweed, long under the large ones.
func (f *figure) hanging(fm form) float64 {
	l := fm.length() * 1.9
	if fm.column > 0 {
		l = math.Min(l, fm.column*0.6)
	}
	return math.Min(l, 90)
}

// raft draws leaves that lie on the water, seen from the side.
func (f *figure) raft(fm form) {
	n := max(2, min(f.crown(fm), 6))
	for i := range n {
		t := (float64(i)+0.5)/float64(n)*2 - 1
		l := fm.length() * f.span(0.8, 1)
		foot := pt{t * (fm.leaf.PetioleCm*10 + l*0.55), -f.span(0, 0.12) * l}
		if fm.leaf.PetioleCm > 0 {
			f.pens[stalk].move(pt{})
			f.pens[stalk].line(foot)
		}
		r := arc(pt{foot.x - l/2, foot.y}, -0.06*t, l, -0.25+0.1*t)
		f.pens[mid+i%2].blade(r, fm.width()*0.3, Elliptic, 2)
	}
}

// pressed draws the rosette spread on paper.
func (f *figure) pressed(fm form) {
	n := f.crown(fm)
	if fm.leaf.PerNode == 2 || fm.length() < 6 {
		f.chain(fm, n)
		return
	}
	n = min(n, 8)
	first := f.span(0, 6)
	for i := range n {
		a := first + 2*math.Pi*float64(i)/float64(n)
		l := fm.length() * f.span(0.8, 1.05)
		s := fm.leaf.PetioleCm * 10 * f.span(0.7, 1.3)
		r := arc(pt{}, a, s+l, f.span(-0.3, 0.3))
		if s > 0.5 {
			f.pens[stalk].stroke(r, 0, s/(s+l)+0.02, 1)
			f.anchor(r, s/(s+l)*0.6)
		}
		f.leafOn(fm.leaf, r.part(s/(s+l), 1), l, fm.width()*f.span(0.88, 1), math.Sin(a))
	}
}

// chain draws small paired leaves along a thread, as those of water ferns and duckweeds.
func (f *figure) chain(fm form, n int) {
	l := fm.length()
	n = max(2, min(n/2, 6))
	axis := arc(pt{-l * 0.75 * float64(n) / 2, -l * 0.1}, f.span(-0.15, 0.15), l*0.75*float64(n), f.span(-0.3, 0.3))
	f.pens[stalk].stroke(axis, 0, 1, 2)
	for i := range n {
		at, a := axis((float64(i) + 0.5) / float64(n))
		for _, side := range [...]float64{-1, 1} {
			size := f.span(0.85, 1)
			f.leafOn(fm.leaf, arc(at, a+side*f.span(62, 84)*deg, l*size, 0), l*size, fm.width()*size, 0.1+side*0.3)
		}
		if fm.rooted {
			f.rootlets(at, 2, l*f.span(0.9, 1.6), l*0.2)
		}
	}
}
