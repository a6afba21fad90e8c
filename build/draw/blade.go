package draw

import "math"

// blade draws the closed outline of a simple leaf along its rib, k pieces a side. length and width are in mm.
func (p *pen) blade(r rib, width float64, s Shape, k int) {
	lobe, reach, open := s.lobe()
	edge := func(side float64) func(float64) pt {
		return func(t float64) pt {
			u := (1 - math.Cos(math.Pi*t)) / 2
			v := s.half(u)
			if lobe > 0 { // the outline begins behind the stalk, off the axis
				v += open * math.Pow(1-t, 4)
				u = u*reach - lobe
			}
			return r.beside(u, side*v*width/2)
		}
	}
	if lobe > 0 {
		p.move(r.beside(0.03, 0))
		p.line(edge(1)(0))
	} else {
		p.move(edge(1)(0))
	}
	p.smooth(edge(1), 0, 1, k, false)
	p.smooth(edge(-1), 1, 0, k, false)
	p.close()
}

// lobe is how far the base reaches back behind the stalk and how long the whole is, as shares of the blade, and how far
// the two lobes stand apart, as a share of half the width.
func (s Shape) lobe() (back, whole, apart float64) {
	switch s {
	case Cordate:
		return 0.2, 1.15, 0.42
	case Notched:
		return 0.36, 1, 0.16
	}
	return 0, 1, 0
}

// sliver draws the cheapest leaf, one curve a side: for blades that are thin on the page.
func (p *pen) sliver(r rib, width float64) {
	foot, _ := r(0)
	tip, _ := r(1)
	p.move(foot)
	p.cubic(r.beside(0.3, width*0.62), r.beside(0.75, width*0.52), tip)
	p.cubic(r.beside(0.75, -width*0.52), r.beside(0.3, -width*0.62), foot)
	p.close()
}

// cut draws a leaf that is cut into lobes to near its midrib, in one outline.
func (p *pen) cut(r rib, length, width float64, pairs int) {
	pairs = max(2, pairs)
	step, core := 0.86/float64(pairs), width*0.11
	foot, _ := r(0)
	tip, _ := r(1)
	point := func(i int) (at, u, reach float64) { // where lobe i begins, where it ends, how far out it goes
		at = 0.06 + step*float64(i)
		reach = width / 2 * math.Sqrt(math.Sin(math.Pi*(0.2+0.74*at)))
		return at, math.Min(0.99, at+step*0.4+0.4*reach/math.Max(length, 1)), reach
	}
	p.move(foot)
	for i := range pairs {
		at, u, reach := point(i)
		p.quad(r.beside(at, reach*0.7), r.beside(u, reach))
		p.quad(r.beside(at+step*0.95, reach*0.5), r.beside(at+step*0.95, core))
	}
	p.quad(r.beside(0.94, width*0.16), tip)
	p.quad(r.beside(0.94, -width*0.16), r.beside(0.92, -core))
	for i := pairs - 1; i >= 0; i-- {
		at, u, reach := point(i)
		p.quad(r.beside(at+step*0.95, -reach*0.5), r.beside(u, -reach))
		p.quad(r.beside(at, -reach*0.7), r.beside(at, -core*float64(boolInt(i > 0))))
	}
	p.close()
}

// veins draws the midrib and, if full, the side veins of a leaf.
func (p *pen) veins(r rib, width float64, s Shape, full bool) {
	if s == Notched { // from the stalk outwards
		for _, a := range [...]float64{-118, -62, 0, 62, 118} {
			foot, angle := r(0)
			p.move(foot)
			p.line(foot.plus(angle+a*deg, width*(0.36+0.1*math.Cos(a*deg))))
		}
		return
	}
	p.stroke(r, 0.02, 0.93, 1)
	if !full || s == Linear || s == Needle || s == Strap {
		return
	}
	for i := range 4 {
		u := 0.14 + 0.17*float64(i)
		for _, side := range [...]float64{-1, 1} {
			foot, _ := r(u)
			p.move(foot)
			reach := side * width / 2
			p.quad(r.beside(u+0.1, reach*0.55*s.half(u+0.1)), r.beside(u+0.21, reach*0.84*s.half(u+0.21)))
		}
	}
}

// comb draws a leaf of threads: an axis with pairs of finer ones, forward-pointing.
func (p *pen) comb(r rib, length, width float64, pairs int) {
	p.stroke(r, 0, 1, 1)
	for i := range pairs {
		u := (float64(i) + 0.6) / (float64(pairs) + 0.6)
		foot, a := r(u)
		reach := math.Max(width/2*math.Sin(math.Pi*(0.25+0.7*u)), length*0.08)
		for _, side := range [...]float64{-1, 1} {
			p.move(foot)
			p.line(foot.plus(a+side*42*deg, reach))
		}
	}
}

// frond draws leaflets in pairs along a rib: lobes of a cut leaf, pinnae of a fern.
func (p *pen) frond(r rib, width float64, pairs int, from, slim float64) {
	for i := range pairs {
		u := from + (0.93-from)*float64(i)/float64(pairs)
		reach := width / 2 * math.Sqrt(math.Sin(math.Pi*(0.22+0.74*u)))
		for _, side := range [...]float64{-1, 1} {
			foot, a := r(math.Min(0.97, u+0.012*side))
			lean := side * (66 - 26*u) * deg
			p.leaflet(arc(foot, a+lean, reach, -side*0.45), reach*slim)
		}
	}
	foot, a := r(0.86)
	p.leaflet(arc(foot, a, width*0.34, 0), width*0.34*slim)
}

// leaflet is a sliver of two plain curves.
func (p *pen) leaflet(r rib, width float64) {
	foot, _ := r(0)
	tip, _ := r(1)
	p.move(foot)
	p.quad(r.beside(0.46, width), tip)
	p.quad(r.beside(0.46, -width), foot)
	p.close()
}

// clover draws leaflets spread from the end of a stalk; n is 3 or 4, and three are drawn in fewer curves.
func (p *pen) clover(at pt, angle, size float64, n int) {
	for i := range n {
		a := angle + (float64(i)-float64(n-1)/2)*62*deg
		if n < 4 {
			p.leaflet(arc(at, a, size*0.56, 0), size*0.6)
		} else {
			p.blade(arc(at, a, size*0.56, 0), size*0.5, Spatulate, 2)
		}
	}
}
