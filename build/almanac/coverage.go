package almanac

import (
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"

	"slipleaf/build/quantity"
)

// Coverage is what was looked at of the law of a place.
type Coverage struct {
	Code    string
	Place   string
	Lists   string // the lists and laws that apply there
	ListsDE string // the same in German, where their names are official in it
	Held    string // whole | part | none; "" where nothing is known about the place
	AsOf    string // the age of what was read; "" when it is not known
	Address string // the authority to ask
	Note    string // what was read and what was not
}

// Age is how old what was read is on a day: Fresh, Old or AgeUnknown.
func (c Coverage) Age(on quantity.Date) Age {
	year, err := strconv.Atoi(c.AsOf[:min(4, len(c.AsOf))])
	switch {
	case c.Held != "whole" && c.Held != "part":
		return Fresh
	case err != nil:
		return AgeUnknown
	case len(c.AsOf) == len("2006-01-02"):
		if d, err := quantity.ParseDate(c.AsOf); err == nil && on.Since(d) <= oldAfter {
			return Fresh
		}
		return Old
	case on.Year-year <= 2:
		return Fresh
	}
	return Old
}

// Age of what was read of the law of a place.
type Age uint8

// The ages.
const (
	Fresh      Age = iota // or nothing was read
	Old                   // over two years: lists change every year or two
	AgeUnknown            // what was read bears no date
)

const oldAfter = 731 // days

// Ask is whom to ask about the law of the place: the address of an authority, or which authority it is likely to be.
func (c Coverage) Ask() string {
	if c.Address != "" {
		return c.Address
	}
	return "its environment ministry and its plant health service"
}

// Coverage says what was looked at for a region: its own law first, then that of the places around it. A place that
// nothing is known about comes with its code alone.
func (a *Almanac) Coverage(region string) []Coverage {
	var out []Coverage
	for _, code := range parents(region) {
		if c, ok := a.coverage[code]; ok {
			out = append(out, c)
		} else if code == region {
			out = append(out, a.partsCovered(region)...)
		}
	}
	return out
}

// partsCovered is what was looked at of the parts of a region that has no law of its own here.
func (a *Almanac) partsCovered(region string) []Coverage {
	var out []Coverage
	for _, code := range slices.Sorted(maps.Keys(a.coverage)) {
		if partOf(code, region) {
			out = append(out, a.coverage[code])
		}
	}
	if len(out) == 0 {
		return []Coverage{{Code: region, Place: region}}
	}
	return out
}

// Lists gives a row of each regulated list held here that applies in a region, and whether the region's own law is among
// them: where it is not, nothing can be said of what it forbids.
func (a *Almanac) Lists(region string) (held []Notice, own bool) {
	over := parents(region)
	for _, l := range a.listed {
		in := slices.Contains(over, l.Jurisdiction) || region == "GB" && strings.HasPrefix(l.Jurisdiction, "GB-")
		if in && !slices.ContainsFunc(held, l.sameList) {
			held = append(held, l.Notice)
		}
	}
	c := a.coverage[region]
	return held, c.Held == "whole" || c.Held == "part" || region == "GB" || region == "EU"
}

// readCoverage reads the table of what was looked at, by code.
func readCoverage(t *table) map[string]Coverage {
	out := map[string]Coverage{}
	for _, r := range t.rows {
		c := Coverage{Code: r.must("code"), Place: r.must("name"), Lists: r.must("lists_that_apply"), ListsDE: r.text("lists_de"),
			Held: r.one("held", "whole", "part", "none"), AsOf: r.text("as_of"), Address: r.must("official_address"), Note: r.must("note")}
		out[c.Code] = c
	}
	return out
}

// Text says in English what a list says of a plant, for somebody in a region.
func (n Notice) Text(region string) string {
	where := n.Place
	if n.InParts {
		where = fmt.Sprintf("in a part of %s (%s)", region, n.Place)
	}
	switch {
	case n.Doubtful:
		return fmt.Sprintf("%s: %s names %s. It may be this plant: %s", where, n.List, n.ListedAs, n.Why)
	case !n.Seen:
		return fmt.Sprintf("%s: %s is reported to name %s. Not checked: open %s", where, n.List, n.ListedAs, n.Source)
	case n.Forbids:
		return fmt.Sprintf("%s: %s names %s. Forbidden: %s. Do not give, send or accept it", where, n.List, n.ListedAs, n.What)
	}
	return fmt.Sprintf("%s: %s names %s. Forbidden: %s. Giving away is not named there; that does not make it permitted", where, n.List, n.ListedAs, n.What)
}
