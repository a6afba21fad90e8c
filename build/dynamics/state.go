package dynamics

import "math"

// state is what is held of a stand: the joint normal distribution of x, its size on the [scale] of growth, and of the
// growth rate r per day.
type state struct {
	x, r       float64 // means
	xx, xr, rr float64 // variances and covariance
}

// predict lets days pass: x' = x + r·days, with unevenness of sd q per √day, while the rate itself wanders by sd s per
// √day. It is the prediction step of the Kalman filter (Kalman 1960, J. Basic Eng. 82:35–45) for an integrated random
// walk (Durbin & Koopman 2012, Time Series Analysis by State Space Methods, section 3.2).
func (b *state) predict(days, q, s float64) {
	w := s * s * days
	b.x += b.r * days
	b.xx += days * (2*b.xr + days*b.rr + q*q + w*days/3)
	b.xr += days * (b.rr + w/2)
	b.rr += w
}

// gain takes in a count: how far it lay from what was expected, and the variance of that difference.
func (b *state) gain(innovation, innovationVar float64) {
	kx, kr := b.xx/innovationVar, b.xr/innovationVar
	b.x += kx * innovation
	b.r += kr * innovation
	b.rr -= kr * b.xr
	b.xr -= kx * b.xr
	b.xx -= kx * b.xx
}

// A share of all counts is wild: wrong by a factor of two or so instead of some percent (our choice).
const wildShare, wildSD = 0.05, 0.7

// update takes in a count y with the given error variance that may be wild: the two normal distributions that come of it are matched
// by one with their mean and variance (Harrison & Stevens 1976, J. R. Stat. Soc. B 38:205–247). The density of the count is
// factor × exp(power).
func (b *state) update(y, variance float64) (factor, power float64) {
	innovation, tame := y-b.x, b.xx+variance
	wild := tame + wildSD*wildSD
	tamePower, wildPower := -innovation*innovation/(2*tame), -innovation*innovation/(2*wild)
	const root = 2.5066282746310002 // √2π
	if wildPower-tamePower > 40 {   // nothing but wild
		b.gain(innovation, wild)
		return wildShare / (root * math.Sqrt(wild)), wildPower
	}
	odds := wildShare / (1 - wildShare) * math.Sqrt(tame/wild) * math.Exp(wildPower-tamePower)
	a, c, p := *b, *b, odds/(1+odds)
	a.gain(innovation, tame)
	c.gain(innovation, wild)
	dx, dr, pq := c.x-a.x, c.r-a.r, p*(1-p)
	*b = state{
		x: a.x + p*dx, r: a.r + p*dr,
		xx: a.xx + p*(c.xx-a.xx) + pq*dx*dx,
		xr: a.xr + p*(c.xr-a.xr) + pq*dx*dr,
		rr: a.rr + p*(c.rr-a.rr) + pq*dr*dr,
	}
	return (1 - wildShare) * (1 + odds) / (root * math.Sqrt(tame)), tamePower
}

// hermite is the seven-point Gauss–Hermite rule for the standard normal distribution, exact to the 13th degree
// (Abramowitz & Stegun 1964, table 25.10, rescaled).
var hermite = [7][2]float64{ // place, weight
	{-3.750439717725742, 0.000548268855972218},
	{-2.366759410734541, 0.030757123967586498},
	{-1.154405394739968, 0.24012317860501272},
	{0, 0.45714285714285713},
	{1.154405394739968, 0.24012317860501272},
	{2.366759410734541, 0.030757123967586498},
	{3.750439717725742, 0.000548268855972218},
}

// least is the share of a stand that is taken to stay when a cut takes more than was held to stand.
const least = 0.02

// cutError is how far off the written amount of a change is, as a share of it, but for whole plants, which are counted (our
// choice: of stems the length is guessed).
const cutError = 0.05

// brim is the share of a ceiling that a stand is held not to pass when something is planted.
const brim = 0.999

// change adds an amount to the size itself and matches the two moments of what comes of it by quadrature: the delta
// method, but good for cuts that leave little too. The amount lies above or below what was written by the share off. That
// something is left is itself news: sizes smaller than the cut are ruled out.
func (b *state) change(amount, off float64, on scale) {
	sd := math.Sqrt(b.xx)
	middle := on.size(b.x)
	var all, mean, square, shift, shift2, cross float64
	for _, h := range hermite {
		size := on.size(b.x + sd*h[0])
		for _, e := range [...]float64{1 - off, 1 + off} {
			left := size + amount*e
			if left <= least*middle {
				continue
			}
			y, w := on.place(left, brim)-b.x, h[1]/2
			all += w
			mean += w * y
			square += w * y * y
			shift += w * h[0]
			shift2 += w * h[0] * h[0]
			cross += w * y * h[0]
		}
	}
	if all < 0.1 {
		b.x, b.xx, b.xr = on.place(least*middle, brim), b.xx+1, 0
		return
	}
	mean, square, shift, shift2, cross = mean/all, square/all, shift/all, shift2/all, cross/all
	slope := 0.0 // of r on z, where x = mean + sd·z
	if sd > 0 {
		slope = b.xr / sd
	}
	b.x, b.xx, b.xr = b.x+mean, square-mean*mean, slope*(cross-mean*shift)
	b.r += slope * shift
	b.rr += slope * slope * (shift2 - shift*shift - 1)
}
