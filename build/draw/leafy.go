package draw

import (
	"math"
	"slices"
)

func outFirst(t []float64) {
	slices.SortStableFunc(t, func(a, b float64) int { return cmpFloat(math.Abs(b), math.Abs(a)) })
}

func cmpFloat(a, b float64) int {
	switch {
	case a < b:
		return -1
	case a > b:
		return 1
	}
	return 0
}

// twig is one leaf at a node, before it is painted: far ones first.
type twig struct {
	at            pt
	angle         float64
	length, width float64
	bend          float64
	toward        float64 // -1 away from the viewer … 1 towards
	youth         float64 // 0 old … 1 the tip
	low           bool    // on the shaded foot of a red stem
}

func (t twig) tone() int {
	tone := light
	switch {
	case t.toward < -0.35:
		tone = shade
	case t.toward < 0.45:
		tone = plainT
	}
	if t.youth > 0.6 {
		tone++
	}
	return tone
}

// tongue: how the two curves of a leaf's side bulge: along and out of the first and the second control.
type tongue struct{ a1, w1, a2, w2 float64 }

var tongues = map[Shape]tongue{
	Round: {-0.06, 0.68, 1.02, 0.66}, Ovate: {0, 0.68, 0.72, 0.5}, Spatulate: {0.5, 0.06, 1.04, 0.86}, Cordate: {-0.3, 0.6, 0.5, 0.8},
}

// leafOn paints one leaf of the form.
func (k *sketch) leafOn(l Leaf, t twig, rich bool) {
	switch l.Shape {
	case Feather, Fan, Forked:
		k.threads(l.Shape, t)
	case Lobed:
		k.lobed(t)
	case Clover:
		k.quatrefoil(t)
	case Notched:
		k.shield(t)
	case Pinnate:
		k.pinnate(rib(t.at, t.angle, t.length, bow{bend: t.bend}, 8), t.width, t.tone(), rich)
	default:
		if t.width > 14 && k.fine < 3 || rich && t.width > 7 && t.length > 30 {
			k.veined(l, t)
			return
		}
		k.plainLeaf(l.Shape, t)
	}
}

func (k *sketch) plainLeaf(s Shape, t twig) {
	c, ok := tongues[s]
	if !ok {
		p, tip := sliver(t.at, t.angle, t.length, t.width*0.95, t.bend)
		k.leaf(p, t.tone(), mid(t.at, tip), 0.6)
		return
	}
	tip := t.at.plus(t.angle+t.bend*0.3, t.length)
	n := t.angle + t.bend*0.15
	var p path
	p.move(t.at)
	for _, side := range [...]float64{1, -1} {
		a := t.at.plus(n, t.length*c.a1).plus(n+math.Pi/2, side*t.width*c.w1)
		b := t.at.plus(n, t.length*c.a2).plus(n+math.Pi/2, side*t.width*c.w2)
		if side > 0 {
			p.cubic(a, b, tip)
		} else {
			p.cubic(b, a, t.at)
		}
	}
	k.leaf(p, t.tone(), mid(t.at, tip), 0.6)
}

// veined is a leaf large enough to show its outline and veins.
func (k *sketch) veined(l Leaf, t twig) {
	p := rib(t.at, t.angle, t.length, bow{bend: t.bend, late: 1.3}, 8)
	k.leaf(blade(p, t.width, l.Shape.half), t.tone(), p[4], 1)
	k.veins(p, t.width, l.Shape, 3)
}

// veins paints the midrib and n pairs of side veins, right after their blade, so that the next leaf hides them.
func (k *sketch) veins(p []pt, width float64, s Shape, n int) {
	var d path
	m := len(p) - 1
	d.stroke(p[:m])
	if s != Linear && s != Strap && s != Needle && k.fine < 2 {
		norm := normals(p)
		for j := range n {
			i := 1 + int(math.Round((float64(j)+0.3)*float64(m-3)/float64(n)))
			e := min(m-1, i+2)
			for _, side := range [...]float64{-1, 1} {
				v := side * width / 2 * s.half(float64(e)/float64(m)) * 0.78
				d.move(p[i])
				d.quad(pt{p[i+1].x + norm[i+1].x*v*0.62, p[i+1].y + norm[i+1].y*v*0.62}, pt{p[e].x + norm[e].x*v, p[e].y + norm[e].y*v})
			}
		}
	}
	k.line(d, veinLine, 0)
}

// threads is a leaf cut into threads: a comb, a fan or a fork.
func (k *sketch) threads(s Shape, t twig) {
	var p path
	width := math.Max(0.5, k.s*0.055)
	switch s {
	case Fan:
		n := k.fewer(5, 3)
		stalk := t.at.plus(t.angle, t.length*0.22)
		p.move(t.at)
		p.line(stalk)
		for i := range n {
			u := (float64(i)+0.5)/float64(n)*2 - 1
			a := t.angle + u*math.Atan2(t.width*0.6, t.length*0.5)
			m := stalk.plus(a, t.length*0.42)
			end := m.plus(a+u*0.2+0.16, t.length*0.36)
			p.move(stalk)
			p.quad(m, end)
			p.move(m)
			p.line(m.plus(a+u*0.2-0.22, t.length*0.33))
		}
	case Forked:
		m := t.at.plus(t.angle, t.length*0.45)
		p.move(t.at)
		p.line(m)
		for _, side := range [...]float64{-1, 1} {
			p.move(m)
			p.quad(m.plus(t.angle+side*0.35, t.length*0.3), m.plus(t.angle+side*0.22, t.length*0.6))
		}
		width *= 1.5
	default:
		r := rib(t.at, t.angle, t.length, bow{bend: t.bend}, 4)
		p.stroke(r)
		n := k.fewer(5, 2)
		for i := range n {
			u := (float64(i) + 0.6) / (float64(n) + 0.4)
			at, a := along(r, u)
			l := t.width / 2 * math.Sqrt(math.Sin(math.Pi*(0.2+0.68*u)))
			for _, side := range [...]float64{-1, 1} {
				p.move(at)
				p.line(at.plus(a+side*0.75, math.Max(l, t.length*0.1)))
			}
		}
	}
	class := stemLine
	if t.toward < -0.2 {
		class = stalkLine
	}
	k.line(p, class, width)
}

