package page

import (
	"html/template"
	"slices"
	"strings"

	"slipleaf/build/journal"
	"slipleaf/build/sheet"
	"slipleaf/build/theme"
	"slipleaf/build/words"
)

// SheetPage is the model of a care sheet.
type SheetPage struct {
	theme.Frame
	Eyebrow, From, Lot, What string
	Common                   template.HTML
	Name                     template.HTML
	Mark                     template.HTML
	Verdict                  template.HTML
	Doubts                   []template.HTML // what is near an edge or not known
	First                    template.HTML   // the one thing to do first; "" when the steps say it
	NowHead                  template.HTML
	Now                      []template.HTML
	NoteHead                 template.HTML
	Note                     template.HTML // the grower's own words
	CameHead                 template.HTML
	Came                     []theme.Field
	FitLead                  []template.HTML
	Fit                      FitTable
	OtherUnits               FitTable
	OtherFigures             []template.HTML // sizes and doses in the other units
	Others                   string
	Step                     []template.HTML
	Test                     template.HTML
	Before                   []template.HTML
	Where                    []template.HTML
	Depths                   []string
	Hours                    []template.HTML
	Water                    []WaterBlock
	Leave                    template.HTML
	Gas                      []template.HTML
	Days                     []DayCard
	Calendar                 string
	Trim                     []template.HTML
	Law                      []LawRow
	Safety                   []template.HTML
	Unknown                  []template.HTML
	TellHead                 template.HTML
	Tell                     []TellLink
	Plants                   bool          // there is a word to say on planting: not where the law may forbid the plant
	Doubtful                 template.HTML // before the days of a plant that should not be planted yet
	QR                       template.HTML
	Address                  string   // the short address, without scheme and code
	Code                     []string // the code in groups
	Links                    []theme.Link
}

// Sheet makes a parcel's care sheet.
func (b *Site) Sheet(p *journal.Parcel) ([]byte, error) {
	m, err := b.sheetPage(p)
	if err != nil {
		return nil, err
	}
	return b.Theme.Render("sheet", m)
}

// sheetWriter writes the parts of one sheet in the recipient's units.
type sheetWriter struct {
	words.Locale
	b    *Site
	s    sheet.Sheet
	addr string
}

func (b *Site) sheetWriter(p *journal.Parcel) sheetWriter {
	units := p.Units
	if !p.UnitsSaid {
		units = b.Journal.Units
	}
	return sheetWriter{b.LocaleIn(units), b, b.sheetOf(p), SheetAddr(p.Code)}
}

// sheetFrame is the frame of a page that only its link leads to: no script, no index, no referrer, its own small style.
func (b *Site) sheetFrame(kind, addr, title string) theme.Frame {
	f := b.frame(kind, addr, title, "")
	f.Unlisted, f.CSP, f.Script, f.Canonical = true, theme.SheetPolicy, "", ""
	f.Nav, f.Foot, f.Machines, f.Feeds = nil, nil, nil, nil
	f.Styles = b.href(addr, "/"+b.Theme.Sheet.Path)
	return f
}

func (b *Site) sheetPage(p *journal.Parcel) (SheetPage, error) {
	w := b.sheetWriter(p)
	s := w.s
	m := SheetPage{Frame: b.sheetFrame("sheet", w.addr, w.Text("sheet.title", "plant", b.plantName(s.Lot.Plant))),
		Eyebrow: w.eyebrow(), From: w.from(), Lot: p.Lot, Name: words.Taxon(s.Species.Taxon), Common: b.commonName(s.Species), What: w.what(),
		Mark: w.mark(), Verdict: w.verdict(), Doubts: w.doubts(), First: w.first(), NowHead: w.nowHead(), Now: w.now(), CameHead: w.cameHead(), Came: w.came(),
		FitLead: w.fitLead(), Fit: w.fitTable(), OtherUnits: w.inOther().fitTable(), Others: w.others(), Step: w.step(), Test: w.test(), Before: w.before(),
		Where: w.where(), Depths: w.depths(), Hours: w.hours(), Water: w.water(), Leave: w.leave(), Gas: w.gas(), Days: w.days(), Trim: w.trim(),
		Law: w.law(), Safety: w.safety(), Unknown: w.unknowns(), TellHead: w.tellHead(), Tell: w.tell(), Address: w.shortAddress(), Code: grouped(p.Code), Links: w.links()}
	m.OtherFigures = w.inOther().figures()
	m.Plants = !s.Forbidden
	if s.Summary == sheet.PoorMatch {
		m.Doubtful, m.Trim, m.Leave, m.Gas = w.HTML("sheet.days-doubtful"), nil, "", nil
	}
	if !s.Day0.IsZero() {
		m.Calendar = "dates.ics"
	}
	if len(p.Body) > 0 && strings.TrimSpace(string(p.Body)) != "" {
		doc, err := b.text(w.addr, p.Source)
		if err != nil {
			return m, err
		}
		m.Note, m.NoteHead = doc.HTML, w.byGrower("sheet.note")
	}
	var err error
	m.QR, err = b.qr(b.absolute(w.addr), w.Text("sheet.qr"))
	return m, err
}

