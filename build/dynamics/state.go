package dynamics

import "math"

// state is what is held of a stand: the joint normal distribution of x, its size on the [scale] of growth, and of the
// growth rate r per day and of what each cut costs beside what it takes, c on that scale: the days for which plants rest after it.
type state struct {
	x, r, c                float64 // means
	xx, xr, rr, xc, rc, cc float64 // variances and covariances
}

// rest takes off a share of what a cut costs.
func (b *state) rest(share float64) {
	b.x -= share * b.c
	b.xx += share * (share*b.cc - 2*b.xc)
	b.xr -= share * b.rc
	b.xc -= share * b.cc
}

// predict lets days pass: x' = x + r·days, with unevenness of sd q per √day, while the rate itself wanders by sd s per
// √day. It is the prediction step of the Kalman filter (Kalman 1960, J. Basic Eng. 82:35–45) for an integrated random
// walk (Durbin & Koopman 2012, Time Series Analysis by State Space Methods, section 3.2).
func (b *state) predict(days, q, s float64) {
	w := s * s * days
	b.x += b.r * days
	b.xx += days * (2*b.xr + days*b.rr + q*q + w*days/3)
	b.xr += days * (b.rr + w/2)
	b.xc += days * b.rc
	b.rr += w
}

// gain takes in how far a count lay from what was expected, times a weight for each unit of variance, and what the count takes off
// the variances, in the same unit: both are one over the variance of that difference where a count cannot be wild.
func (b *state) gain(step, less float64) {
	b.x += b.xx * step
	b.r += b.xr * step
	b.c += b.xc * step
	b.rr -= b.xr * b.xr * less
	b.rc -= b.xr * b.xc * less
	b.cc -= b.xc * b.xc * less
	b.xc -= b.xx * b.xc * less
	b.xr -= b.xx * b.xr * less
	b.xx -= b.xx * b.xx * less
}

// A share of all counts is wild: wrong by a factor of two or so instead of some percent (our choice).
const wildShare, wildSD = 0.05, 0.7

// update takes in a count y with the given error variance that may be wild: of the two gains that come of it the state takes their
// mean, and the two normal distributions are matched by one with their mean and variance (Harrison & Stevens 1976, J. R. Stat. Soc.
// B 38:205–247). The density of the count is factor × exp(power).
func (b *state) update(y, variance float64) (factor, power float64) {
	innovation := y - b.x
	tame := b.xx + variance
	wild := tame + wildSD*wildSD
	half := innovation * innovation / 2
	byTame, byWild := 1/tame, 1/wild
	const root = 2.5066282746310002 // √2π
	gain, less := byWild, byWild
	if apart := half * (byTame - byWild); apart > 40 { // nothing but wild
		factor, power = wildShare/root*math.Sqrt(byWild), -half*byWild
	} else {
		odds := wildShare / (1 - wildShare) * math.Sqrt(tame*byWild) * math.Exp(apart)
		p := odds / (1 + odds)
		gain = (1-p)*byTame + p*byWild
		less = gain - 2*p*(1-p)*apart*(byTame-byWild)
		factor, power = (1-wildShare)/root*(1+odds)*math.Sqrt(byTame), -half*byTame
	}
	b.gain(innovation*gain, less)
	return factor, power
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
	sizes := on.around(b.x, sd)
	middle := sizes[len(hermite)/2]
	var all, mean, square, shift, shift2, cross float64
	take := func(z, y, y2, w float64) {
		all += w
		mean += w * y
		square += w * y2
		shift += w * z
		shift2 += w * z * z
		cross += w * y * z
	}
	for i, h := range hermite {
		left, d := sizes[i]+amount, math.Abs(amount*off)
		if u := d / left; on.ceiling == 0 && left-d > least*middle && u < 1./8 {
			// ln(left−d) and ln(left+d) by one logarithm: their mean, and half their distance, artanh u, by its series
			v := u * u
			y, half := math.Log((left-d)*(left+d))/2-b.x, u*(1+v*(1./3+v*(1./5+v*(1./7+v*(1./9+v/11)))))
			take(h[0], y, y*y+half*half, h[1])
			continue
		}
		for _, left := range [...]float64{left - d, left + d} {
			if left > least*middle {
				y := on.place(left, brim) - b.x
				take(h[0], y, y*y, h[1]/2)
			}
		}
	}
	if all < 0.1 {
		b.x, b.xx, b.xr, b.xc = on.place(least*middle, brim), b.xx+1, 0, 0
		return
	}
	mean, square, shift, shift2, cross = mean/all, square/all, shift/all, shift2/all, cross/all
	slope, slopeC := 0.0, 0.0 // of r and c on z, where x = mean + sd·z
	if sd > 0 {
		slope, slopeC = b.xr/sd, b.xc/sd
	}
	both, less := cross-mean*shift, shift2-shift*shift-1
	b.x, b.xx, b.xr, b.xc = b.x+mean, square-mean*mean, slope*both, slopeC*both
	b.r += slope * shift
	b.c += slopeC * shift
	b.rr += slope * slope * less
	b.rc += slope * slopeC * less
	b.cc += slopeC * slopeC * less
}
