package dynamics

import (
	"math"

	"slipleaf/build/reckon"
)

// arrow is the normal matrix JᵀJ of a logistic, with the right side Jᵀe. Each segment has a middle of its own, so that
// all but the first two rows and columns is a diagonal: it is solved in the order of its size by eliminating the
// middles (the Schur complement), where a dense matrix would cost the cube of it.
type arrow struct {
	kk, kr, rr float64    // of ln K and r
	toK, toR   []float64  // of each middle with ln K and r
	middle     []float64  // of each middle with itself
	gradient   [2]float64 // Jᵀe of ln K and r
	pulls      []float64  // Jᵀe of each middle
}

func newArrow(segments int) *arrow {
	all := make([]float64, 4*segments)
	part := func(i int) []float64 { return all[i*segments : (i+1)*segments] }
	return &arrow{toK: part(0), toR: part(1), middle: part(2), pulls: part(3)}
}

// add takes in a point of segment i: its derivatives d by ln K, r and the middle, and its residual e.
func (a *arrow) add(i int, d [3]float64, e float64) {
	a.kk += d[0] * d[0]
	a.kr += d[0] * d[1]
	a.rr += d[1] * d[1]
	a.toK[i] += d[0] * d[2]
	a.toR[i] += d[1] * d[2]
	a.middle[i] += d[2] * d[2]
	a.gradient[0] += d[0] * e
	a.gradient[1] += d[1] * e
	a.pulls[i] += d[2] * e
}

// eliminated is what the first two rows are without the middles, each divided by its own pivot.
type eliminated struct{ kk, kr, rr, gk, gr float64 }

// eliminate takes the middles out of JᵀJ + damp·diag. False where that matrix is not positive definite.
func (a *arrow) eliminate(damped func(float64) float64) (e eliminated, ok bool) {
	e = eliminated{damped(a.kk), a.kr, damped(a.rr), a.gradient[0], a.gradient[1]}
	for i, m := range a.middle {
		if m = damped(m); !(m > 0) {
			return e, false
		}
		u, v := a.toK[i]/m, a.toR[i]/m
		e.kk -= u * a.toK[i]
		e.kr -= u * a.toR[i]
		e.rr -= v * a.toR[i]
		e.gk -= u * a.pulls[i]
		e.gr -= v * a.pulls[i]
	}
	return e, e.kk > 0 && e.rr-e.kr*e.kr/e.kk > 0
}

// step solves (JᵀJ + damp·diag) d = Jᵀe and goes it from at. False where that matrix is not positive definite.
func (a *arrow) step(at []float64, damp float64) ([]float64, bool) {
	damped := func(x float64) float64 { return x*(1+damp) + 1e-300 }
	e, ok := a.eliminate(damped)
	if !ok {
		return nil, false
	}
	dr := (e.gr - e.kr*e.gk/e.kk) / (e.rr - e.kr*e.kr/e.kk)
	dk := (e.gk - e.kr*dr) / e.kk
	out := make([]float64, len(at))
	out[0], out[1] = at[0]+dk, at[1]+dr
	for i, m := range a.middle {
		out[2+i] = at[2+i] + (a.pulls[i]-a.toK[i]*dk-a.toR[i]*dr)/damped(m)
	}
	for _, x := range out {
		if !reckon.Finite(x) {
			return nil, false
		}
	}
	return out, true
}

// variances is the diagonal of the inverse of JᵀJ, from that of the first two rows without the middles. False where JᵀJ is
// not positive definite, or so near to it, a condition over 10¹⁴ by sums of columns, that the figures would be noise.
func (a *arrow) variances() ([]float64, bool) {
	e, ok := a.eliminate(func(x float64) float64 { return x })
	if !ok {
		return nil, false
	}
	n, det := 2+len(a.middle), e.kk*e.rr-e.kr*e.kr
	first := [2][2]float64{{e.rr / det, -e.kr / det}, {-e.kr / det, e.kk / det}}
	along := func(i int) [2]float64 { // row i of the inverse is this times the first two, and 1/middle at i itself
		if i < 2 {
			return [2]float64{float64(1 - i), float64(i)}
		}
		return [2]float64{-a.toK[i-2] / a.middle[i-2], -a.toR[i-2] / a.middle[i-2]}
	}
	out := make([]float64, n)
	sums := [2]float64{math.Abs(a.kk) + math.Abs(a.kr), math.Abs(a.rr) + math.Abs(a.kr)}
	largest, largestInverse := 0.0, 0.0
	for i := range n {
		u, sum := along(i), 0.0
		for j := range n {
			v := along(j)
			x := u[0]*(first[0][0]*v[0]+first[0][1]*v[1]) + u[1]*(first[1][0]*v[0]+first[1][1]*v[1])
			if i == j {
				if i >= 2 {
					x += 1 / a.middle[i-2]
				}
				out[i] = x
			}
			sum += math.Abs(x)
		}
		largestInverse = max(largestInverse, sum)
		if i >= 2 {
			k, r := math.Abs(a.toK[i-2]), math.Abs(a.toR[i-2])
			sums[0] += k
			sums[1] += r
			largest = max(largest, k+r+a.middle[i-2])
		}
	}
	return out, max(largest, sums[0], sums[1])*largestInverse <= 1e14
}

// normal gives JᵀJ with Jᵀe, and the sum of squares at a place.
func (c *curve) normal(at []float64) (*arrow, float64) {
	a, rss := newArrow(len(c.segs)), 0.0
	for i, g := range c.segs {
		middle := at[2+i]
		for _, p := range g {
			u := at[1] * (p.Day - middle)
			away := 1 / (1 + math.Exp(u)) // share of K still to come
			fit := at[0] - softplus(-u)
			d := [3]float64{1, (p.Day - middle) * away, -at[1] * away}
			e := math.Log(p.Size) - fit
			if !c.log {
				w := math.Exp(fit)
				e = p.Size - w
				d = [3]float64{w, w * d[1], w * d[2]}
			}
			rss += e * e
			a.add(i, d, e)
		}
	}
	return a, rss
}
