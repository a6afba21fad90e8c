package reckon

import (
	"math"
	"sort"

	"slipleaf/build/quantity"
)

// Status is how the watch over one lot ended.
type Status uint8

// The statuses. A death is no censoring: a dead plant can never establish.
const (
	Censored    Status = iota // nothing yet on the day of the last report
	Established               // what was waited for
	Died                      // what makes it impossible
)

// Observation is one lot: how many days it was watched, and how that ended.
type Observation struct {
	Days   quantity.Span
	Status Status
}

// CurveStep is a curve from one day to the next step.
type CurveStep struct {
	Days     quantity.Span
	AtRisk   int // watched until that day
	Events   int // on that day
	Censored int // on that day, after the events
	Share    Interval
	StdErr   float64 // standard error of Share
}

// Curve is a share that rises from 0 by steps.
type Curve struct {
	Steps   []CurveStep
	Level   float64
	Working Working
}

var equationAJ = Equation{"aalen-johansen", "Share established, deaths as competing events", "I = Σ S(before) e/n, S falling for both kinds of event", "Aalen & Johansen 1978, Scand. J. Stat. 5:141–150 (from memory); variance by the delta method, Marubini & Valsecchi 1995 (from memory)"}

// riskSet is one day of the watch on which something happened.
type riskSet struct {
	days                           quantity.Span
	atRisk, events, died, censored int
}

// riskSets counts the observations by day. Ties: events come before censorings.
func riskSets(ws []Observation) ([]riskSet, error) {
	if len(ws) == 0 {
		return nil, &InputError{Kind: Missing, Name: "lots", Why: "no parcels given"}
	}
	sorted := append([]Observation(nil), ws...)
	sort.SliceStable(sorted, func(i, j int) bool { return sorted[i].Days < sorted[j].Days })
	var out []riskSet
	for i, w := range sorted {
		if err := Within("days", w.Days, 0, 36525, "d", "a lot is watched for a century at most"); err != nil {
			return nil, err
		}
		if len(out) == 0 || out[len(out)-1].days != w.Days {
			out = append(out, riskSet{days: w.Days, atRisk: len(sorted) - i})
		}
		switch t := &out[len(out)-1]; w.Status {
		case Established:
			t.events++
		case Died:
			t.died++
		default:
			t.censored++
		}
	}
	return out, nil
}

// AalenJohansen is the share of lots that have established by each day, and the share that have died, each the
// competing event of the other. Aalen & Johansen 1978; log-log limits by the delta method.
func AalenJohansen(ws []Observation, level quantity.Share) (established, died Curve, err error) {
	ts, err := riskSets(ws)
	if err := FirstError(err, CheckLevel(level)); err != nil {
		return Curve{}, Curve{}, err
	}
	made := func(t riskSet) int { return t.events }
	dead := func(t riskSet) int { return t.died }
	return incidence(ts, len(ws), level, made), incidence(ts, len(ws), level, dead), nil
}

// incidence follows one kind of event among both.
func incidence(ts []riskSet, lots int, level quantity.Share, of func(riskSet) int) Curve {
	c := Curve{Level: float64(level), Working: Working{Equation: equationAJ, Inputs: []Input{{Name: "lots", Value: float64(lots)}}}}
	before := make([]float64, len(ts)) // S just before each day
	share := make([]float64, len(ts))
	s, sum := 1.0, 0.0
	for i, t := range ts {
		before[i] = s
		sum += s * float64(of(t)) / float64(t.atRisk)
		share[i] = sum
		s *= 1 - float64(t.events+t.died)/float64(t.atRisk)
	}
	for i, t := range ts {
		step := CurveStep{Days: t.days, AtRisk: t.atRisk, Events: of(t), Censored: t.censored, StdErr: incidenceError(ts[:i+1], before, share, of)}
		step.Share = limits(share[i], step.StdErr, float64(t.atRisk)/before[i], c.Level)
		c.Steps = append(c.Steps, step)
	}
	return c
}

// incidenceError is the standard error of the share on the last of the days, by the delta method: Σ (I − Iⱼ)² d/(n(n − d))
// + S² e(n − e)/n³ − 2 (I − Iⱼ) S e/n².
func incidenceError(ts []riskSet, before, share []float64, of func(riskSet) int) float64 {
	last := share[len(ts)-1]
	v := 0.0
	for j, t := range ts {
		n, d, e := float64(t.atRisk), float64(t.events+t.died), float64(of(t))
		gain := last - share[j]
		if n > d {
			v += gain * gain * d / (n * (n - d))
		}
		v += before[j]*before[j]*e*(n-e)/(n*n*n) - 2*gain*before[j]*e/(n*n)
	}
	return math.Sqrt(math.Max(v, 0))
}

// limits are the log-log ends of a share with a standard error. At 0 and 1 there is none; there they are Wilson's of as many lots
// as the watched ones tell of: those at risk over the share of all that they stand for (Peto et al. 1977, Br. J. Cancer 35:1–39).
func limits(s, se, lots, level float64) Interval {
	const rounding = 1e-12
	z := NormalQuantile((1 + level) / 2)
	switch {
	case s > 1-rounding:
		return Interval{Value: 1, Low: lots / (lots + z*z), High: 1, Level: level}
	case s < rounding:
		return Interval{High: z * z / (lots + z*z), Level: level}
	}
	w := z * se / (s * math.Log(s)) // below 0
	return Interval{Value: s, Low: math.Pow(s, math.Exp(-w)), High: math.Pow(s, math.Exp(w)), Level: level}
}

// At is the curve on a day.
func (c Curve) At(day quantity.Span) Interval {
	e := Interval{Level: c.Level}
	for _, s := range c.Steps {
		if s.Days > day {
			break
		}
		e = s.Share
	}
	return e
}

// Median is the first day on which half is reached; ok is false where that never comes.
func (c Curve) Median() (day quantity.Span, ok bool) {
	for _, s := range c.Steps {
		if s.Share.Value >= 0.5-1e-12 {
			return s.Days, true
		}
	}
	return 0, false
}
