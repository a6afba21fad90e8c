package papers

import (
	"html/template"
	"strings"

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
	Drawing   template.HTML // of the plant, as on its page
	Address   string
	Code      []string
	Days      []DayCard
}

// LabelRow is a short line of a label.
type LabelRow struct{ Term, Is string }

func (w Papers) labelPage(kind, title string) LabelPage {
	s, p := w.s, w.s.Parcel
	addr := w.labelAddr(kind)
	m := LabelPage{Frame: w.frame("paper-"+kind, addr, w.Text(title, "lot", p.Lot)), Back: w.kit.Href(addr, w.addr), Site: w.kit.Site, Lot: p.Lot,
		Name: words.Taxon(s.Species.Taxon), Common: w.parcel.Common, Address: w.shortAddress(), Code: grouped(p.Code), Drawing: w.kit.Sprig(s.Species.ID), QR: w.code()}
	if s.Lot.Identity != "" {
		m.Identity = w.Text("label.name-" + s.Lot.Identity)
	}
	return m
}

// labelAddr is where a paper of this plant lies: of the first plant of a parcel label/, of another label/LOT/.
func (w Papers) labelAddr(kind string) string {
	addr := w.addr + kind + "/"
	if kind == "label" && !w.s.Parcel.First() {
		addr += w.s.Parcel.Lot + "/"
	}
	return addr
}

// Label makes the bag label, 62 × 100 mm. It serves whoever has nothing else: name, doubt, water, what to do at once.
func (w Papers) Label() ([]byte, error) {
	m := w.labelPage("label", "label.title")
	s, p := w.s, w.s.Parcel
	add := func(key, is string) {
		if is != "" {
			m.Rows = append(m.Rows, LabelRow{w.Text("label." + key), words.Clip(is, 64)})
		}
	}
	add("in", w.Text("form."+s.Lot.Form, "n", p.Count)+lengthAfter(w, s))
	sent := w.Text("label.to-send")
	if !p.Sent.IsZero() {
		sent = w.Date(p.Sent)
		if w.kit.Grower != "" {
			sent = w.Text("label.sent-by", "date", sent, "grower", w.kit.Grower)
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
	return w.kit.Theme.Render("label", m)
}

func lengthAfter(w Papers, s sheet.Sheet) string {
	if !s.Lot.Length.Known() {
		return ""
	}
	return ", " + words.R(w.Locale, s.Lot.Length)
}

// Strip makes the strip of check days to stick to a tank.
func (w Papers) Strip() ([]byte, error) {
	m := w.labelPage("strip", "label.strip-title")
	m.Days = w.days()
	return w.kit.Theme.Render("strip", m)
}

// Card makes the card for a swap table.
func (w Papers) Card() ([]byte, error) {
	m := w.labelPage("card", "label.card-title")
	s := w.s.Species
	water := strings.Join(words.NonEmpty(words.R(w.Locale, s.Temperature), pre("GH\u00a0", words.R(w.Locale, s.GH)), pre("KH\u00a0", words.R(w.Locale, s.KH))), " · ")
	water = strings.ReplaceAll(water, "–", "\u2060–\u2060") // a range stays on one line
	for _, r := range []LabelRow{{"height", words.R(w.Locale, s.Height)}, {"water", water}, {"light", words.R(w.Locale, s.Light)}, {"co2", words.TextOf(w.Locale, "co2-need.", s.CO2)},
		{"place", words.TextOf(w.Locale, "need.", s.Placement)}, {"pace", words.TextOf(w.Locale, "growth.", s.Growth)}, {"came", strings.Join(words.NonEmpty(w.kit.Grower, w.kit.Site), ", ")}} {
		if r.Is != "" {
			m.Rows = append(m.Rows, LabelRow{w.Text("label.card-" + r.Term), r.Is})
		}
	}
	return w.kit.Theme.Render("card", m)
}

// pre puts a name before a figure that is there.
func pre(name, figure string) string {
	if figure == "" {
		return ""
	}
	return name + figure
}
