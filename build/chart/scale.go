package chart

import "math"

// axis maps values to units of the picture, linearly or by their logarithm. What lies beyond its ends is put on them.
type axis struct {
	lo, hi float64 // values, lo < hi; both above 0 where log
	p0, p1 float64 // where they stand
	log    bool
}

func (a axis) at(v float64) float64 {
	lo, hi := a.lo, a.hi
	if a.log {
		lo, hi, v = math.Log(lo), math.Log(hi), math.Log(max(v, lo))
	}
	f := (v - lo) / (hi - lo)
	return a.p0 + float64(min(max(f, 0), 1)*(a.p1-a.p0))
}

// valueTick is a round value on an axis, with the decimals that tell it from its neighbours.
type valueTick struct {
	v        float64
	decimals int
}

// linearTicks are the multiples of a round step in lo..hi: at most most, and two at least.
func linearTicks(lo, hi float64, most int) (ticks []valueTick) {
	raw := (hi - lo) / float64(most)
	e := math.Floor(math.Log10(raw))
	for {
		for _, m := range [...]float64{1, 2, 2.5, 5} {
			step := m * math.Pow(10, e)
			first, last := math.Ceil(lo/step-1e-9), math.Floor(hi/step+1e-9)
			if last-first+1 > float64(most) {
				continue
			}
			for k := first; k <= last; k++ {
				ticks = append(ticks, valueTick{k * step, decimalsOf(step)})
			}
			return ticks
		}
		e++
	}
}

// logTicks are round values in lo..hi, both above 0, spread evenly by their ratio: at most most, and two at least.
func logTicks(lo, hi float64, most int) (ticks []valueTick) {
	if hi < 3*lo {
		return linearTicks(lo, hi, most)
	}
	for _, in := range [][]float64{{1, 1.5, 2, 3, 5, 7}, {1, 2, 5}, {1, 3}} {
		if ticks = decades(lo, hi, in, 1); len(ticks) <= most {
			break
		}
	}
	for every := 1; len(ticks) > most; every++ {
		ticks = decades(lo, hi, []float64{1}, every)
	}
	if len(ticks) < 2 {
		return linearTicks(lo, hi, most)
	}
	return ticks
}

func decades(lo, hi float64, mantissas []float64, every int) (ticks []valueTick) {
	for e := math.Floor(math.Log10(lo)); e <= math.Log10(hi); e++ {
		if math.Mod(e, float64(every)) != 0 {
			continue
		}
		for _, m := range mantissas {
			if v := m * math.Pow(10, e); v >= lo*(1-1e-9) && v <= hi*(1+1e-9) {
				ticks = append(ticks, valueTick{v, decimalsOf(v)})
			}
		}
	}
	return ticks
}

// spread gathers the least and the greatest of values.
type spread struct {
	lo, hi float64
	some   bool
}

func (s *spread) add(values ...float64) {
	for _, v := range values {
		if !s.some {
			s.lo, s.hi, s.some = v, v, true
		}
		s.lo, s.hi = min(s.lo, v), max(s.hi, v)
	}
}
