package page

import (
	"html/template"
	"strings"

	"slipleaf/build/almanac"
	"slipleaf/build/journal"
)

// english places words that the almanac has in English only, and says so on a page of another language, so that they
// are pronounced as what they are (WCAG 2.2, 3.1.2).
func (v Locale) english(text string) template.HTML {
	if text == "" || v.Lang == "en" || strings.HasPrefix(v.Lang, "en-") {
		return escapedHTML(text)
	}
	return `<span lang="en">` + escapedHTML(text) + `</span>`
}

// commonName is a plant's common name: the grower's own, in the journal's language, or the almanac's.
func (b *Site) commonName(s almanac.Species) template.HTML {
	if own, ok := b.Journal.Plant(s.ID); ok && own.Common != "" {
		return escapedHTML(s.Common)
	}
	return b.Locale().english(s.Common)
}

// plainly are a lot's words on pests, dips and copper. What growers write when there was nothing is said in the page's
// language; all else is the grower's own.
func plainly(v Locale, l *journal.Lot) (pests, dips, copper string) {
	word := func(s, key string) string {
		switch strings.ToLower(strings.TrimSuffix(s, ".")) {
		case "none", "no":
			return v.Text("lot-words." + key)
		case "none seen", "nothing seen":
			return v.Text("lot-words.unseen")
		}
		return s
	}
	return word(l.Pests, "no-pests"), word(l.Dips, "no-dips"), word(l.Copper, "no-copper")
}
