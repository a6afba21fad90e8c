package draw

import (
	"html/template"
	"math"
	"strings"

	"slipleaf/build/curve"
	"slipleaf/build/dice"
)

// Firm is the part of a plant that is firm as long as it lives: what a recipient feels for.
type Firm int

// The firm parts.
const (
	Node  Firm = iota // of a stem
	Crown             // of a rosette, a tuft, a fern from a crown
	Creep             // a rhizome
	Tuber             // a bulb or tuber
	Hold              // the mat of a moss, and what it holds to
	Frond             // the heart of a floating plant, or of a small flat one
)

var firmName = [...]string{"node", "crown", "rhizome", "bulb", "mat", "frond"}

func (f Firm) String() string { return firmName[max(Node, min(Frond, f))] }

// Firm is the part that this plant is felt by.
func (p Plate) Firm() Firm {
	f := form{habit: p.Habit, leaf: p.Leaf}
	switch {
	case p.Habit == Stem, f.manner() == Creeping:
		return Node
	case p.Habit == Rhizome, p.Habit == Fern && f.perched():
		return Creep
	case p.Habit == Bulb:
		return Tuber
	case p.Habit == Moss:
		return Hold
	case p.Habit == Floating:
		return Frond
	}
	return Crown
}

// Care is a drawing of a care sheet. Seen says what is in it: the end of a key of the words, so that each language puts it
// in its own way; the plant's name is for the caller to add.
type Care struct {
	Seen          string
	Width, Height float64 // units; one is a pixel at its usual size
	body          string
}

// MaxCare is what one drawing of a sheet should weigh at the most, bytes, the caller's words not counted: a sheet with five of
// them and its style stays within 50 KB. A plant of many leaves is drawn coarser, and a bed with fewer plants.
const MaxCare = 2_400

const maxBed, maxLabel = MaxCare * 7 / 4, MaxCare * 3 / 4

// SVG is the drawing with its text alternative. id is the prefix of its ids, one a page for each drawing.
func (c Care) SVG(id, title string) template.HTML {
	w := new(page)
	w.open("d-sheet", name(id), 0, 0, c.Width, c.Height, title, "")
	w.put(c.body, `</svg>`)
	return template.HTML(w.String()) // all strings are escaped by plain and name
}

// Label is the plant for the sheet's label: 70 × 74 units. Seen: "label-" and the habit.
func (p Plate) Label() Care {
	return Care{"label-" + string(p.habitWord()), 70, 74, p.small(70, 74, maxLabel)}
}

// habitWord is the plant's habit, or a rosette where it is none that is known.
func (p Plate) habitWord() Habit {
	switch p.Habit {
	case Stem, Rosette, Rhizome, Carpet, Fern, Moss, Floating, Bulb:
		return p.Habit
	}
	return Rosette
}

// short is a piece as it is passed on: of a long stem the tip, of a ribbon plant a young one.
func (p Plate) short() Plate { return p.tidy().upTo(5, 26) }

const feelWide, feelTall = 94.0, 112.0

// Feel is finger and thumb on the firm part: 94 × 112 units. part and firm are the words beside it, or empty. Seen: "feel-"
// and the part's name.
func (p Plate) Feel(part, firm string) Care {
	p = p.tidy()
	w := new(page)
	at := pt(47, 56)
	if p.Firm() == Node {
		p.feelNode(w, at)
	} else {
		at = p.feelFoot(w)
	}
	w.hand(at, p.grip())
	for i, s := range [...]string{part, firm} {
		if s != "" {
			w.put(`<text class="d-word" x="`, num(feelWide-2), `" y="`, num(feelTall-19+16*float64(i)), `">`, plain(s), `</text>`)
		}
	}
	return Care{"feel-" + p.Firm().String(), feelWide, feelTall, w.String()}
}

// grip is half the distance of finger and thumb.
func (p Plate) grip() float64 {
	return [...]float64{Node: 5, Crown: 7, Creep: 15, Tuber: 10, Hold: 22, Frond: 8}[p.Firm()]
}

