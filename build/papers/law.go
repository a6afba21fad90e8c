package papers

import (
	"html/template"
	"slices"
	"strings"

	"slipleaf/build/sheet"
	"slipleaf/build/theme"
	"slipleaf/build/words"
)

// LawRow is what a list says.
type LawRow struct {
	Text   template.HTML
	Source string // address; "" when there is none to show
	Firm   bool
}

// law tells what the lists say where they live, the weightiest first. Where that is not known, the places are named.
func (w Papers) law() []LawRow {
	s := w.s
	region := s.Parcel.Region
	switch {
	case region == "" && len(s.Notices) == 0:
		return []LawRow{{Text: w.HTML("sheet.law-none-anywhere", "date", w.Date(s.Lists))}}
	case len(s.Notices) == 0:
		return []LawRow{{Text: w.HTML("sheet.law-none", "region", w.regionName(region), "date", w.Date(s.Lists))}}
	case region == "":
		var places []string
		for _, n := range s.Notices {
			if !slices.Contains(places, n.Place) {
				places = append(places, n.Place)
			}
		}
		return []LawRow{{Text: w.HTML("sheet.law-somewhere", "places", words.And(w.Locale, places))}}
	}
	var out []LawRow
	for _, firm := range []bool{true, false} {
		for _, n := range s.Notices {
			if n.Firm() != firm {
				continue
			}
			out = append(out, LawRow{words.Law(w.Locale, n, w.regionName(region)), words.FirstLink(n.Source), firm})
		}
	}
	return out
}

// regionName names a country, with the code of its part.
func (w Papers) regionName(region string) string {
	c, part, divided := strings.Cut(region, "-")
	name := words.CountryName(w.Locale, c)
	if divided {
		return name + " (" + part + ")"
	}
	return name
}

// safety is what holds whatever the lists say.
func (w Papers) safety() []template.HTML {
	s := w.s
	var out []template.HTML
	if len(s.Notices) > 0 {
		out = append(out, w.HTML("sheet.law-keep"))
	}
	last := []template.HTML{w.HTML("sheet.law-change")}
	if c, _, _ := strings.Cut(s.Parcel.Region, "-"); c != "" && c != words.Country(w.kit.Region) {
		last = append(last, w.HTML("sheet.borders"))
	}
	release := []template.HTML{w.HTML("sheet.release")}
	if s.Species.Weediness != nil && *s.Species.Weediness >= 2 {
		release = append(release, w.HTML("sheet.weedy"))
	}
	out = append(out, words.JoinHTML(last), words.JoinHTML(release))
	care := []template.HTML{w.HTML("sheet.children")}
	if s.Species.Sap {
		care = append([]template.HTML{w.HTML("sheet.sap")}, care...)
	}
	return append(out, words.JoinHTML(care))
}

// fileNotices are the same for sheet.json, each with its kind and source.
func (w Papers) fileNotices() []sheet.FileNotice {
	const practice = "common practice"
	s := w.s
	var out []sheet.FileNotice
	for _, l := range w.law() {
		out = append(out, sheet.FileNotice{Kind: "law", Text: words.Plain(l.Text), Source: l.Source})
	}
	add := func(kind, key, source string, pairs ...any) {
		out = append(out, sheet.FileNotice{Kind: kind, Text: w.Text(key, pairs...), Source: source})
	}
	add("law", "sheet.law-change", "")
	add("escape", "sheet.release", "Anderson, Dunn, Rosewarne and Stebbing 2015, Biological Invasions 17:2287–2297 (hot water); else "+practice)
	if s.Species.Sap {
		add("sap", "sheet.sap", s.Species.SapBasis)
	}
	if s.Lot.Pests != "" {
		add("pest", "sheet.seen", "the lot's record", "what", s.Lot.Pests)
	}
	add("dip", "sheet.dip-caution", practice)
	if s.CO2.Injected() {
		add("co2", "sheet.co2-caution", "Hargreaves & Brunson 1996, SRAC 468; ceiling: "+practice)
	}
	add("electricity", "sheet.electricity", "IEC 60364-4-41, 411.3.3 (from memory); drip loop: "+practice)
	add("children", "sheet.children", practice)
	return out
}

// TellLink is an answer to give with a tap.
type TellLink struct{ Text, Href string }

// tell is the three answers at the foot.
func (w Papers) tell() []TellLink {
	var out []TellLink
	for _, t := range []struct{ key, outcome string }{{"lives", "growing"}, {"trouble", "melting"}, {"died", "lost"}} {
		if href := w.tellHref(t.outcome); href != "" {
			out = append(out, TellLink{w.Text("sheet.tell-" + t.key), href})
		}
	}
	return out
}

func (w Papers) tellHead() template.HTML { return w.byGrower("sheet.tell-heading") }

// tellHref writes a message with the code and the outcome in the words that heard takes; "" when there is no address.
func (w Papers) tellHref(outcome string) string {
	p := w.s.Parcel
	body := w.Text("sheet.mail-body", "outcome", outcome, "code", p.Code)
	return w.kit.Report(p.Lot, w.s.Species.Taxon, w.Text("sheet.mail-subject", "code", p.Code, "outcome", outcome), body)
}

// shortAddress is where sheets lie, without the scheme, for people who type.
func (w Papers) shortAddress() string {
	a := w.kit.Absolute("/sheets/")
	if _, rest, ok := strings.Cut(a, "://"); ok {
		return rest
	}
	return a
}

// grouped cuts a code into groups of five, to be read out.
func grouped(code string) []string {
	var out []string
	for len(code) > 5 {
		out = append(out, code[:5])
		code = code[5:]
	}
	return append(out, code)
}

// links are the things to print, and the figures.
func (w Papers) links() []theme.Link {
	return []theme.Link{{Text: w.Text("sheet.print-strip"), Href: w.kit.Href(w.addr, w.addr+"strip/")}, {Text: w.Text("sheet.print-label"), Href: w.kit.Href(w.addr, w.addr+"label/")},
		{Text: w.Text("sheet.print-card"), Href: w.kit.Href(w.addr, w.addr+"card/")}, {Text: w.Text("sheet.machine"), Href: "sheet.json"}}
}
