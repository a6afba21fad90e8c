package dynamics

import (
	"errors"
	"math"
	"slices"
	"sort"

	"slipleaf/build/reckon"
)

// Past is an earlier window and what became of it.
type Past struct {
	Made    float64 // day on which it was made
	Window  Window
	Reached float64 // day on which the goal was reached
}

// Hit tells whether the goal was reached inside the window; for an open one, on its first day or later.
func (p Past) Hit() bool {
	return p.Reached >= p.Window.Low && (p.Window.Open || p.Reached <= p.Window.High)
}

// Hits counts the past windows that held.
func Hits(record []Past) (hits, of int) {
	for _, p := range record {
		if p.Hit() {
			hits++
		}
	}
	return hits, len(record)
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
		if half := p.half(); !p.Window.Open && half > 0 {
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

// Backtest re-runs the diary model on the past: at each day with a count, as soon as there were counts enough, it tells
// when the goal would be reached, from what was known by the evening of that day. The goal counts as reached where the
// line between two counts (on the log scale, from what the last change left) crosses it; windows that a cut overtook
// are left out. The filters run over the visits once; what they held on each evening is looked at as it was.
func Backtest(s Series, goal, level float64) ([]Past, error) {
	vs, err := s.visits()
	if err = reckon.FirstError(err, reckon.Inside("goal", goal, leastSize, mostSize, sizeWhy), levelInside(level)); err != nil {
		return nil, err
	}
	var out []Past
	running := grid()
	for i, v := range vs {
		for k := range running {
			running[k].follow(vs[i : i+1])
		}
		if v.counted == 0 {
			continue
		}
		reached, ok := reachedAfter(vs, i, goal)
		if !ok || s.enough(vs[:i+1], FewestDF) != nil {
			continue
		}
		d := since(vs[:i+1], level)
		d.nodes = slices.Clone(running)
		d.settle()
		w, err := d.FirstPassage(goal, level)
		var far *TooFar
		switch {
		case err == nil:
			out = append(out, Past{Made: v.day, Window: w, Reached: reached})
		case !errors.As(err, &far): // nothing stands there
			continue
		}
	}
	return out, nil
}

// reachedAfter is the day after visit i on which the counts cross the goal before anything else changes.
func reachedAfter(vs []visit, i int, goal float64) (float64, bool) {
	size := vs[i].size() + vs[i].change
	if size >= goal || size <= 0 {
		return 0, false
	}
	day := vs[i].day
	for _, v := range vs[i+1:] {
		if v.nothing {
			return 0, false
		}
		if v.counted > 0 {
			if v.size() >= goal {
				return day + (v.day-day)*math.Log(goal/size)/math.Log(v.size()/size), true
			}
			day, size = v.day, v.size()
		}
		if v.changed {
			return 0, false
		}
	}
	return 0, false
}
