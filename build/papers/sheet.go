package papers

import (
	"html/template"
	"slices"
	"strings"

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

// Sheet makes the care sheet.
func (w Papers) Sheet() ([]byte, error) {
	m, err := w.sheetPage()
	if err != nil {
		return nil, err
	}
	return w.kit.Theme.Render("sheet", m)
}

func (w Papers) sheetPage() (SheetPage, error) {
	s, p := w.s, w.s.Parcel
	m := SheetPage{Frame: w.frame("sheet", w.addr, w.Text("sheet.title", "plant", w.plant())),
		Eyebrow: w.eyebrow(), From: w.from(), Lot: p.Lot, Name: words.Taxon(s.Species.Taxon), Common: w.parcel.Common, What: w.what(),
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
		note, err := w.kit.Text(w.addr, p.Source)
		if err != nil {
			return m, err
		}
		m.Note, m.NoteHead = note, w.byGrower("sheet.note")
	}
	var err error
	m.QR, err = w.code()
	return m, err
}

// inOther speaks in the other system of units.
func (w Papers) inOther() Papers {
	w.Units = w.Units.Other()
	return w
}

// figures says again what holds a size: tank, distances, and what to add.
func (w Papers) figures() []template.HTML {
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
func (w Papers) byGrower(key string) template.HTML {
	if w.kit.Grower == "" {
		return w.HTML(key + "-nobody")
	}
	return w.HTML(key, "grower", w.kit.Grower)
}

func (w Papers) eyebrow() string {
	if t := w.s.Parcel.Tank; t != nil {
		if n := words.Size(w.Locale, t.Inside); n != "" {
			return w.Text("sheet.eyebrow-size", "size", n)
		}
	}
	return w.Text("sheet.eyebrow")
}

func (w Papers) from() string {
	if w.kit.Grower == "" {
		return w.Text("sheet.from-nobody", "site", w.kit.Site)
	}
	return w.Text("sheet.from", "grower", w.kit.Grower, "site", w.kit.Site)
}

// what is "6 cuttings, sent 22 April 2026".
func (w Papers) what() string {
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

func (w Papers) nowHead() template.HTML {
	if w.s.Parcel.Sent.IsZero() {
		return w.HTML("sheet.now-later")
	}
	return w.HTML("sheet.now")
}

// now is the first hour, step by step.
func (w Papers) now() []template.HTML {
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
func (w Papers) over() template.HTML {
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

func (w Papers) hoursFigure(h float64) string { return w.N(h, 1) + "\u00a0h" }

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
func (w Papers) firstHours() float64 {
	if len(w.s.Hours) > 0 {
		return w.s.Hours[0].Hours
	}
	if w.s.Light.Hours > 0 {
		return w.s.Light.Hours
	}
	return 8
}
