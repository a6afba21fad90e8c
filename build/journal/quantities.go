package journal

import (
	"slipleaf/build/doubt"
	"slipleaf/build/head"
	"slipleaf/build/quantity"
)

// quantities read a quantity of each kind into the place of a reading.
var quantities = [...]func(d *decoder, n *head.Node, to any, zero bool){
	quantity.TemperatureKind:   set[quantity.Temperature],
	quantity.LengthKind:        set[quantity.Length],
	quantity.AreaKind:          set[quantity.Area],
	quantity.MassKind:          set[quantity.Mass],
	quantity.HardnessKind:      set[quantity.Hardness],
	quantity.AlkalinityKind:    set[quantity.Alkalinity],
	quantity.ConcentrationKind: set[quantity.Concentration],
	quantity.ConductivityKind:  set[quantity.Conductivity],
	quantity.PhotonFluxKind:    set[quantity.PhotonFlux],
	quantity.IlluminanceKind:   set[quantity.Illuminance],
	quantity.PowerKind:         set[quantity.Power],
	quantity.EfficacyKind:      set[quantity.Efficacy],
	quantity.LuminousFluxKind:  set[quantity.LuminousFlux],
	quantity.SpanKind:          set[quantity.Span],
	quantity.ShareKind:         set[quantity.Share],
	quantity.FlowKind:          set[quantity.Flow],
	quantity.PHKind:            set[quantity.PH],
}

// set reads a quantity that lies within what is possible for its kind; zero: or is nothing.
func set[T quantity.Scalar](d *decoder, n *head.Node, to any, zero bool) {
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
	if why, hint := doubt.Impossible(r, n.Key, zero); why != "" {
		d.at(n, ruleImpossible, why, hint)
		return
	}
	*to.(*quantity.Reading[T]) = r
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
