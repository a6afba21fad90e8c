package draw

import (
	"cmp"
	"math"
	"slices"

	"slipleaf/build/curve"
)

// rise is the middle line of something that grows up through water: where it comes near the surface it turns along it.
// Free air lets it rise.
func (k *sketch) rise(from curve.Pt, angle, length float64, b curve.Bow, n int, top, soft, flow float64) []curve.Pt {
	if math.IsInf(top, -1) {
		return curve.Rib(from, angle, length, b, n)
	}
	out := make([]curve.Pt, 1, n+1)
	out[0] = from
	at, step := from, length/float64(n)
	for i := 1; i <= n; i++ {
		t := float64(i) / float64(n)
		h := angle + b.Bend*math.Pow(t, 1.2) + b.Wave*math.Sin(b.Phase+t*5.5)
		near := math.Max(0, math.Min(1, (at.Y-top)/soft))
		dx, dy := math.Cos(h)*near+flow*(1-near), math.Sin(h)*near
		m := math.Max(0.2, math.Hypot(dx, dy))
		at = pt(at.X+dx/m*step, math.Max(at.Y+dy/m*step, top))
		out = append(out, at)
	}
	return out
}

// surface is the y of the water over a foot, or minus infinity in free air.
func (f form) surface(at curve.Pt) float64 {
	if f.water <= 0 {
		return math.Inf(-1)
	}
	return at.Y - f.water
}

// stem draws one shoot with leaves at its nodes. Each stem has its own first node and internodes, so that nothing lines up
// with its neighbours.
func (k *sketch) stem(at curve.Pt, f form, angle float64) {
	length := f.height
	if f.water > 0 {
		length = math.Min(length, f.water*0.97+f.trail)
	}
	top := f.surface(at) + k.wide(f)*0.5 + 1
	axis := k.rise(at, angle+k.Bell(0.06), length, curve.Bow{Bend: k.Bell(0.15), Wave: 0.06, Phase: k.Span(0, 6)}, 9, top, math.Max(8, k.s*2), sideOf(k.Span(-0.3, 1)))
	class := stemLine
	if f.leaf.Tint == Red {
		class = stalkLine
	}
	k.stroke(axis, class, math.Max(1, k.s*0.13))
	k.leavesOf(axis, f, top)
	k.rooted(f, at, 5, math.Min(length*0.16, k.s*2.2), 0.7)
}

// gap is the usual distance of one node from the next, centimetres.
func (l Leaf) gap() float64 {
	per := max(1, l.PerNode)
	switch {
	case l.Manner == Creeping:
		return math.Max(0.3, l.LengthCm*0.32)
	case l.Shape == Linear && per == 1:
		return math.Max(0.3, l.LengthCm*0.25)
	case l.Shape == Fan:
		return l.LengthCm * 0.7
	case l.Shape == Feather || l.Shape == Forked:
		return math.Max(0.5, l.LengthCm*0.5)
	case per > 2:
		return math.Max(0.45, l.LengthCm*0.3)
	case per == 1:
		return math.Max(0.35, (l.LengthCm+l.PetioleCm)*0.3)
	}
	return math.Max(0.3, math.Min(l.LengthCm*0.62, l.LengthCm*0.2+1.6))
}

// leavesOf puts leaves on an axis and paints the far ones first.
func (k *sketch) leavesOf(axis []curve.Pt, f form, top float64) {
	total := curve.Reach(axis)
	wider := math.Pow(1.13, float64(k.fine))
	step := f.leaf.gap() * k.s * math.Min(wider, 2.7) / math.Max(total, 1) // further apart, one plant is like another
	if f.count > 1 {
		step = 0.9 / float64(f.count)
	}
	step = math.Min(step, 0.24) // at least four nodes
	step = math.Max(step, math.Min(0.1, 0.012*wider))
	pos, turn := k.Span(0.04, 0.05+step*0.7), k.Span(0, 6)
	var all []twig
	for ; pos < 1; pos += step * k.Span(0.66, 1.4) * (1 - 0.55*math.Max(0, (pos-0.7)/0.3)) {
		turn = k.turn(f.leaf.PerNode, turn)
		all = append(all, k.node(f, axis, pos, turn)...)
	}
	all = append(all, k.tip(f, axis)...)
	slices.SortStableFunc(all, func(a, b twig) int { return cmp.Compare(a.toward, b.toward) })
	stalks := curve.Path{}
	shown := all[:0]
	for _, t := range all {
		end := t.at.Plus(t.angle+t.bend*0.4, t.length)
		if end.Y < top-1 { // a leaf that would cross the surface is left out
			continue
		}
		if s := k.petiole(f) * t.length / math.Max(1, k.long(f)); s > 1.5 {
			foot := t.at
			t.at = t.at.Plus(t.angle, s)
			stalks.Move(foot, t.at)
		}
		shown = append(shown, t)
	}
	k.line(stalks, stalkLine, math.Max(0.6, k.s*0.07))
	for _, t := range shown {
		hue := k.hue
		if t.low {
			hue = Olive
		}
		k.with(hue, func() { k.leafOn(f.leaf, t, f.rich) })
	}
}

// turn is the direction of the next node's first leaf.
func (k *sketch) turn(per int, before float64) float64 {
	switch {
	case per <= 1: // not quite opposite: two ranks that wind round the stem
		return before + math.Pi + k.Bell(0.35)
	case per == 2: // crossing pairs
		return before + math.Pi/2 + k.Bell(0.3)
	}
	return before + math.Pi/float64(per) + k.Bell(0.15)
}

