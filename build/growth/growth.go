package growth

import (
	"cmp"
	"errors"
	"math"
	"slices"
	"sync"

	"slipleaf/build/almanac"
	"slipleaf/build/dynamics"
	"slipleaf/build/fingerprint"
	"slipleaf/build/journal"
	"slipleaf/build/quantity"
	"slipleaf/build/reckon"
)

// Levels of the intervals: of rates and sizes, and of forecasts.
const (
	Level         = 0.95
	ForecastLevel = 0.80
)

// backtestMost is how many counts a record of past windows looks back over: each costs a window (our choice).
const backtestMost = 40

// Window is when the next trim falls due: between two days, never on one.
type Window struct {
	Low, Best, High quantity.Date
	Open            bool    // High is as far as can be foretold, and the goal may be reached later; Low holds at 90 %
	Overdue         bool    // it lies before today, and nothing was counted since
	Sure            float64 // share of cases in which the goal is reached by High, where that is not Open
}

// Known reports whether there is a window.
func (w Window) Known() bool { return !w.Low.IsZero() }

// Growth is a series with all that is told of it.
type Growth struct {
	*Series
	Floating bool
	Fit      *dynamics.Growth // nil where Why says why not
	Why      error            // *reckon.TooFewCounts, *reckon.TooFast, …
	// Early is the fit of counts that are too few for a rate: the rest of its window comes from what the almanac says of the
	// plant's growth, and from its growth in other tanks. nil where there is a Fit, or too little even for that.
	Early *dynamics.StateSpace
	Kin   int // in how many other tanks the plant's growth went into Early

	Today reckon.Interval // the size today by the diary model; zero when nothing is there or the counts are too old

	Goal     float64 // size at which it is trimmed; 0: none
	GoalFrom GoalFrom
	Next     Window // of the next trim; zero where NextWhy says why, or the plant is gone
	NextWhy  error
	Hits, Of int // how many of the windows made in the past held

	HarvestPlan   dynamics.HarvestPlan   // the habit of trimming that gives most; zero when nothing can be said
	HarvestPlans  []dynamics.HarvestPlan // the same with one to four weeks between cuts
	LeastCut      float64                // what a cut of HarvestPlan gives at least: the usual one, where the diary knows one and it is not too much
	CapacityKnown bool                   // what the space holds is known; else HarvestPlan rests on the largest size seen

	kin     []*Growth       // the same plant in other tanks, where this one has few counts
	counted fingerprint.Sum // of all that Fit rests on, whatever the day
	made    fingerprint.Sum // of all that it rests on: two of one fingerprint are the same
	on      quantity.Date
	once    sync.Once
}

// begin is a series before its fit, with the size at which it is trimmed.
func begin(j *journal.Journal, s *Series, sp almanac.Species, on quantity.Date) *Growth {
	floating := sp.Habit == "floating"
	g := &Growth{Series: s, Floating: floating, on: on}
	s.sums.Prior = classPrior(sp.Growth)
	s.sums.Floating, s.sums.Rooted = floating, !floating
	g.Goal, g.GoalFrom = goal(j, s)
	return g
}

// classPrior is the growth rate of plants that are called slow, medium, fast or very fast, per day: common practice, and as wide as
// what is published of single species (0.005 to 0.11 for submerged ones: Nielsen & Sand-Jensen 1991, Aquatic Botany
// 39:109–120). It is used while counts are too few to show a rate, and never afterwards.
func classPrior(class string) dynamics.Prior {
	switch class {
	case "slow":
		return dynamics.Prior{Mean: 0.015, SD: 0.02}
	case "medium":
		return dynamics.Prior{Mean: 0.035, SD: 0.03}
	case "fast":
		return dynamics.Prior{Mean: 0.06, SD: 0.04}
	case "very-fast":
		return dynamics.Prior{Mean: 0.12, SD: 0.08}
	}
	return dynamics.Prior{}
}

// fit fits a series and runs it forward to its day, once.
func (g *Growth) fit() {
	g.once.Do(func() { g.estimate(g.on) })
}

func (g *Growth) estimate(on quantity.Date) {
	counted := g.sums
	counted.Prior = dynamics.Prior{} // what is known of the kind is no part of a rate that is shown
	if g.Fit, g.Why = dynamics.FitGrowth(counted, Level); g.Why != nil {
		g.Fit = nil
		g.early(on)
		return
	}
	g.planHarvest()
	if !g.Standing() {
		return
	}
	g.Today, _ = g.Fit.StateSpace.SizeOn(float64(on.Days()), Level)
	g.next(on)
}

