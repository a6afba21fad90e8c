package page

import (
	"cmp"
	"html/template"
	"slices"
	"strings"

	"slipleaf/build/growth"
	"slipleaf/build/journal"
	"slipleaf/build/plot"
	"slipleaf/build/words"
)

// TrimsPart is a tank's calendar of cuts: what comes, and what was.
type TrimsPart struct {
	Coming []ComingTrim
	Past   []PastTrim // newest first
	Older  []PastTrim
	Label  string // names the frame of the newest
	Before string // names the frame of the older ones
}

// ComingTrim is the window of a plant's next cut.
type ComingTrim struct {
	Plant      PlantName
	When, Held string
}

// PastTrim is a day of cutting.
type PastTrim struct {
	Date, ISODate, Href string
	Cuts                []PlantRow
}

// trimsShown is how many days of cutting stand open.
const trimsShown = 6

// trimsPart fills the calendar of cuts; nil where nothing was cut and nothing is foretold.
func (b *Site) trimsPart(v words.Locale, addr string, t *journal.Tank) *TrimsPart {
	name := words.InText(v, b.tankName(t.ID))
	p := &TrimsPart{Label: v.Text("tank-text.cuts-of", "tank", name), Before: v.Text("tank-text.cuts-before", "tank", name)}
	var next []*growth.Growth
	for _, g := range b.facts.GrowthIn(t.ID) {
		if g.Standing() && g.Next.Known() {
			next = append(next, g)
		}
	}
	slices.SortStableFunc(next, func(x, y *growth.Growth) int {
		return cmp.Or(x.Next.Low.Compare(y.Next.Low), x.Next.Best.Compare(y.Next.Best))
	})
	for _, g := range next {
		p.Coming = append(p.Coming, ComingTrim{b.plantLink(addr, g.Plant), words.Capital(plot.WindowText(v, g.Next, b.On)), plot.HeldText(v, g)})
	}
	for _, e := range slices.Backward(b.facts.EntriesIn(t.ID)) {
		if e.Date.After(b.On) || len(e.Trims) == 0 {
			continue
		}
		row := PastTrim{Date: v.Date(e.Date), ISODate: e.Date.String(), Href: b.href(addr, EntryAddr(e))}
		for _, c := range e.Trims {
			row.Cuts = append(row.Cuts, PlantRow{b.plantLink(addr, c.Plant), template.HTML(template.HTMLEscapeString(strings.Join(words.Trimmed(v, c), ", ")))})
		}
		p.Past = append(p.Past, row)
	}
	if len(p.Past) > trimsShown {
		p.Past, p.Older = p.Past[:trimsShown], p.Past[trimsShown:]
	}
	if len(p.Coming)+len(p.Past) == 0 {
		return nil
	}
	return p
}

// sortBy sorts by a number, keeping the order of equals.
func sortBy[T any](all []T, by func(T) float64) {
	slices.SortStableFunc(all, func(x, y T) int { return cmp.Compare(by(x), by(y)) })
}
