// Package papers writes what goes with a parcel: the care sheet with its calendar and figures, and one page with the bag label, the
// strip of check days and the card for a swap table. It reads no journal: a [Kit] and a [Parcel] hold all that it may know.
package papers

import (
	"cmp"
	"html/template"

	"slipleaf/build/draw"
	"slipleaf/build/journal"
	"slipleaf/build/quantity"
	"slipleaf/build/sheet"
	"slipleaf/build/theme"
	"slipleaf/build/words"
)

// Kit is what the papers of every parcel are made with.
type Kit struct {
	Theme  *theme.Theme
	Own    string          // the language of the grower's own words
	Units  quantity.System // where a parcel does not say
	Grower string          // the giver's name; "" for none
	Site   string          // its title
	Region string          // the giver's, ISO 3166: US-OH

	Frame    func(kind, addr, title string) theme.Frame
	Href     func(from, to string) string                        // a relative link
	Absolute func(addr string) string                            // "" where the site has no address
	Text     func(addr string, src journal.Source) template.HTML // Markdown, for the page at addr
	Code     func(text, name string) template.HTML               // [Code], perhaps drawn before
	Drawn    func(key string, draw func() draw.Care) draw.Care   // a drawing, perhaps drawn before; nil: drawn each time
	Sprig    func(plant string) template.HTML                    // a plant's drawing for labels, by its id
	Report   func(lot, taxon, subject, body string) string       // where a report is given; "" for nowhere
}

// Parcel is a parcel with all that its papers say of it.
type Parcel struct {
	Sheet  sheet.Sheet
	Common template.HTML    // the plant's common name
	CO2    journal.Tristate // whether the giver's tank gets CO2
	Leaves quantity.Date    // when it was or will be sent
}

// Papers are those of one parcel, in the recipient's units.
type Papers struct {
	words.Locale
	kit    *Kit
	parcel Parcel
	s      sheet.Sheet
	addr   string
	rest   []Papers // of the other plants of the parcel
	twin   bool     // another plant of the parcel is called the same
}

// New makes a parcel's papers ready to be written; more are the other plants that came with it.
func New(k Kit, p Parcel, more ...Parcel) Papers {
	units := p.Sheet.Parcel.Units
	if !p.Sheet.Parcel.UnitsSaid {
		units = k.Units
	}
	if k.Drawn == nil {
		k.Drawn = func(_ string, draw func() draw.Care) draw.Care { return draw() }
	}
	w := Papers{Locale: words.Locale{Words: k.Theme.Words, Units: units}, kit: &k, parcel: p, s: p.Sheet, addr: Addr(p.Sheet.Parcel.Code)}
	named := map[template.HTML]int{w.called(): 1}
	for _, other := range more {
		one := w
		one.parcel, one.s, one.rest = other, other.Sheet, nil
		w.rest = append(w.rest, one)
		named[one.called()]++
	}
	w.twin = named[w.called()] > 1
	for i, one := range w.rest {
		w.rest[i].twin = named[one.called()] > 1
	}
	return w
}

// Of are the papers of one plant of the parcel.
func (w Papers) Of(lot string) Papers {
	for _, one := range w.rest {
		if one.s.Parcel.Lot == lot {
			return one
		}
	}
	return w
}

// anchor is an id on the sheet; of several plants each has its own.
func (w Papers) anchor(id string) string {
	if len(w.s.Parcel.Together) > 1 {
		return id + "-" + w.s.Parcel.Lot
	}
	return id
}

// Folder is where the papers of all parcels lie.
const Folder = "/sheets/"

// Addr is the address of a parcel's care sheet; its other papers lie below.
func Addr(code string) string { return Folder + code + "/" }

// frame is that of a page that only its link leads to: no script, no index, no referrer, its own small style.
func (w Papers) frame(kind, addr, title string) theme.Frame {
	f := w.kit.Frame(kind, addr, title)
	f.Lang, f.Dir = w.Lang, w.Text("page.direction")
	f.Unlisted, f.CSP, f.Script, f.Canonical = true, theme.SheetPolicy, "", ""
	f.Nav, f.Foot, f.Machines = nil, nil, nil
	style := w.kit.Theme.Sheet.Path
	if kind != "sheet" {
		style = w.kit.Theme.Label.Path
	}
	f.Styles = w.kit.Href(addr, "/"+style)
	return f
}

// code is the QR code of the sheet's address.
func (w Papers) code() template.HTML {
	return w.kit.Code(w.kit.Absolute(w.addr), w.Text("sheet.qr"))
}

// called is the plant's name on a page: its common name, marked where that is in English only, or the scientific one; with its lot
// where another plant of the parcel is called the same.
func (w Papers) called() template.HTML {
	name := cmp.Or(w.parcel.Common, words.Taxon(w.s.Species.Taxon))
	if w.twin {
		name += words.Escape(" (" + w.s.Parcel.Lot + ")")
	}
	return name
}

// plant is the plant's plain name: its common name, or the scientific one.
func (w Papers) plant() string { return words.PlantName(w.s.Species) }
