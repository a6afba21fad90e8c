package papers

import (
	"cmp"
	"html/template"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"slipleaf/build/quantity"
	"slipleaf/build/sheet"
	"slipleaf/build/words"
)

func (w Papers) nowHead() template.HTML {
	if w.s.Parcel.Sent.IsZero() {
		return w.HTML("sheet.now-later")
	}
	return w.HTML("sheet.now")
}

// now is the first hour, step by step.
func (w Papers) now() []template.HTML {
	if len(w.rest) > 0 && !w.s.NeverCame {
		return w.nowOfSeveral()
	}
	out := w.perils()
	for _, t := range w.s.Tasks {
		out = append(out, w.task(t))
	}
	return out
}

// perils come before the plant: what endangers their animals today, and what to do about it.
func (w Papers) perils() []template.HTML {
	var out []template.HTML
	w.when(&out, w.s.CO2.Gas == sheet.GasLess && !w.s.NeverCame, "sheet.save-co2", "ph", w.figureOf(sheet.PH, w.s.Verdicts.Of(sheet.PH).Value.Low))
	var foul []string
	for _, name := range w.s.Foul() {
		foul = append(foul, w.Text("sheet.name-"+name))
	}
	w.when(&out, len(foul) > 0 && !w.s.NeverCame, "sheet.save-water", "what", words.And(w.Locale, foul), "n", len(foul))
	return out
}

// nowOfSeveral is the first hour of a parcel: how it is opened, what was seen on any of it, and what is done with each plant
// in one step.
func (w Papers) nowOfSeveral() []template.HTML {
	lead, pests := w.opened(), w.pests()
	out := w.perils()
	for _, t := range lead.s.Tasks {
		if opens(t) && !(t == sheet.MixInBowl && pests != "") {
			out = append(out, lead.task(t))
		}
	}
	w.when(&out, pests != "", "sheet.do-tub", "what", w.own(pests), "n", w.s.Quarantine)
	var own []string
	for _, one := range w.plants() {
		what := one.HTML("sheet.own-"+one.ownWay(), "plant", one.called(), "id", one.s.Parcel.Lot, "n", one.s.Quarantine)
		if one.s.Packing == sheet.Cup && lead.s.Packing != sheet.Cup && !one.s.Forbidden && !one.s.Melt.Seed {
			what = one.HTML("sheet.own-jelly", "what", what)
		}
		own = append(own, string(what))
	}
	return append(out, w.HTML("sheet.own", "what", template.HTML(strings.Join(own, "; "))))
}

// opened is the plant whose way of being opened is said for the parcel: the first that is opened, rather none in a cup.
func (w Papers) opened() Papers {
	best := w
	for _, one := range w.plants() {
		if !slices.ContainsFunc(one.s.Tasks, opens) {
			continue
		}
		if one.s.Packing != sheet.Cup || !slices.ContainsFunc(best.s.Tasks, opens) {
			best = one
			if one.s.Packing != sheet.Cup {
				break
			}
		}
	}
	best.rest = nil
	for _, one := range w.plants() {
		if one.s.Parcel.Lot != best.s.Parcel.Lot && slices.ContainsFunc(one.s.Tasks, opens) {
			best.rest = append(best.rest, one) // is felt for too
		}
	}
	return best
}

// opens reports whether a step opens and rinses what came.
func opens(t sheet.Task) bool {
	return slices.Contains([]sheet.Task{sheet.OpenPaper, sheet.OpenCup, sheet.MixInBowl, sheet.BagWater, sheet.RinseFeel, sheet.WashJelly}, t)
}

// pests are those that were seen on what is planted; "" for none.
func (w Papers) pests() string {
	var out []string
	for _, one := range w.plants() {
		if seen, _, _ := words.LotTreatment(w.Locale, one.s.Lot); slices.Contains(one.s.Tasks, sheet.PestFork) && !slices.Contains(out, seen) {
			out = append(out, seen)
		}
	}
	return words.And(w.Locale, out)
}

// ownWay is the ending of the words on what is done with one of several plants.
func (w Papers) ownWay() string {
	s := w.s
	switch {
	case s.Forbidden:
		return "shut"
	case s.Melt.Seed:
		return "sow"
	case s.Summary == sheet.PoorMatch && s.Brackish:
		return "bowl-plain"
	case s.Summary == sheet.PoorMatch:
		return "bowl"
	}
	if wait := s.Waits(); wait != sheet.AtOnce {
		return string(wait)
	}
	return string(s.Kind.Set())
}

// firstOwn are the first steps of one of several plants that need more words than the list of them has room for.
func (w Papers) firstOwn() []template.HTML {
	var out []template.HTML
	for _, t := range w.s.Tasks {
		if t == sheet.CopperTub || t == sheet.GoSlowly || t == sheet.GoWarm || t == sheet.MeasureFirst {
			out = append(out, w.task(t))
		}
	}
	return out
}

// firmParts names what is felt for on the plants of the parcel.
func (w Papers) firmParts() string {
	var out []string
	for _, one := range w.plants() {
		if part := w.Text("sheet.firm-" + string(one.s.Kind.Firm())); !slices.Contains(out, part) {
			out = append(out, part)
		}
	}
	return words.And(w.Locale, out)
}

