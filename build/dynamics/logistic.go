package dynamics

import (
	"math"

	"slipleaf/build/reckon"
)

// Logistic is growth toward what the space holds: W = K/(1 + exp(−r(t − middle))), one K and one r for all segments
// and a middle for each.
type Logistic struct {
	Capacity   reckon.Interval // K, in the measure of the series
	Rate       reckon.Interval // r per day, while small
	Midpoints  []Midpoint      // for each segment
	ResidualSD float64         // residual standard deviation on the ln scale
	Points     int
	DF         int     // points − segments − 2
	AICc       float64 // Akaike's criterion, corrected
	LineAICc   float64 // the same of the log-linear model
	Past       bool    // the largest size lies past the middle, and K is not above three times that size: K may be told

	capacityErr, rateErr float64 // standard errors of K and r
}

// Midpoint is the day on which a segment's curve passes half of what the space holds, with its standard error.
type Midpoint struct{ Day, StdErr float64 }

// FewestLevelled is how many points a segment needs before a levelling off is looked for.
const FewestLevelled = 6

// Chosen reports whether the counts speak for the logistic rather than for the log-linear model: it has the lower
// criterion, and growth has passed its middle.
func (l *Logistic) Chosen() bool { return l != nil && l.Past && l.AICc < l.LineAICc }

// Size is the fitted size in segment i on a day.
func (l *Logistic) Size(i int, day float64) float64 {
	return l.Capacity.Value / (1 + math.Exp(-l.Rate.Value*(day-l.Midpoints[i].Day)))
}

// FitLogistic fits the logistic to ln size by non-linear least squares (Levenberg 1944; Marquardt 1963, J. SIAM
// 11:431–441), with Student t intervals of the given level from the curvature at the optimum. Verhulst 1838 for the
// curve; Hurvich & Tsai 1989, Biometrika 76:297–307, for the corrected criterion. It returns *[TooFewCounts] unless some
// segment has [FewestLevelled] points, *[NoLevelling] when no such curve can be found.
func FitLogistic(s Series, level float64) (*Logistic, error) {
	segs, err := s.Segments()
	if err != nil {
		return nil, err
	}
	line, err := fitLine(segs, 0, level)
	if err != nil {
		return nil, err
	}
	longest, n, largest := 0, 0, 0.0
	for _, g := range segs {
		longest, n = max(longest, len(g)), n+len(g)
		for _, p := range g {
			largest = max(largest, p.Size)
		}
	}
	k := len(segs) + 2
	if longest < FewestLevelled || n-k-2 < 1 {
		return nil, &TooFewCounts{DF: n - k, Dates: longest, NeedSpan: ShortestSpan}
	}
	f, ok := fitCurve(segs, true)
	if !ok {
		return nil, &NoLevelling{}
	}
	l := f.logistic(level)
	if l == nil {
		return nil, &NoLevelling{}
	}
	l.AICc = akaike(f.rss, n, k+1)
	l.LineAICc = akaike(line.ResidualSD*line.ResidualSD*float64(line.DF), n, k)
	top := 0.0
	for i, g := range segs {
		for _, p := range g {
			top = max(top, l.Size(i, p.Day))
		}
	}
	l.Past = top > l.Capacity.Value/2 && l.Capacity.Value <= 3*largest
	return l, nil
}

// akaike is Akaike's criterion of least squares, corrected for few points; k counts the residual variance too.
func akaike(rss float64, n, k int) float64 {
	m := float64(n)
	return m*math.Log(max(rss, 1e-20)/m) + 2*float64(k) + 2*float64(k)*float64(k+1)/(m-float64(k)-1)
}

// logistic turns a fitted curve into figures with intervals; nil when they are none.
func (c *curve) logistic(level float64) *Logistic {
	t := reckon.StudentQuantile(float64(c.free), (1+level)/2)
	s := c.residual()
	k, r := math.Exp(c.at[0]), c.at[1]
	eK, eR := s*math.Sqrt(c.variances[0]), s*math.Sqrt(c.variances[1])
	l := &Logistic{ResidualSD: s, Points: c.free + len(c.at), DF: c.free, capacityErr: k * eK, rateErr: eR,
		Capacity: reckon.Interval{Value: k, Low: k * math.Exp(-t*eK), High: k * math.Exp(t*eK), Level: level},
		Rate:     reckon.Interval{Value: r, Low: r - t*eR, High: r + t*eR, Level: level}}
	for i := 2; i < len(c.at); i++ {
		l.Midpoints = append(l.Midpoints, Midpoint{c.at[i], s * math.Sqrt(c.variances[i])})
	}
	for _, f := range []float64{k, l.Capacity.Low, l.Capacity.High, l.Rate.Low, l.Rate.High} {
		if !reckon.Finite(f) {
			return nil
		}
	}
	return l
}
