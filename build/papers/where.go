package papers

import (
	"html/template"
	"math"
	"strings"

	"slipleaf/build/almanac"
	"slipleaf/build/quantity"
	"slipleaf/build/sheet"
	"slipleaf/build/words"
)

// WherePart is where and how deep.
type WherePart struct {
	Drawing template.HTML
	Lead    template.HTML // where
	Lines   []template.HTML
	Animals template.HTML // what theirs would do to it
}

// where is the place, the depth, the distance, how many fit.
func (w Papers) where() WherePart {
	s := w.s
	if s.Melt.Seed {
		return WherePart{Lead: w.HTML("sheet.where-seeds")}
	}
	pl := s.Place
	spot := string(pl.Spot)
	if s.Kind.Is(almanac.LooseLiverwort) {
		spot = "loose"
	}
	out := WherePart{Drawing: w.bedDrawing(), Lead: w.HTML("sheet.spot-"+spot, "row", w.Text("sheet.row-"+string(pl.Row)))}
	if c := s.Species.Care; c != nil {
		out.Lines = append(out.Lines, w.said(c.Place.In(w.Lang)))
	}
	if s.Kind.Rooted() {
		key := "sheet.deep"
		if s.Kind.RootsDown() {
			key = "sheet.deep-roots"
		}
		out.Lines = append(out.Lines, w.HTML(key, "depth", words.R(w.Locale, pl.Depth), "spacing", words.Q(w.Locale, pl.Spacing)))
	}
	w.when(&out.Lines, pl.Thin, "sheet.thin", "have", words.Q(w.Locale, pl.Ground))
	w.when(&out.Lines, pl.Tall, "sheet.tall")
	out.Lines = append(out.Lines, w.room()...)
	out.Animals = w.animals()
	return out
}

// room is how much they take and how many would fit.
func (w Papers) room() []template.HTML {
	pl, n := w.s.Place, w.s.Parcel.Count
	if set := w.s.Kind.Set(); set == sheet.Fixed || set == sheet.Loose || set == sheet.InAir || n == 0 {
		return nil
	}
	area := words.Q(w.Locale, pl.Area)
	out := []template.HTML{w.HTML("sheet.takes", "n", n, "area", area)}
	if help := words.AreaHelp(w.Locale); strings.Contains(area, "dm²") {
		out = append(out, words.Escape(help))
	}
	afloat := w.s.Kind.Set() == sheet.Afloat
	switch {
	case pl.Holds > 0 && pl.Holds < n && afloat:
		out = append(out, w.HTML("sheet.too-many-afloat", "n", pl.Holds))
	case pl.Floor > 0 && pl.Holds < n:
		out = append(out, w.HTML("sheet.too-many", "n", pl.Holds))
	}
	return out
}

// animals says which of theirs dig or eat, and what to do about it.
func (w Papers) animals() template.HTML {
	a := w.s.Animals
	switch {
	case w.s.Kind.Set() == sheet.InAir:
	case len(a.Eat) > 0 && w.s.Kind.Firm() == sheet.OnRoot:
		return w.HTML("sheet.animals-nibble", "who", w.theirs(a.Eat))
	case len(a.Eat) > 0:
		return w.HTML("sheet.animals-eat", "who", w.theirs(a.Eat))
	case len(a.Dig) > 0 && w.s.Kind.Rooted():
		return w.HTML("sheet.animals-dig", "who", w.theirs(a.Dig))
	}
	return ""
}

// care are the lines on water, light, CO2 and substrate.
func (w Papers) care() []Fold {
	if w.s.Melt.Seed {
		return nil
	}
	out := w.water()
	out = append(out, w.light())
	if w.s.CO2.Injected() {
		out = append(out, w.gas())
	}
	return append(out, w.ground())
}

