package papers

import (
	"html/template"
	"slices"

	"slipleaf/build/theme"
	"slipleaf/build/words"
)

// SheetPage is the model of a care sheet.
type SheetPage struct {
	theme.Frame
	From, Lot string
	Several   string // the heading of several plants; "" for one
	Plants    []PlantPart
	NowHead   template.HTML
	Now       []template.HTML
	Feel      []template.HTML // drawings of the firm parts
	Tell      TellLink        // the answer that it came
	TellAddr  string          // where to write, in plain text; "" where nobody says
	NoteHead  template.HTML
	Note      template.HTML // the grower's own words
	Days      []DayCard
	DaysHead  template.HTML
	Calendar  string
	Never     template.HTML
	Law       []LawRow // what is named on a list; it does not fold
	Later     []Fold
	Tells     []TellLink
	ByHand    template.HTML
	QR        template.HTML
	Address   string   // the short address, without scheme and code
	Code      []string // the code in groups
	Links     []theme.Link
}

// PlantPart is what one plant of the parcel has of its own.
type PlantPart struct {
	ID           string // its lot
	Place        string // the id of where it goes
	Name, Common template.HTML
	Called       template.HTML // its name beside the others
	Among        bool          // there are others
	What         string
	Drawing      template.HTML
	Mark         template.HTML
	Verdict      template.HTML
	Short        template.HTML // the verdict in a few words, for a list of plants
	Class        string        // of the verdict: good, wait, warn, soft
	Proof        string        // how it did for others; "" under three results
	Fit          FitPart
	First        []template.HTML // of several plants: first steps of its own
	Planted      bool
	Where        WherePart
	Folds        []Fold
	Melt, Rot    Sign
}

// Fold is a line that unfolds.
type Fold struct {
	ID    string
	Head  template.HTML
	Body  []template.HTML
	Doses []DoseLine
	After []template.HTML
	Terms []theme.Field
}

// Sign is a drawing with what it shows.
type Sign struct{ SVG, Text template.HTML }

// Sheet makes the care sheet.
func (w Papers) Sheet() ([]byte, error) {
	m := w.sheetPage()
	data, err := w.kit.Theme.Render("sheet", m)
	if over := len(data) + len(w.kit.Theme.Sheet.Data) - most; err == nil && over > 0 {
		m.lighten(over)
		return w.kit.Theme.Render("sheet", m)
	}
	return data, err
}

func (w Papers) sheetPage() SheetPage {
	p, days := w.s.Parcel, w.days()
	m := SheetPage{Frame: w.frame("sheet", w.addr, w.Text("sheet.title", "plant", w.names())), From: w.from(), Lot: p.Lot, NowHead: w.nowHead(), Now: w.now(),
		Days: days, Never: w.never(), Later: w.later(), Tells: w.tells(), Tell: w.came(), TellAddr: w.tellAddr(), ByHand: w.byHand(), Address: w.shortAddress(), Code: grouped(p.Code), Links: w.links(len(days) > 0)}
	seen, poor := map[string]bool{}, false
	for _, one := range w.plants() {
		part := one.plantPart()
		if !part.Planted && poor { // how the bowl is kept was said
			part.Folds = nil
		}
		poor = poor || len(part.Folds) > 0 && !part.Planted
		m.Plants = append(m.Plants, part)
		m.Law = append(m.Law, one.named()...)
		if f := string(one.s.Kind.Firm()); !seen[f] && len(w.rest) == 0 && one.s.Planted() && !one.s.Melt.Seed {
			seen[f] = true
			m.Feel = append(m.Feel, one.feelDrawing())
		}
	}
	m.DaysHead = w.HTML("sheet.days")
	if len(w.rest) > 0 {
		m.Several, m.Lot, m.DaysHead = w.title(), w.DayMonth(p.Taken()), w.HTML("sheet.days-all")
	}
	if !w.s.Day0.IsZero() && len(m.Days) > 0 {
		m.Calendar = "dates.ics"
	}
	m.Note, m.QR = w.kit.Text(w.addr, p.Source), w.code()
	if m.Note != "" {
		m.NoteHead = w.byGrower("sheet.note")
	}
	return m
}

func (w Papers) plantPart() PlantPart {
	s := w.s
	p := PlantPart{ID: s.Parcel.Lot, Place: w.anchor("plant"), Name: words.Taxon(s.Species.Taxon), Common: w.parcel.Common, Called: w.called(), What: w.what(), Drawing: w.labelDrawing(), Mark: w.mark(), Class: w.class(),
		Verdict: w.verdict(), Short: w.short(), Proof: w.proof(), Fit: w.fit(), Planted: s.Planted()}
	if len(s.Parcel.Together) > 1 {
		p.Among, p.First = true, w.firstOwn()
	}
	if p.Planted {
		p.Where, p.Folds = w.where(), w.care()
		p.Melt, p.Rot = w.signs()
	} else if !s.Forbidden && !s.NeverCame {
		p.Folds = []Fold{w.wherePoor()}
	}
	return p
}

// plants are the papers of each plant of the parcel, this one first.
func (w Papers) plants() []Papers { return append([]Papers{w}, w.rest...) }

// names are the plants' plain names.
func (w Papers) names() string {
	var out []string
	for _, one := range w.plants() {
		if name := one.plant(); !slices.Contains(out, name) {
			out = append(out, name)
		}
	}
	return words.And(w.Locale, out)
}

// title is "Three plants for your 60 × 30 × 36 cm tank".
func (w Papers) title() string {
	n := words.Capital(words.NumberWord(w.Locale, len(w.plants())))
	if t := w.s.Parcel.Tank; t != nil {
		if size := words.Size(w.Locale, t.Inside); size != "" {
			return w.Text("sheet.several-size", "n", n, "size", size)
		}
	}
	return w.Text("sheet.several", "n", n)
}

// byGrower says a sentence with the grower's name, or its form without.
func (w Papers) byGrower(key string, pairs ...any) template.HTML {
	if w.kit.Grower == "" {
		return w.HTML(key+"-nobody", pairs...)
	}
	return w.HTML(key, append(pairs, "grower", w.kit.Grower)...)
}

func (w Papers) from() string {
	if w.kit.Grower == "" {
		return w.kit.Site
	}
	return w.Text("sheet.from", "grower", w.kit.Grower, "site", w.kit.Site)
}

// what is "6 cuttings".
func (w Papers) what() string { return w.Text("form."+w.s.Lot.Form, "n", w.s.Parcel.Count) }

// whatWhen is "6 cuttings, sent 22 April 2026".
func (w Papers) whatWhen() string {
	switch p := w.s.Parcel; {
	case !p.Sent.IsZero():
		return w.Text("sheet.sent", "what", w.what(), "date", w.Date(p.Sent))
	case !p.Reserved.IsZero():
		return w.Text("sheet.promised", "what", w.what(), "date", w.Date(p.Reserved))
	}
	return w.what()
}

// inOther prints in the other system of units.
func (w Papers) inOther() Papers {
	w.Units = w.Units.Other()
	return w
}
