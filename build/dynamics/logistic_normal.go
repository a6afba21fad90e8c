package dynamics

import (
	"math"

	"gonum.org/v1/gonum/mat"

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

// step solves (JᵀJ + damp·diag) d = Jᵀe and goes it from at. False where that matrix is not positive definite.
func (a *arrow) step(at []float64, damp float64) ([]float64, bool) {
	damped := func(x float64) float64 { return x*(1+damp) + 1e-300 }
	kk, kr, rr := damped(a.kk), a.kr, damped(a.rr)
	gk, gr := a.gradient[0], a.gradient[1]
	for i, m := range a.middle {
		if m = damped(m); !(m > 0) {
			return nil, false
		}
		u, v := a.toK[i]/m, a.toR[i]/m
		kk -= u * a.toK[i]
		kr -= u * a.toR[i]
		rr -= v * a.toR[i]
		gk -= u * a.pulls[i]
		gr -= v * a.pulls[i]
	}
	if !(kk > 0) || !(rr-kr*kr/kk > 0) {
		return nil, false
	}
	dr := (gr - kr*gk/kk) / (rr - kr*kr/kk)
	dk := (gk - kr*dr) / kk
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

// dense is JᵀJ as a matrix.
func (a *arrow) dense() *mat.SymDense {
	m := mat.NewSymDense(2+len(a.middle), nil)
	m.SetSym(0, 0, a.kk)
	m.SetSym(0, 1, a.kr)
	m.SetSym(1, 1, a.rr)
	for i := range a.middle {
		m.SetSym(0, 2+i, a.toK[i])
		m.SetSym(1, 2+i, a.toR[i])
		m.SetSym(2+i, 2+i, a.middle[i])
	}
	return m
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
