package page

import (
	"html/template"
	"math"
	"slices"
	"strconv"
	"strings"

	"slipleaf/build/draw"
	"slipleaf/build/journal"
	"slipleaf/build/livestock"
	"slipleaf/build/plot"
	"slipleaf/build/quantity"
	"slipleaf/build/sheet"
	"slipleaf/build/theme"
	"slipleaf/build/words"
)

// DrawingPart is a tank drawn to scale from the diary, with the key of its plants.
type DrawingPart struct {
	SVG     template.HTML
	Key     []KeyRow // in the order of the numbers of the drawing
	Caption template.HTML
	Stills  []Still  // on the tank's own page: the first month, two between, now
	Months  []string // all of them, for the slider
	ID      string   // of the slider
}

// Still is the tank at the end of a month.
type Still struct {
	SVG  template.HTML
	When string
}

// KeyRow names a plant of the drawing.
type KeyRow struct {
	Plant theme.PlantName
	What  string
}

// drawing draws a tank from the front; ok is false where its measures are not known. On the tank's own page its months are
// shown too; on the list of tanks all are at one scale.
func (b *Site) drawing(from string, t *journal.Tank) (p DrawingPart, ok bool) {
	in := t.Inside
	if !in.Length.Known() || !in.Height.Known() {
		return p, false
	}
	v := b.Locale()
	name := words.InText(v, b.tankName(t.ID))
	e := draw.Elevation{ID: "t" + strconv.Itoa(slices.Index(b.Journal.Tanks, t)), Seed: t.ID, Title: v.Text("tank-text.drawing", "tank", name), LengthCm: float64(in.Length.Mid()), HeightCm: float64(in.Height.Mid()), Emersed: t.Grown == "emersed", Inches: v.Units == quantity.US}
	if from == TanksAddr {
		e.PageCm, e.MostBytes = b.longestTank(), draw.LeastTank
	}
	ground := plot.SubstrateDepth(t)
	for _, l := range t.Substrate {
		e.Layers = append(e.Layers, draw.Layer{Nutrients: plot.FoodOf(l.Nutrients), DepthCm: float64(l.Depth.Mid())})
	}
	depth, deep := sheet.WaterDepth(in, t.WaterDepth, ground)
	if deep && !e.Emersed {
		e.RimCm = math.Max(0, e.HeightCm-float64(ground)-float64(depth))
	}
	for _, l := range t.Light {
		e.Lamps = append(e.Lamps, plot.LampDrawn(l, e))
	}
	for _, l := range t.Livestock {
		if a, known := livestock.Of(l.Kind, l.Count); known {
			e.Animals = append(e.Animals, a)
		}
	}
	all := b.standing(t)
	told := plantsDrawn(b, t, all, float64(depth), &e)
	if from == TankAddr(t.ID) {
		b.months(v, t, &e)
	}
	e.Desc = told.Desc(v)
	if len(all) > 0 {
		e.Desc = b.leftToRight(v, e) + " " + e.Desc
	}
	d := e.Draw()
	p.SVG, p.ID = d.SVG, e.ID
	for _, k := range d.Key {
		i := slices.IndexFunc(all, func(s journal.Stand) bool { return s.Plant == k.ID })
		p.Key = append(p.Key, KeyRow{b.plantLink(from, k.ID), strings.Join(words.Amount(v, all[i].Count.Amount), ", ")})
	}
	for i, svg := range d.Stills {
		p.Stills, p.Months = append(p.Stills, Still{svg, e.Moments[d.Shown[i]]}), e.Moments
	}
	p.Caption = b.drawingCaption(v, from, t, ground, depth, told, d.TickCm)
	return p, true
}

// longestTank is the length of the longest tank that the list of tanks draws, cm.
func (b *Site) longestTank() (cm float64) {
	for _, t := range b.Journal.Tanks {
		if t.Ended.IsZero() && t.Inside.Length.Known() {
			cm = math.Max(cm, float64(t.Inside.Length.Mid()))
		}
	}
	return cm
}

// leftToRight names the plants as they stand.
func (b *Site) leftToRight(v words.Locale, e draw.Elevation) string {
	var names []string
	for _, k := range e.LeftToRight() {
		names = append(names, b.plantName(k.ID))
	}
	return v.Text("tank-text.left-to-right", "plants", strings.Join(names, ", "))
}

// drawnMonths is how many months back a tank is shown.
const drawnMonths = 36

