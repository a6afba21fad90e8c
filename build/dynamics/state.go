package dynamics

import "math"

// state is what is held of a stand: the joint normal distribution of x = ln size and of the growth rate r per day.
type state struct {
	x, r       float64 // means
	xx, xr, rr float64 // variances and covariance
}

// predict lets days pass: x' = x + r·days, with unevenness of sd q per √day. It is the prediction step of the Kalman
// filter (Kalman 1960, J. Basic Eng. 82:35–45).
func (b *state) predict(days, q float64) {
	b.x += b.r * days
	b.xx += days*(2*b.xr+days*b.rr) + q*q*days
	b.xr += days * b.rr
}

// update takes in a count y = ln size with the given error variance, and returns how far it lay from what was expected,
// and the variance of that difference.
func (b *state) update(y, variance float64) (innovation, innovationVar float64) {
	innovation, innovationVar = y-b.x, b.xx+variance
	kx, kr := b.xx/innovationVar, b.xr/innovationVar
	b.x += kx * innovation
	b.r += kr * innovation
	b.rr -= kr * b.xr
	b.xr -= kx * b.xr
	b.xx -= kx * b.xx
	return innovation, innovationVar
}

// hermite is the five-point Gauss–Hermite rule for the standard normal distribution, exact to the ninth degree
// (Abramowitz & Stegun 1964, table 25.10, rescaled).
var hermite = [5][2]float64{ // place, weight
	{-2.856970013872806, 0.011257411327720691},
	{-1.355626179974266, 0.22207592200561263},
	{0, 0.5333333333333333},
	{1.355626179974266, 0.22207592200561263},
	{2.856970013872806, 0.011257411327720691},
}

// least is the share of a stand that is taken to stay when a cut takes more than was held to stand.
const least = 0.02

// change adds an amount to the size itself, x' = ln(eˣ + amount), and matches the two moments of what comes of it by
// quadrature: the delta method, but good for cuts that leave little too. That something is left is itself news: sizes
// smaller than the cut are ruled out.
func (b *state) change(amount float64) {
	sd := math.Sqrt(b.xx)
	var place, weight [len(hermite)]float64
	var all, mean, shift, shift2 float64
	for i, h := range hermite {
		left := math.Exp(b.x+sd*h[0]) + amount
		if left <= least*math.Exp(b.x) {
			continue
		}
		place[i], weight[i] = math.Log(left), h[1]
		all += weight[i]
		mean += weight[i] * place[i]
		shift += weight[i] * h[0]
		shift2 += weight[i] * h[0] * h[0]
	}
	if all < 0.1 {
		b.x, b.xx, b.xr = b.x+math.Log(least), b.xx+1, 0
		return
	}
	mean, shift, shift2 = mean/all, shift/all, shift2/all
	var xx, xz float64
	for i, h := range hermite {
		xx += weight[i] * (place[i] - mean) * (place[i] - mean) / all
		xz += weight[i] * (place[i] - mean) * (h[0] - shift) / all
	}
	slope := 0.0 // of r on z, where x = mean + sd·z
	if sd > 0 {
		slope = b.xr / sd
	}
	b.x, b.xx, b.xr = mean, xx, slope*xz
	b.r += slope * shift
	b.rr += slope * slope * (shift2 - shift*shift - 1)
}
