package sharing

import (
	"html/template"
	"slices"
	"strings"

	"slipleaf/build/chart"
	"slipleaf/build/journal"
	"slipleaf/build/ledger"
	"slipleaf/build/quantity"
	"slipleaf/build/reckon"
	"slipleaf/build/theme"
	"slipleaf/build/words"
)

// PassAlongPage is the model of the tree of what was given on.
type PassAlongPage struct {
	theme.Frame
	Totals        string
	Broad, Narrow template.HTML // the tree, in two layouts
	Ways          []Way         // the same as a list, the plant with most parcels first
}

// Way is the way of one species.
type Way struct {
	ID      string
	Plant   theme.PlantName
	Summary string
	Tree    []PassNode

	outcomes ledger.Outcomes
	branch   chart.Branch
	grownOn  int // lots that friends grew from it
}

// PassNode is a giving: a lot, a parcel from it, or what was passed on again.
type PassNode struct {
	Text  string
	Who   string // the other journal that Text leads up to; "" for none
	State string // the outcome in a word; "" for a lot
	Kids  []PassNode

	outcome chart.Outcome
}

// PassAlongPage fills the page.
func (k Kit) PassAlongPage(frame theme.Frame) PassAlongPage {
	v := k.Locale
	m := PassAlongPage{Frame: frame, Totals: v.Text("pass.none")}
	var all ledger.OutcomeCounts
	sentTo := k.sentTo()
	for _, id := range k.Facts.PlantIDs() {
		e, sent := k.Facts.Outcomes(id)
		if !sent || k.Withheld(id) {
			continue
		}
		m.Ways = append(m.Ways, k.way(v, sentTo, id, e))
		all = all.Plus(e.All)
	}
	if len(m.Ways) == 0 {
		return m
	}
	slices.SortStableFunc(m.Ways, func(a, b Way) int { return b.outcomes.All.Sent - a.outcomes.All.Sent })
	m.Totals = v.Text("pass.totals", "plants", words.PlantsAndSeeds(v, all.Plants, all.Seeds), "parcels", all.Sent, "countries", k.countries(), "passed", all.PassedOn)
	if n := k.lostInPost(); n > 0 {
		m.Totals = words.Sentences(m.Totals, v.Text("review.in-post", "n", n))
	}
	pic := k.tree(v, m.Ways, all).Draw()
	m.Broad, m.Narrow = pic.Broad, pic.Narrow
	return m
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

// lostInPost counts the parcels of which nothing came: they say nothing of the plants.
func (k Kit) lostInPost() int {
	seen := map[string]bool{}
	for _, l := range k.Facts.Ledger().Offered() {
		for _, t := range l.Takings {
			if t.Parcel.Lost(k.Facts.Day()) {
				seen[t.Parcel.Path] = true
			}
		}
	}
	return len(seen)
}

// sentOf lists the parcels that were sent from a lot by the site's day and not lost in the post.
func (k Kit) sentOf(l *ledger.Lot) []*journal.Parcel {
	var out []*journal.Parcel
	for _, t := range l.Takings {
		if p := t.Parcel; !p.Sent.IsZero() && !p.Sent.After(k.Facts.Day()) && !p.Lost(k.Facts.Day()) {
			out = append(out, p)
		}
	}
	return out
}

// waySummary says how much of a species was sent, and what became of it.
func waySummary(v words.Locale, e ledger.Outcomes) string {
	return strings.Join(words.NonEmpty(v.Text("pass.summary", "plants", words.PlantsAndSeeds(v, e.All.Plants, e.All.Seeds), "parcels", e.All.Sent), became(v, e.All)), "; ")
}

// became says what became of parcels; what there is none of is left out.
func became(v words.Locale, all ledger.OutcomeCounts) string {
	var out []string
	for _, part := range []struct {
		key string
		n   int
	}{{"established", all.Established}, {"lost", all.Lost}, {"open", all.NoResult()}, {"passed", all.PassedOn}} {
		if part.n > 0 {
			out = append(out, v.Text("pass.summary-"+part.key, "n", part.n))
		}
	}
	return strings.Join(out, ", ")
}

// way follows one species.
func (k Kit) way(v words.Locale, sentTo map[string]int, id string, e ledger.Outcomes) Way {
	others := k.otherJournals()
	w := Way{ID: "way-" + id, Plant: k.PlantLink(id), Summary: waySummary(v, e), outcomes: e}
	w.branch = chart.Branch{Name: words.Capital(k.PlantName(id)), Note: v.Text("pass.parcels", "n", e.All.Sent)}
	lots := k.Facts.LotsOf(id)
	slices.SortStableFunc(lots, func(x, y *ledger.Lot) int { return x.Date.Compare(y.Date) })
	for _, l := range lots {
		parcels := k.sentOf(l)
		if len(parcels) == 0 {
			continue
		}
		n := PassNode{Text: v.Text("pass.lot", "what", v.Text("form."+l.Form, "n", l.Count), "month", words.MonthYear(v, l.Ready)), outcome: chart.Stock}
		for _, p := range k.firsts(parcels) {
			n.Kids = append(n.Kids, k.passNode(v, sentTo, p))
		}
		theirs := k.grownOn(v, others, l)
		n.Kids, w.grownOn = append(n.Kids, theirs...), w.grownOn+len(theirs)
		if len(n.Kids) > 0 {
			w.branch.Lots = append(w.branch.Lots, twigs(n.Kids))
		}
		w.Tree = append(w.Tree, k.cameIn(v, others, l, n))
	}
	return w
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
func when(v words.Locale, sentTo map[string]int, p *journal.Parcel, d quantity.Date) string {
	if sentTo[words.Country(p.Region)] >= fewParcels {
		return words.MonthYear(v, d)
	}
	return v.Text("pass.quarter", "quarter", (int(d.Month)+2)/3, "year", d.Year)
}

// passNode tells of a parcel and of what came of it.
func (k Kit) passNode(v words.Locale, sentTo map[string]int, p *journal.Parcel) PassNode {
	lot, _ := k.Facts.Lot(p.Lot)
	what := v.Text("form."+lot.Form, "n", p.Count)
	n := PassNode{Text: v.Text("pass.parcel-somewhere", "what", what, "month", when(v, sentTo, p, p.Sent))}
	if p.Region != "" {
		n.Text = v.Text("pass.parcel", "what", what, "country", words.CountryName(v, words.Country(p.Region)), "month", when(v, sentTo, p, p.Sent))
	}
	n.State = v.Text("pass.silent")
	switch ledger.StatusOf(p, k.Facts.Day()) {
	case reckon.Established:
		n.State, n.outcome = v.Text("pass.established"), chart.Established
	case reckon.Died:
		n.State, n.outcome = v.Text("pass.lost"), chart.Gone
	}
	for _, q := range k.Facts.Heads().Parcels {
		if from, ok := k.parent(q); ok && from == p && !q.Sent.After(k.Facts.Day()) {
			n.Kids = append(n.Kids, k.passNode(v, sentTo, q))
		}
	}
	for _, r := range p.Reports {
		if r.Outcome == "passed-on" && !r.Date.After(k.Facts.Day()) {
			n.Kids = append(n.Kids, PassNode{Text: v.Text("pass.again", "month", when(v, sentTo, p, r.Date)), outcome: chart.Established})
		}
	}
	return n
}

// twigs are nodes of the list as the picture has them.
func twigs(nodes []PassNode) []chart.Twig {
	var out []chart.Twig
	for _, n := range nodes {
		out = append(out, chart.Twig{Outcome: n.outcome, Kids: twigs(n.Kids)})
	}
	return out
}

// leavesOf counts the leaves of the picture: what established, and what was passed on from it or is grown on elsewhere.
func leavesOf(twigs []chart.Twig) (n int) {
	for _, t := range twigs {
		if t.Outcome == chart.Established {
			n++
		}
		n += leavesOf(t.Kids)
	}
	return n
}

// tree is the picture: the plant with most parcels is the lowest branch.
func (k Kit) tree(v words.Locale, ways []Way, all ledger.OutcomeCounts) chart.Tree {
	established := []string{v.Text("pass.summary-established", "n", all.Established)}
	leaves, grown := 0, 0
	for _, w := range ways {
		grown += w.grownOn
		for _, lot := range w.branch.Lots {
			leaves += leavesOf(lot)
		}
	}
	if passed := leaves - grown - all.Established; passed > 0 {
		established = append(established, v.Text("pass.summary-passed", "n", passed))
	}
	if grown > 0 {
		established = append(established, v.Text("pass.mark-grown", "n", grown))
	}
	t := chart.Tree{Caption: chart.Caption{ID: "tree", Title: v.Text("pass.tree-title")}, Foot: k.Journal.Title,
		Marks: chart.TreeMarks{Established: strings.Join(established, ", "), Gone: v.Text("pass.summary-lost", "n", all.Lost),
			Silent: v.Text("pass.summary-open", "n", all.NoResult()), Lot: v.Text("pass.mark-lot")}}
	for _, w := range ways {
		if len(w.branch.Lots) > 0 {
			t.Branches = append(t.Branches, w.branch)
		}
	}
	return t
}
