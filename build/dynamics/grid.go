package dynamics

import "math"

// Weak priors of the state-space model, our choice: normal in r, log-normal in m and q with these medians and factors (one
// standard deviation). They were set so that the intervals hold what they say over made-up diaries (COVERAGE.md).
const (
	rateMean, rateSD      = 0.04, 0.15
	errorMid, errorFactor = 0.08, 3.0
	roughMid, roughFactor = 0.015, 8.0
)

// wanderFrom counts must be there to report whether the rate itself wanders. wanderSD are the sd per √day by which it may, and
// wanderWeight how likely each is before any count (our choices, by the made-up diaries of COVERAGE.md).
const wanderFrom = 8

var wanderSD, wanderWeight = [...]float64{0, 0.001, 0.004}, [...]float64{0.7, 0.15, 0.15}

// costMean and costSD are what a cut costs before any count of what grew after one: growers tell of 2 to 5 days of rest, or of none
// (common practice), and most of these diaries grow by 2 to 8 % a day.
const costMean, costSD = 0.01, 0.05

// node is one choice of m, q and s with its filter.
type node struct {
	m, q, s  float64 // error of a count, unevenness, wandering of the rate
	weight   float64 // ln of the weight until weigh has run
	density  float64 // a factor of the weight that has yet to go into it; 0: none
	now      state
	on       scale
	day      float64
	standing bool // whether anything is there
	fresh    bool // cut that day: what it costs has yet to come off
}

// grid lays out m from 0.025 to 0.4 and q from 0.002 to 0.1, evenly on the log scale, each with a rate that stays and, where
// there are counts enough, with rates that wander.
func grid(on scale, rate Prior, counts int) []node {
	const countM, countQ, lowM, highM, lowQ, highQ = 6, 4, 0.025, 0.4, 0.003, 0.1
	wander := wanderSD[:]
	if counts < wanderFrom {
		wander = wander[:1]
	}
	out := make([]node, 0, countM*countQ*len(wander))
	for k, s := range wander {
		for i := range countM {
			m := lowM * math.Pow(highM/lowM, float64(i)/(countM-1))
			u := math.Log(m/errorMid) / math.Log(errorFactor)
			for j := range countQ {
				q := lowQ * math.Pow(highQ/lowQ, float64(j)/(countQ-1))
				v := math.Log(q/roughMid) / math.Log(roughFactor)
				out = append(out, node{m: m, q: q, s: s, on: on, weight: math.Log(wanderWeight[k]) - (u*u+v*v)/2, now: state{r: rate.Mean, rr: rate.SD * rate.SD, c: costMean, cc: costSD * costSD}})
			}
		}
	}
	return out
}

// follow runs the filter over the visits.
func (n *node) follow(vs []visit) {
	for i := range vs {
		v := &vs[i]
		if n.standing {
			n.now.predict(v.day-n.day, n.q, n.s)
			if n.fresh {
				n.now.rest(1)
				n.fresh = false
			}
		}
		n.day = v.day
		if v.counted > 0 {
			n.count(v)
		}
		if v.ends {
			n.standing = false
		}
		if v.changed {
			n.change(v)
		}
	}
}

// count takes in the counts of a day; the first of a stand sets its size.
func (n *node) count(v *visit) {
	variance := (n.m*n.m + v.rounding) / float64(v.counted)
	if !n.standing {
		n.begin(v.x, variance)
		return
	}
	factor, power := n.now.update(v.x, variance)
	n.weight += power
	if n.density > 0 {
		factor *= n.density
	}
	n.density = factor
}

// fold takes the densities of the last counts into the weight: one logarithm for several counts.
func (n *node) fold() {
	if n.density > 0 {
		n.weight += math.Log(n.density)
		n.density = 0
	}
}

// change takes in what was cut or planted.
func (n *node) change(v *visit) {
	switch {
	case n.standing:
		n.now.change(v.change, v.off, n.on)
		n.fresh = v.change < 0
	case v.change > 0 && v.counted == 0: // planted where nothing stood: as good as a count
		n.begin(n.on.of(v.change), n.m*n.m)
	}
}

func (n *node) begin(x, variance float64) {
	n.now.x, n.now.xx, n.now.xr, n.now.xc = x, variance, 0, 0
	n.standing, n.fresh = true, false
}

// ahead is the state on a later day.
func (n *node) ahead(day float64) state {
	b := n.now
	days := day - n.day
	b.predict(days, n.q, n.s)
	if n.fresh {
		b.rest(min(1, days))
	}
	return b
}

// followAll runs every node over the visits, and drops on the way those that weigh nothing.
func followAll(ns []node, vs []visit) []node {
	const block = 6
	for len(vs) > 0 {
		k := min(block, len(vs))
		for i := range ns {
			ns[i].follow(vs[:k])
		}
		vs = vs[k:]
		ns = thin(ns)
	}
	return ns
}

// thin drops nodes that weigh less than a ten-thousandth of the heaviest.
func thin(ns []node) []node {
	top := math.Inf(-1)
	for i := range ns {
		ns[i].fold()
		top = max(top, ns[i].weight)
	}
	out := ns[:0]
	for i := range ns {
		if ns[i].weight > top-9 {
			out = append(out, ns[i])
		}
	}
	return out
}

// weigh turns ln weights into shares of 1.
func weigh(ns []node) {
	top := math.Inf(-1)
	for i := range ns {
		ns[i].fold()
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
}

// prune drops nodes that weigh nothing and shares their weight among the rest.
func prune(ns []node) []node {
	out, sum := ns[:0], 0.0
	for _, n := range ns {
		if n.weight > 1e-4 {
			out = append(out, n)
			sum += n.weight
		}
	}
	for i := range out {
		out[i].weight /= sum
	}
	return out
}
