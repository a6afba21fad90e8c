package sharing

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
	Plant   theme.PlantName
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

// PassAlongPage fills the page.
func (k Kit) PassAlongPage(frame theme.Frame) (PassAlongPage, error) {
	v := k.Locale
	m := PassAlongPage{Frame: frame}
	plants, parcels, passed := 0, 0, 0
	sentTo := k.sentTo()
	for _, id := range k.Facts.PlantIDs() {
		e, sent := k.Facts.Outcomes(id)
		if !sent || k.Withheld(id) {
			continue
		}
		w, err := k.way(v, sentTo, id, e)
		if err != nil {
			return m, err
		}
		m.Ways = append(m.Ways, w)
		plants, parcels, passed = plants+e.All.Plants, parcels+e.All.Sent, passed+e.All.PassedOn
	}
	m.Totals = v.Text("pass.none")
	if parcels > 0 {
		m.Totals = v.Text("pass.totals", "plants", plants, "parcels", parcels, "countries", k.countries(), "passed", passed)
	}
	return m, nil
}

// countries counts the countries to which parcels went.
func (k Kit) countries() int {
	seen := map[string]bool{}
	for _, l := range k.Facts.Ledger().Offered() {
		for _, p := range k.sentOf(l) {
			if p.Region != "" {
				seen[words.Country(p.Region)] = true
			}
		}
	}
	return len(seen)
}

// sentOf lists the parcels that were sent from a lot by the site's day.
func (k Kit) sentOf(l *ledger.Lot) []*journal.Parcel {
	var out []*journal.Parcel
	for _, t := range l.Takings {
		if p := t.Parcel; !p.Sent.IsZero() && !p.Sent.After(k.On) {
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
func (k Kit) way(v words.Locale, sentTo map[string]int, id string, e ledger.Outcomes) (Way, error) {
	others, err := k.otherJournals()
	if err != nil {
		return Way{}, err
	}
	w := Way{ID: "way-" + id, Plant: k.PlantLink(id), Summary: waySummary(v, e)}
	lots := k.Facts.LotsOf(id)
	slices.SortStableFunc(lots, func(x, y *ledger.Lot) int { return x.Date.Compare(y.Date) })
	for _, l := range lots {
		parcels := k.sentOf(l)
		if len(parcels) == 0 {
			continue
		}
		n := PassNode{Text: v.Text("pass.lot", "what", v.Text("form."+l.Form, "n", l.Count), "month", words.MonthYear(v, l.Ready)), short: v.Text("pass.lot", "what", v.Text("form."+l.Form, "n", l.Count), "month", words.ShortMonthYear(v, l.Ready)), outcome: chart.Stock}
		for _, p := range k.firsts(parcels) {
			n.Kids = append(n.Kids, k.passNode(v, sentTo, p))
		}
		n.Kids = append(n.Kids, k.grownOn(v, others, l)...)
		w.Tree = append(w.Tree, k.cameIn(v, others, l, n))
	}
	pic, err := k.passTree(v, id, w.Tree).Draw()
	w.Broad, w.Narrow = pic.Broad, pic.Narrow
	return w, err
}

// firsts are the parcels that did not grow from another parcel of this journal.
func (k Kit) firsts(ps []*journal.Parcel) []*journal.Parcel {
	var out []*journal.Parcel
	for _, p := range ps {
		if _, ok := k.parent(p); !ok {
			out = append(out, p)
		}
	}
	return out
}

// parent is the parcel of this journal whose sheet p says that it was grown from.
func (k Kit) parent(p *journal.Parcel) (*journal.Parcel, bool) {
	code, ours := strings.CutPrefix(p.GrownFrom, k.Journal.Address+"sheets/")
	if !ours || k.Journal.Address == "" {
		return nil, false
	}
	from, ok := k.Facts.Heads().ParcelByCode(strings.TrimSuffix(code, "/"))
	if !ok || from == p || !from.Sent.Before(p.Sent) { // a plant is not its own forebear
		return nil, false
	}
	return from, true
}

// fewParcels is below how many parcels to a country they are dated by quarters: a month and a country would tell some
// recipients whose parcel it was (our choice).
const fewParcels = 5

// sentTo counts the parcels by the country that they went to; those of which none is known are of one without a name.
func (k Kit) sentTo() map[string]int {
	n := map[string]int{}
	for _, l := range k.Facts.Ledger().Lots {
		for _, p := range k.sentOf(l) {
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
func (k Kit) passNode(v words.Locale, sentTo map[string]int, p *journal.Parcel) PassNode {
	lot, _ := k.Facts.Lot(p.Lot)
	what := v.Text("form."+lot.Form, "n", p.Count)
	long, short := when(v, sentTo, p, p.Sent)
	n := PassNode{Text: v.Text("pass.parcel-somewhere", "what", what, "month", long), short: v.Text("pass.parcel-somewhere", "what", what, "month", short)}
	if p.Region != "" {
		n.short = v.Text("pass.parcel-short", "what", what, "country", words.Country(p.Region), "month", short)
		n.Text = v.Text("pass.parcel", "what", what, "country", words.CountryName(v, words.Country(p.Region)), "month", long)
	}
	n.State = v.Text("pass.silent")
	switch ledger.ResultOf(p, k.On) {
	case ledger.Established:
		n.State, n.outcome = v.Text("pass.established"), chart.Established
	case ledger.Died:
		n.State, n.outcome = v.Text("pass.lost"), chart.Gone
	}
	for _, q := range k.Facts.Heads().Parcels {
		if from, ok := k.parent(q); ok && from == p && !q.Sent.After(k.On) {
			n.Kids = append(n.Kids, k.passNode(v, sentTo, q))
		}
	}
	for _, r := range p.Reports {
		if r.Outcome == "passed-on" && !r.Date.After(k.On) {
			long, short := when(v, sentTo, p, r.Date)
			n.Kids = append(n.Kids, PassNode{Text: v.Text("pass.again", "month", long), short: v.Text("pass.again", "month", short), outcome: chart.Established})
		}
	}
	return n
}

// passTree puts the nested list into the picture's form, with numbers for keys.
func (k Kit) passTree(v words.Locale, id string, nodes []PassNode) chart.Tree {
	t := chart.Tree{Caption: chart.Caption{ID: "way-" + id, Title: v.Text("pass.tree-title", "plant", k.PlantName(id)), Desc: v.Text("pass.tree-text")},
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
