package page

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"slipleaf/build/journal"
	"slipleaf/build/plot"
	"slipleaf/build/quantity"
	"slipleaf/build/reckon"
	"slipleaf/build/theme"
	"slipleaf/build/words"
)

// ReckonedPart is something computed of a tank, with its cautions and its working.
type ReckonedPart struct {
	Fields   []theme.Field
	Lead     string
	Cautions []string
	Working  []string
	Source   string
}

// holds reckons what a tank holds and weighs; nil where its measures are not known or do not add up.
func (b *Site) holds(v words.Locale, t *journal.Tank) *ReckonedPart {
	in := t.Inside
	if !in.Length.Known() || !in.Width.Known() || !in.Height.Known() || t.Grown == "emersed" {
		return nil
	}
	s := reckon.TankShape{Length: in.Length.Mid(), Width: in.Width.Mid(), Height: in.Height.Mid(), WaterDepth: t.WaterDepth}
	if len(t.Substrate) > 0 {
		s.Substrate = quantity.Between(plot.SubstrateDepth(t), plot.SubstrateDepth(t))
	}
	m, err := s.Measure()
	if err != nil {
		return &ReckonedPart{Lead: v.Text("tank-text.not-measured", "why", words.Refusal(v, err))}
	}
	p := &ReckonedPart{Cautions: words.Cautions(v, m.Cautions...), Working: words.WorkingLines(v, m.Working), Source: words.SourceOf(v, m.Working)}
	add := func(key, is string) { p.Fields = append(p.Fields, fieldOf(v, "tank-text."+key, is)) }
	add("floor", words.Q(v, m.Footprint))
	add("gross", words.Q(v, m.Gross))
	add("net", v.Text("tank-text.about", "range", words.QRange(v, m.Net.Low, m.Net.High)))
	add("filled", v.Text("tank-text.about", "range", words.QRange(v, m.Filled.Low, m.Filled.High)))
	add("load", loadText(v, m.Floor))
	for _, d := range m.Design {
		p.Working = append(p.Working, v.Text("tank-text.design", "where", words.SumText(v, "where-"+d.Key, d.Where), "load", loadText(v, reckon.Range[reckon.Pressure]{Low: d.Low, High: d.High}), "source", words.SumText(v, "source-"+d.Key, d.Source)))
	}
	return p
}

func fieldOf(v words.Locale, key, is string) theme.Field {
	return theme.Field{Term: v.HTML(key), Is: words.Escape(is)}
}

// loadText prints a floor load: kilopascals and what they weigh on a square metre, or pounds on a square foot.
func loadText(v words.Locale, r reckon.Range[reckon.Pressure]) string {
	const kgPerKPa = 1000 / 9.80665 // standard gravity
	ends := func(low, high string) string {
		if low == high {
			return low
		}
		return low + "–" + high
	}
	if v.Units == quantity.US {
		return v.Text("tank-text.psf", "range", ends(v.N(r.Low.PSF(), 0), v.N(r.High.PSF(), 0)))
	}
	kg := func(p reckon.Pressure) string { return v.N(math.Round(float64(p)*kgPerKPa/5)*5, 0) }
	return v.Text("tank-text.kpa", "range", ends(v.N(float64(r.Low), 1), v.N(float64(r.High), 1)), "kg", ends(kg(r.Low), kg(r.High)))
}

// lightPart reckons the light from the surface to the bottom, with what falls in a day; nil where nothing is known of it.
func (b *Site) lightPart(v words.Locale, t *journal.Tank) *ReckonedPart {
	l := b.tankLight(t)
	if !l.Known {
		if l.Why != nil {
			return &ReckonedPart{Lead: v.Text("tank-text.not-measured", "why", words.Refusal(v, l.Why))}
		}
		return nil
	}
	p := &ReckonedPart{Cautions: words.Cautions(v, reckon.CautionLightModel, reckon.CautionElectricity), Working: words.WorkingLines(v, l.Working), Source: words.SourceOf(v, l.Working)}
	for _, r := range l.Rows {
		p.Fields = append(p.Fields, fieldOf(v, "tank-text.at-"+string(r.Row), v.Text("tank-text.flux", "flux", words.QRange(v, r.Flux.Low, r.Flux.High), "low", v.N(float64(r.DLI.Low), 1), "high", v.N(float64(r.DLI.High), 1))))
	}
	p.Lead = v.Text("tank-text.light-model")
	if l.Measured {
		p.Lead = v.Text("tank-text.light-measured", "value", lastLight(v, b, t))
	}
	return p
}

// lastLight is the light at the bottom as last measured, with its day.
func lastLight(v words.Locale, b *Site, t *journal.Tank) string {
	for _, key := range []string{"light", "lux"} {
		if x, ok := b.latestValue(v, t, key); ok && !x.told {
			return x.text + ", " + v.Date(x.on)
		}
	}
	return ""
}

// FloorRow is a plant that is in a tank, with its part of the floor.
type FloorRow struct {
	StandingRow
	Share string // of the floor; "" where its area was not told
}

// floorRows lists what is in a tank, what takes most of the floor first.
func (b *Site) floorRows(v words.Locale, addr string, t *journal.Tank) []FloorRow {
	all := b.standing(t)
	slices.SortStableFunc(all, func(x, y journal.Stand) int { return cmp.Compare(y.Area.Mid(), x.Area.Mid()) })
	floor := float64(t.Inside.Length.Mid()*t.Inside.Width.Mid()) * float64(quantity.SquareCM)
	var out []FloorRow
	for _, s := range all {
		row := FloorRow{StandingRow: StandingRow{Plant: b.plantLink(addr, s.Plant), What: strings.Join(words.Amount(v, s.Count.Amount), ", "), Date: v.Date(s.On)}}
		if s.Planted {
			row.Date = v.Text("tank.planted-on", "date", row.Date)
		}
		if s.Count.Area.Known() {
			row.Area = words.R(v, s.Count.Area)
			if floor > 0 {
				row.Share = v.Text("figure.percent", "n", words.Percent(v, float64(s.Count.Area.Mid())/floor))
			}
		}
		out = append(out, row)
	}
	return out
}
