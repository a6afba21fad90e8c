package page

import (
	"cmp"
	"slices"
	"strings"

	"slipleaf/build/feed"
	"slipleaf/build/papers"
	"slipleaf/build/quantity"
)

// SitemapAddr is the list of pages for search engines; only a journal with an address has one.
const SitemapAddr = "/sitemap.xml"

// forCrawlers are sitemap.xml and robots.txt for a site of these outputs.
func (b *Site) forCrawlers(add adder, outputs []Output) {
	add("/robots.txt", func(b *Site) ([]byte, error) { return feed.Robots(b.absolute(SitemapAddr)), nil })
	if b.Journal.Address == "" {
		return
	}
	listed := slices.Clone(outputs) // the list is sorted and added to before the map is made
	add(SitemapAddr, func(b *Site) ([]byte, error) { return feed.Sitemap(b.places(listed)) })
}

// places lists the pages that anybody may find: all but those under a secret address and the grower's form.
func (b *Site) places(outputs []Output) []feed.Place {
	changed := map[string]quantity.Date{}
	for _, e := range b.facts.Entries() {
		if !e.Date.After(b.On) {
			changed[EntryAddr(e)] = e.Date
		}
	}
	var out []feed.Place
	for _, o := range outputs {
		if strings.HasSuffix(o.Addr, "/") && !strings.HasPrefix(o.Addr, papers.Folder) && o.Addr != TanksideAddr {
			out = append(out, feed.Place{URL: b.absolute(o.Addr), Changed: changed[o.Addr]})
		}
	}
	slices.SortFunc(out, func(x, y feed.Place) int { return cmp.Compare(x.URL, y.URL) })
	return out
}
