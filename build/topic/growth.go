package topic

import (
	"strconv"
	"strings"

	"slipleaf/build/dynamics"
	"slipleaf/build/quantity"
	"slipleaf/build/reckon"
	"slipleaf/build/spelling"
)

func askGrowth(q *question) {
	s := dynamics.Series{}
	q.eachPoint("points", func(day, size float64) { s.Counts = append(s.Counts, dynamics.Count{Day: day, Size: size}) })
	if q.has("trims") {
		q.eachPoint("trims", func(day, size float64) {
			s.Changes = append(s.Changes, dynamics.Change{Day: day, Amount: -size, Kind: dynamics.Trim})
		})
	}
	q.leveled = true
	line := sure(dynamics.FitLine(s, float64(q.level)))
	stateSpace := sure(dynamics.FitStateSpace(s, float64(q.level)))
	q.regression(s, line)
	q.rate("diary-rgr-per-day", stateSpace.Rate)
	q.doubling("diary-doubling-time", stateSpace.Doubling)
	q.done(reckon.Working{Equation: dynamics.EquationStateSpace})
	if line.Ask || stateSpace.Ask {
		q.notes = append(q.notes, "faster than "+reckon.Figure(dynamics.AskAbove)+" per day: for a rooted plant, are the counts right?")
	}
}

// regression shows the model that the counts speak for: the straight line on the logarithm, or the logistic.
func (q *question) regression(s dynamics.Series, line dynamics.Line) {
	model, rate, doubling := "log-linear", line.Rate, line.Doubling
	logistic, err := dynamics.FitLogistic(s, float64(q.level)) // an error says that nothing levels off
	chosen := err == nil && logistic.Chosen()
	if chosen {
		model, rate, doubling = "logistic", logistic.Rate, dynamics.DoublingTime(logistic.Rate)
	}
	q.answer.Results = append(q.answer.Results, Result{Name: "model", Word: model})
	q.rate("rgr-per-day", rate)
	q.doubling("doubling-time", doubling)
	in := []reckon.Input{{Name: "points", Value: float64(line.Points)}, {Name: "segments", Value: float64(len(line.Segments))}, reckon.Given("level", q.level, "%")}
	if !chosen {
		q.done(reckon.Working{Equation: dynamics.EquationLine, Inputs: in})
		return
	}
	q.number("holds", logistic.Capacity.Value, "").ends(logistic.Capacity.Low, logistic.Capacity.High)
	q.done(reckon.Working{Equation: dynamics.EquationLogistic, Inputs: in, Notes: reckon.Remarks("chosen by corrected Akaike's criterion: " + reckon.Figure(logistic.AICc) + " against " + reckon.Figure(logistic.LineAICc) + " of the straight line")})
}

func (q *question) rate(name string, r reckon.Interval) {
	q.number(name, r.Value, "1/d").ends(r.Low, r.High)
}

// doubling shows a doubling time; one that has no upper end shows its lower end in the working alone.
func (q *question) doubling(name string, d dynamics.Doubling) {
	switch {
	case !d.Growing:
		q.notes = append(q.notes, name+": none, for no growth is seen")
	case d.Open:
		q.number(name, d.Days, "d")
		q.notes = append(q.notes, name+": "+reckon.Figure(d.Low)+" d or more; the interval has no upper end")
	default:
		q.number(name, d.Days, "d").ends(d.Low, d.High)
	}
}

// eachPoint reads a list of the form 0d:12,7d:19 – a time with its unit and a size as a plain number.
func (q *question) eachPoint(key string, add func(day, size float64)) {
	text := strings.TrimSpace(q.values[key])
	if text == "" {
		q.fail(&reckon.InputError{Kind: reckon.Missing, Name: key, Why: "points are written 0d:12,7d:19"})
	}
	q.answer.Inputs[key] = text
	for _, p := range strings.Split(text, ",") {
		when, size, ok := strings.Cut(p, ":")
		day, err := quantity.Parse[quantity.Span](when)
		if !ok || err != nil || !day.Known() || day.IsRange() || day.Below() {
			q.fail(&reckon.InputError{Kind: reckon.WrongUnit, Name: key, Value: spelling.Clip(p), Why: "points are written 0d:12,7d:19"})
		}
		n, err := strconv.ParseFloat(strings.TrimSpace(size), 64)
		if err != nil || !(n >= 0) || n > 1e12 {
			q.fail(&reckon.InputError{Kind: reckon.WrongUnit, Name: key, Value: spelling.Clip(p), Why: "a size is a plain number of 0 or more"})
		}
		add(float64(day.Mid()), n)
	}
}
