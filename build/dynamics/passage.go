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
	Open            bool    // High lies beyond what can be foretold, and stands at the end of that
	Level           float64 // of the window, 0.8 for 80 %
}

// TooFar says that a goal will hardly be reached within the days that can be foretold.
type TooFar struct {
	Days float64 // how far the model may look: the span of the counts, 60 at the most
}

// Error tells how far the model looks.
func (e *TooFar) Error() string {
	return fmt.Sprintf("not likely within %g days, which is as far as these counts can tell", math.Round(e.Days))
}

// FirstPassage is the window in which the stand reaches the goal, counted from Last. The diary model is run forward: for each
// of many places of the state the first passage of growth with unevenness has the inverse Gaussian distribution
// (Schrödinger 1915, Phys. Z. 16:289–295), and the window takes the quantiles of them all. It looks no farther than the
// counts span, nor than [Horizon] days: *[TooFar]. It
// returns an *[InputError] for a goal that is no size, and where nothing stands.
func (d *StateSpace) FirstPassage(goal, level float64) (Window, error) {
	if err := reckon.FirstError(reckon.Inside("goal", goal, leastSize, mostSize, sizeWhy), levelInside(level)); err != nil {
		return Window{}, err
	}
	if !d.Standing() {
		return Window{}, &reckon.InputError{Kind: reckon.NotModelled, Name: "window", Why: "nothing stands there"}
	}
	far := d.horizon()
	paths := d.draws(math.Log(goal))
	w := Window{Level: level}
	if reached(paths, far) < 0.5 {
		return Window{}, &TooFar{far}
	}
	w.Best = d.Last + passage(paths, 0.5, far)
	w.Low = d.Last + passage(paths, (1-level)/2, far)
	w.High = d.Last + far
	w.Open = reached(paths, far) < (1+level)/2
	if !w.Open {
		w.High = d.Last + passage(paths, (1+level)/2, far)
	}
	return w, nil
}

// horizon is how far the model may look: no farther than the counts span.
func (d *StateSpace) horizon() float64 { return min(Horizon, d.Seen-d.First) }

// draw is one place of the state: how far the goal lies on the ln scale, the rate, the unevenness.
type draw struct{ gap, r, q float64 }

// drawCount places make the ends of a window firm to a third of a day or so.
const drawCount = 256

// slowdown is the share of the rate by which growth may slow on the way to the goal, by how many counts there are: a few
// cannot show a slowing. Our choice, so that windows hold what they say where growth levels off (COVERAGE.md).
func slowdown(counts int) float64 {
	switch {
	case counts < 6:
		return 0.4
	case counts < 8:
		return 0.15
	}
	return 0.05
}

// Steps of the low-discrepancy sequence that spreads the places, so that nothing is drawn at random: powers of the
// inverse of the root of x⁵ = x + 1 (common practice).
const (
	step1 = 0.8566748838545029
	step2 = step1 * step1
	step3 = step2 * step1
	step4 = step3 * step1
)

// draws spreads places over the nodes by their weight, and over each one's state, the rest after a cut, and the
// slowing of growth on the way.
func (d *StateSpace) draws(goal float64) []draw {
	out := make([]draw, 0, drawCount)
	slow := slowdown(d.Counts)
	k, sum := 0, d.nodes[0].weight
	for i := range drawCount {
		for p := (float64(i) + 0.5) / drawCount; sum < p && k < len(d.nodes)-1; {
			k++
			sum += d.nodes[k].weight
		}
		out = append(out, d.nodes[k].draw(goal, slow, float64(i+1)))
	}
	return out
}

// draw takes the place number i of the node's state.
func (n *node) draw(goal, slow, i float64) draw {
	b := &n.now
	z, y := reckon.NormalQuantile(fraction(0.5+i*step1)), reckon.NormalQuantile(fraction(0.5+i*step2))
	sd := math.Sqrt(max(b.xx, 1e-18))
	slope := b.xr / sd
	r := b.r + slope*z + math.Sqrt(max(b.rr-slope*slope, 0))*y
	r *= 1 - slow*fraction(0.5+i*step3)
	gap := goal - b.x - sd*z
	if n.fresh {
		gap += 2 * restMean * fraction(0.5+i*step4) * max(r, 0)
	}
	return draw{gap, r, n.q}
}

// fraction is what follows the decimal point.
func fraction(f float64) float64 { return f - math.Floor(f) }

// reached is the share of the places that have reached the goal after some days.
func reached(paths []draw, days float64) float64 {
	sum := 0.0
	for _, p := range paths {
		sum += p.reached(days)
	}
	return sum / float64(len(paths))
}

// reached is the chance that the path has crossed its gap: the inverse Gaussian distribution function.
func (p draw) reached(days float64) float64 {
	if p.gap <= 0 {
		return 1
	}
	if days <= 0 {
		return 0
	}
	s := p.q * math.Sqrt(days)
	a, b := (p.r*days-p.gap)/s, (p.r*days+p.gap)/s
	switch { // beyond six deviations nothing is left to reckon, and most paths lie there on most days
	case a > 6:
		return 1
	case a < -6 && b > 0:
		return 0
	}
	return min(1, normalBelow(a)+math.Exp(-a*a/2)*mills(b))
}

// mills is (1 − Φ(z)) / exp(−z²/2): Mills' ratio over √2π. z is at least −a few.
func mills(z float64) float64 {
	if z > 6 {
		return (1 - 1/(z*z) + 3/(z*z*z*z)) / (z * math.Sqrt(2*math.Pi))
	}
	return normalBelow(-z) * math.Exp(z*z/2)
}

// passage is the day by which a share p of the places has reached the goal, by bisection.
func passage(paths []draw, p, far float64) float64 {
	if reached(paths, 0) >= p {
		return 0
	}
	lo, hi := 0.0, far
	for hi-lo > 0.02 {
		mid := (lo + hi) / 2
		if reached(paths, mid) < p {
			lo = mid
		} else {
			hi = mid
		}
	}
	return (lo + hi) / 2
}
