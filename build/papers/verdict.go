package papers

import (
	"html/template"
	"slices"
	"strings"

	"slipleaf/build/draw"
	"slipleaf/build/livestock"
	"slipleaf/build/sheet"
	"slipleaf/build/words"
)

// class is the state of the verdict.
func (w Papers) class() string {
	switch s := w.s; {
	case s.NeverCame || s.Forbidden || s.Summary == sheet.PoorMatch || w.eaten():
		return "warn"
	case s.Summary == sheet.GoodMatch:
		return "good"
	case s.Summary == sheet.OneChange:
		return "wait"
	}
	return "soft"
}

func (w Papers) mark() template.HTML {
	return map[string]draw.Mark{"warn": draw.Out, "good": draw.In, "wait": draw.Near, "soft": draw.Unknown}[w.class()].SVG()
}

// verdict is the one sentence, before it which of their animals would eat the plant, and behind it what is not known though it
// should live.
func (w Papers) verdict() template.HTML {
	out := w.fitVerdict()
	if missing := w.unmeasured(); w.s.Planted() && w.s.Summary != sheet.CannotSay && len(missing) > 0 {
		out = w.HTML("sheet.verdict-partly", "verdict", out, "what", words.And(w.Locale, missing))
	}
	if w.eaten() {
		return w.HTML("sheet.verdict-eaten", "who", w.theirs(w.s.Animals.Eat), "rest", out)
	}
	return out
}

// eaten reports whether they keep animals that would eat it: of tough rhizome plants they leave the most, and they do not reach
// leaves in the air.
func (w Papers) eaten() bool {
	return len(w.s.Animals.Eat) > 0 && w.s.Kind.Firm() != sheet.OnRoot && w.s.Kind.Set() != sheet.InAir && w.s.Planted() && !w.s.Melt.Seed
}

// theirs names animals of theirs in the language of the sheet, each once.
func (w Papers) theirs(animals []livestock.Animal) string {
	var names []string
	for _, a := range animals {
		names = append(names, a.Called(w.Lang))
	}
	return words.Capital(words.And(w.Locale, slices.Compact(names)))
}

// fitVerdict is what their water says. It does not say that a plant should live where half of them died without saying so.
func (w Papers) fitVerdict() template.HTML {
	s := w.s
	if s.NeverCame {
		return w.HTML("sheet.verdict-never-came")
	}
	if _, _, against := s.Evidence(); against && (s.Summary == sheet.GoodMatch || s.Summary == sheet.OneChange) && !s.Forbidden {
		if s.Change.Parameter != "" {
			return w.HTML("sheet.verdict-against-change", "change", w.change(s.Change))
		}
		return w.HTML("sheet.verdict-against")
	}
	switch {
	case s.Forbidden:
		return w.HTML("sheet.verdict-forbidden")
	case s.Summary == sheet.GoodMatch && len(w.unmeasured()) > 0:
		return w.HTML("sheet.verdict-good-match-partly")
	case s.Summary == sheet.GoodMatch:
		return w.HTML("sheet.verdict-good-match")
	case s.Summary == sheet.PoorMatch:
		return w.HTML("sheet.verdict-poor-match", "why", strings.Join(w.whys(), "; "))
	case s.Summary == sheet.OneChange && s.Change.Parameter != "":
		return w.HTML("sheet.verdict-one-change", "change", w.change(s.Change))
	case s.Summary == sheet.OneChange && s.Slow == nil && s.Step.LosesCO2():
		return w.HTML("sheet.verdict-slowly-co2" + w.inAir())
	case s.Summary == sheet.OneChange && s.Step.Once:
		return w.HTML("sheet.verdict-once")
	case s.Summary == sheet.OneChange:
		return w.HTML("sheet.verdict-slowly")
	case w.s.NoProfile():
		return w.HTML("sheet.verdict-no-profile")
	}
	return w.HTML("sheet.verdict-cannot-say")
}

// unmeasured names temperature and hardness where the plant has needs and their water is not known.
func (w Papers) unmeasured() []string {
	var out []string
	for _, p := range []sheet.Parameter{sheet.Temperature, sheet.GH, sheet.KH} {
		if v := w.s.Verdicts.Of(p); v.Outcome == sheet.NotKnown && !v.NoBand {
			out = append(out, w.Text("sheet.name-"+string(p)))
		}
	}
	return out
}

// short is the verdict in a few words.
func (w Papers) short() template.HTML {
	s := w.s
	_, _, against := s.Evidence()
	switch {
	case s.NeverCame:
		return w.HTML("sheet.short-never-came")
	case s.Forbidden:
		return w.HTML("sheet.short-forbidden")
	case w.eaten():
		return w.HTML("sheet.short-eaten", "who", w.theirs(w.s.Animals.Eat))
	case against && s.Planted():
		return w.HTML("sheet.short-against")
	case s.Summary == sheet.OneChange && s.Change.Parameter != "":
		return w.HTML("sheet.short-change", "change", w.change(s.Change))
	case s.Summary == sheet.OneChange && s.Slow == nil && s.Step.LosesCO2():
		return w.HTML("sheet.short-loses-co2")
	case s.Summary == sheet.OneChange && s.Step.Once:
		return w.HTML("sheet.short-once")
	}
	return w.HTML("sheet.short-" + string(s.Summary))
}

// plainVerdict is the verdict without its tags.
func (w Papers) plainVerdict() string { return words.Plain(w.verdict()) }

// proof is how it did for others in such water, from three results on.
func (w Papers) proof() string {
	f, ok, _ := w.s.Evidence()
	if !ok || w.s.Forbidden {
		return ""
	}
	proof := w.Text("sheet.proof-"+f.Water.String(), "yes", f.Established, "n", f.Results())
	if w.s.Summary == sheet.PoorMatch && !w.s.NeverCame && len(w.s.Parcel.Together) < 2 && 2*f.Established >= f.Results() {
		return w.Text("sheet.proof-yet", "proof", proof)
	}
	return proof
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
	switch {
	case v.Parameter == sheet.CO2:
		return w.Text("sheet.why-co2")
	case v.Starves:
		return w.Text("sheet.why-starves", "ph", w.figureOf(sheet.PH, v.Value.High))
	}
	return w.Text("sheet.why-"+string(v.Parameter)+lowHigh(v.By < 0), "by", w.difference(v.Parameter, v.By))
}

func lowHigh(low bool) string {
	if low {
		return "-low"
	}
	return "-high"
}

// change says what to change, from what to what.
func (w Papers) change(c sheet.Change) string {
	if v := w.s.Verdicts.Of(c.Parameter); v.Starves {
		key := "sheet.change-starves"
		if w.s.CO2.Injected() {
			key += "-gas"
		}
		return w.Text(key, "ph", w.figureOf(sheet.PH, v.Value.High))
	}
	have, want := w.s.Wanted(c)
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

// difference prints the size of a difference; one of temperature is no temperature.
func (w Papers) difference(p sheet.Parameter, d float64) string {
	return w.Figure(p.Difference(d, w.Units).String())
}

// inAir is the ending of sentences about CO2 for a plant that grew in the air.
func (w Papers) inAir() string {
	if w.s.FromAir() {
		return "-air"
	}
	return ""
}
