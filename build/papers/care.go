package papers

import (
	"html/template"
	"math"

	"slipleaf/build/quantity"
	"slipleaf/build/sheet"
	"slipleaf/build/words"
)

// step says how far the water changes and how much melt to expect.
func (w Papers) step() []template.HTML {
	s := w.s
	class := s.Step.Class.String()
	if s.Step.Class == sheet.VeryLargeStep && s.Step.Worst.Parameter == sheet.CO2 {
		class = "large"
	}
	parts := []template.HTML{w.HTML("sheet.step-class-" + class)}
	for _, p := range s.Step.Parts {
		if line := w.stepPart(p); line != "" {
			parts = append(parts, line)
		}
	}
	if s.Step.Raised {
		parts = append(parts, w.HTML("sheet.step-raised"))
	}
	switch r := s.Step.LightRatio; {
	case r > 0 && r < 0.5:
		parts = append(parts, w.HTML("sheet.step-light-less", "times", w.Text("figure.percent", "n", w.N(r*100, 0))))
	case r > 2:
		parts = append(parts, w.HTML("sheet.step-light-more", "times", w.N(r, 1)))
	}
	return []template.HTML{words.JoinHTML(parts), words.JoinHTML(w.melt())}
}

func (w Papers) stepPart(p sheet.Part) template.HTML {
	if p.Parameter == sheet.CO2 {
		if p.Class == sheet.LargeStep {
			return w.HTML("sheet.step-co2-large" + w.inAir())
		}
		return ""
	}
	if p.Class == sheet.UnknownStep {
		return ""
	}
	name := words.Capital(w.Text("sheet.name-" + string(p.Parameter)))
	by := w.difference(p.Parameter, p.Change)
	switch {
	case math.Abs(p.Change) < noise[p.Parameter]:
		return "" // no change is no news
	case p.Change > 0:
		return w.HTML("sheet.step-up", "name", name, "by", by)
	}
	return w.HTML("sheet.step-down", "name", name, "by", by)
}

// noise is what nobody need be told of: a third or a half of what tests and thermometers are good to.
var noise = map[sheet.Parameter]float64{sheet.Temperature: 1, sheet.GH: 1, sheet.KH: 0.5}

func (w Papers) melt() []template.HTML {
	s := w.s
	if s.Melt.Seed {
		return []template.HTML{w.HTML("sheet.melt-seed")}
	}
	out := []template.HTML{w.HTML("sheet.melt-" + w.N(float64(s.Melt.Level), 0))}
	if s.Melt.Air {
		out = append(out, w.HTML("sheet.melt-air"))
	}
	out = append(out, w.HTML("sheet.melt-course-"+wordsOf(s.Kind)))
	if s.Day0.IsZero() {
		return append(out, w.HTML("sheet.melt-judge-day", "n", s.Melt.Judge))
	}
	return append(out, w.HTML("sheet.melt-judge", "date", w.Date(s.Day0.Add(s.Melt.Judge))))
}

func (w Papers) test() template.HTML {
	return w.HTML("sheet.test", "test", words.Capital(w.Text("sheet.firm-"+wordsOf(w.s.Kind))))
}

// before is quarantine: what was seen, what was done, what is left to do.
func (w Papers) before() []template.HTML {
	s := w.s
	known := []template.HTML{w.HTML("sheet.seen-nothing")}
	pests, dips, copper := words.LotTreatment(w.Locale, s.Lot)
	if s.Lot.Pests != "" {
		known[0] = w.HTML("sheet.seen", "what", pests)
	}
	if s.Lot.Dips != "" {
		known = append(known, w.HTML("sheet.dips", "what", dips))
	} else {
		known = append(known, w.HTML("sheet.no-dips"))
	}
	if s.Lot.Copper != "" {
		known = append(known, w.HTML("sheet.copper", "what", copper))
		if s.Lot.Copper != "none" {
			known = append(known, w.HTML("sheet.copper-shrimp"))
		}
	}
	left := w.HTML("sheet.left-to-do-days", "n", s.Quarantine)
	if !s.Day0.IsZero() {
		left = w.HTML("sheet.left-to-do", "n", s.Quarantine, "date", w.DayMonth(s.Day0.Add(s.Quarantine)))
	}
	return []template.HTML{words.JoinHTML(known), left, w.HTML("sheet.dip-caution")}
}

// where is the place, the depth, the distance, how many fit, the ground and root food.
func (w Papers) where() []template.HTML {
	s := w.s
	pl := s.Place
	if s.Melt.Seed {
		return []template.HTML{w.HTML("sheet.where-seeds")}
	}
	first := []template.HTML{w.HTML("sheet.spot-"+string(pl.Spot), "row", w.Text("sheet.row-"+string(pl.Row)))}
	first = append(first, w.HTML("sheet.how-"+wordsOf(s.Kind), "depth", words.R(w.Locale, pl.Depth), "spacing", words.Q(w.Locale, pl.Spacing)))
	if pl.Usual && s.Kind.Rooted() {
		first = append(first, w.HTML("sheet.usual-spacing"))
	}
	if pl.Tall {
		first = append(first, w.HTML("sheet.tall"))
	}
	room := []template.HTML{w.HTML("sheet.takes", "n", s.Parcel.Count, "area", words.Q(w.Locale, pl.Area))}
	if s.Kind.Set() != sheet.Fixed && pl.Holds > 0 && s.Parcel.Count > 0 {
		key := "sheet.holds"
		if pl.Row == sheet.Surface && s.Kind.Set() == sheet.Afloat {
			key = "sheet.holds-surface"
		}
		room = append(room, w.HTML(key, "n", pl.Holds))
	}
	out := []template.HTML{words.JoinHTML(first), words.JoinHTML(room)}
	return append(out, w.ground()...)
}

