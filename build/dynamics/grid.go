package dynamics

import "math"

// Weak priors of the diary model, our choice: normal in r, log-normal in m and q with these medians and factors (one
// standard deviation). They were set so that the intervals hold what they say over made-up diaries (COVERAGE.md).
const (
	rateMean, rateSD      = 0.04, 0.15
	errorMid, errorFactor = 0.08, 3.0
	roughMid, roughFactor = 0.015, 8.0
)

// restMean and restSD are the days that a stand is taken to rest after a cut, in what is foretold from one: growers
// tell of 2 to 5 days, or of none (common practice).
const restMean, restSD = 0.5, 0.5

// node is one pair of m and q with its filter.
type node struct {
	m, q     float64 // error of a count, unevenness
	weight   float64 // ln of the weight until weigh has run
	now      state
	day      float64
	standing bool // whether anything stands there
	fresh    bool // cut, and not counted since
}

// grid lays out m from 0.025 to 0.4 and q from 0.002 to 0.1, evenly on the log scale.
func grid() []node {
	const count, lowM, highM, lowQ, highQ = 7, 0.025, 0.4, 0.002, 0.1
	out := make([]node, 0, count*count)
	for i := range count {
		m := lowM * math.Pow(highM/lowM, float64(i)/(count-1))
		u := math.Log(m/errorMid) / math.Log(errorFactor)
		for j := range count {
			q := lowQ * math.Pow(highQ/lowQ, float64(j)/(count-1))
			v := math.Log(q/roughMid) / math.Log(roughFactor)
			out = append(out, node{m: m, q: q, weight: -(u*u + v*v) / 2, now: state{r: rateMean, rr: rateSD * rateSD}})
		}
	}
	return out
}

// follow runs the filter over the visits.
func (n *node) follow(vs []visit) {
	for i := range vs {
		v := &vs[i]
		if n.standing {
			n.now.predict(v.day-n.day, n.q)
		}
		n.day = v.day
		if v.counted > 0 {
			n.count(v)
		}
		if v.nothing || v.counted > 0 && math.Exp(v.log)+v.change <= 0 {
			n.standing = false
		}
		if v.changed {
			n.change(v)
		}
	}
}

// count takes in the counts of a day; the first of a stand sets its size.
func (n *node) count(v *visit) {
	variance := n.m * n.m / float64(v.counted)
	if !n.standing {
		n.begin(v.log, variance)
		return
	}
	n.fresh = false
	innovation, innovationVar := n.now.update(v.log, variance)
	n.weight -= (math.Log(2*math.Pi*innovationVar) + innovation*innovation/innovationVar) / 2
}

// change takes in what was cut or planted.
func (n *node) change(v *visit) {
	switch {
	case n.standing:
		n.now.change(v.change)
		n.fresh = v.change < 0
	case v.change > 0 && v.counted == 0: // planted where nothing stood: as good as a count
		n.begin(math.Log(v.change), n.m*n.m)
	}
}

func (n *node) begin(x, variance float64) {
	n.now.x, n.now.xx, n.now.xr = x, variance, 0
	n.standing, n.fresh = true, false
}

// ahead is the state on a later day.
func (n *node) ahead(day float64) state {
	b := n.now
	days := day - n.day
	b.predict(days, n.q)
	if rest := min(1, days/(2*restMean)); n.fresh {
		b.x -= rest * restMean * b.r
		b.xx += rest * rest * restSD * restSD * b.r * b.r
	}
	return b
}

// weigh turns ln weights into shares of 1 and returns the ln of their sum, relative to that of the prior.
func weigh(ns []node) float64 {
	top := math.Inf(-1)
	for i := range ns {
		top = max(top, ns[i].weight)
	}
	sum := 0.0
	for i := range ns {
		ns[i].weight = math.Exp(ns[i].weight - top)
		sum += ns[i].weight
	}
	for i := range ns {
		ns[i].weight /= sum
	}
	return top + math.Log(sum)
}

// prune drops nodes that weigh nothing and shares their weight among the rest.
func prune(ns []node) []node {
	out, sum := ns[:0], 0.0
	for _, n := range ns {
		if n.weight > 1e-5 {
			out = append(out, n)
			sum += n.weight
		}
	}
	for i := range out {
		out[i].weight /= sum
	}
	return out
}
