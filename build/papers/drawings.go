package papers

import (
	"fmt"
	"html/template"
	"slices"

	"slipleaf/build/draw"
	"slipleaf/build/quantity"
	"slipleaf/build/sheet"
	"slipleaf/build/words"
)

// drawn is the plant as it is drawn.
func (w Papers) drawn() draw.Plate {
	s := w.s.Species
	habit := draw.Habit(s.Habit)
	p := draw.Plate{Seed: s.ID, Habit: habit, Leaf: draw.LeafOf(habit, s.Taxon), HeightCm: float64(s.Height.Mid())}
	if w.Units == quantity.US {
		p.Inch = w.Text("figure.inch")
	}
	return p
}

// picture puts a drawing on the page, with what is seen in words. What it shows depends on the plant and the key alone, so that it
// is drawn once for all sheets of a site.
func (w Papers) picture(id, key string, make func(draw.Plate) draw.Care) template.HTML {
	c := w.kit.Drawn(w.Lang+" "+w.s.Species.ID+" "+id+" "+key, func() draw.Care { return make(w.drawn()) })
	return c.SVG(w.id()+id, w.Text("sheet.seen-"+c.Seen, "plant", w.plant()))
}

// id begins the ids of this plant's drawings.
func (w Papers) id() string { return "p" + w.s.Parcel.Lot }

// labelDrawing is the plant on its label.
func (w Papers) labelDrawing() template.HTML { return w.picture("a", "", draw.Plate.Label) }

// most is what a sheet with its style may weigh, bytes.
const most = 50_000

// lighten leaves drawings out until a sheet is so many bytes lighter: of one plant the label's, which is drawn again in its
// place; of several those that only show what is said beside them, of the last plant first.
func (m *SheetPage) lighten(over int) {
	var out []*template.HTML
	if len(m.Plants) == 1 && m.Plants[0].Planted {
		out = append(out, &m.Plants[0].Drawing)
	}
	for i := range slices.Backward(m.Plants) {
		out = append(out, &m.Plants[i].Melt.SVG, &m.Plants[i].Rot.SVG)
	}
	for i := range slices.Backward(m.Plants) {
		out = append(out, &m.Plants[i].Where.Drawing)
	}
	for i := range slices.Backward(m.Plants) {
		out = append(out, &m.Plants[i].Drawing)
	}
	for _, d := range out {
		if over <= 0 {
			return
		}
		over -= len(*d)
		*d = ""
	}
}

// feelDrawing is the firm part to feel for.
func (w Papers) feelDrawing() template.HTML {
	return w.picture("b", "", func(p draw.Plate) draw.Care {
		return p.Feel(w.Text("sheet.part-"+string(w.s.Kind.Firm())), w.Text("sheet.part-firm"))
	})
}

// bedDrawing is how it is set, to scale.
func (w Papers) bedDrawing() template.HTML {
	if w.s.Kind.Set() == sheet.InAir {
		return "" // the drawing is of a bed under water
	}
	pl := w.s.Place
	ground := map[sheet.Setting]draw.Ground{sheet.Fixed: draw.OnWood, sheet.Afloat: draw.OnSurface, sheet.Loose: draw.OnGround}[w.s.Kind.Set()]
	b := draw.Bed{Ground: ground, PieceCm: float64(w.s.Lot.Length.Mid()), DepthCm: float64(pl.Depth.Mid()), Inch: w.drawn().Inch, DepthText: words.R(w.Locale, pl.Depth)}
	if w.s.Kind.Rooted() {
		b.ApartCm, b.ApartText = float64(pl.Spacing), words.Q(w.Locale, pl.Spacing)
	}
	return w.picture("c", fmt.Sprint(b), func(p draw.Plate) draw.Care { return p.Bed(b) })
}

// signs are healthy melt beside rot, with the almanac's words.
func (w Papers) signs() (melt, rot Sign) {
	melt.SVG, rot.SVG = w.picture("d", "", draw.Plate.Melt), w.picture("e", "", draw.Plate.Rot)
	if c := w.s.Species.Care; c != nil {
		melt.Text, rot.Text = w.said(c.Normal.In(w.Lang)), w.said(c.Alarm.In(w.Lang))
	}
	return melt, rot
}
