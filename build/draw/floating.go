package draw

import (
	"cmp"
	"math"
	"slices"

	"slipleaf/build/curve"
)

// hanging is how long the roots under a floating plant are: short under duckweed, long under the large ones.
func (k *sketch) hanging(f form) float64 {
	l := k.long(f) * 1.9
	if f.leaf.LengthCm < 1 {
		l = k.long(f) * 2.6
	}
	return f.under(l, 0.55)
}

// beard is a bunch of fine roots under a floating plant; with hairs it is plumed.
func (k *sketch) beard(at curve.Pt, n int, length, spread float64, hairs bool) {
	k.with(Root, func() {
		var d curve.Path
		for i := range n {
			t := k.Bell(0.5)
			p := curve.Rib(pt(at.X+t*spread, at.Y), -up-t*0.1+k.Bell(0.05), length*k.Span(0.42, 1), curve.Bow{Bend: k.Bell(0.2), Wave: 0.09, Phase: k.Span(0, 6)}, 6)
			d.Stroke(p)
			if !hairs || i%2 == 1 {
				continue
			}
			for j := range 14 {
				q, h := curve.Along(p, 0.1+0.06*float64(j))
				for _, side := range [...]float64{-1, 1} {
					d.Move(q, q.Plus(h+side*0.9, length*0.03))
				}
			}
		}
		k.line(d, rootLine, 0)
	})
}

// pads: leaves on stalks, edge-on at the surface, one or two lifted, over a beard of roots.
func (k *sketch) pads(at curve.Pt, f form) {
	size := math.Min(k.long(f), f.height*1.6+k.s)
	if !f.bare {
		k.beard(pt(at.X, at.Y+1), k.fewer(8, 4), k.hanging(f), size*0.3, f.rich)
	}
	reach := k.petiole(f)*0.7 + size*0.5
	for _, t := range []float64{-1, 1, -0.55, 0.6, 0.05} {
		l := size * k.Span(0.85, 1.1)
		h := size * k.Span(0.13, 0.2)
		if math.Abs(t) < 0.3 {
			h *= 1.7
		}
		c := pt(at.X+t*reach, at.Y-h*0.5-(1-math.Abs(t))*size*0.26)
		tilt := t*0.16 + k.Bell(0.05)
		e := func(u, v float64) curve.Pt {
			return pt(c.X+u*l/2*math.Cos(tilt)-v*h*math.Sin(tilt), c.Y+u*l/2*math.Sin(tilt)+v*h*math.Cos(tilt))
		}
		var stalk, p, vein curve.Path
		stalk.Move(pt(at.X, at.Y+1))
		stalk.Quad(pt((at.X+c.X)/2, at.Y+size*0.12), e(0, 0.3))
		k.line(stalk, stemLine, math.Max(0.7, k.s*0.1))
		p.Move(e(-1, 0))
		p.Cubic(e(-0.9, -0.75), e(0.9, -0.75), e(1, 0))
		p.Cubic(e(0.75, 0.7), e(-0.75, 0.7), e(-1, 0))
		p.Close()
		k.leaf(p, plainT+boolInt(math.Abs(t) < 0.7), c, 0.5)
		vein.Move(e(-0.8, 0.06))
		vein.Quad(e(0, 0.3), e(0.8, 0.06))
		k.line(vein, veinLine, 0)
	}
}

// wedgeLeaf is a leaf of the cabbage: how far up it is and where round.
type wedgeLeaf struct{ z, length, angle, side, rise, round, size float64 }

// cabbage: a cup of wedge leaves with fanned ribs and a blunt end, seen a little from above, over a plumed beard.
func (k *sketch) cabbage(at curve.Pt, f form) {
	size := math.Min(k.long(f), math.Max(f.height, k.s*1.5))
	if !f.bare {
		k.beard(pt(at.X, at.Y+size*0.05), k.fewer(20, 6), k.hanging(f)*size/math.Max(1, k.long(f)), size*0.1, f.rich)
	}
	n := k.fewer(14, 7)
	if f.count > 0 {
		n = max(4, min(n, f.count))
	}
	all := make([]wedgeLeaf, n)
	for i := range all {
		round := float64(i)*137.5*deg + 0.4
		age := 1 - float64(i)/float64(n) // the oldest outside and low
		rise := 0.12 + (1-age)*1.15
		r := size * (0.5 + 0.5*math.Pow(age, 0.6)) * k.Span(0.93, 1.05)
		dx, dy := math.Cos(round)*math.Cos(rise), math.Sin(round)*0.46*math.Cos(rise)-math.Sin(rise)*0.86
		all[i] = wedgeLeaf{math.Sin(round) * (0.35 + age), math.Max(r*math.Hypot(dx, dy), r*0.34), math.Atan2(dy, dx), math.Abs(math.Sin(round)), rise, round, r}
	}
	slices.SortStableFunc(all, func(a, b wedgeLeaf) int { return cmp.Compare(a.z, b.z) })
	for _, l := range all {
		k.wedge(at, l, f)
	}
}

