package journal

import (
	"fmt"
	"math"
	"strings"

	"slipleaf/build/head"
	"slipleaf/build/quantity"
)

// bound is what a kind of quantity can be at all, in its base unit. above: the low end itself is impossible.
type bound struct {
	low, high float64
	above     bool
}

// possible bounds every kind: figures outside are mistakes, not rare tanks. Ceilings are common practice
// rounded up generously, but for pH (the scale in water), shares (a part of a whole) and the efficacy of a lamp, where
// a watt of 700 nm light is 5.85 µmol/s and no photosynthetic photon carries less energy.
var possible = [...]bound{
	quantity.TemperatureKind:   {-5, 60, false},
	quantity.LengthKind:        {0, 2000, true},
	quantity.AreaKind:          {0, 10_000, true},
	quantity.VolumeKind:        {0, 100_000, true},
	quantity.MassKind:          {0, 100_000, false},
	quantity.HardnessKind:      {0, float64(100 * quantity.DGH), false},
	quantity.AlkalinityKind:    {0, float64(100 * quantity.DKH), false},
	quantity.ConcentrationKind: {0, 5000, false},
	quantity.ConductivityKind:  {0, 100_000, false},
	quantity.PhotonFluxKind:    {0, 3000, false},
	quantity.IlluminanceKind:   {0, 200_000, false},
	quantity.PowerKind:         {0, 10_000, true},
	quantity.EfficacyKind:      {0, 5.86, true},
	quantity.LuminousFluxKind:  {0, 1_000_000, true},
	quantity.SpanKind:          {0, 3660, true},
	quantity.ShareKind:         {0, 1, false},
	quantity.FlowKind:          {0, 100_000, true},
	quantity.PHKind:            {0, 14, false},
}

// impossible says what r is and what it can be, in the unit that its author chose.
func impossible[T quantity.Scalar](r quantity.Reading[T], b bound) string {
	show := func(v float64) string {
		return strings.ReplaceAll(quantity.FormatIn(T(v), r.Unit(), quantity.Metric), "\u00a0", " ")
	}
	var v T
	verb := "must be " + show(b.low) + " to " + show(b.high)
	if b.above {
		verb = "must be more than 0 and at most " + show(b.high)
	}
	return fmt.Sprintf("%s is out of range; %s %s", r, v.Kind(), verb)
}

// set reads a quantity that lies within what is possible for its kind; zero: or is nothing.
func set[T quantity.Scalar](d *decoder, n *head.Node, to *quantity.Reading[T], zero bool) {
	var v T
	s, ok := d.scalar(n, v.Kind().String())
	if !ok {
		return
	}
	r, as, err := quantity.Meant[T](s)
	if err != nil {
		d.badQuantity(n, err)
		return
	}
	d.takeAs(n, as)
	b := possible[v.Kind()]
	low, high := float64(r.Low()), float64(r.High())
	if r.Known() && (low < b.low || high > b.high+1e-9 || b.above && !zero && high <= b.low) {
		d.at(n, ruleImpossible, impossible(r, b), likely(r, usuals[n.Key], math.NaN()))
		return
	}
	*to = r
}

func (d *decoder) badQuantity(n *head.Node, err error) {
	e, ok := err.(*quantity.ParseError)
	if !ok {
		e = &quantity.ParseError{Message: err.Error()}
	}
	hint := e.Hint
	if hint != "" {
		hint = "did you mean " + hint + "?"
	}
	line, column := n.Within(e.Offset)
	d.complain(ruleBadQuantity, line, column, e.Message, hint)
}
