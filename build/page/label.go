package page

import (
	"html/template"
	"strings"

	"slipleaf/build/journal"
	"slipleaf/build/sheet"
	"slipleaf/build/theme"
	"slipleaf/build/words"
)

// LabelPage is the model of the bag label, the check-day strip and the swap-table card.
type LabelPage struct {
	theme.Frame
	Back      string
	Site, Lot string
	Name      template.HTML
	Common    template.HTML
	Identity  string
	Rows      []LabelRow
	QR        template.HTML
	Address   string
	Code      []string
	Days      []DayCard
}

// LabelRow is a short line of a label.
type LabelRow struct{ Term, Is string }

func (b *Site) labelPage(p *journal.Parcel, kind, title string) (LabelPage, sheetWriter, error) {
	w := b.sheetWriter(p)
	s := w.s
	addr := w.addr + kind + "/"
	m := LabelPage{Frame: b.sheetFrame("paper-"+kind, addr, w.Text(title, "lot", p.Lot)), Back: b.href(addr, w.addr), Site: b.Journal.Title, Lot: p.Lot,
		Name: words.Taxon(s.Species.Taxon), Common: b.commonName(s.Species), Address: w.shortAddress(), Code: grouped(p.Code)}
	if s.Lot.Identity != "" {
		m.Identity = w.Text("label.name-" + s.Lot.Identity)
	}
	var err error
	m.QR, err = b.qr(b.absolute(w.addr), w.Text("sheet.qr"))
	return m, w, err
}

// Label makes the bag label, 62 × 100 mm. It serves whoever has nothing else: name, doubt, water, what to do at once.
func (b *Site) Label(p *journal.Parcel) ([]byte, error) {
	m, w, err := b.labelPage(p, "label", "label.title")
	if err != nil {
		return nil, err
	}
	s := w.s
	add := func(key, is string) {
		if is != "" {
			m.Rows = append(m.Rows, LabelRow{w.Text("label." + key), words.Clip(is, 64)})
		}
	}
	add("in", w.Text("form."+s.Lot.Form, "n", p.Count)+lengthAfter(w, s))
	sent := w.Text("label.to-send")
	if !p.Sent.IsZero() {
		sent = w.Date(p.Sent)
		if b.Journal.Grower != "" {
			sent = w.Text("label.sent-by", "date", sent, "grower", b.Journal.Grower)
		}
	}
	add("sent", sent)
	if s.Grown != "" {
		add("grown", w.Text("offers.grown-"+s.Grown))
	}
	add("water", strings.Join(words.WaterLine(w.Locale, sheetWater(s.From.Water)), " · "))
	pests, _, _ := words.LotTreatment(w.Locale, s.Lot)
	add("seen", pests)
	if len(s.Notices) > 0 {
		add("law", w.Text("label.law-text"))
	}
	if s.Species.Sap {
		add("sap", w.Text("label.sap-text"))
	}
	return b.Theme.Render("label", m)
}

func lengthAfter(w sheetWriter, s sheet.Sheet) string {
	if !s.Lot.Length.Known() {
		return ""
	}
	return ", " + words.R(w.Locale, s.Lot.Length)
}

// Strip makes the strip of check days to stick to a tank.
func (b *Site) Strip(p *journal.Parcel) ([]byte, error) {
	m, w, err := b.labelPage(p, "strip", "label.strip-title")
	if err != nil {
		return nil, err
	}
	m.Days = w.days()
	return b.Theme.Render("strip", m)
}

// Card makes the card for a swap table.
func (b *Site) Card(p *journal.Parcel) ([]byte, error) {
	m, w, err := b.labelPage(p, "card", "label.card-title")
	if err != nil {
		return nil, err
	}
	s := w.s.Species
	water := strings.Join(words.NonEmpty(words.R(w.Locale, s.Temperature), pre("GH ", words.R(w.Locale, s.GH)), pre("KH ", words.R(w.Locale, s.KH))), " · ")
	for _, r := range []LabelRow{{"height", words.R(w.Locale, s.Height)}, {"water", water}, {"light", words.R(w.Locale, s.Light)}, {"co2", words.TextOf(w.Locale, "co2-need.", s.CO2)},
		{"place", words.TextOf(w.Locale, "need.", s.Placement)}, {"pace", words.TextOf(w.Locale, "growth.", s.Growth)}, {"came", strings.Join(words.NonEmpty(b.Journal.Grower, b.Journal.Title), ", ")}} {
		if r.Is != "" {
			m.Rows = append(m.Rows, LabelRow{w.Text("label.card-" + r.Term), r.Is})
		}
	}
	return b.Theme.Render("card", m)
}

// pre puts a name before a figure that is there.
func pre(name, figure string) string {
	if figure == "" {
		return ""
	}
	return name + figure
}
