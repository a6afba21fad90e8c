package dynamics

import "sort"

// Growth is all that a series tells about growth: the diary model, the classical check beside it, and a levelling off
// where there is one.
type Growth struct {
	StateSpace *StateSpace
	Line       Line
	Logistic   *Logistic // nil where no segment has points enough, or none levels off
}

// FitGrowth fits all models with intervals of the given level (0.95). Errors are those of [FitLine] and [FitStateSpace].
func FitGrowth(s Series, level float64) (*Growth, error) {
	line, err := FitLine(s, level)
	if err != nil {
		return nil, err
	}
	diary, err := FitStateSpace(s, level)
	if err != nil {
		return nil, err
	}
	g := &Growth{StateSpace: diary, Line: line}
	if l, err := FitLogistic(s, level); err == nil { // else there is nothing to say of a levelling off
		g.Logistic = l
	}
	return g, nil
}

// Model names the model that the counts speak for: "log-linear" or "logistic".
func (g *Growth) Model() string {
	if g.Logistic.Chosen() {
		return "logistic"
	}
	return "log-linear"
}

// NextTrim is the window in which the stand reaches the goal, from the diary model run forward ([StateSpace.FirstPassage]). A goal
// above all that the space may hold, where growth levels off, is *[TooFar].
func (g *Growth) NextTrim(goal, level float64) (Window, error) {
	w, err := g.StateSpace.FirstPassage(goal, level)
	if err == nil && g.Logistic.Chosen() && goal >= g.Logistic.Capacity.High {
		return Window{}, &TooFar{Days: g.StateSpace.horizon()} // its chance is next to nothing
	}
	return w, err
}

// UsualTrim is the goal of a grower who named none: the median size before earlier trims, by the counts of their days.
// ok is false when no trim fell on a day with a count.
func (s Series) UsualTrim() (size float64, ok bool) {
	vs, err := s.visits()
	if err != nil {
		return 0, false
	}
	trimmed := map[float64]bool{}
	for _, c := range s.Changes {
		trimmed[c.Day] = trimmed[c.Day] || c.Kind == Trim
	}
	var sizes []float64
	for _, v := range vs {
		if v.counted > 0 && trimmed[v.day] {
			sizes = append(sizes, v.size())
		}
	}
	sort.Float64s(sizes)
	return median(sizes), len(sizes) > 0
}

// UsualCut is the median of what trims took; 0 without any.
func (s Series) UsualCut() float64 {
	cuts := []float64{}
	for _, c := range s.Changes {
		if c.Kind == Trim && c.Amount < 0 {
			cuts = append(cuts, -c.Amount)
		}
	}
	sort.Float64s(cuts)
	return median(cuts)
}
