package words

import (
	"cmp"
	"html/template"
	"slices"
	"strings"

	"slipleaf/build/almanac"
	"slipleaf/build/journal"
	"slipleaf/build/quantity"
)

// Said is what a command says. English, with places to fill as sentences of the [Words] have them, is for a terminal. The desk
// says it by its key, since whoever stands there has neither flags nor a command line.
type Said struct {
	Key     string // of the words; "" where no desk comes to it, and English is as it is to be printed
	English string
	Of      []any // names and values
}

// String is what a terminal shows.
func (s Said) String() string {
	if s.Key == "" {
		return s.English
	}
	return fill(s.English, s.with(func(x any) any {
		if plant, ok := x.(almanac.Species); ok {
			return plant.Called()
		}
		return x
	}), false)
}

// with are the names and values, each as said gives it.
func (s Said) with(said func(any) any) []any {
	of := slices.Clone(s.Of)
	for i := range of {
		of[i] = said(of[i])
	}
	return of
}

// Answer is what a command says in the page's language.
func (v Locale) Answer(s Said) template.HTML {
	if !v.Has(s.Key) {
		return v.English(s.String())
	}
	return Escape(v.Text(s.Key, s.with(func(x any) any {
		switch x := x.(type) {
		case quantity.Date:
			return v.Date(x)
		case almanac.Species:
			return x.Spoken(v.Lang).Called()
		}
		return x
	})...))
}

// English places words that the almanac has in English only, and says so on a page of another language, so that they
// are pronounced as what they are (WCAG 2.2, 3.1.2).
func (v Locale) English(text string) template.HTML {
	if text = Bind(text); text == "" || v.Lang == "en" || strings.HasPrefix(v.Lang, "en-") {
		return Escape(text)
	}
	return `<span lang="en">` + Escape(text) + `</span>`
}

// Complaint is what is wrong and what to do about it in the page's language. The reader speaks English, so that stands behind
// it elsewhere: it has the figures and the names.
func (v Locale) Complaint(c journal.Complaint) template.HTML {
	english := v.English(strings.TrimSpace(c.Message + ". " + Capital(c.Hint)))
	if key := "complaint." + c.Rule; v.Has(key) {
		return Escape(v.Text(key)) + " (" + english + ")"
	}
	return english
}

// Spoken places a text on a page of lang and marks it where it is in another language; in is "" where that is the grower's
// own.
func Spoken(lang, in, own, text string) template.HTML {
	in = cmp.Or(in, own)
	if base(in) == base(lang) || text == "" {
		return Escape(text)
	}
	return template.HTML(`<span lang="`+template.HTMLEscapeString(in)+`">`) + Escape(text) + `</span>`
}

func base(lang string) string {
	b, _, _ := strings.Cut(lang, "-")
	return b
}

// Almanac places words of the almanac about a plant in the page's language, else in English.
func (v Locale) Almanac(s almanac.Species, column string) template.HTML {
	text, in := s.Say(column, v.Lang)
	if in == "en" {
		return v.English(text)
	}
	return Escape(Bind(text))
}

// LotTreatment are a lot's words on pests, dips and copper. What growers write when there was nothing is said in the page's
// language; all else is the grower's own.
func LotTreatment(v Locale, l *journal.Lot) (pests, dips, copper string) {
	word := func(s, key string) string {
		switch strings.ToLower(strings.TrimSuffix(s, ".")) {
		case "none", "no":
			return v.Text("lot-words." + key)
		case "none seen", "nothing seen":
			return v.Text("lot-words.unseen")
		}
		return s
	}
	return word(l.Pests, "no-pests"), word(l.Dips, "no-dips"), v.Written(word(l.Copper, "no-copper"))
}
