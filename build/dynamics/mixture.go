package dynamics

import (
	"maps"
	"math"
	"slices"

	"slipleaf/build/reckon"
)

// mixture gives the median and the equal-tailed interval of a mixture of normals, one for each node.
func mixture(ns []node, level float64, of func(*node) (mean, variance float64)) reckon.Interval {
	parts := make([]part, len(ns))
	for i := range ns {
		mean, variance := of(&ns[i])
		parts[i] = part{ns[i].weight, mean, math.Sqrt(max(variance, 1e-18))}
	}
	return reckon.Interval{Value: quantile(parts, 0.5), Low: quantile(parts, (1-level)/2), High: quantile(parts, (1+level)/2), Level: level}
}

// part is a normal distribution in a mixture.
type part struct{ weight, mean, sd float64 }

// quantile is the place below which a share p of the mixture lies.
func quantile(parts []part, p float64) float64 {
	z := reckon.NormalQuantile(p)
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, q := range parts {
		lo, hi = min(lo, q.mean+z*q.sd), max(hi, q.mean+z*q.sd)
	}
	// false position on the scale of the normal quantile, where the distribution is nearly straight (the Illinois rule)
	at := func(x float64) float64 {
		return reckon.NormalQuantile(min(max(below(parts, x), 1e-15), 1-1e-15)) - z
	}
	flo, fhi, side := at(lo), at(hi), 0
	for range 60 {
		if hi-lo < 1e-9*(1+math.Abs(hi)) || fhi == flo {
			break
		}
		mid := lo - flo*(hi-lo)/(fhi-flo)
		f := at(mid)
		switch {
		case math.Abs(f) < 1e-9:
			return mid
		case f < 0:
			if lo, flo = mid, f; side < 0 {
				fhi /= 2
			}
			side = -1
		default:
			if hi, fhi = mid, f; side > 0 {
				flo /= 2
			}
			side = 1
		}
	}
	return lo + (hi-lo)/2
}

// below is the share of the mixture that lies below x.
func below(parts []part, x float64) float64 {
	sum := 0.0
	for _, q := range parts {
		sum += q.weight * normalBelow((x-q.mean)/q.sd)
	}
	return sum
}

// normalBelow is the standard normal distribution function.
func normalBelow(z float64) float64 { return math.Erfc(-z/math.Sqrt2) / 2 }

// marginal gives the median and interval of what the grid is made of, on the log scale between its places.
func marginal(ns []node, level float64, of func(*node) float64) reckon.Interval {
	share := map[float64]float64{}
	for i := range ns {
		share[of(&ns[i])] += ns[i].weight
	}
	places := slices.Sorted(maps.Keys(share))
	at := func(p float64) float64 {
		before := 0.0 // share below the middle of the place
		last := places[0]
		sum := 0.0
		for _, x := range places {
			here := sum + share[x]/2
			if here >= p {
				f := 1.0
				if here > before {
					f = (p - before) / (here - before)
				}
				return last * math.Pow(x/last, max(0, f))
			}
			before, last, sum = here, x, sum+share[x]
		}
		return last
	}
	return reckon.Interval{Value: at(0.5), Low: at((1 - level) / 2), High: at((1 + level) / 2), Level: level}
}
