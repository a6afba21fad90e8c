package papers

import (
	"html/template"
	"slices"
	"strings"

	"slipleaf/build/quantity"
	"slipleaf/build/sheet"
	"slipleaf/build/words"
)

// when adds a line where it holds.
func (w Papers) when(to *[]template.HTML, holds bool, key string, pairs ...any) {
	if holds {
		*to = append(*to, w.HTML(key, pairs...))
	}
}

// never is what holds for every plant.
func (w Papers) never() template.HTML { return w.HTML("sheet.never") }

// later are the lines for later and for the record: of several plants each its own trim and contents, the rest once.
func (w Papers) later() []Fold {
	var out []Fold
	for _, one := range w.plants() {
		own := []Fold{one.contentsFold(), one.meltFold()}
		if one.s.Planted() && !one.s.Melt.Seed {
			own = append([]Fold{one.trimFold()}, own...)
		}
		for _, f := range own {
			if len(w.rest) > 0 && f.Head != "" {
				f.Head = w.HTML("sheet.of-plant", "plant", one.called(), "what", f.Head)
			}
			if f.Head != "" {
				out = append(out, f)
			}
		}
	}
	return append(out, w.lawFold(), w.safetyFold(), w.workedFold())
}

// trimFold is the window of the first trim, how to cut and how to pass it on.
func (w Papers) trimFold() Fold {
	t := w.s.Trim
	f := Fold{Head: w.HTML("sheet.trim-unknown-head"), Body: []template.HTML{w.HTML("sheet.trim-unknown")}}
	if t.Known {
		f.Head, f.Body = w.trimHead(t), []template.HTML{w.trimBasis(t)}
	}
	if c := w.s.Species.Care; c != nil {
		f.Body = append(f.Body, w.said(c.Trim.In(w.Lang)), w.said(c.Propagate.In(w.Lang)), w.said(c.Never.In(w.Lang)))
	}
	f.Body = append(f.Body, w.HTML("sheet.pass-on"))
	return f
}

func (w Papers) trimHead(t sheet.Trim) template.HTML {
	switch {
	case t.From.IsZero() && t.Open:
		return w.HTML("sheet.trim-open-days", "from", w.N(t.Low, 0))
	case t.From.IsZero():
		return w.HTML("sheet.trim-days", "from", w.N(t.Low, 0), "to", w.N(t.High, 0))
	case t.Open:
		return w.HTML("sheet.trim-open", "from", w.Date(t.From))
	}
	return w.HTML("sheet.trim-window", "window", w.Dates(t.From, t.To))
}

func (w Papers) trimBasis(t sheet.Trim) template.HTML {
	basis, light := w.Text("sheet.basis-class"), "sheet.without-light"
	if !t.Guess {
		basis = w.Text("sheet.basis-counts", "n", t.N)
	}
	if t.LightKnown {
		light = "sheet.with-light"
	}
	return w.HTML("sheet.trim-basis", "basis", basis, "light", w.Text(light), "co2", w.Text(w.gasCompared()))
}

// gasCompared is the key of how their CO2 compares with the giver's.
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

func (w Papers) contentsFold() Fold {
	key := "sheet.came"
	if w.s.Parcel.Sent.IsZero() {
		key = "sheet.came-will"
	}
	what, of := w.whatWhen(), w.s.Parcel
	if len(of.Together) > 1 { // the day is the heading of all of them
		what = w.what()
	}
	f := Fold{Head: w.HTML(key, "what", what), Terms: w.contents()}
	if of.First() {
		f.Body = []template.HTML{w.HTML("sheet.seen-caution"), w.HTML("sheet.dip-caution")}
	}
	return f
}

