package topic

import (
	"errors"
	"slices"
	"strconv"
	"strings"

	"slipleaf/build/quantity"
	"slipleaf/build/reckon"
	"slipleaf/build/spelling"
)

// question holds the inputs of one question while its answer is made. The first error ends it.
type question struct {
	values  map[string]string
	level   quantity.Share
	leveled bool     // the level was used
	notes   []string // lines that follow the working
	answer  Answer
}

// stop is the panic that ends a question; [Topic.answer] makes an error of it.
type stop struct{ err error }

func (q *question) fail(err error) {
	if err != nil {
		panic(stop{err})
	}
}

// has reports whether a key was given.
func (q *question) has(key string) bool { _, ok := q.values[key]; return ok }

// sure is a sum that may fail.
func sure[T any](v T, err error) T {
	if err != nil {
		panic(stop{err})
	}
	return v
}

// asked reads an optional quantity; absent when the key is not given.
func asked[T quantity.Scalar](q *question, key string) quantity.Reading[T] {
	text, ok := q.values[key]
	if !ok {
		return quantity.Reading[T]{}
	}
	r, err := quantity.Parse[T](text)
	if err != nil {
		q.fail(unreadable(key, text, err))
	}
	q.answer.Inputs[key] = r
	return r
}

// may is [asked] for sums that take the middle of a range.
func may[T quantity.Scalar](q *question, key string) quantity.Reading[T] {
	r := asked[T](q, key)
	q.noteEnds(key, r, middleUsed)
	return r
}

const middleUsed = "its middle is used"

// need reads a quantity that the sum cannot do without, and takes the middle of a range.
func need[T quantity.Scalar](q *question, key string) T { return known[T](q, key, middleUsed).Mid() }

// known is [need] for a sum that takes the reading itself; made says what becomes of one that is no single figure. "unknown"
// counts as missing.
func known[T quantity.Scalar](q *question, key, made string) quantity.Reading[T] {
	r := asked[T](q, key)
	switch {
	case r.Asked():
		q.fail(&reckon.InputError{Kind: reckon.Missing, Name: key, Why: "it is given as unknown, and this value is required"})
	case !r.Known():
		q.fail(&reckon.InputError{Kind: reckon.Missing, Name: key, Why: "this value is required"})
	}
	q.noteEnds(key, r, made)
	return r
}

// noteEnds says what is made of a value that is no single figure.
func (q *question) noteEnds(key string, r interface {
	String() string
	IsRange() bool
	Below() bool
}, made string) {
	if r.IsRange() || r.Below() {
		q.notes = append(q.notes, key+" is given as "+r.String()+"; "+made)
	}
}

// unreadable turns a parser's complaint into an input error.
func unreadable(key, text string, err error) error {
	e := &reckon.InputError{Kind: reckon.WrongUnit, Name: key, Value: spelling.Clip(text), Why: err.Error()}
	var p *quantity.ParseError
	if errors.As(err, &p) && p.Hint != "" {
		e.Hint = "did you mean " + p.Hint + "?"
	}
	return e
}

// word reads an input that is a name; "" when it is not given.
func (q *question) word(key string) string {
	w := strings.TrimSpace(q.values[key])
	if w != "" {
		q.answer.Inputs[key] = w
	}
	return w
}

// whole reads a whole number that the sum cannot do without.
func (q *question) whole(key string) int {
	if !q.has(key) {
		q.fail(&reckon.InputError{Kind: reckon.Missing, Name: key, Why: "this value is required"})
	}
	n, err := strconv.Atoi(strings.TrimSpace(q.values[key]))
	if err != nil {
		q.fail(&reckon.InputError{Kind: reckon.WrongUnit, Name: key, Value: spelling.Clip(q.values[key]), Why: "expected a whole number"})
	}
	q.answer.Inputs[key] = n
	return n
}

// oneOf gives the one key of a list that is given.
func (q *question) oneOf(keys ...string) string {
	got := slices.DeleteFunc(slices.Clone(keys), func(k string) bool { return !q.has(k) })
	switch len(got) {
	case 1:
		return got[0]
	case 0:
		q.fail(&reckon.InputError{Kind: reckon.Missing, Name: keys[0], Why: "or another of " + strings.Join(keys, ", ")})
	default:
		q.fail(&reckon.InputError{Kind: reckon.Contradictory, Name: got[1], Why: "give one of " + strings.Join(got, ", ") + ", not several"})
	}
	return ""
}

// done adds the working, the sources and the cautions of a sum.
func (q *question) done(w reckon.Working, cautions ...reckon.Caution) {
	q.answer.Working = append(q.answer.Working, w.Lines()...)
	for _, s := range strings.Split(w.Equation.Source, "; ") {
		q.source(s)
	}
	for _, c := range cautions {
		q.answer.Cautions = append(q.answer.Cautions, c.Text)
	}
}

// source adds a source once.
func (q *question) source(s string) {
	if !slices.Contains(q.answer.Sources, s) {
		q.answer.Sources = append(q.answer.Sources, s)
	}
}

// number adds a result that is a pure number or in a unit that the format does not have.
func (q *question) number(name string, v float64, unit string) *Result {
	shown := bare(v)
	if unit != "" {
		shown += " " + unit
	}
	q.answer.Results = append(q.answer.Results, Result{Name: name, Value: v, Unit: unit, shown: shown})
	return &q.answer.Results[len(q.answer.Results)-1]
}

// show adds a result in a unit of the format.
func show[T quantity.Scalar](q *question, name string, v T, unit string) *Result {
	n, _ := quantity.In(v, unit)
	r := q.number(name, n, unit)
	r.shown = quantity.FormatIn(v, unit, quantity.Metric)
	return r
}

// showRange is [show] with the ends of a range.
func showRange[T quantity.Scalar](q *question, name string, e reckon.Range[T], unit string) {
	lo, _ := quantity.In(e.Low, unit)
	hi, _ := quantity.In(e.High, unit)
	r := show(q, name, e.Best, unit)
	r.Low, r.High = &lo, &hi
	bare := func(v T) string {
		n, _, _ := strings.Cut(quantity.FormatIn(v, unit, quantity.Metric), "\u00a0")
		return n
	}
	r.shown += " (" + bare(e.Low) + " to " + bare(e.High) + ")"
}

// fraction adds a share as a part of one, shown in percent.
func (q *question) fraction(name string, v float64) *Result {
	r := q.number(name, v, "")
	r.shown = quantity.Format(quantity.Share(v), quantity.Metric)
	return r
}

// ends adds the ends of a result that is a pure number or in a unit of its own.
func (r *Result) ends(low, high float64) {
	r.Low, r.High = &low, &high
	r.shown += " (" + bare(low) + " to " + bare(high) + ")"
}

// roughly is [showRange] for readers who must not see more digits than a test kit gives.
func roughly(q *question, name string, e reckon.Range[quantity.Concentration]) {
	showRange(q, name, e, "mg/L")
	fine := func(v quantity.Concentration) string { return quantity.Number(float64(v), e.Places()) }
	q.answer.Results[len(q.answer.Results)-1].shown = fine(e.Best) + "\u00a0mg/L (" + fine(e.Low) + " to " + fine(e.High) + ")"
}

// bare prints a number without a unit of the format: two decimals, four below one.
func bare(v float64) string {
	if v > -1 && v < 1 {
		return quantity.Number(v, 4)
	}
	return quantity.Number(v, 2)
}
