package page

import (
	"slipleaf/build/feed"
	"slipleaf/build/journal"
	"slipleaf/build/ledger"
)

// structured is the data of the page at addr by its kind; nil for kinds that have none.
func (b *Site) structured(kind, addr, description string) any {
	t := feed.Thing{Context: feed.Vocabulary, URL: b.absolute(addr), Language: b.Theme.Words.Lang}
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
	t := feed.Thing{Context: feed.Vocabulary, Type: "BlogPosting", Headline: title, Description: summary, URL: b.absolute(EntryAddr(e)),
		Language: b.Theme.Words.Lang, Published: e.Date.String(), Author: b.author()}
	t.IsPartOf = &feed.Thing{Type: "Blog", Name: b.Journal.Title, URL: b.absolute(HomeAddr)}
	return t
}

func (b *Site) author() *feed.Thing {
	if b.Journal.Grower == "" {
		return nil
	}
	return &feed.Thing{Type: "Person", Name: b.Journal.Grower}
}

// given lists the lots that can be asked for, are promised or are to come, as offers at no price.
func (b *Site) given() []feed.GiveOut {
	v := b.Locale()
	var out []feed.GiveOut
	for _, s := range []struct {
		state ledger.State
		word  string
	}{{ledger.Ready, "InStock"}, {ledger.Coming, "PreOrder"}, {ledger.Reserved, "Reserved"}} {
		for _, l := range b.facts.Ledger().In(s.state) {
			item := feed.Thing{Type: "Product", Name: b.Species(l.Plant).Taxon, Description: b.formOf(v, l)}
			out = append(out, feed.GiveOut{Type: "Offer", URL: b.absolute(LotAddr(l.ID)), Item: item, Price: "0", Currency: feed.CurrencyOf(b.Journal.Region), Availability: feed.Vocabulary + "/" + s.word})
		}
	}
	return out
}
