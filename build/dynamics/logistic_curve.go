package dynamics

import (
	"math"

	"slipleaf/build/reckon"
)

// curve is a logistic on its way to the least sum of squares: at holds ln K, r and the middle of each segment.
type curve struct {
	segs      []Segment
	log       bool // residuals of ln size; else of size
	at        []float64
	rss       float64
	free      int
	variances []float64 // of at, where that of a residual is 1
}

func (c *curve) residual() float64 { return math.Sqrt(c.rss / float64(c.free)) }

// fitCurve tries starts with several guesses of K and keeps the best.
func fitCurve(segs []Segment, log bool) (*curve, bool) {
	var best *curve
	for _, over := range []float64{1.05, 1.3, 2, 4} {
		c := &curve{segs: segs, log: log, at: startCurve(segs, over)}
		if c.descend() && (best == nil || c.rss < best.rss) {
			best = c
		}
	}
	return best, best != nil
}

// startCurve guesses: K a little above the largest size, r and the middles by the line through the logits.
func startCurve(segs []Segment, over float64) []float64 {
	largest := 0.0
	for _, g := range segs {
		for _, p := range g {
			largest = max(largest, p.Size)
		}
	}
	k := largest * over
	var sxx, sxy float64
	means := make([][2]float64, len(segs))
	logit := func(p Point) float64 { return math.Log(p.Size / (k - p.Size)) }
	for i, g := range segs {
		for _, p := range g {
			means[i][0] += p.Day / float64(len(g))
			means[i][1] += logit(p) / float64(len(g))
		}
		for _, p := range g {
			sxx += (p.Day - means[i][0]) * (p.Day - means[i][0])
			sxy += (p.Day - means[i][0]) * (logit(p) - means[i][1])
		}
	}
	r := sxy / sxx
	if math.Abs(r) < 1e-9 {
		r = 1e-9
	}
	at := []float64{math.Log(k), r}
	for _, m := range means {
		at = append(at, m[0]-m[1]/r)
	}
	return at
}

// farthest is how many times its guess K may grow: far above all sizes the curve is the straight line of the log-linear model,
// and goes on to infinity by ever smaller steps.
const farthest = 100

// descend goes downhill by damped Gauss–Newton steps. False when it comes to nothing.
func (c *curve) descend() bool {
	n := 0
	for _, g := range c.segs {
		n += len(g)
	}
	c.free = n - len(c.at)
	if c.free < 1 {
		return false
	}
	normal, rss := c.normal(c.at)
	damp, far := 1e-3, c.at[0]+math.Log(farthest)
	for range 300 {
		if !reckon.Finite(rss) || c.at[0] > far {
			return false
		}
		next, ok := normal.step(c.at, damp)
		var there *arrow
		var after float64
		if ok {
			there, after = c.normal(next)
		}
		if !ok || !(after <= rss) {
			if damp *= 8; damp > 1e12 {
				break
			}
			continue
		}
		done := rss-after <= 1e-14*rss
		c.at, damp = next, max(damp/10, 1e-12)
		normal, rss = there, after
		if done && damp <= 1e-9 {
			break
		}
	}
	c.rss = rss
	var ok bool
	c.variances, ok = normal.variances()
	return ok && c.at[1] > 0
}

// softplus is ln(1 + eˣ), safe for large x. It is added to ln K, which has no room for the digits that Log1p would keep.
func softplus(x float64) float64 {
	if x > 30 {
		return x
	}
	return math.Log(1 + math.Exp(x))
}
