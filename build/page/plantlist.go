package page

import (
	"cmp"
	"html/template"
	"slices"
	"strings"

	"slipleaf/build/almanac"
	"slipleaf/build/draw"
	"slipleaf/build/theme"
	"slipleaf/build/words"
)

// PlantsPage is the model of the list of plants.
type PlantsPage struct {
	theme.Frame
	Plants    []PlantLine
	ReadyMark template.HTML
}

// PlantLine is a plant in the list.
type PlantLine struct {
	Plant Binomial
	Needs []string     // light, water, place, CO2 in four plain words
	Where []theme.Link // the tanks in which it stands
	Lots  []ReadyLine  // lots that have something left
}

// Plants makes the list of plants.
func (b *Site) Plants() ([]byte, error) {
	v := b.Locale()
	ids := b.PlantIDs()
	slices.SortStableFunc(ids, func(x, y string) int {
		return cmp.Or(strings.Compare(b.species[x].Taxon, b.species[y].Taxon), strings.Compare(b.species[x].Common, b.species[y].Common))
	})
	m := PlantsPage{Frame: b.frame("plants", PlantsAddr, v.Text("plants.title")+" · "+b.Journal.Title, v.Text("plants.description", "n", len(ids))), ReadyMark: draw.In.SVG()}
	where := map[string][]theme.Link{}
	for _, t := range b.Journal.Tanks {
		for _, s := range b.standing(t) {
			where[s.Plant] = append(where[s.Plant], theme.Link{Text: b.tankName(t.ID), Href: b.href(PlantsAddr, TankAddr(t.ID))})
		}
	}
	for _, id := range ids {
		m.Plants = append(m.Plants, PlantLine{Plant: b.binomial(PlantsAddr, id), Needs: needs(v, b.species[id]), Where: where[id], Lots: b.readyLines(v, PlantsAddr, id)})
	}
	return b.Theme.Render("plants", m)
}

// needs says what a plant wants in four plain words: light, water, place, CO2. What is not known is left out.
func needs(v words.Locale, s almanac.Species) []string {
	var out []string
	for _, key := range []string{lightClass(s), waterClass(s), s.Placement, "co2-" + s.CO2} {
		if key != "" && key != "co2-" {
			out = append(out, v.Text("need."+key))
		}
	}
	return out
}

// lightClass puts the light at which a plant grows well into the bands of common practice, in µmol/m²/s: low below
// 30, medium below 50, bright above.
func lightClass(s almanac.Species) string {
	good := float64(s.LightGood.Mid())
	switch {
	case !s.LightGood.Known():
		return ""
	case good < 30:
		return "low"
	case good <= 50:
		return "medium"
	}
	return "bright"
}

// waterClass says which waters a plant stands by its alkalinity: soft to 3 dKH, medium to 7, hard above (bands of
// common practice).
func waterClass(s almanac.Species) string {
	if !s.KH.Known() {
		return ""
	}
	lo, hi := s.KH.Low().DKH(), s.KH.High().DKH()
	switch {
	case hi <= 4:
		return "soft"
	case hi <= 8:
		return "soft-to-medium"
	case lo > 3:
		return "medium-to-hard"
	}
	return "soft-to-hard"
}
