package papers

import (
	"html/template"
	"strings"

	"slipleaf/build/draw"
	"slipleaf/build/journal"
	"slipleaf/build/quantity"
	"slipleaf/build/sheet"
	"slipleaf/build/words"
)

// FitTable is their tank against what the plant needs.
type FitTable struct{ Rows []FitRow }

// FitRow is one parameter.
type FitRow struct {
	Name         template.HTML
	Yours, Needs string
	Class        string // of the state
	Mark         template.HTML
	Verdict      string
	How          []template.HTML
}

func (w Papers) fitTable() FitTable {
	var t FitTable
	for _, v := range w.s.Verdicts {
		t.Rows = append(t.Rows, w.fitRow(v))
	}
	return t
}

func (w Papers) fitRow(v sheet.Verdict) FitRow {
	r := FitRow{Name: w.HTML("parameter." + string(v.Parameter)), Yours: w.yours(v), Needs: w.need(v), How: w.how(v)}
	if v.Parameter == sheet.LightAt {
		r.Name = w.HTML("sheet.row-light")
	}
	switch v.Outcome {
	case sheet.WellInside:
		r.Class, r.Mark = "good", draw.In.SVG()
	case sheet.NearEdge:
		r.Class, r.Mark = "wait", draw.Near.SVG()
	case sheet.Outside:
		r.Class, r.Mark = "warn", draw.Out.SVG()
	default:
		r.Class, r.Mark = "soft", draw.Unknown.SVG()
	}
	r.Verdict = w.Text("sheet.v-" + string(v.Outcome))
	if v.Outcome == sheet.Outside && v.Parameter != sheet.CO2 {
		r.Verdict = w.Text("sheet.v-outside-by", "by", w.by(v))
	}
	return r
}

// yours is the recipient's value in their units; one written in another unit of hardness shows as they wrote it too.
func (w Papers) yours(v sheet.Verdict) string {
	p := w.s.Parcel
	switch v.Parameter {
	case sheet.CO2:
		if p.Tank == nil || p.Tank.CO2 == journal.NotSaid {
			return w.Text("sheet.not-told")
		}
		return w.Text([...]string{"", "sheet.none-yours", "sheet.some-yours"}[p.Tank.CO2])
	case sheet.Temperature:
		return orNotTold(w, words.R(w.Locale, p.Water.Temperature))
	case sheet.PH:
		return orNotTold(w, words.R(w.Locale, p.Water.PH))
	case sheet.GH:
		return orNotTold(w, asWritten(w, p.Water.GH))
	case sheet.KH:
		return orNotTold(w, asWritten(w, p.Water.KH))
	}
	if !v.Value.Known {
		return w.Text("sheet.not-told")
	}
	return w.Figure(v.Value.Print(w.Units).Number)
}

func orNotTold(w Papers, s string) string {
	if s == "" {
		return w.Text("sheet.not-told")
	}
	return s
}

// asWritten prints a hardness in degrees, with what its owner wrote before it.
func asWritten[T quantity.Scalar](w Papers, r quantity.Reading[T]) string {
	figure := words.R(w.Locale, r)
	if written := w.Figure(r.PrintAsWritten()); r.Known() && !r.Below() && written != figure && !strings.HasPrefix(r.Unit(), "d") && r.Unit() != "°d" {
		return w.Text("sheet.as-written", "written", written, "figure", figure)
	}
	return figure
}

// need is what the plant tolerates; the unit stands beside it in the same row, so that four columns fit on a phone.
func (w Papers) need(v sheet.Verdict) string {
	switch {
	case v.Parameter == sheet.CO2:
		return words.TextOf(w.Locale, "sheet.need-", w.s.Species.CO2)
	case !v.Band.Known:
		return ""
	}
	return w.Figure(v.Band.Print(w.Units).Number)
}

// how tells how to find out what is not known, and where a figure comes from.
func (w Papers) how(v sheet.Verdict) []template.HTML {
	var out []template.HTML
	switch {
	case v.NoBand:
		out = append(out, w.HTML("sheet.how-no-band"))
	case v.Parameter == sheet.PH && !v.Counts:
		out = append(out, w.HTML("sheet.how-ph-not-counted"))
	case v.Outcome == sheet.NotKnown:
		out = append(out, w.HTML("sheet.how-"+string(v.Parameter)))
	case v.Parameter == sheet.CO2 && v.Outcome == sheet.NearEdge:
		out = append(out, w.HTML("sheet.how-co2-near"))
	case v.Parameter == sheet.LightAt:
		key := "sheet.how-light-reckoned"
		if w.s.Light.Measured {
			key = "sheet.how-light-measured"
		}
		out = append(out, w.HTML(key, "row", w.Text("sheet.row-"+string(w.s.Place.Row))))
	}
	if v.Parameter == sheet.LightAt && v.Outcome == sheet.NotKnown && w.s.Light.Why != nil {
		out = append(out, w.HTML("sheet.how-light-refused"))
	}
	return out
}

// fitLead is what stands under the heading of the table.
func (w Papers) fitLead() []template.HTML {
	if w.s.Brackish {
		return []template.HTML{w.HTML("sheet.brackish", "salt", words.R(w.Locale, w.s.Parcel.Water.Conductivity), "most", words.Q(w.Locale, quantity.Conductivity(sheet.SaltyFrom)))}
	}
	return nil
}

// others is how it did for others with such water.
func (w Papers) others() string {
	o := w.s.Others
	if o == nil || o.Results() == 0 {
		return ""
	}
	return w.Text("sheet.others-class-"+o.Water.String()) + ": " + words.ShareSentence(w.Locale, *o)
}

// unknowns names what nobody told, with what it would be good for.
func (w Papers) unknowns() []template.HTML {
	var out []template.HTML
	for _, name := range []sheet.Gap{sheet.NoTank, sheet.NoVolume, sheet.NoSubstrate, sheet.NoRegion, sheet.NoGrowth, sheet.NoDay} {
		switch {
		case !w.s.Misses(name),
			name == sheet.NoVolume && w.s.Misses(sheet.NoTank),
			name == sheet.NoSubstrate && !w.s.Kind.Rooted():
			continue
		}
		out = append(out, w.HTML("sheet.unknown-"+string(name)))
	}
	return out
}
