package chart

import (
	"math"
	"strconv"
)

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
	if hi < leastFactor*lo {
		return linearTicks(lo, hi, most)
	}
	for _, factor := range []float64{2, 4} {
		if ticks = climbing(lo, hi, factor, most); len(ticks) > 1 {
			return ticks
		}
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

// climbing are ticks each of which is factor times the one before, from the roundest number that gives the most of them;
// nil where more than most would be needed.
func climbing(lo, hi, factor float64, most int) (best []valueTick) {
	for _, m := range []float64{1, 2, 5, 4, 3, 6, 8} {
		v := m * math.Pow(10, math.Floor(math.Log10(lo)))
		for v < lo*(1-1e-9) {
			v *= factor
		}
		for v/factor >= lo*(1-1e-9) {
			v /= factor
		}
		var ticks []valueTick
		round := true
		for ; v <= hi*(1+1e-9); v *= factor {
			ticks = append(ticks, valueTick{v, decimalsOf(v)})
			round = round && significant(v) <= 2
		}
		if len(ticks) > most {
			return nil
		}
		if round && len(ticks) > len(best) {
			best = ticks
		}
	}
	return best
}

// significant counts the digits of a number without the noughts at its ends.
func significant(v float64) int {
	for v = v / math.Pow(10, math.Floor(math.Log10(v))); ; v *= 10 {
		if r := math.Round(v); math.Abs(v-r) < 1e-6*v {
			return len(strconv.FormatFloat(r, 'f', 0, 64))
		}
	}
}

// factorOf is the factor between neighbouring ticks, where it is one throughout; else 0.
func factorOf(ticks []valueTick) float64 {
	f := ticks[1].v / ticks[0].v
	for i := 2; i < len(ticks); i++ {
		if math.Abs(ticks[i].v/ticks[i-1].v-f) > 1e-6*f {
			return 0
		}
	}
	if math.Abs(f-math.Round(f)) > 1e-6 {
		return 0
	}
	return math.Round(f)
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
		if math.IsNaN(v) { // nor is it drawn
			continue
		}
		v = min(max(v, -largest), largest)
		if !s.some {
			s.lo, s.hi, s.some = v, v, true
		}
		s.lo, s.hi = min(s.lo, v), max(s.hi, v)
	}
}

// largest is the greatest magnitude that an axis holds; smallest the least, below which a value counts as 0. Both are far
// beyond what anyone counts in a tank, and keep every sum finite and every label short.
const (
	largest  = 1e9
	smallest = 1e-9
)

// snap takes what is too small to draw for 0.
func snap(v float64) float64 {
	if math.Abs(v) < smallest {
		return 0
	}
	return v
}
