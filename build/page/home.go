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
		All: b.href(HomeAddr, DiaryAddr)}
	var err error
	if m.Lots, err = b.homeOffers(v); err != nil {
		return nil, err
	}
	m.Heading = m.Lots.Headline
	if t := b.mainTank(); t != nil {
		if d, ok := b.drawing(HomeAddr, t); ok {
			m.Drawing = &d
		}
	}
	m.Entries, err = b.entryLines(HomeAddr, b.newest(homeEntries))
	if err != nil {
		return nil, err
	}
	return b.Theme.Render("home", m)
}

// newest lists the newest n entries that are not in the future.
func (b *Site) newest(n int) []*journal.Entry {
	var out []*journal.Entry
	for _, e := range b.entries {
		if !e.Date.After(b.On) && len(out) < n {
			out = append(out, e)
		}
	}
	return out
}