// meltFold is how far the water changes and how much melt to expect.
func (w Papers) meltFold() Fold {
	s := w.s
	if !s.Planted() || s.Melt.Seed {
		return Fold{}
	}
	f := Fold{Head: w.HTML("sheet.melt-" + w.N(float64(s.Melt.Level), 0))}
	parts := []template.HTML{w.HTML("sheet.step-class-" + s.Step.Class.String())}
	for _, p := range s.Step.Parts {
		parts = append(parts, w.stepPart(p)...)
	}
	w.when(&parts, s.Step.Raised, "sheet.step-raised")
	f.Body = append(f.Body, words.JoinHTML(parts))
	if note, _ := s.Species.Say("conversion-note", w.Lang); s.Melt.Air && s.Grown == "emersed" && note != "" {
		f.Body = append(f.Body, w.said(note))
	} else {
		w.when(&f.Body, s.Melt.Air, "sheet.melt-air")
	}
	if s.Day0.IsZero() {
		f.Body = append(f.Body, w.HTML("sheet.melt-judge-day", "n", s.Melt.Judge))
	} else {
		f.Body = append(f.Body, w.HTML("sheet.melt-judge", "date", w.Date(s.Day0.Add(s.Melt.Judge))))
	}
	return f
}

func (w Papers) stepPart(p sheet.Part) []template.HTML {
	switch {
	case p.Parameter == sheet.CO2 && p.Class == sheet.LargeStep:
		return []template.HTML{w.HTML("sheet.step-co2-large" + w.inAir())}
	case p.Class == sheet.UnknownStep, p.Parameter == sheet.CO2, max(p.Change, -p.Change) < p.Parameter.Noise():
		return nil // no change is no news
	}
	key := "sheet.step-up"
	if p.Change < 0 {
		key = "sheet.step-down"
	}
	return []template.HTML{w.HTML(key, "name", words.Capital(w.Text("sheet.name-"+string(p.Parameter))), "by", w.difference(p.Parameter, p.Change))}
}

// LawRow is what a list says.
type LawRow struct {
	Text   template.HTML
	Source string // address; "" when there is none to show
	Firm   bool
}

// named are the rows of lists that name the plant where they live, the weightiest first.
func (w Papers) named() []LawRow {
	s := w.s
	if s.Parcel.Region == "" {
		return nil
	}
	var out []LawRow
	for _, firm := range []bool{true, false} {
		for _, n := range s.Notices {
			if n.Firm() != firm {
				continue
			}
			out = append(out, LawRow{words.Law(w.Locale, n, w.regionName(s.Parcel.Region)), words.FirstLink(n.Source), firm})
		}
	}
	return out
}

// lawFold says which lists were looked at, and which were not: a list that is not held says nothing.
func (w Papers) lawFold() Fold {
	s, region := w.s, w.s.Parcel.Region
	f := Fold{ID: "lists", Body: []template.HTML{w.HTML("sheet.law-change")}}
	var lists []template.HTML
	name := w.regionName(region)
	named := slices.ContainsFunc(w.plants(), func(one Papers) bool { return len(one.s.Notices) > 0 })
	switch {
	case region == "" && !named:
		f.Head = w.HTML("sheet.law-anywhere-head")
		lists = append(lists, w.HTML("sheet.law-none-anywhere", "date", w.Date(s.Lists)))
	case region == "":
		f.Head = w.HTML("sheet.law-somewhere-head")
		lists = append(lists, w.HTML("sheet.law-somewhere", "places", w.places()))
	case len(s.Looked) == 0:
		f.Head = w.HTML("sheet.law-not-held-head", "region", name)
		lists = append(lists, w.HTML("sheet.law-not-held", "region", name))
	default:
		switch {
		case named:
			f.Head = w.HTML("sheet.law-named-head")
		case s.ReadWhole():
			f.Head = w.HTML("sheet.law-looked-head", "n", len(s.Looked))
		default:
			f.Head = w.HTML("sheet.law-part-head", "region", name)
		}
		lists = append(lists, w.HTML("sheet.law-looked", "lists", words.ListNames(w.Locale, s.Looked), "date", w.Date(s.Lists)))
		if !s.OwnList {
			if !named {
				f.Head = w.HTML("sheet.law-own-missing-head", "region", name)
			}
			lists = append(lists, w.HTML("sheet.law-not-held", "region", name))
		}
	}
	if region != "" {
		for _, c := range s.Coverage {
			lists = append(lists, words.Coverage(w.Locale, c, c.Age(w.s.Lists)))
		}
	}
	w.when(&lists, named, "sheet.law-keep")
	for _, rule := range s.Borders {
		lists = append(lists, words.Escape(rule.In(w.Lang)))
	}
	f.Body = append(lists, f.Body...)
	return f
}

