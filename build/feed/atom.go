package feed

import (
	"encoding/xml"
	"strings"
	"unicode/utf8"
)

// The elements of RFC 4287.
type atomFeed struct {
	XMLName  xml.Name    `xml:"http://www.w3.org/2005/Atom feed"`
	Language string      `xml:"xml:lang,attr,omitempty"`
	ID       string      `xml:"id"`
	Title    string      `xml:"title"`
	Subtitle string      `xml:"subtitle,omitempty"`
	Updated  string      `xml:"updated"`
	Author   atomAuthor  `xml:"author"`
	Links    []atomLink  `xml:"link"`
	Entries  []atomEntry `xml:"entry"`
}

type atomAuthor struct {
	Name string `xml:"name"`
}

type atomLink struct {
	Rel  string `xml:"rel,attr"`
	Type string `xml:"type,attr,omitempty"`
	Href string `xml:"href,attr"`
}

type atomEntry struct {
	ID         string         `xml:"id"`
	Title      string         `xml:"title"`
	Links      []atomLink     `xml:"link"`
	Published  string         `xml:"published"`
	Updated    string         `xml:"updated"`
	Categories []atomCategory `xml:"category"`
	Summary    string         `xml:"summary,omitempty"`
	Content    atomContent    `xml:"content"`
}

type atomCategory struct {
	Term string `xml:"term,attr"`
}

type atomContent struct {
	Type string `xml:"type,attr"`
	Text string `xml:",chardata"`
}

// Atom writes a feed by RFC 4287.
func Atom(c Channel) ([]byte, error) {
	f := atomFeed{ID: c.ID, Title: xmlText(c.Title), Subtitle: xmlText(c.Subtitle), Language: c.Language, Updated: At(c.Updated), Author: atomAuthor{xmlText(c.Author)}}
	if c.Self != "" {
		f.Links = []atomLink{{"self", "application/atom+xml", c.Self}, {"alternate", "text/html", c.Home}}
	}
	for _, i := range c.Items {
		e := atomEntry{ID: i.ID, Title: xmlText(i.Title), Published: At(i.Published), Updated: At(i.Updated), Summary: xmlText(i.Summary), Content: atomContent{"html", xmlText(i.HTML)}}
		if i.URL != "" {
			e.Links = []atomLink{{"alternate", "text/html", i.URL}}
		}
		for _, t := range i.Tags {
			e.Categories = append(e.Categories, atomCategory{xmlText(t)})
		}
		f.Entries = append(f.Entries, e)
	}
	out, err := xml.MarshalIndent(f, "", " ")
	return append([]byte(xml.Header), append(out, '\n')...), err
}

// xmlText drops what XML 1.0 §2.2 cannot carry.
func xmlText(s string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r == '\t', r == '\n', r == '\r', r >= 0x20 && r <= 0xD7FF, r >= 0xE000 && r <= 0xFFFD && r != utf8.RuneError, r >= 0x10000:
			return r
		}
		return -1
	}, s)
}
