package quantity

import "strings"

// System chooses the units that pages print.
type System uint8

// Metric prints °C, cm, L, g; US prints °F, in, gal, lb. Doses stay in grams and hardness in degrees in both, since
// scales and drop tests count so everywhere.
const (
	Metric System = iota
	US
)

// Other is the system that a page shows on demand.
func (s System) Other() System { return 1 - s }

const (
	nbsp  = "\u00a0" // between a figure and its unit
	minus = "−"
)

// Format prints v for readers: a sensible unit of the system, sensible rounding, a typographic minus and a
// non-breaking space. A value that is not finite prints as an em dash.
func Format[T Scalar](v T, sys System) string {
	return PrintRange(v, v, sys).String()
}

// FormatIn prints v in the named unit; in the system's unit where T has no such unit.
func FormatIn[T Scalar](v T, name string, sys System) string {
	i := find(v.Kind(), name)
	if i == 0 {
		return Format(v, sys)
	}
	return printedIn(float64(v), float64(v), i).String()
}

// PrintRange prints both ends in one unit of the system, or one figure where both print alike.
func PrintRange[T Scalar](lo, hi T, sys System) Printed {
	return printedIn(float64(lo), float64(hi), unitFor(lo.Kind(), sys, abs(float64(hi))))
}

// FormatRange prints "22–26 °C": both ends in one unit of the system, or one figure where both print alike.
func FormatRange[T Scalar](lo, hi T, sys System) string {
	return PrintRange(lo, hi, sys).String()
}

// Print prints a reading for readers in the system's units; "below 5 mg/L" for a limit, "" when there is no figure.
func (r anyReading) Print(sys System) string {
	return r.printIn(unitFor(units[r.unit].kind, sys, abs(r.to())))
}

// PrintAsWritten prints a reading in its author's own unit.
func (r anyReading) PrintAsWritten() string { return r.printIn(r.unit) }

func (r anyReading) printIn(i uint8) string {
	switch {
	case r.unit == 0:
		return ""
	case r.below:
		return "below " + printedIn(r.to(), r.to(), i).String()
	}
	return printedIn(r.from(), r.to(), i).String()
}

// printedIn prints both ends of a range in unit i, or one figure where both print alike. An end that is not finite makes it an
// em dash.
func printedIn(lo, hi float64, i uint8) Printed {
	if !finite(lo) || !finite(hi) {
		return Printed{Number: "—"}
	}
	p := Printed{figure(hi, i), units[i].print}
	if lo != hi {
		if low := figure(lo, i); low != p.Number {
			p.Number = low + "–" + p.Number
		}
	}
	return p
}

// Printed is a figure for readers with its unit apart; pages put them together, or leave out a unit that is beside.
type Printed struct{ Number, Unit string }

// String is the figure with its unit. English sets no space before a percent sign; pages of other languages put theirs.
func (p Printed) String() string {
	if p.Unit == "" || p.Unit == "%" {
		return p.Number + p.Unit
	}
	return p.Number + nbsp + p.Unit
}

// figure prints v in unit i without the unit. A small dose must not print as none: what rounds to 0 gets up to three
// more places; what is smaller still is the noise of a sum.
func figure(v float64, i uint8) string {
	n, places := units[i].number(v), units[i].places
	s := Number(n, places)
	for more := 1; s == "0" && more <= 3; more++ {
		s = Number(n, places+more)
	}
	return s
}

// Number prints f to three significant digits or to the given places, whichever is coarser, with a typographic
// minus and no trailing zeros; whole numbers are never rounded further.
func Number(f float64, places int) string {
	if !finite(f) {
		return "—"
	}
	return strings.Replace(trim(f, places), "-", minus, 1)
}

// unitFor chooses the unit in which a value of size a (in the base unit) prints.
func unitFor(k Kind, sys System, a float64) uint8 {
	name := units[base(k)].name
	switch k {
	case TemperatureKind:
		name = pick(sys, "C", "F")
	case LengthKind:
		name = pick(sys, "cm", "in")
		if sys == Metric && a >= 200 {
			name = "m"
		}
	case AreaKind:
		name = pick(sys, pickIf(a < 1, "cm2", pickIf(a >= 100, "m2", "dm2")), pickIf(a >= 18.6, "ft2", "in2"))
	case VolumeKind:
		name = pickIf(a < 1, "mL", pick(sys, "L", "gal"))
	case MassKind:
		name = pickIf(a < 0.1, "mg", pickIf(a >= 1000, pick(sys, "kg", "lb"), "g"))
	case ConcentrationKind:
		name = pickIf(a > 0 && a < 0.1, "ug/L", "mg/L")
	case FlowKind:
		name = pick(sys, "L/h", "gal/h")
	case SpanKind:
		name = pickIf(a < 1.0/24, "min", pickIf(a < 1, "h", "d"))
	}
	return find(k, name)
}

func pick(sys System, metric, us string) string { return pickIf(sys == US, us, metric) }

func pickIf(yes bool, a, b string) string {
	if yes {
		return a
	}
	return b
}
