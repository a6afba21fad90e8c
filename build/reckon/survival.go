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

// LimitKind is how the limits of a survival curve are made.
type LimitKind uint8

// The kinds of limits. LogLog stays within 0 to 1 and is the default; Log is the default of R.
const (
	LogLog LimitKind = iota
	Log
	Plain
)

// CurveStep is a survival curve from one day to the next step.
type CurveStep struct {
	Days     quantity.Span
	AtRisk   int // watched until that day
	Events   int // on that day
	Censored int // on that day, after the events
	Share    Interval
	StdErr   float64 // standard error of Share by Greenwood
}

// Curve is a share that falls or rises by steps; before the first step it is Start.
type Curve struct {
	Start   float64
	Steps   []CurveStep
	Level   float64
	Working Working
}

var (
	equationKM = Equation{"kaplan-meier", "Share not yet there, with no news as censored", "S = Π (1 − d/n); var S = S² Σ d/(n(n − d))", "Kaplan & Meier 1958, J. Am. Stat. Assoc. 53:457–481; Greenwood 1926 (from memory)"}
	equationAJ = Equation{"aalen-johansen", "Share established, deaths as competing events", "I = Σ S(before) e/n, S falling for both kinds of event", "Aalen & Johansen 1978, Scand. J. Stat. 5:141–150 (from memory); variance by the delta method, Marubini & Valsecchi 1995 (from memory)"}
)

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

// KaplanMeier is the share of lots for which it has not happened yet, by day. Whatever is not Established counts as
// censored, so use it where nothing dies, else [AalenJohansen]. Kaplan & Meier 1958; limits by Greenwood's variance.
func KaplanMeier(ws []Observation, level quantity.Share, kind LimitKind) (Curve, error) {
	ts, err := riskSets(ws)
	if err := FirstError(err, CheckLevel(level)); err != nil {
		return Curve{}, err
	}
	c := Curve{Start: 1, Level: float64(level), Working: Working{Equation: equationKM, Inputs: []Input{{Name: "lots", Value: float64(len(ws))}}}}
	s, sum := 1.0, 0.0
	for _, t := range ts {
		n, d := float64(t.atRisk), float64(t.events)
		s *= 1 - d/n
		if n > d {
			sum += d / (n * (n - d))
		}
		step := CurveStep{Days: t.days, AtRisk: t.atRisk, Events: t.events, Censored: t.died + t.censored, StdErr: s * math.Sqrt(sum)}
		step.Share = limits(s, step.StdErr, float64(level), kind)
		c.Steps = append(c.Steps, step)
	}
	return c, nil
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
		step.Share = limits(share[i], step.StdErr, c.Level, LogLog)
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

// limits are the ends of a share with a standard error. At 0 and 1 there are none: the share itself.
func limits(s, se, level float64, kind LimitKind) Interval {
	const rounding = 1e-12
	if s > 1-rounding {
		s = 1
	} else if s < rounding {
		s = 0
	}
	e := Interval{Value: s, Low: s, High: s, Level: level}
	if s == 0 || s == 1 || se <= 0 {
		return e
	}
	z := NormalQuantile((1 + level) / 2)
	switch kind {
	case Plain:
		e.Low, e.High = s-z*se, s+z*se
	case Log:
		e.Low, e.High = s*math.Exp(-z*se/s), s*math.Exp(z*se/s)
	default:
		w := z * se / (s * math.Log(s)) // below 0
		e.Low, e.High = math.Pow(s, math.Exp(-w)), math.Pow(s, math.Exp(w))
	}
	e.Low, e.High = math.Max(e.Low, 0), math.Min(e.High, 1)
	return e
}

// At is the curve on a day.
func (c Curve) At(day quantity.Span) Interval {
	e := Interval{Value: c.Start, Low: c.Start, High: c.Start, Level: c.Level}
	for _, s := range c.Steps {
		if s.Days > day {
			break
		}
		e = s.Share
	}
	return e
}

// Median is the first day on which half is reached: a falling curve at or under one half, a rising one at or over it.
// ok is false where that never comes.
func (c Curve) Median() (day quantity.Span, ok bool) {
	const even = 0.5 + 1e-12
	for _, s := range c.Steps {
		if c.Start == 1 && s.Share.Value <= even || c.Start == 0 && s.Share.Value >= 1-even {
			return s.Days, true
		}
	}
	return 0, false
}

// LogRank compares two groups of lots: χ² with one degree of freedom that they come to the event alike, and its p. What
// is not Established counts as censored. Mantel 1966 (from memory).
func LogRank(a, b []Observation) (chi2, p float64, err error) {
	ta, err := riskSets(append(append([]Observation(nil), a...), b...))
	if err != nil {
		return 0, 0, err
	}
	var diff, v float64
	for _, t := range ta {
		n, d, n1, d1 := float64(t.atRisk), float64(t.events), 0.0, 0.0
		for _, w := range a {
			if w.Days >= t.days {
				n1++
			}
			if w.Days == t.days && w.Status == Established {
				d1++
			}
		}
		diff += d1 - d*n1/n
		if n > 1 {
			v += d * n1 / n * (1 - n1/n) * (n - d) / (n - 1)
		}
	}
	if v <= 0 {
		return 0, 1, nil
	}
	chi2 = diff * diff / v
	return chi2, math.Erfc(math.Sqrt(chi2 / 2)), nil
}
