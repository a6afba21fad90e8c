package papers

import (
	"html/template"
	"strings"

	"slipleaf/build/chart"
	"slipleaf/build/draw"
	"slipleaf/build/journal"
	"slipleaf/build/quantity"
	"slipleaf/build/sheet"
	"slipleaf/build/words"
)

// FitPart is their tank against what the plant needs: rows for what is outside or near an edge, the rest folded.
type FitPart struct {
	Lead  template.HTML
	Rows  []FitRow
	Folds []Fold
}

// FitRow is one parameter.
type FitRow struct {
	Name         template.HTML
	Yours, Needs string
	Line         string // both in one line
	Class        string // of the state
	Mark         template.HTML
	Verdict      string
	Bar          template.HTML
	How          template.HTML
}

// fit sorts the parameters: what weighs is in rows, what is not known and what is well inside in lines that unfold.
func (w Papers) fit() FitPart {
	var f FitPart
	if w.s.Brackish {
		f.Lead = w.HTML("sheet.brackish", "salt", words.R(w.Locale, w.s.Parcel.Water.Conductivity), "most", words.Q(w.Locale, quantity.Conductivity(sheet.SaltyFrom)))
	}
	if w.s.Contradict() && w.s.Parcel.First() {
		now := w.s.CO2.Now
		f.Lead += w.HTML("sheet.contradict", "ph", words.R(w.Locale, w.s.Parcel.Water.PH), "kh", words.R(w.Locale, w.s.Parcel.Water.KH), "low", w.N(float64(now.Low), 0), "high", w.N(float64(now.High), 0))
	}
	var missing, inside, unrecorded []string
	var how []template.HTML
	for _, v := range w.s.Verdicts {
		name := w.Text("sheet.name-" + string(v.Parameter))
		switch {
		case v.Outcome == sheet.NotKnown:
			if v.Parameter == sheet.PH && !v.Counts {
				continue
			}
			missing = append(missing, name)
			if v.NoBand {
				unrecorded = append(unrecorded, name)
			} else {
				how = append(how, w.howTo(v))
			}
		case v.Parameter == sheet.PH && !v.Counts && v.Outcome != sheet.WellInside: // among all figures, with the reason
		case v.Outcome == sheet.WellInside:
			inside = append(inside, name)
		default:
			f.Rows = append(f.Rows, w.fitRow(v))
		}
	}
	w.when(&how, len(unrecorded) > 0, "sheet.how-no-band", "name", words.And(w.Locale, unrecorded))
	if len(missing) > 0 {
		f.Folds = append(f.Folds, Fold{Head: w.HTML("sheet.missing", "what", words.And(w.Locale, missing)), Body: how})
	}
	rest := Fold{ID: w.anchor("figures"), Head: w.HTML("sheet.all-rows"), Body: []template.HTML{words.JoinHTML(w.fitLines())}}
	w.when(&rest.Body, w.s.Parcel.First(), "sheet.edge")
	if len(inside) > 0 {
		rest.Head = w.HTML("sheet.inside", "what", words.Capital(words.And(w.Locale, inside)), "n", len(inside), "mark", draw.In.SVG())
	}
	f.Folds = append(f.Folds, rest)
	return f
}

// fitLines are all parameters in the reader's units.
func (w Papers) fitLines() []template.HTML {
	var out []template.HTML
	for _, v := range w.s.Verdicts {
		r := w.fitRow(v)
		if r.Needs == "" {
			continue
		}
		line := w.HTML("sheet.fit-line", "name", r.Name, "yours", r.Yours, "needs", r.Needs)
		if v.Parameter == sheet.CO2 {
			line = w.HTML("sheet.fit-line-co2", "name", r.Name, "line", r.Line)
		}
		if v.Parameter == sheet.PH && !v.Counts && v.Outcome == sheet.Outside {
			line = words.JoinHTML([]template.HTML{line, w.HTML("sheet.how-ph-not-counted")})
		}
		out = append(out, line)
	}
	return out
}

// states are the class and the mark of an outcome.
var states = map[sheet.Outcome]struct {
	class string
	mark  draw.Mark
}{sheet.WellInside: {"good", draw.In}, sheet.NearEdge: {"wait", draw.Near}, sheet.Outside: {"warn", draw.Out}, sheet.NotKnown: {"soft", draw.Unknown}}

