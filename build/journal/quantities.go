package journal

import (
	"slipleaf/build/doubt"
	"slipleaf/build/head"
	"slipleaf/build/quantity"
)

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
	if why, hint := doubt.Impossible(r, n.Key, zero); why != "" {
		d.at(n, ruleImpossible, why, hint)
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
