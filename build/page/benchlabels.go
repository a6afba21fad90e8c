package page

import (
	"html/template"

	"slipleaf/build/ledger"
	"slipleaf/build/quantity"
	"slipleaf/build/theme"
	"slipleaf/build/words"
)

// HomeOffers is what the first page says of the lots.
type HomeOffers struct {
	Headline string // "Three plants are ready, and two more by 14 December"
	Lead     template.HTML
	Offers   string // link
	Ready    []BenchLabel
	More     string // "and five more"; "" when all are shown
	Coming   ComingPart
}

// BenchLabel is a ready lot on the bench line.
type BenchLabel struct {
	ID, Href, Waiting string
	Plant             theme.PlantName
	Left              template.HTML
	Sprig             template.HTML
}

// benchLabels is how many ready lots stand on the first page, one a species.
const benchLabels = 6

// homeOffers fills what the first page says of the lots.
func (b *Site) homeOffers(v words.Locale) HomeOffers {
	ready, coming := b.facts.Ledger().In(ledger.Ready), b.facts.Ledger().In(ledger.Coming)
	h := HomeOffers{Headline: b.headline(v, ready, coming), Offers: b.href(HomeAddr, OffersAddr)}
	n := len(b.Journal.Tanks)
	key := "bench.lead"
	if n == 0 {
		key = "bench.lead-no-tank"
	}
	h.Lead = v.HTML(key, "grower", b.Journal.Grower, "n", n, "count", words.NumberWord(v, n), "offers", h.Offers, "suit", b.href(HomeAddr, SuitAddr))
	shown := map[string]bool{}
	for _, l := range ready {
		if shown[l.Plant] || len(h.Ready) == benchLabels {
			continue
		}
		shown[l.Plant] = true
		h.Ready = append(h.Ready, BenchLabel{ID: l.ID, Href: b.href(HomeAddr, LotAddr(l.ID)), Waiting: waiting(v, l.Waiting), Plant: b.plantLink(HomeAddr, l.Plant),
			Left: v.HTML("bench.left", "n", l.Left), Sprig: b.sprigOf(l.Plant)})
	}
	if n := len(ready) - len(h.Ready); n > 0 {
		h.More = v.Text("bench.more", "n", n)
	}
	h.Coming = b.coming(v, HomeAddr, coming)
	return h
}

// headline counts the species that are ready and those that come beside them.
func (b *Site) headline(v words.Locale, ready, coming []*ledger.Lot) string {
	have := map[string]bool{}
	for _, l := range ready {
		have[l.Plant] = true
	}
	more, last := map[string]bool{}, quantity.Date{}
	for _, l := range coming {
		if have[l.Plant] || !l.Window.Known() {
			continue
		}
		more[l.Plant] = true
		if l.Window.High.After(last) {
			last = l.Window.High
		}
	}
	n, m := len(have), len(more)
	pairs := []any{"ready", words.Capital(words.NumberWord(v, n)), "n", n, "coming", words.NumberWord(v, m), "first", words.Capital(words.NumberWord(v, m)), "m", m, "date", v.Date(last)}
	switch {
	case n == 0 && m == 0:
		return v.Text("bench.headline-none")
	case n == 0:
		return v.Text("bench.headline-coming", pairs...)
	case m == 0:
		return v.Text("bench.headline-ready", pairs...)
	}
	return v.Text("bench.headline", pairs...)
}