func wedgeHalf(u float64) float64 {
	return 0.16 + 0.84*math.Pow(math.Sin(math.Pi/2*math.Min(1, u*1.12)), 1.4)
}

func (k *sketch) wedge(at curve.Pt, l wedgeLeaf, f form) {
	bend, w := math.Cos(l.round)*0.35, l.size*0.68*k.Span(0.92, 1.08)
	tone := plainT
	switch {
	case l.rise >= 0.7:
		w *= 0.8
	default:
		w *= 0.62 + 0.38*l.side
	}
	if l.rise > 0.8 {
		bend *= 0.4
	}
	if l.z > -0.2 {
		tone = light
	}
	if l.z > 0.4 && l.rise > 0.5 {
		tone = young
	}
	p := curve.Rib(at, l.angle, l.length, curve.Bow{Bend: bend}, 8)
	p[8] = pt(p[7].X+(p[8].X-p[7].X)*0.12, p[7].Y+(p[8].Y-p[7].Y)*0.12)
	k.leaf(k.blade(p, w, wedgeHalf), tone, p[4], 1)
	ribs := []float64{-0.45, 0, 0.45}
	if f.rich {
		ribs = []float64{-0.72, -0.45, -0.2, 0, 0.2, 0.45, 0.72}
	}
	if k.fine > 3 {
		return
	}
	var d curve.Path
	for _, v := range ribs {
		r := curve.Beside(p, func(u float64) float64 { return v * w / 2 * wedgeHalf(u) })
		d.Stroke([]curve.Pt{r[1], r[3], r[5], r[7]})
	}
	k.line(d, inkLine, 0)
}

// raft: small leaves along a thread on the water, or a scatter of discs.
func (k *sketch) raft(at curve.Pt, f form) {
	l := math.Max(2.4, k.long(f))
	n := k.fewer(9, 6)
	specks := f.manner() == Specks
	if specks {
		n = k.fewer(12, 8)
	}
	gap := l * 0.72
	if specks {
		gap = l * 0.85
	}
	if !f.bare {
		k.with(Root, func() {
			var d curve.Path
			for i := range n {
				if specks && i%2 == 1 || !specks && i%3 == 1 {
					continue
				}
				x := at.X + (float64(i)-float64(n-1)/2)*gap
				for range 1 + 2*boolInt(!specks) {
					d.Stroke(curve.Rib(pt(x+k.Span(-1, 1), at.Y), -up+k.Bell(0.16), k.hanging(f)*k.Span(0.5, 1)*(0.6+0.4*boolFloat(specks)), curve.Bow{Bend: k.Bell(0.3)}, 4))
				}
			}
			k.line(d, rootLine, 0)
		})
	}
	for i := range n {
		x := at.X + (float64(i)-float64(n-1)/2)*gap + k.Span(-0.1, 0.1)*l
		size := l * k.Span(0.8, 1.05)
		var p curve.Path
		if specks {
			p.Ring(pt(x, at.Y-size*0.08), size/2, size*0.2)
			k.leaf(p, plainT+i%2, pt(x, at.Y), 0.5)
			continue
		}
		side := sideOf(float64(i%2) - 0.5) // folded leaves, by turns left and right
		c := pt(x, at.Y-0.5)
		rise := 0.32 + 0.2*k.Unit()
		p.Move(c)
		p.Cubic(c.Plus(up+side*0.35, size*rise*1.6), c.Plus(up+side*1.15, size*1.15), c.Plus(up+side*1.32, size*0.95))
		p.Cubic(c.Plus(up+side*1.7, size*0.8), c.Plus(up+side*1.75, size*0.3), c)
		p.Close()
		k.leaf(p, plainT+i%2, c, 0.5)
	}
}

func boolFloat(b bool) float64 { return float64(boolInt(b)) }
