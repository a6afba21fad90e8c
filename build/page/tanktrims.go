package page

import (
	"cmp"
	"html/template"
	"slices"
	"strings"

	"slipleaf/build/growth"
	"slipleaf/build/journal"
	"slipleaf/build/ledger"
	"slipleaf/build/plot"
	"slipleaf/build/theme"
	"slipleaf/build/words"
)

// TrimsPart is a tank's calendar of cuts: what comes, and what was.
type TrimsPart struct {
	Coming []ComingTrim
	Span   string     // the days that the bars lie on
	Past   []PastTrim // newest first
	Older  []PastTrim
	Label  string // names the frame of the newest
	Before string // names the frame of the older ones
}

// ComingTrim is the window of a plant's next cut.
type ComingTrim struct {
	Plant      theme.PlantName
	When, Held string
	Bar        template.HTML // "" for a window without an end
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
	p.Coming, p.Span = b.comingTrims(v, addr, next)
	for _, e := range slices.Backward(b.facts.SoFarIn(t.ID)) {
		if len(e.Trims) == 0 {
			continue
		}
		row := PastTrim{Date: v.Date(e.Date), ISODate: e.Date.String(), Href: b.href(addr, EntryAddr(e))}
		for _, c := range e.Trims {
			row.Cuts = append(row.Cuts, PlantRow{b.plantLink(addr, c.Plant), words.Escape(strings.Join(words.Trimmed(v, c), ", "))})
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

// comingTrims draws the windows of the next trims as bars on the same days: from the first window that is still open, or
// today, to the last end of one, or to the latest beginning of one without an end.
func (b *Site) comingTrims(v words.Locale, addr string, next []*growth.Growth) (rows []ComingTrim, span string) {
	today := b.facts.Day()
	first, last := today, today.Add(14)
	for _, g := range next {
		if g.Next.Low.Before(first) {
			first = g.Next.Low
		}
		end := g.Next.High
		if g.Next.Open {
			end = g.Next.Low
		}
		if end.After(last) {
			last = end
		}
	}
	for _, g := range next {
		row := ComingTrim{Plant: b.plantLink(addr, g.Plant), When: plot.WindowDays(v, g.Next, today), Held: plot.HeldText(v, g)}
		w := ledger.Forecast{Low: g.Next.Low, Best: g.Next.Best, High: g.Next.High}
		if g.Next.Open {
			w.High, w.Best = last, last
		}
		row.Bar = windowBar(w, first, last, today)
		rows = append(rows, row)
	}
	return rows, v.Text("tank-text.span", "from", v.DayMonth(first), "to", v.DayMonth(last))
}
