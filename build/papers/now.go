package papers

import (
	"html/template"
	"regexp"
	"slices"
	"strconv"
	"strings"

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

// most is how many steps the first hour has at the most.
const most = 4

// now is the first hour, step by step; of several plants each step once, and what is done with each in one.
func (w Papers) now() []template.HTML {
	if len(w.rest) == 0 {
		var out []template.HTML
		for _, t := range w.s.Tasks {
			out = append(out, w.task(t))
		}
		return out
	}
	var out, own []template.HTML
	said := map[sheet.Task]bool{}
	firm := w.firmParts()
	for _, one := range w.plants() {
		for _, t := range one.s.Tasks {
			switch {
			case t.Plants(), t == sheet.KeepInBowl, t == sheet.PlainBowl, t == sheet.ShutAway, t == sheet.Sow:
				own = append(own, w.HTML("sheet.own-"+one.ownTask(t), "plant", one.called(), "id", one.s.Parcel.Lot))
			case !said[t] && shared(t):
				said[t] = true
				if len(out) == most-1 {
					continue
				}
				if t == sheet.RinseFeel || t == sheet.WashJelly {
					out = append(out, w.HTML("sheet.do-"+string(t), "part", firm))
				} else {
					out = append(out, one.task(t))
				}
			}
		}
	}
	return append(out, w.HTML("sheet.own", "what", template.HTML(strings.Join(plain(own), "; "))))
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

// shared tells whether a step is the same for all plants of a parcel.
func shared(t sheet.Task) bool {
	return slices.Contains([]sheet.Task{sheet.OpenPaper, sheet.OpenCup, sheet.BagWater, sheet.RinseFeel, sheet.WashJelly, sheet.PestFork, sheet.CopperTub}, t)
}

func plain(parts []template.HTML) []string {
	out := make([]string, len(parts))
	for i, p := range parts {
		out[i] = string(p)
	}
	return out
}

// ownTask is the ending of the words on what is done with one of several plants.
func (w Papers) ownTask(t sheet.Task) string {
	if t.Plants() {
		return setWords[w.s.Kind.Set()]
	}
	return string(t)
}

// setWords are the endings of words by where a plant goes.
var setWords = map[sheet.Setting]string{sheet.Planted: "planted", sheet.Fixed: "fixed", sheet.Afloat: "afloat", sheet.Loose: "loose", sheet.InAir: "air"}

// task is a step in words.
func (w Papers) task(t sheet.Task) template.HTML {
	s := w.s
	key := "sheet.do-" + string(t)
	switch t {
	case sheet.RinseFeel, sheet.WashJelly:
		return w.HTML(key, "part", w.Text("sheet.firm-"+string(s.Kind.Firm())))
	case sheet.PestFork:
		pests, _, _ := words.LotTreatment(w.Locale, s.Lot)
		return w.HTML(key, "what", w.own(pests), "n", s.Quarantine)
	case sheet.WriteFirst:
		if s.Forbidden {
			key += "-law"
		}
	case sheet.CopperTub:
		return w.HTML(key, "n", s.Quarantine)
	case sheet.GoSlowly:
		return w.HTML(key, "jar", w.jar(), "plant", w.plantIt())
	case sheet.GoWarm:
		return w.HTML(key, "plant", w.plantIt())
	case sheet.PlantIt:
		return words.JoinHTML([]template.HTML{w.plantIt(), w.shortLight()})
	case sheet.MeasureFirst:
		return w.HTML(key, "what", words.And(w.Locale, []string{w.Text("sheet.name-temperature"), w.Text("sheet.name-gh"), w.Text("sheet.name-kh")}))
	}
	return w.HTML(key)
}

// plantIt is how it is set in its place, with its depth where it is buried.
func (w Papers) plantIt() template.HTML {
	s := w.s
	key := "sheet.set-" + setWords[s.Kind.Set()]
	switch {
	case s.Step.Once:
		key += "-once"
	case s.Kind.Rooted() && s.Kind.RootsDown():
		key += "-roots"
	}
	return w.HTML(key, "depth", words.R(w.Locale, s.Place.Depth))
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
		if hi == "" {
			hi = lo
		}
		return words.QRange(w.Locale, number(lo), number(hi))
	}
	text = squares.ReplaceAllStringFunc(text, func(s string) string {
		m := squares.FindStringSubmatch(s)
		return strings.Split(inches(m[1], ""), "\u00a0")[0] + " × " + inches(m[2], "")
	})
	text = lengths.ReplaceAllStringFunc(text, func(s string) string { m := lengths.FindStringSubmatch(s); return inches(m[1], m[2]) })
	return warmths.ReplaceAllStringFunc(text, func(s string) string {
		m := warmths.FindStringSubmatch(s)
		hi := m[2]
		if hi == "" {
			hi = m[1]
		}
		return words.QRange(w.Locale, quantity.Temperature(number(m[1])), quantity.Temperature(number(hi)))
	})
}

// said is a phrase of the almanac as a sentence; "" where there is none.
func (w Papers) said(text string) template.HTML {
	if text == "" {
		return ""
	}
	return words.Escape(strings.TrimSuffix(words.Capital(w.phrase(text)), ".") + ".")
}
