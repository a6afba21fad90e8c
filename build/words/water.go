package words

import (
	"html/template"
	"slices"

	"slipleaf/build/journal"
	"slipleaf/build/quantity"
)

// Measure is one reading of a tank's water in words.
type Measure struct {
	Key   string // temperature, ph, …: the key of the format
	Name  template.HTML
	Value string // as pages print it; "" when not known
	Asked bool   // written as not known
	On    string // the day of the reading, where it is older than the others; else ""
}

// Reading is one parameter of a set, for walking all of them in the format's order.
type Reading struct {
	Key     string
	Value   string  // printed
	Base    float64 // in the unit that charts and CSV use
	Unit    string  // that unit, as the format spells it
	Below   bool
	Known   bool
	written bool
}

// Readings lists the parameters that were written, in a fixed order. Charts and CSV use degrees for hardness and
// °C for temperature, whatever the pages print.
func Readings(v Locale, p journal.Parameters) []Reading {
	all := []Reading{
		readingOf(v, "temperature", p.Temperature, "C"),
		readingOf(v, "ph", p.PH, ""),
		readingOf(v, "gh", p.GH, "dGH"),
		readingOf(v, "kh", p.KH, "dKH"),
		readingOf(v, "conductivity", p.Conductivity, "uS/cm"),
		readingOf(v, "co2", p.CO2, "mg/L"),
		readingOf(v, "light", p.Light, "umol/m2/s"),
		readingOf(v, "lux", p.Lux, "lux"),
		readingOf(v, "ammonia", p.Ammonia, "mg/L"),
		readingOf(v, "nitrite", p.Nitrite, "mg/L"),
		readingOf(v, "nitrate", p.Nitrate, "mg/L"),
		readingOf(v, "phosphate", p.Phosphate, "mg/L"),
		readingOf(v, "potassium", p.Potassium, "mg/L"),
		readingOf(v, "calcium", p.Calcium, "mg/L"),
		readingOf(v, "magnesium", p.Magnesium, "mg/L"),
		readingOf(v, "iron", p.Iron, "mg/L"),
		readingOf(v, "oxygen", p.Oxygen, "mg/L"),
	}
	return slices.DeleteFunc(all, func(r Reading) bool { return !r.written })
}

func readingOf[T quantity.Scalar](v Locale, key string, r quantity.Reading[T], unit string) Reading {
	x := Reading{Key: key, Unit: unit, written: r.Written(), Known: r.Known(), Below: r.Below()}
	if !x.Known {
		return x
	}
	x.Value = R(v, r)
	at := r.Mid()
	if r.Below() {
		at = r.High()
	}
	x.Base, _ = quantity.In(at, unit)
	return x
}

// ParameterKeys are the parameters in the order that pages show them.
var ParameterKeys = [...]string{"temperature", "ph", "gh", "kh", "conductivity", "co2", "light", "lux", "ammonia", "nitrite", "nitrate",
	"phosphate", "potassium", "calcium", "magnesium", "iron", "oxygen"}

// Measures puts a set of parameters into words.
func Measures(v Locale, p journal.Parameters) []Measure {
	var out []Measure
	for _, r := range Readings(v, p) {
		out = append(out, Measure{Key: r.Key, Name: v.HTML("parameter." + r.Key), Value: r.Value, Asked: !r.Known})
	}
	return out
}

// WaterLine is the short form: the four figures that say most, in one line.
func WaterLine(v Locale, p journal.Parameters) []string {
	var out []string
	for _, r := range Readings(v, p) {
		switch {
		case !r.Known:
		case r.Key == "ph":
			out = append(out, "pH "+r.Value)
		case r.Key == "temperature", r.Key == "gh", r.Key == "kh":
			out = append(out, r.Value)
		}
	}
	return out
}