// node is the leaves of one node as they are seen.
func (k *sketch) node(f form, axis []curve.Pt, pos, turn float64) []twig {
	at, h := curve.Along(axis, pos)
	youth := math.Max(0, (pos-0.7)/0.3)
	low := f.leaf.Tint == Red && f.habit == Stem && pos < k.Span(0.25, 0.5) // the shaded leaves of a red stem are olive
	per := max(1, f.leaf.PerNode)
	seen := min(per, k.fewer(6, 2))
	var out []twig
	for j := range seen {
		a := turn + 2*math.Pi*float64(j)/float64(seen)
		side, toward := math.Sin(a), math.Cos(a)
		open := (1.25 - 0.8*youth) * k.Span(0.85, 1.12)
		l := k.long(f) * (0.66 + 0.42*math.Sin(math.Pi*math.Min(1, pos*0.9+0.1))) * k.Span(0.84, 1.12) * (1 - 0.45*youth)
		fore := 0.42 + 0.58*math.Abs(side) // seen end-on, a leaf is short
		if per == 1 {
			fore = math.Max(0.45, math.Sqrt(math.Abs(side)))
		}
		w := k.wide(f) * (1 - 0.3*youth) * (0.74 + 0.26*math.Abs(toward)) * k.Span(0.9, 1.1)
		out = append(out, twig{at: at, angle: h + sideOf(side)*open*(0.35+0.65*math.Abs(side)), length: l * fore, width: math.Max(w, k.s*0.09),
			bend: sideOf(side) * k.Span(0, 0.65) * (1.1 - youth), toward: toward, youth: youth, low: low})
	}
	return out
}

// tip is the bud: small leaves that close round the end of the stem; of a leaf a node they make a star.
func (k *sketch) tip(f form, axis []curve.Pt) []twig {
	at, h := curve.Along(axis, 1)
	size, spread := 0.42, 0.5
	if f.leaf.Shape == Linear {
		size, spread = 0.5, 0.85
	}
	var out []twig
	for _, u := range [...]float64{-1, 1, -0.45, 0.5, 0} {
		if f.leaf.Shape >= Feather && math.Abs(u) == 1 {
			continue
		}
		out = append(out, twig{at: at, angle: h + u*spread + k.Bell(0.06), length: k.long(f) * size * k.Span(0.75, 1.05),
			width: k.wide(f) * 0.55, bend: u * 0.35, toward: 1 - math.Abs(u)*0.4, youth: 1})
	}
	return out
}

// creepers are low stems that lie down, root and turn up at their ends; leaves on long stalks stand up singly.
func (k *sketch) creepers(at curve.Pt, f form) {
	if f.leaf.Shape == Notched || f.leaf.Shape == Clover || f.leaf.PetioleCm > f.leaf.LengthCm*0.8 {
		k.clovers(at, f)
		return
	}
	n := k.fewer(6, 3)
	k.rooted(f, at, 6, math.Min(f.height*0.5, k.s*1.6), 0.8)
	for _, t := range k.fan(n, 0.08) {
		way := sideOf(t)
		part := f
		part.height = f.height * (1.05 - 0.3*math.Abs(t)) * k.Span(0.85, 1.1)
		foot := pt(at.X+t*f.height*0.55, at.Y-1-k.Span(0, 1))
		lie := 1.15 * math.Abs(t)
		axis := curve.Rib(foot, up+way*lie, part.height*(1+0.2*lie), curve.Bow{Bend: -way * lie * k.Span(0.8, 1.1), Late: 0.9}, 6)
		k.stroke(axis, stemLine, math.Max(0.8, k.s*0.11))
		k.leavesOf(axis, part, f.surface(at))
	}
}

// clovers are leaves that stand singly on thin stalks along a runner.
func (k *sketch) clovers(at curve.Pt, f form) {
	n := k.fewer(7, 4)
	if f.count > 0 {
		n = min(n, f.count)
	}
	gap := math.Max(k.wide(f)*0.5, k.s*0.5)
	run := []curve.Pt{pt(at.X-gap*float64(n)/2, at.Y-1), pt(at.X, at.Y+k.s*0.12), pt(at.X+gap*float64(n)/2, at.Y-1)}
	k.stroke(run, stemLine, math.Max(0.7, k.s*0.08))
	if !f.bare {
		for i := range 3 {
			p, _ := curve.Along(run, (float64(i)+0.5)/3)
			k.roots(p, 2, math.Min(f.height*0.5, k.s*1.2), 0.4)
		}
	}
	for i := range n {
		j := (i*3 + 1) % n // not left to right, so that leaves cross
		if n%3 == 0 {
			j = i
		}
		foot, _ := curve.Along(run, (float64(j)+k.Span(0.2, 0.8))/float64(n))
		tall := (f.height - k.long(f)*0.35) * k.Span(0.6, 1)
		lean := k.Bell(0.25)
		p := k.rise(foot, up+lean, math.Max(tall, k.long(f)*0.6), curve.Bow{Bend: -lean * 1.4}, 5, f.surface(at)+k.wide(f)*0.3, k.s, 1)
		k.stroke(p, stalkLine, math.Max(0.7, k.s*0.07))
		tip, a := curve.Along(p, 1)
		k.leafOn(f.leaf, twig{at: tip, angle: a, length: k.long(f) * k.Span(0.85, 1.1), width: k.wide(f) * k.Span(0.8, 1.1), toward: k.Span(-0.6, 1)}, f.rich)
	}
}
