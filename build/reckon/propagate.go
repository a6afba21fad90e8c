package reckon

import (
	"cmp"
	"math"
	"math/rand/v2"
	"sort"

	"slipleaf/build/quantity"
)

// Draws says how often and from which seed a propagation draws: the same Draws give the same figures on every machine.
// The zero value draws [UsualDraws] times from seed 0 by PCG-DXSM.
type Draws struct {
	Seed  uint64
	Count int // 100 to 1 000 000; 0: UsualDraws
}

// UsualDraws is the number of draws when none is given.
const UsualDraws = 4000

var equationPropagation = Equation{"propagation", "Propagation of error by seeded draws", "quantiles of the product of draws of its parts",
	"JCGM 101:2008, Evaluation of measurement data — propagation of distributions using a Monte Carlo method (from memory)"}

// Part is one factor of a product: its best figure and how it may differ.
type Part struct {
	Name string
	Best float64
	draw func(*rand.Rand) float64
}

// CertainPart is a factor without error; finite.
func CertainPart(name string, v float64) Part {
	return Part{name, v, func(*rand.Rand) float64 { return v }}
}

// SharePart is a share known by a tally and a prior: its posterior beta, and the shrunken value as best figure.
func SharePart(name string, t Tally, p Prior) (Part, error) {
	e, err := p.Shrink(t, 0.95)
	if err != nil {
		return Part{}, err
	}
	if p.Pooled {
		return CertainPart(name, e.Value), nil
	}
	a, b := float64(t.Yes)+p.A, float64(t.Of-t.Yes)+p.B
	return Part{name, e.Value, func(r *rand.Rand) float64 {
		x, y := gamma(r, a), gamma(r, b)
		return x / (x + y)
	}}, nil
}

// gamma draws from the gamma distribution of shape a above 0 and scale 1 (Marsaglia & Tsang 2000, ACM Transactions on
// Mathematical Software 26:363–372; below 1 by a power of the one above).
func gamma(r *rand.Rand, a float64) float64 {
	part := 1.0
	if a < 1 {
		part = math.Pow(r.Float64(), 1/a)
		a++
	}
	d := a - 1.0/3
	for {
		x := r.NormFloat64()
		v := 1 + x/(3*math.Sqrt(d))
		if v <= 0 {
			continue
		}
		v *= v * v
		if math.Log(r.Float64()) < 0.5*x*x+d*(1-v+math.Log(v)) {
			return part * d * v
		}
	}
}

// SpreadPart is a figure above 0 whose logarithm is uncertain by sd (0 to 3): a log-normal about it.
func SpreadPart(name string, v, sd float64) (Part, error) {
	if err := FirstError(Inside(name, v, 1e-12, 1e12, "expected a figure above zero"), Inside(name+" spread", sd, 0, 3, "on the log scale")); err != nil {
		return Part{}, err
	}
	return Part{name, v, func(r *rand.Rand) float64 { return v * math.Exp(sd*r.NormFloat64()) }}, nil
}

// Product multiplies parts: the product of the best figures, and the interval that independent draws of all parts make.
func Product(d Draws, level quantity.Share, parts ...Part) (Interval, Working, error) {
	best := 1.0
	w := Working{Equation: equationPropagation}
	for _, p := range parts {
		if p.draw == nil || !Finite(p.Best) {
			return Interval{}, Working{}, &InputError{Kind: Missing, Name: "part " + p.Name}
		}
		best *= p.Best
		w.Inputs = append(w.Inputs, Input{Name: p.Name, Value: p.Best})
	}
	e, err := Propagate(d, level, best, func(r *rand.Rand) float64 {
		v := 1.0
		for _, p := range parts {
			v *= p.draw(r)
		}
		return v
	})
	n, _ := d.count()
	w.Notes = []Note{{Key: "draws", Text: Figure(float64(n)) + " draws from seed " + Figure(float64(d.Seed)) + "; the parts are taken as independent", Figure: Figure(float64(n))}}
	return e, w, err
}

// Propagate draws a figure many times and gives the middle part of what came, about the best figure. A draw that is not
// finite is an error: no sum may hide one.
func Propagate(d Draws, level quantity.Share, best float64, draw func(*rand.Rand) float64) (Interval, error) {
	n, err := d.count()
	if err := FirstError(err, CheckLevel(level), Inside("best", best, -1e300, 1e300, "expected a finite figure")); err != nil {
		return Interval{}, err
	}
	r := rand.New(rand.NewPCG(d.Seed, 0x736c69706c656166))
	got := make([]float64, n)
	for i := range got {
		got[i] = draw(r)
		if !Finite(got[i]) {
			return Interval{}, Inside("draw", got[i], -1e300, 1e300, "expected a finite figure")
		}
	}
	sort.Float64s(got)
	tail := (1 - float64(level)) / 2
	return Interval{Value: best, Low: ranked(got, tail), High: ranked(got, 1-tail), Level: float64(level)}, nil
}

func (d Draws) count() (int, error) {
	n := cmp.Or(d.Count, UsualDraws)
	return n, Inside("draws", float64(n), 100, 1e6, "fewer tell nothing, more take long")
}

// ranked is the quantile p of sorted figures, between neighbours in proportion (definition 7 of Hyndman & Fan 1996).
func ranked(sorted []float64, p float64) float64 {
	at := p * float64(len(sorted)-1)
	i := min(int(at), len(sorted)-2)
	part := at - float64(i)
	return sorted[i]*(1-part) + sorted[i+1]*part
}
