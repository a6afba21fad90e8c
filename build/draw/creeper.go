package draw

import "math"

// rhizome draws a creeping rhizome with leathery leaves along it, the youngest at its tip.
func (f *figure) rhizome(fm form) {
	n := f.along(fm)
	gap := within(fm.width()*0.42, 2, 16)
	length := gap * float64(n)
	back := f.creep(length)
	lift := fm.height * f.span(0.93, 1)
	for i := range n {
		t := (float64(i) + 0.5) / float64(n)
		at, _ := back(t)
		lean := f.near((t-0.45)*104*deg, 0.2) + f.span(-9, 9)*deg
		size := f.near(1-0.35*math.Pow(math.Abs(2*t-1), 2), 0.1)
		if i == n-1 {
			size *= 0.72
		}
		f.stalked(fm, at, lift*size, lean)
	}
	f.anchor(back, 0.5)
	f.creepRoots(back, fm, n)
}

// along is how many leaves a rhizome carries.
func (f *figure) along(fm form) int {
	n := fm.count
	if n <= 0 {
		n = 7 + int(f.next()%3)
	}
	return max(2, min(n, f.fine.leaves, 16))
}

// creep draws a horizontal rhizome centred on the foot, its growing tip at the right.
func (f *figure) creep(length float64) rib {
	rise := f.span(0.1, 0.25)
	back := arc(pt{-length / 2, 0}, rise, length, -rise*1.7)
	f.pens[thick].stroke(back, 0, 1, 2)
	return back
}

// stalked draws one stalked leaf of about tall (mm) leaning by lean from upright.
func (f *figure) stalked(fm form, at pt, tall, lean float64) {
	if fm.column > 0 {
		tall = math.Min(tall, fm.column*f.span(0.88, 0.97)) // broad leaves stop at the surface
	}
	bend := math.Copysign(f.span(0.25, 0.6), lean)
	r := arc(at, up+lean-bend*0.4, tall/math.Max(0.6, math.Cos(lean*0.7)), bend)
	s := fm.leaf.stalk()
	share := tall / (fm.length() + fm.leaf.PetioleCm*10)
	width := fm.width() * within(share, 0.3, 1.3) * f.span(0.78, 1)
	f.pens[stalk].stroke(r, 0, s+0.03, 1)
	f.anchor(r, s*0.6)
	f.leafOn(fm.leaf, r.part(s, 1), tall*(1-s), width, f.span(-0.9, 0.9))
}

// creepRoots draws the roots under a rhizome; without fm.rooted only short ones that hold it.
func (f *figure) creepRoots(back rib, fm form, n int) {
	reach := within(fm.height*0.12, 3, 14)
	if fm.rooted {
		reach = within(fm.height*0.35, 6, 60)
	}
	for i := range max(3, n*2/3) {
		t := (float64(i) + 0.5) / float64(max(3, n*2/3))
		at, _ := back(t)
		f.rootlets(at, 1+boolInt(fm.rooted), f.near(reach, 0.3), reach*f.span(0.05, 0.3))
	}
}

func boolInt(b bool) int {
	if b {
		return 1
	}
	return 0
}

// fern draws fronds fanned out from a rhizome, or, lacy ones, from a crown.
func (f *figure) fern(fm form) {
	n, crown := fm.count, fm.leaf.Shape == Bipinnate
	if n <= 0 {
		n = 6 + int(f.next()%3) - boolInt(crown)
	}
	n = max(2, min(n, f.fine.leaves, 12))
	back := arc(pt{-2, 0}, 0, 4, 0)
	if !crown {
		back = f.creep(within(fm.width()*0.4, 4, 12) * float64(n))
	}
	for i := range n {
		k := (i*5 + 2) % n // not left to right, so that fronds cross
		if n%5 == 0 {
			k = i
		}
		t := (float64(k) + 0.5) / float64(n)
		at, _ := back(t)
		f.stalked(fm, at, fm.height*f.near(0.98-0.3*math.Abs(2*t-1), 0.06), (t-0.48)*f.near(96*deg, 0.15))
	}
	if crown {
		if reach := within(fm.height*0.2, 4, 60); fm.rooted {
			f.rootlets(pt{}, 9, reach, reach*0.7)
		}
		return
	}
	f.anchor(back, 0.5)
	f.creepRoots(back, fm, n)
}

// tuft draws one tuft of a carpet: blades from the base, stalked leaflets, or a cushion of small creeping shoots.
func (f *figure) tuft(fm form) {
	switch {
	case fm.leaf.grassy() || fm.leaf.Shape == Lanceolate || fm.leaf.Shape == Strap:
		if fm.count <= 0 {
			fm.count = 7 + int(f.next()%3)
		}
		f.rosette(fm, pt{})
	case fm.leaf.Shape == Clover || fm.leaf.PetioleCm > fm.leaf.LengthCm:
		f.stalks(fm)
	default:
		f.cushion(fm)
	}
}

// stalks draws leaves that stand singly on thin stalks along a runner.
func (f *figure) stalks(fm form) {
	n := max(3, min(f.fine.leaves, 6, fm.count+6*boolInt(fm.count <= 0)))
	back := arc(pt{-fm.length() * 0.36 * float64(n), 0}, 0, fm.length()*0.72*float64(n), f.span(-0.1, 0.1))
	f.pens[runner].stroke(back, 0, 1, 1)
	for i := range n {
		at, _ := back((float64(i) + 0.5) / float64(n))
		l := fm.length() * f.span(0.8, 1.1)
		r := arc(at, up+f.span(-0.25, 0.25), math.Max(l, fm.height*f.span(0.7, 1)-l*0.4), f.span(-0.3, 0.3))
		f.pens[stalk].stroke(r, 0, 1, 1)
		tip, a := r(1)
		f.leafOn(fm.leaf, arc(tip, a+f.span(-0.5, 0.5), l, 0), l, fm.width()*f.span(0.7, 1), f.span(-0.6, 0.9))
	}
	f.anchor(back, 0.5)
	if fm.rooted {
		f.creepRoots(back, fm, n)
	}
}

// cushion draws short shoots that spread from one root, small leaves in pairs.
func (f *figure) cushion(fm form) {
	n := max(3, min(7, f.fine.leaves/6))
	per := max(2, min(6, f.fine.leaves/n/2))
	for i := range n {
		lean := ((float64(i)+0.5)/float64(n) - 0.5) * 150 * deg
		tall := fm.height * f.near(1.05-0.2*math.Abs(lean), 0.1)
		axis := arc(pt{f.span(-2, 2), 0}, up+lean, tall, -lean*0.45)
		f.pens[stalk].stroke(axis, 0, 1, 1)
		for k := range per {
			at, a := axis(0.25 + 0.75*float64(k+1)/float64(per))
			for _, side := range [...]float64{-1, 1} {
				l := fm.length() * f.span(0.75, 1.1)
				f.leafOn(fm.leaf, arc(at, a+side*f.span(38, 64)*deg, l, 0), l, fm.width()*f.span(0.75, 1), f.span(-0.7, 0.9))
			}
		}
		if i == n/2 {
			f.anchor(axis, 0.4)
		}
	}
	if fm.rooted {
		f.rootlets(pt{}, 7, within(fm.height*0.5, 3, 25), fm.height*0.5)
	}
}
