package page

import (
	"strings"

	"slipleaf/build/theme"
	"slipleaf/build/words"
)

// frame fills the Frame of the page at addr.
func (b *Site) frame(kind, addr, title, description string) theme.Frame {
	v := b.Locale()
	f := theme.Frame{
		Lang: v.Lang, Dir: v.Text("page.direction"), Kind: kind, Title: title, Description: words.Clip(description, 200),
		SiteTitle: b.Journal.Title, Home: b.href(addr, HomeAddr), Styles: b.href(addr, "/"+b.Theme.Styles.Path),
		CSP: theme.Policy, Grower: b.Journal.Grower, Mail: b.mail(),
		StructuredData: b.structured(kind, addr, description),
	}
	f.Dated(func() (date string, held bool) {
		if !b.facts.Dated() {
			return "", false
		}
		on := b.facts.Day()
		return v.Date(on), !on.IsZero() && on == b.Journal.MadeFor
	})
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
	f.Nav, f.Foot, f.Machines = l.nav, l.foot, l.machines
	if addr != SearchAddr {
		f.Search = b.href(addr, SearchAddr)
	}
	f.Share(l.at, b.parts)
	f.Feeds = l.feeds
	switch kind {
	case "tank", "plant":
		f.Own = []theme.FeedLink{{Type: "application/atom+xml", Title: title, Href: b.href(addr, addr+"feed.atom")}}
	case "offers":
		f.Own = []theme.FeedLink{{Type: "application/atom+xml", Title: title, Href: b.href(addr, OffersAtomAddr)}}
	}
	return f
}

// frameLinks are the links around a page. Those of two pages of one section at one depth are the same, but for the pages
// of the first depth, which the links themselves may lead to.
type frameLinks struct {
	nav, foot, machines []theme.NavLink
	feeds               []theme.FeedLink
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
		l.nav = append(l.nav, theme.NavLink{Text: v.Text(n.key), Href: b.href(addr, n.to), Here: within(addr, n.to)})
	}
	for i, p := range b.writtenPages() {
		link := theme.NavLink{Text: p.Title, Href: b.href(addr, WrittenAddr(p.ID)), Here: addr == WrittenAddr(p.ID)}
		if i == 0 {
			l.nav = append(l.nav, link)
		} else {
			l.foot = append(l.foot, link)
		}
	}
	for _, n := range []struct{ key, to string }{
		{"nav.search", SearchAddr}, {"nav.diary", DiaryAddr}, {"nav.space", SpaceAddr}, {"nav.pass-along", PassAlongAddr}, {"nav.friends", FriendsAddr},
	} {
		l.foot = append(l.foot, theme.NavLink{Text: v.Text(n.key), Href: b.href(addr, n.to), Here: addr == n.to})
	}
	for _, n := range []struct{ key, to, mime string }{
		{"feed.atom", "/feed.atom", "application/atom+xml"}, {"feed.json", "/feed.json", "application/feed+json"},
		{"feed.calendar", "/offers.ics", "text/calendar"}, {"feed.offers", "/offers.json", "application/json"},
	} {
		l.machines = append(l.machines, theme.NavLink{Text: v.Text(n.key), Href: b.href(addr, n.to)})
		l.feeds = append(l.feeds, theme.FeedLink{Type: n.mime, Title: b.Journal.Title + ": " + v.Text(n.key), Href: b.href(addr, n.to)})
	}
	return l
}

// within reports whether addr is the section that the navigation names by to, or below it.
func within(addr, to string) bool {
	if to == HomeAddr {
		return addr == HomeAddr
	}
	return len(addr) >= len(to) && addr[:len(to)] == to
}

// Locale prints in the journal's language and units.
func (b *Site) Locale() words.Locale {
	return words.Locale{Words: b.Theme.Words, Units: b.Journal.Units}
}
