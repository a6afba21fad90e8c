package page

import (
	"strconv"

	"slipleaf/build/chart"
	"slipleaf/build/growth"
	"slipleaf/build/plot"
	"slipleaf/build/theme"
	"slipleaf/build/words"
)

// ReviewAddr is a year's review.
func ReviewAddr(year int) string { return "/review/" + strconv.Itoa(year) + "/" }

// ReviewPage is the model of a year's review, for a club bulletin.
type ReviewPage struct {
	theme.Frame
	Heading, Lead, Outcome string
	Chart                  *plot.ChartBlock // by month; nil where nothing was cut or given
	Rows                   []ReviewRow
	Total                  ReviewRow
	Others                 []theme.Link // other years
}

// ReviewRow is what a plant came to in the year.
type ReviewRow struct {
	Plant                                     theme.PlantName
	Cuts, Slips, Given, Established, Lost, No int
}

// Review makes a year's review.
func (b *Site) Review(year int) ([]byte, error) {
	v := b.Locale()
	addr := ReviewAddr(year)
	r := b.facts.AllGrowth().ReviewOf(b.facts.Heads(), year)
	m := ReviewPage{Frame: b.frame("review", addr, v.Text("review.title", "year", year)+" · "+b.Journal.Title, v.Text("review.description", "year", year)),
		Heading: v.Text("review.title", "year", year)}
	key := "review.lead"
	if r.Partial {
		key = "review.lead-so-far"
	}
	if r.Total.Slips == 0 && r.Total.Given == 0 {
		key += "-quiet"
	}
	m.Lead = v.Text(key, "date", v.Date(b.On), "entries", r.Entries, "slips", r.Total.Slips, "given", r.Total.Given, "parcels", r.Total.Parcels, "lands", r.Lands)
	if r.Total.Parcels > 0 {
		m.Outcome = v.Text("review.outcome", "heard", r.Total.Heard, "parcels", r.Total.Parcels, "established", r.Total.Established, "lost", r.Total.Lost, "passed", r.Total.PassedOn)
	}
	if r.InPost > 0 {
		m.Outcome = words.Sentences(m.Outcome, v.Text("review.in-post", "n", r.InPost))
	}
	if len(r.Plants) > 0 {
		block, err := reviewChart(v, r)
		if err != nil {
			return nil, err
		}
		m.Chart = &block
	}
	for _, p := range r.Plants {
		m.Rows = append(m.Rows, reviewRow(b.plantLink(addr, p.Plant), p))
	}
	m.Total = reviewRow(theme.PlantName{}, r.Total)
	for _, y := range b.facts.ReviewYears() {
		if y != year {
			m.Others = append(m.Others, theme.Link{Text: strconv.Itoa(y), Href: b.href(addr, ReviewAddr(y))})
		}
	}
	return b.Theme.Render("review", m)
}

func reviewRow(name theme.PlantName, p growth.ReviewPlant) ReviewRow {
	return ReviewRow{name, p.Cuts, p.Slips, p.Given, p.Established, p.Lost, p.Parcels - p.Established - p.Lost}
}

// reviewChart shows the year month by month.
func reviewChart(v words.Locale, r growth.Review) (plot.ChartBlock, error) {
	title := v.Text("review.by-month", "year", r.Year)
	c := chart.Months{Caption: chart.Caption{ID: "c-review", Title: title}, Names: plot.Words(v).ShortMonths, Month: v.Text("review.month")}
	for _, row := range []struct {
		name, head, voice string
		total             int
		of                func(growth.ReviewMonth) int
	}{
		{"review.chart-slips", "review.slips", "clay", r.Total.Slips, func(m growth.ReviewMonth) int { return m.Slips }},
		{"review.chart-given", "review.given", "slate", r.Total.Given, func(m growth.ReviewMonth) int { return m.Given }},
		{"review.chart-established", "review.established", "leaf", r.Total.Established, func(m growth.ReviewMonth) int { return m.Established }},
	} {
		values := make([]int, len(r.Months))
		for i, m := range r.Months {
			values[i] = row.of(m)
		}
		c.Rows = append(c.Rows, chart.MonthRow{Name: v.Text(row.name, "n", row.total), Head: v.Text(row.head), Voice: row.voice, Values: values})
	}
	pic, err := c.Draw()
	return plot.ChartBlock{Picture: pic, Table: pic.Table, Caption: v.HTML("review.chart-note"), Label: title}, err
}
