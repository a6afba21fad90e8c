package almanac

import (
	"slices"
	"strings"
)

// Border is a rule for plants that go from one area to another.
type Border struct {
	from, to string // areas; from !to: from anywhere else
	Phrase
	Basis string // how it is known, and what it is about
}

// readBorders reads the rules, in the order in which they are said.
func readBorders(t *table) []Border {
	var out []Border
	for _, r := range t.rows {
		b := Border{r.must("from"), r.must("to"), Phrase{r.must("en"), r.must("de")}, r.must("basis")}
		if about := r.text("about"); about != "" {
			b.Basis += ": " + about
		}
		if b.from != b.to && b.from != "!"+b.to && (b.from != "gb" || b.to != "gb-nir") {
			r.fault("from", "%q: write an area twice, or !%s", b.from, b.to)
		}
		out = append(out, b)
	}
	return out
}

// overseas are parts of member states outside the Union's plant health area, by their own codes and as parts (Regulation (EU)
// 2016/2031, annex I; read at gov.pl): the Canary Islands, Ceuta, Melilla and the French overseas regions.
var overseas = strings.Fields("ES-CN ES-CE ES-ML ES-GC ES-TF GP MQ GF RE YT FR-GP FR-MQ FR-GF FR-RE FR-YT FR-971 FR-972 FR-973 FR-974 FR-976")

// area is where a region lies for plants in the post: the plant health area of the Union, to which Switzerland,
// Liechtenstein and Northern Ireland count (read at gov.pl), Great Britain, or its country.
func area(region string) string {
	country, _, _ := strings.Cut(region, "-")
	switch {
	case slices.Contains(overseas, region):
		return strings.ToLower(region)
	case region == "GB-NIR", country == "LI", country == "CH", slices.Contains(euMembers, country):
		return "eu"
	case slices.Contains(strings.Fields(usTerritories), country):
		return "us"
	}
	return strings.ToLower(country)
}

// place is what a line is drawn around: a state in the United States and Australia, whose lines have rules, else the
// country or the part of it that is an area of its own.
func place(region string) string {
	country, part, _ := strings.Cut(region, "-")
	switch {
	case slices.Contains(strings.Fields(usTerritories), country):
		return "US-" + country
	case country == "US", country == "AU", slices.Contains(overseas, region), region == "GB-NIR":
		return country + "-" + part
	}
	return country
}

// Borders gives the rules for plants in the post from one region to another; none within a place, or where a region is not
// known. They are of common knowledge and say whom to ask: the law of both ends decides.
func (a *Almanac) Borders(from, to string) []Border {
	if !KnownRegion(from) || !KnownRegion(to) || place(from) == place(to) {
		return nil
	}
	var out []Border
	for _, b := range a.borders {
		if b.holds(from, to) {
			out = append(out, b)
		}
	}
	return out
}

func (b Border) holds(from, to string) bool {
	if b.to == "*" {
		return true
	}
	in := func(region, where string) bool {
		return area(region) == where || strings.ToLower(place(region)) == where
	}
	if other, any := strings.CutPrefix(b.from, "!"); any {
		return in(to, b.to) && !in(from, other)
	}
	return in(from, b.from) && in(to, b.to)
}
