// Package suit fills the page on which somebody types a tank and sees which plants would live in it: a table that needs no
// script, and the bands by which the script judges as care sheets do.
package suit

import (
	"html/template"
	"slices"
	"strings"

	"slipleaf/build/almanac"
	"slipleaf/build/block"
	"slipleaf/build/draw"
	"slipleaf/build/facts"
	"slipleaf/build/feed"
	"slipleaf/build/journal"
	"slipleaf/build/ledger"
	"slipleaf/build/quantity"
	"slipleaf/build/sheet"
	"slipleaf/build/theme"
	"slipleaf/build/words"
)

// SuitPage is the model of "would it suit my tank?".
type SuitPage struct {
	theme.Frame
	Lead   string
	Fields []SuitField
	CO2    []Option
	Marks  []Mark // of the kinds of answers
	Send   string // link; "" without a claims address
	Data   SuitData
	Rows   []SuitRow
}

// Option is one answer to a question.
type Option struct{ Value, Text string }

// Mark is the sign of a kind of answer, which the script sets before its heading.
type Mark struct {
	Answer string // good-match, one-change, poor-match or cannot-say
	Voice  string // class: good, warn or soft
	SVG    template.HTML
}

// SuitField is a thing to type.
type SuitField struct {
	ID, Name, Kind, Label, Example string
	More                           bool // it goes to the grower and into no verdict
}

// SuitRow is a plant of the table that is there without a script.
type SuitRow struct {
	ID                         string
	Plant                      theme.PlantName
	Sprig                      template.HTML
	Temperature, GH, KH, Light string
	CO2                        string
	Lots                       []SuitLot
}

// SuitLot is a lot that is ready, with the link by which it is asked for.
type SuitLot struct{ ID, Href, Ask string }

// SuitData is what the script reads.
type SuitData struct {
	Plants []SuitPlant       `json:"plants"`
	Words  map[string]string `json:"words"`
	Begin  string            `json:"begin"` // the lines around the block that goes to the grower
	End    string            `json:"end"`
	Mail   string            `json:"mail,omitempty"` // mailto with a subject; its body is the block
}

// SuitPlant is a plant as the script's rules take it: bands in °C, pH, dGH, dKH and µmol/m²/s.
type SuitPlant struct {
	ID          string      `json:"id"`
	Offered     bool        `json:"offered,omitempty"`
	Temperature *[2]float64 `json:"temperature,omitempty"`
	PH          *[2]float64 `json:"ph,omitempty"`
	GH          *[2]float64 `json:"gh,omitempty"`
	KH          *[2]float64 `json:"kh,omitempty"`
	Light       *[2]float64 `json:"light,omitempty"`
	CO2         string      `json:"co2,omitempty"`
	Melts       int         `json:"melts"`
	Bicarbonate bool        `json:"bicarbonate,omitempty"` // it can live on it
	Salt        float64     `json:"salt,omitempty"`        // that it tolerates, µS/cm
	From        SuitWater   `json:"from"`
}

// SuitWater is the water that it grows in now.
type SuitWater struct {
	Temperature *float64 `json:"temperature,omitempty"`
	GH          *float64 `json:"gh,omitempty"`
	KH          *float64 `json:"kh,omitempty"`
	CO2         string   `json:"co2,omitempty"` // yes | no
}

// suitFields are the things that can be known, by the keys of the block where it has them.
var suitFields = []SuitField{
	{Name: "temperature", Kind: "temperature", Example: "24 C"}, {Name: "gh", Kind: "gh", Example: "8 dGH"}, {Name: "kh", Kind: "kh", Example: "5 dKH"}, {Name: "ph", Kind: "ph", Example: "7.2"},
	{Name: "light", Kind: "light", Example: "3000 lux"}, {Name: "conductivity", Kind: "conductivity", Example: "300 uS/cm"},
	{Name: "tank-length", Kind: "length", Example: "60 cm", More: true}, {Name: "tank-width", Kind: "length", Example: "30 cm", More: true}, {Name: "tank-height", Kind: "length", Example: "36 cm", More: true},
	{Name: "water-depth", Kind: "length", Example: "28 cm", More: true}, {Name: "lamp-output", Kind: "output", Example: "1500 lm", More: true}, {Name: "lamp-above-water", Kind: "length", Example: "6 cm", More: true},
	{Name: "light-hours", Example: "8", More: true}, {Name: "substrate", Example: "plain gravel", More: true}, {Name: "livestock", Example: "20 small tetras", More: true}, {Name: "region", Example: "GB, US-OH", More: true},
}

// Kit is what the page is filled with.
type Kit struct {
	words.Locale
	Facts     *facts.Reader
	Journal   *journal.Journal // the outline
	On        quantity.Date
	PlantLink func(id string) theme.PlantName
	LotHref   func(id string) string
	AskHref   func(l *ledger.Lot) string
	Sprig     func(id string) template.HTML
	Withheld  func(id string) bool
	Mail      string // the address to write to; "" for none
}

