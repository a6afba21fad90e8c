package dynamics

import "math"

// scale is that on which growth is a straight line: ln size; or, where sizes have a known ceiling, the logit of the share
// of it, for W' = r W (1 − W/K) is (logit W/K)' = r (Verhulst 1838).
type scale struct{ ceiling float64 } // 0: none

// coverStep is the step in which a cover is guessed, as a share of its ceiling (common practice), and fullest the share that counts as
// all of it: what is called full may lack half a step.
const coverStep, fullest = 0.05, 1 - 0.05/2

// of is the place of a size above 0 that was counted or is wanted.
func (s scale) of(size float64) float64 { return s.place(size, fullest) }

// place is the place of a size, no more than a share of the ceiling.
func (s scale) place(size, most float64) float64 {
	if s.ceiling == 0 {
		return math.Log(size)
	}
	f := min(size/s.ceiling, most)
	return math.Log(f / (1 - f))
}

// size is the size at a place; it is kept from running over where counts a day apart make an absurd rate.
func (s scale) size(x float64) float64 {
	if s.ceiling == 0 {
		return math.Exp(min(x, 690))
	}
	return s.ceiling / (1 + math.Exp(-x))
}

// around are the sizes at the places of [hermite] around x, from four exponentials instead of seven.
func (s scale) around(x, sd float64) (sizes [len(hermite)]float64) {
	const last = len(hermite) - 1
	middle := math.Exp(min(x, 690))
	for i := range last/2 + 1 {
		up := math.Exp(-sd * hermite[i][0])
		sizes[i], sizes[last-i] = middle/up, middle*up
	}
	for i, e := range sizes {
		if s.ceiling > 0 {
			sizes[i] = s.ceiling / (1 + 1/e)
		}
		sizes[i] = min(sizes[i], math.MaxFloat64)
	}
	return sizes
}

// rounding is the variance of a count in steps of 5 % of the ceiling, at a place; 0 without a ceiling.
func (s scale) rounding(x float64) float64 {
	if s.ceiling == 0 {
		return 0
	}
	f := 1 / (1 + math.Exp(-x))
	slope := f * (1 - f) // of the share on the logit
	return coverStep * coverStep / 12 / (slope * slope)
}
