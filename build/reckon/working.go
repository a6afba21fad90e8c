// Package reckon holds the calculations of a journal: water, dose, tank, light, shares and survival. Each is a pure
// function on typed quantities that returns its result with the [Working] behind it, or an error that names the
// value, the range and the reason. Nothing here reads a disk or a clock; random draws are seeded.
package reckon

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"slipleaf/build/quantity"
)

// Range is a best figure with the ends of what it may be.
type Range[T ~float64] struct{ Low, Best, High T }

// Scale multiplies all three figures by a factor that is not negative.
func (e Range[T]) Scale(by float64) Range[T] {
	return Range[T]{e.Low * T(by), e.Best * T(by), e.High * T(by)}
}

// Places is how many decimals the figures are worth, two at the most: as few as keep the ends apart by two steps.
func (e Range[T]) Places() int {
	places := 0
	for span := e.High - e.Low; span < 2 && places < 2; span *= 10 {
		places++
	}
	return places
}

// exactly is a range without a span.
func exactly[T ~float64](v T) Range[T] { return Range[T]{v, v, v} }

// Interval is a figure with its interval. Low ≤ Value ≤ High holds up to rounding.
type Interval struct {
	Value, Low, High float64
	Level            float64 // of the interval, 0.95 for 95 %
}

// Equation is a published or derived rule that a sum follows.
type Equation struct {
	Key     string // for translation: kebab-case, never changes
	Words   string // its name in plain English
	Formula string // the rule itself
	Source  string // author, year, title or table; or "common practice"; or "derived" with from what
}

// Input is a figure that a sum used.
type Input struct {
	Name    string  // the key of the input: kh, water-depth
	Value   float64 // in Unit
	Unit    string  // in the spelling of the journal format; "" for a pure number
	From    string  // what it was computed from, by which rule; "" when it was given as it is
	Assumed string  // why the figure was assumed; "" when it was given
}

// String writes the input as a line of the working: "kh = 4 dKH", "rim-gap = 3 cm (assumed: …)".
func (i Input) String() string {
	s := i.Name + " = " + Figure(i.Value)
	if i.Unit != "" {
		s += " " + i.Unit
	}
	if i.From != "" {
		s += " (" + i.From + ")"
	}
	if i.Assumed != "" {
		s += " (assumed: " + i.Assumed + ")"
	}
	return s
}

// Working says how a result came about.
type Working struct {
	Equation Equation
	Inputs   []Input
	Notes    []Note // what the sum takes for granted, and the reasons for its range
}

// Assumed lists the inputs that nobody gave.
func (w Working) Assumed() []Input {
	return slices.DeleteFunc(slices.Clone(w.Inputs), func(i Input) bool { return i.Assumed == "" })
}

// Note is a remark of a working.
type Note struct {
	Key    string // for translation; "" for a remark that only the command prints
	Text   string // in English, with Figure in it
	Figure string // "" where the remark has none
}

// Remarks makes notes that only the command prints.
func Remarks(texts ...string) []Note {
	out := make([]Note, len(texts))
	for i, t := range texts {
		out[i].Text = t
	}
	return out
}

// note adds a remark once.
func (w *Working) note(n Note) {
	if !slices.Contains(w.Notes, n) {
		w.Notes = append(w.Notes, n)
	}
}

// Lines writes the working for readers, one thing a line.
func (w Working) Lines() []string {
	out := []string{w.Equation.Words + ": " + w.Equation.Formula}
	for _, i := range w.Inputs {
		out = append(out, i.String())
	}
	for _, n := range w.Notes {
		out = append(out, n.Text)
	}
	return out
}

// given makes the input of a quantity, shown in the named unit of its kind.
func Given[T quantity.Scalar](name string, v T, unit string) Input {
	n, _ := quantity.In(v, unit)
	return Input{Name: name, Value: n, Unit: unit}
}

// assumed is [given] for a value that the sum chose itself.
func assumed[T quantity.Scalar](name string, v T, unit, why string) Input {
	i := Given(name, v, unit)
	i.Assumed = why
	return i
}

// figure writes f in plain decimals with at most six significant digits.
func Figure(f float64) string {
	if f == 0 {
		return "0"
	}
	places := 5 - int(math.Floor(math.Log10(math.Abs(f))))
	s := strconv.FormatFloat(f, 'f', min(max(places, 0), 12), 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	return s
}
