package page

import (
	"html/template"
	"math"
	"strings"

	"slipleaf/build/quantity"
	"slipleaf/build/sheet"
)

// step says how far the water changes and how much melt to expect.
func (w sheetWriter) step() []template.HTML {
	s := w.s
	class := s.Step.Class.String()
	if s.Step.Class == sheet.VeryLargeStep && s.Step.Worst.Parameter == sheet.CO2 {
		class = "large"
	}
	parts := []template.HTML{w.Say("sheet.step-class-" + class)}
	for _, p := range s.Step.Parts {
		if line := w.stepPart(p); line != "" {
			parts = append(parts, line)
		}
	}
	if s.Step.Raised {
		parts = append(parts, w.Say("sheet.step-raised"))
	}
	switch r := s.Step.LightRatio; {
	case r > 0 && r < 0.5:
		parts = append(parts, w.Say("sheet.step-light-less", "times", w.N(r*100, 0)+"\u00a0%"))
	case r > 2:
		parts = append(parts, w.Say("sheet.step-light-more", "times", w.N(r, 1)))
	}
	return []template.HTML{sentences(parts), sentences(w.melt())}
}

func (w sheetWriter) stepPart(p sheet.Part) template.HTML {
	if p.Parameter == sheet.CO2 {
		if p.Class == sheet.LargeStep {
			return w.Say("sheet.step-co2-large" + w.inAir())
		}
		return ""
	}
	if p.Class == sheet.UnknownStep {
		return ""
	}
	name := capital(w.Text("sheet.name-" + string(p.Parameter)))
	by := w.difference(p.Parameter, p.Change)
	switch {
	case math.Abs(p.Change) < noise[p.Parameter]:
		return "" // no change is no news
	case p.Change > 0:
		return w.Say("sheet.step-up", "name", name, "by", by)
	}
	return w.Say("sheet.step-down", "name", name, "by", by)
}

// noise is what nobody need be told of: a third or a half of what tests and thermometers are good to.
var noise = map[sheet.Parameter]float64{sheet.Temperature: 1, sheet.GH: 1, sheet.KH: 0.5}

func (w sheetWriter) melt() []template.HTML {
	s := w.s
	if s.Melt.Seed {
		return []template.HTML{w.Say("sheet.melt-seed")}
	}
	out := []template.HTML{w.Say("sheet.melt-" + w.N(float64(s.Melt.Level), 0))}
	if s.Melt.Air {
		out = append(out, w.Say("sheet.melt-air"))
	}
	out = append(out, w.Say("sheet.melt-course-"+string(s.Kind)))
	if s.Day0.IsZero() {
		return append(out, w.Say("sheet.melt-judge-day", "n", s.Melt.Judge))
	}
	return append(out, w.Say("sheet.melt-judge", "date", w.Date(s.Day0.Add(s.Melt.Judge))))
}

// sentences joins finished sentences.
func sentences(parts []template.HTML) template.HTML {
	var b strings.Builder
	for i, p := range parts {
		if i > 0 {
			b.WriteByte(' ')
		}
		b.WriteString(string(p))
	}
	return template.HTML(b.String())
}

func (w sheetWriter) test() template.HTML {
	return w.Say("sheet.test", "test", capital(w.Text("sheet.firm-"+string(w.s.Kind))))
}

// before is quarantine: what was seen, what was done, what is left to do.
func (w sheetWriter) before() []template.HTML {
	s := w.s
	known := []template.HTML{w.Say("sheet.seen-nothing")}
	if s.Lot.Pests != "" {
		known[0] = w.Say("sheet.seen", "what", s.Lot.Pests)
	}
	if s.Lot.Dips != "" {
		known = append(known, w.Say("sheet.dips", "what", s.Lot.Dips))
	} else {
		known = append(known, w.Say("sheet.no-dips"))
	}
	if s.Lot.Copper != "" {
		known = append(known, w.Say("sheet.copper", "what", s.Lot.Copper))
		if s.Lot.Copper != "none" {
			known = append(known, w.Say("sheet.copper-shrimp"))
		}
	}
	left := w.Say("sheet.left-to-do-days", "n", s.Quarantine)
	if !s.Day0.IsZero() {
		left = w.Say("sheet.left-to-do", "n", s.Quarantine, "date", w.DayMonth(s.Day0.Add(s.Quarantine)))
	}
	return []template.HTML{sentences(known), left, w.Say("sheet.dip-caution")}
}

