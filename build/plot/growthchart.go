package plot

import (
	"math"
	"strconv"

	"slipleaf/build/chart"
	"slipleaf/build/growth"
	"slipleaf/build/journal"
	"slipleaf/build/quantity"
	"slipleaf/build/theme"
	"slipleaf/build/words"
)

// GrowthChart draws a series: what was counted, the fitted line between cuts, and the forecast. The number tells the
// Series of a plant in a tank apart.
func (b Kit) GrowthChart(from string, g *growth.Growth, number int) ChartBlock {
	v := b.Locale
	tank := words.InText(v, b.TankName(g.Tank))
	title := v.Text("growth-text.chart", "plant", words.Capital(b.PlantName(g.Plant)), "tank", tank, "measure", measureName(v, g.Measure))
	if all := b.Facts.GrowthOf(g.Tank, g.Plant); g != all[len(all)-1] {
		title = v.Text("growth-text.chart-until", "chart", title, "date", v.Date(g.Ended()))
	}
	finding := b.growthFinding(v, g)
	unit, holds := measureUnit(v, g.Measure)
	c := chart.Growth{
		Caption: chart.Caption{ID: "g-" + g.Tank + "-" + g.Plant + "-" + strconv.Itoa(number), Title: title},
		Words:   Words(v), Goal: g.Goal / holds, Unit: unit, Whole: g.Measure.Counted(),
		Heads: chart.GrowthHeads{Day: v.Text("chart.day"), Size: words.Capital(measureName(v, g.Measure)), Run: v.Text("growth-text.run"), Change: v.Text("growth-text.change")},
	}
	if !g.Measure.Counted() && largestCount(g)/holds < 100 {
		c.Decimals = 1
	}
	c.Labels.Count = chart.Label{Long: v.Text("growth-text.each-count"), Short: v.Text("growth-text.a-count")}
	for _, p := range g.Points {
		if p.Event == growth.Count {
			c.Counts = append(c.Counts, chart.Count{Day: p.Date.Days(), Size: p.Size / holds, Run: p.Segment})
		}
	}
	c.Labels.Scale = chart.Label{Long: v.Text("growth-text.scale", "n", "{n}")}
	c.Labels.Planted, c.Labels.Lost, c.Labels.None = chart.Label{Long: v.Text("growth-text.mark-planted")}, chart.Label{Long: v.Text("growth-text.mark-lost")}, chart.Label{Long: v.Text("growth-text.mark-none")}
	b.chartChanges(v, &c, g)
	if g.Fit != nil {
		c.Runs = runsOf(g)
		c.Labels.Fit = fitLabel(v, g)
	}
	if g.Goal > 0 {
		size := sizeText(v, g.Measure, g.Goal)
		c.Labels.Goal = chart.Label{Long: v.Text("growth-text.trim-at", "size", size), Short: size}
	}
	if g.Standing() {
		b.chartAhead(v, &c, g)
	}
	inUnit(append(c.Runs, c.Ahead), holds)
	addr := b.PlantAddr(g.Plant)
	return ChartBlock{Picture: c.Draw(), Caption: finding, Label: title,
		Data: []theme.Link{{Text: "growth.csv", Href: b.Href(from, addr+"growth.csv")}, {Text: "growth.json", Href: b.Href(from, addr+"growth.json")}}}
}

// inUnit shows curves in a unit that holds so much of theirs.
func inUnit(curves [][]chart.CurvePoint, holds float64) {
	for _, c := range curves {
		for i, p := range c {
			c[i] = chart.CurvePoint{Day: p.Day, Size: p.Size / holds, Low: p.Low / holds, High: p.High / holds}
		}
	}
}

func fitLabel(v words.Locale, g *growth.Growth) chart.Label {
	if g.Fit.Logistic.Chosen() {
		return chart.Label{Long: v.Text("growth-text.fit-curve")}
	}
	return chart.Label{Long: v.Text("growth-text.fit-band"), Short: v.Text("growth-text.fit-short")}
}

// runsOf is the fitted line of each segment: with its interval where growth is steady, the curve alone where it levels off.
func runsOf(g *growth.Growth) [][]chart.CurvePoint {
	var out [][]chart.CurvePoint
	for i, s := range g.Fit.Line.Segments {
		if s.To <= s.From {
			continue
		}
		steps := 6 // nearly straight lines on a log axis
		if g.Fit.Logistic.Chosen() {
			steps = min(max(int(math.Ceil((s.To-s.From)/5)), 2), 40)
		}
		run := make([]chart.CurvePoint, 0, steps+1)
		for k := range steps + 1 {
			day := s.From + (s.To-s.From)*float64(k)/float64(steps)
			if g.Fit.Logistic.Chosen() {
				size := g.Fit.Logistic.Size(i, day)
				run = append(run, chart.CurvePoint{Day: day, Size: size, Low: size, High: size})
				continue
			}
			e := g.Fit.Line.SizeRange(i, day)
			run = append(run, chart.CurvePoint{Day: day, Size: e.Value, Low: e.Low, High: e.High})
		}
		out = append(out, run)
	}
	return out
}

