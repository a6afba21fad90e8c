package page

import (
	"html/template"
	"slices"
	"strconv"

	"slipleaf/build/journal"
	"slipleaf/build/review"
	"slipleaf/build/theme"
)

// WrittenPage is the model of a page of pages/, and of the page for an address that does not exist.
type WrittenPage struct {
	theme.Frame
	Heading string
	Body    template.HTML
	Photos  []Photo
}

// Written makes a page of pages/.
func (b *Site) Written(p *journal.Page) ([]byte, error) {
	addr := WrittenAddr(p.ID)
	doc := b.text(addr, p.Source)
	return b.Theme.Render("written", WrittenPage{
		Frame: b.frame("written", addr, p.Title+" · "+b.Journal.Title, doc.Summary), Heading: p.Title, Body: doc.HTML, Photos: b.photosOf(addr, p.Photos),
	})
}

// Missing makes the page that a server shows for an address that does not exist.
func (b *Site) Missing() ([]byte, error) {
	v := b.Locale()
	m := WrittenPage{Frame: b.frame("written", "/404.html", v.Text("missing.title")+" · "+b.Journal.Title, v.Text("missing.text")),
		Heading: v.Text("missing.title"), Body: v.HTML("missing.text", "home", b.href("/404.html", HomeAddr), "offers", b.href("/404.html", OffersAddr))}
	m.Unlisted = true
	return b.Theme.Render("written", m)
}

// DiaryPage is the model of the list of all entries.
type DiaryPage struct {
	theme.Frame
	Heading string
	Years   []DiaryYear  // the page's own; none where nothing was written
	Others  []theme.Link // to the lists of other years
}

// DiaryYear is a year's entries, newest first.
type DiaryYear struct {
	Year    int
	Review  string // link; "" for a year still to come
	Entries []EntryLine
}

// DiaryYearAddr is the list of a past year's entries. Those of the newest year stand at [DiaryAddr].
func DiaryYearAddr(year int) string { return DiaryAddr + strconv.Itoa(year) + "/" }

// diaryAddr is where a year's entries are listed.
func (b *Site) diaryAddr(year int) string {
	if years := b.facts.Years(); len(years) == 0 || year == years[0] {
		return DiaryAddr
	}
	return DiaryYearAddr(year)
}

// Diary makes the list of the newest year's entries, with links to the years before.
func (b *Site) Diary() ([]byte, error) {
	years := b.facts.Years()
	if len(years) == 0 {
		years = []int{b.facts.Day().Year}
	}
	return b.DiaryOf(years[0])
}

// DiaryOf makes the list of a year's entries.
func (b *Site) DiaryOf(year int) ([]byte, error) {
	v := b.Locale()
	addr := b.diaryAddr(year)
	title := v.Text("diary.title")
	if len(b.facts.Years()) > 1 {
		title = v.Text("diary.of-year", "year", year)
	}
	entries := b.facts.EntriesOf(year)
	m := DiaryPage{Frame: b.frame("diary", addr, title+" · "+b.Journal.Title, v.Text("diary.description", "n", len(entries))), Heading: title}
	if len(entries) > 0 {
		m.Years = []DiaryYear{{Year: year, Review: b.reviewLink(addr, year), Entries: b.entryLines(addr, entries)}}
	}
	m.Others = b.diaryLinks(addr, year, b.facts.Years())
	return b.Theme.Render("diary", m)
}

// diaryLinks leads from a page to the entries of years other than one.
func (b *Site) diaryLinks(from string, but int, years []int) []theme.Link {
	var out []theme.Link
	for _, y := range years {
		if y != but {
			out = append(out, theme.Link{Text: strconv.Itoa(y), Href: b.href(from, b.diaryAddr(y))})
		}
	}
	return out
}

// reviewLink leads to a year's review from the page at from; "" where there is none.
func (b *Site) reviewLink(from string, year int) string {
	if !slices.Contains(b.facts.ReviewYears(), year) {
		return ""
	}
	return b.href(from, review.Addr(year))
}