// light is what their lamp should do.
func (w Papers) light() Fold {
	s := w.s
	f := Fold{Head: w.HTML("sheet.light-stay")}
	switch hs := s.Hours; {
	case len(hs) > 0 && s.Day0.IsZero():
		f.Head = w.HTML("sheet.light-days", "hours", w.hoursFigure(hs[0].Hours), "n", hs[1].Day)
	case len(hs) > 0:
		f.Head = w.HTML("sheet.light-until", "hours", w.hoursFigure(hs[0].Hours), "date", w.DayMonth(s.Day0.Add(hs[1].Day)))
	case s.Light.Hours > 0:
		f.Head = w.HTML("sheet.light-stay-hours", "hours", w.hoursFigure(s.Light.Hours))
	}
	if hs := s.Hours; len(hs) > 0 {
		f.Body = append(f.Body, w.HTML("sheet.light-rise"+w.inAir(), "hours", w.hoursFigure(hs[len(hs)-1].Hours)))
	} else {
		f.Body = append(f.Body, w.HTML("sheet.light-new-tank"))
	}
	v := s.Verdicts.Of(sheet.LightAt)
	if v.Outcome == sheet.Outside && len(s.Hours) > 0 { // the hours give up the heading
		f.Body = append([]template.HTML{f.Head}, f.Body...)
	}
	switch {
	case v.Outcome == sheet.Outside && v.By < 0 && v.Value.Best > 0:
		f.Head = w.HTML("sheet.light-stronger-head")
		f.Body = append(f.Body, w.HTML("sheet.light-stronger", "times", w.N(v.Band.Low/v.Value.Best, 1)))
	case v.Outcome == sheet.Outside:
		f.Head = w.HTML("sheet.light-weaker-head")
		f.Body = append(f.Body, w.HTML("sheet.light-weaker"))
	case s.Step.LightRatio > 2:
		f.Body = append(f.Body, w.HTML("sheet.light-more", "times", w.N(s.Step.LightRatio, 1)))
	case s.Step.LightRatio > 0 && s.Step.LightRatio < 0.5:
		f.Body = append(f.Body, w.HTML("sheet.light-less", "times", w.N(s.Step.LightRatio*100, 0)))
	}
	f.Body = append(f.Body, w.HTML("sheet.one-thing"))
	return f
}

// ground is what it needs in the bottom.
func (w Papers) ground() Fold {
	t := w.s.Tabs
	switch {
	case !w.s.Kind.Rooted():
		return Fold{Head: w.HTML("sheet.ground-none"), Body: []template.HTML{w.HTML("sheet.ground-none-why")}}
	case !t.Needed && w.s.Misses(sheet.NoSubstrate):
		return Fold{Head: w.HTML("sheet.ground-any"), Body: []template.HTML{w.HTML("sheet.ground-fine-why")}}
	case !t.Needed:
		return Fold{Head: w.HTML("sheet.ground-fine"), Body: []template.HTML{w.HTML("sheet.ground-fine-why")}}
	}
	f := Fold{Head: w.HTML("sheet.ground-tabs", "n", t.Number)}
	if t.Maybe {
		f.Head = w.HTML("sheet.ground-tabs-maybe", "n", t.Number)
	}
	if t.First.IsZero() {
		f.Body = []template.HTML{w.HTML("sheet.tabs-days", "n", t.Number)}
	} else {
		f.Body = []template.HTML{w.HTML("sheet.tabs", "n", t.Number, "first", w.DayMonth(t.First), "again", w.DayMonth(t.Again))}
	}
	return f
}

// gas is what to do about CO2 where it is added.
func (w Papers) gas() Fold {
	c := w.s.CO2
	f := Fold{ID: w.anchor("co2"), Head: w.HTML("sheet.gas-" + string(c.Gas))}
	if c.Checker {
		f.Head = w.HTML("sheet.gas-checker")
	}
	fine := func(v quantity.Concentration) string { return w.N(float64(v), c.Now.Places()) }
	w.when(&f.Body, c.Now.Best > 0, "sheet.gas-now", "ph", words.R(w.Locale, w.s.Parcel.Water.PH), "low", fine(c.Now.Low), "high", fine(c.Now.High))
	w.when(&f.Body, c.PH.Best > 0 && c.Gas != sheet.GasKeep, "sheet.gas-target", "want", words.Q(w.Locale, c.Want), "ph", w.N(float64(c.PH.Best), 1), "low", w.N(float64(c.PH.Low), 1), "high", w.N(float64(c.PH.High), 1))
	w.when(&f.Body, c.Checker, "sheet.gas-checker-how")
	w.when(&f.Body, c.Now.Best > 0 || c.PH.Best > 0, "sheet.co2-carbonate")
	f.Body = append(f.Body, w.HTML("sheet.co2-caution"))
	return f
}

// wherePoor is what to do with a plant that does not suit.
func (w Papers) wherePoor() Fold {
	f := Fold{Head: w.HTML("sheet.poor-head"), Body: []template.HTML{w.HTML("sheet.water-poor")}}
	w.when(&f.Body, w.softened(), "sheet.softener")
	return f
}

// softened reports whether their water lacks hardness that its KH would have along with it: a softener puts sodium in its place.
func (w Papers) softened() bool {
	gh, kh := w.s.Verdicts.Of(sheet.GH), w.s.Verdicts.Of(sheet.KH).Value
	return gh.Outcome == sheet.Outside && gh.By < 0 && kh.Known && kh.Best > gh.Value.Best+2
}

// DoseLine is a mass and what it is of.
type DoseLine struct{ Mass, What string }

