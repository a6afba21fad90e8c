package page

import (
	"cmp"
	"strings"

	"slipleaf/build/theme"
	"slipleaf/build/words"
)

// SearchAddr is the page that searches plants, entries and pages.
const SearchAddr = "/search/"

// indexedEntries bounds the index that the search page carries: the newest entries, all plants and all pages.
const indexedEntries = 1000

// SearchPage is the model of the search. Its index is data in the page, so that it works without a server.
type SearchPage struct {
	theme.Frame
	Index  []SearchItem
	Capped int // entries that the index holds, where it does not hold all; 0: it does
	Diary  string
	Plants string
}

// SearchItem is something that can be found. Text is what is searched besides the title.
type SearchItem struct {
	Kind  string `json:"kind"` // in words
	Title string `json:"title"`
	Latin bool   `json:"latin,omitempty"`
	Href  string `json:"href"`
	Text  string `json:"text"`
	// Names are the other names under which growers look for a plant.
	Names []string `json:"names,omitempty"`
}

// Search makes the search page.
func (b *Site) Search() ([]byte, error) {
	v := b.Locale()
	m := SearchPage{Frame: b.frame("search", SearchAddr, v.Text("search.title")+" · "+b.Journal.Title, v.Text("search.description")),
		Diary: b.href(SearchAddr, DiaryAddr), Plants: b.href(SearchAddr, PlantsAddr)}
	everyday := b.Almanac.EverydayNames()
	for _, id := range b.PlantIDs() {
		s := b.facts.Species(id)
		text := s.Common
		for _, other := range append(s.Synonyms, s.TradeNames...) {
			if other != s.Common {
				text += " · " + other
			}
		}
		m.Index = append(m.Index, SearchItem{v.Text("search.plant"), words.PlainTaxon(s.Taxon), true, b.href(SearchAddr, PlantAddr(id)), text, everyday[cmp.Or(s.LentBy, s.ID)]})
	}
	for _, t := range b.Journal.Tanks {
		m.Index = append(m.Index, SearchItem{Kind: v.Text("search.tank"), Title: b.tankName(t.ID), Href: b.href(SearchAddr, TankAddr(t.ID)), Text: strings.Join(tankFacts(v, t), ", ")})
	}
	for _, p := range b.writtenPages() {
		doc := b.text(WrittenAddr(p.ID), p.Source)
		m.Index = append(m.Index, SearchItem{Kind: v.Text("search.page"), Title: p.Title, Href: b.href(SearchAddr, WrittenAddr(p.ID)), Text: doc.Summary})
	}
	entries := b.newest(nil, indexedEntries)
	if len(entries) < len(b.facts.Entries()) {
		m.Capped = len(entries)
	}
	for _, l := range b.entryLines(SearchAddr, entries) {
		m.Index = append(m.Index, SearchItem{Kind: l.Date + ", " + l.Tank, Title: l.Title, Href: l.Href, Text: words.Clip(l.Summary, 160)})
	}
	return b.Theme.Render("search", m)
}
