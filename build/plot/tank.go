package plot

import (
	"math"

	"slipleaf/build/almanac"
	"slipleaf/build/draw"
	"slipleaf/build/journal"
	"slipleaf/build/quantity"
	"slipleaf/build/words"
)

// SubstrateDepth is the depth of all layers of substrate.
func SubstrateDepth(t *journal.Tank) (sum quantity.Length) {
	for _, l := range t.Substrate {
		sum += l.Depth.Mid()
	}
	return sum
}

func FoodOf(nutrients string) draw.Nutrients {
	switch nutrients {
	case "rich":
		return draw.Rich
	case "some":
		return draw.Some
	}
	return draw.None
}

func LampDrawn(l journal.Lamp, e draw.Elevation) draw.Lamp {
	out := draw.Lamp{LengthCm: usualLamp * e.LengthCm, Centred: true, AboveRimCm: 5}
	if l.Length.Known() {
		out.LengthCm = float64(l.Length.Mid())
	}
	if l.AboveWater.Known() {
		out.AboveRimCm, out.Legs = math.Max(0, float64(l.AboveWater.Mid())-e.RimCm), true
	}
	return out
}

// usualLamp is the part of the tank's length that a lamp without a length is drawn with (our choice).
const usualLamp = 0.8

// Drawn counts what a drawing rests on.
type Drawn struct {
	Plants, Heights, Places int
	On                      quantity.Date // of the last count
}

func (t Drawn) Desc(v words.Locale) string {
	switch {
	case t.Plants == 0:
		return v.Text("tank-text.drawn-empty")
	case t.Heights == 0 && t.Places == 0:
		return v.Text("tank-text.drawn-usual")
	}
	return v.Text("tank-text.drawn-from", "n", t.Plants, "heights", t.Heights, "places", t.Places)
}

func RowOf(place string) draw.Row {
	switch place {
	case "back":
		return draw.Back
	case "front":
		return draw.Front
	}
	return draw.Middle
}

// Pieces is how many stems or plantlets an amount tells, and how many leaves.
func Pieces(a journal.Amount) (count, leaves int) {
	for _, n := range []*int{a.Stems, a.Plantlets} {
		if n != nil && count == 0 {
			count = *n
		}
	}
	if a.Leaves != nil {
		leaves = *a.Leaves
	}
	return count, leaves
}

func StageOf(c journal.Count) draw.Stage {
	g := draw.Stage{Absent: c.Plant == "" || NothingCounted(c.Amount), Cover: float64(c.Cover.Mid()), HeightCm: float64(c.Length.Mid())}
	g.Count, g.Leaves = Pieces(c.Amount)
	return g
}

func EndOfMonth(d quantity.Date) quantity.Date {
	next := quantity.Date{Year: d.Year, Month: d.Month, Day: 28}.Add(4)
	return next.Add(-next.Day)
}

// UsualHeight is a height in a plant's range, cm; 0 where none is known.
func UsualHeight(s almanac.Species, part float64) float64 {
	return float64(s.Height.Low()) + part*float64(s.Height.High()-s.Height.Low())
}

// UsualPart and lowPart are how far up the range of its height a plant is drawn that nobody measured, and one of the front
// row (our choice).
const UsualPart, LowPart = 0.35, 0.15

// NothingCounted reports whether a count found nothing.
func NothingCounted(a journal.Amount) bool {
	zero := func(n *int) bool { return n == nil || *n == 0 }
	counted := a.Stems != nil || a.Plantlets != nil || a.Leaves != nil || a.Cover.Known() || a.Mass.Known()
	return counted && zero(a.Stems) && zero(a.Plantlets) && zero(a.Leaves) && a.Cover.High() == 0 && a.Mass.High() == 0
}
