package page

import (
	"html/template"
	"slices"
	"strings"

	"slipleaf/build/almanac"
	"slipleaf/build/draw"
	"slipleaf/build/facts"
	"slipleaf/build/plot"
	"slipleaf/build/quantity"
	"slipleaf/build/sharing"
	"slipleaf/build/theme"
	"slipleaf/build/words"
)

// ProfileRow is a line of a plant's profile with where it comes from.
type ProfileRow struct {
	Term  template.HTML
	Value template.HTML
	Basis string // common practice, seen, …: in words

	key string // the column
}

// PlantPage is the model of a plant.
type PlantPage struct {
	theme.Frame
	First     template.HTML // the common name, where the page's language has one
	Second    template.HTML // the scientific name beside it
	Fields    []theme.Field
	Needs     []string
	Plate     PlatePart
	Since     string // since when it grows here
	Ready     []ReadyLine
	ReadyMark template.HTML
	More      string // when it is cut next
	Lives     NeedsPart
	Growth    []plot.GrowthPart
	Law       LawPart
	Care      []ProfileRow
	Notes     []NoteRow
	Sources   []Cited
	Growers   template.HTML // the grower's own words
	Photos    []Photo
	Standing  []StandingRow
	Grower    string
	Elsewhere *sharing.ElsewherePart // nil: never sent
}

// NoteRow is a remark of the almanac under a heading.
type NoteRow struct {
	Head  template.HTML
	Text  template.HTML
	Basis string
}

// Cited is a source, with its address where there is one.
type Cited struct {
	Text    template.HTML
	Address string
}

// Asked is what was looked at of the law of a place, and the address of who is asked there.
type Asked struct {
	Cited
	Place template.HTML
}

func sourceRows(v words.Locale, s almanac.Species) []Cited {
	var out []Cited
	for _, c := range s.Sources {
		if row := (Cited{v.English(c.Named()), c.Address}); !slices.Contains(out, row) {
			out = append(out, row)
		}
	}
	return out
}

// Plant makes a plant's page.
func (b *Site) Plant(id string) ([]byte, error) {
	addr := PlantAddr(id)
	v := b.Locale()
	s := b.facts.Species(id)
	first, second := b.names(s)
	m := PlantPage{
		First: first, Second: second,
		Frame: b.frame("plant", addr, b.plantName(id)+" · "+b.Journal.Title, v.Text("plant.description", "taxon", s.Taxon, "grower", b.Journal.Grower)),
		Needs: needs(v, s), Fields: b.plantFields(v, s), Care: careRows(v, s),
		Notes: noteRows(v, s), Sources: sourceRows(v, s), Grower: b.Journal.Grower,
	}
	if e, ok := b.sharing(addr).Elsewhere(id); ok {
		m.Elsewhere = &e
	}
	m.Picture = b.plantPreview(id)
	if own, ok := b.Journal.Plant(id); ok {
		m.Growers, m.Photos = b.text(addr, own.Source).HTML, b.photosOf(addr, own.Photos)
	}
	m.Plate = b.plate(v, s, m.Photos)
	if m.Plate.Photo != nil {
		m.Photos = m.Photos[1:]
	}
	if first := b.plantSince(id); !first.IsZero() {
		m.Since = v.Text("growth-text.since", "month", v.Month(first.Month), "year", first.Year)
	}
	m.Ready, m.Law = b.readyLines(v, addr, id), b.lawPart(v, s)
	m.ReadyMark, m.More = draw.In.SVG(), b.moreLine(v, id)
	m.Growth, m.Lives = b.plots().GrowthParts(addr, id), b.needsPart(v, addr, s, waterRows(v, s))
	for _, t := range facts.ByAge(b.facts.Naming(id)) {
		for _, st := range b.standing(t) {
			if st.Plant == id {
				m.Standing = append(m.Standing, StandingRow{Plant: theme.PlantName{First: words.Escape(b.tankName(t.ID)), Href: b.href(addr, TankAddr(t.ID))},
					What: strings.Join(words.Amount(v, st.Count.Amount), ", "), Date: v.Date(st.On)})
			}
		}
	}
	return b.Theme.Render("plant", m)
}