// ground is what it needs in the bottom.
func (w Papers) ground() []template.HTML {
	t := w.s.Tabs
	switch {
	case !w.s.Kind.Rooted():
		return []template.HTML{w.HTML("sheet.soil-none")}
	case !t.Needed:
		return nil
	}
	var parts []template.HTML
	if t.Maybe {
		parts = append(parts, w.HTML("sheet.tabs-maybe"))
	} else {
		parts = append(parts, w.HTML("sheet.no-soil"))
	}
	if t.First.IsZero() {
		parts = append(parts, w.HTML("sheet.tabs-days", "n", t.Number))
	} else {
		parts = append(parts, w.HTML("sheet.tabs", "n", t.Number, "first", w.DayMonth(t.First), "again", w.DayMonth(t.Again)))
	}
	return []template.HTML{words.JoinHTML(parts)}
}

// depths is the light by depth.
func (w Papers) depths() []string {
	var out []string
	for _, row := range w.s.Light.Rows {
		if row.Flux.Best > 0 && w.s.Light.Known {
			out = append(out, w.Text("sheet.light-at", "row", words.Capital(w.Text("sheet.row-"+string(row.Row))), "range", words.QRange(w.Locale, row.Flux.Low, row.Flux.High)))
		}
	}
	return out
}

// hours is the course of light in the first weeks.
func (w Papers) hours() []template.HTML {
	hs, day0 := w.s.Hours, w.s.Day0
	var parts []template.HTML
	var first, last sheet.HourStep
	if len(hs) > 0 {
		first, last = hs[0], hs[len(hs)-1]
	}
	if len(hs) == 0 {
		parts = append(parts, w.HTML("sheet.hours-stay"))
	} else if day0.IsZero() {
		parts = append(parts, w.HTML("sheet.hours-first-days", "hours", w.hoursFigure(first.Hours), "n", hs[1].Day),
			w.HTML("sheet.hours-rise-days", "hours", w.hoursFigure(last.Hours), "n", last.Day))
	} else {
		parts = append(parts, w.HTML("sheet.hours-first", "hours", w.hoursFigure(first.Hours), "date", w.DayMonth(day0.Add(hs[1].Day))),
			w.HTML("sheet.hours-rise", "hours", w.hoursFigure(last.Hours), "date", w.DayMonth(day0.Add(last.Day))))
	}
	if v := w.verdictOn(sheet.LightAt); v.Outcome == sheet.Outside && v.By < 0 && v.Value.Best > 0 {
		parts = append(parts, w.HTML("sheet.light-stronger", "times", w.N(v.Band.Low/v.Value.Best, 1)))
	} else if v.Outcome == sheet.Outside {
		parts = append(parts, w.HTML("sheet.light-weaker"))
	}
	parts = append(parts, w.HTML("sheet.one-thing"))
	return []template.HTML{words.JoinHTML(parts), w.HTML("sheet.electricity")}
}

// trim is the window of the first cut, how to cut and how to pass it on.
func (w Papers) trim() []template.HTML {
	t := w.s.Trim
	var when template.HTML
	if !t.Known {
		when = w.HTML("sheet.trim-unknown")
	} else {
		when = w.window(t)
	}
	cut := "sheet.cut-" + wordsOf(w.s.Kind)
	if w.Units == quantity.US && w.Has(cut+"-us") {
		cut += "-us"
	}
	return []template.HTML{when, words.JoinHTML([]template.HTML{w.HTML(cut), w.HTML("sheet.pass-on")})}
}

func (w Papers) window(t sheet.Trim) template.HTML {
	basis := w.Text("sheet.basis-class")
	if !t.Guess {
		basis = w.Text("sheet.basis-counts", "n", t.N)
	}
	light := "sheet.without-light"
	if t.LightKnown {
		light = "sheet.with-light"
	}
	pairs := []any{"basis", basis, "light", w.Text(light), "co2", w.Text(w.gasCompared()), "from", w.N(t.Low, 0), "to", w.N(t.High, 0)}
	key := "sheet.trim-days"
	if t.Open {
		key = "sheet.trim-open-days"
	}
	if !t.From.IsZero() {
		key = "sheet.trim-window"
		if t.Open {
			key = "sheet.trim-open"
		}
		pairs = append([]any{"from", w.Date(t.From), "to", w.Date(t.To)}, pairs...)
	}
	return w.HTML(key, pairs...)
}

// gasCompared is the key of how their CO2 stands to the giver's.
func (w Papers) gasCompared() string {
	f := w.s.Trim.CO2Factor
	switch {
	case w.s.Parcel.Tank == nil || w.s.Parcel.Tank.CO2 == 0:
		return "sheet.co2-not-known"
	case f.Low == 1 && f.High == 1:
		return "sheet.co2-same"
	case w.s.Parcel.Tank.CO2 == 1:
		return "sheet.co2-less"
	}
	return "sheet.co2-more"
}
