// Package tankform fills the form of a tank: its plants and readings, each with what the diary last said.
package tankform

import (
	"cmp"
	"slices"
	"strings"

	"slipleaf/build/almanac"
	"slipleaf/build/compose"
	"slipleaf/build/journal"
	"slipleaf/build/quantity"
	"slipleaf/build/words"
)

// FormPlant is a plant of a tank's form, with what the diary last said of it.
type FormPlant struct {
	ID         string      `json:"id"`
	Name       string      `json:"name"`
	Taxon      string      `json:"taxon,omitempty"` // where the name is another
	Measure    string      `json:"measure"`         // stems, plantlets, leaves, cover or mass
	Unit       string      `json:"unit,omitempty"`  // of a figure; "" for a number of parts
	Noun       string      `json:"noun"`            // the measure in words
	Last       string      `json:"last"`            // the figure
	Day        string      `json:"day"`             // of it, in words
	Stems      bool        `json:"stems,omitempty"`
	LengthUnit string      `json:"lengthUnit"`
	Length     string      `json:"length"`
	Area       string      `json:"area,omitempty"` // with its unit
	Lot        compose.Lot `json:"lot"`            // what a lot of it says without being asked: what the last one said

	On quantity.Date `json:"-"` // of the figure
}

// FormReading is a parameter of a tank's form, with its last value.
type FormReading struct {
	Key   string `json:"key"`
	Name  string `json:"name"`
	Unit  string `json:"unit,omitempty"`
	Sign  string `json:"sign,omitempty"` // the unit as pages print it
	Last  string `json:"last,omitempty"`
	Usual bool   `json:"usual,omitempty"` // shown at once
}

// Plants are the plants of a tank with these entries that are to be looked at on a day, by name.
func Plants(v words.Locale, species func(id string) almanac.Species, j *journal.Journal, t *journal.Tank, entries []*journal.Entry, on quantity.Date) []FormPlant {
	out := []FormPlant{}
	for _, s := range journal.Standing(entries, on) {
		out = append(out, plant(v, species(s.Plant), j.NewestLot(s.Plant, on), t, s))
	}
	slices.SortFunc(out, func(a, b FormPlant) int { return cmp.Or(cmp.Compare(a.Name, b.Name), cmp.Compare(a.ID, b.ID)) })
	return out
}

func plant(v words.Locale, species almanac.Species, last *journal.Lot, t *journal.Tank, s journal.Stand) FormPlant {
	a := compose.Of(&journal.Entry{Counts: []journal.Count{s.Count}}).Counts[0].Amount
	key, figure, unit := measured(a)
	p := FormPlant{ID: s.Plant, Name: words.Capital(cmp.Or(words.PlantName(species), s.Plant)), Taxon: species.Taxon, Measure: key, Unit: unit, Noun: v.Text("desk.measure-" + key), Last: figure,
		Day: v.DayMonth(s.On), On: s.On, Stems: key == "stems", LengthUnit: "cm", Area: a.Area, Lot: compose.LotLike(last, t.Grown, key)}
	if v.Units == quantity.US {
		p.LengthUnit = "in"
	}
	if strings.EqualFold(p.Name, p.Taxon) {
		p.Taxon = ""
	}
	if p.Stems && a.Length != "" {
		p.Length, p.LengthUnit, _ = strings.Cut(a.Length, " ")
	}
	return p
}

// measured is a count in its first measure: the key, the figure and its unit.
func measured(c compose.Amount) (key, figure, unit string) {
	for _, m := range []struct{ key, value string }{{"mass", c.Mass}, {"plantlets", c.Plantlets}, {"leaves", c.Leaves}, {"cover", c.Cover}, {"stems", c.Stems}} {
		if m.value != "" {
			figure, unit, _ = strings.Cut(m.value, " ")
			return m.key, figure, unit
		}
	}
	return "stems", "", ""
}

// Readings are all parameters in the order of the format. Those that were measured here keep the unit of then.
func Readings(v words.Locale, water journal.Water) []FormReading {
	keys, values := water.Texts()
	out := []FormReading{}
	for _, key := range compose.AllReadings() {
		r := FormReading{Key: key, Name: v.Text("parameter." + key), Unit: compose.UnitOf(key, v.Units), Usual: slices.Contains(compose.Usual(), key)}
		if i := slices.Index(keys, key); i >= 0 && values[i] != "unknown" {
			r.Last, r.Usual = values[i], true
			if figure, unit, ok := strings.Cut(values[i], " "); ok {
				r.Last, r.Unit = figure, unit
			}
		}
		r.Sign = quantity.Sign(r.Unit)
		out = append(out, r)
	}
	return out
}
