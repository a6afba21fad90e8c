package page

import (
	"html/template"

	"slipleaf/build/almanac"
	"slipleaf/build/words"
)

// LawPart is what lists say of a plant, here and elsewhere, and whom it harms.
type LawPart struct {
	Here      []LawNotice   // in the journal's region
	HereNone  string        // says that no list that was read names it, or that none is held
	Looked    []Asked       // what was looked at for the region, what was not, and whom to ask
	Band      template.HTML // under the label: that lists name it here; "" where none does
	Barred    bool          // it is not given away here
	Elsewhere []LawNotice
	// Poison is whom it harms; PoisonBasis how that is known.
	Poison, PoisonBasis template.HTML
	Known               string // its standing outside tanks; "" where it is not known for that
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
		p.lookedAt(b, v)
		p.Band, p.Barred = b.lawBand(v, s)
	}
	for _, n := range b.Almanac.Notices(s.Taxon, "") {
		if !here[n.Jurisdiction+"\n"+n.List+"\n"+n.ListedAs] {
			p.Elsewhere = append(p.Elsewhere, b.lawNotice(v, n))
		}
	}
	if s.Poison.Known() {
		var whom []string
		for _, w := range s.Poison.Harms {
			whom = append(whom, v.Text("law-text."+w))
		}
		p.Poison = v.HTML("law-text.poison-"+s.Poison.Part, "whom", words.And(v, whom))
		p.PoisonBasis = v.English(s.Poison.Source.Text)
	}
	if s.Weediness != nil && *s.Weediness > 0 {
		p.Known = v.Text("sheet.release")
	}
	return p
}

// lookedAt says what was looked at of the law of the journal's region, which names the plant or not.
func (p *LawPart) lookedAt(b *Site, v words.Locale) {
	held := false
	for _, c := range b.Almanac.Coverage(b.Journal.Region) {
		held = held || c.Held == "whole" || c.Held == "part"
		p.Looked = append(p.Looked, Asked{Cited{words.Coverage(v, c, b.facts.AgeOf(c)), words.FirstLink(c.Address)}, words.PlaceName(v, c.Code, c.Place)})
	}
	region := words.CountryName(v, words.Country(b.Journal.Region))
	switch {
	case len(p.Here) > 0:
	case held:
		p.HereNone = v.Text("law-text.none-here", "region", region, "date", v.Date(b.Almanac.Retrieved()))
	default:
		p.HereNone = v.Text("law-text.not-held", "region", region)
	}
}

// lawBand says in short that lists of the journal's region name a plant, and whether it is barred there.
func (b *Site) lawBand(v words.Locale, s almanac.Species) (band template.HTML, barred bool) {
	own, _ := b.Journal.Plant(s.ID)
	is, by := almanac.StandingOf(b.Almanac.Notices(s.Taxon, b.Journal.Region))
	if is == almanac.Named && own != nil && own.Withhold {
		is = almanac.Banned
	}
	key := [...]string{almanac.Perhaps: "law-text.band-perhaps", almanac.Named: "law-text.band-listed", almanac.Banned: "law-text.band"}[is]
	if key == "" {
		return "", false
	}
	return v.HTML(key, "lists", words.ListNames(v, by)), is == almanac.Banned
}

func (b *Site) lawNotice(v words.Locale, n almanac.Notice) LawNotice {
	country := words.Country(b.Journal.Region)
	return LawNotice{Text: words.Law(v, n, words.PlaceName(v, country, country)), Source: words.FirstLink(n.Source), List: words.ListName(v, n)}
}
