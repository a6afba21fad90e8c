package page

import (
	"cmp"
	"html/template"
	"slices"
	"strings"

	"slipleaf/build/feed"
	"slipleaf/build/journal"
	"slipleaf/build/ledger"
	"slipleaf/build/prose"
	"slipleaf/build/quantity"
	"slipleaf/build/words"
)

// Addresses of the feeds.
const (
	AtomAddr       = "/feed.atom"
	JSONFeedAddr   = "/feed.json"
	OffersAtomAddr = "/offers.atom"
	CalendarAddr   = "/offers.ics"
)

// TankAtomAddr is the feed of one tank.
func TankAtomAddr(id string) string { return TankAddr(id) + "feed.atom" }

// PlantAtomAddr is the feed of one plant.
func PlantAtomAddr(id string) string { return PlantAddr(id) + "feed.atom" }

// The lengths of feeds, so that they stay below 250 kB (advice of jsonfeed.org).
const (
	feedEntries = 40
	tankEntries = 20
	feedLots    = 60
)

// feeds are the outputs for feed readers and calendars.
func (b *Site) feeds(add adder) {
	diary := func(b *Site) feed.Channel { return b.diaryChannel(nil, feedEntries) }
	add(AtomAddr, written(diary, feed.Atom))
	add(JSONFeedAddr, written(diary, feed.JSON))
	add(OffersAtomAddr, written((*Site).offersChannel, feed.Atom))
	add(CalendarAddr, (*Site).Calendar)
	for _, t := range b.Journal.Tanks {
		for _, id := range append([]string{t.ID}, t.Formerly...) {
			add(TankAtomAddr(id), written(func(b *Site) feed.Channel { return b.diaryChannel(t, tankEntries) }, feed.Atom))
		}
	}
	for _, id := range b.PlantIDs() {
		add(PlantAtomAddr(id), written(func(b *Site) feed.Channel { return b.plantChannel(id) }, feed.Atom))
	}
}

func written(channel func(*Site) feed.Channel, write func(feed.Channel) ([]byte, error)) func(*Site) ([]byte, error) {
	return func(b *Site) ([]byte, error) { return write(channel(b)) }
}

func (b *Site) mint() feed.Mint {
	j := b.Journal
	return feed.NewMint(j.Address, b.mail(), j.Title, j.Grower)
}

// absolute is a site address with the journal's own before it; "" where the journal has none.
func (b *Site) absolute(addr string) string {
	if b.Journal.Address == "" {
		return ""
	}
	return b.Journal.Address + addr[1:]
}

// channel begins a feed that is found at self and tells of the page at home.
func (b *Site) channel(self, home, title string) feed.Channel {
	c := feed.Channel{Title: title, Language: b.Theme.Words.Lang, Author: cmp.Or(b.Journal.Grower, b.Journal.Title, "slipleaf"),
		Self: b.absolute(self), Home: b.absolute(home), ID: b.mint().ID(b.since(), strings.TrimPrefix(self, "/"))}
	if self == AtomAddr {
		c.JSON = b.absolute(JSONFeedAddr)
	}
	return c
}

// since is the day on which the journal's first tank began: a day on which the journal was there.
func (b *Site) since() (first quantity.Date) {
	for _, t := range b.Journal.Tanks {
		if !t.Began.IsZero() && (first.IsZero() || t.Began.Before(first)) {
			first = t.Began
		}
	}
	return first
}

// diaryChannel is the newest entries of a tank, or of all tanks where t is nil.
func (b *Site) diaryChannel(t *journal.Tank, most int) feed.Channel {
	v := b.Locale()
	c := b.channel(AtomAddr, HomeAddr, b.Journal.Title)
	c.Subtitle = v.Text("feed-text.diary", "grower", b.Journal.Grower)
	c.Updated = b.since()
	if t != nil {
		c = b.channel(TankAtomAddr(t.ID), TankAddr(t.ID), v.Text("feed-text.tank", "tank", b.tankName(t.ID), "site", b.Journal.Title))
		c.Updated = t.Began
	}
	return b.withEntries(c, b.newest(t, most))
}