// where is the place, the depth, the distance, how many fit, the ground and root food.
func (w sheetWriter) where() []template.HTML {
	s := w.s
	pl := s.Place
	if s.Melt.Seed {
		return []template.HTML{w.Say("sheet.where-seeds")}
	}
	first := []template.HTML{w.Say("sheet.spot-"+pl.Spot, "row", w.Text("sheet.row-"+string(pl.Row)))}
	first = append(first, w.Say("sheet.how-"+string(s.Kind), "depth", R(w.Voice, pl.Depth), "spacing", Q(w.Voice, pl.Spacing)))
	if pl.Usual && s.Kind != sheet.Moss && s.Kind != sheet.Floating {
		first = append(first, w.Say("sheet.usual-spacing"))
	}
	if pl.Tall {
		first = append(first, w.Say("sheet.tall"))
	}
	room := []template.HTML{w.Say("sheet.takes", "n", s.Parcel.Count, "area", Q(w.Voice, pl.Area))}
	if s.Kind != sheet.Moss && pl.Holds > 0 && s.Parcel.Count > 0 {
		key := "sheet.holds"
		if pl.Row == sheet.Surface && s.Kind == sheet.Floating {
			key = "sheet.holds-surface"
		}
		room = append(room, w.Say(key, "n", pl.Holds))
	}
	out := []template.HTML{sentences(first), sentences(room)}
	return append(out, w.ground()...)
}

// ground is what it needs in the bottom.
func (w sheetWriter) ground() []template.HTML {
	t := w.s.Tabs
	switch {
	case !w.s.Kind.Rooted():
		return []template.HTML{w.Say("sheet.soil-none")}
	case !t.Needed:
		return nil
	}
	var parts []template.HTML
	if t.Maybe {
		parts = append(parts, w.Say("sheet.tabs-maybe"))
	} else {
		parts = append(parts, w.Say("sheet.no-soil"))
	}
	if t.First.IsZero() {
		parts = append(parts, w.Say("sheet.tabs-days", "n", t.Number))
	} else {
		parts = append(parts, w.Say("sheet.tabs", "n", t.Number, "first", w.DayMonth(t.First), "again", w.DayMonth(t.Again)))
	}
	return []template.HTML{sentences(parts)}
}

// depths is the light by depth.
func (w sheetWriter) depths() []string {
	var out []string
	for _, row := range w.s.Light.Rows {
		if row.Flux.Best > 0 && w.s.Light.Known {
			out = append(out, w.Text("sheet.light-at", "row", capital(w.Text("sheet.row-"+string(row.Row))), "range", QRange(w.Voice, row.Flux.Low, row.Flux.High)))
		}
	}
	return out
}

// hours is the course of light in the first weeks.
func (w sheetWriter) hours() []template.HTML {
	hs, day0 := w.s.Hours, w.s.Day0
	first, last := hs[0], hs[len(hs)-1]
	var parts []template.HTML
	if len(hs) == 1 {
		parts = append(parts, w.Say("sheet.hours-stay"))
	} else if day0.IsZero() {
		parts = append(parts, w.Say("sheet.hours-first-days", "hours", w.hoursFigure(first.Hours), "n", hs[1].Day),
			w.Say("sheet.hours-rise-days", "hours", w.hoursFigure(last.Hours), "n", last.Day))
	} else {
		parts = append(parts, w.Say("sheet.hours-first", "hours", w.hoursFigure(first.Hours), "date", w.DayMonth(day0.Add(hs[1].Day))),
			w.Say("sheet.hours-rise", "hours", w.hoursFigure(last.Hours), "date", w.DayMonth(day0.Add(last.Day))))
	}
	if v := w.verdictOn(sheet.LightAt); v.Outcome == sheet.Outside && v.By < 0 && v.Value.Best > 0 {
		parts = append(parts, w.Say("sheet.light-stronger", "times", w.N(v.Band.Low/v.Value.Best, 1)))
	} else if v.Outcome == sheet.Outside {
		parts = append(parts, w.Say("sheet.light-weaker"))
	}
	parts = append(parts, w.Say("sheet.one-thing"))
	return []template.HTML{sentences(parts), w.Say("sheet.electricity")}
}

// WaterBlock is one thing to do to the water.
type WaterBlock struct {
	Lead  template.HTML
	Doses []DoseLine
	After []template.HTML
}

// DoseLine is a mass and what it is of.
type DoseLine struct{ Mass, What string }