func (w Papers) fitRow(v sheet.Verdict) FitRow {
	state := states[v.Outcome]
	r := FitRow{Name: w.HTML("parameter." + string(v.Parameter)), Yours: w.yours(v), Needs: w.need(v), Class: state.class, Mark: state.mark.SVG(), How: w.whence(v)}
	if v.Parameter == sheet.LightAt {
		r.Name = w.HTML("sheet.row-light")
	}
	r.Verdict = w.Text("sheet.v-" + string(v.Outcome))
	if v.Outcome == sheet.Outside && v.Parameter != sheet.CO2 {
		r.Verdict = w.Text("sheet.v-too" + lowHigh(v.By < 0))
	}
	r.Line = w.Text("sheet.row", "yours", r.Yours, "needs", r.Needs)
	if v.Parameter == sheet.CO2 {
		r.Line = w.Text("sheet.row-co2", "yours", r.Yours, "needs", r.Needs)
	}
	r.Bar = w.bar(v)
	if v.Parameter == sheet.LightAt && !w.s.Parcel.First() { // said of the first plant
		r.How = ""
	}
	return r
}

// bar draws where a value lies beside its range. It says nothing that the line does not.
func (w Papers) bar(v sheet.Verdict) template.HTML {
	if !v.Band.Known || !v.Value.Known {
		return ""
	}
	lo, hi := min(v.Band.Low, v.Value.Low), max(v.Band.High, v.Value.High)
	if hi <= lo {
		return ""
	}
	pad := (hi - lo) * 0.1
	out := chart.Range{Low: v.Band.Low, High: v.Band.High, From: lo - pad, To: hi + pad, Here: &v.Value.High, There: &v.Value.Low}
	if v.Value.High-v.Value.Low < (hi-lo)/30 { // two ticks would lie on each other
		out.Here, out.There = new((v.Value.Low+v.Value.High)/2), nil
	}
	return out.Draw()
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
	case sheet.GH:
		return asWritten(w, p.Water.GH)
	case sheet.KH:
		return asWritten(w, p.Water.KH)
	case sheet.PH:
		return asWritten(w, p.Water.PH)
	}
	if !v.Value.Known {
		return w.Text("sheet.not-told")
	}
	return w.Figure(v.Value.Print(w.Units).Number)
}

// asWritten prints a hardness in degrees, with what its owner wrote before it.
func asWritten[T quantity.Scalar](w Papers, r quantity.Reading[T]) string {
	figure := words.R(w.Locale, r)
	switch written := w.Figure(r.PrintAsWritten()); {
	case !r.Known():
		return w.Text("sheet.not-told")
	case r.Below() || written == figure || strings.HasPrefix(r.Unit(), "d") || r.Unit() == "°d":
		return figure
	default:
		return w.Text("sheet.as-written", "written", written, "figure", figure)
	}
}

// need is what the plant tolerates, with its unit.
func (w Papers) need(v sheet.Verdict) string {
	switch {
	case v.Parameter == sheet.CO2 && w.s.Species.CO2 != "":
		return w.Text("sheet.need-" + w.s.Species.CO2)
	case !v.Band.Known:
		return ""
	case v.Parameter == sheet.LightAt: // its unit is long and is in the line beneath
		return w.Figure(v.Band.Print(w.Units).Number)
	}
	return w.Figure(v.Band.Print(w.Units).String())
}

// howTo tells how to find out what is not known.
func (w Papers) howTo(v sheet.Verdict) template.HTML {
	out := w.HTML("sheet.how-" + string(v.Parameter))
	if v.Parameter == sheet.LightAt && w.s.Light.Why != nil {
		return words.JoinHTML([]template.HTML{w.HTML("sheet.how-light-refused"), out})
	}
	return out
}

// whence says where a row's figure comes from or what it asks for.
func (w Papers) whence(v sheet.Verdict) template.HTML {
	switch {
	case v.Parameter == sheet.CO2 && v.Outcome == sheet.NearEdge:
		return w.HTML("sheet.how-co2-near")
	case v.Parameter == sheet.LightAt && w.s.Light.Measured:
		return w.HTML("sheet.how-light-measured", "row", w.Text("sheet.row-"+string(w.s.Place.Row)))
	case v.Parameter == sheet.LightAt:
		return w.HTML("sheet.how-light-reckoned", "row", w.Text("sheet.row-"+string(w.s.Place.Row)))
	case !w.s.Planted() || w.s.Melt.Seed || v.Outcome != sheet.Outside:
		return ""
	case v.Parameter == sheet.GH && w.s.Water.GH != nil, v.Parameter == sheet.KH && (w.s.Water.KH != nil || w.s.Water.Blend != nil):
		return w.HTML("sheet.how-below", "id", w.anchor("water"))
	}
	return ""
}
