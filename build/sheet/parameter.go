package sheet

import (
	"math"

	"slipleaf/build/journal"
	"slipleaf/build/quantity"
)

// Parameter is a property of a tank that is held against what a plant tolerates.
type Parameter string

// The parameters, in the order in which sheets list them.
const (
	Temperature Parameter = "temperature" // °C
	GH          Parameter = "gh"          // dGH
	KH          Parameter = "kh"          // dKH
	LightAt     Parameter = "light"       // µmol/m²/s where the plant goes
	CO2         Parameter = "co2"         // added or not
	PH          Parameter = "ph"
)

// Parameters lists them.
func Parameters() []Parameter { return []Parameter{Temperature, GH, KH, LightAt, CO2, PH} }

// unit is the unit that the figures of a parameter count in.
func (p Parameter) unit() string {
	switch p {
	case Temperature:
		return "C"
	case GH:
		return "dGH"
	case KH:
		return "dKH"
	case LightAt:
		return "umol/m2/s"
	}
	return ""
}

// Noise is how far a figure may be wrong: a cheap thermometer, a drop test, a meter that was set last month (common
// practice). A difference within it is near the edge, never outside. Light has an interval of its own.
func (p Parameter) Noise() float64 {
	switch p {
	case Temperature, GH, KH:
		return 1
	case PH:
		return 0.2
	}
	return 0
}

// noiseAt is the noise at an end of a band; of light, a tenth of it, as meters go (our choice).
func (p Parameter) noiseAt(edge float64) float64 {
	if p == LightAt {
		return 0.1 * edge
	}
	return p.Noise()
}

// Print prints the figures lo to hi of a parameter in a system of units.
func (p Parameter) Print(lo, hi float64, sys quantity.System) quantity.Printed {
	switch p {
	case Temperature:
		return quantity.PrintRange(quantity.Temperature(lo), quantity.Temperature(hi), sys)
	case GH:
		return quantity.PrintRange(quantity.Hardness(lo)*quantity.DGH, quantity.Hardness(hi)*quantity.DGH, sys)
	case KH:
		return quantity.PrintRange(quantity.Alkalinity(lo)*quantity.DKH, quantity.Alkalinity(hi)*quantity.DKH, sys)
	case LightAt:
		return quantity.PrintRange(quantity.PhotonFlux(lo), quantity.PhotonFlux(hi), sys)
	}
	return quantity.PrintRange(quantity.PH(lo), quantity.PH(hi), sys)
}

// Difference prints how far two figures lie apart; a difference of temperature is no temperature.
func (p Parameter) Difference(d float64, sys quantity.System) quantity.Printed {
	d = math.Abs(d)
	if p != Temperature {
		return p.Print(d, d, sys)
	}
	if sys == quantity.US {
		return quantity.Printed{Number: quantity.Number(d*9/5, 1), Unit: "°F"}
	}
	return quantity.Printed{Number: quantity.Number(d, 1), Unit: "°C"}
}

// Band is what a plant tolerates of a parameter.
type Band struct {
	Of        Parameter
	Low, High float64 // in the parameter's unit
	Known     bool
}

// Print prints the band.
func (b Band) Print(sys quantity.System) quantity.Printed { return b.Of.Print(b.Low, b.High, sys) }

// Value is what a tank has of a parameter. Of a swinging value Low and High are its ends and both count; of a modelled one
// they are its interval, and it lies outside only with all of it.
type Value struct {
	Of              Parameter
	Low, Best, High float64 // in the parameter's unit
	Known, Model    bool
}

// Print prints the value.
func (v Value) Print(sys quantity.System) quantity.Printed { return v.Of.Print(v.Low, v.High, sys) }

// in gives v in a unit; pH has none.
func in[T quantity.Scalar](v T, unit string) float64 {
	if unit == "" {
		return float64(v)
	}
	n, _ := quantity.In(v, unit)
	return n
}

func band[T quantity.Scalar](p Parameter, r quantity.Reading[T]) Band {
	return Band{p, in(r.Low(), p.unit()), in(r.High(), p.unit()), r.Known() && !r.Below()}
}

// value is a reading as a value; one below a test's limit counts as half of it, as readings do.
func value[T quantity.Scalar](p Parameter, r quantity.Reading[T]) Value {
	v := Value{Of: p, Low: in(r.Low(), p.unit()), Best: in(r.Mid(), p.unit()), High: in(r.High(), p.unit()), Known: r.Known()}
	if r.Below() {
		v.Low, v.High = v.Best, v.Best
	}
	return v
}

// valueIn is the value of a parameter in a water.
func valueIn(p Parameter, w journal.Parameters) Value {
	switch p {
	case Temperature:
		return value(p, w.Temperature)
	case GH:
		return value(p, w.GH)
	case KH:
		return value(p, w.KH)
	case PH:
		return value(p, w.PH)
	case LightAt:
		return value(p, measured(w))
	}
	return Value{Of: p}
}
