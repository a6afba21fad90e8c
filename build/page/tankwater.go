package page

import (
	"slices"

	"slipleaf/build/journal"
	"slipleaf/build/quantity"
	"slipleaf/build/reckon"
	"slipleaf/build/words"
)

// waterSums works out what a tank's newest readings mean: the oxygen that the water can hold, and whether lime falls out of
// it; nil where neither can be known.
func waterSums(v words.Locale, w journal.Water) *ReckonedPart {
	p := &ReckonedPart{}
	if w.Temperature.Known() {
		if o, err := reckon.OxygenAt(w.Temperature.Mid(), 0); err == nil {
			text := v.Text("tank-text.oxygen-is", "value", words.Q(v, o.Saturation), "temperature", words.R(v, w.Temperature))
			if w.Oxygen.Known() && together(w, "temperature", "oxygen") {
				text = v.Text("tank-text.oxygen-measured", "saturation", text, "share", words.Percent(v, float64(w.Oxygen.Mid()/o.Saturation)))
			}
			p.adds(v, "oxygen", text, o.Working)
		}
	}
	if w.PH.Known() && w.KH.Known() && w.GH.Known() && together(w, "temperature", "ph", "gh", "kh") {
		in := reckon.Carbonate{KH: w.KH, Temperature: w.Temperature.Mid(), Minerals: reckon.Minerals{Conductivity: w.Conductivity}}
		if s, err := reckon.Calcite(in, w.PH.Mid(), w.GH.Mid(), w.Calcium); err == nil {
			p.adds(v, "lime", v.Text("tank-text.lime-"+string(s.Means()), "low", v.N(s.Index.Low, 1), "high", v.N(s.Index.High, 1)), s.Working)
		}
	}
	if len(p.Fields) == 0 {
		return nil
	}
	return p
}

// adds takes a result in, with its working and its source.
func (p *ReckonedPart) adds(v words.Locale, key, text string, w reckon.Working) {
	p.Fields = append(p.Fields, fieldOf(v, "tank-text."+key, text))
	p.Working = append(p.Working, words.WorkingLines(v, w)...)
	if p.Source != "" {
		p.Source += "; "
	}
	p.Source += words.SourceOf(v, w)
}

// togetherDays is how far apart readings may be that are taken for one water (our choice).
const togetherDays = 14

// together reports whether readings are known and of about the same time.
func together(w journal.Water, keys ...string) bool {
	var days []quantity.Date
	for _, k := range keys {
		day, ok := w.Days[k]
		if !ok {
			return false
		}
		days = append(days, day)
	}
	return slices.MaxFunc(days, quantity.Date.Compare).Since(slices.MinFunc(days, quantity.Date.Compare)) <= togetherDays
}

// takenWeeks is over how many weeks weighed trims are added up.
const takenWeeks = 12

// takenOut works out what the weighed trims of the last weeks took out of a tank, and what brings it back; nil where
// nothing was weighed.
func (b *Site) takenOut(v words.Locale, t *journal.Tank) *ReckonedPart {
	mass, from := quantity.Mass(0), b.facts.Day().Add(-7*takenWeeks)
	for _, e := range b.facts.SoFarIn(t.ID) {
		if !e.Date.After(from) {
			continue
		}
		for _, c := range e.Trims {
			mass += c.Removed.Mass.Mid()
		}
	}
	u, err := reckon.TakenOut(mass / takenWeeks)
	if mass <= 0 || err != nil {
		return nil
	}
	back := u.Replace()
	p := &ReckonedPart{Lead: v.Text("tank-text.taken", "mass", words.Q(v, mass), "n", takenWeeks), Cautions: words.Cautions(v, reckon.CautionPureSalt),
		Working: words.WorkingLines(v, u.Working), Source: words.SourceOf(v, u.Working)}
	for _, row := range []struct {
		key string
		of  reckon.Range[quantity.Mass]
	}{{"nitrogen", u.Nitrogen}, {"phosphorus", u.Phosphorus}, {"potassium", u.Potassium}, {"nitrate-salt", back.Nitrate}, {"phosphate-salt", back.Phosphate}, {"sulfate-salt", back.Sulfate}} {
		p.Fields = append(p.Fields, fieldOf(v, "tank-text."+row.key, v.Text("tank-text.a-week", "best", milligrams(v, row.of.Best), "low", milligrams(v, row.of.Low), "high", milligrams(v, row.of.High))))
	}
	return p
}

// milligrams writes a small mass with two figures at most, since its range is wide.
func milligrams(v words.Locale, m quantity.Mass) string {
	mg := float64(m) * 1000
	if mg < 10 {
		return v.N(mg, 1)
	}
	return v.N(mg, 0)
}
