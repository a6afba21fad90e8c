package chart

import (
	"bytes"
	"math"
)

// box is a rectangle in the units of the picture, y downwards.
type box struct{ x0, y0, x1, y1 float64 }

func (b box) meets(o box) bool { return b.x0 < o.x1 && o.x0 < b.x1 && b.y0 < o.y1 && o.y0 < b.y1 }

func (b box) grow(d float64) box { return box{b.x0 - d, b.y0 - d, b.x1 + d, b.y1 + d} }

// obstacle is something drawn that a text should rather not lie on.
type obstacle struct {
	box
	weight float64
}

type anchor int

const (
	start anchor = iota
	middle
	end
)

func (a anchor) String() string { return [...]string{"start", "middle", "end"}[a] }

// text is a line of text at its base line.
type text struct {
	x, y   float64
	anchor anchor
	class  string
	bold   bool
	s      string
}

// box is where the text may have ink, with a unit to spare.
func (t text) box() box {
	w := textWidth(t.s)
	if t.bold {
		w = boldWidth(t.s)
	}
	x := t.x - float64(t.anchor)*w/2
	return box{x, t.y - ascent, x + w, t.y + descent}
}

// inward moves a text that sticks out at a side to the edge there.
func (t text) inward(width float64) text {
	switch b := t.box(); {
	case b.x0 < 0:
		t.x, t.anchor = 0, start
	case b.x1 > width && t.anchor != start:
		t.x, t.anchor = width, end
	}
	return t
}

func (t text) write(b *bytes.Buffer) {
	b.WriteString(`<text class="` + t.class)
	if t.bold {
		b.WriteString(" strong")
	}
	b.WriteString(`"`)
	if t.anchor != start {
		b.WriteString(` text-anchor="` + t.anchor.String() + `"`)
	}
	b.WriteString(` x="` + n(t.x) + `" y="` + n(t.y) + `">`)
	writeEscaped(b, t.s)
	b.WriteString("</text>")
}

// fits tells whether t lies in the picture and clear of every other text.
func (c *canvas) fits(t text) bool {
	b := t.box()
	if t.s == "" || b.x0 < 0 || b.y0 < 0 || b.x1 > c.width || b.y1 > c.height {
		return false
	}
	for _, o := range c.texts {
		if b.meets(o.box()) {
			return false
		}
	}
	return true
}

// put sets t if it fits.
func (c *canvas) put(t text) bool {
	if !c.fits(t) {
		return false
	}
	c.texts = append(c.texts, t)
	return true
}

// putFirst sets the first of the candidates that fits.
func (c *canvas) putFirst(candidates ...text) bool {
	for _, t := range candidates {
		if c.put(t) {
			return true
		}
	}
	return false
}

// avoid notes an obstacle.
func (c *canvas) avoid(b box, weight float64) {
	c.soft = append(c.soft, obstacle{b, weight})
}

// avoidLine notes points along a line as obstacles.
func (c *canvas) avoidLine(x1, y1, x2, y2, weight float64) {
	steps := math.Ceil(math.Hypot(x2-x1, y2-y1)/6) + 1
	for i := 0.0; i <= steps; i++ {
		f := i / steps
		x, y := x1+float64(f*(x2-x1)), y1+float64(f*(y2-y1))
		c.avoid(box{x - 1, y - 1, x + 1, y + 1}, weight)
	}
}

// cost sums the obstacles under b, and stops where it passes limit.
func (c *canvas) cost(b box, limit float64) float64 {
	var sum float64
	for i := range c.soft {
		if b.meets(c.soft[i].box) {
			if sum += c.soft[i].weight; sum >= limit {
				break
			}
		}
	}
	return sum
}

// note is a label that hangs on something, tied to it by a thin line where it stands away.
type note struct {
	lines  []text // as they stand, one under the other
	x, y   float64
	tied   bool
	burden float64 // how far from ideal the place is, added to the cost
}

// tooMuch is the cost from which a note is rather left out; a halo lets it stand over a line or two.
const tooMuch = 60

// putNote sets the cheapest of the notes that fit, and tells whether there was one.
func (c *canvas) putNote(notes []note) bool {
	best, least := -1, float64(tooMuch)
	for i, o := range notes {
		if cost := c.noteCost(o, least); cost < least {
			best, least = i, cost
		}
	}
	if best < 0 {
		return false
	}
	o := notes[best]
	if o.tied {
		x, y := o.tieEnd()
		c.line("lead", o.x, o.y, x, y)
		c.avoidLine(o.x, o.y, x, y, 30)
	}
	c.texts = append(c.texts, o.lines...)
	return true
}

func (c *canvas) noteCost(o note, limit float64) float64 {
	sum := o.burden
	for _, t := range o.lines {
		if sum >= limit || !c.fits(t) {
			return math.Inf(1)
		}
		sum += c.cost(t.box().grow(1), limit-sum)
	}
	if o.tied && sum < limit {
		sum += c.tieCost(o)
	}
	return sum
}

// tieEnd is where the thin line meets the text: above or under it, near its start.
func (o note) tieEnd() (x, y float64) {
	b := o.lines[0].box()
	last := o.lines[len(o.lines)-1].box()
	x = min(max(o.x, b.x0+4), b.x1-4)
	if o.y < b.y0 {
		return x, b.y0 + 1
	}
	return x, last.y1
}

// tieCost keeps thin lines off texts and, less strictly, off marks.
func (c *canvas) tieCost(o note) float64 {
	x, y := o.tieEnd()
	var sum float64
	for i := 1.0; i < 8; i++ {
		px, py := o.x+float64((x-o.x)*i/8), o.y+float64((y-o.y)*i/8)
		at := box{px - 1, py - 1, px + 1, py + 1}
		sum += c.cost(at, tooMuch) / 2
		for _, t := range c.texts {
			if at.meets(t.box()) {
				return math.Inf(1)
			}
		}
	}
	return sum
}
