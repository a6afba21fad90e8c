package draw

import (
	"math"

	"slipleaf/build/curve"
	"slipleaf/build/dice"
)

// Ground is what a plant is set in or on.
type Ground int

// The grounds.
const (
	InGround  Ground = iota // roots or nodes in the substrate
	OnGround                // laid on it, or half in it
	OnWood                  // tied to wood or stone
	OnSurface               // afloat
)

var groundName = [...]string{"ground", "laid", "wood", "surface"}

// Bed says how a plant is set. Words come finished from the caller; empty ones are left out.
type Bed struct {
	Ground    Ground
	PieceCm   float64 // how long the piece is, 0.5–60; 0: the plant's usual height
	DepthCm   float64 // how deep its foot lies, 0–12
	ApartCm   float64 // from one piece to the next, 0–40; 0: one piece alone
	Inch      string  // the sign of an inch, for a ruler of inches; "": it is metric, with "cm"
	DepthText string  // what the depth is called: "3 cm"
	ApartText string
}

const (
	bedWide = 336.0
	bedTall = 236.0
)

// Bed draws how the plant is set, to scale, with a ruler whose nought is the substrate's top (or the water's surface): 336 ×
// 236 units. Seen: "bed-" and ground, laid, wood or surface.
func (p Plate) Bed(b Bed) Care {
	p = p.tidy()
	b = b.tidy(p)
	for most := 4; ; most-- {
		for fine := 2; fine < 24; fine += 3 {
			w := new(page)
			p.bed(w, b, fine, most)
			if w.Len() < maxBed || most == 1 && fine > 19 {
				return Care{"bed-" + groundName[b.Ground], bedWide, bedTall, w.String()}
			}
		}
	}
}

func (b Bed) tidy(p Plate) Bed {
	b.Ground = max(InGround, min(OnSurface, b.Ground))
	if !(b.PieceCm > 0) {
		b.PieceCm = p.HeightCm
	}
	b.PieceCm, b.DepthCm, b.ApartCm = within(b.PieceCm, 0.5, 60), within(b.DepthCm, 0, 12), within(b.ApartCm, 0, 40)
	if b.Ground == OnWood || b.Ground == OnSurface {
		b.DepthCm = 0
	}
	return b
}

// bed draws the picture: y is the substrate's top, or the water's surface.
func (p Plate) bed(w *page, b Bed, fine, most int) {
	above := math.Max(b.PieceCm-b.DepthCm, 1) * 1.12
	below := math.Max(b.DepthCm+1.2, above*0.3)
	if b.Ground == OnSurface {
		roots := p.Leaf.LengthCm * 2.4
		above, below = math.Max(b.PieceCm*1.3, 1.5), math.Max(roots, 4)
	}
	s := (bedTall - 34) / (above + below)
	y := 8 + above*s
	foot := bedTall - 26
	if b.Ground == OnSurface {
		w.rect("d-water", 0, y, bedWide, foot-y)
		w.path("d-surface", "M0 "+num(y)+"H"+num(bedWide))
	} else {
		w.rect("d-water", 0, 0, bedWide, y)
		w.rect("d-sand", 0, y, bedWide, foot-y)
		w.path("d-grain", p.grains(y, foot))
	}
	n, gap := b.pieces(s, most)
	x0 := bedWide*0.47 - gap*float64(n-1)/2
	for i := range n {
		p.piece(w, b, s, fine, pt(x0+gap*float64(i), y+b.DepthCm*s), i)
	}
	w.ruler(b, s, y, foot)
	w.measures(b, s, y, x0, gap, n)
}

// pieces is how many are drawn, so many at the most, and how far apart, in units.
func (b Bed) pieces(s float64, most int) (n int, gap float64) {
	gap = b.ApartCm * s
	if gap < 6 || b.Ground == OnWood {
		return 1, 0
	}
	return min(most, max(2, min(4, 1+int(190/gap)))), math.Min(gap, 190)
}

