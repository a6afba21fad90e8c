package page

import (
	"html/template"

	"slipleaf/build/almanac"
	"slipleaf/build/words"
)

// commonName is a plant's common name: the grower's own, in the journal's language, or the almanac's.
func (b *Site) commonName(s almanac.Species) template.HTML {
	if own, ok := b.Journal.Plant(s.ID); ok && own.Common != "" {
		return words.Escape(s.Common)
	}
	return b.Locale().English(s.Common)
}
