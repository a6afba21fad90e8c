package draw

import (
	"cmp"
	"math"
	"slices"

	"slipleaf/build/curve"
)

// limb is a branch of wood: its middle line and its thickness at both ends.
type limb struct {
	p      []curve.Pt
	w0, w1 float64
}

// wood paints branches, each a ribbon with knots and with grain that follows it.
func (k *sketch) wood(limbs ...limb) {
	k.with(Wood, func() {
		for _, l := range limbs {
			p := fineLine(l.p)
			n := len(p) - 1
			knots := make([]float64, n+1)
			for i := range knots {
				knots[i] = k.Span(-0.16, 0.2)
			}
			half := func(u float64) float64 {
				v := (l.w0 + (l.w1-l.w0)*u) / l.w0 * (1 + knots[int(u*float64(n))])
				if u > 0.97 {
					v *= 0.4
				}
				return v
			}
			k.leaf(k.blade(p, l.w0*2, half), plainT, p[n/2], 0)
			var d curve.Path
			for i, v := range [...]float64{-0.55, -0.15, 0.3, 0.62} {
				if k.fine > 3 && i%2 == 1 {
					continue
				}
				g := curve.Beside(p, func(u float64) float64 { return v * l.w0 * half(u) })
				d.Stroke(g[1+i%2 : n-i%3])
			}
			k.line(d, inkLine, 0)
		}
	})
}

// fineLine puts a point between all points.
func fineLine(p []curve.Pt) []curve.Pt {
	out := []curve.Pt{p[0]}
	for i := range len(p) - 1 {
		out = append(out, curve.Mid(p[i], p[i+1]), p[i+1])
	}
	return out
}

// stone paints a rounded stone with a lit top and bedding lines; its foot is at a point.
func (k *sketch) stone(at curve.Pt, w, h float64) {
	k.with(Stone, func() {
		x, y := at.X, at.Y
		ring := []curve.Pt{pt(x-w/2, y+3), pt(x-w*0.5, y-h*0.3), pt(x-w*0.36, y-h*0.74), pt(x-w*0.1, y-h), pt(x+w*0.2, y-h*0.92), pt(x+w*0.42, y-h*0.55), pt(x+w*0.52, y-h*0.12), pt(x+w*0.5, y+3)}
		var p, lit, beds curve.Path
		p.Stroke(ring)
		p.Close()
		k.leaf(p, plainT, at, 0)
		lit.Stroke([]curve.Pt{ring[1], ring[2], ring[3], ring[4], pt(x+w*0.1, y-h*0.7), pt(x-w*0.22, y-h*0.55), ring[1]})
		lit.Close()
		k.leaf(lit, light, at, 0)
		for i := range 4 {
			yy := y - h*(0.14+0.16*float64(i))
			beds.Stroke([]curve.Pt{pt(x-w*(0.42-0.04*float64(i))+k.Span(-2, 2), yy), pt(x-w*0.1, yy-h*0.07), pt(x+w*0.12, yy+k.Span(-2, 2)), pt(x+w*k.Span(0.22, 0.44), yy-h*0.05)})
		}
		k.line(beds, inkLine, 0)
	})
}

// rhizome draws a creeping rhizome, its leaves, and roots that clasp what lies under it.
func (k *sketch) rhizome(at curve.Pt, f form) {
	n := f.count
	if n <= 0 {
		n = 11 + int(k.Next()%3)
	}
	fern := f.habit == Fern
	length := within(k.wide(f)*0.42*float64(n), k.s*1.2, f.height*1.2)
	if fern {
		length = within(k.s*0.35*float64(n), k.s*1.5, f.height*0.6)
	}
	if f.creep > 0 {
		length = math.Min(length, f.creep)
	}
	n = max(2, min(n, k.fewer(16, 5)))
	line := curve.Rib(pt(at.X-length/2, at.Y-k.s*0.1), k.Span(-0.2, 0), length, curve.Bow{Bend: k.Span(0, 0.3)}, 4)
	k.clasp(line, f)
	thick := math.Max(2, k.s*0.75*math.Sqrt(math.Min(1, f.leaf.LengthCm/6)))
	if fern {
		thick *= 0.65
	}
	done := false
	bar := func() {
		k.stroke(line, stalkLine, thick)
		k.stroke([]curve.Pt{pt(line[0].X, line[0].Y-thick*0.2), pt(line[2].X, line[2].Y-thick*0.25), pt(line[4].X, line[4].Y-thick*0.2)}, stemLine, thick*0.35)
		done = true
	}
	for i, l := range k.onRhizome(n, fern) {
		if l.toward > -0.1 && !done {
			bar()
		}
		foot, _ := curve.Along(line, l.youth)
		foot.Y -= thick * 0.3
		tall := f.height * (1 - 0.28*math.Pow(l.bend, 2)) * k.Span(0.78, 1.03)
		if fern && i%3 == 1 {
			tall *= k.Span(0.5, 0.8)
		}
		k.rhizomeLeaf(foot, f, tall, l)
	}
	if !done {
		bar()
	}
}

