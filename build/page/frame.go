package page

import (
	"html/template"
	"slices"
	"strings"
	"sync"

	"slipleaf/build/quantity"
)

// Frame is what every page has around its main part.
type Frame struct {
	Lang, Dir      string
	Kind           string // the template's name; also a class of body
	Title          string // of the document
	Description    string
	SiteTitle      string
	Home           string // link
	Nav            []NavLink
	Styles         string // link
	Icon           string // link; "" when the theme has none
	Script         string // link; "" for a page without script
	Canonical      string // absolute address; "" when the journal has none
	Feeds          []FeedLink
	Unlisted       bool // noindex, no-referrer, no navigation
	CSP            string
	Foot           []NavLink
	Machines       []NavLink
	Mail           string // the claims address without placeholders; "" if none
	Grower         string
	OnDate         string
	StructuredData any // JSON-LD; nil for none
	Picture        Preview

	at   string    // the address below which all of its links are the same
	kept *sync.Map // parts that are the same on every page of that place; see Theme.once
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

// Binomial is a plant's name with the link to its page.
type Binomial struct {
	Name   template.HTML
	Common template.HTML // marked as English where it is and the page is not
	Href   string
}

// policy is the content security policy of every page, also sent as a header by netlify.toml: nothing from other
// hosts, no inline style or script.
const policy = "default-src 'none'; style-src 'self'; img-src 'self'; script-src 'self'; connect-src 'self'; form-action 'none'; base-uri 'none'"

// sheetPolicy is that of a care sheet, which runs no script at all.
const sheetPolicy = "default-src 'none'; style-src 'self'; img-src 'self'; form-action 'none'; base-uri 'none'"

// frame fills the Frame of the page at addr.
func (b *Site) frame(kind, addr, title, description string) Frame {
	v := b.Locale()
	f := Frame{
		Lang: v.Lang, Dir: v.Text("page.direction"), Kind: kind, Title: title, Description: clipText(description, 200),
		SiteTitle: b.Journal.Title, Home: b.href(addr, HomeAddr), Styles: b.href(addr, "/"+b.Theme.Styles.Path),
		CSP: policy, Grower: b.Journal.Grower, OnDate: v.Date(b.On), Mail: b.mail(),
		StructuredData: b.structured(kind, addr, description),
	}
	if b.Theme.Icon.Path != "" {
		f.Icon = b.href(addr, "/"+b.Theme.Icon.Path)
	}
	if b.Theme.Script.Path != "" {
		f.Script = b.href(addr, "/"+b.Theme.Script.Path)
	}
	f.Picture = b.sitePreview()
	if b.Journal.Address != "" {
		f.Canonical = b.Journal.Address + addr[1:]
	}
	l := b.linksAt(addr)
	f.Nav, f.Foot, f.Machines, f.at, f.kept = l.nav, l.foot, l.machines, l.at, b.parts
	f.Feeds = slices.Clip(l.feeds) // some pages add to it
	switch kind {
	case "tank":
		f.Feeds = append(f.Feeds, FeedLink{"application/atom+xml", title, b.href(addr, addr+"feed.atom")})
	case "offers":
		f.Feeds = append(f.Feeds, FeedLink{"application/atom+xml", title, b.href(addr, OffersAtomAddr)})
	}
	return f
}

// frameLinks are the links around a page. Those of two pages of one section at one depth are the same, but for the pages
// of the first depth, which the links themselves may lead to.
type frameLinks struct {
	nav, foot, machines []NavLink
	feeds               []FeedLink
	at                  string
}

// linksAt are the links around the page at addr, made once for all pages that share them.
func (b *Site) linksAt(addr string) *frameLinks {
	at := addr
	if parts := strings.Split(addr, "/"); len(parts) > 3 {
		at = parts[1] + strings.Repeat("/", len(parts))
	}
	if known, ok := b.links.Load(at); ok {
		return known.(*frameLinks)
	}
	made := b.makeLinks(addr)
	made.at = at
	known, _ := b.links.LoadOrStore(at, made)
	return known.(*frameLinks)
}

func (b *Site) makeLinks(addr string) *frameLinks {
	v := b.Locale()
	l := &frameLinks{}
	for _, n := range []struct{ key, to string }{
		{"nav.now", HomeAddr}, {"nav.tanks", TanksAddr}, {"nav.plants", PlantsAddr}, {"nav.offers", OffersAddr}, {"nav.suit", SuitAddr},
	} {
		l.nav = append(l.nav, NavLink{v.Text(n.key), b.href(addr, n.to), within(addr, n.to)})
	}
	for i, p := range b.writtenPages() {
		link := NavLink{p.Title, b.href(addr, WrittenAddr(p.ID)), addr == WrittenAddr(p.ID)}
		if i == 0 {
			l.nav = append(l.nav, link)
		} else {
			l.foot = append(l.foot, link)
		}
	}
	for _, n := range []struct{ key, to string }{
		{"nav.search", SearchAddr}, {"nav.diary", DiaryAddr}, {"nav.space", SpaceAddr}, {"nav.pass-along", PassAlongAddr}, {"nav.friends", FriendsAddr},
	} {
		l.foot = append(l.foot, NavLink{v.Text(n.key), b.href(addr, n.to), addr == n.to})
	}
	for _, n := range []struct{ key, to, mime string }{
		{"feed.atom", "/feed.atom", "application/atom+xml"}, {"feed.json", "/feed.json", "application/feed+json"},
		{"feed.calendar", "/offers.ics", "text/calendar"}, {"feed.offers", "/offers.json", "application/json"},
	} {
		l.machines = append(l.machines, NavLink{Text: v.Text(n.key), Href: b.href(addr, n.to)})
		l.feeds = append(l.feeds, FeedLink{n.mime, b.Journal.Title + ": " + v.Text(n.key), b.href(addr, n.to)})
	}
	return l
}

// within tells whether addr is the section that the navigation names by to, or below it.
func within(addr, to string) bool {
	if to == HomeAddr {
		return addr == HomeAddr
	}
	return len(addr) >= len(to) && addr[:len(to)] == to
}

// clipText shortens s to at most n characters at a word's end.
func clipText(s string, n int) string {
	r := []rune(s)
	if len(r) <= n {
		return s
	}
	r = r[:n-1]
	for i := len(r) - 1; i > n/2; i-- {
		if r[i] == ' ' {
			return string(r[:i]) + "…"
		}
	}
	return string(r) + "…"
}

// Locale speaks in the journal's language and units.
func (b *Site) Locale() Locale { return Locale{b.Theme.Words, b.Journal.Units} }

// LocaleIn speaks in other units, as sheets do for their reader.
func (b *Site) LocaleIn(units quantity.System) Locale { return Locale{b.Theme.Words, units} }
