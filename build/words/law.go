package words

import (
	"html/template"
	"strings"

	"slipleaf/build/almanac"
)

// Law is what a list says of a plant, in the page's language; what the list itself says is in English. Region is where
// the reader, or the journal, is.
func Law(v Locale, n almanac.Notice, region template.HTML) template.HTML {
	out := v.HTML("sheet.law-row", "place", PlaceName(v, n.Jurisdiction, n.Place), "list", ListName(v, n), "name", listedAs(v, n), "what", v.English(Capital(strings.TrimSuffix(n.What, "."))))
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

// Coverage is what was looked at of the law of a place, and how old it is, in the page's language; the names of laws and lists, and the
// remark on what was read, are in English.
func Coverage(v Locale, c almanac.Coverage, old almanac.Age) template.HTML {
	if c.Held == "" {
		return v.HTML("law-text.unknown", "place", PlaceName(v, c.Code, c.Place))
	}
	age := ""
	switch old {
	case almanac.Old:
		age = v.Text("law-text.age-old", "date", v.Written(c.AsOf))
	case almanac.AgeUnknown:
		age = v.Text("law-text.age-unknown")
	default:
		if c.AsOf != "" {
			age = v.Text("law-text.age", "date", v.Written(c.AsOf))
		}
	}
	return v.HTML("law-text."+c.Held, "place", PlaceName(v, c.Code, c.Place), "lists", inGerman(v, c.ListsDE, c.Lists), "age", age, "note", v.English(c.Note))
}

// PlaceName is the name of a jurisdiction in the page's language where it is a country, the Union or a part of the United
// Kingdom; that of another part is in English.
func PlaceName(v Locale, code, english string) template.HTML {
	name := ""
	switch {
	case strings.HasPrefix(v.Lang, "en") && code != english:
		return v.English(english)
	case code == "EU" || strings.HasPrefix(code, "GB-") && v.Has("place."+code):
		name = v.Text("place." + code)
	case code == Country(code):
		name = CountryName(v, code)
	case code == english: // nothing is known of that part but its code
		name = CountryName(v, Country(code)) + " (" + code + ")"
	default:
		return v.English(english)
	}
	return Escape(name)
}

// ListName is the name of a list: in German where it is official in it and the page is German, else in English.
func ListName(v Locale, n almanac.Notice) template.HTML { return inGerman(v, n.ListDE, n.List) }

// listedAs is the name that a list has for a plant, and in English what it leaves out or adds.
func listedAs(v Locale, n almanac.Notice) template.HTML {
	name, but, ok := strings.Cut(n.ListedAs, " (")
	if !ok {
		return Taxon(name)
	}
	return Taxon(name) + " " + v.English("("+but)
}

// ListNames are lists with their places.
func ListNames(v Locale, notices []almanac.Notice) template.HTML {
	var out []string
	for _, n := range notices {
		out = append(out, string(PlaceName(v, n.Jurisdiction, n.Place)+": "+ListName(v, n)))
	}
	return template.HTML(strings.Join(out, "; "))
}

func inGerman(v Locale, german, english string) template.HTML {
	if german != "" && strings.HasPrefix(v.Lang, "de") {
		return Escape(german)
	}
	return v.English(english)
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
		row := NoticeRow{List: ListName(v, n), Text: v.HTML("offers.notice", "place", PlaceName(v, n.Jurisdiction, n.Place), "list", ListName(v, n), "name", listedAs(v, n), "what", v.English(n.What)), Source: FirstLink(n.Source)}
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
