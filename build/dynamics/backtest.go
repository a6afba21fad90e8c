package dynamics

import (
	"math"
	"slices"
	"sort"

	"slipleaf/build/reckon"
)

// Past is an earlier window and what became of it.
type Past struct {
	Made    float64 // day on which it was made
	Window  Window
	Reached float64 // day on which the goal was reached; of a miss, the last day on which it was known not to be
	Missed  bool    // the window ran out without the goal
}

// Hit reports whether the goal was reached on a day of the window; for an open one, on its first day or later.
func (p Past) Hit() bool {
	low, high := p.Window.Days()
	on := math.Round(p.Reached)
	return !p.Missed && on >= low && (p.Window.Open || on <= high)
}

// Hits counts the past windows that held, of those with two ends.
func Hits(record []Past) (hits, of int) {
	for _, p := range record {
		if p.Window.Open {
			continue
		}
		of++
		if p.Hit() {
			hits++
		}
	}
	return hits, of
}

// FewestPast is how many past windows it takes to stretch or shrink the next one (our choice).
const FewestPast = 10

// Stretch widens or narrows a window by the grower's own record: by the factor that would have made the past windows
// hold as often as they say they do. It is the quantile of how far the goals lay from the middle, in half widths
// (split conformal prediction: Vovk, Gammerman & Shafer 2005), drawn toward 1 by as much as ten more windows that were
// right, and kept within a half to three. A record of fewer than [FewestPast] changes nothing. The window does not
// begin before the day from.
func (w Window) Stretch(record []Past, from float64) Window {
	var off []float64
	for _, p := range record {
		if half := p.half(); !p.Window.Open && half > 0 { // of a miss: it lay that far off at least
			off = append(off, math.Abs(p.Reached-p.Window.Best)/half)
		}
	}
	n := len(off)
	if n < FewestPast {
		return w
	}
	sort.Float64s(off)
	k := off[min(n, int(math.Ceil(w.Level*float64(n+1))))-1]
	k = math.Pow(min(max(k, 0.5), 3), float64(n)/float64(n+10))
	w.Low = max(from, w.Best-k*(w.Best-w.Low))
	if !w.Open {
		w.High = w.Best + k*(w.High-w.Best)
	}
	return w
}

// half is the width of the window on the side on which the goal was reached.
func (p Past) half() float64 {
	if p.Reached < p.Window.Best {
		return p.Window.Best - p.Window.Low
	}
	return p.Window.High - p.Window.Best
}

// Backtest re-runs the state-space model on the past: at each day with a count, as soon as there were counts enough, it
// tells when the goal would be reached, from what was known by the evening of that day (but for who counts too high). The
// goal counts as reached where the line between two counts (on the scale of growth, from what the last change left)
// crosses it. A window that ran out with the goal not reached is a miss; one that a cut overtook, or that is not over, is
// left out. The filters run over the visits once; what they held on each evening is looked at as it was.
func Backtest(s Series, goal, level float64) ([]Past, error) {
	vs, err := s.visits()
	if err = reckon.FirstError(err, reckon.Inside("goal", goal, leastSize, mostSize, sizeWhy), levelInside(level)); err != nil {
		return nil, err
	}
	var out []Past
	running := grid(scale{s.Ceiling}, s.prior(), len(s.Counts))
	for i, v := range vs {
		running = followAll(running, vs[i:i+1])
		if v.counted == 0 || s.enough(vs[:i+1], FewestDF) != nil {
			continue
		}
		reached, until := s.outcome(vs[i:], goal)
		if math.IsInf(until, 1) {
			continue
		}
		d := s.since(vs[:i+1])
		if d.nodes = slices.Clone(running); !d.Wanders {
			d.nodes = slices.DeleteFunc(d.nodes, func(n node) bool { return n.s > 0 })
		}
		d.settle()
		if w, err := d.FirstPassage(goal, level); err == nil {
			if p := (Past{v.day, w, reached, false}); reached > 0 {
				out = append(out, p)
			} else if _, high := w.Days(); !w.Open && until > high {
				out = append(out, Past{v.day, w, until, true})
			}
		}
	}
	return out, nil
}

// outcome is the day after the first of the visits on which the counts cross the goal before anything else changes; else 0,
// and the last day on which it was known not to be reached. Until is infinite where the first visit leaves nothing to wait for.
func (s Series) outcome(vs []visit, goal float64) (reached, until float64) {
	on := scale{s.Ceiling}
	size, day := vs[0].size()+vs[0].change, vs[0].day
	if size >= goal || size <= 0 || vs[0].ends {
		return 0, math.Inf(1)
	}
	for _, v := range vs[1:] {
		if v.nothing {
			return 0, day
		}
		if v.counted > 0 {
			if v.size() >= goal {
				from := on.of(size)
				return day + (v.day-day)*min(max((on.of(goal)-from)/(v.x-from), 0), 1), v.day
			}
			day, size = v.day, v.size()
		}
		if v.changed {
			return 0, day
		}
	}
	return 0, day
}
