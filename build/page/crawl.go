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

// forCrawlers are sitemap.xml and robots.txt.
func (b *Site) forCrawlers(add adder) {
	add("/robots.txt", func(b *Site) ([]byte, error) { return feed.Robots(b.absolute(SitemapAddr)), nil })
	if b.Journal.Address == "" {
		return
	}
	add(SitemapAddr, func(own *Site) ([]byte, error) {
		own.facts.Heads() // which pages there are
		own.facts.ReviewYears()
		var listed []string
		b.outputs(func(addr string, _ func(*Site) ([]byte, error)) { listed = append(listed, addr) }, anywhere)
		return feed.Sitemap(own.places(listed))
	})
}

// places lists the pages that anybody may find: all but those under a secret address and the grower's form.
func (b *Site) places(addrs []string) []feed.Place {
	changed := map[string]quantity.Date{}
	for _, e := range b.facts.SoFar() {
		changed[EntryAddr(e)] = e.Date
	}
	var out []feed.Place
	for _, addr := range addrs {
		if strings.HasSuffix(addr, "/") && !strings.HasPrefix(addr, papers.Folder) && addr != TanksideAddr {
			out = append(out, feed.Place{URL: b.absolute(addr), Changed: changed[addr]})
		}
	}
	slices.SortFunc(out, func(x, y feed.Place) int { return cmp.Compare(x.URL, y.URL) })
	return out
}
