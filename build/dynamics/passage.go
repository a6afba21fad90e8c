package dynamics

import (
	"fmt"
	"math"

	"slipleaf/build/reckon"
)

// Horizon is the farthest that anything is foretold, in days (our choice).
const Horizon = 60.0

// Window is when a stand will reach a size: between two days, never on one.
type Window struct {
	Low, Best, High float64 // days on the scale of the series; Best is as likely too early as too late
	Open            bool    // High lies beyond what can be foretold, and is at the end of that
	Level           float64 // of the window, 0.8 for 80 %; of an open one, how surely it is not before Low
}

// Days are the first and the last whole day of a window: a day belongs to it when its middle does, so that what is added
// at one end is on average what is lost at the other.
func (w Window) Days() (low, high float64) {
	low, high = math.Ceil(w.Low), math.Floor(w.High)
	if low > high {
		low = math.Round(w.Best)
		high = low
	}
	return low, high
}

// TooFar says that a goal will rather not be reached within the days that can be foretold.
type TooFar struct {
	Days   float64 // how far the model may look: the span of the counts, 60 at the most
	Chance float64 // that the goal is reached by then
}

// Unlikely is the chance under which a goal is said to be not likely to be reached; above it the chance itself is (our choice).
const Unlikely = 0.2

// Error tells how far the model looks.
func (e *TooFar) Error() string {
	if e.Chance >= Unlikely {
		return fmt.Sprintf("a chance of %.0f %% within %g days, which is as far as these counts can tell", 100*e.Chance, math.Round(e.Days))
	}
	return fmt.Sprintf("not likely within %g days, which is as far as these counts can tell", math.Round(e.Days))
}

// FirstPassage is the window in which the stand reaches the goal, counted from Last. The model is run forward: by a day
// the goal is reached with the chance that the largest size up to that day is as large ([StateSpace.largeBy]). A window that
// begins at Last, because the goal may be reached already, ends where it holds with its level too. It looks no farther than
// the counts span, nor than [Horizon] days: *[TooFar]. It returns an *[InputError] for a goal that is no size, and where
// nothing is.
func (d *StateSpace) FirstPassage(goal, level float64) (Window, error) {
	if err := reckon.FirstError(reckon.Inside("goal", goal, leastSize, mostSize, sizeWhy), levelInside(level)); err != nil {
		return Window{}, err
	}
	if !d.Standing() {
		return Window{}, &reckon.InputError{Kind: reckon.NotModelled, Name: "window", Why: "nothing stands there"}
	}
	low, high := (1-level)/2, (1+level)/2
	p := d.passage(goal, 0, high)
	if p.chance() < 0.5 {
		return Window{}, &TooFar{p.far, normalBelow(p.z[passageSteps] + chanceShift)}
	}
	if p.quantile(low) == 0 {
		high = level
	}
	late := p
	if d.Counts < slowingShown {
		late = d.passage(goal, slowdown, high)
	}
	w := Window{Level: level, Low: d.Last + p.quantile(low), Best: d.Last + p.quantile(0.5), High: d.Last + late.quantile(high)}
	if w.Open = late.chance() < high; w.Open {
		w.Level = (1 + level) / 2
	}
	return w, nil
}

// chanceShift is by how much a chance under a half is raised, on the scale of the normal quantile: so much more often the goal
// came on made-up diaries of all kinds together (our choice; COVERAGE.md says how often it comes now).
const chanceShift = 0.2

// horizon is how far the model may look: no farther than the counts span.
func (d *StateSpace) horizon() float64 { return min(Horizon, d.Seen-d.First) }

// slowdown is the share of the rate by which growth may slow on the way to the goal where there are so few counts that they cannot
// show it. It moves the far end of a window only. Our choice, so that windows hold what they say where growth levels off
// (COVERAGE.md).
const slowdown, slowingShown = 0.5, 6

// passageSteps are the days on which the chance is worked out, closer at the beginning; between them it is followed on the
// scale of the normal quantile, where it runs nearly straight.
const passageSteps = 16

// passage is the chance that a goal is reached by each of some days from Last.
type passage struct {
	far float64
	day [passageSteps + 1]float64
	z   [passageSteps + 1]float64 // normal quantile of the chance, which never falls
}

// passage works out the chances as far as one of enough, and takes those after it for no less: nothing more is asked of them.
func (d *StateSpace) passage(goal, slow, enough float64) passage {
	p := passage{far: d.horizon()}
	top, last := math.Inf(-1), reckon.NormalQuantile(enough)
	for i := range p.day {
		f := float64(i) / passageSteps
		if p.day[i] = p.far * f * f; top > last {
			p.z[i] = top
			continue
		}
		top = max(top, reckon.NormalQuantile(min(max(d.largeBy(d.on.of(goal), p.day[i], slow), 1e-12), 1-1e-12)))
		p.z[i] = top
	}
	return p
}

// largeBy is the chance that the size has been at or above a place within some days, where the rate may slow by a share. It
// is that of the size on the last of them with the [excess] added and its square taken off the variance: within 0.01 of drawn
// paths on average, and within 0.08 where nothing grows.
func (d *StateSpace) largeBy(place, days, slow float64) float64 {
	sum := 0.0
	slow *= days
	for i := range d.nodes {
		n := &d.nodes[i]
		b := n.ahead(n.day + days)
		// the rate is lower by a share that lies anywhere between nothing and the slowdown
		up := excess(b.r, n.q, days)
		b.x += up - b.r*slow/2
		b.xx += b.r*b.r*slow*slow/12 - up*up
		sum += n.weight * normalBelow((b.x-place)/math.Sqrt(max(b.xx, 1e-18)))
	}
	return sum
}

// excess is by how much the largest size up to a day is above that of the day, on average, where growth at rate r is uneven by
// q per √day: about q√(2·days/π) at first, and q²/(2r) in the end (Borodin & Salminen 2002, Handbook of Brownian Motion,
// section 2.1). What lies between follows half their harmonic mean (our choice).
func excess(r, q, days float64) float64 {
	first := q * math.Sqrt(2*days/math.Pi)
	if r <= 0 || first == 0 {
		return first
	}
	end := q * q / (2 * r)
	return first * end / (first + end)
}

// chance is that of the goal within all days.
func (p *passage) chance() float64 { return normalBelow(p.z[passageSteps]) }

// quantile is the day by which the goal is reached with a chance of c; the last one where it is not.
func (p *passage) quantile(c float64) float64 {
	z := reckon.NormalQuantile(c)
	for i := range p.z {
		if p.z[i] < z {
			continue
		}
		if i == 0 {
			return 0
		}
		return p.day[i-1] + (p.day[i]-p.day[i-1])*(z-p.z[i-1])/(p.z[i]-p.z[i-1])
	}
	return p.far
}