// inOther speaks in the other system of units.
func (w sheetWriter) inOther() sheetWriter {
	w.Units = w.Units.Other()
	return w
}

// figures says again what holds a size: tank, distances, and what to add.
func (w sheetWriter) figures() []template.HTML {
	out := []template.HTML{words.Escape(w.eyebrow() + ".")}
	if w.s.Forbidden {
		return out
	}
	for _, p := range w.where() {
		if !slices.Contains(w.inOther().where(), p) {
			out = append(out, p)
		}
	}
	for _, b := range w.water() {
		out = append(out, b.Lead)
	}
	return out
}

// byGrower says a sentence with the grower's name, or its form without.
func (w sheetWriter) byGrower(key string) template.HTML {
	if w.b.Journal.Grower == "" {
		return w.HTML(key + "-nobody")
	}
	return w.HTML(key, "grower", w.b.Journal.Grower)
}

func (w sheetWriter) eyebrow() string {
	if t := w.s.Parcel.Tank; t != nil {
		if n := words.Size(w.Locale, t.Inside); n != "" {
			return w.Text("sheet.eyebrow-size", "size", n)
		}
	}
	return w.Text("sheet.eyebrow")
}

func (w sheetWriter) from() string {
	if w.b.Journal.Grower == "" {
		return w.Text("sheet.from-nobody", "site", w.b.Journal.Title)
	}
	return w.Text("sheet.from", "grower", w.b.Journal.Grower, "site", w.b.Journal.Title)
}

// what is "6 cuttings, sent 22 April 2026".
func (w sheetWriter) what() string {
	p := w.s.Parcel
	form := w.Text("form."+w.s.Lot.Form, "n", p.Count)
	switch {
	case !p.Sent.IsZero():
		return w.Text("sheet.sent", "what", form, "date", w.Date(p.Sent))
	case !p.Reserved.IsZero():
		return w.Text("sheet.promised", "what", form, "date", w.Date(p.Reserved))
	}
	return form
}

func (w sheetWriter) nowHead() template.HTML {
	if w.s.Parcel.Sent.IsZero() {
		return w.HTML("sheet.now-later")
	}
	return w.HTML("sheet.now")
}

// now is the first hour, step by step.
func (w sheetWriter) now() []template.HTML {
	s := w.s
	if s.Melt.Seed {
		return []template.HTML{w.HTML("sheet.seeds")}
	}
	if s.Forbidden {
		return nil
	}
	open, rinse := "sheet.open", "sheet.rinse"
	switch {
	case s.Grown == "culture": // it comes in a cup, on jelly, and smells of nothing
		open, rinse = "sheet.open-culture", "sheet.rinse-culture"
	case s.Parcel.How == "post":
		open = "sheet.open-damp"
	}
	out := []template.HTML{w.HTML(open), w.HTML(rinse, "test", w.Text("sheet.firm-"+wordsOf(s.Kind)))}
	if w.first() != "" {
		return out
	}
	out = append(out, w.over())
	plant := "sheet.plant"
	if s.Kind.Set() == sheet.Fixed {
		plant = "sheet.plant-rhizome"
	}
	if s.Kind.Set() == sheet.Afloat {
		plant = "sheet.plant-floating"
	}
	return append(out, w.HTML(plant, "hours", w.hoursFigure(w.firstHours())))
}

// over is how it is brought over to their water.
func (w sheetWriter) over() template.HTML {
	step := w.s.Step
	key := step.Class.String()
	switch {
	case step.Once:
		key = "once"
	case step.Class >= sheet.LargeStep && step.Worst.Parameter == sheet.CO2:
		key = "medium" // the water is much the same: what lacks is CO2, and no jar makes up for that
	case step.Class >= sheet.LargeStep:
		key = "large"
	}
	return w.HTML("sheet.over-" + key)
}

func (w sheetWriter) hoursFigure(h float64) string { return w.N(h, 1) + "\u00a0h" }

// wordsOf is the group of kinds that has words of its own.
func wordsOf(k sheet.Kind) string {
	switch k.Course() {
	case sheet.StemCourse:
		return "stem"
	case sheet.CryptCourse:
		return "crypt"
	case sheet.RhizomeCourse:
		return "rhizome"
	case sheet.CarpetCourse:
		return "carpet"
	case sheet.MatCourse:
		return "moss"
	case sheet.FloatCourse, sheet.LooseCourse:
		return "floating"
	case sheet.TuberCourse:
		return "bulb"
	}
	return "rosette"
}

// firstHours is the light of the first weeks.
func (w sheetWriter) firstHours() float64 {
	if len(w.s.Hours) > 0 {
		return w.s.Hours[0].Hours
	}
	if w.s.Light.Hours > 0 {
		return w.s.Light.Hours
	}
	return 8
}
