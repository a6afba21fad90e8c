package journal

import (
	"fmt"
	"math"

	"slipleaf/build/quantity"
)

// usual is what waters that plants live in measure, in a unit, and the change from one reading to the next that no aquarium
// makes by itself: by more than jump, and to more than times as much. The limits are common practice, set wide: they find
// wrong units and lost decimal points, not rare tanks.
type usual struct {
	unit            string
	low, high, jump float64 // jump 0: any change may be
	times           float64
}

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

// doubt says why a reading can hardly be, beside the last one of that water, and what is likely meant; "" for one that can
// be. changed: water was changed or salts were added since the last one.
func doubt[T quantity.Scalar](r, last quantity.Reading[T], s usual, changed bool) (why, hint string) {
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
	switch meant := likely(r, s, math.NaN()); {
	case v > s.high:
		return shown(r, s) + " is more than aquariums have", meant
	case v < s.low && !r.Below() && s.jump > 0 && (meant != "" || s.times == 1):
		return shown(r, s) + " is less than aquariums have", meant
	}
	if meant := likely(r, s, was); s.leaps(v, was) && (meant != "" || !changed) {
		return shown(r, s) + " is a jump from the last reading, " + last.String(), meant
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

// doubtful asks about the readings of a tank that can hardly be, each against the last that was not asked about. One that
// is found again is taken for true.
func (l *linker) doubtful(t *Tank) {
	l.doubtAll(t.Source, "tap", t.Tap, Parameters{}, false)
	l.doubtAll(t.Source, "target", t.Target, Parameters{}, false)
	var last Parameters
	asked := map[string]Parameters{} // the reading before, where it was asked about
	changed := false
	for _, e := range t.Entries {
		changed = changed || len(e.Doses) > 0 || e.WaterChange.Share.High() >= 0.4
		if e.Parameters == (Parameters{}) {
			continue
		}
		for _, x := range parameters {
			if one := e.Parameters.Only(x.key); one != (Parameters{}) && !l.again(x, one, asked) && l.doubtOne(e.Source, "parameters", x, one, last, changed) {
				asked[x.key] = one
			} else if one != (Parameters{}) {
				x.keep(&last, &one)
				delete(asked, x.key)
			}
		}
		changed = false
	}
}

// again reports whether a reading that was asked about is found once more.
func (l *linker) again(x parameter, one Parameters, asked map[string]Parameters) bool {
	before, was := asked[x.key]
	why, _ := x.doubt(&one, &before, false)
	return was && why == ""
}

// doubtAll asks about what can hardly be of some readings.
func (l *linker) doubtAll(s Source, at string, p, last Parameters, changed bool) {
	if p == (Parameters{}) {
		return
	}
	for _, x := range parameters {
		l.doubtOne(s, at, x, p, last, changed)
	}
}

func (l *linker) doubtOne(s Source, at string, x parameter, p, last Parameters, changed bool) bool {
	why, hint := x.doubt(&p, &last, changed)
	if why != "" {
		l.complain(ruleDoubtful, s, at+"."+x.key, x.key+" "+why, hint)
	}
	return why != ""
}
