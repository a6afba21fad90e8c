package page

import (
	"html/template"
	"slices"
	"strings"

	"slipleaf/build/journal"
	"slipleaf/build/theme"
	"slipleaf/build/words"
)

// EntryPage is the model of a diary entry.
type EntryPage struct {
	theme.Frame
	Heading  string
	Date     string
	ISODate  string
	Tank     theme.Link
	Body     template.HTML
	Measures []words.Measure
	Counted  []PlantRow
	AreaHelp string     // how much a dm² is; "" where no area was counted
	Done     []PlantRow // trims, plantings, losses, in the order of the format
	Water    []template.HTML
	Lots     []LotLine
	Photos   []Photo
	Earlier  *theme.Link
	Later    *theme.Link
}

// PlantRow is a plant and a sentence about it.
type PlantRow struct {
	Plant theme.PlantName
	What  template.HTML
}

// LotLine is a lot as an entry announces it.
type LotLine struct {
	ID, Href string
	Plant    theme.PlantName
	What     string
}

// Photo is a picture that has been made ready.
type Photo struct {
	Src, Srcset, Sizes, Alt string
	Width, Height           int
}

// Entry makes the page of a diary entry.
func (b *Site) Entry(e *journal.Entry) ([]byte, error) {
	addr := EntryAddr(e)
	v := b.Locale()
	doc := b.entryText(e)
	title := b.entryTitle(e)
	m := EntryPage{
		Frame:   b.frame("entry", addr, title+" · "+v.Date(e.Date)+" · "+b.Journal.Title, doc.Summary),
		Heading: title, Date: v.Date(e.Date), ISODate: e.Date.String(),
		Tank: theme.Link{Text: b.tankName(e.Tank), Href: b.href(addr, TankAddr(e.Tank))}, Body: doc.HTML, Measures: words.Measures(v, e.Parameters),
		Counted: b.counted(addr, v, e), Done: b.done(addr, v, e), Water: b.waterWork(v, e), Photos: b.photosOf(addr, e.Photos),
	}
	if slices.ContainsFunc(e.Counts, func(c journal.Count) bool { return c.Area.Known() }) {
		m.AreaHelp = words.AreaHelp(v)
	}
	for _, l := range e.Lots {
		m.Lots = append(m.Lots, LotLine{ID: l.ID, Href: b.href(addr, LotAddr(l.ID)), Plant: b.plantLink(addr, l.Plant), What: lotWhat(v, l)})
	}
	m.StructuredData = b.blogPosting(e, title, m.Description)
	m.Picture = b.photoPreview(m.Photos)
	m.Earlier, m.Later = b.neighbours(addr, e)
	return b.Theme.Render("entry", m)
}

// neighbours are the entries of the same tank before and after e.
func (b *Site) neighbours(from string, e *journal.Entry) (earlier, later *theme.Link) {
	link := func(e *journal.Entry) *theme.Link {
		if e == nil {
			return nil
		}
		return &theme.Link{Text: b.entryTitle(e), Href: b.href(from, EntryAddr(e))}
	}
	before, after := b.facts.Around(e)
	return link(before), link(after)
}

func (b *Site) entryTitle(e *journal.Entry) string {
	if e.Title != "" {
		return e.Title
	}
	return b.Locale().Text("entry.untitled", "tank", b.tankName(e.Tank))
}

func (b *Site) counted(from string, v words.Locale, e *journal.Entry) []PlantRow {
	var out []PlantRow
	for _, c := range e.Counts {
		what := words.Amount(v, c.Amount)
		if c.Area.Known() {
			what = append(what, v.Text("amount.on-area", "area", words.R(v, c.Area)))
		}
		if s := words.Place(v, c.Where); s != "" {
			what = append(what, s)
		}
		out = append(out, PlantRow{b.plantLink(from, c.Plant), words.Escape(strings.Join(what, ", "))})
	}
	return out
}

// origin is where plants came from, as a page says it: by a word of the list, or from one of the journal's own tanks. Words
// of the grower's own may name a person, and stay in the diary.
func (b *Site) origin(v words.Locale, from string) string {
	if key := "origin." + strings.ToLower(from); v.Has(key) {
		return v.Text(key)
	}
	for _, t := range b.Journal.Tanks {
		if strings.EqualFold(from, t.ID) || strings.EqualFold(from, t.Name) {
			return words.InText(v, b.tankName(t.ID))
		}
	}
	return ""
}

