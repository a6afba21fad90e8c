package papers

import (
	"html/template"
	"strings"

	"slipleaf/build/quantity"
	"slipleaf/build/sheet"
	"slipleaf/build/words"
)

// WaterBlock is one thing to do to the water.
type WaterBlock struct {
	Lead  template.HTML
	Doses []DoseLine
	After []template.HTML
}

// DoseLine is a mass and what it is of.
type DoseLine struct{ Mass, What string }

// water is what to add, or that nothing is to be added.
func (w Papers) water() []WaterBlock {
	p := w.s.Water
	if w.s.Summary == sheet.PoorMatch {
		return []WaterBlock{{Lead: w.HTML("sheet.water-poor")}}
	}
	var out []WaterBlock
	if p.Blend != nil {
		b := WaterBlock{Lead: w.HTML("sheet.blend", "soft", words.Percent(w.Locale, float64(p.Blend.Soft)), "tap", words.Percent(w.Locale, float64(p.Blend.Tap)),
			"want", w.figureOf(sheet.KH, p.Blend.Want), "n", p.Blend.Steps)}
		if p.Blend.GH > 0 {
			b.After = append(b.After, w.HTML("sheet.blend-gh", "gh", w.figureOf(sheet.GH, p.Blend.GH)))
		}
		out = append(out, b)
	}
	if v := w.verdictOn(sheet.Temperature); v.Outcome == sheet.Outside {
		out = append(out, WaterBlock{Lead: w.HTML("sheet.temperature" + lowHigh(v.By < 0))})
	}
	if v := w.verdictOn(sheet.GH); v.Outcome == sheet.Outside && v.By > 0 && p.Blend == nil {
		out = append(out, WaterBlock{Lead: w.HTML("sheet.soft-for-gh")})
	}
	if p.GH != nil {
		out = append(out, w.raise("sheet.gh-raise", sheet.GH, p.GH))
	}
	if p.KH != nil {
		out = append(out, w.raise("sheet.kh-raise", sheet.KH, p.KH))
	}
	if len(out) > 0 {
		return out
	}
	if w.s.Summary == sheet.CannotSay {
		return []WaterBlock{{Lead: w.HTML("sheet.water-no-say")}}
	}
	volume := ""
	if p.Change > 0 {
		volume = w.Text("sheet.water-volume", "volume", words.Q(w.Locale, p.Change))
	}
	return []WaterBlock{{Lead: w.HTML("sheet.water-fine", "volume", volume)}}
}

func (w Papers) verdictOn(p sheet.Parameter) sheet.Verdict { return w.s.Verdicts.Of(p) }

func (w Papers) raise(key string, p sheet.Parameter, r *sheet.Raise) WaterBlock {
	volume := w.Text("sheet.per-ten")
	if w.s.Water.Volume.Best > 0 {
		volume = words.Q(w.Locale, w.s.Water.Per)
	}
	b := WaterBlock{Lead: w.HTML(key, "volume", volume, "from", w.plainFigure(p, r.From), "to", w.figureOf(p, r.To), "parts", w.parts(r.Days))}
	refill := quantity.Volume(sheet.Refilled)
	scale := 1.0
	if w.Units == quantity.US {
		refill, scale = 2*quantity.USGallon, float64(2*quantity.USGallon)/float64(sheet.Refilled)
	}
	var each []string
	for _, d := range r.Doses {
		what := w.Text("sheet.dose", "salt", w.Text("sheet.salt-"+d.Salt.Name), "daily", w.grams(d.Daily))
		if r.Days == 1 {
			what = w.Text("sheet.dose-once", "salt", w.Text("sheet.salt-"+d.Salt.Name))
		}
		b.Doses = append(b.Doses, DoseLine{w.grams(d.Mass), what})
		each = append(each, w.Text("sheet.refill-part", "mass", w.grams(d.Refill*quantity.Mass(scale)), "salt", w.Text("sheet.short-"+d.Salt.Name)))
	}
	b.After = []template.HTML{w.HTML("sheet.refill", "volume", words.Q(w.Locale, refill), "what", strings.Join(each, ", ")), w.HTML("sheet.pure")}
	if kh := w.verdictOn(sheet.KH); p == sheet.GH && kh.Outcome != sheet.NotKnown && kh.Value.Best > r.From+2 {
		b.After = append(b.After, w.HTML("sheet.softener"))
	}
	return b
}

// grams prints a dose as finely as a kitchen or pocket scale shows it: tenths of a gram, hundredths below one.
func (w Papers) grams(m quantity.Mass) string {
	places := 1
	if m < 1 {
		places = 2
	}
	return w.N(float64(m), places) + "\u00a0g"
}

// parts says over how many days a rise is spread, with the dates where they are known: from the day after arrival on.
func (w Papers) parts(days int) string {
	switch {
	case days == 1:
		return w.Text("sheet.parts-once")
	case w.s.Day0.IsZero():
		return w.Text("sheet.parts", "n", days)
	}
	window := w.Dates(w.s.Day0.Add(1), w.s.Day0.Add(days))
	if days <= 3 {
		return w.Text("sheet.parts-"+w.N(float64(days), 0), "window", window)
	}
	return w.Text("sheet.parts-dates", "n", days, "window", window)
}

// leave is what not to add.
func (w Papers) leave() template.HTML {
	p := w.s.Water
	key := "sheet.leave-out-ph"
	if p.GH != nil && p.KH == nil || p.Blend != nil {
		key = "sheet.leave-out"
	}
	if p.GH == nil && p.KH == nil && p.Blend == nil {
		return w.HTML(key)
	}
	return words.JoinHTML([]template.HTML{w.HTML(key), w.HTML("sheet.small-steps")})
}

// gas is the target where CO2 is added.
func (w Papers) gas() []template.HTML {
	c := w.s.CO2
	switch {
	case !c.Injected():
		return nil
	case c.Gas == sheet.GasAsk:
		return []template.HTML{w.HTML("sheet.co2-unknown"), w.HTML("sheet.co2-caution")}
	}
	return []template.HTML{words.JoinHTML([]template.HTML{w.HTML("sheet.co2-target", "want", words.Q(w.Locale, c.Want), "ph", w.N(float64(c.PH.Best), 1), "low", w.N(float64(c.PH.Low), 1), "high", w.N(float64(c.PH.High), 1)),
		w.HTML("sheet.co2-carbonate")}), w.HTML("sheet.co2-caution")}
}
