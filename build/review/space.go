package review

import (
	"html/template"
	"strconv"

	"slipleaf/build/chart"
	"slipleaf/build/growth"
	"slipleaf/build/plot"
	"slipleaf/build/theme"
	"slipleaf/build/words"
)

// SpacePage is the model of the page on which plants deserve the space.
type SpacePage struct {
	theme.Frame
	Lead    template.HTML
	Help    string           // how much a dm² is; "" in other units
	Chart   *plot.ChartBlock // nil where nothing has a score
	Rows    []SpaceRow
	Without []SpaceRow // plants without a score, with the reason
	Gain    []template.HTML
	How     string // the working in words
	Method  []string
}

// SpaceRow is a plant in a tank, with the parts of its score. The numbers in data attributes are for sorting.
type SpaceRow struct {
	Plant                        theme.PlantName
	Tank                         theme.Link
	Score, Interval              string
	Yield, Claimed, Does         string
	YieldNote, ClaimNote         string
	DoesNote                     string
	Ease, EaseNote               string
	Why                          string
	SortScore, SortYield         string
	SortClaim, SortDoes, Ease100 string
}

// Space makes the page on which plants deserve the space.
func (k Kit) Space() ([]byte, error) {
	v := k.Locale
	floor, dm2 := words.AreaUnit(v)
	ranked := k.Facts.AllGrowth().Space(k.Facts.Ledger(), k.Facts.Species)
	m := SpacePage{Frame: k.Frame("space", SpaceAddr, v.Text("space.title")+" · "+k.Facts.Outline().Title, v.Text("space.description", "floor", floor)), Lead: v.HTML("space.lead", "floor", floor), Help: words.AreaHelp(v), How: v.Text("space.method", "floor", floor)}
	var rows []chart.Ranked
	for _, p := range ranked {
		row := k.spaceRow(v, p)
		if !p.Known {
			m.Without = append(m.Without, row)
			continue
		}
		m.Rows = append(m.Rows, row)
		rows = append(rows, chart.Ranked{Name: words.Capital(k.PlantName(p.Plant)), Latin: k.Facts.Species(p.Plant).Common == "", Where: words.Isolated(words.InText(v, k.TankName(p.Tank))), Value: p.Score.Value * dm2, Low: p.Score.Low * dm2, High: p.Score.High * dm2, N: p.Results.Of})
		if len(m.Method) == 0 {
			m.Method = words.WorkingLines(v, p.Working)
		}
	}
	if len(rows) > 0 {
		m.Chart = new(k.spaceChart(v, rows, ranked[0]))
	}
	if g, ok := growth.GainOf(ranked); ok {
		m.Gain = k.gain(v, g)
	}
	for _, t := range growth.TwinsOf(ranked) {
		m.Gain = append(m.Gain, v.HTML("space.twin", "plant", words.Taxon(k.Facts.Species(t.Better.Plant).Taxon), "better", words.InText(v, k.TankName(t.Better.Tank)), "worse", words.InText(v, k.TankName(t.Worse.Tank)),
			"floor", floor, "times", v.N(t.Times.Value, 1), "low", v.N(t.Times.Low, 1), "high", v.N(t.Times.High, 1)))
	}
	return k.Render("space", m)
}

func (k Kit) spaceChart(v words.Locale, rows []chart.Ranked, best *growth.Place) plot.ChartBlock {
	floor, dm2 := words.AreaUnit(v)
	title := v.Text("space.chart-title", "floor", floor)
	finding := v.Text("space.finding", "plant", words.Capital(k.PlantName(best.Plant)), "tank", words.InText(v, k.TankName(best.Tank)), "floor", floor,
		"value", v.Fixed(best.Score.Value*dm2), "low", v.Fixed(best.Score.Low*dm2), "high", v.Fixed(best.Score.High*dm2))
	c := chart.Ranking{Caption: chart.Caption{ID: "c-space", Title: title}, Words: plot.Words(v), Rows: rows, Unit: v.Text("space.unit", "floor", floor), Decimals: 2,
		Heads: chart.RankingHeads{Name: v.Text("space.plant"), Value: v.Text("space.score"), Interval: v.Text("space.interval"), N: v.Text("space.verdicts")}}
	return plot.ChartBlock{Picture: c.Draw(), Caption: finding, Label: title}
}

func (k Kit) spaceRow(v words.Locale, p *growth.Place) SpaceRow {
	r := SpaceRow{Plant: k.PlantLink(SpaceAddr, p.Plant), Tank: theme.Link{Text: k.TankName(p.Tank), Href: k.Href(SpaceAddr, k.TankAddr(p.Tank))}}
	if p.Ease.Known {
		r.Ease, r.Ease100 = v.Text("space.ease-"+p.Ease.Band()), sortable(p.Ease.Score)
		r.EaseNote = v.Text("space.held-back", "by", v.Text("space.part-"+p.Ease.Weakest))
	}
	if !p.Known {
		r.Why = v.Text("space.why-" + string(p.Why))
		return r
	}
	floor, dm2 := words.AreaUnit(v)
	r.Score, r.Interval = v.Fixed(p.Score.Value*dm2), v.Fixed(p.Score.Low*dm2)+"–"+v.Fixed(p.Score.High*dm2)
	r.Yield = v.Fixed(p.Yield.Weekly() * dm2)
	key := "space.yield-all"
	if p.Recent {
		key = "space.yield-recent"
	}
	r.YieldNote = v.Text(key, "n", p.Yield.Slips, "area", v.N(p.Yield.Area/dm2, words.AreaDecimals(dm2)), "floor", floor, "weeks", v.N(p.Yield.Weeks, 0), "cuts", p.Yield.Cuts)
	r.Claimed, r.ClaimNote = v.Text("figure.percent", "n", words.Percent(v, p.Claim.Posterior.Value)), v.Text("space.of-lots", "yes", p.Claim.Tally.Yes, "n", p.Claim.Tally.Of)
	r.Does, r.DoesNote = v.Text("figure.percent", "n", words.Percent(v, p.Established.Value)), v.Text("space.of-verdicts", "yes", p.Results.Yes, "n", p.Results.Of)
	r.SortScore, r.SortYield = sortable(p.Score.Value), sortable(p.Yield.Weekly())
	r.SortClaim, r.SortDoes = sortable(p.Claim.Posterior.Value), sortable(p.Established.Value)
	return r
}

// gain says what the ground of the last would give under the first, and plainly where that may be chance.
func (k Kit) gain(v words.Locale, g growth.Gain) []template.HTML {
	floor, dm2 := words.AreaUnit(v)
	pairs := []any{"last", words.Escape(k.PlantName(g.Last.Plant)), "last-tank", words.InText(v, k.TankName(g.Last.Tank)), "first", words.Escape(k.PlantName(g.First.Plant)), "first-tank", words.InText(v, k.TankName(g.First.Tank)),
		"area", v.N(g.Area/dm2, words.AreaDecimals(dm2)), "floor", floor, "value", v.N(g.Weekly.Value, 1), "low", v.N(g.Weekly.Low, 1), "high", v.N(g.Weekly.High, 1)}
	out := []template.HTML{v.HTML("space.gain", pairs...)}
	key := "space.gain-sure"
	if g.Chance {
		key = "space.gain-chance"
	}
	return append(out, v.HTML(key, pairs...))
}

func sortable(f float64) string { return strconv.FormatFloat(f, 'f', 4, 64) }
