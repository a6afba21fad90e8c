package words

import (
	"html/template"
	"strings"

	"slipleaf/build/almanac"
	"slipleaf/build/quantity"
)

// Law is what a list says of a plant, in the page's language; what the list itself says is in English. Region is where
// the reader, or the journal, is.
func Law(v Locale, n almanac.Notice, region string) template.HTML {
	out := v.HTML("sheet.law-row", "place", v.English(n.Place), "list", v.English(n.List), "name", n.ListedAs, "what", v.English(Capital(strings.TrimSuffix(n.What, "."))))
	add := func(key string, pairs ...any) { out += " " + v.HTML(key, pairs...) }
	if n.InParts {
		add("sheet.law-parts", "region", region)
	}
	if n.Doubtful {
		add("sheet.law-doubt", "why", v.English(n.Why))
	}
	if !n.Seen {
		add("sheet.law-unseen")
	}
	add("sheet.law-retrieved", "date", v.Date(n.Retrieved))
	return out
}

// Coverage is what was looked at of the law of a place, and how old it is on a day, in the page's language; the names of laws and lists, and the
// remark on what was read, are in English.
func Coverage(v Locale, c almanac.Coverage, on quantity.Date) template.HTML {
	if c.Held == "" {
		return v.HTML("law-text.unknown", "place", placeName(v, c.Place))
	}
	age := ""
	switch c.Age(on) {
	case almanac.Old:
		age = v.Text("law-text.age-old", "date", c.AsOf)
	case almanac.AgeUnknown:
		age = v.Text("law-text.age-unknown")
	default:
		if c.AsOf != "" {
			age = v.Text("law-text.age", "date", c.AsOf)
		}
	}
	return v.HTML("law-text."+c.Held, "place", v.English(c.Place), "lists", v.English(c.Lists), "age", age, "note", v.English(c.Note))
}

// placeName is the country of a code in the page's language, with the code where it is of a part.
func placeName(v Locale, code string) template.HTML {
	name := CountryName(v, Country(code))
	if code != Country(code) {
		name += " (" + code + ")"
	}
	return template.HTML(template.HTMLEscapeString(name))
}

// NoticeRow is what a list says of a plant.
type NoticeRow struct {
	Text   template.HTML
	List   template.HTML
	Source string // address; "" where there is none
	Seen   string
}

// Notices are the rows of the lists of a region that name a plant; none where the region is not known.
func Notices(v Locale, a *almanac.Almanac, region, taxon string) []NoticeRow {
	if region == "" {
		return nil
	}
	var out []NoticeRow
	for _, n := range a.Notices(taxon, region) {
		row := NoticeRow{List: v.English(n.List), Text: v.HTML("offers.notice", "place", v.English(n.Place), "list", v.English(n.List), "name", n.ListedAs, "what", v.English(n.What)), Source: FirstLink(n.Source)}
		if n.Doubtful {
			row.Text += " " + v.HTML("offers.notice-doubt", "why", v.English(n.Why))
		}
		if !n.Seen {
			row.Seen = v.Text("offers.notice-unseen")
		}
		out = append(out, row)
	}
	return out
}
