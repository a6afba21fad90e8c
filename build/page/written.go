package page

import (
	"html/template"
	"slices"

	"slipleaf/build/diary"
	"slipleaf/build/journal"
)

// WrittenPage is the model of a page of pages/, and of the page for an address that does not exist.
type WrittenPage struct {
	Frame
	Heading string
	Body    template.HTML
	Photos  []Photo
}

// Written makes a page of pages/.
func (b *Book) Written(p *journal.Page) ([]byte, error) {
	addr := WrittenAddr(p.ID)
	doc, err := b.text(addr, p.Source)
	if err != nil {
		return nil, err
	}
	return b.Theme.Render("written", WrittenPage{
		Frame: b.frame("written", addr, p.Title+" · "+b.Journal.Title, doc.Summary), Heading: p.Title, Body: doc.HTML, Photos: b.photosOf(addr, p.Photos),
	})
}

// Missing makes the page that a server shows for an address that does not exist.
func (b *Book) Missing() ([]byte, error) {
	v := b.Voice()
	m := WrittenPage{Frame: b.frame("written", "/404.html", v.Text("missing.title")+" · "+b.Journal.Title, v.Text("missing.text")),
		Heading: v.Text("missing.title"), Body: v.Say("missing.text", "home", b.href("/404.html", HomeAddr), "offers", b.href("/404.html", OffersAddr))}
	m.Unlisted = true
	return b.Theme.Render("written", m)
}

// DiaryPage is the model of the list of all entries.
type DiaryPage struct {
	Frame
	Years []DiaryYear
}

// DiaryYear is a year's entries, newest first.
type DiaryYear struct {
	Year    int
	Review  string // link; "" for a year still to come
	Entries []EntryLine
}

// Diary makes the list of all entries.
func (b *Book) Diary() ([]byte, error) {
	v := b.Voice()
	m := DiaryPage{Frame: b.frame("diary", DiaryAddr, v.Text("diary.title")+" · "+b.Journal.Title, v.Text("diary.description", "n", len(b.entries)))}
	lines, err := b.entryLines(DiaryAddr, b.entries)
	if err != nil {
		return nil, err
	}
	for i, e := range b.entries {
		if n := len(m.Years); n == 0 || m.Years[n-1].Year != e.Date.Year {
			m.Years = append(m.Years, DiaryYear{Year: e.Date.Year, Review: b.reviewLink(DiaryAddr, e.Date.Year)})
		}
		y := &m.Years[len(m.Years)-1]
		y.Entries = append(y.Entries, lines[i])
	}
	return b.Theme.Render("diary", m)
}

// reviewLink leads to a year's review from the page at from; "" where there is none.
func (b *Book) reviewLink(from string, year int) string {
	if !slices.Contains(diary.Years(b.Journal, b.On), year) {
		return ""
	}
	return b.href(from, ReviewAddr(year))
}