// early finds a window from the third count on.
func (g *Growth) early(on quantity.Date) {
	var few *dynamics.TooFewCounts
	if !errors.As(g.Why, &few) || !g.Standing() || g.Goal <= 0 {
		return
	}
	sums := g.sums
	sums.Prior = g.prior()
	d, err := dynamics.FitEarly(sums, Level)
	if err != nil {
		return
	}
	g.Early = d
	w, err := d.FirstPassage(g.Goal, ForecastLevel)
	if g.NextWhy = err; err == nil {
		g.Next = windowOn(w, d.Last, on)
	}
}

// prior is what is known of the plant's rate before its counts: by its class of growth, and by how it grows in other tanks.
func (g *Growth) prior() dynamics.Prior {
	var rates []reckon.Interval
	for _, k := range g.kin {
		if k.fit(); k.Fit != nil {
			rates = append(rates, k.Fit.StateSpace.Average)
		}
	}
	g.Kin = len(rates)
	return g.sums.Prior.With(rates)
}

// next finds the window of the next trim, and how often such windows held.
func (g *Growth) next(on quantity.Date) {
	if g.Goal <= 0 {
		return
	}
	record, err := dynamics.Backtest(g.recent(), g.Goal, ForecastLevel)
	if err == nil {
		g.Hits, g.Of = dynamics.Hits(record)
	}
	var w dynamics.Window
	if w, g.NextWhy = g.Fit.NextTrim(g.Goal, ForecastLevel); g.NextWhy != nil {
		return
	}
	g.Next = windowOn(w.Stretch(record, g.Fit.StateSpace.Last), g.Fit.StateSpace.Last, on)
}

// windowOn is a window as it is told on a day. One that is not over begins today at the earliest, and so does one of a plant
// that was large enough when it was last written of: it is due now.
func windowOn(w dynamics.Window, last float64, on quantity.Date) Window {
	low, high := w.Days()
	out := Window{Low: quantity.FromDays(int(low)), Best: quantity.FromDays(int(math.Round(w.Best))), High: quantity.FromDays(int(high)), Open: w.Open, Sure: (1 + w.Level) / 2}
	if w.Low <= last { // it may be reached already, and its level is that of its far end
		out.Sure = w.Level
	}
	if out.Overdue = !w.Open && high > last && out.High.Before(on); out.Overdue {
		return out
	}
	return out.from(on)
}

// from is the window without the days before one.
func (w Window) from(on quantity.Date) Window {
	if !w.Known() {
		return w
	}
	for _, d := range [...]*quantity.Date{&w.Low, &w.Best, &w.High} {
		if d.Before(on) {
			*d = on
		}
	}
	return w
}

// recent is the series from its last [backtestMost] days with a count on.
func (g *Growth) recent() dynamics.Series {
	s := g.sums
	seen, from := 0, math.Inf(-1)
	for i := len(g.Points) - 1; i >= 0 && seen < backtestMost; i-- {
		if g.Points[i].Event == Count {
			seen, from = seen+1, float64(g.Points[i].Date.Days())
		}
	}
	s.Prior = dynamics.Prior{}
	s.Counts = slices.DeleteFunc(slices.Clone(s.Counts), func(c dynamics.Count) bool { return c.Day < from })
	s.Changes = slices.DeleteFunc(slices.Clone(s.Changes), func(c dynamics.Change) bool { return c.Day < from })
	return s
}

// smallestCut is the part of the size to trim at that a cut takes where the diary knows none (our choice).
const smallestCut = 0.3

// planHarvest finds how much to leave and how often to cut: the habit that gives most among those whose cuts are worth the water
// on the floor, that is, take as much as the grower's usual cut. It needs a rate that is surely above nothing.
func (g *Growth) planHarvest() {
	rate := g.Fit.StateSpace.Average
	if !(rate.Low > 0) {
		return
	}
	back := dynamics.Regrowth{Rate: rate.Value}
	if g.Fit.Logistic.Chosen() {
		back.Rate, back.Capacity, g.CapacityKnown = g.Fit.Logistic.Rate.Value, g.Fit.Logistic.Capacity.Value, true
	} else if c := g.sums.Ceiling; c > 0 {
		back.Capacity, g.CapacityKnown = c, true
	} else if back.Most = g.Goal; back.Most <= 0 {
		back.Most = g.largest()
	}
	most := max(back.Capacity, back.Most)
	least := min(cmp.Or(g.sums.UsualCut(), smallestCut*most), 0.45*most)
	best, weeks, err := back.BestHarvestPlan(least)
	if err != nil {
		return
	}
	g.HarvestPlan, g.HarvestPlans, g.LeastCut = best, weeks, least
}

func (s *Series) largest() (most float64) {
	for _, p := range s.Points {
		if p.Event == Count {
			most = max(most, p.Size)
		}
	}
	return most
}
