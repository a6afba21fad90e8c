package draw

import "math"

const golden = 137.5 * deg // the angle between one leaf and the next in most rosettes

// rosette draws leaves from one crown at foot: the oldest outside and low, the youngest upright in the middle.
func (f *figure) rosette(fm form, foot pt) {
	n := f.crown(fm)
	first := f.span(0, 6)
	tall := fm.height / 0.97
	for i := range n { // outer leaves first, inner ones over them
		t := 1 - float64(i)/math.Max(1, float64(n-1))
		lean := f.near(f.spread(fm)*(0.1+0.9*math.Pow(t, 0.85)), 0.08)
		around := first + float64(i)*golden
		length := f.near(tall*(1-0.16*t), 0.07)
		if i >= n-2 && n > 4 {
			length *= f.span(0.55, 0.75)
		}
		f.crownLeaf(fm, foot, length, lean, around)
	}
	if fm.rooted {
		reach := within(fm.height*0.22, 4, 70)
		f.rootlets(foot, 9, reach, reach*0.75)
	}
}

// crown is how many leaves the rosette gets.
func (f *figure) crown(fm form) int {
	n := fm.count
	if n <= 0 {
		n = 10 + int(f.next()%4)
		if fm.leaf.grassy() {
			n += 3
		}
	}
	return max(2, min(n, f.fine.leaves, 40))
}

// spread is how far the outermost leaves lean from upright.
func (f *figure) spread(fm form) float64 {
	switch {
	case fm.column > 0 && fm.height > fm.column*0.9:
		return 24 * deg
	case fm.leaf.grassy():
		return 52 * deg
	case fm.leaf.Shape == Strap:
		return 44 * deg
	}
	return 62 * deg
}

func (f *figure) crownLeaf(fm form, foot pt, length, lean, around float64) {
	out, along := math.Sin(lean)*math.Sin(around), math.Cos(lean)
	seen := math.Hypot(out, along)
	toward := math.Cos(around) * math.Sin(lean)
	width := f.near(fm.width()*math.Sqrt(length/math.Max(1, fm.length()/(1-fm.leaf.stalk()))), 0.08)
	width = math.Min(width, length*(1-fm.leaf.stalk())*0.98) * (0.68 + 0.32*math.Abs(math.Cos(around)))
	if fm.column > 0 && length > fm.column && !fm.leaf.ribbon() {
		length = fm.column * f.span(0.88, 0.97) // broad leaves stop at the surface
	}
	if fm.column > 0 && length > fm.column {
		f.trail(fm, foot, length, math.Copysign(lean*0.4, out), width, toward)
		return
	}
	bend := math.Copysign(f.span(0.25, 0.6)*(0.35+math.Sin(lean)), out)
	r := arc(foot, up+math.Atan2(out, along)-bend*0.35, length*seen, bend)
	s := fm.leaf.stalk()
	if s > 0.02 {
		f.pens[stalk].stroke(r, 0, s+0.03, 1)
		if f.fine.veins {
			f.anchor(r, s*0.6)
		}
	} else {
		f.anchor(r, 0.45)
	}
	f.leafOn(fm.leaf, r.part(s, 1), length*seen*(1-s), width, toward)
}

// trail draws a ribbon that reaches the surface and lies along it.
func (f *figure) trail(fm form, foot pt, length, lean, width, toward float64) {
	r := sway(length, fm.column*f.span(0.88, 1), lean, f.span(0.02, 0.06), f.span(0, 6))
	moved := func(u float64) (pt, float64) {
		p, a := r(u)
		return pt{p.x + foot.x, p.y + foot.y}, a
	}
	f.pens[depth(toward)].blade(moved, width, fm.leaf.Shape, 2+f.fine.pieces)
	if f.fine.veins {
		f.pens[vein].stroke(moved, 0.03, 0.95, 4)
	}
}

// bulb draws a bulb, half in the ground, and the leaves that rise from it.
func (f *figure) bulb(fm form) {
	size := within(fm.height*0.09, 6, 26)
	f.pens[body].blade(arc(pt{0, size * 0.75}, up, size*1.5, 0), size, Ovate, 2)
	if f.fine.veins {
		for _, v := range [...]float64{-0.45, 0, 0.45} {
			f.pens[vein].move(pt{v * size * 0.5, size * 0.5})
			f.pens[vein].quad(pt{v * size * 0.9, -size * 0.1}, pt{v * size * 0.2, -size * 0.62})
		}
	}
	rooted := fm.rooted
	fm.rooted = false
	f.rosette(fm, pt{0, -size * 0.66})
	if rooted {
		reach := within(fm.height*0.2, 5, 60)
		f.rootlets(pt{0, size * 0.7}, 9, reach, reach*0.8)
	}
}