func (b *Site) done(from string, v words.Locale, e *journal.Entry) []PlantRow {
	var out []PlantRow
	add := func(plant, key string, pairs ...any) {
		out = append(out, PlantRow{b.plantLink(from, plant), v.HTML(key, pairs...)})
	}
	for _, p := range e.Plantings {
		what := strings.Join(words.Amount(v, p.Amount), ", ")
		if origin := b.origin(v, p.From); origin != "" {
			add(p.Plant, "done.planted-from", "what", what, "from", origin)
			continue
		}
		add(p.Plant, "done.planted", "what", what)
	}
	for _, t := range e.Trims {
		add(t.Plant, "done.trimmed", "what", strings.Join(words.Trimmed(v, t), ", "))
	}
	for _, l := range e.Losses {
		if l.Lot != "" {
			plant, what := b.lotLost(v, l)
			out = append(out, PlantRow{b.plantLink(from, plant), what})
			continue
		}
		what := strings.Join(words.Amount(v, l.Amount), ", ")
		if l.All != "" {
			what = v.Text("amount.all")
		}
		if l.Cause != "" {
			add(l.Plant, "done.lost-to", "what", what, "cause", l.Cause)
			continue
		}
		add(l.Plant, "done.lost", "what", what)
	}
	return out
}

// lotLost says what died of a lot's stock, and of which plant that is: "3 of HZ-0418 lost (melt)".
func (b *Site) lotLost(v words.Locale, l journal.Loss) (plant string, what template.HTML) {
	if lot, ok := b.facts.Lot(l.Lot); ok {
		plant = lot.Plant
	}
	var n any = l.Count
	if l.All != "" {
		n = v.Text("amount.all")
	}
	if l.Cause != "" {
		return plant, v.HTML("done.lot-lost-to", "n", n, "lot", l.Lot, "cause", l.Cause)
	}
	return plant, v.HTML("done.lot-lost", "n", n, "lot", l.Lot)
}

func (b *Site) waterWork(v words.Locale, e *journal.Entry) []template.HTML {
	var out []template.HTML
	if e.WaterChange.Share.Known() {
		key := "done.water-change"
		if e.WaterChange.With != "" {
			key = "done.water-change-with"
		}
		out = append(out, v.HTML(key, "share", words.R(v, e.WaterChange.Share), "with", e.WaterChange.With))
	}
	for _, d := range e.Doses {
		out = append(out, v.HTML("done.dosed", "mass", words.R(v, d.Mass), "salt", d.Salt))
	}
	return out
}

// lotWhat says what a lot is: "12 cuttings, ready 20 April 2026".
func lotWhat(v words.Locale, l journal.Lot) string {
	form := v.Text("form."+l.Form, "n", l.Count)
	switch {
	case l.Expected:
		return v.Text("lot.expected", "form", v.Text("form-name."+l.Form))
	case l.Ready.IsZero():
		return form
	}
	return v.Text("lot.ready-on", "what", form, "date", v.Date(l.Ready))
}

func (b *Site) photosOf(from string, ps []journal.Photo) []Photo {
	var out []Photo
	for _, p := range ps {
		if ready, ok := b.pictures(from).Photo(p.File); ok {
			out = append(out, Photo{ready.Src, ready.Srcset, ready.Sizes, p.Alt, ready.Width, ready.Height})
		}
	}
	return out
}

// EntryLine is an entry in a list.
type EntryLine struct {
	Title, Href, Date, ISODate, Tank, TankHref string
	Summary                                    string
	Water                                      []string
}

// entryLines lists entries for the page at from.
func (b *Site) entryLines(from string, es []*journal.Entry) []EntryLine {
	v := b.Locale()
	var out []EntryLine
	for _, e := range es {
		out = append(out, EntryLine{
			Title: b.entryTitle(e), Href: b.href(from, EntryAddr(e)), Date: v.Date(e.Date), ISODate: e.Date.String(),
			Tank: b.tankName(e.Tank), TankHref: b.href(from, TankAddr(e.Tank)), Summary: words.Clip(b.summary(e), 260), Water: words.WaterLine(v, e.Parameters),
		})
	}
	return out
}
