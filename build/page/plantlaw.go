package page

import (
	"html/template"

	"slipleaf/build/almanac"
	"slipleaf/build/words"
)

// LawPart is what lists say of a plant, here and elsewhere, and what its sap does.
type LawPart struct {
	Here      []LawNotice // in the journal's region
	HereNone  string      // says that no list there names it
	Elsewhere []LawNotice
	Sap       template.HTML
	SapBasis  template.HTML
	Known     string // its standing outside tanks; "" where it is not known for that
}

// LawNotice is a row of a list.
type LawNotice struct {
	Text   template.HTML
	Source string // address; "" where there is none
	List   template.HTML
}

// lawPart gathers the notices on a plant. Elsewhere are the lists that do not hold in the journal's region.
func (b *Site) lawPart(v words.Locale, s almanac.Species) LawPart {
	p := LawPart{}
	here := map[string]bool{}
	if b.Journal.Region != "" {
		for _, n := range b.Almanac.Notices(s.Taxon, b.Journal.Region) {
			here[n.Jurisdiction+"\n"+n.List+"\n"+n.ListedAs] = true
			p.Here = append(p.Here, b.lawNotice(v, n))
		}
		if len(p.Here) == 0 {
			p.HereNone = v.Text("law-text.none-here", "region", words.CountryName(v, words.Country(b.Journal.Region)), "date", v.Date(b.Almanac.Retrieved()))
		}
	}
	for _, n := range b.Almanac.Notices(s.Taxon, "") {
		if !here[n.Jurisdiction+"\n"+n.List+"\n"+n.ListedAs] {
			p.Elsewhere = append(p.Elsewhere, b.lawNotice(v, n))
		}
	}
	if s.Sap {
		p.Sap, p.SapBasis = v.HTML("sheet.sap"), v.English(s.SapBasis)
	}
	if s.Weediness != nil && *s.Weediness > 0 {
		p.Known = v.Text("sheet.release")
	}
	return p
}

func (b *Site) lawNotice(v words.Locale, n almanac.Notice) LawNotice {
	return LawNotice{Text: words.Law(v, n, words.CountryName(v, words.Country(b.Journal.Region))), Source: words.FirstLink(n.Source), List: v.English(n.List)}
}