// water is what to add, or that nothing is to be added.
func (w Papers) water() []Fold {
	p := w.s.Water
	var out []Fold
	if b := p.Blend; b != nil {
		name := w.Text("sheet.name-" + string(b.Of))
		f := Fold{ID: w.anchor("water"), Head: w.HTML("sheet.blend-head", "name", name, "want", w.figureOf(b.Of, b.Want)), Body: []template.HTML{w.HTML("sheet.blend-step", "share", words.Percent(w.Locale, b.Each), "volume", w.inBrackets(b.Volume), "n", b.Steps),
			w.HTML("sheet.blend", "soft", words.Percent(w.Locale, float64(b.Soft)), "tap", words.Percent(w.Locale, float64(b.Tap)), "name", name, "want", w.figureOf(b.Of, b.Want))}}
		other, falls := sheet.GH, b.GH
		if b.Of == sheet.GH {
			other, falls = sheet.KH, b.KH
		}
		w.when(&f.Body, falls > 0, "sheet.blend-other", "name", w.Text("sheet.name-"+string(other)), "to", w.figureOf(other, falls))
		f.Body = append(f.Body, w.HTML("sheet.leave-out"))
		out = append(out, f)
	}
	if v := w.s.Verdicts.Of(sheet.Temperature); v.Outcome == sheet.Outside {
		out = append(out, Fold{ID: w.anchor("water"), Head: w.HTML("sheet.temperature-head" + lowHigh(v.By < 0)), Body: []template.HTML{w.HTML("sheet.temperature" + lowHigh(v.By < 0))}})
	}
	if p.GH != nil {
		out = append(out, w.raise("gh", sheet.GH, p.GH))
	}
	if p.KH != nil {
		out = append(out, w.raise("kh", sheet.KH, p.KH))
	}
	if len(out) > 0 {
		for i := range out[1:] {
			out[i+1].ID = "" // a link leads to the first
		}
		return out
	}
	volume, head := w.inBrackets(p.Change), "sheet.water-fine"
	if w.s.Verdicts.Of(sheet.GH).Outcome == sheet.NotKnown && w.s.Verdicts.Of(sheet.KH).Outcome == sheet.NotKnown {
		head = "sheet.water-not-known"
	}
	return []Fold{{Head: w.HTML(head), Body: []template.HTML{w.HTML("sheet.water-fine-why", "volume", volume), w.HTML("sheet.leave-out-ph")}}}
}

// inBrackets is a volume to stand behind a share; "" when it is not known.
func (w Papers) inBrackets(v quantity.Volume) string {
	if v <= 0 {
		return ""
	}
	return w.Text("sheet.water-volume", "volume", w.bucket(v))
}

// bucket is a volume of water as it is carried: in whole litres or half gallons once there are some of them.
func (w Papers) bucket(v quantity.Volume) string {
	step := quantity.Volume(1)
	if w.Units == quantity.US {
		step = quantity.USGallon / 2
	}
	if v > 4*step {
		v = quantity.Volume(math.Round(float64(v/step))) * step
	}
	return words.Q(w.Locale, v)
}

func (w Papers) raise(key string, p sheet.Parameter, r *sheet.Raise) Fold {
	volume := w.Text("sheet.per-ten")
	if w.s.Water.Volume.Best > 0 {
		volume = words.Q(w.Locale, w.s.Water.Per)
	}
	refill, scale := sheet.Refilled, 1.0
	if w.Units == quantity.US {
		refill, scale = 2*quantity.USGallon, float64(2*quantity.USGallon)/float64(sheet.Refilled)
	}
	var all, each []string
	f := Fold{ID: w.anchor("water")}
	for _, d := range r.Doses {
		what := w.Text("sheet.dose", "salt", w.Text("sheet.salt-"+d.Salt.Name), "daily", w.grams(d.Daily))
		if r.Days == 1 {
			what = w.Text("sheet.dose-once", "salt", w.Text("sheet.salt-"+d.Salt.Name))
		}
		f.Doses = append(f.Doses, DoseLine{w.grams(d.Mass), what})
		part := func(m quantity.Mass) string {
			return w.Text("sheet.refill-part", "mass", w.grams(m), "salt", w.Text("sheet.short-"+d.Salt.Name))
		}
		all, each = append(all, part(d.Mass)), append(each, part(d.Refill*quantity.Mass(scale)))
	}
	f.Head = w.HTML("sheet."+key+"-salts", "what", words.And(w.Locale, all))
	f.Body = []template.HTML{w.HTML("sheet."+key+"-raise", "volume", volume, "from", w.plainFigure(p, r.From), "to", w.figureOf(p, r.To), "parts", w.parts(r.Days))}
	f.After = []template.HTML{w.HTML("sheet.refill", "volume", words.Q(w.Locale, refill), "what", words.And(w.Locale, each)), w.HTML("sheet.pure")}
	w.when(&f.After, p == sheet.GH && w.softened(), "sheet.softener")
	w.when(&f.After, p == sheet.GH, "sheet.leave-out")
	return f
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
	return w.Text("sheet.parts-dates", "n", days, "window", w.Dates(w.s.Day0.Add(1), w.s.Day0.Add(days)))
}