// months puts into a drawing what there was of each plant at the end of each month from the first count on.
func (b *Site) months(v words.Locale, t *journal.Tank, e *draw.Elevation) {
	first := quantity.Date{}
	diary := b.facts.SoFarIn(t.ID)
	for _, n := range diary {
		if len(n.Counts) > 0 && (first.IsZero() || n.Date.Before(first)) {
			first = n.Date
		}
	}
	if first.IsZero() {
		return
	}
	var ends []quantity.Date
	today := b.facts.Day()
	for d := plot.EndOfMonth(first); d.Before(today); d = plot.EndOfMonth(d.Add(1)) {
		ends = append(ends, d)
	}
	ends = append(ends[max(0, len(ends)-drawnMonths+1):], today)
	for _, end := range ends {
		e.Moments = append(e.Moments, words.MonthYear(v, end))
		then := map[string]journal.Count{}
		for _, s := range journal.Standing(diary, end) {
			then[s.Plant] = s.Count
		}
		for i := range e.Plants {
			e.Plants[i].Past = append(e.Plants[i].Past, plot.StageOf(then[e.Plants[i].ID]))
		}
	}
}

// flag is a plant's name in a drawing: the common one where there is one.
func (b *Site) flag(id string) string {
	if s := b.Species(id); s.Common == "" {
		return strings.ReplaceAll(s.Taxon, " x ", " × ")
	}
	return b.plantName(id)
}

// plantsDrawn puts what is in a tank into its drawing, and tells how much of that the diary said.
func plantsDrawn(b *Site, t *journal.Tank, all []journal.Stand, depth float64, e *draw.Elevation) plot.Drawn {
	out := plot.Drawn{Plants: len(all)}
	for _, s := range all {
		sp := b.facts.Species(s.Plant)
		habit := draw.Habit(sp.Habit)
		p := draw.Plant{ID: s.Plant, Name: b.flag(s.Plant), Latin: sp.Common == "", Habit: habit, Leaf: draw.LeafOf(habit, sp.Taxon), Row: plot.RowOf(sp.Placement), Afloat: sp.Placement == "surface",
			HeightCm: plot.UsualHeight(sp, plot.UsualPart), Cover: float64(s.Count.Cover.Mid())}
		if depth > 0 && !e.Emersed && (habit != draw.Rosette || p.Leaf.LengthCm < depth) { // what is trimmed ends below the surface
			p.HeightCm = math.Min(p.HeightCm, depth)
		}
		if w := b.lastPlace(t, s.Plant); w.Along.Known() || w.Row != "" {
			out.Places++
			if w.Along.Known() {
				p.FromCm, p.ToCm = float64(w.Along.Low()), float64(w.Along.High())
			}
			if w.Row != "" {
				p.Row = plot.RowOf(w.Row)
			}
		}
		if p.Row == draw.Front && sp.Height.Known() { // what grows in front is kept low
			p.HeightCm = math.Min(p.HeightCm, plot.UsualHeight(sp, plot.LowPart))
		}
		if s.Count.Length.Known() {
			p.HeightCm = float64(s.Count.Length.Mid())
			out.Heights++
		}
		p.Count, p.Leaves = plot.Pieces(s.Count.Amount)
		if s.On.After(out.On) {
			out.On = s.On
		}
		e.Plants = append(e.Plants, p)
	}
	e.Plants = draw.Spread(e.LengthCm, e.Plants)
	return out
}

// lastPlace is where the diary last said that a plant is.
func (b *Site) lastPlace(t *journal.Tank, plant string) (w journal.Where) {
	for _, e := range b.facts.SoFarIn(t.ID) {
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
func (b *Site) drawingCaption(v words.Locale, from string, t *journal.Tank, ground, depth quantity.Length, told plot.Drawn, tick float64) template.HTML {
	link := v.HTML("tank-text.link", "href", b.href(from, TankAddr(t.ID)), "tank", b.tankName(t.ID))
	if from == TankAddr(t.ID) {
		link = words.Escape(words.Isolated(b.tankName(t.ID)))
	}
	pairs := []any{"tank", link, "date", v.Date(told.On), "length", words.Q(v, t.Inside.Length.Mid()), "depth", words.Q(v, depth), "ground", words.Q(v, ground), "tick", words.Q(v, quantity.Length(tick))}
	key := "tank-text.caption"
	switch {
	case told.Plants == 0:
		return v.HTML("tank-text.caption-empty", pairs...)
	case t.Grown == "emersed":
		key = "tank-text.caption-dry"
	}
	return words.JoinHTML([]template.HTML{v.HTML(key, pairs...), words.Escape(told.Desc(v))})
}
