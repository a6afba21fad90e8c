package dynamics

import (
	"cmp"
	"math"

	"slipleaf/build/reckon"
)

// Line is the classical estimate of a growth rate: ln size on time by least squares, one slope for all segments and a
// level for each.
type Line struct {
	Rate       reckon.Interval // r per day
	StdErr     float64         // standard error of r
	Doubling   Doubling
	ResidualSD float64 // residual standard deviation on the ln scale
	Points     int     // n, counts and what cuts left
	DF         int     // degrees of freedom: points − segments − 1
	Segments   []LineSegment
	Robust     reckon.Interval // slope by Theil–Sen from pairs within segments, with Sen's limits where there is one segment
	Ask        bool            // a rooted plant faster than [AskAbove]: are the counts right?

	quantile float64 // of Student's t for the level of the rate
}

// LineSegment is the fitted line of one segment.
type LineSegment struct {
	From, To float64 // days of the first and last point
	Level    float64 // ln size on the day From
	Points   int
	MeanDay  float64 // mean day of the points
}

// Size is the fitted size in segment i on a day.
func (l Line) Size(i int, day float64) float64 {
	s := l.Segments[i]
	return math.Exp(s.Level + l.Rate.Value*(day-s.From))
}

// SizeRange is [Line.Size] with the interval of the fitted line, at the level of the rate: on the ln scale its variance is
// s² (1/n + (day − middle)²/Sxx), with n of the segment and s, Sxx of all (Hunt 1982, in the form for one slope).
func (l Line) SizeRange(i int, day float64) reckon.Interval {
	g := l.Segments[i]
	sd := math.Hypot(l.ResidualSD/math.Sqrt(float64(g.Points)), (day-g.MeanDay)*l.StdErr)
	half := l.quantile * sd
	v := l.Size(i, day)
	return reckon.Interval{Value: v, Low: v * math.Exp(-half), High: v * math.Exp(half), Level: l.Rate.Level}
}

// FitLine estimates the relative growth rate of a series over its cuts, with a Student t interval of the given level
// (0.95). r = ΣSxy/ΣSxx over the segments, s² = RSS/df with df = points − segments − 1: the analysis-of-covariance form
// of Hunt's rate (Hunt 1982, Plant Growth Curves). It returns *[TooFewCounts] when there are too few to say, *[TooFast]
// above [FastestRate], *[InputError] for figures that are none.
func FitLine(s Series, level float64) (Line, error) {
	_, segs, err := s.ready()
	if err != nil {
		return Line{}, err
	}
	l, err := fitLine(segs, s.roundingOf(segs), level)
	if err != nil {
		return Line{}, err
	}
	l.Ask = s.Rooted && l.Rate.Value > AskAbove
	if l.Rate.Value > FastestRate {
		return Line{}, &TooFast{l.Rate.Value}
	}
	return l, nil
}

// roundingOf is the variance of ln size that comes of sizes in steps, as the mean over the points: a step is known no better than
// to its twelfth part, squared (Sheppard 1898, Proc. Lond. Math. Soc. 29:353–380). A cover is guessed in steps of 5 %.
func (s Series) roundingOf(segs []Segment) float64 {
	sum, n, step := 0.0, 0.0, cmp.Or(s.Step, coverStep*s.Ceiling)
	for _, g := range segs {
		for _, p := range g {
			sum, n = sum+step*step/12/(p.Size*p.Size), n+1
		}
	}
	return sum / n
}

// fitLine fits segments whatever their number of points, if only a slope and its error exist. Points lie off the line by a variance
// of at least so much: whole plants that lie on it exactly do so by chance.
func fitLine(segs []Segment, least, level float64) (Line, error) {
	if err := levelInside(level); err != nil {
		return Line{}, err
	}
	var l Line
	var sxx, sxy float64
	mean := make([][2]float64, len(segs))
	for i, g := range segs {
		l.Points += len(g)
		mean[i] = g.mean()
		for _, p := range g {
			dx, dy := p.Day-mean[i][0], math.Log(p.Size)-mean[i][1]
			sxx += dx * dx
			sxy += dx * dy
		}
	}
	l.DF = l.Points - len(segs) - 1
	if l.DF < 1 || sxx <= 0 {
		return Line{}, &TooFewCounts{DF: l.DF, NeedSpan: ShortestSpan}
	}
	r := sxy / sxx
	rss := 0.0
	for i, g := range segs {
		for _, p := range g {
			e := math.Log(p.Size) - mean[i][1] - r*(p.Day-mean[i][0])
			rss += e * e
		}
		l.Segments = append(l.Segments, LineSegment{From: g[0].Day, To: g[len(g)-1].Day, Points: len(g), MeanDay: mean[i][0],
			Level: mean[i][1] + r*(g[0].Day-mean[i][0])})
	}
	l.ResidualSD = math.Sqrt(max(rss/float64(l.DF), least))
	l.StdErr = l.ResidualSD / math.Sqrt(sxx)
	l.quantile = reckon.StudentQuantile(float64(l.DF), (1+level)/2)
	half := l.quantile * l.StdErr
	l.Rate = reckon.Interval{Value: r, Low: r - half, High: r + half, Level: level}
	l.Doubling = DoublingTime(l.Rate)
	l.Robust = theilSen(segs, level)
	return l, nil
}

// mean is the mean day and the mean ln size.
func (g Segment) mean() [2]float64 {
	var x, y float64
	for _, p := range g {
		x += p.Day
		y += math.Log(p.Size)
	}
	n := float64(len(g))
	return [2]float64{x / n, y / n}
}