// Page fills the page.
func (k Kit) Page(frame theme.Frame) SuitPage {
	m := SuitPage{Frame: frame, Lead: k.Text("suit.lead"), Data: k.data(),
		CO2:   []Option{{"", k.Text("suit.co2-unsaid")}, {"yes", k.Text("suit.co2-yes")}, {"no", k.Text("suit.co2-no")}},
		Marks: []Mark{{"good-match", "good", draw.In.SVG()}, {"one-change", "wait", draw.Near.SVG()}, {"poor-match", "warn", draw.Out.SVG()}, {"cannot-say", "soft", draw.Unknown.SVG()}}}
	for _, f := range suitFields {
		f.ID, f.Label = "s-"+f.Name, k.Text("suit.f-"+f.Name)
		m.Fields = append(m.Fields, f)
	}
	if m.Data.Mail != "" {
		m.Send = m.Data.Mail
	} else if strings.HasPrefix(k.Journal.Requests, "http") {
		m.Send = strings.NewReplacer("{lot}", "", "{plant}", "").Replace(k.Journal.Requests)
	}
	for _, id := range k.plants() {
		m.Rows = append(m.Rows, k.row(id))
	}
	return m
}

// plants are those that are kept and may be given, those on offer first.
func (k Kit) plants() []string {
	var offered, kept []string
	for _, id := range k.Facts.PlantIDs() {
		switch {
		case k.Withheld(id):
		case len(Ready(k.Facts, id)) > 0:
			offered = append(offered, id)
		default:
			kept = append(kept, id)
		}
	}
	return append(offered, kept...)
}

// Ready are the lots of a plant that can be asked for today.
func Ready(r *facts.Reader, plant string) []*ledger.Lot {
	return slices.DeleteFunc(r.LotsOf(plant), func(l *ledger.Lot) bool { return l.State != ledger.Ready || l.Withheld })
}

func (k Kit) row(id string) SuitRow {
	s, v := k.Facts.Species(id), k.Locale
	r := SuitRow{ID: id, Plant: k.PlantLink(id), Sprig: k.Sprig(id), Temperature: words.R(v, s.Temperature), GH: words.R(v, s.GH), KH: words.R(v, s.KH), Light: words.R(v, s.Light), CO2: words.TextOf(v, "co2-need.", s.CO2)}
	for _, l := range Ready(k.Facts, id) {
		r.Lots = append(r.Lots, SuitLot{l.ID, k.LotHref(l.ID), k.AskHref(l)})
	}
	return r
}

// data lays out all that the script needs.
func (k Kit) data() SuitData {
	lines := strings.Split(strings.TrimSpace(block.Block{}.String()), "\n")
	d := SuitData{Words: map[string]string{}, Begin: lines[0], End: lines[len(lines)-1], Plants: []SuitPlant{}}
	for _, key := range k.Keys() {
		if name, ok := strings.CutPrefix(key, "suit-said."); ok {
			d.Words[name] = k.Raw(key)
		}
	}
	for _, id := range k.plants() {
		d.Plants = append(d.Plants, k.plant(id))
	}
	if k.Mail != "" {
		d.Mail = "mailto:" + k.Mail + "?subject=" + feed.Escaped(k.Text("suit.mail-subject"))
	}
	return d
}

// plant is one for the script, with the water that its ready lot is in.
func (k Kit) plant(id string) SuitPlant {
	p := SuitPlantOf(k.Facts.Species(id))
	tank := ""
	for _, l := range Ready(k.Facts, id) {
		p.Offered, tank = true, l.Tank
	}
	if t, ok := k.Journal.Tank(tank); ok && t.Grown != "emersed" {
		p.From = SuitWaterOf(k.Facts.WaterNow(t.ID).Parameters, t.CO2)
	} else if ok {
		p.From.CO2 = "yes" // leaves in the air have all the CO2 that they want
	}
	return p
}

// SuitPlantOf lays a species out for the script.
func SuitPlantOf(s almanac.Species) SuitPlant {
	p := SuitPlant{ID: s.ID, CO2: s.CO2, Melts: 1, Bicarbonate: s.Bicarbonate, Salt: sheet.SaltMost(s), Temperature: ends(s.Temperature, "C"), PH: ends(s.PH, ""), GH: ends(s.GH, "dGH"), KH: ends(s.KH, "dKH"), Light: ends(s.Light, "umol/m2/s")}
	if s.Melts != nil {
		p.Melts = *s.Melts
	}
	return p
}

// SuitWaterOf lays a giver's water out for the script.
func SuitWaterOf(w journal.Parameters, co2 journal.Tristate) SuitWater {
	return SuitWater{middle(w.Temperature, "C"), middle(w.GH, "dGH"), middle(w.KH, "dKH"), [...]string{"", "no", "yes"}[co2]}
}

func ends[T quantity.Scalar](r quantity.Reading[T], unit string) *[2]float64 {
	if !r.Known() || r.Below() {
		return nil
	}
	return &[2]float64{sheet.In(r.Low(), unit), sheet.In(r.High(), unit)}
}

func middle[T quantity.Scalar](r quantity.Reading[T], unit string) *float64 {
	if !r.Known() {
		return nil
	}
	return new(sheet.In(r.Mid(), unit))
}
