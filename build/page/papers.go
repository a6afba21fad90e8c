package page

import (
	"html/template"
	"slices"

	"slipleaf/build/draw"
	"slipleaf/build/feed"
	"slipleaf/build/journal"
	"slipleaf/build/papers"
	"slipleaf/build/quantity"
	"slipleaf/build/sheet"
	"slipleaf/build/theme"
	"slipleaf/build/words"
)

// findSheet works out the sheet of a parcel.
func (b *Site) findSheet(p *journal.Parcel) sheet.Sheet {
	b.facts.Parcel(p)
	lot, _ := b.facts.Lot(p.Lot)
	s := b.facts.Species(lot.Plant)
	c := sheet.Case{Parcel: p, Lot: lot, Species: s, Grown: b.facts.GrownAs(lot), From: b.giver(p, lot), Lists: b.Almanac.Retrieved(),
		Notices: b.Almanac.Notices(s.Taxon, p.Region), Others: b.facts.Others(lot.Plant, p)}
	c.Looked, c.OwnList = b.Almanac.Lists(p.Region)
	c.Coverage = b.Almanac.Coverage(p.Region)
	c.Borders = b.Almanac.Borders(b.Journal.Region, p.Region)
	if b.Journal.Quarantine.Known() {
		c.Quarantine = int(b.Journal.Quarantine.High())
	}
	return sheet.New(c)
}

// sendingDay is the day on which the plant left its giver, or will: sent, else promised, else the day of the site.
func (b *Site) sendingDay(p *journal.Parcel) quantity.Date {
	if d := p.Taken(); !d.IsZero() {
		return d
	}
	return b.facts.Day()
}

// giver is the tank of a lot on the sending day.
func (b *Site) giver(p *journal.Parcel, lot *journal.Lot) sheet.Giver {
	g := sheet.Giver{Tank: b.tankName(lot.Tank)}
	t, ok := b.Journal.Tank(lot.Tank)
	if !ok {
		return g
	}
	if lot.Grown == "culture" { // it has not seen the tank's water or light
		g.CO2 = journal.Yes
		return g
	}
	w := b.facts.WaterOn(t.ID, b.sendingDay(p))
	g.Water, g.On = w.Parameters, w.Newest("temperature", "ph", "gh", "kh", "conductivity", "light", "lux")
	g.CO2 = t.CO2
	if t.Grown == "emersed" || lot.Grown == "emersed" {
		g.CO2 = journal.Yes // leaves in the air have all the CO2 that they want
	}
	l := sheet.LightIn(t.Inside, t.WaterDepth, t.Substrate, t.Light, quantity.Reading[quantity.Share]{}, g.Water)
	g.Light, g.LightHours = l.At(sheet.Bottom), l.Hours
	if n, ok := b.facts.Pace(lot.Tank, lot.Plant); ok {
		g.Growth = sheet.Growth{Low: n.Rate.Low, Best: n.Rate.Value, High: n.Rate.High, N: n.Counts}
	}
	return g
}

// Papers are what goes with a parcel.
func (b *Site) Papers(p *journal.Parcel) papers.Papers {
	about := b.paperOf(p)
	var more []papers.Parcel
	for _, other := range p.Together {
		if other != p {
			more = append(more, b.paperOf(other))
		}
	}
	return papers.New(b.kit(p.Language), about, more...)
}

// paperOf is one plant of a parcel with all that its papers say of it.
func (b *Site) paperOf(p *journal.Parcel) papers.Parcel {
	s := b.sheetOf(p)
	t, _ := b.Journal.Tank(s.Lot.Tank)
	about := papers.Parcel{Sheet: s, Common: b.commonName(s.Species), Leaves: b.sendingDay(p)}
	if b.themeIn(p.Language) != b.Theme { // a name in the recipient's language, where the almanac has one
		about.Sheet.Species = s.Species.Spoken(p.Language)
		about.Common = words.Spoken(p.Language, about.Sheet.Species.CommonIn, b.Theme.Words.Lang, about.Sheet.Species.Common)
	}
	if t != nil {
		about.CO2 = t.CO2
	}
	return about
}

// themeIn is the theme in the language of a recipient; the site's own where it has no words in that, which was complained
// about when the journal was read.
func (b *Site) themeIn(lang string) *theme.Theme {
	if t, err := b.Theme.In(lang); err == nil {
		return t
	}
	return b.Theme
}

// kit is what the papers of all parcels are made with for recipients of one language.
func (b *Site) kit(lang string) papers.Kit {
	return papers.Kit{
		Theme: b.themeIn(lang), Own: b.Theme.Words.Lang, Units: b.Journal.Units, Grower: b.Journal.Grower, Site: b.Journal.Title, Region: b.Journal.Region,
		Frame: func(kind, addr, title string) theme.Frame { return b.frame(kind, addr, title, "") },
		Href:  b.href, Absolute: b.absolute, Code: b.code, Sprig: b.sprigOf,
		Drawn: func(key string, make func() draw.Care) draw.Care {
			return b.memo.drawings.of(b, key, func(*Site) draw.Care { return make() })
		},
		Text: func(addr string, src journal.Source) template.HTML { return b.text(addr, src).HTML },
		Report: func(lot, taxon, subject, body string) string {
			return feed.Report(b.Journal, lot, taxon, subject, body)
		},
	}
}

// code is a QR code, drawn once for all papers of a parcel.
func (b *Site) code(text, name string) template.HTML {
	return b.memo.codes.of(b, [2]string{text, name}, func(*Site) template.HTML { return papers.Code(text, name) })
}

// sheetOutputs lists the files of every sheet. None of them is in the navigation, the site map or a feed.
func (b *Site) sheetOutputs(add adder, wanted func(folder string) bool) {
	sheets := b.All.Sheets()
	if len(sheets) > 0 {
		add(SheetsAddr, func(*Site) ([]byte, error) { return []byte(noList), nil })
	}
	for _, p := range sheets {
		addr := SheetAddr(p.Code)
		if !wanted(addr) {
			continue
		}
		paper := func(name string, make func(papers.Papers) ([]byte, error)) {
			add(addr+name, func(b *Site) ([]byte, error) { return make(b.Papers(p)) })
		}
		paper("", papers.Papers.Sheet)
		paper("label/", papers.Papers.Label)
		for _, other := range p.Together {
			if other != p { // a bag for each plant
				paper("label/"+other.Lot+"/", func(w papers.Papers) ([]byte, error) { return w.Of(other.Lot).Label() })
			}
		}
		paper("sheet.json", papers.Papers.JSON)
		if b.dated(p) {
			paper("dates.ics", papers.Papers.Calendar)
		}
	}
}

// SheetsAddr is the folder of all sheets, where there is a blank page.
const SheetsAddr = "/sheets/"

// noList is the index of the folder of sheets: a server that lists folders without one would give every sheet away.
const noList = `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; form-action 'none'; base-uri 'none'">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="robots" content="noindex, nofollow, noarchive">
<meta name="referrer" content="no-referrer">
<title>–</title>
</head>
<body></body>
</html>
`

// dated reports whether the check days of a parcel have dates: it was sent, or its arrival was reported.
func (b *Site) dated(p *journal.Parcel) bool {
	arrived := slices.ContainsFunc(p.Reports, func(r journal.Report) bool { return r.Outcome == "arrived" && r.Date != quantity.Date{} })
	return arrived || !p.Sent.IsZero()
}
