package words

import (
	"html/template"
	"strings"
)

// Taxon writes a scientific name: italic, with "var.", "spp.", the hybrid sign and a cultivar's name upright
// (International Code of Nomenclature for algae, fungi, and plants, recommendations on typography: common practice).
func Taxon(name string) template.HTML {
	var b strings.Builder
	b.WriteString(`<i lang="la" class="taxon-name">`)
	for i, word := range TaxonWords(name) {
		if i > 0 {
			b.WriteByte(' ')
		}
		esc := template.HTMLEscapeString(word.Text)
		if word.Upright {
			b.WriteString("<b>" + esc + "</b>")
		} else {
			b.WriteString(esc)
		}
	}
	b.WriteString("</i>")
	return template.HTML(b.String())
}

// PlainTaxon is a scientific name as plain text, with the hybrid sign.
func PlainTaxon(name string) string { return strings.ReplaceAll(name, " x ", " × ") }

// taxonWord is a word of a scientific name.
type taxonWord struct {
	Text    string
	Upright bool // else italic
}

// TaxonWords takes a scientific name apart.
func TaxonWords(name string) []taxonWord {
	var out []taxonWord
	cultivar := false
	for _, word := range strings.Fields(name) {
		upright := cultivar
		switch strings.Trim(word, "'‘’") {
		case "var.", "subsp.", "f.", "cf.", "sp.", "spp.", "x", "×":
			upright = true
		}
		if strings.HasPrefix(word, "'") || strings.HasPrefix(word, "‘") {
			upright, cultivar = true, true
		}
		if word == "x" {
			word = "×"
		}
		out = append(out, taxonWord{word, upright})
	}
	return out
}
