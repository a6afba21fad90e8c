package quantity

import (
	"encoding/json"
	"math"
	"strconv"
)

// Reading is a value as somebody wrote it. The zero Reading means that nothing was written.
// Two readings are equal (==) when they say the same in the same unit.
type Reading[T Scalar] struct{ anyReading }

// anyReading is a reading of any kind. It has all methods that need not know the kind: those of a generic type are compiled
// again in every package that so much as names it.
type anyReading struct {
	low, high float64 // in the unit written; equal unless a range
	unit      uint8   // index into units; 0: nothing written
	below     bool    // "<5 mg/L": under the test's limit, which high holds
	unknown   bool    // asked, not known
}

// Of makes a reading of v in the base unit of its kind. A v that is not finite makes an absent reading.
func Of[T Scalar](v T) Reading[T] { return Between(v, v) }

// Between makes a range in the base unit of T; the ends may come in either order.
func Between[T Scalar](a, b T) Reading[T] {
	if !finite(float64(a)) || !finite(float64(b)) {
		return Reading[T]{}
	}
	i := base(a.Kind())
	u := &units[i]
	return Reading[T]{anyReading{low: u.number(float64(min(a, b))), high: u.number(float64(max(a, b))), unit: i}}
}

// Turned is a reading as another kind of quantity, by a rule that grows with it; what is below a limit stays so. Where the rule
// gives no finite figure it is absent.
func Turned[T, U Scalar](r Reading[T], rule func(T) U) Reading[U] {
	if !r.Known() {
		return Reading[U]{}
	}
	out := Between(rule(r.Low()), rule(r.High()))
	out.below = r.below && out.Known()
	return out
}

// Written reports whether anything was written, "unknown" included.
func (r anyReading) Written() bool { return r.unit != 0 || r.unknown }

// Known reports whether there is a figure.
func (r anyReading) Known() bool { return r.unit != 0 }

// Asked reports whether the author wrote that it is not known.
func (r anyReading) Asked() bool { return r.unknown }

// Below reports whether the value lies under a test's limit, which [Reading.High] gives.
func (r anyReading) Below() bool { return r.below }

// IsRange reports whether two different ends were written.
func (r anyReading) IsRange() bool { return r.unit != 0 && !r.below && r.low != r.high }

// Low is the lower end in the base unit; 0 for one not known, and for a value below a limit that is not below 0 itself. A pH
// or a temperature below a limit is taken for the limit: their zero is not the absence of anything, and the limit claims least.
func (r Reading[T]) Low() T { return T(r.from()) }

// High is the upper end in the base unit; 0 for one not known.
func (r Reading[T]) High() T { return T(r.to()) }

// Mid is the value, or the middle of a range; half the limit for a value below it (common practice for figures
// under a detection limit). 0 for one not known.
func (r Reading[T]) Mid() T { return T(r.from())/2 + T(r.to())/2 }

// from is [Reading.Low] in the base unit of any kind. It is never put in the place of its call: there are as many of those
// in each package as there are kinds.
//
//go:noinline
func (r anyReading) from() float64 {
	switch {
	case r.unit == 0:
		return 0
	case r.below && units[r.unit].kind != PHKind && units[r.unit].kind != TemperatureKind:
		return min(0, r.to())
	}
	return units[r.unit].value(r.low) // of a limit, which both ends hold, the limit
}

// to is [Reading.High] in the base unit of any kind.
//
//go:noinline
func (r anyReading) to() float64 {
	if r.unit == 0 {
		return 0
	}
	return units[r.unit].value(r.high)
}

// Unit is the unit written, in the spelling of the format.
func (r anyReading) Unit() string { return units[r.unit].name }

// String writes r as the journal does; [Parse] reads it back to an equal reading. An absent reading is "".
func (r anyReading) String() string {
	if r.unknown {
		return "unknown"
	}
	if r.unit == 0 {
		return ""
	}
	s := digits(r.high)
	switch {
	case r.below:
		s = "<" + s
	case r.low != r.high:
		s = digits(r.low) + ".." + s
	}
	if n := units[r.unit].name; n != "" {
		s += " " + n
	}
	return s
}

// MarshalJSON writes {"value", "unit"} with "low" and "high" for a range and "below-limit" under a limit; null
// when there is no figure.
func (r anyReading) MarshalJSON() ([]byte, error) {
	if r.unit == 0 {
		return []byte("null"), nil
	}
	q := struct {
		Value float64  `json:"value"`
		Unit  string   `json:"unit,omitempty"`
		Low   *float64 `json:"low,omitempty"`
		High  *float64 `json:"high,omitempty"`
		Below bool     `json:"below-limit,omitempty"`
	}{Value: r.high, Unit: units[r.unit].name, Below: r.below}
	if r.IsRange() {
		q.Value, q.Low, q.High = r.low/2+r.high/2, &r.low, &r.high
	}
	return json.Marshal(q)
}

func digits(f float64) string { return strconv.FormatFloat(f, 'f', -1, 64) }

func finite(f float64) bool { return !math.IsNaN(f) && !math.IsInf(f, 0) }
