package page

import "slipleaf/build/quantity"

// limits is a tolerance in the unit that charts use.
type limits struct{ low, high float64 }

// tolerance is what a plant stands of a parameter; ok is false where the almanac does not say.
func (b *Site) tolerance(plant, key string) (limits, bool) {
	s := b.facts.Species(plant)
	switch key {
	case "temperature":
		return limitsOf(s.Temperature, "C")
	case "ph":
		return limitsOf(s.PH, "")
	case "gh":
		return limitsOf(s.GH, "dGH")
	case "kh":
		return limitsOf(s.KH, "dKH")
	case "light":
		return limitsOf(s.Light, "umol/m2/s")
	}
	return limits{}, false
}

func limitsOf[T quantity.Scalar](r quantity.Reading[T], unit string) (limits, bool) {
	lo, ok := quantity.In(r.Low(), unit)
	hi, ok2 := quantity.In(r.High(), unit)
	return limits{lo, hi}, ok && ok2 && r.Known()
}

// sharedTolerance is what every plant in ids stands of a parameter: the highest low and the lowest high. ok is
// false where nothing is known, or where no value would suit all.
func (b *Site) sharedTolerance(ids []string, key string) (l limits, ok bool) {
	for _, id := range ids {
		t, known := b.tolerance(id, key)
		switch {
		case !known:
		case !ok:
			l, ok = t, true
		default:
			l = limits{max(l.low, t.low), min(l.high, t.high)}
		}
	}
	return l, ok && l.low < l.high
}
