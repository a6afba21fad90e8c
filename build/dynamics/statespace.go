package dynamics

import "slipleaf/build/reckon"

// StateSpace is the state-space model of a series: growth at a rate r with unevenness from day to day, counts with error,
// cuts and plantings applied to the size itself.
//
//	x(t+dt) = x(t) + r dt + q √dt N(0,1)      x = ln size, or its logit where it has a ceiling
//	r(t+dt) = r(t) + s √dt N(0,1)             from some counts on
//	y = x + m N(0,1)                          one count in twenty may be wild
//	W' = W + change                           at a cut, a loss or a planting
//	x' = x − c                                after a cut: the days for which plants rest
//
// An extended Kalman filter follows (x, r, c) for each m, q and s of a grid, and the grid is weighed by how well it foretold
// the counts and by weak priors: m about 8 %, q about 0.015 per √day, r about 0.04 ± 0.15 per day, c about 0.01 ± 0.05 (our choice).
type StateSpace struct {
	Rate       reckon.Interval // r per day with the days of rest after cuts; where it may wander, of the last four weeks with their unevenness; of a size with a ceiling, while there is room
	Average    reckon.Interval // r per day over the whole diary, taken as the same all the time
	Doubling   Doubling        // at the rate of now
	CountError reckon.Interval // m: the sd of a count on the scale of growth; without a ceiling about the relative error
	ProcessSD  reckon.Interval // q: sd of the size on that scale per √day
	Wanders    bool            // whether the rate may wander: there are counts enough
	PriorShare float64         // of what is known of the rate, how much was known before any count: 0 to 1
	Counts     int             // counts above 0
	First      float64         // day of the first count
	Seen       float64         // day of the last count
	Last       float64         // day of the last count or change
	Ask        bool            // a rooted plant faster than [AskAbove]

	on    scale
	nodes []node
}

// rateDays are the four weeks over which the rate of now is taken: unevenness of sd q per √day moves their mean by q/√days.
const rateDays = 28

// FitStateSpace fits the state-space model and gives figures with intervals of the given level (0.95). It returns
// *[TooFewCounts], *[TooFast] and *[InputError] as [FitLine] does.
func FitStateSpace(s Series, level float64) (*StateSpace, error) {
	vs, _, err := s.ready()
	if err := reckon.FirstError(err, levelInside(level)); err != nil {
		return nil, err
	}
	return s.fitStateSpace(vs, level).unlessTooFast()
}

// FewestEarly counts are enough for a window, where the kind of growth is known ([Series].Prior).
const FewestEarly = 3

// FitEarly fits the state-space model to counts that are too few to show a rate, for the sake of a window: the rest comes
// from what is known of the kind. It returns *[TooFewCounts] under [FewestEarly] dates and without a Prior, *[TooFast] and
// *[InputError] as [FitStateSpace] does.
func FitEarly(s Series, level float64) (*StateSpace, error) {
	vs, err := s.visits()
	if err := reckon.FirstError(err, levelInside(level)); err != nil {
		return nil, err
	}
	dates := 0
	for _, v := range vs {
		dates += min(v.counted, 1)
	}
	if dates < FewestEarly || s.Prior.SD <= 0 {
		return nil, &TooFewCounts{Dates: dates, NeedSpan: ShortestSpan}
	}
	return s.fitStateSpace(vs, level).unlessTooFast()
}

func (d *StateSpace) unlessTooFast() (*StateSpace, error) {
	if d.Rate.Value > FastestRate {
		return nil, &TooFast{d.Rate.Value}
	}
	return d, nil
}

// fitStateSpace follows the visits with every node of the grid.
func (s Series) fitStateSpace(vs []visit, level float64) *StateSpace {
	d := s.since(vs)
	d.nodes = followAll(grid(d.on, s.prior(), d.Counts), vs)
	d.settle()
	d.Average = mixture(steady(d.nodes), level, d.net(vs, d.First))
	if d.Rate = d.Average; d.Wanders {
		now := d.net(vs, max(d.First, d.Last-rateDays))
		d.Rate = mixture(d.nodes, level, func(n *node) (float64, float64) {
			mean, variance := now(n)
			return mean, variance + n.q*n.q/rateDays
		})
	}
	for _, n := range d.nodes {
		d.PriorShare += n.weight * n.now.rr / (s.prior().SD * s.prior().SD)
	}
	d.PriorShare = min(d.PriorShare, 1)
	d.Ask = s.Rooted && d.Rate.Value > AskAbove
	d.Doubling = DoublingTime(d.Rate)
	d.CountError = marginal(d.nodes, level, func(n *node) float64 { return n.m })
	d.ProcessSD = marginal(d.nodes, level, func(n *node) float64 { return n.q })
	return d
}

// net is the growth per day from a day to the last one, less what the cuts between cost.
func (d *StateSpace) net(vs []visit, from float64) func(*node) (mean, variance float64) {
	cuts := 0.0 // a day
	for _, v := range vs {
		if v.change < 0 && v.day >= from && v.day < d.Last {
			cuts += 1 / (d.Last - from)
		}
	}
	return func(n *node) (float64, float64) {
		return n.now.r - cuts*n.now.c, n.now.rr + cuts*(cuts*n.now.cc-2*n.now.rc)
	}
}

// since begins a fit with what its visits tell without one.
func (s Series) since(vs []visit) *StateSpace {
	d := &StateSpace{on: scale{s.Ceiling}}
	for _, v := range vs {
		if v.counted > 0 {
			if d.Seen = v.day; d.Counts == 0 {
				d.First = v.day
			}
		}
		d.Counts += v.counted
		d.Last = v.day
	}
	d.Wanders = d.Counts >= wanderFrom
	return d
}

// prior is that of the series, or of any plant.
func (s Series) prior() Prior {
	if s.Prior.SD > 0 {
		return s.Prior
	}
	return Prior{rateMean, rateSD}
}

// settle weighs the nodes that have followed all visits, and drops those that weigh nothing.
func (d *StateSpace) settle() {
	weigh(d.nodes)
	d.nodes = prune(d.nodes)
}

// steady are the nodes whose rate stays, weighed among themselves; all of them where none is left.
func steady(ns []node) []node {
	var out []node
	sum := 0.0
	for _, n := range ns {
		if n.s == 0 {
			out = append(out, n)
			sum += n.weight
		}
	}
	if len(out) == 0 {
		return ns
	}
	for i := range out {
		out[i].weight /= sum
	}
	return out
}

// Standing reports whether anything is there after the last entry.
func (d *StateSpace) Standing() bool { return d.nodes[0].standing }

// SizeOn is the size that is on a day not before Last, with its interval; 0 when nothing is there. A
// *[InputError] for a day before Last or over [Horizon] days after it.
func (d *StateSpace) SizeOn(day, level float64) (reckon.Interval, error) {
	err := reckon.FirstError(reckon.Inside("day", day, d.Last, d.Last+Horizon, "a size is told from the last entry on, and for 60 days"), levelInside(level))
	if err != nil {
		return reckon.Interval{}, err
	}
	if !d.Standing() {
		return reckon.Interval{Level: level}, nil
	}
	e := mixture(d.nodes, level, func(n *node) (float64, float64) {
		b := n.ahead(day)
		return b.x, b.xx
	})
	return reckon.Interval{Value: d.on.size(e.Value), Low: d.on.size(e.Low), High: d.on.size(e.High), Level: level}, nil
}
