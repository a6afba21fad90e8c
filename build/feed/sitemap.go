package feed

import (
	"encoding/xml"

	"slipleaf/build/quantity"
)

// Place is a page of the sitemap.
type Place struct {
	URL     string        // absolute
	Changed quantity.Date // zero: not said
}

type urlset struct {
	XMLName xml.Name `xml:"http://www.sitemaps.org/schemas/sitemap/0.9 urlset"`
	URLs    []loc    `xml:"url"`
}

type loc struct {
	Loc     string `xml:"loc"`
	LastMod string `xml:"lastmod,omitempty"`
}

// mostPlaces is the most that one file may hold (sitemaps.org 0.9).
const mostPlaces = 50_000

// Sitemap writes sitemap.xml. Places beyond 50,000 are left out: crawlers find them by their links.
func Sitemap(places []Place) ([]byte, error) {
	var s urlset
	for _, p := range places[:min(len(places), mostPlaces)] {
		s.URLs = append(s.URLs, loc{p.URL, p.Changed.String()})
	}
	out, err := xml.MarshalIndent(s, "", " ")
	return append([]byte(xml.Header), append(out, '\n')...), err
}

// Robots writes robots.txt: everything may be fetched. What is unlisted says so itself; naming it here would tell
// where it is. sitemap is an absolute address or empty.
func Robots(sitemap string) []byte {
	text := "User-agent: *\nDisallow:\n"
	if sitemap != "" {
		text += "Sitemap: " + sitemap + "\n"
	}
	return []byte(text)
}
