package desk

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"html/template"
	"net/http"
	"slices"

	"slipleaf/build/change"
	"slipleaf/build/journal"
	"slipleaf/build/page"
	"slipleaf/build/quantity"
	"slipleaf/build/words"
)

// Trouble is a complaint with its line of the file.
type Trouble struct {
	Place, Line string
	Severity    string // in words
	Said        template.HTML
}

// Today is the grower's own first page. It is private: it names recipients and lists the links of care sheets.
type Today struct {
	Head
	Journal, Failure string
	Saved            string // the tank whose form was saved just now
	Troubles         []Trouble
	Tanks            []Line
	Parts            []Part
	Sheets           []Sheet
	Phone            bool     // other devices can be paired
	Outcomes         []choice // that a report may have
	Last             string   // what Undo would take back
	LastAt           string   // which change that is
}

// Part is a heading of the list of what is due, and its lines.
type Part struct {
	Key, Head string
	Lines     []Line
}

// Line is one thing that is due: To is where it is settled, by a button that says Do; Message is what to write to whoever it
// is about.
type Line struct {
	Name, Text, To, Do, Message string
	Record, Lot                 string // whose line it is; the lot that it is about
	Settle                      []Settle
}

// Settle is a button that settles a line at once, by a form of the page of people.
type Settle struct {
	Act, Do string // what the form asks for; the word on the button
	Count   int
	Report  bool // it asks how the plants are
}

// Sheet is a parcel with the links of its sheet.
type Sheet struct {
	For                       string // the recipient's name, as long as it is kept
	Record, Lot, Plant, State string
	Sheet, Label              string
}

// Today fills the first page. has tells which addresses the site has.
func (d *Desk) Today(ctx context.Context, r *http.Request, has func(addr string) bool) Today {
	b := d.Site()
	if b == nil {
		return Today{Head: Head{Lang: "en", Direction: "ltr"}}
	}
	v := b.Locale()
	m := Today{Head: d.head(b, v.Text("desk.today")+", "+v.DayMonth(b.All.On)), Journal: b.Journal.Title, Parts: Due(b, NameIn), Sheets: sheets(b, has)}
	if d.Writer == nil {
		m.Form = ""
		return m
	}
	m.Tanks, m.Outcomes, m.Phone = tanks(b), outcomes(v), d.Pairing != nil
	if _, ok := b.All.Journal.Tank(r.URL.Query().Get("saved")); ok {
		m.Saved = r.URL.Query().Get("saved")
	}
	last, err := d.Writer.Last(ctx)
	switch {
	case err == nil:
		m.Last, m.LastAt = last.What, identity(last)
	case !errors.Is(err, change.ErrNothing):
		m.Failure = err.Error()
	}
	return m
}

// tanks lists the tanks that are kept, with the day on which each was last looked at.
func tanks(b *page.Site) []Line {
	v := b.Locale()
	var out []Line
	for _, t := range b.All.Journal.Tanks {
		if !t.Ended.IsZero() && !t.Ended.After(b.All.On) {
			continue
		}
		l := Line{Name: t.Name, Text: v.Text("desk.never-looked"), To: tankAddr(t.ID)}
		stand := journal.Standing(t.Entries, b.All.On)
		var last quantity.Date
		for _, s := range stand {
			if s.On.After(last) {
				last = s.On
			}
		}
		if !last.IsZero() {
			l.Text = v.Text("desk.looked-on", "n", len(stand), "day", v.DayMonth(last))
		}
		out = append(out, l)
	}
	return out
}

func tankAddr(id string) string { return Addr + "tank/" + id + "/" }

// NameIn is the recipient's name as it is in a record, or the record's file.
func NameIn(j *journal.Journal, record string) string {
	for _, p := range j.Parcels {
		if name := keptName(p); p.Path == record && name != "" {
			return name
		}
	}
	return record
}

// keptName is who a parcel is for, as the grower knows them; "" where no name was written, or where it was erased. The
// page that shows it is served to the grower alone.
func keptName(p *journal.Parcel) string {
	name, _ := p.Private.Reveal("name")
	return name
}

// sheets lists the parcels, the newest first as far as their files are named by date.
func sheets(b *page.Site, has func(addr string) bool) []Sheet {
	v := b.Locale()
	var out []Sheet
	for _, p := range slices.Backward(b.All.Journal.Parcels) {
		row := Sheet{For: keptName(p), Record: p.Path, Lot: p.Lot, State: v.Text("desk.state-reserved")}
		if lot, ok := b.All.Journal.Lot(p.Lot); ok {
			row.Plant = words.PlantName(b.Species(lot.Plant))
		}
		for _, at := range states(p) {
			row.State = v.Text("desk.state-"+at.word) + " " + v.DayMonth(at.on)
		}
		if addr := page.SheetAddr(p.Code); p.Code != "" && has(addr) {
			row.Sheet = addr
			if has(addr + "label/") {
				row.Label = addr + "label/"
			}
		}
		out = append(out, row)
	}
	return out
}

// state is what became of a parcel on a day.
type state struct {
	word string
	on   quantity.Date
}

// states are those of a parcel, the last one last.
func states(p *journal.Parcel) []state {
	return slices.DeleteFunc([]state{{"reserved", p.Reserved}, {"sent", p.Sent}, {"cancelled", p.Cancelled}}, func(s state) bool { return s.on.IsZero() })
}

// identity tells one change from all others, so that a form that comes late takes nothing else back.
func identity(p change.Past) string {
	h := sha256.New()
	fmt.Fprintf(h, "%q %s", p.What, p.At)
	for _, f := range p.Files {
		fmt.Fprintf(h, " %q %q", f.Path, f.After)
	}
	return hex.EncodeToString(h.Sum(nil)[:16])
}
