package page

import (
	"golang.org/x/text/currency"
	"golang.org/x/text/language"

	"slipleaf/build/journal"
	"slipleaf/build/ledger"
)

// Structured data in the vocabulary of schema.org (release 30.0), kept to what a page says itself: no ratings, no
// prices but nothing at all. Pages under a secret address carry none.

type thing struct {
	Context     string    `json:"@context,omitempty"`
	Type        string    `json:"@type"`
	Name        string    `json:"name,omitempty"`
	Headline    string    `json:"headline,omitempty"`
	Alternate   string    `json:"alternateName,omitempty"`
	Description string    `json:"description,omitempty"`
	URL         string    `json:"url,omitempty"`
	Language    string    `json:"inLanguage,omitempty"`
	Published   string    `json:"datePublished,omitempty"`
	Rank        string    `json:"taxonRank,omitempty"`
	Author      *thing    `json:"author,omitempty"`
	IsPartOf    *thing    `json:"isPartOf,omitempty"`
	Items       []giveOut `json:"itemListElement,omitempty"`
}

type giveOut struct {
	Type         string `json:"@type"`
	URL          string `json:"url,omitempty"`
	Item         thing  `json:"itemOffered"`
	Price        string `json:"price"`
	Currency     string `json:"priceCurrency"`
	Availability string `json:"availability"`
}

const vocabulary = "https://schema.org"

// structured is the data of the page at addr by its kind; nil for kinds that have none.
func (b *Site) structured(kind, addr, description string) any {
	t := thing{Context: vocabulary, URL: b.absolute(addr), Language: b.Theme.Words.Lang}
	switch kind {
	case "home":
		t.Type, t.Name, t.Description, t.Author = "Blog", b.Journal.Title, description, b.author()
	case "plant":
		id := addr[len(PlantsAddr) : len(addr)-1]
		t.Type, t.Name, t.Alternate, t.Language = "Taxon", b.Species(id).Taxon, b.Species(id).Common, ""
	case "offers":
		t.Type, t.Name, t.Items = "OfferCatalog", b.Locale().Text("feed-text.offers", "site", b.Journal.Title), b.given()
	default:
		return nil
	}
	return t
}

// blogPosting is the data of a diary entry.
func (b *Site) blogPosting(e *journal.Entry, title, summary string) any {
	t := thing{Context: vocabulary, Type: "BlogPosting", Headline: title, Description: summary, URL: b.absolute(EntryAddr(e)),
		Language: b.Theme.Words.Lang, Published: e.Date.String(), Author: b.author()}
	t.IsPartOf = &thing{Type: "Blog", Name: b.Journal.Title, URL: b.absolute(HomeAddr)}
	return t
}

func (b *Site) author() *thing {
	if b.Journal.Grower == "" {
		return nil
	}
	return &thing{Type: "Person", Name: b.Journal.Grower}
}

// given lists the lots that can be asked for, are promised or are to come, as offers at no price.
func (b *Site) given() []giveOut {
	v := b.Locale()
	var out []giveOut
	for _, s := range []struct {
		state ledger.State
		word  string
	}{{ledger.Ready, "InStock"}, {ledger.Coming, "PreOrder"}, {ledger.Reserved, "Reserved"}} {
		for _, l := range b.facts.Ledger().In(s.state) {
			item := thing{Type: "Product", Name: b.Species(l.Plant).Taxon, Description: b.formOf(v, l)}
			out = append(out, giveOut{"Offer", b.absolute(LotAddr(l.ID)), item, "0", currencyOf(b.Journal.Region), vocabulary + "/" + s.word})
		}
	}
	return out
}

// currencyOf is the ISO 4217 code of a region's money, which an offer at no price must name; XXX where it is not known.
func currencyOf(region string) string {
	if len(region) < 2 {
		return "XXX"
	}
	r, err := language.ParseRegion(region[:2])
	if err != nil {
		return "XXX"
	}
	c, ok := currency.FromRegion(r)
	if !ok {
		return "XXX"
	}
	return c.String()
}