// water is what to add, or that nothing is to be added.
func (w sheetWriter) water() []WaterBlock {
	p := w.s.Water
	if w.s.Summary == sheet.PoorMatch {
		return []WaterBlock{{Lead: w.Say("sheet.water-poor")}}
	}
	var out []WaterBlock
	if p.Blend != nil {
		b := WaterBlock{Lead: w.Say("sheet.blend", "soft", percent(w.Voice, float64(p.Blend.Soft)), "tap", percent(w.Voice, float64(p.Blend.Tap)),
			"want", w.figureOf(sheet.KH, p.Blend.Want), "n", p.Blend.Steps)}
		if p.Blend.GH > 0 {
			b.After = append(b.After, w.Say("sheet.blend-gh", "gh", w.figureOf(sheet.GH, p.Blend.GH)))
		}
		out = append(out, b)
	}
	if v := w.verdictOn(sheet.Temperature); v.Outcome == sheet.Outside {
		out = append(out, WaterBlock{Lead: w.Say("sheet.temperature" + lowHigh(v.By < 0))})
	}
	if v := w.verdictOn(sheet.GH); v.Outcome == sheet.Outside && v.By > 0 && p.Blend == nil {
		out = append(out, WaterBlock{Lead: w.Say("sheet.soft-for-gh")})
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
		return []WaterBlock{{Lead: w.Say("sheet.water-no-say")}}
	}
	volume := ""
	if p.Change > 0 {
		volume = w.Text("sheet.water-volume", "volume", Q(w.Voice, p.Change))
	}
	return []WaterBlock{{Lead: w.Say("sheet.water-fine", "volume", volume)}}
}

func (w sheetWriter) verdictOn(p sheet.Parameter) sheet.Verdict {
	for _, v := range w.s.Verdicts {
		if v.Parameter == p {
			return v
		}
	}
	return sheet.Verdict{}
}

func (w sheetWriter) raise(key string, p sheet.Parameter, r *sheet.Raise) WaterBlock {
	volume := w.Text("sheet.per-ten")
	if w.s.Water.Volume.Best > 0 {
		volume = Q(w.Voice, w.s.Water.Per)
	}
	b := WaterBlock{Lead: w.Say(key, "volume", volume, "from", w.plainFigure(p, r.From), "to", w.figureOf(p, r.To), "parts", w.parts(r.Days))}
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
	b.After = []template.HTML{w.Say("sheet.refill", "volume", Q(w.Voice, refill), "what", strings.Join(each, ", ")), w.Say("sheet.pure")}
	if kh := w.verdictOn(sheet.KH); p == sheet.GH && kh.Outcome != sheet.NotKnown && kh.Value.Best > r.From+2 {
		b.After = append(b.After, w.Say("sheet.softener"))
	}
	return b
}

// grams prints a dose as finely as a kitchen or pocket scale shows it: tenths of a gram, hundredths below one.
func (w sheetWriter) grams(m quantity.Mass) string {
	places := 1
	if m < 1 {
		places = 2
	}
	return w.N(float64(m), places) + "\u00a0g"
}

// parts says over how many days a rise is spread, with the dates where they are known: from the day after arrival on.
func (w sheetWriter) parts(days int) string {
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
func (w sheetWriter) leave() template.HTML {
	p := w.s.Water
	key := "sheet.leave-out-ph"
	if p.GH != nil && p.KH == nil || p.Blend != nil {
		key = "sheet.leave-out"
	}
	if p.GH == nil && p.KH == nil && p.Blend == nil {
		return w.Say(key)
	}
	return sentences([]template.HTML{w.Say(key), w.Say("sheet.small-steps")})
}

// gas is the target where CO2 is added.
func (w sheetWriter) gas() []template.HTML {
	c := w.s.CO2
	switch {
	case !c.Injected:
		return nil
	case !c.Known:
		return []template.HTML{w.Say("sheet.co2-unknown"), w.Say("sheet.co2-caution")}
	}
	return []template.HTML{sentences([]template.HTML{w.Say("sheet.co2-target", "want", Q(w.Voice, c.Want), "ph", w.N(float64(c.PH.Best), 1), "low", w.N(float64(c.PH.Low), 1), "high", w.N(float64(c.PH.High), 1)),
		w.Say("sheet.co2-carbonate")}), w.Say("sheet.co2-caution")}
}

// trim is the window of the first cut, how to cut and how to pass it on.
func (w sheetWriter) trim() []template.HTML {
	t := w.s.Trim
	var when template.HTML
	if !t.Known {
		when = w.Say("sheet.trim-unknown")
	} else {
		when = w.window(t)
	}
	cut := "sheet.cut-" + string(w.s.Kind)
	if w.Units == quantity.US && w.Has(cut+"-us") {
		cut += "-us"
	}
	return []template.HTML{when, sentences([]template.HTML{w.Say(cut), w.Say("sheet.pass-on")})}
}

func (w sheetWriter) window(t sheet.Trim) template.HTML {
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
	return w.Say(key, pairs...)
}

// gasCompared is the key of how their CO2 stands to the giver's.
func (w sheetWriter) gasCompared() string {
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
