package plot

import (
	"html/template"

	"slipleaf/build/dynamics"
	"slipleaf/build/facts"
	"slipleaf/build/growth"
	"slipleaf/build/journal"
	"slipleaf/build/words"
)

// GrowthPart is how a plant grows in a tank, as its page shows it.
type GrowthPart struct {
	ID       string // of the heading
	Heading  string
	First    string // is in the place of chart and figures while there is one count alone
	Chart    ChartBlock
	Figures  []template.HTML // the margin's lines
	Advice   []string        // how much to leave, and how often to cut; only of the first tank, the others have it folded
	Folded   []string        // what is before the working, one disclosure away
	Working  []template.HTML
	Habits   []HabitRow // the habit of cutting, week by week
	HabitsOf string     // names the frame of their table
	Label    string     // of the disclosure
	Earlier  []EarlierGrowth
}

// HabitRow is what cutting every so many weeks gives.
type HabitRow struct{ Every, Leave, At, Share string }

// EarlierGrowth is a series that was followed before the one that counts.
type EarlierGrowth struct {
	Why   string
	Chart ChartBlock
}

// GrowthParts tells how a plant grows in each tank in which it was counted, those first where it is.
func (b Kit) GrowthParts(addr, id string) []GrowthPart {
	var out []GrowthPart
	for _, standing := range []bool{true, false} {
		for _, t := range facts.ByAge(b.Facts.Naming(id)) {
			all := b.Facts.GrowthOf(t.ID, id)
			if len(all) == 0 || all[len(all)-1].Standing() != standing {
				continue
			}
			out = append(out, b.growthPart(addr, t, all, len(out) == 0))
		}
	}
	return out
}

// growthPart tells of one tank; first reports whether it is the first that the page tells of.
func (b Kit) growthPart(addr string, t *journal.Tank, all []*growth.Growth, first bool) GrowthPart {
	v := b.Locale
	g := all[len(all)-1]
	tank := words.InText(v, b.TankName(t.ID))
	p := GrowthPart{ID: "h-grows-" + t.ID, Heading: v.Text("growth-text.heading", "tank", tank), Figures: b.growthFigures(v, g), Folded: b.growthFolded(v, g),
		Label: v.Text("growth-text.working", "tank", tank), HabitsOf: v.Text("growth-text.habits-of", "tank", tank)}
	if !g.Standing() {
		p.Heading = v.Text("growth-text.heading-left", "tank", tank)
	}
	if g.Fit != nil {
		p.Working, p.Habits = b.growthWorking(addr, v, g), habitRows(v, g)
	}
	if advice := growthAdvice(v, g); first {
		p.Advice = advice
	} else {
		p.Folded = append(advice, p.Folded...)
	}
	if only, ok := onlyCount(g); ok {
		p.First, p.Figures = b.firstCount(v, g, only), nil
		return p
	}
	p.Chart = b.GrowthChart(addr, g, len(all))
	for i, was := range all[:len(all)-1] {
		why := v.Text("growth-text.break-"+breakKey(all[i+1].Break), "date", v.Date(was.Ended()))
		p.Earlier = append(p.Earlier, EarlierGrowth{why, b.GrowthChart(addr, was, i+1)})
	}
	return p
}

func breakKey(k growth.Break) string {
	return [...]string{"none", "measure", "change", "back"}[min(k, growth.CameBack)]
}

