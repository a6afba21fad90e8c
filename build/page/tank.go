package page

import (
	"html/template"
	"slices"
	"strings"

	"slipleaf/build/journal"
	"slipleaf/build/plot"
	"slipleaf/build/quantity"
	"slipleaf/build/theme"
	"slipleaf/build/words"
)

// TanksPage is the model of the list of tanks.
type TanksPage struct {
	theme.Frame
	Tanks []TankLine
}

// TankLine is a tank in the list.
type TankLine struct {
	Name, Href string
	Size       string // "118 × 44 × 29 cm"
	Life       string // since when, or from when to when
	Facts      []string
	Water      []string
	WaterDate  string
	Plants     []theme.PlantName
	Drawing    *DrawingPart // names its plants; nil: its measures are not known, it has ended, or there are many tanks
}

// tanksDrawn is how many tanks are drawn on their list at most, for the weight of the page (our choice).
const tanksDrawn = 6

// Tanks makes the list of tanks.
func (b *Site) Tanks() ([]byte, error) {
	v := b.Locale()
	m := TanksPage{Frame: b.frame("tanks", TanksAddr, v.Text("tanks.title")+" · "+b.Journal.Title, v.Text("tanks.description", "n", len(b.Journal.Tanks)))}
	drawn := 0
	for _, t := range b.Journal.Tanks {
		w := b.facts.WaterNow(t.ID)
		line := TankLine{Name: b.tankName(t.ID), Href: b.href(TanksAddr, TankAddr(t.ID)), Size: words.Size(v, t.Inside), Life: life(v, t), Facts: tankFacts(v, t), Water: waterLine(v, w), WaterDate: v.Date(w.Newest(lineKeys...))}
		for _, s := range b.standing(t) {
			line.Plants = append(line.Plants, b.plantLink(TanksAddr, s.Plant))
		}
		if drawn < tanksDrawn && t.Ended.IsZero() {
			if d, ok := b.drawing(TanksAddr, t); ok {
				line.Drawing = &d
				drawn++
			}
		}
		m.Tanks = append(m.Tanks, line)
	}
	return b.Theme.Render("tanks", m)
}

func life(v words.Locale, t *journal.Tank) string {
	switch {
	case t.Began.IsZero():
		return ""
	case t.Ended.IsZero():
		return v.Text("tank.since", "date", v.Date(t.Began))
	}
	return v.Text("tank.lived", "from", v.Date(t.Began), "to", v.Date(t.Ended))
}

// tankFacts says in a few words what kind of tank it is.
func tankFacts(v words.Locale, t *journal.Tank) []string {
	var out []string
	if t.Grown == "emersed" {
		out = append(out, v.Text("tank.emersed"))
	}
	switch t.CO2 {
	case journal.Yes:
		out = append(out, v.Text("tank.co2-yes"))
	case journal.No:
		out = append(out, v.Text("tank.co2-no"))
	}
	for _, l := range t.Livestock {
		out = append(out, v.Text("tank.livestock", "n", l.Count, "kind", l.Kind))
	}
	return out
}

// findStanding works out [Site.standing].
func (b *Site) findStanding(t *journal.Tank) []journal.Stand {
	left := func(s journal.Stand) bool { return !s.Planted && b.facts.Gone(t.ID, s.Plant) }
	return slices.DeleteFunc(b.facts.Standing(t.ID), left)
}

// StandingRow is a plant that is in a tank.
type StandingRow struct {
	Plant theme.PlantName
	What  string
	Area  string
	Date  string
}

// TankPage is the model of a tank.
type TankPage struct {
	theme.Frame
	Heading  string
	Life     string
	Facts    []string
	Fields   []theme.Field
	Water    []words.Measure
	WaterOn  string
	Body     template.HTML
	Charts   []plot.ChartBlock
	Standing []FloorRow
	AreaHelp string       // how much a dm² is; "" in other units
	Entries  []EntryLine  // the newest
	Folded   []FoldedYear // those before them, one disclosure away
	Older    []theme.Link // to the diary of each year that has older ones
	Views    []View
	Drawing  *DrawingPart // nil: its measures are not known
	Trims    *TrimsPart
	Holds    *ReckonedPart
	Means    *ReckonedPart // what the newest readings mean
	Taken    *ReckonedPart // what weighed trims took out
	Lit      *ReckonedPart
}

// Tank makes a tank's page.
func (b *Site) Tank(t *journal.Tank) ([]byte, error) {
	addr := TankAddr(t.ID)
	v := b.Locale()
	w := b.facts.WaterNow(t.ID)
	m := TankPage{
		Frame:   b.frame("tank", addr, b.tankName(t.ID)+" · "+b.Journal.Title, v.Text("tank.description", "tank", b.tankName(t.ID), "size", words.Size(v, t.Inside))),
		Heading: b.tankName(t.ID), Life: life(v, t), Facts: tankFacts(v, t), Fields: tankFields(v, t), Water: measures(v, w), WaterOn: v.Date(w.Newest()), Body: b.text(addr, t.Source).HTML,
	}
	m.Views = b.views(addr, t)
	m.Charts, m.Trims = b.plots().ParameterCharts(addr, t), b.trimsPart(v, addr, t)
	m.Standing, m.AreaHelp = b.floorRows(v, addr, t), words.AreaHelp(v)
	m.Holds, m.Lit = b.holds(v, t), b.lightPart(v, t)
	if t.Grown != "emersed" { // no water that plants or fish live in
		m.Means = waterSums(v, w)
	}
	m.Taken = b.takenOut(v, t)
	if d, ok := b.drawing(addr, t); ok {
		m.Drawing = &d
	}
	recent, years := recentEntries(b.facts.EntriesIn(t.ID))
	m.Older = b.diaryLinks(addr, 0, years)
	m.Entries, m.Folded = foldYears(v, b.entryLines(addr, recent))
	return b.Theme.Render("tank", m)
}

