package page

import (
	"html/template"
	"math"
	"slices"
	"strings"

	"slipleaf/build/draw"
	"slipleaf/build/journal"
	"slipleaf/build/quantity"
	"slipleaf/build/sheet"
	"slipleaf/build/words"
)

// DrawingPart is a tank drawn to scale from the diary, with the key of its plants.
type DrawingPart struct {
	SVG     template.HTML
	Key     []KeyRow
	Caption template.HTML
}

// KeyRow names a plant of the drawing.
type KeyRow struct {
	Plant Binomial
	What  string
}

// drawing draws a tank from the front; ok is false where its measures are not known.
func (b *Site) drawing(from string, t *journal.Tank) (p DrawingPart, ok bool) {
	in := t.Inside
	if !in.Length.Known() || !in.Height.Known() {
		return p, false
	}
	v := b.Locale()
	name := words.InText(v, b.tankName(t.ID))
	e := draw.Elevation{ID: "t-" + t.ID, Seed: t.ID, Title: v.Text("tank-text.drawing", "tank", name), LengthCm: float64(in.Length.Mid()), HeightCm: float64(in.Height.Mid()), Emersed: t.Grown == "emersed", Inches: v.Units == quantity.US}
	ground := groundDepth(t)
	for _, l := range t.Substrate {
		e.Layers = append(e.Layers, draw.Layer{Nutrients: foodOf(l.Nutrients), DepthCm: float64(l.Depth.Mid())})
	}
	depth, deep := sheet.WaterDepth(in, t.WaterDepth, ground)
	if deep && !e.Emersed {
		e.RimCm = math.Max(0, e.HeightCm-float64(ground)-float64(depth))
	}
	for _, l := range t.Light {
		e.Lamps = append(e.Lamps, lampDrawn(l, e))
	}
	all := b.standing(t)
	told := plantsDrawn(b, t, all, float64(depth), &e)
	e.Desc = told.desc(v)
	d := e.Draw()
	p.SVG = d.SVG
	for _, k := range d.Key {
		i := slices.IndexFunc(all, func(s Standing) bool { return s.Plant == k.ID })
		p.Key = append(p.Key, KeyRow{b.binomial(from, k.ID), strings.Join(words.Amount(v, all[i].Count.Amount), ", ")})
	}
	p.Caption = b.drawingCaption(v, from, t, ground, depth, told, d.TickCm)
	return p, true
}

// groundDepth is the depth of all layers of substrate.
func groundDepth(t *journal.Tank) (sum quantity.Length) {
	for _, l := range t.Substrate {
		sum += l.Depth.Mid()
	}
	return sum
}

func foodOf(nutrients string) draw.Nutrients {
	switch nutrients {
	case "rich":
		return draw.Rich
	case "some":
		return draw.Some
	}
	return draw.None
}

// usualLamp is the part of the tank's length that a lamp without a length is drawn with (our choice).
const usualLamp = 0.8

func lampDrawn(l journal.Lamp, e draw.Elevation) draw.Lamp {
	out := draw.Lamp{LengthCm: usualLamp * e.LengthCm, Centred: true, AboveRimCm: 5}
	if l.Length.Known() {
		out.LengthCm = float64(l.Length.Mid())
	}
	if l.AboveWater.Known() {
		out.AboveRimCm = math.Max(0, float64(l.AboveWater.Mid())-e.RimCm)
	}
	return out
}

// told counts what a drawing rests on.
type told struct {
	plants, heights, places int
	on                      quantity.Date // of the last count
}

func (t told) desc(v words.Locale) string {
	switch {
	case t.plants == 0:
		return v.Text("tank-text.drawn-empty")
	case t.heights == 0 && t.places == 0:
		return v.Text("tank-text.drawn-usual")
	}
	return v.Text("tank-text.drawn-from", "n", t.plants, "heights", t.heights, "places", t.places)
}

// plantsDrawn puts what stands in a tank into its drawing, and tells how much of that the diary said.
func plantsDrawn(b *Site, t *journal.Tank, all []Standing, depth float64, e *draw.Elevation) told {
	out := told{plants: len(all)}
	for _, s := range all {
		sp := b.species[s.Plant]
		habit := draw.Habit(sp.Habit)
		p := draw.Plant{ID: s.Plant, Name: b.plantName(s.Plant), Habit: habit, Leaf: draw.LeafOf(habit, sp.Taxon), Row: rowOf(sp.Placement), Afloat: sp.Placement == "surface",
			HeightCm: float64(sp.Height.Mid()), Cover: float64(s.Count.Cover.Mid())}
		if depth > 0 && !e.Emersed {
			p.HeightCm = math.Min(p.HeightCm, depth)
		}
		if s.Count.Length.Known() {
			p.HeightCm = float64(s.Count.Length.Mid())
			out.heights++
		}
		if w := b.lastPlace(t, s.Plant); w.Along.Known() || w.Row != "" {
			out.places++
			if w.Along.Known() {
				p.FromCm, p.ToCm = float64(w.Along.Low()), float64(w.Along.High())
			}
			if w.Row != "" {
				p.Row = rowOf(w.Row)
			}
		}
		p.Count, p.Leaves = pieces(s.Count.Amount)
		if s.On.After(out.on) {
			out.on = s.On
		}
		e.Plants = append(e.Plants, p)
	}
	e.Plants = draw.Spread(e.LengthCm, e.Plants)
	return out
}

// pieces is how many stems or plantlets an amount tells, and how many leaves.
func pieces(a journal.Amount) (count, leaves int) {
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

func rowOf(place string) draw.Row {
	switch place {
	case "back":
		return draw.Back
	case "front":
		return draw.Front
	}
	return draw.Middle
}

// lastPlace is where the diary last said that a plant stands.
func (b *Site) lastPlace(t *journal.Tank, plant string) (w journal.Where) {
	for _, e := range t.Entries {
		if e.Date.After(b.On) {
			break
		}
		for _, p := range e.Plantings {
			if p.Plant == plant && (p.Where.Along.Known() || p.Where.Row != "") {
				w = p.Where
			}
		}
		for _, c := range e.Counts {
			if c.Plant == plant && (c.Where.Along.Known() || c.Where.Row != "") {
				w = c.Where
			}
		}
	}
	return w
}

// drawingCaption says what is drawn from what, and of which day.
func (b *Site) drawingCaption(v words.Locale, from string, t *journal.Tank, ground, depth quantity.Length, told told, tick float64) template.HTML {
	link := v.HTML("tank-text.link", "href", b.href(from, TankAddr(t.ID)), "tank", b.tankName(t.ID))
	if from == TankAddr(t.ID) {
		link = words.Escape(words.Isolated(b.tankName(t.ID)))
	}
	pairs := []any{"tank", link, "date", v.Date(told.on), "length", words.Q(v, t.Inside.Length.Mid()), "depth", words.Q(v, depth), "ground", words.Q(v, ground), "tick", words.Q(v, quantity.Length(tick))}
	key := "tank-text.caption"
	switch {
	case told.plants == 0:
		return v.HTML("tank-text.caption-empty", pairs...)
	case t.Grown == "emersed":
		key = "tank-text.caption-dry"
	}
	return words.JoinHTML([]template.HTML{v.HTML(key, pairs...), words.Escape(told.desc(v))})
}