// feelNode draws a piece of stem with one node, enlarged, with its leaves and first roots.
func (p Plate) feelNode(w *page, at curve.Pt) {
	k := newSketch(dice.Seeded(p.Seed, "feel"), 12, 1, p.Leaf.Tint)
	var stem, ring curve.Path
	stem.Move(pt(at.X-3.5, 0), pt(at.X+3.5, 0))
	stem.Cubic(pt(at.X+4, 30), pt(at.X+3.5, 44), pt(at.X+6.5, at.Y))
	stem.Cubic(pt(at.X+4, 66), pt(at.X+4, 90), pt(at.X+4, feelTall))
	stem.Line(pt(at.X-4, feelTall))
	stem.Cubic(pt(at.X-4, 90), pt(at.X-4, 66), pt(at.X-6.5, at.Y))
	stem.Cubic(pt(at.X-3.5, 44), pt(at.X-4, 30), pt(at.X-3.5, 0))
	stem.Close()
	k.roots(pt(at.X-3, at.Y+6), 2, 20, 0.5)
	k.roots(pt(at.X+3, at.Y+6), 2, 18, 0.5)
	sides := []float64{1}
	if p.Leaf.PerNode > 1 {
		sides = []float64{1, -1}
	}
	long := math.Min(56, p.Leaf.LengthCm*math.Max(9, math.Min(16, 80/p.Leaf.LengthCm)))
	for _, s := range sides {
		l := p.Leaf
		foot := pt(at.X+s*4, at.Y-3)
		k.leafOn(l, twig{at: foot, angle: up + s*0.62, length: long, width: math.Max(4, long*l.WidthCm/l.LengthCm), bend: s * 0.25, toward: 0}, false)
	}
	k.leaf(stem, plainT, at, 0)
	ring.Stroke([]curve.Pt{pt(at.X-6.5, at.Y-3), pt(at.X, at.Y-0.5), pt(at.X+6.5, at.Y-3)})
	ring.Stroke([]curve.Pt{pt(at.X-6.5, at.Y+3), pt(at.X, at.Y+5.5), pt(at.X+6.5, at.Y+3)})
	k.line(ring, inkLine, 1)
	k.body(w)
}

// feelFoot draws the plant so large that its firm part is as wide as a finger, and returns where that lies. What is outside
// of the picture is left out.
func (p Plate) feelFoot(w *page) curve.Pt {
	tall := [...]float64{Crown: 150, Creep: 150, Tuber: 190, Hold: 44, Frond: 50}[p.Firm()]
	at := pt(47, [...]float64{Crown: 68, Creep: 78, Tuber: 66, Hold: 62, Frond: 40}[p.Firm()])
	if p.Firm() == Frond {
		tall = math.Max(8, 34*p.HeightCm/math.Max(0.3, p.Leaf.LengthCm))
	}
	for fine := 1; fine < 24; fine++ {
		k := newSketch(dice.Seeded(p.Seed, "feel"), tall/p.HeightCm, fine, p.Leaf.Tint)
		f := p.form(k)
		if p.Firm() == Crown && f.manner() != Eelgrass {
			f.count = 7
		}
		k.grow(curve.Pt{}, f)
		k.crop(pt(-at.X, -at.Y), pt(feelWide-at.X, feelTall-at.Y))
		w.Reset()
		w.at(at.X, at.Y, k)
		if w.Len() < MaxCare {
			break
		}
	}
	switch p.Firm() {
	case Crown:
		at.Y -= 4
	case Hold:
		at.Y -= 8
	}
	return at
}

// crop drops the marks that lie outside of a rectangle.
func (k *sketch) crop(lo, hi curve.Pt) {
	kept := k.marks[:0]
	for _, m := range k.marks {
		var b curve.Box
		for _, q := range m.path.Pts {
			b.Add(q)
		}
		if b.Hi.X > lo.X && b.Lo.X < hi.X && b.Hi.Y > lo.Y && b.Lo.Y < hi.Y {
			kept = append(kept, m)
		}
	}
	k.marks = kept
}

// hand draws a finger from the left and a thumb from the right, their tips grip away from the point.
func (w *page) hand(at curve.Pt, grip float64) {
	for _, h := range [...]struct{ side, tilt, thick, length float64 }{{-1, -18, 19, 60}, {1, -8, 17, 60}} {
		w.put(`<g transform="translate(`, num(at.X+h.side*grip), ` `, num(at.Y), `)rotate(`, num(h.tilt), `)scale(`, num(h.side), ` 1)">`)
		t, l := h.thick/2, h.length
		w.path("d-hand", "M"+num(l)+" "+num(-t)+"H"+num(t)+"A"+num(t)+" "+num(t)+" 0 0 0 "+num(t)+" "+num(t)+"H"+num(l))
		w.path("d-nail", "M2 "+num(-t*0.45)+"q8-1 8 "+num(t*0.45)+"t-8 "+num(t*0.45)+"M26 "+num(-t*0.6)+"q2 "+num(t*0.6)+" 0 "+num(t*1.2))
		w.put(`</g>`)
	}
}

const signWide, signTall = 100.0, 166.0

// Melt is the plant as it looks while it settles in: the old leaves glassy, the firm part and the newest leaves as they should
// be. 100 × 166 units. Seen: "melt-" and the firm part's name.
func (p Plate) Melt() Care { return p.sign("melt-", (*sketch).melted) }

// Rot is the same plant gone soft: the firm part black, the leaves brown, hanging and coming off. Seen: "rot-" and the name.
func (p Plate) Rot() Care { return p.sign("rot-", (*sketch).rotted) }