// tankLines is how many entries a tank's page lists: about half a year's. The diary lists them all.
const tankLines = 30

// recentEntries are a tank's newest entries, newest first, and the years of those that are older.
func recentEntries(diary []*journal.Entry) (recent []*journal.Entry, years []int) {
	for i, e := range slices.Backward(diary) {
		if len(diary)-i <= tankLines {
			recent = append(recent, e)
			continue
		}
		if n := len(years); n == 0 || years[n-1] != e.Date.Year {
			years = append(years, e.Date.Year)
		}
	}
	return recent, years
}

// FoldedYear is the entries of a year that a tank's page folds away.
type FoldedYear struct {
	Label   string
	Entries []EntryLine
}

// openEntries is how many entries of a tank are listed without a touch.
const openEntries = 6

// foldYears parts a list of entries, newest first: those that are open, and the others by year.
func foldYears(v words.Locale, lines []EntryLine) (open []EntryLine, folded []FoldedYear) {
	open = lines[:min(len(lines), openEntries)]
	for rest := lines[len(open):]; len(rest) > 0; {
		year := rest[0].ISODate[:4]
		n := len(rest)
		if other := slices.IndexFunc(rest, func(l EntryLine) bool { return l.ISODate[:4] != year }); other > 0 {
			n = other
		}
		folded = append(folded, FoldedYear{v.Text("tank-text.folded", "year", year, "n", n), rest[:n]})
		rest = rest[n:]
	}
	return open, folded
}

// addField adds what is known to a list of fields.
func addField(to []theme.Field, v words.Locale, key, text string) []theme.Field {
	if text == "" {
		return to
	}
	return append(to, theme.Field{Term: v.HTML(key), Is: words.Escape(text)})
}

// tankFields are the tank's measures as its file gives them.
func tankFields(v words.Locale, t *journal.Tank) []theme.Field {
	var out []theme.Field
	add := func(key, text string) { out = addField(out, v, key, text) }
	add("tank.inside", words.Size(v, t.Inside))
	add("tank.water-depth", words.R(v, t.WaterDepth))
	for _, l := range t.Substrate {
		add("tank.layer", v.Text("tank.layer-is", "material", l.Material, "depth", words.R(v, l.Depth), "food", nutrients(v, l.Nutrients)))
	}
	for _, l := range t.Light {
		add("tank.lamp", lamp(v, l))
	}
	if t.Flow.Rate.Known() {
		add("tank.flow", strings.Join(words.NonEmpty(words.R(v, t.Flow.Rate), t.Flow.Device), ", "))
	}
	return out
}

func nutrients(v words.Locale, n string) string {
	if n == "" {
		return ""
	}
	return v.Text("nutrients." + n)
}

// lamp writes a lamp as its owner described it.
func lamp(v words.Locale, l journal.Lamp) string {
	parts := words.NonEmpty(l.Name, words.R(v, l.Power), words.R(v, l.Efficacy), words.R(v, l.Output), l.Kind)
	if l.AboveWater.Known() {
		parts = append(parts, v.Text("tank.above-water", "gap", words.R(v, l.AboveWater)))
	}
	if l.Hours > 0 {
		parts = append(parts, v.Text("tank.hours", "n", v.N(l.Hours, 1)))
	}
	return strings.Join(parts, ", ")
}

// TankSize writes a tank's inner measures; "" when one is missing.
func (b *Site) TankSize(t *journal.Tank) string { return words.Size(b.Locale(), t.Inside) }

// LatestWater is a tank's newest readings in words, with the day of the newest of them.
func (b *Site) LatestWater(t *journal.Tank) ([]words.Measure, quantity.Date) {
	w := b.facts.WaterNow(t.ID)
	return measures(b.Locale(), w), w.Newest()
}

// measures puts a tank's newest readings into words; those that are older than the newest say their day.
func measures(v words.Locale, w journal.Water) []words.Measure {
	out := words.Measures(v, w.Parameters)
	for i := range out {
		if on := w.Days[out[i].Key]; !on.IsZero() && on != w.Newest() {
			out[i].On = v.DayMonth(on)
		}
	}
	return out
}

// lineKeys are the parameters of [words.WaterLine].
var lineKeys = []string{"temperature", "ph", "gh", "kh"}

// waterLine is [words.WaterLine] of a tank's newest readings; those that are older than the newest of them say their day.
func waterLine(v words.Locale, w journal.Water) (out []string) {
	newest := w.Newest(lineKeys...)
	for _, key := range lineKeys {
		line := words.WaterLine(v, w.Only(key))
		if on := w.Days[key]; len(line) > 0 && on != newest {
			line[0] += " (" + v.DayMonth(on) + ")"
		}
		out = append(out, line...)
	}
	return out
}
