package reckon

import (
	"math"

	"gonum.org/v1/gonum/mathext"

	"slipleaf/build/quantity"
)

// Tally is how many of some came out well.
type Tally struct{ Yes, Of int }

// most is the largest tally that a sum takes.
const mostTallied = 1_000_000

func (t Tally) check() error {
	if err := Inside("of", float64(t.Of), 1, mostTallied, "a share needs at least one report"); err != nil {
		return err
	}
	return Inside("yes", float64(t.Yes), 0, float64(t.Of), "successes cannot exceed the total")
}

func CheckLevel(level quantity.Share) error {
	return Within("level", level, 0.5, 0.999, "%", "expected a level between 50% and 99.9%")
}

var (
	equationWilson   = Equation{"wilson", "Interval of a share by its score", "(p + z²/2n ± z √(p(1 − p)/n + z²/4n²))/(1 + z²/n)", "Wilson 1927, J. Am. Stat. Assoc. 22:209–212; Newcombe 1998, Stat. Med. 17:857–872"}
	equationJeffreys = Equation{"jeffreys", "Interval of a share after Jeffreys", "quantiles of Beta(x + ½, n − x + ½)", "Brown, Cai & DasGupta 2001, Stat. Sci. 16:101–133"}
	equationShrink   = Equation{"beta-binomial", "Share drawn toward the shares of the others", "(x + a)/(n + a + b)", "beta-binomial by moments after Kleinman 1973, J. Am. Stat. Assoc. 68:46–54 (from memory)"}
)

// Wilson is the share of a tally with its score interval, level 50 to 99.9 %. Wilson 1927.
func Wilson(t Tally, level quantity.Share) (Interval, error) { return WilsonOf(t, 1, level) }

// WilsonOf is [Wilson] for a tally that tells no more than one effect times smaller would, because what it counts is alike in
// groups: 1 or more. The number is replaced by n/effect (Kish 1965, Survey Sampling, section 5.4; Korn & Graubard 1998,
// Survey Methodology 24:193–201).
func WilsonOf(t Tally, effect float64, level quantity.Share) (Interval, error) {
	if err := FirstError(t.check(), CheckLevel(level), Inside("effect", effect, 1, 1e6, "groups that are alike tell less, not more")); err != nil {
		return Interval{}, err
	}
	n, p, z := float64(t.Of)/effect, float64(t.Yes)/float64(t.Of), NormalQuantile((1+float64(level))/2)
	zz := z * z / n
	middle, half := p+zz/2, z*math.Sqrt(p*(1-p)/n+zz/n/4)
	e := Interval{Value: p, Low: (middle - half) / (1 + zz), High: (middle + half) / (1 + zz), Level: float64(level)}
	if t.Yes == 0 {
		e.Low = 0 // exactly, without the rounding of the root
	}
	if t.Yes == t.Of {
		e.High = 1
	}
	return e, nil
}

// Newcombe is by how much the share of a is greater than that of b, from −1 to 1, with the hybrid score interval of two tallies
// that are independent of each other, level 50 to 99.9 %; effect as in [WilsonOf]. Newcombe 1998, Stat. Med. 17:873–890, method 10.
func Newcombe(a, b Tally, effect float64, level quantity.Share) (Interval, error) {
	x, err := WilsonOf(a, effect, level)
	y, err2 := WilsonOf(b, effect, level)
	if err := FirstError(err, err2); err != nil {
		return Interval{}, err
	}
	d := x.Value - y.Value
	return Interval{Value: d, Low: d - math.Hypot(x.Value-x.Low, y.High-y.Value), High: d + math.Hypot(x.High-x.Value, y.Value-y.Low), Level: float64(level)}, nil
}

// Jeffreys is the share of a tally with the interval of Beta(x + ½, n − x + ½); the lower end is 0 for none and the
// upper 1 for all. Brown, Cai & DasGupta 2001.
func Jeffreys(t Tally, level quantity.Share) (Interval, error) {
	if err := FirstError(t.check(), CheckLevel(level)); err != nil {
		return Interval{}, err
	}
	e := Prior{A: 0.5, B: 0.5}.interval(t, level)
	e.Value = float64(t.Yes) / float64(t.Of)
	if t.Yes == 0 {
		e.Low = 0
	}
	if t.Yes == t.Of {
		e.High = 1
	}
	return e, nil
}

// WilsonWorking is the working of [Wilson].
func WilsonWorking(t Tally, level quantity.Share) Working {
	return Working{Equation: equationWilson, Inputs: t.inputs(level)}
}

// JeffreysWorking is the working of [Jeffreys].
func JeffreysWorking(t Tally, level quantity.Share) Working {
	return Working{Equation: equationJeffreys, Inputs: t.inputs(level)}
}

func (t Tally) inputs(level quantity.Share) []Input {
	return []Input{{Name: "yes", Value: float64(t.Yes)}, {Name: "of", Value: float64(t.Of)}, Given("level", level, "%")}
}

// Prior is what is believed of a share before its own reports: Beta(A, B). Pooled says that the groups differ no more
// than chance makes them, so that all have the mean.
type Prior struct {
	A, B   float64
	Rho    float64 // correlation within a group as estimated; not above 0 when Pooled
	Pooled bool
	Mean   float64
}

