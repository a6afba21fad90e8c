package page

import (
	"cmp"
	"slices"
	"strings"

	"slipleaf/build/facts"
	"slipleaf/build/journal"
	"slipleaf/build/papers"
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
	out := b.outputsBelow(anywhere)
	slices.SortFunc(out, func(x, y Output) int { return cmp.Compare(x.Addr, y.Addr) })
	return out
}

// Output is the file at an address; ok is false where there is none.
func (b *Site) Output(addr string) (o Output, ok bool) {
	all := b.outputsBelow(func(folder string) bool { return strings.HasPrefix(addr, folder) })
	i := slices.IndexFunc(all, func(o Output) bool { return o.Addr == addr })
	if i < 0 {
		return Output{}, false
	}
	return all[i], true
}

// outputsBelow lists the files of the site. Most lie in the folder of a tank or of a parcel: those of a folder that is not
// wanted are left out.
func (b *Site) outputsBelow(wanted func(folder string) bool) []Output {
	var out []Output
	add := func(addr string, make func(*Site) ([]byte, error)) {
		out = append(out, Output{addr, func() ([]byte, []facts.Key, error) {
			own := b.reading()
			data, err := make(own)
			return data, own.facts.Noted(), err
		}})
	}
	b.outputs(add, wanted)
	b.forCrawlers(add)
	b.movedOutputs(add, wanted)
	return out
}

// anywhere wants every folder.
func anywhere(string) bool { return true }

// outputs are the files of the site but for those of [Site.forCrawlers] and [Site.movedOutputs].
func (b *Site) outputs(add adder, wanted func(folder string) bool) {
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
	for _, t := range b.All.Journal.Tanks {
		if !wanted(TankAddr(t.ID)) {
			continue
		}
		bare, _ := b.Journal.Tank(t.ID)
		add(TankAddr(t.ID), func(b *Site) ([]byte, error) { return b.Tank(bare) })
		add(TankAddr(t.ID)+"parameters.csv", func(b *Site) ([]byte, error) { return b.ParametersCSV(bare), nil })
		for _, e := range t.Entries {
			add(EntryAddr(e), func(b *Site) ([]byte, error) { return b.Entry(b.facts.Entry(e)) })
		}
	}
	if wanted(papers.Folder) {
		b.sheetOutputs(add, wanted)
	}
	for _, id := range b.PlantIDs() {
		add(PlantAddr(id), func(b *Site) ([]byte, error) { return b.Plant(id) })
		b.growthOutputs(add, id)
	}
	for _, p := range b.Journal.Pages {
		add(WrittenAddr(p.ID), func(b *Site) ([]byte, error) { return b.Written(p) })
	}
	b.cardOutputs(add)
}

// movedOutputs are the pages at each address that a page of a tank had before, which lead to those of today.
func (b *Site) movedOutputs(add adder, wanted func(folder string) bool) {
	for _, t := range b.All.Journal.Tanks {
		for _, old := range t.Formerly {
			lead := func(now string) {
				from := TankAddr(old) + strings.TrimPrefix(now, TankAddr(t.ID))
				add(from, func(b *Site) ([]byte, error) { return b.moved(from, now, b.tankName(t.ID)) })
			}
			if wanted(TankAddr(old)) {
				lead(TankAddr(t.ID))
				for _, e := range t.Entries {
					lead(EntryAddr(e))
				}
			}
		}
	}
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

// Text is a body of Markdown.
type Text struct {
	Source *journal.Source
	of     any
}

// Addr is the address of the page that shows a text.
func (t Text) Addr() string {
	switch of := t.of.(type) {
	case *journal.Tank:
		return TankAddr(of.ID)
	case *journal.Entry:
		return EntryAddr(of)
	case *journal.Plant:
		return PlantAddr(of.ID)
	case *journal.Page:
		return WrittenAddr(of.ID)
	case *journal.Parcel:
		return SheetAddr(of.Code)
	}
	return ""
}

// Texts lists every body of the journal. A parcel's note is shown on its sheet, whose address stays out of
// complaints: they name the file.
func (b *Site) Texts() []Text {
	j := b.All.Journal
	var out []Text
	for _, t := range j.Tanks {
		out = append(slices.Grow(out, len(t.Entries)+1), Text{&t.Source, t})
		for _, e := range t.Entries {
			out = append(out, Text{&e.Source, e})
		}
	}
	for _, p := range j.Plants {
		out = append(out, Text{&p.Source, p})
	}
	for _, p := range j.Pages {
		out = append(out, Text{&p.Source, p})
	}
	for _, p := range j.Parcels {
		out = append(out, Text{&p.Source, p})
	}
	return out
}
