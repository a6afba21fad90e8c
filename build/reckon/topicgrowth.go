package reckon

import (
	"strconv"
	"strings"

	"slipleaf/build/quantity"
)

var (
	equationLine = Equation{"log-linear", "Relative growth rate by least squares on the logarithm, one slope over all segments", "r = ΣSxy/ΣSxx, doubling time = ln 2/r",
		"Hunt 1982, Plant Growth Curves; interval by Student's t"}
	equationLogistic = Equation{"logistic", "Growth toward what the space holds", "W = K/(1 + exp(−r(t − middle)))",
		"Verhulst 1838; corrected criterion: Hurvich & Tsai 1989, Biometrika 76:297–307"}
	equationStateSpace = Equation{"diary-model", "Growth followed across cuts, with unevenness and counting error (state-space model)", "x(t+dt) = x + r dt + q√dt e, ln count = x + m e, size after a cut = size − cut",
		"extended Kalman filter over a grid of m and q with weak priors (our choice)"}
)

func askGrowth(q *question) {
	s := Series{}
	q.eachPoint("points", func(day, size float64) { s.Counts = append(s.Counts, Count{Day: day, Size: size}) })
	if q.has("trims") {
		q.eachPoint("trims", func(day, size float64) { s.Changes = append(s.Changes, Change{Day: day, Amount: -size, Kind: Trim}) })
	}
	if q.err != nil {
		return
	}
	q.leveled = true
	line, err := FitLine(s, float64(q.level))
	q.fail(err)
	stateSpace, err := FitStateSpace(s, float64(q.level))
	q.fail(err)
	if q.err != nil {
		return
	}
	q.regression(s, line)
	q.rate("diary-rgr-per-day", stateSpace.Rate)
	q.doubling("diary-doubling-time", stateSpace.Doubling)
	q.done(Working{equationStateSpace, nil, nil})
	if line.Ask || stateSpace.Ask {
		q.notes = append(q.notes, "faster than "+figure(AskAbove)+" per day: for a rooted plant, are the counts right?")
	}
}

// regression shows the model that the counts speak for: the straight line on the logarithm, or the logistic.
func (q *question) regression(s Series, line Line) {
	model, rate, doubling := "log-linear", line.Rate, line.Doubling
	logistic, err := FitLogistic(s, float64(q.level)) // an error says that nothing levels off
	chosen := err == nil && logistic.Chosen()
	if chosen {
		model, rate, doubling = "logistic", logistic.Rate, DoublingTime(logistic.Rate)
	}
	q.answer.Results = append(q.answer.Results, Result{Name: "model", Word: model})
	q.rate("rgr-per-day", rate)
	q.doubling("doubling-time", doubling)
	in := []Input{{Name: "points", Value: float64(line.Points)}, {Name: "segments", Value: float64(len(line.Segments))}, given("level", q.level, "%")}
	if !chosen {
		q.done(Working{equationLine, in, nil})
		return
	}
	q.number("holds", logistic.Capacity.Value, "").ends(logistic.Capacity.Low, logistic.Capacity.High)
	q.done(Working{equationLogistic, in, []string{"chosen by corrected Akaike's criterion: " + figure(logistic.AICc) + " against " + figure(logistic.LineAICc) + " of the straight line"}})
}

func (q *question) rate(name string, r Interval) {
	q.number(name, r.Value, "1/d").ends(r.Low, r.High)
}

// doubling shows a doubling time; one that has no upper end shows its lower end in the working alone.
func (q *question) doubling(name string, d Doubling) {
	switch {
	case !d.Growing:
		q.notes = append(q.notes, name+": none, for it does not grow")
	case d.Open:
		q.number(name, d.Days, "d")
		q.notes = append(q.notes, name+": "+figure(d.Low)+" d or more; the interval has no upper end")
	default:
		q.number(name, d.Days, "d").ends(d.Low, d.High)
	}
}

// eachPoint reads a list of the form 0d:12,7d:19 – a time with its unit and a size as a plain number.
func (q *question) eachPoint(key string, add func(day, size float64)) {
	text := strings.TrimSpace(q.values[key])
	if text == "" {
		q.fail(&InputError{Kind: Missing, Name: key, Why: "points are written 0d:12,7d:19"})
		return
	}
	q.answer.Inputs[key] = text
	for _, p := range strings.Split(text, ",") {
		when, size, ok := strings.Cut(p, ":")
		day, err := quantity.Parse[quantity.Span](when)
		if !ok || err != nil || !day.Known() || day.IsRange() || day.Below() {
			q.fail(&InputError{Kind: WrongUnit, Name: key, Value: clip(p), Why: "points are written 0d:12,7d:19"})
			return
		}
		n, err := strconv.ParseFloat(strings.TrimSpace(size), 64)
		if err != nil || !(n >= 0) || n > 1e12 {
			q.fail(&InputError{Kind: WrongUnit, Name: key, Value: clip(p), Why: "a size is a plain number of 0 or more"})
			return
		}
		add(float64(day.Mid()), n)
	}
}
