package page

import (
	"html/template"
	"strings"

	"slipleaf/build/almanac"
	"slipleaf/build/draw"
	"slipleaf/build/growth"
	"slipleaf/build/plot"
	"slipleaf/build/quantity"
	"slipleaf/build/suit"
	"slipleaf/build/theme"
	"slipleaf/build/words"
)

// PlatePart is the picture at the head of a plant's page: a photograph, or else a drawing made from habit and leaf.
type PlatePart struct {
	Photo *Photo // nil: the drawing is shown
	SVG   template.HTML
	Blade template.HTML
	Drawn string // says that it is drawn
}

func (b *Site) plate(v words.Locale, s almanac.Species, photos []Photo) PlatePart {
	if len(photos) > 0 {
		return PlatePart{Photo: &photos[0]}
	}
	name := s.Common
	if name == "" {
		name = s.Taxon
	}
	p := plateOf(s)
	p.ID, p.Title = "plate", v.Text("plate.title", "plant", words.Capital(name))
	if s.Habit != "" {
		p.Desc = v.Text("plate.desc", "habit", v.Text("habit."+s.Habit))
	}
	if v.Units == quantity.US {
		p.Inch = v.Text("figure.inch")
	}
	drawn := p.Draw()
	return PlatePart{SVG: drawn.SVG, Blade: p.Blade(), Drawn: v.Text("plate.drawn", "scale", strings.ReplaceAll(drawn.Scale, " ", "\u00a0"))}
}

// plateOf is what a plant is drawn from.
func plateOf(s almanac.Species) draw.Plate {
	habit := draw.Habit(s.Habit)
	return draw.Plate{Seed: s.ID, Habit: habit, Leaf: draw.LeafOf(habit, s.Taxon), HeightCm: float64(s.Height.Mid())}
}

// ReadyLine is a lot of the plant that is ready.
type ReadyLine struct {
	theme.Link
	What string
}

// readyLines lists the lots of a plant that have something left.
func (b *Site) readyLines(v words.Locale, addr, id string) []ReadyLine {
	var out []ReadyLine
	for _, l := range suit.Ready(b.facts, id) {
		out = append(out, ReadyLine{theme.Link{Text: l.ID, Href: b.href(addr, LotAddr(l.ID))}, v.Text("form."+l.Form, "n", l.Left)})
	}
	return out
}

// moreLine says when the next cut of a plant is likely, in the tank in which it comes first; "" where that cannot be known.
func (b *Site) moreLine(v words.Locale, id string) string {
	var next growth.Window
	tank := ""
	for _, g := range b.facts.GrowthOfPlant(id) {
		if g.Standing() && g.Next.Known() && (!next.Known() || g.Next.Best.Before(next.Best)) {
			next, tank = g.Next, g.Tank
		}
	}
	if !next.Known() {
		return ""
	}
	return v.Text("plate.more", "tank", words.InText(v, b.tankName(tank)), "window", plot.WindowText(v, next, b.facts.Day()))
}
