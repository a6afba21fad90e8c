package page

import (
	"slipleaf/build/journal"
	"slipleaf/build/theme"
)

// HomePage is the model of the first page: what is going on.
type HomePage struct {
	theme.Frame
	Heading string
	Entries []EntryLine
	All     string // link to the diary
	Tanks   []TankLine
	Lots    HomeOffers
	Drawing *DrawingPart // of the main tank
}

// homeEntries is how many entries the first page shows.
const homeEntries = 5

// Home makes the first page.
func (b *Site) Home() ([]byte, error) {
	v := b.Locale()
	m := HomePage{Frame: b.frame("home", HomeAddr, b.Journal.Title, v.Text("home.description", "grower", b.Journal.Grower)),
		All: b.href(HomeAddr, DiaryAddr), Lots: b.homeOffers(v)}
	m.Heading = m.Lots.Headline
	if t := b.mainTank(); t != nil {
		if d, ok := b.drawing(HomeAddr, t); ok {
			m.Drawing = &d
		}
	}
	m.Entries = b.entryLines(HomeAddr, b.newest(nil, homeEntries))
	return b.Theme.Render("home", m)
}

// newest are the newest entries by the site's day, at most so many, newest first; of one tank, or of all where it is nil.
func (b *Site) newest(t *journal.Tank, most int) []*journal.Entry {
	var all []*journal.Entry
	if t != nil {
		all = b.facts.NewestIn(t.ID)
	} else {
		all = b.facts.SoFar()
	}
	return all[:min(len(all), most)]
}
