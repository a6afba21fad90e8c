package desk

import (
	"cmp"
	"html/template"
	"strings"

	"slipleaf/build/journal"
	"slipleaf/build/page"
	"slipleaf/build/quantity"
	"slipleaf/build/tankform"
	"slipleaf/build/words"
)

// tankPage is the form of one tank.
type tankPage struct {
	Head
	Tank, Name, Day string
	On              quantity.Date // the day of the entry
	Looked          string        // when it was last looked at
	Nonce           string
	Plants          []plantRow
	Readings, More  []readingRow
	Measures        []choice
	Typed           map[string]string // what was typed besides
	Faults          []template.HTML   // what is wrong with no field of its own
	FieldFaults     map[string]template.HTML
	Wrong           int
	PhotoKept       string // the photo that was taken in before; "" for none
}

// choice is an option of a list.
type choice struct {
	Value, Text string
	Chosen      bool
}

// plantRow is a plant of the tank to be looked at. Names of fields begin with its id.
type plantRow struct {
	tankform.FormPlant             // with what was last said of it
	Count, Length           string // what the fields hold
	Same, Gone              bool
	Trim, TrimLength        string
	Offer                   bool
	NewLot, LotCount, Ready string
	Identity                []choice
	AsLast                  string // what the lot says as the last one of this plant did
	Fault, TrimFault        template.HTML
}

// Open reports whether the part about cutting is to be seen at once.
func (p plantRow) Open() bool { return p.Trim != "" || p.Offer || p.TrimFault != "" }

// Looked reports whether the plant was looked at.
func (p plantRow) Looked() bool { return p.Same || p.Gone || p.Count != p.Last }

// readingRow is a parameter to be measured.
type readingRow struct {
	tankform.FormReading
	Value string
	Fault template.HTML
}

// form is a tank's form as nobody has filled it in.
func form(b *page.Site, t *journal.Tank, on quantity.Date) tankPage {
	v := b.Locale()
	m := tankPage{On: on, Tank: t.ID, Name: t.Name, Day: v.DayMonth(on), Typed: map[string]string{}, FieldFaults: map[string]template.HTML{}}
	var last quantity.Date
	for _, p := range tankform.Plants(v, b.Species, b.All.Journal, t, t.Entries, on) {
		m.Plants = append(m.Plants, rowOf(b, v, p, on))
		if p.On.After(last) {
			last = p.On
		}
	}
	if !last.IsZero() {
		m.Looked = v.DayMonth(last)
	}
	for _, r := range tankform.Readings(v, t.WaterOn(on)) {
		if r.Usual {
			m.Readings = append(m.Readings, readingRow{FormReading: r})
		} else {
			m.More = append(m.More, readingRow{FormReading: r})
		}
	}
	for _, key := range []string{"stems", "plantlets", "leaves"} {
		m.Measures = append(m.Measures, choice{Value: key, Text: v.Text("desk.measure-" + key)})
	}
	return m
}

// rowOf is a plant's part of the form, as nobody has filled it in.
func rowOf(b *page.Site, v words.Locale, p tankform.FormPlant, on quantity.Date) plantRow {
	r := plantRow{FormPlant: p, Count: p.Last, Length: p.Length, NewLot: b.All.Journal.FreeLot(p.ID, on), Ready: on.String()}
	if b.All.Journal.NewestLot(p.ID, on) != nil {
		r.AsLast = strings.Join(words.NonEmpty(p.Lot.Form, p.Lot.Grown, p.Lot.Pests), ", ")
	}
	for _, k := range []string{"certain", "likely", "unsure"} {
		r.Identity = append(r.Identity, choice{k, v.Text("desk.identity-" + k), k == cmp.Or(p.Lot.Identity, "certain")})
	}
	return r
}
