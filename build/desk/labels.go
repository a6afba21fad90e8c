package desk

import (
	"html/template"
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"slipleaf/build/page"
	"slipleaf/build/papers"
	"slipleaf/build/quantity"
	"slipleaf/build/words"
)

// labelsPage lists the labels of what goes out, and asks for those of lots.
type labelsPage struct {
	Head
	Today, Rest []labelRow
	Lots        []offerRow
	Letter      bool
	Fault       string
}

// sheetsPage is labels of lots to be printed, thirty to a sheet.
type sheetsPage struct {
	Head
	Letter bool
	Sheets [][]lotLabel
}

// lotLabel is a label of a lot for whoever may take of it: it names nobody.
type lotLabel struct {
	Site, Lot, Name, Taxon, Identity, Grown, Needs string
	Code                                           template.HTML // leads to the plant's page
}

// Thirty labels are a sheet of A4 or Letter, 3 × 10; ten sheets are printed at once (common practice; our choice).
const (
	onSheet    = 30
	mostLabels = 10 * onSheet
)

// labelRow is a label that can be printed.
type labelRow struct{ For, What, Addr string }

// labels shows the labels of what goes out today and of what is reserved.
func (d *Desk) labels(w http.ResponseWriter, r *http.Request, b *page.Site) {
	v := b.Locale()
	m := labelsPage{Head: d.head(b, v.Text("desk.labels"))}
	for _, p := range slices.Backward(b.All.Journal.Parcels) {
		if p.Code == "" || p.Lot == "" || !p.Cancelled.IsZero() {
			continue
		}
		row := labelRow{For: keptName(p), What: p.Lot, Addr: page.SheetAddr(p.Code) + "label/"}
		if !p.First() {
			row.Addr += p.Lot + "/"
		}
		if lot, ok := b.All.Journal.Lot(p.Lot); ok {
			row.What = words.Capital(words.PlantName(b.Species(lot.Plant))) + ", " + p.Lot
		}
		switch {
		case p.Sent == b.All.On:
			m.Today = append(m.Today, row)
		case p.Sent.IsZero():
			m.Rest = append(m.Rest, row)
		}
	}
	m.Letter = v.Units == quantity.US
	q := r.URL.Query()
	if paper := q.Get("paper"); paper != "" {
		m.Letter = paper == "letter"
		if labels := lotLabels(b, q); len(labels) > 0 && len(labels) <= mostLabels {
			d.show(w, b, http.StatusOK, "sheets.html", sheetsPage{m.Head, m.Letter, slices.Collect(slices.Chunk(labels, onSheet))})
			return
		}
		m.Fault = v.Text("desk.meeting-count", "n", mostLabels)
	}
	for _, l := range b.All.Ledger.Offered() {
		if l.Left > 0 || l.Expected {
			m.Lots = append(m.Lots, offerRow{Lot: l.ID, Plant: words.Capital(words.PlantName(b.Species(l.Plant))), Count: q.Get("lot." + l.ID)})
		}
	}
	d.show(w, b, http.StatusOK, "labels.html", m)
}

// lotLabels are as many labels of each lot as were asked for, by lot; past the most it stops.
func lotLabels(b *page.Site, asked url.Values) (out []lotLabel) {
	v := b.Locale()
	for _, l := range b.All.Ledger.Offered() {
		n, _ := strconv.Atoi(asked.Get("lot." + l.ID))
		if n < 1 {
			continue
		}
		s := b.Species(l.Plant)
		x := lotLabel{Site: b.Journal.Title, Lot: l.ID, Name: words.Capital(words.PlantName(s)), Taxon: s.Taxon}
		if strings.EqualFold(x.Name, x.Taxon) {
			x.Taxon = ""
		}
		if l.Identity != "" {
			x.Identity = v.Text("label.name-" + l.Identity)
		}
		if l.Grown != "" {
			x.Grown = v.Text("offers.grown-" + l.Grown)
		}
		needs := []string{words.R(v, s.Temperature)}
		if gh := words.R(v, s.GH); gh != "" {
			needs = append(needs, "GH\u00a0"+gh)
		}
		x.Needs = strings.Join(words.NonEmpty(needs...), " · ")
		if b.Journal.Address != "" {
			x.Code = papers.Code(b.Journal.Address+page.PlantAddr(l.Plant)[1:], l.ID)
		}
		for range min(n, mostLabels+1) {
			out = append(out, x)
		}
		if len(out) > mostLabels {
			break
		}
	}
	return out
}
