package plot

import (
	"errors"
	"html/template"
	"math"

	"slipleaf/build/dynamics"
	"slipleaf/build/growth"
	"slipleaf/build/quantity"
	"slipleaf/build/words"
)

// sizeText prints a size in the unit that charts use.
func sizeText(v words.Locale, m growth.Measure, size float64) string {
	if m.Counted() {
		return v.Text("amount."+m.String(), "n", int(math.Round(size)))
	}
	unit, holds := measureUnit(v, m)
	return v.N(size/holds, words.SizeDecimals(size/holds)) + "\u00a0" + unit
}

// sizeFigure prints a size in the unit that charts use, without naming it.
func sizeFigure(v words.Locale, m growth.Measure, size float64) string {
	_, holds := measureUnit(v, m)
	return v.N(size/holds, words.SizeDecimals(size/holds))
}

// measureUnit is the unit in which charts show a measure, and how much of the measure's own unit one of it holds; "" for
// what is counted. Weights stay in grams, as everywhere on the pages.
func measureUnit(v words.Locale, m growth.Measure) (unit string, holds float64) {
	us := v.Units == quantity.US
	switch {
	case m == growth.StemLength && us:
		return v.Text("figure.inch"), float64(words.MustFrom[quantity.Length](1, "in"))
	case m == growth.StemLength:
		return "cm", 1
	case m == growth.Cover && us:
		return v.Text("figure.inch") + "²", float64(words.MustFrom[quantity.Area](1, "in2"))
	case m == growth.Cover:
		return "dm²", 1
	case m == growth.Mass:
		return "g", 1
	}
	return "", 1
}

// measureName says what a chart of a measure shows: "centimetres of stem".
func measureName(v words.Locale, m growth.Measure) string {
	if v.Units == quantity.US && (m == growth.StemLength || m == growth.Cover) {
		return v.Text("growth-text.measure-us." + m.String())
	}
	return v.Text("growth-text.measure." + m.String())
}

// doublingText says in how many days a stand doubles, with its interval: by the diary model, or, where it levels off, while
// it was small.
func doublingText(v words.Locale, g *growth.Growth) string {
	d := g.Fit.StateSpace
	t := d.Doubling
	if small, ok := smallDoubling(g); ok {
		h := g.Fit.Logistic.Capacity
		return v.Text("growth-text.levelled", "days", words.Days(v, small.Days), "low", words.Days(v, small.Low), "high", words.Days(v, small.High), "n", d.Counts,
			"holds", sizeText(v, g.Measure, h.Value), "least", sizeFigure(v, g.Measure, h.Low), "most", sizeFigure(v, g.Measure, h.High))
	}
	switch {
	case d.Rate.High < 0:
		return v.Text("growth-text.declines", "n", d.Counts, "low", words.RatePercent(v, -d.Rate.High), "high", words.RatePercent(v, -d.Rate.Low))
	case !t.Growing:
		return v.Text("growth-text.not-growing", "n", d.Counts, "low", words.RatePercent(v, d.Rate.Low), "high", words.RatePercent(v, d.Rate.High))
	case t.Open:
		return v.Text("growth-text.doubles-open", "days", words.Days(v, t.Days), "n", d.Counts, "low", words.Days(v, t.Low))
	}
	low, high := daysBetween(v, t)
	pairs := []any{"days", words.Days(v, t.Days), "n", d.Counts, "low", low, "high", high}
	whole, late := "growth-text.doubles", "growth-text.doubles-now"
	if !g.Standing() {
		whole, late = "growth-text.doubled", "growth-text.doubled-late"
	}
	said := []string{v.Text(whole, pairs...)}
	if average, ok := averageDoubling(v, g); ok {
		low, high := daysBetween(v, average)
		said = []string{v.Text(late, pairs...), v.Text("growth-text.average", "days", words.Days(v, average.Days), "low", low, "high", high)}
	}
	if g.Sums().Ceiling > 0 {
		said = append(said, v.Text("growth-text.room"))
	}
	return words.Sentences(said...)
}

// daysBetween prints the ends of a doubling time.
func daysBetween(v words.Locale, t dynamics.Doubling) (low, high string) {
	places := words.FewDecimals(words.SizeDecimals(t.Low), t.Low, t.High)
	return v.N(t.Low, places), v.N(t.High, places)
}

// averageDoubling is the doubling time over the whole diary, where it is another than that of now; ok is false where there
// is none, or where its interval has no end.
func averageDoubling(v words.Locale, g *growth.Growth) (d dynamics.Doubling, ok bool) {
	if !g.Fit.StateSpace.Wanders {
		return d, false
	}
	d = dynamics.DoublingTime(g.Fit.StateSpace.Average)
	return d, d.Growing && !d.Open && words.Days(v, d.Days) != words.Days(v, g.Fit.StateSpace.Doubling.Days)
}

// smallDoubling is the doubling time of a stand that levels off, while it is small; ok is false where none does, or where
// its interval has no end.
func smallDoubling(g *growth.Growth) (d dynamics.Doubling, ok bool) {
	if g.Fit == nil || !g.Fit.Logistic.Chosen() {
		return d, false
	}
	d = dynamics.DoublingTime(g.Fit.Logistic.Rate)
	return d, d.Growing && !d.Open
}