// lobed is a leaf cut into lobes to near its midrib, in one outline.
func (k *sketch) lobed(t twig) {
	r := rib(t.at, t.angle, t.length, bow{bend: t.bend}, 8)
	pairs := max(2, k.fewer(5, 2))
	core := t.width * 0.1
	side := func(s float64, i int) (in, out, next pt) {
		u := 0.12 + 0.78*float64(i)/float64(pairs)
		w := t.width / 2 * math.Sqrt(math.Sin(math.Pi*(0.18+0.7*u)))
		a, h := along(r, u)
		b, _ := along(r, u+0.62/float64(pairs))
		return a.plus(h+s*math.Pi/2, core), a.plus(h+s*(1.15-0.4*u), w*1.08), b.plus(h+s*math.Pi/2, core)
	}
	var p path
	p.move(r[0])
	for i := range pairs {
		in, out, next := side(1, i)
		p.line(in)
		p.quad(mid(in, out).plus(t.angle, -t.width*0.06), out)
		p.quad(mid(out, next).plus(t.angle, t.width*0.05), next)
	}
	p.quad(r[7].plus(t.angle+math.Pi/2, t.width*0.12), r[8])
	p.quad(r[7].plus(t.angle-math.Pi/2, t.width*0.12), r[7].plus(t.angle-math.Pi/2, core))
	for i := pairs - 1; i >= 0; i-- {
		in, out, next := side(-1, i)
		p.line(next)
		p.quad(mid(out, next).plus(t.angle, t.width*0.05), out)
		p.quad(mid(in, out).plus(t.angle, -t.width*0.06), in)
	}
	p.close()
	k.leaf(p, t.tone(), r[4], 1)
	k.stroke(r[:8], veinLine, 0)
}

// quatrefoil is a clover leaf: four leaflets at the end of the stalk, two of them foreshortened.
func (k *sketch) quatrefoil(t twig) {
	r := math.Max(t.length, t.width) * 0.55
	for i, a := range [...]float64{-2.5, 2.5, -0.75, 0.75} {
		l := twig{at: t.at, angle: t.angle + a*0.72, length: r * [...]float64{0.7, 0.7, 1, 1}[i], width: r * 0.85, toward: [...]float64{-0.5, -0.5, 0.2, 0.6}[i] + t.toward*0.2, youth: t.youth}
		k.plainLeaf(Spatulate, l)
	}
}

// shield is a round leaf on a stalk that stands under its middle, seen from the side and a little from above.
func (k *sketch) shield(t twig) {
	tilt := math.Mod(t.angle-up, math.Pi) * 0.35
	rx, ry := t.width/2, t.width*(0.16+0.12*math.Abs(t.toward))
	const n = 8
	var pts []pt
	for i := range n + 1 {
		a := float64(i)/n*2*math.Pi + math.Pi/2
		scallop := 1 + 0.05*math.Cos(float64(i)*math.Pi)
		x, y := rx*scallop*math.Cos(a), ry*scallop*math.Sin(a)
		pts = append(pts, pt{t.at.x + x*math.Cos(tilt) - y*math.Sin(tilt), t.at.y + x*math.Sin(tilt) + y*math.Cos(tilt)})
	}
	var p path
	p.stroke(pts)
	p.close()
	k.leaf(p, t.tone(), t.at, 1)
	var v path
	for _, i := range [...]int{1, 2, 4, 6, 7} {
		v.move(pt{t.at.x, t.at.y + ry*0.2})
		v.line(mid(t.at, pts[i]))
	}
	k.line(v, veinLine, 0)
}

// pinnate is a frond with leaflets by turns on both sides.
func (k *sketch) pinnate(r []pt, width float64, tone int, rich bool) {
	k.stroke(r, stalkLine, math.Max(0.8, k.s*0.09))
	n := k.fewer(9, 3)
	if rich {
		n += 2
	}
	for i := range n {
		u := 0.06 + 0.86*(float64(i)+0.3)/float64(n)
		w := width / 2 * math.Sqrt(math.Sin(math.Pi*(0.24+0.7*u)))
		for _, side := range [...]float64{-1, 1} {
			at, a := along(r, u+0.022*side)
			l := twig{at: at, angle: a + side*(1.2-0.5*u), length: w * k.span(0.9, 1.08), width: w * 0.34, bend: -side * 0.5}
			p, tip := sliver(l.at, l.angle, l.length, l.width, l.bend)
			k.leaf(p, tone, mid(at, tip), 0.6)
			if rich {
				k.stroke([]pt{at, mid(at, tip), mid(mid(at, tip), tip)}, veinLine, 0)
			}
		}
	}
	at, a := along(r, 0.94)
	p, tip := sliver(at, a, width*0.2, width*0.07, 0)
	k.leaf(p, tone+1, mid(at, tip), 0.6)
}