// paceFigures are the lines beside the chart on how fast it grows, or grew.
func paceFigures(v words.Locale, g *growth.Growth) []template.HTML {
	var out []template.HTML
	add := func(key string, pairs ...any) { out = append(out, v.HTML("growth-text."+key, pairs...)) }
	doubles, grows := "f-doubles", "f-grows"
	if !g.Standing() {
		doubles, grows = "f-doubled", "f-grew"
	}
	if g.Fit == nil {
		add("f-too-few")
		return out
	}
	if small, ok := smallDoubling(g); ok {
		h := g.Fit.Logistic.Capacity
		add("f-small", "days", words.Days(v, small.Days), "low", words.Days(v, small.Low), "high", words.Days(v, small.High))
		add("f-holds", "size", sizeText(v, g.Measure, h.Value), "low", sizeFigure(v, g.Measure, h.Low), "high", sizeFigure(v, g.Measure, h.High))
		return out
	}
	d := g.Fit.StateSpace
	if t := d.Doubling; t.Growing && !t.Open {
		low, high := daysBetween(v, t)
		add(doubles, "days", words.Days(v, t.Days), "low", low, "high", high)
	}
	if t, ok := averageDoubling(v, g); ok {
		low, high := daysBetween(v, t)
		add("f-average", "days", words.Days(v, t.Days), "low", low, "high", high)
	}
	rate, low, high := d.Rate.Value, d.Rate.Low, d.Rate.High
	if high < 0 { // "Grows −5%" is read as growth
		grows, rate, low, high = "f-declines", -rate, -high, -low
	}
	add(grows, "rate", words.RatePercent(v, rate), "low", words.RatePercent(v, low), "high", words.RatePercent(v, high))
	return out
}

// growthFigures are the lines beside the chart.
func (b Kit) growthFigures(v words.Locale, g *growth.Growth) []template.HTML {
	out := paceFigures(v, g)
	add := func(key string, pairs ...any) { out = append(out, v.HTML("growth-text."+key, pairs...)) }
	if w := g.Next; w.Known() {
		key := "f-next"
		if w.Overdue {
			key = "f-overdue"
		}
		add(key, "best", v.DayMonth(w.Best), "window", WindowText(v, w, b.Facts.Day()))
		if early := earlyText(v, g); early != "" {
			out = append(out, words.Escape(early))
		}
		if held := HeldText(v, g); held != "" {
			out = append(out, words.Escape(held))
		}
	}
	if _, levelled := smallDoubling(g); g.Today.Value > 0 && !levelled {
		add("f-today", "size", sizeText(v, g.Measure, g.Today.Value), "low", sizeFigure(v, g.Measure, g.Today.Low), "high", sizeFigure(v, g.Measure, g.Today.High))
	}
	if g.Standing() {
		if y := b.Facts.Yield(g.Tank, g.Plant); yieldText(v, y) != "" {
			out = append(out, yieldText(v, y))
			if help := words.AreaHelp(v); help != "" {
				out = append(out, words.Escape(help))
			}
		}
	}
	add("f-counts", "n", g.Counts, "runs", runCount(g), "from", v.Date(g.Began()), "to", v.Date(g.Ended()))
	return out
}

func runCount(g *growth.Growth) int {
	n := 0
	for _, p := range g.Points {
		n = max(n, p.Segment)
	}
	return n
}

// onlyCount is the count of a series that has no other event; ok is false where it has, or where others came before it.
func onlyCount(g *growth.Growth) (only growth.Point, ok bool) {
	if len(g.Points) != 1 || g.Points[0].Event != growth.Count {
		return only, false
	}
	return g.Points[0], true
}

// firstCount says what a first count came to, and what it takes to tell more.
func (b Kit) firstCount(v words.Locale, g *growth.Growth, p growth.Point) string {
	return words.Sentences(v.Text("growth-text.first", "size", sizeText(v, g.Measure, p.Size), "date", v.Date(p.Date)), whyNot(v, g))
}

// growthAdvice says how much to leave and how often to cut, and asks about what is hard to believe.
func growthAdvice(v words.Locale, g *growth.Growth) []string {
	if !g.Standing() {
		return nil
	}
	out := words.NonEmpty(keepText(v, g))
	if g.Fit != nil && g.Fit.StateSpace.Ask {
		out = append(out, v.Text("growth-text.ask"))
	}
	return out
}

// growthFolded says what yield and sizes rest on.
func (b Kit) growthFolded(v words.Locale, g *growth.Growth) []string {
	var out []string
	if !g.Standing() {
		return nil
	}
	if y := b.Facts.Yield(g.Tank, g.Plant); y.FromLots {
		out = append(out, v.Text("growth-text.from-lots"))
	}
	if g.Assumed {
		out = append(out, v.Text("growth-text.assumed"))
	}
	return out
}

