package chart

import (
	"bytes"
	"math"
	"slices"
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
	latin  int     // so many bytes at its beginning are a scientific name
	width  float64 // of s, once measured
}

// measured is t with its width known, for texts that are tried in many places.
func (t text) measured() text {
	if t.width = textWidth(t.s); t.bold {
		t.width = boldWidth(t.s)
	}
	return t
}

// box is where the text may have ink, with a unit to spare.
func (t text) box() box {
	if t.width == 0 {
		t = t.measured()
	}
	x := t.x - float64(t.anchor)*t.width/2
	return box{x, t.y - ascent, x + t.width, t.y + descent}
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
	if t.latin > 0 {
		b.WriteString(`<tspan class="la">`)
		writeEscaped(b, t.s[:t.latin])
		b.WriteString("</tspan>")
	}
	writeEscaped(b, t.s[t.latin:])
	b.WriteString("</text>")
}

// fits reports whether t lies in the picture and clear of every other text.
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
	c.texts = append(c.texts, t.measured())
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

// column is how wide the strips are by which obstacles are kept, so that few need be looked at.
const column = 24.0

func columnOf(x float64) int { return int(math.Floor(x / column)) }

// avoid notes an obstacle.
func (c *canvas) avoid(b box, weight float64) {
	if b.x1-b.x0 > column {
		c.wide = append(c.wide, obstacle{b, weight})
		return
	}
	k := columnOf(b.x0)
	c.soft[k] = append(c.soft[k], obstacle{b, weight})
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
	sum := burden(c.wide, b)
	for k := columnOf(b.x0 - column); k <= columnOf(b.x1) && sum < limit; k++ {
		sum += burden(c.soft[k], b)
	}
	return sum
}

func burden(obstacles []obstacle, b box) (sum float64) {
	for i := range obstacles {
		if b.meets(obstacles[i].box) {
			sum += obstacles[i].weight
		}
	}
	return sum
}

// note is a label that hangs on something, tied to it by a thin line where it is away.
type note struct {
	lines  []text // as they stand, one under the other
	x, y   float64
	tied   bool
	burden float64 // how far from ideal the place is, added to the cost
}

// tooMuch is the cost from which a note is rather left out; a halo lets it stand over a line or two.
const tooMuch = 60

// choice finds the cheapest of the notes that are offered to it.
type choice struct {
	*canvas
	best  note
	least float64
}

func (c *canvas) choose() *choice { return &choice{canvas: c, least: tooMuch} }

// offer keeps o if it fits and costs less than what was offered before.
func (ch *choice) offer(o note) {
	if cost := ch.noteCost(o, ch.least); cost < ch.least {
		ch.least = cost
		ch.best = o
		ch.best.lines = slices.Clone(o.lines)
	}
}

// put sets the note that was kept, and draws the line that ties it to its thing; nothing where none fitted.
func (ch *choice) put() {
	o := ch.best
	if o.lines == nil {
		return
	}
	if o.tied {
		x, y := o.tieEnd()
		ch.line("lead", o.x, o.y, x, y)
		ch.avoidLine(o.x, o.y, x, y, 30)
	}
	ch.texts = append(ch.texts, o.lines...)
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
	steps := math.Ceil(math.Hypot(x-o.x, y-o.y) / 3)
	for i := 1.0; i < steps; i++ {
		px, py := o.x+float64((x-o.x)*i/steps), o.y+float64((y-o.y)*i/steps)
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
