package plot

import "slipleaf/build/quantity"

// Limits is a tolerance in the unit that charts use.
type Limits struct{ Low, High float64 }

// Tolerance is what a plant tolerates of a parameter; ok is false where the almanac does not say.
func (b Kit) Tolerance(plant, key string) (Limits, bool) {
	s := b.Facts.Species(plant)
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
	return Limits{}, false
}

func limitsOf[T quantity.Scalar](r quantity.Reading[T], unit string) (Limits, bool) {
	lo, ok := quantity.In(r.Low(), unit)
	hi, ok2 := quantity.In(r.High(), unit)
	return Limits{lo, hi}, ok && ok2 && r.Known()
}

// sharedTolerance is what every plant in ids tolerates of a parameter: the highest low and the lowest high. ok is
// false where nothing is known, or where no value would suit all.
func (b Kit) sharedTolerance(ids []string, key string) (l Limits, ok bool) {
	for _, id := range ids {
		t, known := b.Tolerance(id, key)
		switch {
		case !known:
		case !ok:
			l, ok = t, true
		default:
			l = Limits{max(l.Low, t.Low), min(l.High, t.High)}
		}
	}
	return l, ok && l.Low < l.High
}
