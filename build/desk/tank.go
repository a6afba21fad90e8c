package desk

import (
	"cmp"
	"slices"
	"strings"

	"slipleaf/build/compose"
	"slipleaf/build/journal"
	"slipleaf/build/page"
	"slipleaf/build/quantity"
	"slipleaf/build/words"
)

// tankPage is the form of one tank.
type tankPage struct {
	Head
	Tank, Name, Day string
	Looked          string // when it was last looked at
	Nonce           string
	Plants          []plantRow
	Readings, More  []readingRow
	Measures        []choice
	Typed           map[string]string // what was typed besides
	Faults          []string          // what is wrong with no field of its own
	FieldFaults     map[string]string
	Wrong           int
	PhotoKept       string // the photo that was taken in before; "" for none
}

// choice is an option of a list.
type choice struct {
	Value, Text string
	Chosen      bool
}

// plantRow is a plant of the tank to be looked at. Names of fields begin with its id.
type plantRow struct {
	ID, Name, Taxon      string
	Measure, Unit        string // the key of its measure; the unit of a figure, "" for a number of parts
	Noun                 string // the measure in words
	Last, LastDay        string // newest count, as a number
	Count                string // what the field holds
	Same, Gone           bool
	Stems                bool
	LengthUnit           string
	Length, LastLength   string
	Area                 string // as last time, with its unit
	Trim, TrimLength     string
	Offer                bool
	Lot, LotCount, Ready string
	Identity             []choice
	AsLast               string // what the lot says as the last one of this plant did
	Fault, TrimFault     string
}

// Open tells whether the part about cutting is to be seen at once.
func (p plantRow) Open() bool { return p.Trim != "" || p.Offer || p.TrimFault != "" }

// Looked tells whether the plant was looked at.
func (p plantRow) Looked() bool { return p.Same || p.Gone || p.Count != p.Last }

// readingRow is a parameter to be measured.
type readingRow struct{ Key, Name, Unit, Last, Value, Fault string }

// standing is what is known of a plant in a tank.
type standing struct {
	count journal.Count
	day   quantity.Date
	lot   *journal.Lot // the newest of it from any tank
}

// newest gives what the diary last said of each plant that is in a tank on a day.
func newest(j *journal.Journal, t *journal.Tank, on quantity.Date) map[string]standing {
	out := map[string]standing{}
	for _, s := range journal.Standing(t.Entries, on) {
		out[s.Plant] = standing{count: s.Count, day: s.On, lot: j.NewestLot(s.Plant, on)}
	}
	return out
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

// form is a tank's form as nobody has filled it in.
func form(b *page.Site, t *journal.Tank, on quantity.Date) tankPage {
	v := b.Locale()
	m := tankPage{Tank: t.ID, Name: t.Name, Day: v.DayMonth(on), Typed: map[string]string{}, FieldFaults: map[string]string{}}
	stand := newest(b.All.Journal, t, on)
	var last quantity.Date
	for id, s := range stand {
		m.Plants = append(m.Plants, rowOf(b, v, t, id, s, on))
		if s.day.After(last) {
			last = s.day
		}
	}
	slices.SortFunc(m.Plants, func(a, b plantRow) int { return cmp.Or(cmp.Compare(a.Name, b.Name), cmp.Compare(a.ID, b.ID)) })
	if !last.IsZero() {
		m.Looked = v.DayMonth(last)
	}
	m.Readings, m.More = readings(v, t, on)
	for _, key := range []string{"stems", "plantlets", "leaves"} {
		m.Measures = append(m.Measures, choice{Value: key, Text: v.Text("desk.measure-" + key)})
	}
	return m
}

func rowOf(b *page.Site, v words.Locale, t *journal.Tank, id string, s standing, on quantity.Date) plantRow {
	species := b.Species(id)
	a := compose.Of(&journal.Entry{Counts: []journal.Count{s.count}}).Counts[0].Amount
	key, figure, unit := measured(a)
	r := plantRow{ID: id, Name: words.PlantName(species), Taxon: species.Taxon, Measure: key, Unit: unit, Noun: v.Text("desk.measure-" + key), Last: figure, Count: figure,
		LastDay: v.DayMonth(s.day), Stems: key == "stems", Area: a.Area}
	if r.Name == "" {
		r.Name = id
	}
	if r.Name == r.Taxon {
		r.Taxon = ""
	}
	r.LengthUnit = lengthUnit(v)
	if r.Stems {
		r.LastLength, _, _ = strings.Cut(a.Length, " ")
		if a.Length != "" {
			_, r.LengthUnit, _ = strings.Cut(a.Length, " ")
		}
		r.Length = r.LastLength
	}
	r.Lot, r.Ready = b.All.Journal.FreeLot(id, on), on.String()
	identity := "certain"
	if s.lot != nil {
		identity = cmp.Or(s.lot.Identity, identity)
		r.AsLast = strings.Join(words.NonEmpty(s.lot.Form, cmp.Or(s.lot.Grown, t.Grown), s.lot.Pests), ", ")
	}
	for _, k := range []string{"certain", "likely", "unsure"} {
		r.Identity = append(r.Identity, choice{k, v.Text("desk.identity-" + k), k == identity})
	}
	return r
}

// lengthUnit is the unit of lengths where none was used before.
func lengthUnit(v words.Locale) string {
	if v.Units == quantity.US {
		return "in"
	}
	return "cm"
}

// readings lists the parameters: those to be seen at once, and the others.
func readings(v words.Locale, t *journal.Tank, on quantity.Date) (shown, more []readingRow) {
	water := t.WaterOn(on)
	keys, values := water.Texts()
	for _, key := range words.ParameterKeys {
		r := readingRow{Key: key, Name: v.Text("parameter." + key), Unit: compose.UnitOf(key, v.Units)}
		known := false
		if i := slices.Index(keys, key); i >= 0 && values[i] != "unknown" {
			known = true
			r.Last = values[i]
			if figure, unit, ok := strings.Cut(values[i], " "); ok {
				r.Last, r.Unit = figure, unit
			}
		}
		if known || slices.Contains(compose.Usual(), key) {
			shown = append(shown, r)
		} else {
			more = append(more, r)
		}
	}
	return shown, more
}