func (p Plate) sign(key string, change func(k *sketch, firm Firm)) Care {
	p = p.short()
	w := new(page)
	for fine := 2; fine < 24; fine++ {
		s := 10.0
		var k *sketch
		for range 3 {
			k = newSketch(dice.Seeded(p.Seed, "sign"), s, fine, p.Leaf.Tint)
			f := p.form(k)
			at := curve.Pt{}
			if f.perched() {
				at = k.seat(f)
			}
			if p.Firm() == Frond {
				k.waterLine(-signWide/2+4, signWide/2-4, 0)
			}
			k.grow(at, f)
			r := math.Min(signWide*0.9/math.Max(1, k.box.Wide()), signTall*0.92/math.Max(1, k.box.Tall()))
			if p.Firm() == Frond {
				r = math.Min(r, 1.2)
			}
			s = math.Min(mostScale, s*r)
		}
		change(k, p.Firm())
		k.measure()
		w.Reset()
		r := math.Min(1, math.Min(signWide*0.96/math.Max(1, k.box.Wide()), signTall*0.96/math.Max(1, k.box.Tall())))
		w.put(`<g transform="translate(`, num(signWide/2-r*(k.box.Lo.X+k.box.Hi.X)/2), ` `, num(signTall-3-r*k.box.Hi.Y), `)`)
		if r < 0.995 {
			w.put(`scale(`, hundredths(r), `)`)
		}
		w.put(`">`)
		k.body(w)
		w.put(`</g>`)
		if w.Len() < MaxCare {
			break
		}
	}
	return Care{key + p.Firm().String(), signWide, signTall, w.String()}
}

// measure makes the box anew, after marks have moved.
func (k *sketch) measure() {
	k.box = curve.Box{}
	for _, m := range k.marks {
		k.cover(m.path)
	}
}

// plantMark is a mark of the plant itself: not wood, stone, roots or water.
func (m mark) plantMark() bool {
	return m.hue != Wood && m.hue != Stone && m.hue != Root && !strings.HasPrefix(m.class, "d-surface")
}

// melted turns the oldest leaves to glass: of a stem the lower ones, of the others those outside.
func (k *sketch) melted(firm Firm) {
	for i := range k.marks {
		m := &k.marks[i]
		if !m.plantMark() {
			continue
		}
		old := m.leaf && m.tone == shade
		if firm == Node {
			old = (m.leaf || m.class == veinLine) && m.height() > k.box.Hi.Y-k.box.Tall()*0.55
		}
		if m.class == veinLine && firm != Node && i > 0 && k.marks[i-1].class == "d-ghost" {
			m.path = curve.Path{}
			continue
		}
		if old {
			m.leaf, m.class, m.width = false, "d-ghost", 0
		}
	}
}

// height is the y of a mark's points on average.
func (m mark) height() (y float64) {
	for _, q := range m.path.Pts {
		y += q.Y
	}
	return y / float64(max(1, len(m.path.Pts)))
}

// rotted turns the plant brown, lets it hang over, and blackens the firm part.
func (k *sketch) rotted(firm Firm) {
	tall := math.Max(1, -k.box.Lo.Y)
	for i := range k.marks {
		m := &k.marks[i]
		if !m.plantMark() {
			continue
		}
		m.hue = Rot
		if m.class == veinLine {
			m.class = inkLine
		}
		for j, q := range m.path.Pts {
			m.path.Pts[j] = k.sag(q, firm, tall)
		}
	}
	k.with(Rot, func() {
		var d curve.Path
		switch firm {
		case Node:
			for i := range 5 {
				c := k.sag(pt(0, -tall*(0.1+0.17*float64(i))), firm, tall)
				d.Ring(c, 4.5, 3.4)
			}
		case Hold:
			for range 7 {
				d.Ring(pt(k.Bell(0.4)*signWide*0.4, -k.Span(0.35, 0.9)*tall*0.6), k.Span(3, 7), k.Span(2, 4))
			}
		case Frond:
			d.Ring(pt(0, 2), 7, 4)
		default:
			d.Ring(pt(0, k.firmAt(firm)), 9, 6)
		}
		k.line(d, "d-black", 0)
	})
}

// firmAt is how far over the foot the crown, bulb or rhizome lies.
func (k *sketch) firmAt(firm Firm) float64 {
	if firm != Creep {
		return -2
	}
	at, widest := -2.0, 0.0
	for _, m := range k.marks { // the rhizome is the widest line
		if m.class == stalkLine && m.width > widest {
			at, widest = m.path.Pts[0].Y, m.width
		}
	}
	return at
}

// sag is where a point of the plant hangs once nothing holds it up: a stem bends right over, leaves of a crown fall to their sides.
func (k *sketch) sag(q curve.Pt, firm Firm, tall float64) curve.Pt {
	if q.Y >= 0 {
		return q
	}
	h := -q.Y / tall
	switch firm {
	case Node:
		const over = 2.5 // radians, from the foot to the tip
		r := tall / over
		a := over * h * h
		return pt(r*0.9*(1-math.Cos(a))+q.X*math.Cos(a)*0.8, -r*math.Sin(math.Min(a, 1.5))*0.5-tall*0.55*math.Sin(math.Min(1.5, h*1.6))+q.X*math.Sin(a)*0.8+tall*0.35*math.Max(0, h-0.6))
	case Hold, Frond:
		return pt(q.X*1.05, q.Y*0.55)
	}
	side := sideOf(q.X + 0.01)
	fall := h * h * 0.75
	return pt(q.X*(1+0.25*h)+side*fall*tall*0.25, q.Y*(1-fall))
}
