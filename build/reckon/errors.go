package reckon

import (
	"math"
	"strings"

	"slipleaf/build/quantity"
)

// ErrorKind says what is wrong with an input.
type ErrorKind string

// The kinds of an [InputError].
const (
	OutOfRange    ErrorKind = "out-of-range"  // outside of what the equation or common sense holds for
	Missing       ErrorKind = "missing"       // needed, not given
	Contradictory ErrorKind = "contradictory" // two inputs that cannot both be true, or one given twice
	WrongUnit     ErrorKind = "wrong-unit"    // no number, or a unit of another kind
	Unknown       ErrorKind = "unknown"       // a name, key or topic that does not exist
	NotModelled   ErrorKind = "not-modelled"  // a true value that this sum cannot answer for
)

// InputError is the error of every sum: it names the value, the range and the reason.
type InputError struct {
	Kind  ErrorKind
	Name  string // the input: kh, lamp-efficacy
	Value string // as given, with its unit; "" when missing
	Range string // what is accepted: "0.5 to 20 dKH"; "" when there is no range
	Why   string
	Hint  string // the nearest right spelling or what to do; "" when there is none
}

// Error tells all of it in one line.
func (e *InputError) Error() string {
	var s string
	switch e.Kind {
	case OutOfRange:
		s = e.Name + " is " + e.Value + ", outside " + e.Range
	case Missing:
		s = e.Name + " is missing"
	case Contradictory:
		s = strings.TrimSpace(e.Name + " " + e.Value)
		if e.Why == "" {
			s += ": contradicts the other values"
		}
	case WrongUnit:
		s = e.Name + "=" + e.Value + " cannot be read"
	case Unknown:
		s = "unknown " + e.Name + " " + strings.TrimSpace(`"`+e.Value+`"`)
	default:
		s = strings.TrimSpace(e.Name+" "+e.Value) + " is not modelled"
	}
	if e.Why != "" {
		s += ": " + e.Why
	}
	if e.Hint != "" {
		s += "; " + e.Hint
	}
	return s
}

// within refuses a quantity that is not a number or lies outside of low to high; unit is how the error writes it.
func Within[T quantity.Scalar](name string, v, low, high T, unit, why string) error {
	if v >= low && v <= high { // false for NaN
		return nil
	}
	n, _ := quantity.In(v, unit)
	lo, _ := quantity.In(low, unit)
	hi, _ := quantity.In(high, unit)
	return outside(name, n, lo, hi, unit, why)
}

// inside is [within] for a pure number.
func Inside(name string, v, low, high float64, why string) error {
	if v >= low && v <= high {
		return nil
	}
	return outside(name, v, low, high, "", why)
}

func outside(name string, v, low, high float64, unit, why string) error {
	value, rng := "not a finite number", Figure(low)+" to "+Figure(high)
	if !math.IsNaN(v) && !math.IsInf(v, 0) {
		value = strings.TrimSpace(Figure(v) + " " + unit)
	}
	return &InputError{Kind: OutOfRange, Name: name, Value: value, Range: strings.TrimSpace(rng + " " + unit), Why: why}
}

// first gives the first error of a list of checks.
func FirstError(errs ...error) error {
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}

// finite reports whether f is a number.
func Finite(f float64) bool { return !math.IsNaN(f) && !math.IsInf(f, 0) }
