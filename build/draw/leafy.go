package draw

import (
	"math"

	"slipleaf/build/curve"
)

// twig is one leaf at a node, before it is painted: far ones first.
type twig struct {
	at            curve.Pt
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
		k.pinnate(curve.Rib(t.at, t.angle, t.length, curve.Bow{Bend: t.bend}, 8), t.width, t.tone(), rich)
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
		p, tip := curve.Sliver(t.at, t.angle, t.length, t.width*0.95, t.bend)
		k.leaf(p, t.tone(), curve.Mid(t.at, tip), 0.6)
		return
	}
	tip := t.at.Plus(t.angle+t.bend*0.3, t.length)
	n := t.angle + t.bend*0.15
	var p curve.Path
	p.Move(t.at)
	for _, side := range [...]float64{1, -1} {
		a := t.at.Plus(n, t.length*c.a1).Plus(n+math.Pi/2, side*t.width*c.w1)
		b := t.at.Plus(n, t.length*c.a2).Plus(n+math.Pi/2, side*t.width*c.w2)
		if side > 0 {
			p.Cubic(a, b, tip)
		} else {
			p.Cubic(b, a, t.at)
		}
	}
	k.leaf(p, t.tone(), curve.Mid(t.at, tip), 0.6)
}

// veined is a leaf large enough to show its outline and veins.
func (k *sketch) veined(l Leaf, t twig) {
	p := curve.Rib(t.at, t.angle, t.length, curve.Bow{Bend: t.bend, Late: 1.3}, 8)
	k.leaf(k.blade(p, t.width, l.Shape.half), t.tone(), p[4], 1)
	k.veins(p, t.width, l.Shape, 3)
}

// veins paints the midrib and n pairs of side veins, right after their blade, so that the next leaf hides them.
func (k *sketch) veins(p []curve.Pt, width float64, s Shape, n int) {
	var d curve.Path
	m := len(p) - 1
	d.Stroke(p[:m])
	if s != Linear && s != Strap && s != Needle && k.fine < 2 {
		norm := curve.Normals(p)
		for j := range n {
			i := 1 + int(math.Round((float64(j)+0.3)*float64(m-3)/float64(n)))
			e := min(m-1, i+2)
			for _, side := range [...]float64{-1, 1} {
				v := side * width / 2 * s.half(float64(e)/float64(m)) * 0.78
				d.Move(p[i])
				d.Quad(pt(p[i+1].X+norm[i+1].X*v*0.62, p[i+1].Y+norm[i+1].Y*v*0.62), pt(p[e].X+norm[e].X*v, p[e].Y+norm[e].Y*v))
			}
		}
	}
	k.line(d, veinLine, 0)
}

