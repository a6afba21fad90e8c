package draw

import (
	"html/template"
	"math"

	"slipleaf/build/dice"
)

// Shelf shows plants beside each other, all at one scale.
type Shelf struct{ scale float64 } // units a centimetre

// The tallest plant of a shelf is so tall, in units, and no plant is drawn larger than mostShelf units a centimetre.
const (
	shelfTall = 340.0
	mostShelf = 4.9
	place     = 128.0 // how wide one place is
)

// NewShelf chooses the scale at which the tallest of the plants fits.
func NewShelf(plants []Plate) Shelf {
	s := Shelf{mostShelf}
	for _, p := range plants {
		s.scale = math.Min(s.scale, shelfTall/p.tidy().HeightCm)
	}
	return s
}

// Stand is a plant on a shelf: the drawing's foot is the board.
type Stand struct {
	SVG    template.HTML
	Places int // how many places of the shelf it takes, 1–3
}

// MaxStand is the most that a plant on a shelf weighs, bytes.
const MaxStand = 5_500

// Stand draws a plant as it is on the shelf: what clings on wood or stone, what floats in a glass. It is hidden from
// screen readers: its name is beneath.
func (s Shelf) Stand(p Plate) Stand {
	p = p.tidy()
	for fine := 2; ; fine++ {
		k := newSketch(dice.Seeded(p.Seed, "plate"), s.scale, fine, p.Leaf.Tint)
		p.single(k, false)
		w := new(page)
		wide, tall := math.Max(12, k.box.Wide()+4), math.Max(6, -k.box.Lo.Y+2)
		w.put(`<svg class="d-stand" viewBox="0 0 `, num(wide), ` `, num(tall), `" width="`, num(wide), `" height="`, num(tall), `" aria-hidden="true" focusable="false">`)
		w.at(wide/2-(k.box.Lo.X+k.box.Hi.X)/2, tall, k)
		w.put(`</svg>`)
		if w.Len() <= MaxStand || fine > 16 {
			return Stand{template.HTML(w.String()), max(1, min(3, int(math.Ceil(wide/place))))} // no caller's string is written
		}
	}
}

// Bar is the shelf's scale: a bar and what it is called. inch as in [Plate].
func (s Shelf) Bar(inch string) Specimen {
	w := new(page)
	w.put(`<svg class="d-stand" viewBox="0 0 240 24" width="240" height="24" aria-hidden="true" focusable="false">`)
	b := w.scaleBar(s.scale, 2, 18, inch)
	w.put(`</svg>`)
	return Specimen{template.HTML(w.String()), b.cm, b.name} // the sign of an inch is escaped by plain
}
