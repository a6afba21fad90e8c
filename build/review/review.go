// Package review fills the pages that look back over all that was counted: which plants deserve the space, how often
// forecasts held, and a year's review. It reads the journal by a page's own reader.
package review

import (
	"strconv"

	"slipleaf/build/chart"
	"slipleaf/build/growth"
	"slipleaf/build/plot"
	"slipleaf/build/theme"
	"slipleaf/build/words"
)

// SpaceAddr is the page on which plants deserve the space.
const SpaceAddr = "/space/"

// Kit is what the pages are filled with.
type Kit struct {
	plot.Kit
	Frame     func(kind, addr, title, description string) theme.Frame
	PlantLink func(from, id string) theme.PlantName
	Render    func(template string, model any) ([]byte, error)
}

// Addr is a year's review.
func Addr(year int) string { return "/review/" + strconv.Itoa(year) + "/" }

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
	Plant                              theme.PlantName
	Given                              string // plants, and seeds by that name
	Cuts, Slips, Established, Lost, No int
}

// Review makes a year's review.
func (k Kit) Review(year int) ([]byte, error) {
	v := k.Locale
	addr := Addr(year)
	r := k.Facts.AllGrowth().ReviewOf(k.Facts.Heads(), year)
	m := ReviewPage{Frame: k.Frame("review", addr, v.Text("review.title", "year", year)+" · "+k.Facts.Outline().Title, v.Text("review.description", "year", year)),
		Heading: v.Text("review.title", "year", year)}
	key := "review.lead"
	if r.Partial {
		key = "review.lead-so-far"
	}
	if r.Total.Slips == 0 && r.Total.Parcels == 0 {
		key += "-quiet"
	}
	m.Lead = v.Text(key, "date", v.Date(k.Facts.Day()), "entries", r.Entries, "slips", r.Total.Slips, "given", words.PlantsAndSeeds(v, r.Total.Given, r.Total.Seeds), "parcels", r.Total.Parcels, "lands", r.Lands)
	if r.Total.Parcels > 0 {
		m.Outcome = v.Text("review.outcome", "heard", r.Total.Heard, "parcels", r.Total.Parcels, "established", r.Total.Established, "lost", r.Total.Lost, "passed", r.Total.PassedOn)
	}
	if r.InPost > 0 {
		m.Outcome = words.Sentences(m.Outcome, v.Text("review.in-post", "n", r.InPost))
	}
	if len(r.Plants) > 0 {
		m.Chart = new(reviewChart(v, r))
	}
	for _, p := range r.Plants {
		m.Rows = append(m.Rows, reviewRow(v, k.PlantLink(addr, p.Plant), p))
	}
	m.Total = reviewRow(v, theme.PlantName{}, r.Total)
	for _, y := range k.Facts.ReviewYears() {
		if y != year {
			m.Others = append(m.Others, theme.Link{Text: strconv.Itoa(y), Href: k.Href(addr, Addr(y))})
		}
	}
	return k.Render("review", m)
}

func reviewRow(v words.Locale, name theme.PlantName, p growth.ReviewPlant) ReviewRow {
	given := strconv.Itoa(p.Given)
	if p.Seeds > 0 { // short, or the column takes the names' room and the year is no leaf any more
		given += " + " + v.Text("form.seeds", "n", p.Seeds)
	}
	return ReviewRow{name, given, p.Cuts, p.Slips, p.Established, p.Lost, p.Parcels - p.Established - p.Lost}
}

// reviewChart shows the year month by month.
func reviewChart(v words.Locale, r growth.Review) plot.ChartBlock {
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
	return plot.ChartBlock{Picture: c.Draw(), Caption: v.Text("review.chart-note"), Label: title}
}