// plantChannel is the newest entries that name a plant.
func (b *Site) plantChannel(id string) feed.Channel {
	c := b.channel(PlantAtomAddr(id), PlantAddr(id), b.Locale().Text("feed-text.plant", "plant", words.Capital(b.plantName(id)), "site", b.Journal.Title))
	c.Updated = b.since()
	var es []*journal.Entry
	for _, t := range b.facts.Naming(id) {
		for _, e := range b.facts.SoFarIn(t.ID) {
			if names(e, id) {
				es = append(es, e)
			}
		}
	}
	slices.SortStableFunc(es, func(x, y *journal.Entry) int {
		return cmp.Or(y.Date.Compare(x.Date), cmp.Compare(x.Tank, y.Tank), cmp.Compare(y.ID(), x.ID()))
	})
	return b.withEntries(c, es[:min(len(es), tankEntries)])
}

// withEntries puts entries into a feed.
func (b *Site) withEntries(c feed.Channel, es []*journal.Entry) feed.Channel {
	for _, e := range es {
		item := b.entryItem(e)
		c.Items = append(c.Items, item)
		c.Updated = later(c.Updated, item.Updated)
	}
	return c
}

// entryItem is a diary entry for a feed. The journal does not say when it was last touched, so its day is its age.
func (b *Site) entryItem(e *journal.Entry) feed.Item {
	addr := EntryAddr(e)
	doc := b.prose.Render(b.facts.Text(e.Source), b.feedPlace(addr))
	text := feed.Plain(string(doc.HTML)+b.feedPhotos(addr, e), b.absolute(addr))
	if w := words.WaterLine(b.Locale(), e.Parameters); len(w) > 0 {
		text += "\n<p>" + template.HTMLEscapeString(strings.Join(w, " · ")) + "</p>"
	}
	return feed.Item{ID: b.mint().ID(e.Date, e.Tank+"/"+e.ID()), Title: b.entryTitle(e), URL: b.absolute(addr), Published: e.Date, Updated: e.Date,
		HTML: text, Summary: words.Clip(doc.Summary, 260), Tags: []string{b.tankName(e.Tank)}}
}

// feedPhotos are the photos of an entry's head.
func (b *Site) feedPhotos(addr string, e *journal.Entry) string {
	var s strings.Builder
	for _, p := range b.photosOf(addr, e.Photos) {
		s.WriteString(`<p><img src="` + template.HTMLEscapeString(p.Src) + `" alt="` + template.HTMLEscapeString(p.Alt) + `"></p>`)
	}
	return s.String()
}

// offersChannel is the lots, those first of which something changed last.
func (b *Site) offersChannel() feed.Channel {
	v := b.Locale()
	c := b.channel(OffersAtomAddr, OffersAddr, v.Text("feed-text.offers", "site", b.Journal.Title))
	c.Updated = b.since()
	parcels := b.parcelsByLot()
	for _, l := range b.facts.Ledger().Offered() {
		if l.Date.After(b.facts.Day()) {
			continue
		}
		item := b.lotItem(v, l, b.lotChanged(l, parcels[l.ID]))
		c.Items = append(c.Items, item)
		c.Updated = later(c.Updated, item.Updated)
	}
	slices.SortStableFunc(c.Items, func(x, y feed.Item) int { return y.Updated.Compare(x.Updated) })
	c.Items = c.Items[:min(len(c.Items), feedLots)]
	return c
}

func (b *Site) lotItem(v words.Locale, l *ledger.Lot, changed quantity.Date) feed.Item {
	sp := b.Species(l.Plant)
	what := v.Text("feed-text."+l.State.String(), "left", l.Left, "form", b.formOf(v, l), "reserved", l.Reserved)
	if !l.Lot.Ready.IsZero() && l.State == ledger.Coming {
		what = v.Text("feed-text.coming-on", "form", b.formOf(v, l), "date", v.Date(l.Lot.Ready))
	}
	published := l.Date
	if !l.Announced.IsZero() {
		published = l.Announced
	}
	text := "<p><i>" + template.HTMLEscapeString(sp.Taxon) + "</i>: " + template.HTMLEscapeString(what) + "</p>"
	return feed.Item{ID: b.mint().ID(published, "offers/"+l.ID), Title: v.Text("feed-text.lot", "plant", b.plantName(l.Plant), "lot", l.ID),
		URL: b.absolute(LotAddr(l.ID)), Published: published, Updated: changed, HTML: text, Summary: what, Tags: []string{sp.Taxon}}
}

