package draw

import (
	"cmp"
	"math"
	"slices"

	"slipleaf/build/curve"
)

// strapLeaf is one ribbon, before it is painted.
type strapLeaf struct {
	p     []curve.Pt
	width float64
	outer float64 // 0 in the middle of the plant … 1 outermost
	thin  float64 // where it shows its edge; above 1: nowhere
}

// eelgrass: parallel ribbons from a tight foot. Each turns over at its own depth and lies along the surface, where it is
// seen on edge and so is thin; a few young ones end below.
func (k *sketch) eelgrass(at curve.Pt, f form) {
	n := k.leaves(f, 9, 1, 3, k.fewer(10, 4))
	k.rooted(f, at, 9, math.Min(f.height*0.2, k.s*3), 0.7)
	top := math.Inf(-1)
	length := f.height
	if f.water > 0 {
		top = f.surface(at) + 1.5 + k.wide(f)*0.17
		length = math.Min(length, f.water+f.trail)
	}
	soft := math.Max(10, math.Min(f.water*0.22, k.s*5))
	all := make([]strapLeaf, 0, n)
	for i := range n {
		t := (float64(i)+0.5)/float64(n)*2 - 1
		l := length * k.Span(0.68, 1)
		if i%5 == 2 && n > 4 {
			l = length * k.Span(0.28, 0.5)
		}
		mine := top + math.Pow(k.Span(0.05, 1), 2)*soft*0.3
		foot := pt(at.X+t*k.wide(f)*0.6, at.Y+k.Span(-1, 1))
		b := curve.Bow{Bend: t*0.1 + k.Bell(0.05), Wave: k.Span(0.02, 0.07), Phase: k.Span(0, 6)}
		p := k.rise(foot, up+t*0.13+k.Bell(0.025), l, b, 14, mine, soft*k.Span(0.7, 1.2), 1)
		thin := 2.0
		if k.Unit() < 0.35 {
			thin = k.Span(0.3, 0.6)
		}
		all = append(all, strapLeaf{p, k.wide(f) * k.Span(0.8, 1.1), math.Abs(t)*0.8 + k.Span(0, 0.3), thin})
	}
	slices.SortStableFunc(all, func(a, b strapLeaf) int { return cmp.Compare(b.outer, a.outer) })
	for _, s := range all {
		k.strap(s, f)
	}
}

// strap paints one ribbon with its veins: one, or on a plate five.
func (k *sketch) strap(s strapLeaf, f form) {
	n := len(s.p) - 1
	half := func(u float64) float64 {
		i := min(n-1, int(u*float64(n)))
		flat := 1.0
		if f.water > 0 {
			steep := math.Abs(math.Atan2(s.p[i+1].Y-s.p[i].Y, math.Abs(s.p[i+1].X-s.p[i].X)+1e-6)) / (math.Pi / 2)
			flat = 0.34 + 0.66*steep
		}
		end := 1 - 60*math.Pow(math.Max(0, u-0.9), 2)
		return math.Min(1, 0.55+3*u) * math.Max(0.1, end) * flat * math.Max(0.2, math.Min(1, math.Abs(u-s.thin)*7))
	}
	tone := shade
	switch {
	case s.outer < 0.25:
		tone = young
	case s.outer < 0.5:
		tone = light
	case s.outer < 0.85:
		tone = plainT
	}
	width := math.Max(s.width, 1.3)
	k.leaf(k.blade(s.p, width, half), tone, s.p[n/2], 1)
	if width < 3 || k.fine > 3 {
		return
	}
	veins := 1
	if f.rich && width > 5 {
		veins = 5
	}
	var d curve.Path
	for v := range veins {
		off := (float64(v) - float64(veins-1)/2) / float64(veins) * 0.8 * width
		line := curve.Beside(s.p, func(u float64) float64 { return off * half(u) })
		if veins == 1 {
			line = line[1:]
		}
		d.Stroke(line[:len(line)-1])
	}
	k.line(d, veinLine, 0)
}

