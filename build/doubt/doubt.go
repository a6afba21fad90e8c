// Package doubt tells which quantities cannot be, which readings of a tank's water can hardly be, and what is likely meant.
package doubt

import (
	"fmt"
	"math"
	"strings"

	"slipleaf/build/quantity"
)

// bound is what a kind of quantity can be at all, in its base unit. above: the low end itself is impossible.
type bound struct {
	low, high float64
	above     bool
}

// possible bounds every kind: figures outside are mistakes, not rare tanks. Ceilings are common practice
// rounded up generously, but for pH (the scale in water), shares (a part of a whole) and the efficacy of a lamp, where
// a watt of 700 nm light is 5.85 µmol/s and no photosynthetic photon carries less energy.
var possible = [...]bound{
	quantity.TemperatureKind:   {-5, 60, false},
	quantity.LengthKind:        {0, 2000, true},
	quantity.AreaKind:          {0, 10_000, true},
	quantity.VolumeKind:        {0, 100_000, true},
	quantity.MassKind:          {0, 100_000, false},
	quantity.HardnessKind:      {0, float64(100 * quantity.DGH), false},
	quantity.AlkalinityKind:    {0, float64(100 * quantity.DKH), false},
	quantity.ConcentrationKind: {0, 5000, false},
	quantity.ConductivityKind:  {0, 100_000, false},
	quantity.PhotonFluxKind:    {0, 3000, false},
	quantity.IlluminanceKind:   {0, 200_000, false},
	quantity.PowerKind:         {0, 10_000, true},
	quantity.EfficacyKind:      {0, 5.86, true},
	quantity.LuminousFluxKind:  {0, 1_000_000, true},
	quantity.SpanKind:          {0, 3660, true},
	quantity.ShareKind:         {0, 1, false},
	quantity.FlowKind:          {0, 100_000, true},
	quantity.PHKind:            {0, 14, false},
}

// Impossible says what a reading is and what it can be, in the unit that its author chose, and what is likely meant by it
// behind a key; "" for a reading that can be. zero: it may be nothing.
func Impossible[T quantity.Scalar](r quantity.Reading[T], key string, zero bool) (why, hint string) {
	var v T
	b := possible[v.Kind()]
	low, high := float64(r.Low()), float64(r.High())
	if !r.Known() || low >= b.low && high <= b.high+1e-9 && (!b.above || zero || high > b.low) {
		return "", ""
	}
	show := func(v float64) string {
		return strings.ReplaceAll(quantity.FormatIn(T(v), r.Unit(), quantity.Metric), "\u00a0", " ")
	}
	verb := "must be " + show(b.low) + " to " + show(b.high)
	if b.above {
		verb = "must be more than 0 and at most " + show(b.high)
	}
	return fmt.Sprintf("%s is out of range; %s %s", r, v.Kind(), verb), likely(r, usuals[key], math.NaN())
}

// usual is what waters that plants live in measure, in a unit, and the change from one reading to the next that no aquarium
// makes by itself: by more than jump, and to more than times as much. The limits are common practice, set wide: they find
// wrong units and lost decimal points, not rare tanks.
type usual struct {
	unit            string
	low, high, jump float64 // jump 0: any change may be
	times           float64
}

// usuals are the parameters by their keys.
var usuals = map[string]usual{
	"temperature":  {"C", 1, 40, 12, 1},
	"ph":           {"", 3.5, 10.5, 2.5, 1},
	"gh":           {"dGH", 0.6, 45, 10, 2.5},
	"kh":           {"dKH", 0.6, 40, 8, 2.5},
	"conductivity": {"uS/cm", 5, 6000, 500, 4},
	"light":        {"umol/m2/s", 0, 1500, 0, 0},
	"co2":          {"mg/L", 1, 150, 0, 0},
	"ammonia":      {"mg/L", 1, 30, 0, 0},
	"nitrite":      {"mg/L", 1, 30, 0, 0},
	"nitrate":      {"mg/L", 1, 600, 0, 0},
	"phosphate":    {"mg/L", 1, 50, 0, 0},
	"potassium":    {"mg/L", 1, 300, 0, 0},
	"calcium":      {"mg/L", 1, 500, 0, 0},
	"magnesium":    {"mg/L", 1, 300, 0, 0},
	"iron":         {"mg/L", 0, 5, 0, 0},
	"oxygen":       {"mg/L", 1, 20, 0, 0},
}

// Of says why the reading of a parameter can hardly be, beside the last one of that water, and what is likely meant; "" for
// one that can be. changed: water was changed or salts were added since the last one.
func Of[T quantity.Scalar](key string, r, last quantity.Reading[T], changed bool) (why, hint string) {
	s := usuals[key]
	if !r.Known() || s.high == 0 {
		return "", ""
	}
	v, was := inUnit(r, s.unit), math.NaN()
	if last.Known() {
		was = inUnit(last, s.unit)
	}
	if s.near(v, was) {
		return "", ""
	}
	if v > s.high {
		return shown(r, s) + " is more than aquariums have", likely(r, s, math.NaN())
	}
	if v < s.low && !r.Below() && s.jump > 0 {
		if meant := likely(r, s, math.NaN()); meant != "" || s.times == 1 {
			return shown(r, s) + " is less than aquariums have", meant
		}
	}
	if s.leaps(v, was) {
		if meant := likely(r, s, was); meant != "" || !changed {
			return shown(r, s) + " is a jump from the last reading, " + last.String(), meant
		}
	}
	return "", ""
}

// inUnit is the middle of a reading in a unit of its kind; a pH has none.
func inUnit[T quantity.Scalar](r quantity.Reading[T], unit string) float64 {
	if f, ok := quantity.In(r.Mid(), unit); ok {
		return f
	}
	return float64(r.Mid())
}

// near reports whether a reading is much as the last one was.
func (s usual) near(v, was float64) bool {
	return math.Abs(v-was) <= 0.2*math.Abs(was) && (s.jump == 0 || math.Abs(v-was) <= s.jump/2)
}

func (s usual) leaps(v, was float64) bool {
	if s.jump == 0 || math.IsNaN(was) {
		return false
	}
	lo, hi := min(v, was), max(v, was)
	return hi-lo > s.jump && hi > s.times*lo
}

// likely is what a doubtful reading is meant as: its figures in another unit, where they are what such waters have and near
// the last reading.
func likely[T quantity.Scalar](r quantity.Reading[T], s usual, was float64) string {
	for _, o := range quantity.Otherwise(r) {
		if v := inUnit(o, s.unit); s.high > 0 && v >= s.low && v <= s.high && (math.IsNaN(was) || s.near(v, was)) {
			return "did you mean " + o.String() + "?"
		}
	}
	return ""
}

// shown is a reading as it was written, and in the usual unit where that is another.
func shown[T quantity.Scalar](r quantity.Reading[T], s usual) string {
	if r.Unit() == s.unit {
		return r.String()
	}
	return fmt.Sprintf("%s (%s)", r, quantity.FormatIn(r.Mid(), s.unit, quantity.Metric))
}
