package page

import (
	"html/template"
	"slices"
	"strings"

	"slipleaf/build/chart"
	"slipleaf/build/journal"
	"slipleaf/build/ledger"
	"slipleaf/build/quantity"
	"slipleaf/build/theme"
	"slipleaf/build/words"
)

// PassAlongPage is the model of the family tree of what was given on.
type PassAlongPage struct {
	theme.Frame
	Totals string
	Ways   []Way
}

// Way is the way of one species.
type Way struct {
	ID      string
	Plant   PlantName
	Summary string
	Tree    []PassNode
	Broad   template.HTML
	Narrow  template.HTML
}

// PassNode is a giving: a lot, a parcel from it, or what was passed on again.
type PassNode struct {
	Text  string
	Who   string // the other journal that Text leads up to; "" for none
	State string // the outcome in a word; "" for a lot
	Kids  []PassNode

	short   string // Text in the room that a picture has
	outcome chart.Outcome
}

// PassAlong makes the page.
func (b *Site) PassAlong() ([]byte, error) {
	v := b.Locale()
	m := PassAlongPage{Frame: b.frame("pass-along", PassAlongAddr, v.Text("pass.title")+" · "+b.Journal.Title, v.Text("pass.description"))}
	plants, parcels, passed := 0, 0, 0
	sentTo := b.sentTo()
	for _, id := range b.PlantIDs() {
		e, sent := b.facts.Outcomes(id)
		if !sent || b.withheld(id) {
			continue
		}
		w, err := b.way(v, sentTo, id, e)
		if err != nil {
			return nil, err
		}
		m.Ways = append(m.Ways, w)
		plants, parcels, passed = plants+e.All.Plants, parcels+e.All.Sent, passed+e.All.PassedOn
	}
	m.Totals = v.Text("pass.none")
	if parcels > 0 {
		m.Totals = v.Text("pass.totals", "plants", plants, "parcels", parcels, "countries", b.countries(), "passed", passed)
	}
	return b.Theme.Render("pass-along", m)
}

func (b *Site) withheld(id string) bool {
	p, ok := b.Journal.Plant(id)
	return ok && p.Withhold
}

// countries counts the countries to which parcels went.
func (b *Site) countries() int {
	seen := map[string]bool{}
	for _, l := range b.facts.Ledger().Offered() {
		for _, p := range b.sentOf(l) {
			if p.Region != "" {
				seen[words.Country(p.Region)] = true
			}
		}
	}
	return len(seen)
}

// sentOf lists the parcels that were sent from a lot by the site's day.
func (b *Site) sentOf(l *ledger.Lot) []*journal.Parcel {
	var out []*journal.Parcel
	for _, t := range l.Takings {
		if p := t.Parcel; !p.Sent.IsZero() && !p.Sent.After(b.On) {
			out = append(out, p)
		}
	}
	return out
}

// waySummary says what became of the parcels of a species; what there is none of is left out.
func waySummary(v words.Locale, e ledger.Outcomes) string {
	var became []string
	for _, part := range []struct {
		key string
		n   int
	}{{"established", e.All.Established}, {"lost", e.All.Lost}, {"passed", e.All.PassedOn}} {
		if part.n > 0 {
			became = append(became, v.Text("pass.summary-"+part.key, "n", part.n))
		}
	}
	return strings.Join(words.NonEmpty(v.Text("pass.summary", "plants", e.All.Plants, "parcels", e.All.Sent), strings.Join(became, ", ")), "; ")
}

// way follows one species.
func (b *Site) way(v words.Locale, sentTo map[string]int, id string, e ledger.Outcomes) (Way, error) {
	others, err := b.otherJournals()
	if err != nil {
		return Way{}, err
	}
	w := Way{ID: "way-" + id, Plant: b.plantLink(PassAlongAddr, id), Summary: waySummary(v, e)}
	lots := b.facts.LotsOf(id)
	slices.SortStableFunc(lots, func(x, y *ledger.Lot) int { return x.Date.Compare(y.Date) })
	for _, l := range lots {
		parcels := b.sentOf(l)
		if len(parcels) == 0 {
			continue
		}
		n := PassNode{Text: v.Text("pass.lot", "what", v.Text("form."+l.Form, "n", l.Count), "month", words.MonthYear(v, l.Ready)), short: v.Text("pass.lot", "what", v.Text("form."+l.Form, "n", l.Count), "month", words.ShortMonthYear(v, l.Ready)), outcome: chart.Stock}
		for _, p := range b.firsts(parcels) {
			n.Kids = append(n.Kids, b.passNode(v, sentTo, p))
		}
		n.Kids = append(n.Kids, b.grownOn(v, others, l)...)
		w.Tree = append(w.Tree, b.cameIn(v, others, l, n))
	}
	pic, err := b.passTree(v, id, w.Tree).Draw()
	w.Broad, w.Narrow = pic.Broad, pic.Narrow
	return w, err
}