// ribbons: firm leaves, broad at the foot, that arch outwards from halfway and end in a short point. A clump is open, with
// the bare ground between plants.
func (k *sketch) ribbons(at curve.Pt, f form) {
	n := k.leaves(f, 10, 1, 3, k.fewer(11, 4))
	k.rooted(f, at, 9, math.Min(f.height*0.3, k.s*2.6), 0.8)
	top := f.surface(at) + 1.5
	for _, t := range k.fan(n, 0.05) {
		l := f.height * (1 - 0.2*math.Abs(t)) * k.Span(0.86, 1.04)
		foot := pt(at.X+t*k.s*0.35, at.Y)
		p := curve.Rib(foot, up+t*0.3, l, curve.Bow{Bend: t * 0.95 * k.Span(0.8, 1.15), Late: 2}, 9)
		if f.water > 0 && p[9].Y < top {
			p = k.rise(foot, up+t*0.3, l, curve.Bow{Bend: t * 0.9}, 9, top, k.s*1.5, sideOf(t))
		}
		half := func(u float64) float64 {
			end := 1.0
			if u > 0.82 {
				end = math.Max(0, 1-math.Pow((u-0.82)/0.18, 2))
			}
			return (1.2 - 0.4*u) * end
		}
		w := math.Max(1.4, k.wide(f)*k.Span(0.9, 1.1))
		k.leaf(k.blade(p, w, half), face(t, 0.8, 0.3), p[5], 1)
		if w < 3 || k.fine > 2 {
			continue
		}
		k.stroke(p[:9], veinLine, 0)
		if f.rich {
			k.septa(p, w)
		}
	}
}

// septa are the cross walls that show through a ribbon leaf.
func (k *sketch) septa(p []curve.Pt, w float64) {
	var d curve.Path
	for i := range 14 {
		at, a := curve.Along(p, 0.1+0.055*float64(i))
		d.Move(at.Plus(a+math.Pi/2, w*0.42), at.Plus(a-math.Pi/2, w*0.42))
	}
	k.line(d, inkLine, 0.35)
}

// tuft: narrow leaves from one point, the inner upright, the outer arched over.
func (k *sketch) tuft(at curve.Pt, f form) {
	n := k.leaves(f, 8+5*boolInt(f.leaf.WidthCm < 0.15), 4, 3, k.fewer(16, 4))
	k.rooted(f, at, 6, math.Min(f.height*0.5, k.s*1.8), 0.7)
	spread := 1.0
	if f.leaf.Shape == Needle {
		spread = 0.5
	}
	height := f.under(f.height, 0.98)
	for _, t := range k.fan(n, 0.08) {
		l := height * (1 - 0.22*math.Abs(t)) * k.Span(0.8, 1.04)
		a := up + t*spread*0.62
		w := math.Max(1.1, k.wide(f)) * k.Span(0.8, 1.15)
		tone := face(t, 0.8, 0.35)
		if k.Unit() < 0.12 {
			tone++
		}
		if f.rich && w > 5 {
			p := curve.Rib(pt(at.X+t*1.5, at.Y), a, l, curve.Bow{Bend: t * spread * k.Span(0.5, 1)}, 8)
			k.leaf(k.blade(p, w, grassHalf), tone, p[4], 1)
			k.stroke(p[:8], veinLine, 0)
			continue
		}
		p, tip := curve.Sliver(pt(at.X+t*1.2, at.Y), a, l, w*0.95, t*spread*k.Span(0.6, 1.3))
		k.leaf(p, tone, curve.Mid(at, tip), 0.5)
	}
}

func grassHalf(u float64) float64 { return math.Min(1, 0.45+2*u) * (1 - math.Pow(u, 3)) }

// crown: stalked leaves from one point, the oldest outside and low.
func (k *sketch) crown(at curve.Pt, f form) {
	n := k.leaves(f, 10, 3, 2, k.fewer(13, 4))
	k.rooted(f, at, 8, math.Min(f.height*0.28, k.s*4), 0.75)
	for _, t := range k.fan(n, 0.07) {
		k.stalkedLeaf(pt(at.X+t*2, at.Y), f, up+t*0.78+k.Bell(0.05), f.height*(1.02-0.22*math.Abs(t))*k.Span(0.86, 1.04), t*k.Span(0.5, 1.2), face(t, 0.75, 0.3), k.Span(0.7, 1))
	}
}

// stalkedLeaf is a stalk and its blade, with veins; facing is how broad the blade is seen, 0–1.
func (k *sketch) stalkedLeaf(foot curve.Pt, f form, angle, length, bend float64, tone int, facing float64) []curve.Pt {
	if f.water > 0 { // broad leaves stop at the surface
		length = math.Min(length, f.water*0.94/math.Max(0.3, math.Cos((angle-up)*0.8)))
	}
	const n = 11
	share := f.leaf.PetioleCm / (f.leaf.PetioleCm + f.leaf.LengthCm) * k.Span(0.72, 0.98)
	share = math.Max(share, 1-k.long(f)*1.6/math.Max(1, length)) // a tall plant has long stalks, not giant blades
	at := max(0, min(7, int(math.Round(n*share))))
	p := curve.Rib(foot, angle, length, curve.Bow{Bend: bend, Late: 1.3}, n)
	if at > 0 {
		k.stroke(p[:at+1+boolInt(f.leaf.Shape != Cordate)], stalkLine, math.Max(0.8, k.s*0.11))
	}
	b := p[at:]
	grown := length * (1 - share) / math.Max(1, k.long(f))
	w := math.Max(1.5, k.wide(f)*math.Sqrt(math.Min(1.3, grown))*facing)
	w = math.Min(w, curve.Reach(b)*0.98)
	half := f.leaf.Shape.half
	if f.leaf.Shape == Cordate {
		k.heart(p[at], b, w, tone)
		return p
	}
	if k.ruffled(f) {
		phase := k.Span(0, 6)
		half = func(u float64) float64 { return f.leaf.Shape.half(u) * (1 + 0.13*math.Sin(phase+u*26)) }
	}
	k.leaf(k.blade(b, w, half), tone, b[len(b)/2], 1.6)
	k.veins(b, w, f.leaf.Shape, 1+boolInt(w > 12)+2*boolInt(f.rich))
	return p
}

