package page

import (
	"cmp"
	"slices"

	"slipleaf/build/fingerprint"
	"slipleaf/build/growth"
	"slipleaf/build/journal"
	"slipleaf/build/theme"
)

// Output is a file of the site and how it is made.
type Output struct {
	Addr string
	// Print is the fingerprint of all that it is made from: outputs of one address and one fingerprint are the same
	// bytes. It costs far less than making.
	Sum  func() fingerprint.Sum
	Make func() ([]byte, error)
}

// Outputs lists every file of the site, sorted by address.
func (b *Site) Outputs() []Output {
	out := make([]Output, 0, len(b.entries)+8*len(b.Journal.Parcels)+5*len(b.species)+64) // room for most
	r := b.deps
	add := func(addr string, from func() fingerprint.Sum, f func() ([]byte, error)) {
		out = append(out, Output{addr, from, f})
	}
	fixed := func(f theme.File) {
		if f.Path != "" {
			add("/"+f.Path, func() fingerprint.Sum { return fingerprint.Of(f.Data) }, func() ([]byte, error) { return f.Data, nil })
		}
	}
	fixed(b.Theme.Styles)
	fixed(b.Theme.Script)
	fixed(b.Theme.Icon)
	fixed(b.Theme.Sheet)
	for _, f := range b.photoFiles {
		fixed(f)
	}
	add(HomeAddr, r.all, b.Home)
	if b.Journal.Address != "" {
		add(CardAddr, r.frame, b.SiteCard)
	}
	add("/404.html", r.frame, b.Missing)
	add(OffersAddr, r.heads, b.Offers)
	add("/offers.json", r.heads, b.OffersJSON)
	add(PassAlongAddr, r.heads, b.PassAlong)
	add(SuitAddr, r.heads, b.Suit)
	add(FriendsAddr, r.heads, b.Friends)
	out = append(append(out, b.schemas()...), b.feeds()...)
	add(DiaryAddr, r.all, b.Diary)
	for _, year := range b.diaryYears() {
		if addr := b.diaryAddr(year); addr != DiaryAddr {
			add(addr, r.year[year], func() ([]byte, error) { return b.DiaryOf(year) })
		}
	}
	add(SearchAddr, r.all, b.Search)
	add(SpaceAddr, r.heads, b.Space)
	for _, year := range growth.Years(b.Journal, b.On) {
		add(ReviewAddr(year), r.heads, func() ([]byte, error) { return b.Review(year) })
	}
	add(TanksAddr, r.heads, b.Tanks)
	for _, t := range b.Journal.Tanks {
		told := func() fingerprint.Sum { return blend(r.frame(), r.withBodies[t.ID]()) }
		add(TankAddr(t.ID), told, func() ([]byte, error) { return b.Tank(t) })
		add(TankAddr(t.ID)+"parameters.csv", told, func() ([]byte, error) { return b.ParametersCSV(t), nil })
		for _, e := range t.Entries {
			add(EntryAddr(e), func() fingerprint.Sum { return r.entry(e) }, func() ([]byte, error) { return b.Entry(e) })
		}
	}
	b.sheetOutputs(add)
	add(PlantsAddr, r.heads, b.Plants)
	for _, id := range b.PlantIDs() {
		add(PlantAddr(id), r.plant[id], func() ([]byte, error) { return b.Plant(id) })
		b.growthOutputs(add, id)
		if b.Journal.Address != "" {
			add(PlantCardAddr(id), r.frame, func() ([]byte, error) { return b.PlantCard(id) })
		}
	}
	for _, p := range b.Journal.Pages {
		add(WrittenAddr(p.ID), func() fingerprint.Sum { return blend(r.frame(), r.withFigures(p.Source)) }, func() ([]byte, error) { return b.Written(p) })
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
func (b *Site) Texts() []Text {
	j := b.Journal
	out := make([]Text, 0, len(j.Tanks)+len(b.entries)+len(j.Plants)+len(j.Pages)+len(j.Parcels))
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
