package review

import (
	"strings"

	"slipleaf/build/chart"
	"slipleaf/build/dynamics"
	"slipleaf/build/plot"
	"slipleaf/build/quantity"
	"slipleaf/build/reckon"
	"slipleaf/build/theme"
	"slipleaf/build/words"
)

// ForecastsPage is the model of the page on how often forecasts hold.
type ForecastsPage struct {
	theme.Frame
	Lead   string
	Chance string // how often chances came true
	Chart  plot.ChartBlock
	Heads  []string // of the columns behind the first
	Rows   []ForecastRow
}

// ForecastRow is a kind of life, with the share of windows that held for each number of counts.
type ForecastRow struct {
	Kind   string
	Shares []string
}

// Forecasts makes the page on how often forecasts hold: on made-up diaries, by the table that the growth model's own test makes.
func (k Kit) Forecasts() ([]byte, error) {
	v := k.Locale
	kinds, least, most := dynamics.WindowCoverage()
	pairs := []any{"kinds", words.NumberWord(v, kinds), "least", v.N(100*least, 0), "most", v.N(100*most, 0), "n", dynamics.PooledFrom}
	m := ForecastsPage{Frame: k.Frame("forecasts", k.ForecastsAddr, v.Text("forecasts.title")+" · "+k.Facts.Outline().Title, v.Text("forecasts.description")), Lead: v.Text("forecasts.lead", pairs...)}
	rows := forecastRows(v, &m)
	all := dynamics.ChanceCoverage()
	m.Chance = v.Text("forecasts.chance", "n", int(all.N), "said", v.N(100*all.Sum/all.N, 0), "came", v.N(100*all.Came/all.N, 0))
	finding := v.Text("forecasts.finding", pairs...)
	c := chart.Ranking{Caption: chart.Caption{ID: "c-forecasts", Title: v.Text("forecasts.chart")}, Words: plot.Words(v), Rows: rows, Unit: "%", Decimals: 0,
		Heads: chart.RankingHeads{Name: v.Text("forecasts.kind"), Value: v.Text("forecasts.held"), Interval: v.Text("forecasts.interval"), N: v.Text("forecasts.windows")}}
	m.Chart = plot.ChartBlock{Picture: c.Draw(), Caption: finding, Label: v.Text("forecasts.chart")}
	return k.Render("forecasts", m)
}

// forecastRows fills the table, and gives the chart's rows: what held with many counts, pooled, with its interval.
func forecastRows(v words.Locale, m *ForecastsPage) []chart.Ranked {
	var out []chart.Ranked
	pooled := map[string]reckon.Tally{}
	for _, c := range dynamics.CoverageTable() {
		name := v.Text("forecasts.kind-" + strings.ReplaceAll(c.Kind, " ", "-"))
		if n := len(m.Rows); n == 0 || m.Rows[n-1].Kind != name {
			m.Rows = append(m.Rows, ForecastRow{Kind: name})
		}
		row := &m.Rows[len(m.Rows)-1]
		row.Shares = append(row.Shares, v.Text("figure.percent", "n", words.Percent(v, c.Window)))
		if len(m.Rows) == 1 {
			m.Heads = append(m.Heads, v.Text("forecasts.counts", "n", c.Counts))
		}
		if c.Counts >= dynamics.PooledFrom {
			t := pooled[name]
			pooled[name] = reckon.Tally{Yes: t.Yes + int(c.Window*float64(c.Windows)+0.5), Of: t.Of + c.Windows}
		}
	}
	for _, r := range m.Rows {
		if w, err := reckon.Wilson(pooled[r.Kind], quantity.Share(0.95)); err == nil {
			out = append(out, chart.Ranked{Name: r.Kind, Value: 100 * w.Value, Low: 100 * w.Low, High: 100 * w.High, N: pooled[r.Kind].Of})
		}
	}
	return out
}