// task is a step in words.
func (w Papers) task(t sheet.Task) template.HTML {
	s := w.s
	key := "sheet.do-" + string(t)
	switch t {
	case sheet.RinseFeel, sheet.WashJelly:
		if slices.Contains(s.Tasks, sheet.BagWater) { // it was rinsed with that
			key = "sheet.do-feel"
		}
		return w.HTML(key, "part", w.firmParts())
	case sheet.BagWater:
		if slices.Contains(s.Tasks, sheet.MixInBowl) {
			key += "-mixed"
		}
	case sheet.PestFork:
		pests, _, _ := words.LotTreatment(w.Locale, s.Lot)
		return w.HTML(key, "what", w.own(pests), "n", s.Quarantine)
	case sheet.WriteFirst:
		if s.Forbidden {
			key += "-law"
		}
	case sheet.CopperTub:
		jar := ""
		if s.Slow != nil && !s.Slow.Warm {
			jar = " " + string(w.jar())
		}
		return w.HTML(key, "n", s.Quarantine, "jar", template.HTML(jar))
	case sheet.GoSlowly:
		return w.HTML(key, "jar", w.jar(), "plant", midSentence(w.plantIt()))
	case sheet.GoWarm:
		return w.HTML(key, "plant", midSentence(w.plantIt()))
	case sheet.PlantIt:
		return words.JoinHTML([]template.HTML{w.plantIt(), w.shortLight()})
	case sheet.MeasureFirst:
		return w.HTML(key, "what", words.And(w.Locale, []string{w.Text("sheet.name-temperature"), w.Text("sheet.name-gh"), w.Text("sheet.name-kh")}))
	}
	return w.HTML(key)
}

// midSentence is a sentence as the end of another one.
func midSentence(h template.HTML) template.HTML {
	const bold = "<b>"
	rest := strings.TrimPrefix(string(h), bold)
	r, n := utf8.DecodeRuneInString(rest)
	return template.HTML(string(h)[:len(h)-len(rest)] + string(unicode.ToLower(r)) + rest[n:])
}

// plantIt is how it is set in its place, with its depth where it is buried.
func (w Papers) plantIt() template.HTML {
	s := w.s
	key := "sheet.set-" + string(s.Kind.Set())
	switch {
	case s.Step.Once:
		key += "-once"
	case s.Kind.Rooted() && s.Kind.RootsDown():
		key += "-roots"
	}
	return template.HTML(strings.ReplaceAll(string(w.HTML(key, "depth", words.R(w.Locale, s.Place.Depth))), `"#plant"`, `"#`+w.anchor("plant")+`"`))
}

func (w Papers) shortLight() template.HTML {
	if len(w.s.Hours) == 0 {
		return ""
	}
	return w.HTML("sheet.light-short", "hours", w.hoursFigure(w.s.Hours[0].Hours))
}

// jar is what the water of a slow change starts with.
func (w Papers) jar() template.HTML {
	slow := w.s.Slow
	if slow.Salt == nil && slow.Soft > 0.995 {
		return w.HTML("sheet.jar-soft-all")
	}
	if slow.Salt == nil {
		return w.HTML("sheet.jar-soft", "soft", words.Percent(w.Locale, float64(slow.Soft)), "tap", words.Percent(w.Locale, 1-float64(slow.Soft)))
	}
	var doses []string
	for _, d := range slow.Salt.Doses {
		doses = append(doses, w.Text("sheet.refill-part", "mass", w.grams(d.Mass), "salt", w.Text("sheet.short-"+d.Salt.Name)))
	}
	return w.HTML("sheet.jar-salt", "volume", words.Q(w.Locale, sheet.JarVolume), "doses", words.And(w.Locale, doses))
}

func (w Papers) hoursFigure(h float64) string { return w.N(h, 1) + "\u00a0h" }

// came is the answer that it has come.
func (w Papers) came() TellLink {
	return TellLink{w.byGrowerText("sheet.tell-button"), w.tellHref("arrived")}
}

func (w Papers) byGrowerText(key string) string {
	if w.kit.Grower == "" {
		return w.Text(key + "-nobody")
	}
	return w.Text(key, "grower", w.kit.Grower)
}

// Centimetres and degrees in the almanac's words, for readers in US units.
var (
	squares   = regexp.MustCompile(`(\d+(?:[.,]\d+)?) [x×] (\d+(?:[.,]\d+)?) cm`)
	lengths   = regexp.MustCompile(`(\d+(?:[.,]\d+)?)(?:–(\d+(?:[.,]\d+)?))? cm`)
	warmths   = regexp.MustCompile(`(\d+)(?:–(\d+))? °?C\b`)
	oneNumber = strings.NewReplacer(",", ".")
)

// phrase is a phrase of the almanac in the reader's units.
func (w Papers) phrase(text string) string {
	if w.Units != quantity.US {
		return text
	}
	number := func(s string) quantity.Length {
		f, _ := strconv.ParseFloat(oneNumber.Replace(s), 64)
		return quantity.Length(f)
	}
	inches := func(lo, hi string) string {
		return words.QRange(w.Locale, number(lo), number(cmp.Or(hi, lo)))
	}
	text = squares.ReplaceAllStringFunc(text, func(s string) string {
		m := squares.FindStringSubmatch(s)
		return strings.Split(inches(m[1], ""), "\u00a0")[0] + " × " + inches(m[2], "")
	})
	text = lengths.ReplaceAllStringFunc(text, func(s string) string { m := lengths.FindStringSubmatch(s); return inches(m[1], m[2]) })
	return warmths.ReplaceAllStringFunc(text, func(s string) string {
		m := warmths.FindStringSubmatch(s)
		return words.QRange(w.Locale, quantity.Temperature(number(m[1])), quantity.Temperature(number(cmp.Or(m[2], m[1]))))
	})
}

// said is a phrase of the almanac as a sentence; "" where there is none.
func (w Papers) said(text string) template.HTML {
	if text == "" {
		return ""
	}
	return words.Escape(words.Bind(strings.TrimSuffix(words.Capital(w.phrase(text)), ".") + "."))
}