func (k *sketch) ruffled(f form) bool {
	return f.leaf.Tint == Brown || f.leaf.Shape == Strap
}

// heart is the blade of a lily: two lobes behind the stalk.
func (k *sketch) heart(foot curve.Pt, b []curve.Pt, w float64, tone int) {
	_, h := curve.Along(b, 0.3)
	l := curve.Reach(b)
	lobe := func(side float64) (a, c, d curve.Pt) {
		a = foot.Plus(h+math.Pi+side*0.62, l*0.42)
		c = foot.Plus(h+side*math.Pi/2, w*0.72)
		return a, c, foot.Plus(h, l*0.62).Plus(h+side*math.Pi/2, w*0.5)
	}
	tip := foot.Plus(h, l)
	var p curve.Path
	p.Move(foot)
	a, c, d := lobe(1)
	p.Quad(foot.Plus(h+math.Pi+0.1, l*0.3), a)
	p.Cubic(c, d, tip)
	a, c, d = lobe(-1)
	p.Cubic(d, c, a)
	p.Quad(foot.Plus(h+math.Pi-0.1, l*0.3), foot)
	p.Close()
	k.leaf(p, tone, b[len(b)/2], 1.6)
	var v curve.Path
	for _, t := range [...]float64{-2, -1.1, -0.5, 0, 0.5, 1.1, 2} {
		v.Move(foot, foot.Plus(h+t, l*(0.62-0.14*math.Abs(t))))
	}
	k.line(v, veinLine, 0)
}

// bulb: leaves from a bulb or tuber that is half in the ground.
func (k *sketch) bulb(at curve.Pt, f form) {
	size := within(f.height*0.08, k.s*0.5, k.s*1.6)
	lily := f.leaf.Shape == Cordate
	k.with(Root, func() {
		var p curve.Path
		c := pt(at.X, at.Y-size*0.05)
		p.Move(pt(c.X, c.Y-size))
		p.Cubic(pt(c.X+size*0.25, c.Y-size*0.5), pt(c.X+size*0.75, c.Y-size*0.4), pt(c.X+size*0.7, c.Y+size*0.2))
		p.Cubic(pt(c.X+size*0.6, c.Y+size*0.75), pt(c.X-size*0.6, c.Y+size*0.75), pt(c.X-size*0.7, c.Y+size*0.2))
		p.Cubic(pt(c.X-size*0.75, c.Y-size*0.4), pt(c.X-size*0.25, c.Y-size*0.5), pt(c.X, c.Y-size))
		p.Close()
		k.rooted(f, pt(at.X, at.Y+size*0.5), 9, within(f.height*0.2, 5, k.s*4), 0.8)
		k.leaf(p, plainT, at, 1)
	})
	f.bare = true
	foot := pt(at.X, at.Y-size*0.8)
	switch {
	case f.manner() == Eelgrass:
		k.eelgrass(foot, f)
	case lily:
		k.lily(foot, f)
	default:
		k.crown(foot, f)
	}
}

// lily: leaves on long stalks, the blades turned up to the light.
func (k *sketch) lily(at curve.Pt, f form) {
	n := k.leaves(f, 8, 1, 2, k.fewer(9, 3))
	for _, t := range k.fan(n, 0.1) {
		length := f.height * (0.95 - 0.35*math.Abs(t)) * k.Span(0.7, 1)
		length = f.under(length, 0.8)
		blade := math.Min(k.long(f)*0.75, length*0.75)
		p := curve.Rib(at, up+t*0.85, math.Max(length-blade*0.4, blade*0.5), curve.Bow{Bend: -t * 0.35}, 8)
		k.stroke(p, stalkLine, math.Max(0.8, k.s*0.1))
		tip, _ := curve.Along(p, 1)
		lie := up + sideOf(t)*(0.75+0.5*math.Abs(t))
		b := curve.Rib(tip, lie, blade, curve.Bow{Bend: sideOf(t) * 0.3}, 6)
		k.heart(tip, b, blade*k.Span(0.6, 0.85), face(t, 0.75, 0.3))
	}
}
