package papers

import (
	"html/template"
	"strings"

	"slipleaf/build/journal"
	"slipleaf/build/quantity"
	"slipleaf/build/theme"
	"slipleaf/build/words"
)

// contents is what the parcel holds, where it grew, what was seen on it.
func (w Papers) contents() []theme.Field {
	s := w.s
	var out []theme.Field
	add := func(key string, is template.HTML) {
		if is != "" {
			out = append(out, theme.Field{Term: w.HTML("sheet." + key), Is: is})
		}
	}
	name := words.Taxon(s.Species.Taxon)
	if s.Lot.Identity != "" {
		name = w.HTML("sheet.sure-"+s.Lot.Identity, "name", name)
	}
	add("f-name", name)
	if s.Lot.ReceivedAs != "" {
		add("f-received", w.HTML("sheet.received", "name", w.own(s.Lot.ReceivedAs)))
	}
	what := []string{w.Text("form."+s.Lot.Form, "n", s.Parcel.Count)}
	if s.Lot.Length.Known() {
		what = append(what, words.R(w.Locale, s.Lot.Length))
	}
	if s.Lot.Rooted != journal.NotSaid {
		what = append(what, w.Text([...]string{"", "offers.rootless", "offers.rooted"}[s.Lot.Rooted]))
	}
	add("f-what", words.Escape(strings.Join(what, ", ")))
	add("f-grown", words.Escape(w.grown()))
	if line := strings.Join(words.WaterLine(w.Locale, sheetWater(s.From.Water)), ", "); line != "" {
		add("f-water", w.HTML("sheet.water-on", "water", line, "date", w.Date(s.From.On)))
	}
	if l := s.From.Light; l.Best > 0 {
		add("f-light", words.Escape(words.QRange(w.Locale, l.Low, l.High)))
	}
	pests, dips, copper := words.LotTreatment(w.Locale, s.Lot)
	for _, f := range [][2]string{{"f-seen", pests}, {"f-dips", dips}, {"f-copper", copper}} {
		add(f[0], w.own(f[1]))
	}
	return out
}

// own places words about a lot: the grower's are in the grower's language, unless they say that there was nothing.
func (w Papers) own(text string) template.HTML {
	for _, key := range []string{"no-pests", "no-dips", "no-copper", "unseen"} {
		if text == w.Text("lot-words."+key) {
			return words.Escape(text)
		}
	}
	return words.Spoken(w.Lang, "", w.kit.Own, text)
}

// sheetWater keeps the four parameters that a sheet compares.
func sheetWater(p journal.Parameters) journal.Parameters {
	return journal.Parameters{Temperature: p.Temperature, PH: p.PH, GH: p.GH, KH: p.KH}
}

// grown says how it grew: under water for 9 wk, with CO2.
func (w Papers) grown() string {
	s := w.s
	if s.Grown == "" {
		return ""
	}
	out := w.Text("offers.grown-" + s.Grown)
	if co2 := w.parcel.CO2; s.Grown == "submersed" && co2 != journal.NotSaid {
		out = w.Text([...]string{"", "offers.without-co2", "offers.with-co2"}[co2], "grown", out)
	}
	if s.Lot.SubmersedFor.Known() {
		out = w.Text("sheet.submersed-for", "grown", out, "span", w.weeks(s.Lot.SubmersedFor))
	}
	return out
}

// weeks prints a span in weeks once it has two of them.
func (w Papers) weeks(r quantity.Reading[quantity.Span]) string {
	if r.Mid() < 2*quantity.Week {
		return words.R(w.Locale, r)
	}
	return w.Text("sheet.weeks", "n", w.N(float64(r.Mid()/quantity.Week), 0))
}
