package page

import (
	"cmp"
	"slices"

	"slipleaf/build/diary"
	"slipleaf/build/journal"
)

// Output is a file of the site and how it is made.
type Output struct {
	Addr string
	Make func() ([]byte, error)
}

// Outputs lists every file of the site, sorted by address.
func (b *Book) Outputs() []Output {
	var out []Output
	add := func(addr string, f func() ([]byte, error)) { out = append(out, Output{addr, f}) }
	fixed := func(f File) {
		if f.Path != "" {
			add("/"+f.Path, func() ([]byte, error) { return f.Data, nil })
		}
	}
	fixed(b.Theme.Styles)
	fixed(b.Theme.Script)
	fixed(b.Theme.Icon)
	fixed(b.Theme.Sheet)
	for _, f := range b.photoFiles {
		fixed(f)
	}
	add(HomeAddr, b.Home)
	if b.Journal.Address != "" {
		add(CardAddr, b.SiteCard)
	}
	add("/404.html", b.Missing)
	add(OffersAddr, b.Offers)
	add("/offers.json", b.OffersJSON)
	add(PassAlongAddr, b.PassAlong)
	add(SuitAddr, b.Suit)
	add(FriendsAddr, b.Friends)
	out = append(append(out, schemas()...), b.feeds()...)
	add(DiaryAddr, b.Diary)
	for _, year := range b.diaryYears() {
		if addr := b.diaryAddr(year); addr != DiaryAddr {
			add(addr, func() ([]byte, error) { return b.DiaryOf(year) })
		}
	}
	add(SearchAddr, b.Search)
	add(SpaceAddr, b.Space)
	for _, year := range diary.Years(b.Journal, b.On) {
		add(ReviewAddr(year), func() ([]byte, error) { return b.Review(year) })
	}
	add(TanksAddr, b.Tanks)
	for _, t := range b.Journal.Tanks {
		add(TankAddr(t.ID), func() ([]byte, error) { return b.Tank(t) })
		add(TankAddr(t.ID)+"parameters.csv", func() ([]byte, error) { return b.ParametersCSV(t), nil })
		for _, e := range t.Entries {
			add(EntryAddr(e), func() ([]byte, error) { return b.Entry(e) })
		}
	}
	b.sheetOutputs(add)
	add(PlantsAddr, b.Plants)
	for _, id := range b.PlantIDs() {
		add(PlantAddr(id), func() ([]byte, error) { return b.Plant(id) })
		b.growthOutputs(add, id)
		if b.Journal.Address != "" {
			add(PlantCardAddr(id), func() ([]byte, error) { return b.PlantCard(id) })
		}
	}
	for _, p := range b.Journal.Pages {
		add(WrittenAddr(p.ID), func() ([]byte, error) { return b.Written(p) })
	}
	out = append(out, b.forCrawlers(out)...)
	slices.SortFunc(out, func(x, y Output) int { return cmp.Compare(x.Addr, y.Addr) })
	return out
}

// Text is a body of Markdown with the address of the page that shows it.
type Text struct {
	Addr   string
	Source journal.Source
}

// Texts lists every body of the journal. A parcel's note is shown on its sheet, whose address stays out of
// complaints: they name the file.
func (b *Book) Texts() []Text {
	var out []Text
	for _, t := range b.Journal.Tanks {
		out = append(out, Text{TankAddr(t.ID), t.Source})
		for _, e := range t.Entries {
			out = append(out, Text{EntryAddr(e), e.Source})
		}
	}
	for _, p := range b.Journal.Plants {
		out = append(out, Text{PlantAddr(p.ID), p.Source})
	}
	for _, p := range b.Journal.Pages {
		out = append(out, Text{WrittenAddr(p.ID), p.Source})
	}
	for _, p := range b.Journal.Parcels {
		out = append(out, Text{SheetAddr(p.Code), p.Source})
	}
	return out
}