// formOf is what a lot is made of: "12 cuttings", or "cuttings" while they are not counted.
func (b *Site) formOf(v words.Locale, l *ledger.Lot) string {
	if l.Form == "" {
		return v.Text("feed-text.plants", "n", l.Count)
	}
	if l.Expected {
		return v.Text("form-name." + l.Form)
	}
	return v.Text("form."+l.Form, "n", l.Count)
}

func (b *Site) parcelsByLot() map[string][]*journal.Parcel {
	out := map[string][]*journal.Parcel{}
	for _, p := range b.facts.Heads().Parcels {
		out[p.Lot] = append(out[p.Lot], p)
	}
	return out
}

// lotChanged is the latest day up to the site's on which something was written that changed a lot's account: its
// entry, its being ready, a promise that was given, fell through or lapsed, a parcel that left.
func (b *Site) lotChanged(l *ledger.Lot, parcels []*journal.Parcel) quantity.Date {
	last := later(l.Announced, l.Date)
	see := func(d quantity.Date) {
		if !d.After(b.facts.Day()) {
			last = later(last, d)
		}
	}
	see(l.Lot.Ready)
	for _, p := range parcels {
		see(p.Reserved)
		see(p.Sent)
		see(p.Cancelled)
	}
	for _, p := range l.Lapsed {
		see(p.Lapses)
	}
	return last
}

func later(a, b quantity.Date) quantity.Date {
	if b.After(a) {
		return b
	}
	return a
}

// Calendar is offers.ics: when lots come ready, so that whoever waits for one is told by their own calendar.
func (b *Site) Calendar() ([]byte, error) {
	v := b.Locale()
	c := feed.Calendar{Name: v.Text("feed-text.offers", "site", b.Journal.Title)}
	parcels := b.parcelsByLot()
	for _, l := range b.facts.Ledger().Offered() {
		first, last := l.Window.Low, l.Window.High
		switch {
		case l.State == ledger.Ready:
			first, last = l.Ready, l.Ready
		case l.State != ledger.Coming || !l.Window.Known():
			continue
		}
		forecast := l.State == ledger.Coming && !l.Own
		c.Events = append(c.Events, feed.Event{UID: b.mint().UID("offers/" + l.ID), First: first, Last: last, Tentative: forecast,
			Changed: b.eventChanged(l, parcels[l.ID], forecast), URL: b.absolute(LotAddr(l.ID)),
			Title: v.Text("feed-text.event", "plant", b.plantName(l.Plant), "lot", l.ID), Text: b.eventText(v, l, forecast)})
	}
	return c.Write(), nil
}

func (b *Site) eventText(v words.Locale, l *ledger.Lot, forecast bool) string {
	if forecast {
		return v.Text("feed-text.forecast", "taxon", b.Species(l.Plant).Taxon, "form", b.formOf(v, l))
	}
	return v.Text("feed-text.told", "taxon", b.Species(l.Plant).Taxon, "form", b.formOf(v, l))
}

// eventChanged is the day of the lot's last change; a forecast also changes with every entry of its tank.
func (b *Site) eventChanged(l *ledger.Lot, parcels []*journal.Parcel, forecast bool) quantity.Date {
	last := b.lotChanged(l, parcels)
	if t, ok := b.Journal.Tank(l.Tank); ok && forecast {
		for _, e := range b.facts.SoFarIn(t.ID) {
			last = later(last, e.Date)
		}
	}
	return last
}

// feedPlace is what an entry's text may draw on in a feed: links and photos by their place on the site, and a word
// where a figure is, since readers have no styles for drawings.
func (b *Site) feedPlace(addr string) prose.Place {
	served := *b
	served.OnDisk = false // addresses in feeds are those of a server
	return prose.Place{Links: linker{&served, addr}, Figures: noFigures{b.Locale()}, Photos: served.pictures(addr)}
}

type noFigures struct{ v words.Locale }

// Figure implements prose.Figures.
func (n noFigures) Figure(string, []string) (template.HTML, error) {
	return n.v.HTML("feed-text.figure"), nil
}
