package preview

import (
	"bytes"
	"net/http"

	"slipleaf/build/journal"
	"slipleaf/build/page"
	"slipleaf/build/quantity"
)

// deskPage is the model of the grower's own page. It is private: it lists the links of care sheets.
type deskPage struct {
	Title, Date string
	Failure     string
	Troubles    []trouble
	Parts       []Part
	Sheets      []deskSheet
	Older       bool // there is an edition
}

// deskSheet is a parcel with the links of its sheet.
type deskSheet struct {
	For                       string // the recipient's name, as long as it is kept
	Record, Lot, Plant, State string
	Sheet, Label              string
}

// desk serves the grower's own page: what is due, what is wrong, and the sheets with their links.
func (s *server) desk(w http.ResponseWriter, r *http.Request) {
	if r.URL.Path != deskAddr {
		http.NotFound(w, r)
		return
	}
	w.Header().Set("Referrer-Policy", "same-origin")
	st := s.shelf.now.Load()
	m := deskPage{Title: "Your desk", Failure: st.failure, Troubles: st.trouble, Older: st.edition != nil}
	if st.edition != nil {
		b := st.edition.site
		m.Title, m.Date = b.Journal.Title, b.Locale().Date(b.On)
		m.Parts, m.Sheets = s.today(b), st.edition.sheets()
	}
	var out bytes.Buffer
	if err := templates.ExecuteTemplate(&out, "desk.html", m); err != nil {
		http.Error(w, err.Error(), http.StatusInternalServerError)
		return
	}
	s.page(w, st, http.StatusOK, out.Bytes(), nil)
}

// keptName is who a parcel is for, as the grower knows them; "" where no name was written, or where it was erased. The
// page that shows it is served to this machine alone.
func keptName(p *journal.Parcel) string {
	name, _ := p.Private.Reveal("name")
	return name
}

// sheets lists the parcels, the newest first as far as their files are named by date.
func (e *edition) sheets() []deskSheet {
	b, v := e.site, e.site.Locale()
	var out []deskSheet
	for i := len(b.All.Journal.Parcels) - 1; i >= 0; i-- {
		p := b.All.Journal.Parcels[i]
		row := deskSheet{For: keptName(p), Record: p.Path, Lot: p.Lot, State: "reserved"}
		if lot, ok := b.All.Journal.Lot(p.Lot); ok {
			row.Plant = b.Species(lot.Plant).Taxon
		}
		for _, at := range []struct {
			word string
			on   quantity.Date
		}{{"reserved", p.Reserved}, {"sent", p.Sent}, {"cancelled", p.Cancelled}} {
			if !at.on.IsZero() {
				row.State = at.word + " " + v.DayMonth(at.on)
			}
		}
		if addr := page.SheetAddr(p.Code); p.Code != "" && e.has(addr) {
			row.Sheet = addr
			if e.has(addr + "label/") {
				row.Label = addr + "label/"
			}
		}
		out = append(out, row)
	}
	return out
}