func (b *Site) plantFields(v words.Locale, s almanac.Species) []theme.Field {
	var out []theme.Field
	add := func(key, text string) { out = addField(out, v, key, text) }
	add("plant.family", s.Family)
	var habit []template.HTML
	if s.Habit != "" {
		habit = append(habit, v.HTML("habit."+s.Habit))
	}
	if s.Height.Known() {
		habit = append(habit, v.HTML("plant.tall", "range", words.R(v, s.Height)))
	}
	switch len(habit) {
	case 1:
		out = append(out, theme.Field{Term: v.HTML("plant.habit"), Is: habit[0]})
	case 2:
		out = append(out, theme.Field{Term: v.HTML("plant.habit"), Is: habit[0] + ", " + habit[1]})
	}
	if s.Placement != "" {
		add("plant.place", v.Text("need."+s.Placement))
	}
	switch here := b.plots().Pace(v, s.ID); {
	case here != "":
		add("plant.pace", here)
	case s.Growth != "":
		add("plant.pace", v.Text("growth."+s.Growth))
	}
	return out
}

// row makes a line of the profile for a column; ok is false where nothing is known.
func row(v words.Locale, s almanac.Species, column, value string) (ProfileRow, bool) {
	if value == "" {
		return ProfileRow{}, false
	}
	is := words.Escape(value)
	if column == "propagation" {
		is = v.Almanac(s, column) // the one column of sentences
	}
	return ProfileRow{Term: v.HTML("profile." + column), Value: is, Basis: basisWord(v, s.Basis(column)), key: column}, true
}

// basisWord says how a figure is known; "" for none.
func basisWord(v words.Locale, basis string) string {
	if basis == almanac.OwnFigure {
		basis = "own"
	}
	return words.TextOf(v, "basis.", strings.ReplaceAll(basis, " ", "-"))
}

func rows(v words.Locale, s almanac.Species, pairs ...string) []ProfileRow {
	var out []ProfileRow
	for i := 0; i+1 < len(pairs); i += 2 {
		if r, ok := row(v, s, pairs[i], pairs[i+1]); ok {
			out = append(out, r)
		}
	}
	return out
}

func waterRows(v words.Locale, s almanac.Species) []ProfileRow {
	return rows(v, s, "temperature", words.R(v, s.Temperature), "ph", words.R(v, s.PH), "gh", words.R(v, s.GH), "kh", words.R(v, s.KH),
		"light", words.R(v, s.Light), "light-good", words.R(v, s.LightGood), "co2", words.TextOf(v, "co2-need.", s.CO2))
}

func careRows(v words.Locale, s almanac.Species) []ProfileRow {
	out := rows(v, s, "height", words.R(v, s.Height), "spread", words.R(v, s.Spread), "spacing", words.R(v, s.Spacing), "growth", words.TextOf(v, "growth.", s.Growth),
		"melts", words.LevelText(v, "melts.", s.Melts), "feeding", words.TextOf(v, "feeding.", s.Feeding), "propagation", s.Propagation, "weediness", words.LevelText(v, "weediness.", s.Weediness))
	for i := range out {
		out[i].Basis = betterBasis(v, s.Basis(out[i].key))
	}
	return out
}

// betterBasis says how a figure is known where it is better known than by common practice.
func betterBasis(v words.Locale, basis string) string {
	if basis == almanac.CommonPractice {
		return ""
	}
	return basisWord(v, basis)
}

func noteRows(v words.Locale, s almanac.Species) []NoteRow {
	var out []NoteRow
	for _, column := range []string{"melt-note", "conversion-note", "hardy-note", "cutting-size"} {
		if text := v.Almanac(s, column); text != "" {
			out = append(out, NoteRow{v.HTML("plant." + column), text, betterBasis(v, s.Basis(column))})
		}
	}
	return out
}

// plantSince is the first day on which the diary names a plant; zero where it does not.
func (b *Site) plantSince(id string) (first quantity.Date) {
	for _, t := range b.facts.Naming(id) {
		for _, e := range b.facts.SoFarIn(t.ID) {
			if names(e, id) {
				if first.IsZero() || e.Date.Before(first) {
					first = e.Date
				}
				break
			}
		}
	}
	return first
}
