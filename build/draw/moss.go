package draw

import "math"

// moss draws a tuft of branched shoots that arch outwards, or a thallus that forks.
func (f *figure) moss(fm form) {
	if fm.leaf.Shape == Thallus {
		f.thalli(fm)
		return
	}
	n := max(4, min(13, f.fine.leaves/5))
	if fm.count > 0 {
		n = min(n, fm.count)
	}
	for i := range n {
		t := (float64(i)+0.5)/float64(n)*2 - 1
		lean := f.near(t*62*deg, 0.15)
		tall := fm.height * f.near(1.05-0.3*t*t, 0.12)
		axis := arc(pt{t * fm.height * 0.22, 0}, up+lean*0.75, tall, lean*0.8+f.span(-0.15, 0.15))
		f.spray(fm, axis, tall)
		if i == n/2 {
			f.anchor(axis, 0.3)
		}
	}
}

// spray draws one shoot: an axis and side branches, longest below the middle, the outline of a narrow triangle.
func (f *figure) spray(fm form, axis rib, tall float64) {
	p := &f.pens[thread]
	p.stroke(axis, 0, 1, 1)
	pairs := max(3, f.fine.pairs*2)
	for i := range pairs {
		u := 0.18 + 0.74*float64(i)/float64(pairs)
		reach := math.Max(fm.width()/2, tall*0.14) * (1.15 - u) * f.span(0.8, 1.2)
		for _, side := range [...]float64{-1, 1} {
			foot, a := axis(u + side*0.02)
			p.move(foot)
			out := a + side*f.span(48, 62)*deg
			mid := foot.plus(out, reach*0.55)
			p.quad(mid, mid.plus(out-side*0.5, reach*0.5))
		}
	}
}

// thalli draws flat bodies that fork twice or three times, as liverworts do.
func (f *figure) thalli(fm form) {
	n := max(4, min(9, f.fine.leaves/5))
	p := &f.pens[stalk]
	if fm.leaf.WidthCm >= 0.4 {
		p = &f.pens[thick]
	}
	for i := range n {
		t := (float64(i)+0.5)/float64(n)*2 - 1
		foot := pt{t * fm.height * 0.9, 0}
		f.fork(p, foot, up+t*48*deg+f.span(-0.2, 0.2), fm.height*f.span(0.3, 0.38), 3)
	}
	f.anchors = append(f.anchors, anchor{pt{f.pens[0].origin.x, f.pens[0].origin.y - fm.height*0.4}, up})
}

func (f *figure) fork(p *pen, at pt, angle, length float64, left int) {
	end := at.plus(angle, length)
	p.move(at)
	p.line(end)
	if left == 0 {
		return
	}
	for _, side := range [...]float64{-1, 1} {
		f.fork(p, end, angle+side*f.span(20, 36)*deg, length*f.span(0.66, 0.8), left-1)
	}
}
