package page

import (
	"slices"
	"strings"

	"slipleaf/build/almanac"
	"slipleaf/build/block"
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
	CO2    []FilterOption
	Send   string // link; "" without a claims address
	Data   SuitData
	Rows   []SuitRow
}

// SuitField is a thing to type.
type SuitField struct {
	ID, Name, Kind, Label, Example string
	More                           bool // it goes to the grower and into no verdict
}

// SuitRow is a plant of the table that stands there without a script.
type SuitRow struct {
	Plant                      theme.PlantName
	Temperature, GH, KH, Light string
	CO2                        string
	Lots                       []theme.Link
}

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
	Taxon       string      `json:"taxon"`
	Common      string      `json:"common,omitempty"`
	Href        string      `json:"href"`
	Lots        string      `json:"lots,omitempty"` // what of it is ready
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

// suitFields are the things that can be told, by the keys of the block where it has them.
var suitFields = []SuitField{
	{Name: "temperature", Kind: "temperature", Example: "24 C"}, {Name: "gh", Kind: "gh", Example: "8 dGH"}, {Name: "kh", Kind: "kh", Example: "5 dKH"}, {Name: "ph", Kind: "ph", Example: "7.2"},
	{Name: "light", Kind: "light", Example: "3000 lux"}, {Name: "conductivity", Kind: "conductivity", Example: "300 uS/cm"},
	{Name: "tank-length", Kind: "length", Example: "60 cm", More: true}, {Name: "tank-width", Kind: "length", Example: "30 cm", More: true}, {Name: "tank-height", Kind: "length", Example: "36 cm", More: true},
	{Name: "water-depth", Kind: "length", Example: "28 cm", More: true}, {Name: "lamp-output", Kind: "output", Example: "1500 lm", More: true}, {Name: "lamp-above-water", Kind: "length", Example: "6 cm", More: true},
	{Name: "light-hours", Example: "8", More: true}, {Name: "substrate", Example: "plain gravel", More: true}, {Name: "livestock", Example: "20 small tetras", More: true}, {Name: "region", Example: "GB, US-OH", More: true},
}

// Suit makes the page.
func (b *Site) Suit() ([]byte, error) {
	v := b.Locale()
	m := SuitPage{Frame: b.frame("suit", SuitAddr, v.Text("suit.title")+" · "+b.Journal.Title, v.Text("suit.description")), Lead: v.Text("suit.lead")}
	for _, f := range suitFields {
		f.ID, f.Label = "s-"+f.Name, v.Text("suit.f-"+f.Name)
		m.Fields = append(m.Fields, f)
	}
	m.CO2 = []FilterOption{{"", v.Text("suit.co2-unsaid")}, {"yes", v.Text("suit.co2-yes")}, {"no", v.Text("suit.co2-no")}}
	m.Data = b.suitData(v)
	if m.Data.Mail != "" {
		m.Send = m.Data.Mail
	} else if strings.HasPrefix(b.Journal.Requests, "http") {
		m.Send = strings.NewReplacer("{lot}", "", "{plant}", "").Replace(b.Journal.Requests)
	}
	for _, id := range b.suitPlants() {
		m.Rows = append(m.Rows, b.suitRow(v, id))
	}
	return b.Theme.Render("suit", m)
}

// suitPlants are the plants that are kept and may be given, those on offer first.
func (b *Site) suitPlants() []string {
	var offered, kept []string
	for _, id := range b.PlantIDs() {
		switch {
		case b.withheld(id):
		case len(b.readyLots(id)) > 0:
			offered = append(offered, id)
		default:
			kept = append(kept, id)
		}
	}
	return append(offered, kept...)
}

func (b *Site) readyLots(plant string) []*ledger.Lot {
	return slices.DeleteFunc(b.facts.LotsOf(plant), func(l *ledger.Lot) bool { return l.State != ledger.Ready || l.Withheld })
}

func (b *Site) suitRow(v words.Locale, id string) SuitRow {
	s := b.facts.Species(id)
	r := SuitRow{Plant: b.plantLink(SuitAddr, id), Temperature: words.R(v, s.Temperature), GH: words.R(v, s.GH), KH: words.R(v, s.KH), Light: words.R(v, s.Light), CO2: words.TextOf(v, "co2-need.", s.CO2)}
	for _, l := range b.readyLots(id) {
		r.Lots = append(r.Lots, theme.Link{Text: l.ID, Href: b.href(SuitAddr, LotAddr(l.ID))})
	}
	return r
}

// suitData lays out all that the script needs.
func (b *Site) suitData(v words.Locale) SuitData {
	lines := strings.Split(strings.TrimSpace(block.Block{}.String()), "\n")
	d := SuitData{Words: map[string]string{}, Begin: lines[0], End: lines[len(lines)-1], Plants: []SuitPlant{}}
	for _, k := range v.Keys() {
		if name, ok := strings.CutPrefix(k, "suit-said."); ok {
			d.Words[name] = v.Raw(k)
		}
	}
	for _, id := range b.suitPlants() {
		d.Plants = append(d.Plants, b.suitPlant(id))
	}
	if to := b.mail(); to != "" {
		d.Mail = "mailto:" + to + "?subject=" + feed.Escaped(v.Text("suit.mail-subject"))
	}
	return d
}

// suitPlant is a plant for the script, with the water that its ready lot, or else itself, stands in.
func (b *Site) suitPlant(id string) SuitPlant {
	p := SuitPlantOf(b.facts.Species(id))
	p.Href = b.href(SuitAddr, PlantAddr(id))
	var lots []string
	tank := ""
	for _, l := range b.readyLots(id) {
		lots = append(lots, l.ID)
		tank = l.Tank
	}
	p.Lots = strings.Join(lots, ", ")
	if t, ok := b.Journal.Tank(tank); ok && t.Grown != "emersed" {
		w := b.facts.WaterOn(t.ID, b.On).Parameters
		p.From = SuitWaterOf(w, t.CO2)
	} else if ok {
		p.From.CO2 = "yes" // leaves in the air have all the CO2 that they want
	}
	return p
}

// SuitPlantOf lays a species out for the script.
func SuitPlantOf(s almanac.Species) SuitPlant {
	p := SuitPlant{ID: s.ID, Taxon: s.Taxon, Common: s.Common, CO2: s.CO2, Melts: 1, Bicarbonate: s.Carbon.Bicarbonate(), Salt: sheet.SaltMost(s), Temperature: ends(s.Temperature, "C"), PH: ends(s.PH, ""), GH: ends(s.GH, "dGH"), KH: ends(s.KH, "dKH"), Light: ends(s.Light, "umol/m2/s")}
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
	return &[2]float64{number(r.Low(), unit), number(r.High(), unit)}
}

func middle[T quantity.Scalar](r quantity.Reading[T], unit string) *float64 {
	if !r.Known() {
		return nil
	}
	n := number(r.Mid(), unit)
	return &n
}

func number[T quantity.Scalar](v T, unit string) float64 {
	if unit == "" {
		return float64(v)
	}
	n, _ := quantity.In(v, unit)
	return n
}
