package theme

import (
	"html/template"
	"sync"
)

// Frame is what every page has around its main part. Beside its fields it tells OnDate, the day that the page is made for ("" for
// one that is the same on other days), and Held, the same where the journal is held at that day.
type Frame struct {
	Lang, Dir      string
	Kind           string // the template's name; also a class of body
	Title          string // of the document
	Description    string
	SiteTitle      string
	Home           string // link
	Nav            []NavLink
	Search         string     // link to the search; "" on its own page
	Styles         string     // link
	Icon           string     // link; "" when the theme has none
	Script         string     // link; "" for a page without script
	Canonical      string     // absolute address; "" when the journal has none
	Feeds          []FeedLink // of the site
	Own            []FeedLink // of the page itself
	Moved          string     // link to where the page is now; "" for all that are still there
	Unlisted       bool       // noindex, no-referrer, no navigation
	CSP            string
	Foot           []NavLink
	Machines       []NavLink
	Mail           string // the claims address without placeholders; "" if none
	Grower         string
	StructuredData any // JSON-LD; nil for none
	Picture        Preview

	date  func() (date string, held bool) // see Dated
	place string                          // the address below which all of its links are the same
	parts *sync.Map                       // parts that are the same on every page of that place; see Theme.shared
}

// Share lets the top and the foot of a page be made once for all pages of a place, at which all of their links are the
// same. parts keeps them.
func (f *Frame) Share(place string, parts *sync.Map) { f.place, f.parts = place, parts }

// Dated tells the frame how to find the day of the site when the foot is written: by then all that the page rests on was read.
// The date is "" for a page that is the same on another day; held says that the journal is held at that day.
func (f *Frame) Dated(find func() (date string, held bool)) { f.date = find }

// OnDate is the day that a page is made for; "" for one that is the same on another day.
func (f Frame) OnDate() string {
	if f.date == nil {
		return ""
	}
	date, _ := f.date()
	return date
}

// Held is the day at which the journal is held, on a page that rests on the day; "" while the journal goes on.
func (f Frame) Held() string {
	if f.date == nil {
		return ""
	}
	if date, held := f.date(); held {
		return date
	}
	return ""
}

// NavLink is a link of the navigation.
type NavLink struct {
	Text, Href string
	Here       bool
}

// FeedLink announces a machine file in the head.
type FeedLink struct{ Type, Title, Href string }

// Link is a link with plain text.
type Link struct{ Text, Href string }

// PlantName is a plant's two names, with the link to its page: the common name first where the page's language has one,
// the scientific one beside it.
type PlantName struct {
	First, Second template.HTML
	Href          string
}

// Field is a line of a label: a term and what it is.
type Field struct {
	Term template.HTML
	Is   template.HTML
}

// Preview is the picture of a link preview. Its address is absolute; "" where the journal has no address, since no
// preview could find it then.
type Preview struct {
	Src, Alt      string
	Width, Height int
}

// Policy is the content security policy of every page, also sent as a header by netlify.toml: nothing from other
// hosts, no inline style or script.
const Policy = "default-src 'none'; style-src 'self'; img-src 'self'; script-src 'self'; connect-src 'self'; form-action 'self'; base-uri 'none'"

// SheetPolicy is that of a care sheet, which runs no script at all.
const SheetPolicy = "default-src 'none'; style-src 'self'; img-src 'self'; form-action 'none'; base-uri 'none'"
