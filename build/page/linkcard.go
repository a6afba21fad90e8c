package page

import (
	"net/url"
	"strings"

	"slipleaf/build/picture"
	"slipleaf/build/theme"
	"slipleaf/build/words"
)

// CardAddr is the picture by which a link to any page of the site is previewed, if the page has none of its own.
const CardAddr = "/card.png"

// PlantCardAddr is that of a plant's page.
func PlantCardAddr(id string) string { return PlantAddr(id) + "card.png" }

// preview is the drawn label at addr.
func (b *Site) preview(addr, alt string) theme.Preview {
	if b.Journal.Address == "" {
		return theme.Preview{}
	}
	return theme.Preview{Src: b.Journal.Address + addr[1:], Alt: alt, Width: picture.CardWidth, Height: picture.CardHeight}
}

// photoPreview is the first of photos that is ready; otherwise it is the site's label.
func (b *Site) photoPreview(photos []Photo) theme.Preview {
	if b.Journal.Address == "" || len(photos) == 0 {
		return b.sitePreview()
	}
	p := photos[0]
	return theme.Preview{Src: b.Journal.Address + strings.TrimLeft(p.Src, "./"), Alt: p.Alt, Width: p.Width, Height: p.Height}
}

func (b *Site) sitePreview() theme.Preview {
	return b.preview(CardAddr, b.Locale().Text("card.site", "title", b.Journal.Title))
}

func (b *Site) plantPreview(id string) theme.Preview {
	return b.preview(PlantCardAddr(id), b.Locale().Text("card.plant", "plant", b.facts.Species(id).Taxon, "title", b.Journal.Title))
}

// SiteCard draws the label of the site.
func (b *Site) SiteCard() ([]byte, error) {
	return picture.Card{
		Title: b.Journal.Grower, Corner: b.host(), Name: []picture.Run{{Text: b.Journal.Title}}, Line: b.Locale().Text("card.line"),
	}.Draw()
}

// PlantCard draws the label of a plant.
func (b *Site) PlantCard(id string) ([]byte, error) {
	s := b.facts.Species(id)
	return picture.Card{
		Title: b.Journal.Title, Corner: b.host(), Name: taxonRuns(s.Taxon), Common: s.Common, Line: strings.Join(needs(b.Locale(), s), " · "),
		Plant: plateOf(s).Areas(picture.PlantWide, picture.PlantTall),
	}.Draw()
}

// taxonRuns is a scientific name for a card, italic where [Taxon] is.
func taxonRuns(name string) []picture.Run {
	var out []picture.Run
	for i, w := range words.TaxonWords(name) {
		if i > 0 {
			out[i-1].Text += " "
		}
		out = append(out, picture.Run{Text: w.Text, Italic: !w.Upright})
	}
	return out
}

// host is where the journal lives, as people say it: bench.example.
func (b *Site) host() string {
	u, err := url.Parse(b.Journal.Address)
	if err != nil {
		return ""
	}
	return strings.TrimPrefix(u.Host, "www.")
}