// places are where lists name one of the plants.
func (w Papers) places() template.HTML {
	var out []string
	for _, one := range w.plants() {
		for _, n := range one.s.Notices {
			if name := string(words.PlaceName(w.Locale, n.Jurisdiction, n.Place)); !slices.Contains(out, name) {
				out = append(out, name)
			}
		}
	}
	return template.HTML(strings.Join(out, "; "))
}

// regionName names a country or its part; the part by its code where the almanac has no name for it.
func (w Papers) regionName(region string) template.HTML {
	for _, c := range w.s.Coverage {
		if c.Code == region {
			return words.PlaceName(w.Locale, c.Code, c.Place)
		}
	}
	return words.PlaceName(w.Locale, region, region)
}

// safetyFold is electricity, hands, dips and children; toxic sap is first.
func (w Papers) safetyFold() Fold {
	f := Fold{Head: w.HTML("sheet.safety-head")}
	for _, one := range w.plants() {
		if key := one.poison(); key != "" {
			f.Head = w.HTML("sheet.safety-head" + key)
			f.Body = append(f.Body, one.HTML("sheet.poison"+key, "plant", one.called()))
		}
	}
	f.Body = append(f.Body, w.HTML("sheet.electricity-"+string(w.s.Breaker)), w.HTML("sheet.hands"), w.HTML("sheet.bleach"), w.HTML("sheet.children"))
	w.when(&f.Body, w.s.CO2.Injected(), "sheet.cylinder")
	w.when(&f.Body, w.s.Species.Weediness != nil && *w.s.Species.Weediness >= 2, "sheet.weedy")
	return f
}

// poison is the ending of the words on what is poisonous of the plant; "" where nothing is known to be.
func (w Papers) poison() string {
	if p := w.s.Species.Poison; p.Known() {
		return "-" + p.Part
	}
	return ""
}

// workedFold says how all this was worked out, what nobody has said, and the figures in the other units.
func (w Papers) workedFold() Fold {
	f := Fold{Head: w.HTML("sheet.how-worked"), Body: []template.HTML{w.HTML("sheet.how-worked-text")}}
	if len(w.s.Light.Working.Inputs) > 0 {
		f.Body[0] += " " + w.HTML("sheet.how-light-worked")
	}
	w.when(&f.Body, w.s.Trim.Known && w.s.Planted() && !w.s.Melt.Seed, "sheet.how-trim")
	for _, g := range []sheet.Gap{sheet.NoTank, sheet.NoVolume, sheet.NoSubstrate, sheet.NoRegion, sheet.NoGrowth, sheet.NoDay} {
		switch {
		case !w.s.Misses(g), g == sheet.NoVolume && w.s.Misses(sheet.NoTank), g == sheet.NoSubstrate && !w.s.Kind.Rooted():
			continue
		}
		f.Body = append(f.Body, w.HTML("sheet.unknown-"+string(g)))
	}
	var lines []template.HTML
	for _, one := range w.plants() {
		if said := one.otherUnits(); len(w.rest) > 0 && said != "" {
			lines = append(lines, w.HTML("sheet.of-plant", "plant", one.called(), "what", said))
		} else if said != "" {
			lines = append(lines, said)
		}
	}
	if v := w.s.Water.Volume.Best; v > quantity.Volume(0) {
		lines = append(lines, w.HTML("sheet.other-volume", "volume", words.Q(w.inOther().Locale, v)))
	}
	if len(lines) > 0 {
		f.Body = append(f.Body, w.HTML("sheet.other-units")+" "+words.JoinHTML(lines))
	}
	return f
}

// otherUnits is what reads otherwise in the other system of units.
func (w Papers) otherUnits() template.HTML {
	own, other := w.fitLines(), w.inOther()
	lines := slices.DeleteFunc(other.fitLines(), func(line template.HTML) bool { return slices.Contains(own, line) })
	if w.s.Planted() && w.s.Kind.Rooted() && !w.s.Melt.Seed {
		lines = append(lines, other.HTML("sheet.deep", "depth", words.R(other.Locale, w.s.Place.Depth), "spacing", words.Q(other.Locale, w.s.Place.Spacing)))
	}
	return words.JoinHTML(lines)
}
