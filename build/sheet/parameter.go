package sheet

import (
	"math"

	"slipleaf/build/almanac"
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

// property is what holds for a parameter that is measured.
type property struct {
	unit  string // that its figures count in
	noise float64
	print func(lo, hi float64, sys quantity.System) quantity.Printed
	band  func(almanac.Species) Band
	value func(journal.Parameters) Value
}

// properties are those of all parameters but CO2, which is added or not. The noise of light is a part of it.
var properties = map[Parameter]property{
	Temperature: propertyOf(Temperature, "C", 1, 1,
		func(s almanac.Species) quantity.Reading[quantity.Temperature] { return s.Temperature },
		func(w journal.Parameters) quantity.Reading[quantity.Temperature] { return w.Temperature }),
	GH: propertyOf(GH, "dGH", quantity.DGH, 1,
		func(s almanac.Species) quantity.Reading[quantity.Hardness] { return s.GH },
		func(w journal.Parameters) quantity.Reading[quantity.Hardness] { return w.GH }),
	KH: propertyOf(KH, "dKH", quantity.DKH, 1,
		func(s almanac.Species) quantity.Reading[quantity.Alkalinity] { return s.KH },
		func(w journal.Parameters) quantity.Reading[quantity.Alkalinity] { return w.KH }),
	PH: propertyOf(PH, "", 1, 0.2,
		func(s almanac.Species) quantity.Reading[quantity.PH] { return s.PH },
		func(w journal.Parameters) quantity.Reading[quantity.PH] { return w.PH }),
	LightAt: propertyOf(LightAt, "umol/m2/s", 1, 0,
		func(s almanac.Species) quantity.Reading[quantity.PhotonFlux] { return s.Light }, measured),
}

// propertyOf makes the property of a parameter from what a species needs of it and what a water has. One is its unit.
func propertyOf[T quantity.Scalar](p Parameter, unit string, one T, noise float64, needs func(almanac.Species) quantity.Reading[T], has func(journal.Parameters) quantity.Reading[T]) property {
	return property{
		unit: unit, noise: noise,
		print: func(lo, hi float64, sys quantity.System) quantity.Printed {
			return quantity.PrintRange(T(lo)*one, T(hi)*one, sys)
		},
		band: func(s almanac.Species) Band {
			r := needs(s)
			return Band{p, In(r.Low(), unit), In(r.High(), unit), r.Known() && !r.Below()}
		},
		value: func(w journal.Parameters) Value {
			r := has(w)
			return Value{Of: p, Low: In(r.Low(), unit), Best: In(r.Mid(), unit), High: In(r.High(), unit), Known: r.Known(), Interval: r.Below()}
		},
	}
}

func (p Parameter) unit() string { return properties[p].unit }

// Noise is how far a figure may be wrong: a cheap thermometer, a drop test, a meter that was set last month (common
// practice). A difference within it is near the edge, never outside. Light has an interval of its own.
func (p Parameter) Noise() float64 { return properties[p].noise }

// noiseAt is the noise at an end of a band; of light, a tenth of it, as meters go (our choice).
func (p Parameter) noiseAt(edge float64) float64 {
	if p == LightAt {
		return 0.1 * edge
	}
	return p.Noise()
}

// Print prints the figures lo to hi of a parameter in a system of units.
func (p Parameter) Print(lo, hi float64, sys quantity.System) quantity.Printed {
	return properties[p].print(lo, hi, sys)
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

// Value is what a tank has of a parameter. Of a swinging value Low and High are its ends and both count; of a modelled one,
// and of one below a test's limit, they are an interval, and it lies outside only with all of it.
type Value struct {
	Of              Parameter
	Low, Best, High float64 // in the parameter's unit
	Known, Interval bool
}

// Print prints the value.
func (v Value) Print(sys quantity.System) quantity.Printed { return v.Of.Print(v.Low, v.High, sys) }

// In gives v in a unit; pH has none.
func In[T quantity.Scalar](v T, unit string) float64 {
	if unit == "" {
		return float64(v)
	}
	n, _ := quantity.In(v, unit)
	return n
}
