package page

import (
	"html/template"

	"slipleaf/build/almanac"
	"slipleaf/build/chart"
	"slipleaf/build/facts"
	"slipleaf/build/journal"
	"slipleaf/build/plot"
	"slipleaf/build/quantity"
	"slipleaf/build/sheet"
	"slipleaf/build/theme"
	"slipleaf/build/words"
)

// NeedsPart holds what a plant lives in against what this bench's tanks are.
type NeedsPart struct {
	Tanks []theme.Link
	Rows  []NeedRow
	Notes []string // when the tanks were measured
}

// NeedRow is a tolerance with each tank's latest value.
type NeedRow struct {
	ProfileRow
	Tanks []NeedCell
}

// NeedCell is a tank's value with its place on the tolerance; empty where it was not measured.
type NeedCell struct {
	Value   string
	Missing string // that it was not measured
	Fit     string // that it lies outside
	Range   template.HTML
}

// tankValue is a tank's latest reading of a parameter in the unit of [Site.tolerance].
type tankValue struct {
	text string
	at   float64
	on   quantity.Date
	told bool // computed from the lamps, not measured
}

// findValues works out [Site.valuesOf]. Where a day has two readings of a parameter, the later in the diary counts.
func (b *Site) findValues(v words.Locale, t *journal.Tank) map[string]tankValue {
	out, w := map[string]tankValue{}, b.facts.WaterNow(t.ID)
	for _, r := range words.Readings(v, w.Parameters) {
		if r.Known {
			out[r.Key] = tankValue{text: r.Value, at: r.Base, on: w.Days[r.Key]}
		}
	}
	return out
}

// latestValue is the last reading of a parameter in a tank; light that was never measured is computed from the lamps.
func (b *Site) latestValue(v words.Locale, t *journal.Tank, key string) (out tankValue, ok bool) {
	out, ok = b.valuesOf(v, t)[key]
	if ok || key != "light" {
		return out, ok
	}
	l := b.tankLight(t)
	if !l.Known {
		return out, false
	}
	at := l.At(sheet.Bottom)
	return tankValue{text: words.QRange(v, at.Low, at.High), at: float64(at.Best), told: true}, true
}

// needsPart fills the table of tolerances. Where the plant is in no tank, the main one is held against it.
func (b *Site) needsPart(v words.Locale, addr string, s almanac.Species, profile []ProfileRow) NeedsPart {
	tanks := b.tanksOf(s.ID)
	if main := b.mainTank(); len(tanks) == 0 && main != nil {
		tanks = append(tanks, main)
	}
	var p NeedsPart
	for _, t := range tanks {
		p.Tanks = append(p.Tanks, theme.Link{Text: b.tankName(t.ID), Href: b.href(addr, TankAddr(t.ID))})
		if on := b.facts.WaterNow(t.ID).Newest(); !on.IsZero() {
			p.Notes = append(p.Notes, v.Text("needs-text.measured", "tank", words.Capital(words.InText(v, b.tankName(t.ID))), "date", v.Date(on)))
		}
	}
	told := false
	for _, r := range profile {
		row := NeedRow{ProfileRow: r}
		for _, t := range tanks {
			c, reckoned := b.needCell(v, s.ID, t, r.key)
			told = told || reckoned
			row.Tanks = append(row.Tanks, c)
		}
		p.Rows = append(p.Rows, row)
	}
	if told {
		p.Notes = append(p.Notes, v.Text("needs-text.light-reckoned"))
	}
	return p
}

func (b *Site) needCell(v words.Locale, plant string, t *journal.Tank, key string) (c NeedCell, reckoned bool) {
	if key == "co2" && t.CO2 != journal.NotSaid {
		return NeedCell{Value: v.Text([...]string{"", "needs-text.co2-no", "needs-text.co2-yes"}[t.CO2])}, false
	}
	l, known := b.plots().Tolerance(plant, key)
	x, ok := b.latestValue(v, t, key)
	if !known || !ok {
		if known {
			c.Missing = v.Text("needs-text.not-measured")
		}
		return c, false
	}
	c.Value = x.text
	ends := rangeEnds[key]
	c.Range = chart.Range{Low: l.Low, High: l.High, From: ends.Low, To: ends.High, Here: &x.at}.Draw()
	if x.at < l.Low || x.at > l.High {
		c.Fit = v.Text("needs-text.outside")
	}
	return c, x.told
}

// rangeEnds are the ends of the lines on which tolerances lie, so that plants can be compared: what tanks are apart from
// rare ones (common practice). Light's upper end is a bright tank's bottom.
var rangeEnds = map[string]plot.Limits{"temperature": {Low: 10, High: 35}, "ph": {Low: 4.5, High: 9}, "gh": {Low: 0, High: 25}, "kh": {Low: 0, High: 20}, "light": {Low: 0, High: 300}}

// tanksOf lists the tanks in which a plant is.
func (b *Site) tanksOf(id string) []*journal.Tank {
	var out []*journal.Tank
	for _, t := range facts.ByAge(b.facts.Naming(id)) {
		for _, s := range b.standing(t) {
			if s.Plant == id {
				out = append(out, t)
			}
		}
	}
	return out
}

// mainTank is the tank with entries that was set up first; nil where none has any.
func (b *Site) mainTank() *journal.Tank {
	for _, t := range facts.ByAge(b.Journal.Tanks) {
		if b.facts.Begun(t.ID) {
			return t
		}
	}
	return nil
}

// tankLight reckons the light in a tank from its lamps, or from what was last measured there.
func (b *Site) tankLight(t *journal.Tank) sheet.Light {
	w := b.facts.WaterNow(t.ID)
	if w.Days["light"].Before(w.Days["lux"]) { // the newer of the two says more
		w.Light = quantity.Reading[quantity.PhotonFlux]{}
	}
	if t.Grown == "emersed" {
		return sheet.Light{} // the model is one of water
	}
	return sheet.LightIn(t.Inside, t.WaterDepth, t.Substrate, t.Light, quantity.Reading[quantity.Share]{}, journal.Parameters{Light: w.Light, Lux: w.Lux})
}