// onRhizome is where n leaves stand: youth is the place along it, bend how far they lean (-1…1).
func (k *sketch) onRhizome(n int, fern bool) []twig {
	out := make([]twig, n)
	for i := range out {
		u := (float64(i) + k.Span(0.1, 0.9)) / float64(n)
		lean := k.Span(-0.9, 0.9)*0.75 + (u-0.5)*0.7
		if fern {
			lean = (u*2-1)*0.9 + k.Bell(0.1)
		}
		out[i] = twig{youth: u, bend: math.Max(-1, math.Min(1, lean)), toward: k.Span(-1, 1)}
	}
	slices.SortStableFunc(out, func(a, b twig) int { return cmp.Compare(a.toward, b.toward) })
	return out
}

func (k *sketch) rhizomeLeaf(foot curve.Pt, f form, tall float64, l twig) {
	tone := l.tone()
	if f.leaf.Shape == Pinnate {
		p := curve.Rib(foot, up+l.bend*0.7, tall*1.05, curve.Bow{Bend: l.bend * k.Span(0.4, 1), Late: 1.4}, 10)
		if f.water > 0 {
			p = k.rise(foot, up+l.bend*0.7, tall*1.05, curve.Bow{Bend: l.bend * 0.6}, 10, foot.Y-f.water*0.95, k.s*2, sideOf(l.bend))
		}
		k.pinnate(p[2:], k.wide(f)*math.Min(1, tall/math.Max(1, k.long(f))), tone, f.rich)
		k.stroke(p[:4], stalkLine, math.Max(1, k.s*0.11))
		return
	}
	facing := [...]float64{1, 0.95, 0.86, 0.7}[k.Next()%4]
	p := k.stalkedLeaf(foot, f, up+l.bend*0.8, tall*1.08, l.bend*k.Span(0.4, 1.2)+k.Bell(0.1), tone, facing)
	if f.habit == Fern && l.toward > 0.7 { // a plantlet at the tip, as this fern makes
		for _, u := range [...]float64{-0.8, 0, 0.8} {
			q, tip := curve.Sliver(p[len(p)-2], up+u, tall*0.12, k.s*0.3, u*0.4)
			k.leaf(q, light, tip, 0.4)
		}
	}
}

// clasp draws the roots of a rhizome, which hold to wood or stone.
func (k *sketch) clasp(line []curve.Pt, f form) {
	if f.bare || k.rough {
		return
	}
	k.with(Root, func() {
		var d curve.Path
		for i := range 7 {
			at, _ := curve.Along(line, (float64(i)+0.5)/7)
			for range 2 {
				d.Stroke(curve.Rib(at, -up+k.Span(-0.9, 0.9), math.Min(k.s*k.Span(0.8, 2.2), f.height*0.3), curve.Bow{Bend: k.Span(-0.7, 0.7)}, 4))
			}
		}
		k.line(d, rootLine, 0.9)
	})
}

// moss draws shoots over what they hold to, or flat bodies that fork; its foot is the top of that.
func (k *sketch) moss(at curve.Pt, f form) {
	if f.leaf.Shape == Thallus {
		k.thalli(at, f)
		return
	}
	n := k.fewer(19, 6)
	if f.rich { // on a plate the shoots are seen one by one
		n = k.fewer(26, 6)
	} else {
		k.cushion(at, f)
	}
	r := k.mound(f)
	for _, t := range k.fan(n, 0.05) {
		l := f.height * (1.05 - 0.45*math.Abs(t)) * k.Span(0.4, 1.05)
		x := t * 1.15
		drop := 0.46 * (1 - math.Sqrt(1-math.Min(0.98, x*x/1.7))) // along the stone's back
		k.shoot(pt(at.X+x*r, at.Y+drop*r+1), up+t*0.85*r/f.height+k.Bell(0.25), l, f, 0, sideOf(t))
	}
}

// mound is half as wide as the ground that a moss covers: as it is high, but not that of a long willow moss.
func (k *sketch) mound(f form) float64 { return math.Min(f.height, k.s*6) }

// cushion is the mat that the shoots rise from: a low mound along the stone's back, its edge frayed.
func (k *sketch) cushion(at curve.Pt, f form) {
	n := k.fewer(36, 9)
	top, foot, r := make([]curve.Pt, 0, n+1), make([]curve.Pt, 0, n+1), k.mound(f)
	for i := range n + 1 {
		x := (float64(i)/float64(n)*2 - 1) * 1.12
		y := at.Y + 0.46*r*(1-math.Sqrt(1-math.Min(0.98, x*x/1.7)))
		high := r * 0.2 * math.Sqrt(1.02-x*x/1.27) * (0.75 + 0.35*k.Unit() + 0.3*float64(i%2))
		top = append(top, pt(at.X+x*r, y-high))
		foot = append(foot, pt(at.X-x*r, y+r*0.05))
	}
	var p curve.Path
	p.Move(top[0])
	for _, q := range top[1:] {
		p.Line(q)
	}
	p.Run(foot)
	p.Close()
	k.leaf(p, shade, at, 6)
}

