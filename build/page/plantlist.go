package page

import (
	"cmp"
	"html/template"
	"slices"
	"strings"

	"slipleaf/build/draw"
	"slipleaf/build/quantity"
	"slipleaf/build/theme"
)

// PlantsPage is the model of the list of plants: one shelf, all plants at one scale.
type PlantsPage struct {
	theme.Frame
	Plants  []PlantLine
	Filters []Filter
	Scale   string        // says what the bar stands for
	Bar     template.HTML // of the scale
	Ready   template.HTML // the marks
	Listed  template.HTML
}

// PlantLine is a plant on the shelf.
type PlantLine struct {
	Plant  theme.PlantName
	Stand  template.HTML
	Span   int          // how many places of the shelf it takes
	Fit    string       // words for the filters
	Needs  []string     // light, water, place, CO2 in four plain words
	Where  []theme.Link // the tanks in which it is
	Lots   []ReadyLine  // lots that have something left
	Listed string       // link to what a list of the journal's country says of it; "" where none names it
}

// Plants makes the list of plants.
func (b *Site) Plants() ([]byte, error) {
	v := b.Locale()
	ids := b.PlantIDs()
	slices.SortStableFunc(ids, func(x, y string) int {
		return cmp.Or(strings.Compare(b.facts.Species(x).Taxon, b.facts.Species(y).Taxon), strings.Compare(b.facts.Species(x).Common, b.facts.Species(y).Common))
	})
	m := PlantsPage{Frame: b.frame("plants", PlantsAddr, v.Text("plants.title")+" · "+b.Journal.Title, v.Text("plants.description", "n", len(ids))), Ready: draw.In.SVG(), Listed: draw.Out.SVG()}
	where := map[string][]theme.Link{}
	for _, t := range b.Journal.Tanks {
		for _, s := range b.standing(t) {
			where[s.Plant] = append(where[s.Plant], theme.Link{Text: b.tankName(t.ID), Href: b.href(PlantsAddr, TankAddr(t.ID))})
		}
	}
	plates := make([]draw.Plate, len(ids))
	for i, id := range ids {
		plates[i] = plateOf(b.facts.Species(id))
	}
	shelf := draw.NewShelf(plates)
	for i, id := range ids {
		s, stand := b.facts.Species(id), shelf.Stand(plates[i])
		line := PlantLine{Plant: b.plantLink(PlantsAddr, id), Stand: stand.SVG, Span: stand.Places, Fit: b.fitWords(s, b.facts.Day()), Needs: needs(v, s), Where: where[id], Lots: b.readyLines(v, PlantsAddr, id)}
		if b.Journal.Region != "" && len(b.Almanac.Notices(s.Taxon, b.Journal.Region)) > 0 {
			line.Listed = b.href(PlantsAddr, PlantAddr(id))
		}
		m.Plants = append(m.Plants, line)
	}
	inch := ""
	if v.Units == quantity.US {
		inch = v.Text("figure.inch")
	}
	bar := shelf.Bar(inch)
	m.Bar, m.Scale = bar.SVG, v.Text("plants.scale", "scale", strings.ReplaceAll(bar.Scale, " ", "\u00a0"))
	for _, f := range filters(v) {
		if f.ID != "f-way" {
			m.Filters = append(m.Filters, f)
		}
	}
	return b.Theme.Render("plants", m)
}