// growthWorking tells how the figures came about: the models in words, their figures, the regression beside them.
func (b Kit) growthWorking(addr string, v words.Locale, g *growth.Growth) []template.HTML {
	d, l := g.Fit.StateSpace, g.Fit.Line
	var out []template.HTML
	add := func(key string, pairs ...any) { out = append(out, v.HTML("growth-text."+key, pairs...)) }
	add("w-measure-" + g.Measure.String())
	add("w-diary")
	if g.Sums().Ceiling > 0 {
		add("w-cover")
	}
	if g.Measure.Counted() {
		add("w-whole")
	}
	add("w-diary-figures", "m", v.N(100*d.CountError.Value, 0), "m-low", v.N(100*d.CountError.Low, 0), "m-high", v.N(100*d.CountError.High, 0),
		"q", v.N(100*d.ProcessSD.Value, 1), "q-low", v.N(100*d.ProcessSD.Low, 1), "q-high", v.N(100*d.ProcessSD.High, 1),
		"rate", v.N(d.Rate.Value, 4), "low", v.N(d.Rate.Low, 4), "high", v.N(d.Rate.High, 4), "n", d.Counts)
	add("w-line")
	add("w-line-figures", "rate", v.N(l.Rate.Value, 4), "low", v.N(l.Rate.Low, 4), "high", v.N(l.Rate.High, 4), "n", l.Points, "runs", len(l.Segments), "free", l.DF,
		"spread", v.N(100*l.ResidualSD, 0), "robust", v.N(l.Robust.Value, 4))
	if c := g.Fit.Logistic; c.Chosen() {
		add("w-curve", "rate", v.N(c.Rate.Value, 4), "low", v.N(c.Rate.Low, 4), "high", v.N(c.Rate.High, 4), "aicc", v.N(c.AICc, 1), "line", v.N(c.LineAICc, 1))
	} else if c != nil {
		add("w-no-curve", "aicc", v.N(c.AICc, 1), "line", v.N(c.LineAICc, 1))
	}
	if g.Goal > 0 {
		add("w-goal-"+g.GoalFrom.String(), "size", sizeText(v, g.Measure, g.Goal), "stems", g.Stems)
		kinds, least, most := dynamics.WindowCoverage()
		add("w-window", "kinds", words.NumberWord(v, kinds), "least", v.N(100*least, 0), "most", v.N(100*most, 0))
		add("w-held", "link", b.Href(addr, b.ForecastsAddr))
		if g.Of >= dynamics.FewestPast {
			add("w-stretch", "hits", g.Hits, "n", g.Of)
		}
	}
	if g.HarvestPlan.Every > 0 {
		add("w-keep", "least", sizeText(v, g.Measure, g.LeastCut))
	}
	add("w-sources")
	return out
}

func habitRows(v words.Locale, g *growth.Growth) []HabitRow {
	var out []HabitRow
	if g.HarvestPlan.Every == 0 {
		return nil
	}
	for _, k := range g.HarvestPlans {
		out = append(out, HabitRow{v.Text("growth-text.weeks", "n", int(k.Every/7+0.5)), sizeText(v, g.Measure, k.Leave), sizeText(v, g.Measure, k.TrimAt), v.Text("figure.percent", "n", words.Percent(v, k.OfBest))})
	}
	return out
}

// Pace is how fast a plant grows here: the shortest doubling time of those that are known; "" where none is.
func (b Kit) Pace(v words.Locale, id string) string {
	best := 0.0
	for _, g := range b.Facts.GrowthOfPlant(id) {
		if g.Fit == nil || !g.Standing() {
			continue
		}
		d, levelled := smallDoubling(g)
		if !levelled {
			d = g.Fit.StateSpace.Doubling
		}
		if d.Growing && !d.Open && (best == 0 || d.Days < best) {
			best = d.Days
		}
	}
	if best == 0 {
		return ""
	}
	return v.Text("growth-text.pace", "days", words.Days(v, best))
}
