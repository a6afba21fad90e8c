package desk

import (
	"net/http"
	"slices"

	"slipleaf/build/page"
	"slipleaf/build/words"
)

// labelsPage lists the labels of what goes out.
type labelsPage struct {
	Head
	Today, Rest []labelRow
}

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
		case p.Sent == b.On:
			m.Today = append(m.Today, row)
		case p.Sent.IsZero():
			m.Rest = append(m.Rest, row)
		}
	}
	d.show(w, b, http.StatusOK, "labels.html", m)
}