// Weight is the number of reports that the prior is worth; +0 when Pooled, where it outweighs any number.
func (p Prior) Weight() float64 { return p.A + p.B }

// FixedPrior is a prior of a mean strictly between 0 and 1 and a weight of 0.1 to 1000 reports; for fewer than five groups or thirty
// reports, with the mean of all and a weight of 4 (our choice).
func FixedPrior(mean, weight float64) (Prior, error) {
	err := FirstError(Inside("prior-mean", mean, 0.001, 0.999, "certainty cannot be moved by reports"), Inside("prior-weight", weight, 0.1, 1000, "in reports"))
	if err != nil {
		return Prior{}, err
	}
	return Prior{A: mean * weight, B: (1 - mean) * weight, Rho: 1 / (weight + 1), Mean: mean}, nil
}

// priorGroups and priorReports are the fewest from which the spread between groups is estimated: our choice.
const (
	priorGroups  = 5
	priorReports = 30
	priorWeight  = 4
)

// PriorOf learns a prior from groups. From five groups and thirty reports on by moments: rho = (Q − p(1 − p)(k − 1))/(p(1 −
// p)(N − Σn²/N − (k − 1))), after Kleinman 1973; with fewer, the mean of all (kept off 0 and 1 by one report) at a weight of
// four. Groups without reports are left out; without any report it is *[InputError] Missing.
func PriorOf(groups []Tally) (Prior, error) {
	var yes, all, squares, k float64
	for _, g := range groups {
		if g.Of == 0 && g.Yes == 0 {
			continue
		}
		if err := g.check(); err != nil {
			return Prior{}, err
		}
		n := float64(g.Of)
		yes, all, squares, k = yes+float64(g.Yes), all+n, squares+n*n, k+1
	}
	if all == 0 {
		return Prior{}, &InputError{Kind: Missing, Name: "reports", Why: "no group has any"}
	}
	p := yes / all
	if k < priorGroups || all < priorReports || yes == 0 || yes == all {
		return FixedPrior((yes+0.5)/(all+1), priorWeight)
	}
	q := 0.0
	for _, g := range groups {
		if g.Of > 0 {
			d := float64(g.Yes)/float64(g.Of) - p
			q += float64(g.Of) * d * d
		}
	}
	v := p * (1 - p)
	rho := (q - v*(k-1)) / (v * (all - squares/all - (k - 1)))
	if !(rho > 0) {
		return Prior{Rho: rho, Pooled: true, Mean: p}, nil
	}
	m := math.Max((1-rho)/rho, 1) // a spread so wide comes of few reports: the prior is worth one at least (our choice)
	return Prior{A: p * m, B: (1 - p) * m, Rho: rho, Mean: p}, nil
}

// Shrink draws the share of a tally toward the prior: (x + A)/(n + A + B), with the interval of its posterior beta. A
// tally without reports gives the prior itself. A pooled prior gives the mean, with no interval of its own.
func (p Prior) Shrink(t Tally, level quantity.Share) (Interval, error) {
	if t != (Tally{}) {
		if err := t.check(); err != nil {
			return Interval{}, err
		}
	}
	if err := CheckLevel(level); err != nil {
		return Interval{}, err
	}
	if p.Pooled {
		return Interval{Value: p.Mean, Low: p.Mean, High: p.Mean, Level: float64(level)}, nil
	}
	if err := FirstError(Inside("prior a", p.A, 1e-6, 1e6, "a prior is made by PriorOf or FixedPrior"), Inside("prior b", p.B, 1e-6, 1e6, "a prior is made by PriorOf or FixedPrior")); err != nil {
		return Interval{}, err
	}
	e := p.interval(t, level)
	e.Value = (float64(t.Yes) + p.A) / (float64(t.Of) + p.A + p.B)
	return e, nil
}

// Working is the working of [Prior.Shrink].
func (p Prior) Working(t Tally, level quantity.Share) Working {
	w := Working{Equation: equationShrink, Inputs: append(t.inputs(level), Input{Name: "prior-mean", Value: p.Mean})}
	if p.Pooled {
		w.Notes = Remarks("the groups differ no more than chance makes them, so all have the mean")
		return w
	}
	w.Inputs = append(w.Inputs, Input{Name: "prior-weight", Value: p.Weight()})
	return w
}

// interval is the middle part of the posterior beta.
func (p Prior) interval(t Tally, level quantity.Share) Interval {
	tail := (1 - float64(level)) / 2
	a, b := float64(t.Yes)+p.A, float64(t.Of-t.Yes)+p.B
	return Interval{Low: mathext.InvRegIncBeta(a, b, tail), High: mathext.InvRegIncBeta(a, b, 1-tail), Level: float64(level)}
}

// normalQuantile is the quantile p of the standard normal distribution.
func NormalQuantile(p float64) float64 { return math.Sqrt2 * math.Erfinv(2*p-1) }

// StudentQuantile is the quantile p, above 0.5, of Student's t with free degrees of freedom: with x = ν/(ν + t²), the share
// above t is half the regularised incomplete beta of x (Abramowitz & Stegun 1964, 26.7.1). Gonum's own stands in a package
// that links all of its matrices, two megabytes.
func StudentQuantile(free, p float64) float64 {
	x := mathext.InvRegIncBeta(free/2, 0.5, 2*(1-p))
	return math.Sqrt(free * (1 - x) / x)
}