// shoot is a weak, wandering stem with two ranks of tiny leaves, branched irregularly in one plane. Leaves too small to be
// shaded one by one share a path for each tone.
func (k *sketch) shoot(at curve.Pt, angle, length float64, f form, order int, way float64) {
	p := curve.Rib(at, angle, length, curve.Bow{Bend: way * k.Span(0.3, 1.1), Late: 1, Wave: 0.2, Phase: k.Span(0, 6)}, max(4, min(9, int(length/9))))
	k.stroke(p, stalkLine, [...]float64{0.9, 0.65, 0.5}[order])
	if order < 2-boolInt(k.fine > 5)-boolInt(k.fine > 12) && length > 8 {
		step := [...]float64{0.13, 0.36}[order] * math.Pow(1.2, float64(k.fine))
		for u := k.Span(0.08, 0.2); u < 0.92; u += step * k.Span(0.7, 1.4) {
			b, h := curve.Along(p, u)
			side := k.Side()
			if u < 0.12+step && order == 0 {
				side = way
			}
			k.shoot(b, h+side*k.Span(0.6, 1.1), length*[...]float64{0.42, 0.3}[order]*(1-0.55*u)*k.Span(0.45, 1.15), f, order+1, -side)
		}
	}
	k.leaflets(p, length, f, order)
}

func (k *sketch) leaflets(p []curve.Pt, length float64, f form, order int) {
	size := math.Max(2.2, math.Min(k.s*0.16, 6))
	if f.leaf.Tint == Red || k.fine > 3 {
		size *= 1.5
	}
	var tones [3]curve.Path
	step := math.Max(size*0.74/math.Max(length, 1), 0.02) * math.Pow(1.12, float64(k.fine))
	side := 1.0
	for u := 0.02; u < 1; u += step * k.Span(0.8, 1.2) {
		at, h := curve.Along(p, u)
		side = -side
		l := size * (1.1 - 0.4*u) * [...]float64{1, 0.88, 0.76}[order]
		d, _ := curve.Sliver(at, h+side*(0.78-0.3*u)*k.Span(0.85, 1.15), l, size*0.34, -side*0.3)
		tones[boolInt(u > 0.55)+boolInt(u > 0.88)].Add(d)
	}
	at, h := curve.Along(p, 1)
	d, _ := curve.Sliver(at, h, size*0.9, size*0.24, 0)
	tones[2].Add(d)
	for i, d := range tones {
		if !d.Empty() {
			k.leaf(d, plainT+i, p[len(p)/2], 3)
		}
	}
}

// thalli are flat bodies that fork, as those of liverworts: a cushion of them.
func (k *sketch) thalli(at curve.Pt, f form) {
	n := k.fewer(15, 5)
	w := math.Max(1, k.wide(f)*0.5)
	for _, t := range k.fan(n, 0.06) {
		foot := pt(at.X+t*f.height*1.1, at.Y-1)
		var d curve.Path
		k.fork(&d, foot, up+t*0.95+k.Bell(0.2), f.height*k.Span(0.34, 0.46)*(1-0.3*math.Abs(t)), 3)
		class := stemLine
		if math.Abs(t) > 0.6 {
			class = stalkLine
		}
		k.line(d, class, w)
	}
}

func (k *sketch) fork(p *curve.Path, at curve.Pt, angle, length float64, left int) {
	end := at.Plus(angle, length)
	p.Move(at, end)
	if left == 0 {
		return
	}
	for _, side := range [...]float64{-1, 1} {
		k.fork(p, end, angle+side*k.Span(20, 36)*deg, length*k.Span(0.62, 0.78), left-1)
	}
}

// ball is a ball of threads.
func (k *sketch) ball(at curve.Pt, f form) {
	r := f.height / 2
	var p curve.Path
	c := pt(at.X, at.Y-r)
	p.Ring(c, r, r*0.96)
	k.leaf(p, plainT, c, 1)
	for i := range k.fewer(40, 12) {
		a := float64(i) * 2.4
		d := r * math.Sqrt(k.Unit())
		q, tip := curve.Sliver(c.Plus(a, d*0.8), a+k.Bell(0.4), r*0.3, r*0.05, k.Bell(0.5))
		k.leaf(q, plainT+int(k.Next()%2), tip, 0.6)
	}
}

func boolInt(b bool) int {
	if b {
		return 1
	}
	return 0
}