// piece draws one plant with its foot at a point; in the ground without what would be stripped.
func (p Plate) piece(w *page, b Bed, s float64, fine int, at curve.Pt, i int) {
	k := newSketch(dice.Seeded(p.Seed, "bed", string(rune('a'+i))), s, fine, p.Leaf.Tint)
	q := p
	q.HeightCm = b.PieceCm
	f := q.form(k)
	foot := curve.Pt{}
	switch b.Ground {
	case OnWood:
		foot = k.seat(f)
	case InGround:
		if p.Firm() == Crown && b.DepthCm > 0 { // the crown itself stays above: only the roots are in the ground
			at.Y -= b.DepthCm * s
		}
	}
	k.grow(foot, f)
	if b.Ground == InGround && p.Firm() == Node {
		k.strip(b.DepthCm * s)
	}
	if b.Ground == OnWood {
		k.tie(foot, s)
	}
	w.at(at.X, at.Y, k)
}

// strip takes the leaves off the part that lies in the ground, and marks its nodes.
func (k *sketch) strip(depth float64) {
	kept := k.marks[:0]
	for _, m := range k.marks {
		if (m.leaf || m.class == veinLine) && m.hue != Root && m.height() > -depth-2 {
			continue
		}
		kept = append(kept, m)
	}
	k.marks = kept
	var d curve.Path
	for _, u := range [...]float64{0.25, 0.75} {
		d.Move(pt(-3, -depth*u), pt(3, -depth*u))
	}
	k.line(d, stalkLine, 2)
}

// tie is the thread that holds a rhizome or a moss.
func (k *sketch) tie(at curve.Pt, s float64) {
	var d curve.Path
	for _, dx := range [...]float64{-0.6, 0.5} {
		x := at.X + dx*math.Max(s, 8)
		d.Move(pt(x-2, at.Y-4))
		d.Quad(pt(x+4, at.Y+4), pt(x-1, at.Y+12))
	}
	k.line(d, "d-thread", 0)
}

// grains are the dots of the substrate.
func (p Plate) grains(y, foot float64) string {
	d := dice.Seeded(p.Seed, "bed grains")
	var a curve.Path
	n := 60
	for i := range n {
		q := pt(bedWide*(float64(i)+d.Unit())/float64(n), y+3+(foot-y-6)*d.Unit())
		a.Move(q, q)
	}
	return string(a.Data(nil))
}

// ruler is at the left; its nought is y.
func (w *page) ruler(b Bed, s, y, foot float64) {
	step, unit := s, "cm"
	if b.Inch != "" {
		step, unit = s*cmPerInch, b.Inch
	}
	each := 1
	for float64(each)*step < 9 && each < 64 {
		each *= 2
	}
	var d curve.Path
	d.Move(pt(18, math.Max(4, y-math.Floor((y-4)/step)*step)), pt(18, foot))
	for i := -int((foot - y) / step); float64(i)*step < y-6; i++ {
		if i%each != 0 {
			continue
		}
		d.Move(pt(18, y-float64(i)*step), pt(18+6+4*float64(boolInt(i%(5*each) == 0)), y-float64(i)*step))
	}
	w.path("d-tick", string(d.Data(nil)))
	top := int((y - 16) / step)
	if top >= 5*each {
		top -= top % (5 * each)
	} else {
		top -= top % each
	}
	w.put(`<text class="d-note" x="32" y="`, num(y+5), `">0</text>`)
	if top > 0 && float64(top)*step > 18 {
		w.put(`<text class="d-note" x="32" y="`, num(y-float64(top)*step+5), `">`, itoa(top), ` `, plain(unit), `</text>`)
	}
}

// measures are the arrows of depth and distance.
func (w *page) measures(b Bed, s, y, x0, gap float64, n int) {
	if b.DepthText != "" && b.DepthCm > 0 {
		x, d := math.Min(bedWide-74, x0+gap*float64(n-1)+30), b.DepthCm*s
		w.path("d-dim", "M"+num(x-5)+" "+num(y)+"h10M"+num(x-5)+" "+num(y+d)+"h10M"+num(x)+" "+num(y)+"v"+num(d))
		w.put(`<text class="d-word d-start" x="`, num(x+9), `" y="`, num(y+d/2+5), `">`, plain(b.DepthText), `</text>`)
	}
	if b.ApartText != "" && n > 1 {
		yy := bedTall - 19
		w.path("d-dim", "M"+num(x0)+" "+num(yy-4)+"v8M"+num(x0+gap)+" "+num(yy-4)+"v8M"+num(x0)+" "+num(yy)+"h"+num(gap))
		w.put(`<text class="d-word d-middle" x="`, num(x0+gap/2), `" y="`, num(bedTall-2), `">`, plain(b.ApartText), `</text>`)
	}
}
