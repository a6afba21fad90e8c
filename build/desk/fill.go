package desk

import (
	"cmp"
	"html/template"
	"net/url"
	"strings"

	"slipleaf/build/compose"
	"slipleaf/build/journal"
	"slipleaf/build/page"
	"slipleaf/build/words"
)

// fill puts what was typed into a form, so that nothing is lost where it cannot be saved.
func (m *tankPage) fill(f url.Values) {
	for i := range m.Plants {
		p := &m.Plants[i]
		at := func(key string) string { return strings.TrimSpace(f.Get(p.ID + "." + key)) }
		if f.Has(p.ID + ".last") { // the count that was seen when the form was made
			p.Last = at("last")
		}
		p.Count, p.Same, p.Gone = at("count"), f.Has(p.ID+".same"), f.Has(p.ID+".gone")
		p.Length, p.Trim, p.TrimLength = at("length"), at("trim"), at("trim-length")
		p.Offer, p.LotCount = f.Has(p.ID+".offer"), at("lot-count")
		if f.Has(p.ID + ".lot") {
			p.NewLot, p.Ready = at("lot"), at("ready")
		}
		for k := range p.Identity {
			p.Identity[k].Chosen = p.Identity[k].Value == at("identity")
		}
	}
	for _, rows := range [][]readingRow{m.Readings, m.More} {
		for i := range rows {
			rows[i].Value = strings.TrimSpace(f.Get("p." + rows[i].Key))
		}
	}
	for _, key := range []string{"add", "add-count", "add-measure", "share", "alt", "words"} {
		m.Typed[key] = f.Get(key)
	}
	for i := range m.Measures {
		m.Measures[i].Chosen = m.Measures[i].Value == f.Get("add-measure")
	}
	m.Nonce = f.Get("nonce")
}

// entry is what a filled form says. What no entry can say is put beside its field.
func (m *tankPage) entry(b *page.Site, t *journal.Tank) compose.Entry {
	v := b.Locale()
	e := compose.Entry{Title: t.Name + ", " + v.WeekdayDate(m.On), Words: m.Typed["words"]}
	for _, rows := range [][]readingRow{m.Readings, m.More} {
		for _, r := range rows {
			if r.Value != "" {
				e.Parameters = append(e.Parameters, compose.Reading{Key: r.Key, Value: compose.WithUnit(r.Value, r.Unit)})
			}
		}
	}
	e.Parameters = compose.InOrder(e.Parameters)
	for i := range m.Plants {
		p := &m.Plants[i]
		if c, ok := p.counted(); ok {
			e.Counts = append(e.Counts, c)
		}
		if p.Trim != "" {
			e.Trims = append(e.Trims, p.trimmed())
		}
		if p.Offer {
			e.Lots = append(e.Lots, p.offered())
		}
	}
	if name := strings.TrimSpace(m.Typed["add"]); name != "" {
		meant := b.All.Journal.Meant(b.Almanac, name)
		switch {
		case len(meant.Asks) > 0:
			m.fault("add", v.Text("desk.which-plant", "name", name, "plants", strings.Join(meant.Apart(v.Lang), "; ")))
		case meant.ID == "":
			m.fault("add", v.Text("desk.unknown-plant", "name", name))
		default:
			p := compose.Planting{Plant: meant.ID}
			p.Set(cmp.Or(m.Typed["add-measure"], "stems"), compose.Number(m.Typed["add-count"]))
			e.Plantings = append(e.Plantings, p)
		}
	}
	if s := m.Typed["share"]; strings.TrimSpace(s) != "" {
		e.WaterChange = compose.Change{Share: compose.WithUnit(s, "%"), With: "tap"}
	}
	return e
}

// counted is a plant's count; ok is false where nobody looked.
func (p *plantRow) counted() (c compose.Count, ok bool) {
	switch {
	case p.Gone:
		c.Set(p.Measure, compose.WithUnit("0", p.Unit))
	case p.Looked() || p.Length != p.FormPlant.Length:
		c.Set(p.Measure, compose.WithUnit(p.Count, p.Unit))
		if p.Stems {
			c.Length = compose.WithUnit(p.Length, p.LengthUnit)
		}
		c.Area = p.Area
	default:
		return c, false
	}
	c.Plant = p.ID
	return c, true
}

// trimmed is what was cut: pieces of stems, or an amount in the plant's own measure.
func (p *plantRow) trimmed() compose.Trim {
	t := compose.Trim{Plant: p.ID}
	switch {
	case p.Stems:
		t.Cuttings, t.Length = compose.Number(p.Trim), compose.WithUnit(p.TrimLength, p.LengthUnit)
	case p.Unit != "":
		t.Removed = compose.WithUnit(p.Trim, p.Unit)
	default:
		t.Removed = compose.WithUnit(p.Trim, p.Measure)
	}
	return t
}

// offered is a lot of what was cut, which says besides what the last lot of the plant said.
func (p *plantRow) offered() compose.Lot {
	l := p.Lot
	l.Length = ""
	l.Lot, l.Plant, l.Count, l.Ready = p.NewLot, p.ID, compose.Number(p.LotCount), p.Ready
	if l.Count == "" && p.Stems {
		l.Count = compose.Number(p.Trim)
	}
	if p.Stems {
		l.Length = compose.WithUnit(p.TrimLength, p.LengthUnit)
	}
	l.Identity = ""
	for _, k := range p.Identity {
		if k.Chosen {
			l.Identity = k.Value
		}
	}
	return l
}

func (m *tankPage) fault(field, text string) { m.mark(field, words.Escape(text)) }

func (m *tankPage) mark(field string, text template.HTML) {
	m.Wrong++
	if field == "" {
		m.Faults = append(m.Faults, text)
		return
	}
	if m.FieldFaults[field] == "" {
		m.FieldFaults[field] = text
	}
}