// WindowText says when the next trim falls due: from a day to a day; from now on; or, when the window has begun, by when and
// how surely.
func WindowText(v words.Locale, w growth.Window, on quantity.Date) string {
	sure := v.N(100*w.Sure, 0)
	switch {
	case w.Overdue:
		return v.Text("growth-text.window-overdue", "since", v.DayMonth(w.Best))
	case w.Open && w.Low == on:
		return v.Text("growth-text.window-any-day")
	case w.Open:
		return v.Text("growth-text.window-open", "from", v.Date(w.Low))
	case w.High == on:
		return v.Text("growth-text.window-today", "sure", sure)
	case w.Low == on:
		return v.Text("growth-text.window-now", "to", v.DayMonth(w.High), "sure", sure)
	}
	return v.Text("growth-text.window", "from", v.DayMonth(w.Low), "to", v.DayMonth(w.High))
}

// WindowDays is a window in the fewest words, for beside its bar.
func WindowDays(v words.Locale, w growth.Window, on quantity.Date) string {
	switch {
	case w.Overdue, w.Open, w.Low == on:
		return words.Capital(WindowText(v, w, on))
	}
	return v.Dates(w.Low, w.High)
}

// nextText says when the next trim is expected, or why that cannot be known; "" where the plant is there no more.
func nextText(v words.Locale, g *growth.Growth, on quantity.Date) string {
	var far *dynamics.TooFar
	goal, seen := sizeText(v, g.Measure, g.Goal), ""
	if errors.As(g.NextWhy, &far) { // the days are those after the last line, not after today
		seen = v.Date(g.Ended().Add(int(math.Round(far.Days))))
	}
	switch {
	case !g.Standing() || g.Fit == nil && g.Early == nil:
		return ""
	case g.Next.Overdue:
		return v.Text("growth-text.overdue", "goal", goal, "from", v.DayMonth(g.Next.Low), "to", v.DayMonth(g.Next.High), "last", v.DayMonth(g.Ended()))
	case g.Next.Known():
		return words.Sentences(v.Text("growth-text.next", "goal", goal, "window", WindowText(v, g.Next, on)), earlyText(v, g))
	case g.Goal <= 0:
		return v.Text("growth-text.no-goal")
	case far != nil && far.Chance >= dynamics.Unlikely:
		return v.Text("growth-text.odds", "goal", goal, "date", seen, "share", v.N(5*math.Round(20*far.Chance), 0))
	case far != nil:
		return v.Text("growth-text.too-far", "goal", goal, "date", seen)
	}
	return ""
}

// earlyText says what a window rests on that was made of fewer counts than a rate needs; "" for others.
func earlyText(v words.Locale, g *growth.Growth) string {
	if g.Early == nil {
		return ""
	}
	key := "growth-text.early"
	if g.Kin > 0 {
		key = "growth-text.early-kin"
	}
	return v.Text(key, "n", g.Early.Counts, "tanks", g.Kin, "share", v.N(5*math.Round(20*g.Early.PriorShare), 0)) + "."
}

// HeldText says how often past windows held; "" where none is known.
func HeldText(v words.Locale, g *growth.Growth) string {
	if g.Of == 0 {
		return ""
	}
	return v.Text("growth-text.held", "hits", g.Hits, "n", g.Of)
}

// whyNot says why a series has no rate.
func whyNot(v words.Locale, g *growth.Growth) string {
	var fast *dynamics.TooFast
	if errors.As(g.Why, &fast) {
		return v.Text("growth-text.too-fast")
	}
	span := dynamics.ShortestSpan
	if g.Floating {
		span = dynamics.FloatingSpan
	}
	return v.Text("growth-text.too-few", "n", g.Counts, "span", v.N(span, 0), "dates", words.NumberWord(v, dynamics.FewestDates))
}

// yieldText says what a plant gives for its floor; "" where that is not known.
func yieldText(v words.Locale, y growth.Yield) template.HTML {
	r, weeks := y.Recent, quantity.Number(y.All.Weeks, 0)
	if !r.Known() {
		return ""
	}
	floor, dm2 := words.AreaUnit(v)
	recent, all := r.Weekly()*dm2, y.All.Weekly()*dm2
	rate := v.N(recent, rateDecimals(recent))
	n := 2
	if rate == "1" {
		n = 1
	}
	pairs := []any{"rate", rate, "n", n, "weeks", v.N(r.Weeks, 0), "all", v.N(all, rateDecimals(all)), "all-weeks", weeks, "floor", floor}
	switch {
	case r.Slips == 0 && y.All.Slips == 0:
		return v.HTML("growth-text.yield-none", pairs...)
	case r.Slips == 0:
		return v.HTML("growth-text.yield-not-lately", pairs...)
	case r.Weeks >= y.All.Weeks-0.5:
		return v.HTML("growth-text.yield", pairs...)
	}
	return v.HTML("growth-text.yield-both", pairs...)
}

func rateDecimals(rate float64) int {
	if rate < 1 {
		return 2
	}
	return 1
}

// keepText says how much to leave and how often to cut; "" where nothing can be said.
func keepText(v words.Locale, g *growth.Growth) string {
	k := g.HarvestPlan
	if k.Every == 0 {
		return ""
	}
	key := "growth-text.keep"
	if !g.CapacityKnown {
		key = "growth-text.keep-seen"
	}
	return v.Text(key, "days", v.N(k.Every, 0), "least", sizeText(v, g.Measure, g.LeastCut), "leave", sizeText(v, g.Measure, k.Leave), "at", sizeText(v, g.Measure, k.TrimAt))
}
