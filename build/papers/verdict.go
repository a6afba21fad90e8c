package papers

import (
	"html/template"
	"slices"
	"strings"

	"slipleaf/build/draw"
	"slipleaf/build/sheet"
	"slipleaf/build/words"
)

func (w Papers) mark() template.HTML {
	s := w.s
	switch {
	case s.Forbidden || s.Summary == sheet.PoorMatch:
		return draw.Out.SVG()
	case s.Summary == sheet.GoodMatch:
		return draw.In.SVG()
	case s.Summary == sheet.OneChange:
		return draw.Near.SVG()
	}
	return draw.Unknown.SVG()
}

// verdict is the one sentence.
func (w Papers) verdict() template.HTML {
	s := w.s
	switch {
	case s.Forbidden:
		return w.HTML("sheet.verdict-forbidden")
	case s.Summary == sheet.GoodMatch:
		return w.HTML("sheet.verdict-good-match")
	case s.Summary == sheet.PoorMatch:
		return w.HTML("sheet.verdict-poor-match", "why", strings.Join(w.whys(), "; "))
	case s.Summary == sheet.OneChange && s.Change.Parameter != "":
		return w.HTML("sheet.verdict-one-change", "change", w.change(s.Change))
	case s.Summary == sheet.OneChange && s.Step.Worst.Parameter == sheet.CO2:
		return w.HTML("sheet.verdict-slowly-co2" + w.inAir())
	case s.Summary == sheet.OneChange:
		return w.HTML("sheet.verdict-slowly")
	case w.noProfile():
		return w.HTML("sheet.verdict-no-profile")
	}
	return w.HTML("sheet.verdict-cannot-say")
}

// noProfile tells whether nobody knows what the plant stands in temperature and hardness.
func (w Papers) noProfile() bool {
	return !slices.ContainsFunc([]sheet.Parameter{sheet.Temperature, sheet.GH, sheet.KH}, func(p sheet.Parameter) bool { return !w.s.Verdicts.Of(p).NoBand })
}

// whys are the reasons against it that count.
func (w Papers) whys() []string {
	var out []string
	if w.s.Brackish {
		out = append(out, w.Text("sheet.why-brackish", "salt", words.R(w.Locale, w.s.Parcel.Water.Conductivity)))
	}
	for _, v := range w.s.Reasons {
		if v.Outcome == sheet.Outside && v.Counts {
			out = append(out, w.why(v))
		}
	}
	return out
}

func (w Papers) why(v sheet.Verdict) string {
	if v.Parameter == sheet.CO2 {
		return w.Text("sheet.why-co2")
	}
	return w.Text("sheet.why-"+string(v.Parameter)+lowHigh(v.By < 0), "by", w.by(v))
}

func lowHigh(low bool) string {
	if low {
		return "-low"
	}
	return "-high"
}

// change says what to change, from what to what.
func (w Papers) change(c sheet.Change) string {
	v, want := w.s.Verdicts.Of(c.Parameter), w.s.Wanted(c)
	have := v.Value.High
	if c.Low != v.Value.Model { // of a modelled value the nearer end
		have = v.Value.Low
	}
	return w.Text("sheet.change-"+string(c.Parameter)+lowHigh(c.Low), "have", w.plainFigure(c.Parameter, have), "want", w.figureOf(c.Parameter, want))
}

// figureOf prints a figure of a parameter with its unit.
func (w Papers) figureOf(p sheet.Parameter, f float64) string {
	return w.Figure(p.Print(f, f, w.Units).String())
}

// plainFigure is figureOf without the unit.
func (w Papers) plainFigure(p sheet.Parameter, f float64) string {
	return w.Figure(p.Print(f, f, w.Units).Number)
}

// by prints how far outside a value lies.
func (w Papers) by(v sheet.Verdict) string { return w.difference(v.Parameter, v.By) }

// difference prints the size of a difference; one of temperature is no temperature.
func (w Papers) difference(p sheet.Parameter, d float64) string {
	return w.Figure(p.Difference(d, w.Units).String())
}

// doubts names what is near an edge and what is not known, of what counts.
func (w Papers) doubts() []template.HTML {
	s := w.s
	for _, n := range s.Notices {
		if s.Forbidden && n.Firm() {
			return []template.HTML{w.HTML("sheet.why-forbidden", "place", n.Place, "list", n.List, "what", words.Capital(strings.TrimSuffix(n.What, ".")))}
		}
	}
	if w.noProfile() {
		return nil
	}
	var near, missing []string
	for _, v := range s.Verdicts {
		name := w.Text("sheet.name-" + string(v.Parameter))
		switch {
		case v.Parameter == sheet.PH && !v.Counts, v.Parameter == sheet.CO2 && !v.Counts:
		case v.Outcome == sheet.NearEdge:
			near = append(near, name)
		case v.Outcome == sheet.NotKnown && v.Parameter != sheet.PH:
			missing = append(missing, name)
		}
	}
	var out []template.HTML
	if s.Summary == sheet.OneChange && s.Change.Parameter != "" && s.Change.Slowly && s.Step.Worst.Parameter != sheet.CO2 {
		out = append(out, w.HTML("sheet.slowly-too"))
	}
	if s.Summary == sheet.OneChange && s.Change.Parameter == "" && s.Step.Worst.Parameter != sheet.CO2 {
		out = append(out, w.HTML("sheet.slowly-why-"+string(s.Step.Worst.Parameter)))
	}
	if len(near) > 0 {
		out = append(out, w.HTML("sheet.near", "what", words.And(w.Locale, near)))
	}
	if len(missing) > 0 {
		out = append(out, w.HTML("sheet.missing", "what", words.And(w.Locale, missing)))
	}
	return out
}

// inAir is the ending of sentences about CO2 for a plant that grew in the air.
func (w Papers) inAir() string {
	if w.s.Step.Worst.Parameter == sheet.CO2 && (w.s.Grown == "emersed" || w.s.Grown == "culture") {
		return "-air"
	}
	return ""
}

// first is what comes before everything else, where it is not simply to open the bag.
func (w Papers) first() template.HTML {
	s := w.s
	switch {
	case s.Forbidden:
		return w.HTML("sheet.do-forbidden")
	case s.Brackish:
		return w.HTML("sheet.do-brackish")
	case s.Summary == sheet.PoorMatch, s.Summary == sheet.OneChange && s.Step.Class == sheet.VeryLargeStep && s.Step.Worst.Parameter != sheet.CO2:
		return w.HTML("sheet.do-tub")
	case s.Summary == sheet.CannotSay:
		return w.HTML("sheet.do-measure", "what", words.And(w.Locale, []string{w.Text("sheet.name-temperature"), w.Text("sheet.name-gh"), w.Text("sheet.name-kh")}))
	}
	return ""
}
