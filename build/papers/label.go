package papers

import (
	"html/template"
	"slices"
	"strings"

	"slipleaf/build/sheet"
	"slipleaf/build/theme"
	"slipleaf/build/words"
)

// LabelPage is the model of what is printed for a bag: its label, and with the first plant of a parcel the strip of check days and
// the card for a swap table.
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
	Days      []DayCard     // of the strip; empty where nothing is planted
	For       template.HTML // the plants whose days they are
	Card      []LabelRow    // of the card; empty for the other plants of a parcel
}

// LabelRow is a short line of a label.
type LabelRow struct{ Term, Is string }

// Again is what another paper of the page shows: drawing and code are those of the label.
func (m LabelPage) Again() LabelPage {
	_, m.Drawing = shared(m.Drawing, "drawn")
	_, m.QR = shared(m.QR, "code")
	return m
}

// shared is a picture whose content has an id, and the same picture made of that content; what is not drawn is neither.
func shared(svg template.HTML, id string) (first, again template.HTML) {
	head, rest, ok := strings.Cut(string(svg), ">")
	if !ok {
		return svg, svg
	}
	return template.HTML(head + `><g id="` + id + `">` + strings.TrimSuffix(rest, "</svg>") + `</g></svg>`), template.HTML(head + `><use href="#` + id + `"/></svg>`)
}

// labelAddr is where the label of this plant lies: of the first plant of a parcel label/, of another label/LOT/.
func (w Papers) labelAddr() string {
	if w.s.Parcel.First() {
		return w.addr + "label/"
	}
	return w.addr + "label/" + w.s.Parcel.Lot + "/"
}

// Label makes the bag label, 62 × 100 mm, which serves whoever has nothing else: name, doubt, water, what to do at once. Below it
// are strip and card; what is printed is what the address picks.
func (w Papers) Label() ([]byte, error) {
	s, p, addr := w.s, w.s.Parcel, w.labelAddr()
	m := LabelPage{Frame: w.frame("paper-label", addr, w.Text("label.title", "lot", p.Lot)), Back: w.kit.Href(addr, w.addr), Site: w.kit.Site, Lot: p.Lot,
		Name: words.Taxon(s.Species.Taxon), Common: w.parcel.Common, Address: w.shortAddress(), Code: grouped(p.Code), Drawing: w.kit.Sprig(s.Species.ID), QR: w.code(), Rows: w.labelRows()}
	if s.Lot.Identity != "" {
		m.Identity = w.Text("label.name-" + s.Lot.Identity)
	}
	if p.First() {
		m.Days, m.Card = w.days(), w.cardRows()
		var names []string
		for _, one := range w.planted() {
			if name := string(words.Taxon(one.s.Species.Taxon)); !slices.Contains(names, name) {
				names = append(names, name)
			}
		}
		m.For = template.HTML(strings.Join(names, ", "))
		m.Drawing, _ = shared(m.Drawing, "drawn")
		m.QR, _ = shared(m.QR, "code")
	}
	return w.kit.Theme.Render("label", m)
}

func (w Papers) labelRows() []LabelRow {
	s, p := w.s, w.s.Parcel
	var out []LabelRow
	add := func(key, is string) {
		if is != "" {
			out = append(out, LabelRow{w.Text("label." + key), words.Clip(is, 64)})
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
	if key := w.poison(); key != "" {
		add("poison", w.Text("label.poison"+key))
	}
	return out
}

func lengthAfter(w Papers, s sheet.Sheet) string {
	if !s.Lot.Length.Known() {
		return ""
	}
	return ", " + words.R(w.Locale, s.Lot.Length)
}

func (w Papers) cardRows() []LabelRow {
	s := w.s.Species
	water := strings.Join(words.NonEmpty(words.R(w.Locale, s.Temperature), pre("GH\u00a0", words.R(w.Locale, s.GH)), pre("KH\u00a0", words.R(w.Locale, s.KH))), " · ")
	water = strings.ReplaceAll(water, "–", "\u2060–\u2060") // a range stays on one line
	var out []LabelRow
	for _, r := range []LabelRow{{"height", words.R(w.Locale, s.Height)}, {"water", water}, {"light", words.R(w.Locale, s.Light)}, {"co2", words.TextOf(w.Locale, "co2-need.", s.CO2)},
		{"place", words.TextOf(w.Locale, "need.", s.Placement)}, {"pace", words.TextOf(w.Locale, "growth.", s.Growth)}, {"came", strings.Join(words.NonEmpty(w.kit.Grower, w.kit.Site), ", ")}} {
		if r.Is != "" {
			out = append(out, LabelRow{w.Text("label.card-" + r.Term), r.Is})
		}
	}
	return out
}

// pre puts a name before a figure that is there.
func pre(name, figure string) string {
	if figure == "" {
		return ""
	}
	return name + figure
}
