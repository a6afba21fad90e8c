package words

import (
	"strconv"
	"strings"

	"slipleaf/build/journal"
	"slipleaf/build/quantity"
)

// Percent prints a share as whole points.
func Percent(v Locale, share float64) string { return v.N(share*100, 0) }

// Size writes inner measures: "118 × 44 × 29 cm"; "" when one is missing.
func Size(v Locale, in journal.Inside) string {
	if !in.Length.Known() || !in.Width.Known() || !in.Height.Known() {
		return ""
	}
	unit, key := "cm", "figure.size-cm"
	if v.Units == quantity.US {
		unit, key = "in", "figure.size-in"
	}
	n := func(r quantity.Reading[quantity.Length]) string {
		x, _ := quantity.In(r.Mid(), unit)
		return v.N(x, 1)
	}
	return v.Text(key, "length", n(in.Length), "width", n(in.Width), "height", n(in.Height))
}

// SizeDecimals is how many decimals a size deserves: one below ten.
func SizeDecimals(size float64) int {
	if size < 10 {
		return 1
	}
	return 0
}

// FewDecimals is the fewest decimals, from at least on and two more at most, with which the ends of an interval differ.
func FewDecimals(at int, low, high float64) int {
	for d := at; d < at+2; d++ {
		if quantity.Number(low, d) != quantity.Number(high, d) {
			return d
		}
	}
	return at + 2
}

// MustFrom makes a quantity in a unit that the table of units holds.
func MustFrom[T quantity.Scalar](n float64, unit string) T {
	q, ok := quantity.From[T](n, unit)
	if !ok {
		panic("no unit " + unit)
	}
	return q
}

// PlantsAndSeeds counts both, each by its name: seeds are no plants yet.
func PlantsAndSeeds(v Locale, plants, seeds int) string {
	var both []string
	if plants > 0 || seeds == 0 {
		both = append(both, v.Text("figure.plants", "n", plants))
	}
	if seeds > 0 {
		both = append(both, v.Text("form.seeds", "n", seeds))
	}
	return And(v, both)
}

// AreaUnit is the unit of area for yields, and how many dm² it holds.
func AreaUnit(v Locale) (unit string, dm2 float64) {
	if v.Units == quantity.US {
		return "ft²", float64(MustFrom[quantity.Area](1, "ft2"))
	}
	return "dm²", 1
}

// AreaHelp says how much a dm² is, which few have in mind; "" where areas are in feet.
func AreaHelp(v Locale) string {
	if unit, _ := AreaUnit(v); unit != "dm²" {
		return ""
	}
	return v.Text("figure.dm2")
}

// AreaDecimals is how many decimals an area deserves in a unit of so many dm²: one in dm², two in the larger ft².
func AreaDecimals(dm2 float64) int {
	if dm2 > 1 {
		return 2
	}
	return 1
}

// Decimals is the number of decimals that f needs, at most two.
func Decimals(f float64) int {
	s := strconv.FormatFloat(f, 'f', 2, 64)
	return len(strings.TrimRight(s, "0")) - strings.IndexByte(s, '.') - 1
}

// Days prints a number of days: whole from ten on.
func Days(v Locale, days float64) string { return v.N(days, SizeDecimals(days)) }

// RatePercent prints a rate per day in points: 0.0412 is 4.1.
func RatePercent(v Locale, r float64) string { return v.N(100*r, 1) }

// inch is how a figure in inches is printed.
const inch = "\u00a0in"

// Figure gives a printed figure the decimal mark of the language, its gap before a percent sign, and its word for
// inches: "in" is another word in most.
func (v Locale) Figure(s string) string {
	if _, sign, _ := strings.Cut(v.table["figure.percent"], "}"); sign != "" && sign != "%" {
		s = strings.ReplaceAll(s, "%", sign)
	}
	if word := v.table["figure.inch"]; word != "" {
		s = strings.ReplaceAll(s, inch, "\u00a0"+word)
	}
	if mark := v.table["figure.decimal"]; mark != "" && mark != "." {
		return strings.ReplaceAll(s, ".", mark)
	}
	return s
}

// Q prints a quantity.
func Q[T quantity.Scalar](v Locale, x T) string { return v.Figure(quantity.Format(x, v.Units)) }

// R prints a reading; "" when there is no figure.
func R[T quantity.Scalar](v Locale, r quantity.Reading[T]) string {
	if r.Below() {
		return v.Text("figure.below", "limit", v.Figure(quantity.Format(r.High(), v.Units)))
	}
	return v.Figure(r.Print(v.Units))
}

// QRange prints "22–26 °C".
func QRange[T quantity.Scalar](v Locale, lo, hi T) string {
	return v.Figure(quantity.FormatRange(lo, hi, v.Units))
}

// Fixed prints a finite number that stands in a column with others: always with two decimals, as the chart beside it.
func (v Locale) Fixed(f float64) string { return v.Figure(strconv.FormatFloat(f, 'f', 2, 64)) }

// N prints a pure number with at most places decimals.
func (v Locale) N(f float64, places int) string { return v.Figure(quantity.Number(f, places)) }