// firsts are the parcels that did not grow from another parcel of this journal.
func (b *Site) firsts(ps []*journal.Parcel) []*journal.Parcel {
	var out []*journal.Parcel
	for _, p := range ps {
		if _, ok := b.parent(p); !ok {
			out = append(out, p)
		}
	}
	return out
}

// parent is the parcel of this journal whose sheet p says that it was grown from.
func (b *Site) parent(p *journal.Parcel) (*journal.Parcel, bool) {
	code, ours := strings.CutPrefix(p.GrownFrom, b.Journal.Address+"sheets/")
	if !ours || b.Journal.Address == "" {
		return nil, false
	}
	from, ok := b.facts.Heads().ParcelByCode(strings.TrimSuffix(code, "/"))
	if !ok || from == p || !from.Sent.Before(p.Sent) { // a plant is not its own forebear
		return nil, false
	}
	return from, true
}

// fewParcels is below how many parcels to a country they are dated by quarters: a month and a country would tell some
// recipients whose parcel it was (our choice).
const fewParcels = 5

// sentTo counts the parcels by the country that they went to; those of which none is known are of one without a name.
func (b *Site) sentTo() map[string]int {
	n := map[string]int{}
	for _, l := range b.facts.Ledger().Lots {
		for _, p := range b.sentOf(l) {
			n[words.Country(p.Region)]++
		}
	}
	return n
}

// when writes the month in which something came of a parcel, or the quarter where few went to its country.
func when(v words.Locale, sentTo map[string]int, p *journal.Parcel, d quantity.Date) (long, short string) {
	if sentTo[words.Country(p.Region)] >= fewParcels {
		return words.MonthYear(v, d), words.ShortMonthYear(v, d)
	}
	quarter := v.Text("pass.quarter", "quarter", (int(d.Month)+2)/3, "year", d.Year)
	return quarter, quarter
}

// passNode tells of a parcel and of what came of it.
func (b *Site) passNode(v words.Locale, sentTo map[string]int, p *journal.Parcel) PassNode {
	lot, _ := b.facts.Lot(p.Lot)
	what := v.Text("form."+lot.Form, "n", p.Count)
	long, short := when(v, sentTo, p, p.Sent)
	n := PassNode{Text: v.Text("pass.parcel-somewhere", "what", what, "month", long), short: v.Text("pass.parcel-somewhere", "what", what, "month", short)}
	if p.Region != "" {
		n.short = v.Text("pass.parcel-short", "what", what, "country", words.Country(p.Region), "month", short)
		n.Text = v.Text("pass.parcel", "what", what, "country", words.CountryName(v, words.Country(p.Region)), "month", long)
	}
	n.State = v.Text("pass.silent")
	switch ledger.ResultOf(p, b.On) {
	case ledger.Established:
		n.State, n.outcome = v.Text("pass.established"), chart.Established
	case ledger.Died:
		n.State, n.outcome = v.Text("pass.lost"), chart.Gone
	}
	for _, q := range b.facts.Heads().Parcels {
		if from, ok := b.parent(q); ok && from == p && !q.Sent.After(b.On) {
			n.Kids = append(n.Kids, b.passNode(v, sentTo, q))
		}
	}
	for _, r := range p.Reports {
		if r.Outcome == "passed-on" && !r.Date.After(b.On) {
			long, short := when(v, sentTo, p, r.Date)
			n.Kids = append(n.Kids, PassNode{Text: v.Text("pass.again", "month", long), short: v.Text("pass.again", "month", short), outcome: chart.Established})
		}
	}
	return n
}

// passTree puts the nested list into the picture's form, with numbers for keys.
func (b *Site) passTree(v words.Locale, id string, nodes []PassNode) chart.Tree {
	t := chart.Tree{Caption: chart.Caption{ID: "way-" + id, Title: v.Text("pass.tree-title", "plant", b.plantName(id)), Desc: v.Text("pass.tree-text")},
		Heads: chart.TreeHeads{Generation: v.Text("pass.generation"), Name: v.Text("pass.what"), From: v.Text("pass.from"), State: v.Text("pass.state")}}
	var add func(parent string, ns []PassNode)
	add = func(parent string, ns []PassNode) {
		for _, n := range ns {
			key := "n" + v.N(float64(len(t.Nodes)), 0)
			t.Nodes = append(t.Nodes, chart.Node{Key: key, Parent: parent, Name: n.short, Outcome: n.outcome, State: n.State})
			add(key, n.Kids)
		}
	}
	add("", nodes)
	return t
}
