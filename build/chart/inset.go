package chart

import (
	"bytes"
	"html/template"
)

// Range is a tolerance as a band on a line, with up to two ticks: the reader's value and the grower's, or on a care sheet the
// two ends of the reader's. The figures stand beside it as text.
type Range struct {
	Low, High float64
	From, To  float64  // ends of the line
	Here      *float64 // the reader's value: a solid tick
	There     *float64 // the grower's value: a hollow tick
}

// Draw makes a small svg of 200 by 24 units, meant to be stretched.
func (r Range) Draw() template.HTML {
	x := axis{r.From, r.To, 4, 196, false}
	c := newCanvas(layout{width: 200}, Caption{}, 24)
	c.line("base", 4, 12, 196, 12)
	x0, x1 := x.at(r.Low), x.at(r.High)
	c.rect("ok", box{x0, 6, max(x1, x0+1), 18}, "")
	r.tick(c, x, r.There, "there")
	r.tick(c, x, r.Here, "here")
	return c.inset("range", ` preserveAspectRatio="none"`)
}

// tick marks a value; one beyond the ends of the line becomes an arrow that points to where it lies.
func (r Range) tick(c *canvas, x axis, v *float64, class string) {
	switch {
	case v == nil:
	case *v > x.hi:
		c.path("off "+class, "M188 3L199 12L188 21Z")
	case *v < x.lo:
		c.path("off "+class, "M12 3L1 12L12 21Z")
	default:
		at := x.at(*v)
		c.rect(class, box{at - 1.5, 1, at + 1.5, 23}, "")
	}
}

// Outcome is what is known of a parcel. Each has a mark of its own shape.
type Outcome int

// The outcomes: no news, established, lost; and Stock, which is none yet: the grower's own plants, from which a way begins.
const (
	Silent Outcome = iota
	Established
	Gone
	Stock
)

func (o Outcome) class() string {
	switch o {
	case Established:
		return "well"
	case Gone:
		return "gone"
	case Stock:
		return "pt"
	}
	return "silent"
}

// outcome draws the mark in a square of 16 units whose middle is x, y: a leaf, a cross, a dashed hollow leaf, a plain disc.
func (c *canvas) outcome(o Outcome, x, y float64) {
	switch o {
	case Established:
		c.path("well", "M"+n(x-6)+" "+n(y+6)+"c-1-8 4-12.5 13-13c0 9-5 14-13 13Z")
	case Gone:
		c.path("gone", cross(x, y, 5))
	case Stock:
		c.circle("pt", x, y, 5)
	default:
		c.path("silent", "M"+n(x-5)+" "+n(y+5)+"c-1-6.5 4-10.5 11-11c0 7.5-4.5 12-11 11Z")
	}
}

// Tally is a mark for each parcel: established first, then lost, then those without news. The counts belong beside it, in words: a reader who hears the page hears them once.
type Tally struct{ Established, Gone, Silent int }

// tallyMost is how many single marks are drawn; more become bars of shares.
const tallyMost = 48

// Draw makes marks in rows of twelve at most, all about as long, or, above 48 parcels, one bar of shares; nothing for no parcel.
func (t Tally) Draw() template.HTML {
	all := t.Established + t.Gone + t.Silent
	if all == 0 {
		return ""
	}
	if all > tallyMost {
		return t.bars(float64(all))
	}
	const most, step = 12, 20
	rows := (all + most - 1) / most
	perRow := (all + rows - 1) / rows
	c := newCanvas(layout{width: step * most}, Caption{}, step*float64(rows))
	for i := range all {
		o := Silent
		if i < t.Established {
			o = Established
		} else if i < t.Established+t.Gone {
			o = Gone
		}
		c.outcome(o, step*(float64(i%perRow)+0.5), step*(float64(i/perRow)+0.5))
	}
	return c.inset("tally", "")
}

// bars shows shares as parts of one bar, each with its mark beneath where there is room.
func (t Tally) bars(all float64) template.HTML {
	c := newCanvas(layout{width: 240}, Caption{}, 40)
	x := 1.0
	for _, part := range []struct {
		o     Outcome
		count int
	}{{Established, t.Established}, {Gone, t.Gone}, {Silent, t.Silent}} {
		w := float64(part.count) / all * 238
		if part.count > 0 {
			c.rect("bar "+part.o.class(), box{x, 1, x + w, 17}, "")
		}
		if w > 17 {
			c.outcome(part.o, x+w/2, 29)
		}
		x += w
	}
	return c.inset("tally", "")
}

// inset puts a small picture together that says nothing of its own: the words are beside it. It has no id, so that a page may hold many.
func (c *canvas) inset(class, more string) template.HTML {
	var b bytes.Buffer
	b.WriteString(`<svg class="inset ` + class + `" viewBox="0 0 ` + n(c.width) + " " + n(c.height) + `" width="` + n(c.width) + `" height="` + n(c.height) + `"` + more + ` aria-hidden="true">`)
	b.Write(c.marks.Bytes())
	return seal(&b)
}