// threads is a leaf cut into threads: a comb, a fan or a fork.
func (k *sketch) threads(s Shape, t twig) {
	var p curve.Path
	width := math.Max(0.5, k.s*0.055)
	switch s {
	case Fan:
		n := k.fewer(5, 3)
		stalk := t.at.Plus(t.angle, t.length*0.22)
		p.Move(t.at, stalk)
		for i := range n {
			u := (float64(i)+0.5)/float64(n)*2 - 1
			a := t.angle + u*math.Atan2(t.width*0.6, t.length*0.5)
			m := stalk.Plus(a, t.length*0.42)
			end := m.Plus(a+u*0.2+0.16, t.length*0.36)
			p.Move(stalk)
			p.Quad(m, end)
			p.Move(m, m.Plus(a+u*0.2-0.22, t.length*0.33))
		}
	case Forked:
		m := t.at.Plus(t.angle, t.length*0.45)
		p.Move(t.at, m)
		for _, side := range [...]float64{-1, 1} {
			p.Move(m)
			p.Quad(m.Plus(t.angle+side*0.35, t.length*0.3), m.Plus(t.angle+side*0.22, t.length*0.6))
		}
		width *= 1.5
	default:
		r := curve.Rib(t.at, t.angle, t.length, curve.Bow{Bend: t.bend}, 4)
		p.Stroke(r)
		n := k.fewer(5, 2)
		for i := range n {
			u := (float64(i) + 0.6) / (float64(n) + 0.4)
			at, a := curve.Along(r, u)
			l := t.width / 2 * math.Sqrt(math.Sin(math.Pi*(0.2+0.68*u)))
			for _, side := range [...]float64{-1, 1} {
				p.Move(at, at.Plus(a+side*0.75, math.Max(l, t.length*0.1)))
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
	r := curve.Rib(t.at, t.angle, t.length, curve.Bow{Bend: t.bend}, 8)
	pairs := max(2, k.fewer(5, 2))
	core := t.width * 0.1
	side := func(s float64, i int) (in, out, next curve.Pt) {
		u := 0.12 + 0.78*float64(i)/float64(pairs)
		w := t.width / 2 * math.Sqrt(math.Sin(math.Pi*(0.18+0.7*u)))
		a, h := curve.Along(r, u)
		b, _ := curve.Along(r, u+0.62/float64(pairs))
		return a.Plus(h+s*math.Pi/2, core), a.Plus(h+s*(1.15-0.4*u), w*1.08), b.Plus(h+s*math.Pi/2, core)
	}
	var p curve.Path
	p.Move(r[0])
	for i := range pairs {
		in, out, next := side(1, i)
		p.Line(in)
		p.Quad(curve.Mid(in, out).Plus(t.angle, -t.width*0.06), out)
		p.Quad(curve.Mid(out, next).Plus(t.angle, t.width*0.05), next)
	}
	p.Quad(r[7].Plus(t.angle+math.Pi/2, t.width*0.12), r[8])
	p.Quad(r[7].Plus(t.angle-math.Pi/2, t.width*0.12), r[7].Plus(t.angle-math.Pi/2, core))
	for i := pairs - 1; i >= 0; i-- {
		in, out, next := side(-1, i)
		p.Line(next)
		p.Quad(curve.Mid(out, next).Plus(t.angle, t.width*0.05), out)
		p.Quad(curve.Mid(in, out).Plus(t.angle, -t.width*0.06), in)
	}
	p.Close()
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

// shield is a round leaf on a stalk that is under its middle, seen from the side and a little from above.
func (k *sketch) shield(t twig) {
	tilt := math.Mod(t.angle-up, math.Pi) * 0.35
	rx, ry := t.width/2, t.width*(0.16+0.12*math.Abs(t.toward))
	const n = 8
	var pts []curve.Pt
	for i := range n + 1 {
		a := float64(i)/n*2*math.Pi + math.Pi/2
		scallop := 1 + 0.05*math.Cos(float64(i)*math.Pi)
		x, y := rx*scallop*math.Cos(a), ry*scallop*math.Sin(a)
		pts = append(pts, pt(t.at.X+x*math.Cos(tilt)-y*math.Sin(tilt), t.at.Y+x*math.Sin(tilt)+y*math.Cos(tilt)))
	}
	var p curve.Path
	p.Stroke(pts)
	p.Close()
	k.leaf(p, t.tone(), t.at, 1)
	var v curve.Path
	for _, i := range [...]int{1, 2, 4, 6, 7} {
		v.Move(pt(t.at.X, t.at.Y+ry*0.2), curve.Mid(t.at, pts[i]))
	}
	k.line(v, veinLine, 0)
}

// pinnate is a frond with leaflets by turns on both sides.
func (k *sketch) pinnate(r []curve.Pt, width float64, tone int, rich bool) {
	k.stroke(r, stalkLine, math.Max(0.8, k.s*0.09))
	n := k.fewer(9, 3)
	if rich {
		n += 2
	}
	for i := range n {
		u := 0.06 + 0.86*(float64(i)+0.3)/float64(n)
		w := width / 2 * math.Sqrt(math.Sin(math.Pi*(0.24+0.7*u)))
		for _, side := range [...]float64{-1, 1} {
			at, a := curve.Along(r, u+0.022*side)
			l := twig{at: at, angle: a + side*(1.2-0.5*u), length: w * k.Span(0.9, 1.08), width: w * 0.34, bend: -side * 0.5}
			p, tip := curve.Sliver(l.at, l.angle, l.length, l.width, l.bend)
			k.leaf(p, tone, curve.Mid(at, tip), 0.6)
			if rich {
				k.stroke([]curve.Pt{at, curve.Mid(at, tip), curve.Mid(curve.Mid(at, tip), tip)}, veinLine, 0)
			}
		}
	}
	at, a := curve.Along(r, 0.94)
	p, tip := curve.Sliver(at, a, width*0.2, width*0.07, 0)
	k.leaf(p, tone+1, curve.Mid(at, tip), 0.6)
}
