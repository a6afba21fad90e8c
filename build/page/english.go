package page

import (
	"html/template"

	"slipleaf/build/almanac"
	"slipleaf/build/words"
)

// commonName is a plant's common name: the grower's own, in the journal's language, or the almanac's.
func (b *Site) commonName(s almanac.Species) template.HTML {
	if own, ok := b.Journal.Plant(s.ID); ok && own.Common != "" || s.CommonIn != "" {
		return words.Escape(s.Common)
	}
	return b.Locale().English(s.Common)
}

// names are a plant's common name and its scientific one, the other way round where the common one is of another language
// than the page; second is "" where there is no common name.
func (b *Site) names(s almanac.Species) (first, second template.HTML) {
	latin := words.Taxon(s.Taxon)
	if s.Common == "" {
		return latin, ""
	}
	heading := s
	heading.Common = words.Capital(s.Common)
	if own, ok := b.Journal.Plant(s.ID); ok && own.Common != "" || s.CommonIn != "" || b.Locale().English("x") == "x" {
		return b.commonName(heading), latin
	}
	return latin, b.commonName(s)
}