// chartAhead carries the line on by the diary model, from the last entry to the end of the window, and marks today.
func (b Kit) chartAhead(v words.Locale, c *chart.Growth, g *growth.Growth) {
	c.Today = b.Facts.Day().Days()
	c.Labels.Today = chart.Label{Long: v.Text("growth-text.today", "date", v.DayMonth(b.Facts.Day())), Short: v.Text("growth-text.today-short")}
	if g.Fit == nil || g.Fit.Logistic.Chosen() && !g.Next.Known() {
		return
	}
	end := float64(b.Facts.Day().Days())
	if w := g.Next; w.Known() {
		end = float64(w.High.Days())
		c.Window = chart.Window{From: w.Low.Days(), To: w.High.Days()}
		c.Labels.Forecast = chart.Label{Long: v.Text("growth-text.next-trim")}
		c.Labels.Window = chart.Label{Long: v.Dates(w.Low, w.High)}
		if w.Open {
			c.Labels.Window = chart.Label{Long: v.Text("growth-text.from-day", "date", v.DayMonth(w.Low))}
		} else if w.Overdue {
			c.Labels.Window = chart.Label{Long: v.Text("growth-text.window-overdue", "since", v.DayMonth(w.Best))}
		}
	}
	last := g.Fit.StateSpace.Last
	steps := min(max(int(math.Ceil((end-last)/3)), 1), 12)
	for k := range steps + 1 {
		day := last + (end-last)*float64(k)/float64(steps)
		size, err := g.Fit.StateSpace.SizeOn(day, growth.ForecastLevel)
		if err != nil || end <= last || size.Value <= 0 {
			return
		}
		c.Ahead = append(c.Ahead, chart.CurvePoint{Day: day, Size: size.Value, Low: size.Low, High: size.High})
		if g.Goal > 0 && size.Value >= g.Goal {
			return
		}
	}
}

// chartChanges marks cuts, plantings and losses with what they took or brought.
func (b Kit) chartChanges(v words.Locale, c *chart.Growth, g *growth.Growth) {
	t, ok := b.Facts.Outline().Tank(g.Tank)
	if !ok {
		return
	}
	kinds := map[growth.Kind]chart.Kind{growth.Trim: chart.Trimmed, growth.Planting: chart.Planted, growth.Loss: chart.Lost}
	used := map[string]bool{}
	for _, p := range g.Points {
		if p.Event == growth.Count {
			continue
		}
		change := chart.Change{Day: p.Date.Days(), Kind: kinds[p.Event], Note: v.Text("growth-text."+p.Event.String(), "what", sizeText(v, g.Measure, math.Abs(p.Size)))}
		if p.Event == growth.Trim {
			if n, what := cutThat(b.Facts.EntriesIn(t.ID), g.Plant, p.Date); n > 0 {
				used[what] = true
				change.Mark = strconv.Itoa(n)
				change.Note = v.Text("growth-text.trim", "what", v.Text("amount."+what, "n", n)+", "+sizeText(v, g.Measure, math.Abs(p.Size)))
			}
		}
		c.Changes = append(c.Changes, change)
	}
	word := "growth-text.cut"
	if len(used) == 1 {
		for what := range used {
			word = "form-name." + what
		}
	}
	if len(used) > 0 {
		c.Labels.Changes = chart.Label{Long: v.Text(word), Short: v.Text("growth-text.cut")}
	}
}

// cutThat is how many pieces were cut of a plant on a day, and what they were; 0 where the diary does not count them.
func cutThat(diary []*journal.Entry, plant string, on quantity.Date) (n int, what string) {
	for _, e := range diary {
		if e.Date != on {
			continue
		}
		for _, c := range e.Trims {
			switch {
			case c.Plant != plant:
			case c.Cuttings != nil:
				n, what = n+*c.Cuttings, "cuttings"
			case c.Removed.Plantlets != nil:
				n, what = n+*c.Removed.Plantlets, "plantlets"
			case c.Removed.Stems != nil:
				n, what = n+*c.Removed.Stems, "cuttings"
			}
		}
	}
	return n, what
}

// growthFinding says in a sentence or two what a growth chart shows.
func (b Kit) growthFinding(v words.Locale, g *growth.Growth) string {
	head := v.Text("growth-text.finding", "measure", words.Capital(measureName(v, g.Measure)), "tank", words.InText(v, b.TankName(g.Tank)))
	if g.Fit == nil {
		return words.Sentences(head, whyNot(v, g), nextText(v, g, b.Facts.Day()))
	}
	says := head + " " + doublingText(v, g)
	if n := trimsOf(g); n > 0 {
		says += " " + v.Text("growth-text.through", "n", n, "count", words.NumberWord(v, n))
	}
	if next := nextText(v, g, b.Facts.Day()); next != "" {
		says += " " + next
	}
	return says
}

func trimsOf(g *growth.Growth) (n int) {
	last := quantity.Date{}
	for _, p := range g.Points {
		if p.Event == growth.Trim && p.Date != last {
			n, last = n+1, p.Date
		}
	}
	return n
}

func largestCount(g *growth.Growth) (most float64) {
	for _, p := range g.Points {
		if p.Event == growth.Count {
			most = max(most, p.Size)
		}
	}
	return most
}
