package page

import (
	"cmp"
	"slices"

	"slipleaf/build/facts"
	"slipleaf/build/journal"
	"slipleaf/build/review"
	"slipleaf/build/theme"
)

// Output is a file of the site and how it is made.
type Output struct {
	Addr string
	// Record makes the file and tells what it was made from: as long as [facts.Linked.Sum] of that stays the same, so do
	// its bytes.
	Record func() (data []byte, read []facts.Key, err error)
}

// Make makes the file.
func (o Output) Make() ([]byte, error) {
	data, _, err := o.Record()
	return data, err
}

// adder takes an output in. It is made by a copy of the site that notes what is read; an output that reads by another one
// is a fault.
type adder = func(addr string, make func(*Site) ([]byte, error))

// Outputs lists every file of the site, sorted by address.
func (b *Site) Outputs() []Output {
	whole := b.All.Journal
	out := make([]Output, 0, 8*len(whole.Parcels)+5*len(b.PlantIDs())+64) // room for most of a small site
	add := func(addr string, make func(*Site) ([]byte, error)) {
		out = append(out, Output{addr, func() ([]byte, []facts.Key, error) {
			own := b.reading()
			data, err := make(own)
			return data, own.facts.Noted(), err
		}})
	}
	fixed := func(f theme.File) {
		if f.Path != "" {
			add("/"+f.Path, func(*Site) ([]byte, error) { return f.Data, nil })
		}
	}
	fixed(b.Theme.Styles)
	fixed(b.Theme.Script)
	fixed(b.Theme.Icon)
	fixed(b.Theme.Sheet)
	fixed(b.Theme.Label)
	for _, f := range b.photoFiles {
		add("/"+f.Path, func(*Site) ([]byte, error) { return f.Read() })
	}
	add(HomeAddr, (*Site).Home)
	add("/404.html", (*Site).Missing)
	add(OffersAddr, (*Site).Offers)
	add("/offers.json", (*Site).OffersJSON)
	add(PassAlongAddr, (*Site).PassAlong)
	add(SuitAddr, (*Site).Suit)
	add(FriendsAddr, (*Site).Friends)
	add(SearchAddr, (*Site).Search)
	add(SpaceAddr, func(b *Site) ([]byte, error) { return b.review().Space() })
	add(ForecastsAddr, func(b *Site) ([]byte, error) { return b.review().Forecasts() })
	add(TanksAddr, (*Site).Tanks)
	add(PlantsAddr, (*Site).Plants)
	b.tanksideOutputs(add, fixed)
	b.schemas(add)
	b.feeds(add)
	b.yearOutputs(add)
	for _, t := range whole.Tanks {
		bare, _ := b.Journal.Tank(t.ID)
		add(TankAddr(t.ID), func(b *Site) ([]byte, error) { return b.Tank(bare) })
		add(TankAddr(t.ID)+"parameters.csv", func(b *Site) ([]byte, error) { return b.ParametersCSV(bare), nil })
		for _, e := range t.Entries {
			add(EntryAddr(e), func(b *Site) ([]byte, error) { return b.Entry(b.facts.Entry(e)) })
		}
	}
	b.sheetOutputs(add)
	for _, id := range b.PlantIDs() {
		add(PlantAddr(id), func(b *Site) ([]byte, error) { return b.Plant(id) })
		b.growthOutputs(add, id)
	}
	for _, p := range b.Journal.Pages {
		add(WrittenAddr(p.ID), func(b *Site) ([]byte, error) { return b.Written(p) })
	}
	b.cardOutputs(add)
	b.forCrawlers(add, out)
	for _, t := range whole.Tanks { // those in no list of pages
		b.movedOutput(add, t, TankAddr(t.ID))
		for _, e := range t.Entries {
			b.movedOutput(add, t, EntryAddr(e))
		}
	}
	slices.SortFunc(out, func(x, y Output) int { return cmp.Compare(x.Addr, y.Addr) })
	return out
}

// yearOutputs are the lists of entries and the reviews, by year.
func (b *Site) yearOutputs(add adder) {
	add(DiaryAddr, (*Site).Diary)
	for _, year := range b.facts.Years() {
		if addr := b.diaryAddr(year); addr != DiaryAddr {
			add(addr, func(b *Site) ([]byte, error) { return b.DiaryOf(year) })
		}
	}
	for _, year := range b.facts.ReviewYears() {
		add(review.Addr(year), func(b *Site) ([]byte, error) { return b.review().Review(year) })
	}
}

// cardOutputs are the pictures of link previews; none where the site has no address.
func (b *Site) cardOutputs(add adder) {
	if b.Journal.Address == "" {
		return
	}
	add(CardAddr, (*Site).SiteCard)
	for _, id := range b.PlantIDs() {
		add(PlantCardAddr(id), func(b *Site) ([]byte, error) { return b.PlantCard(id) })
	}
}

// Text is a body of Markdown with the address of the page that shows it.
type Text struct {
	Addr   string
	Source journal.Source
}

// Texts lists every body of the journal. A parcel's note is shown on its sheet, whose address stays out of
// complaints: they name the file.
func (b *Site) Texts() []Text {
	j := b.All.Journal
	out := make([]Text, 0, len(j.Tanks)+len(j.Plants)+len(j.Pages)+len(j.Parcels))
	for _, t := range j.Tanks {
		out = append(out, Text{TankAddr(t.ID), t.Source})
		for _, e := range t.Entries {
			out = append(out, Text{EntryAddr(e), e.Source})
		}
	}
	for _, p := range j.Plants {
		out = append(out, Text{PlantAddr(p.ID), p.Source})
	}
	for _, p := range j.Pages {
		out = append(out, Text{WrittenAddr(p.ID), p.Source})
	}
	for _, p := range j.Parcels {
		out = append(out, Text{SheetAddr(p.Code), p.Source})
	}
	return out
}
