package dynamics

import (
	"math"

	"slipleaf/build/reckon"
)

// Prior is what is held of a growth rate before any count: a normal distribution, per day. The zero value is that of any
// plant.
type Prior struct{ Mean, SD float64 }

// tankSpread is by how much the rates of one plant in several tanks differ, as a share of them (our choice: light and CO2
// make half again as much, or two thirds).
const tankSpread = 0.4

// normal95 is how many standard deviations an interval of 95 % reaches to each side.
var normal95 = reckon.NormalQuantile(0.975)

// With is the prior of a plant in one more tank, where its rates in others are known with intervals of 95 %: what is known of the plant's
// mean is p and those rates, each with its own error and [tankSpread] (a normal model with known variances: Gelman et al.
// 2013, Bayesian Data Analysis, section 2.5), and the new tank lies around it by that spread.
func (p Prior) With(rates []reckon.Interval) Prior {
	if len(rates) == 0 {
		return p
	}
	if p.SD <= 0 {
		p = Prior{rateMean, rateSD}
	}
	sum, weight := p.Mean/(p.SD*p.SD), 1/(p.SD*p.SD)
	for _, r := range rates {
		se, between := (r.High-r.Low)/(2*normal95), tankSpread*math.Abs(r.Value)
		w := 1 / (se*se + between*between + 1e-12)
		sum, weight = sum+w*r.Value, weight+w
	}
	mean := sum / weight
	return Prior{mean, math.Sqrt(1/weight + tankSpread*tankSpread*mean*mean)}
}
