package reckon

import "math"

// Weak priors of the diary model, our choice: normal in r, log-normal in m and q with these medians and factors.
const (
	rateMean, rateSD      = 0.04, 0.15
	errorMid, errorFactor = 0.08, 2.0
	roughMid, roughFactor = 0.015, 2.5
)

// node is one pair of m and q with its filter.
type node struct {
	m, q     float64
	weight   float64 // ln of the weight until weigh has run
	now      belief
	day      float64
	standing bool // whether anything stands there
}

// grid lays out m from 0.02 to 0.4 and q from 0.0015 to 0.12.
func grid() []node {
	const nm, nq = 9, 8
	out := make([]node, 0, nm*nq)
	for i := range nm {
		m := 0.02 * math.Pow(20, float64(i)/(nm-1))
		for j := range nq {
			q := 0.0015 * math.Pow(80, float64(j)/(nq-1))
			u, v := math.Log(m/errorMid)/math.Log(errorFactor), math.Log(q/roughMid)/math.Log(roughFactor)
			out = append(out, node{m: m, q: q, weight: -(u*u + v*v) / 2, now: belief{r: rateMean, rr: rateSD * rateSD}})
		}
	}
	return out
}

// follow runs the filter over the visits.
func (n *node) follow(vs []visit) {
	for i := range vs {
		v := &vs[i]
		n.now, n.day = n.ahead(v.day), v.day
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
	miss, spread := n.now.see(v.log, variance)
	n.weight -= (math.Log(2*math.Pi*spread) + miss*miss/spread) / 2
}

// change takes in what was cut or planted.
func (n *node) change(v *visit) {
	switch {
	case n.standing:
		n.now.change(v.change)
	case v.change > 0 && !(v.counted > 0): // planted where nothing stood: as good as a count
		n.begin(math.Log(v.change), n.m*n.m)
	}
}

func (n *node) begin(x, variance float64) {
	n.now.x, n.now.xx, n.now.xr = x, variance, 0
	n.standing = true
}

// ahead is the belief on a later day.
func (n *node) ahead(day float64) belief {
	b := n.now
	if n.standing {
		b.grow(day-n.day, day-n.day, n.q)
	}
	return b
}

// weigh turns ln weights into shares of 1 and returns the ln of their sum, relative to that of the prior.
func weigh(ns []node) float64 {
	top := math.Inf(-1)
	for i := range ns {
		top = max(top, ns[i].weight)
	}
	sum, prior := 0.0, 0.0
	for i := range ns {
		ns[i].weight = math.Exp(ns[i].weight - top)
		sum += ns[i].weight
	}
	for _, n := range grid() {
		prior += math.Exp(n.weight)
	}
	for i := range ns {
		ns[i].weight /= sum
	}
	return top + math.Log(sum/prior)
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
