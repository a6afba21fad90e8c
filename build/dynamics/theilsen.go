package dynamics

import (
	"math"
	"sort"

	"slipleaf/build/reckon"
)

// theilSen is the median of the slopes of ln size between all pairs of points of a segment, segments taken together.
// Theil 1950 (Proc. K. Ned. Akad. Wet. 53); Sen 1968 (J. Am. Stat. Assoc. 63:1379–1389) for the limits, which hold for
// one segment: with C = z √(n(n−1)(2n+5)/18), the slopes numbered ⌊(N−C)/2⌋ and ⌈(N+C)/2⌉+1 of N. With several segments
// Kendall's variance is summed over them. Where the numbers fall outside, the end slopes are the limits.
func theilSen(segs []Segment, level float64) reckon.Interval {
	var slopes []float64
	variance := 0.0
	for _, g := range segs {
		slopes = append(slopes, pairSlopes(g)...)
		n := float64(len(g))
		variance += n * (n - 1) * (2*n + 5) / 18
	}
	if len(slopes) == 0 {
		return reckon.Interval{Level: level}
	}
	sort.Float64s(slopes)
	n := len(slopes)
	c := reckon.NormalQuantile((1+level)/2) * math.Sqrt(variance)
	lo := int(math.Floor((float64(n) - c) / 2))
	hi := int(math.Ceil((float64(n)+c)/2)) + 1
	return reckon.Interval{Value: median(slopes), Low: slopes[max(lo, 1)-1], High: slopes[min(hi, n)-1], Level: level}
}

// pairSlopes lists the slopes of ln size between points of different days.
func pairSlopes(g Segment) []float64 {
	var out []float64
	for i := range g {
		for j := range i {
			if dx := g[i].Day - g[j].Day; dx != 0 {
				out = append(out, math.Log(g[i].Size/g[j].Size)/dx)
			}
		}
	}
	return out
}

// median of sorted values: the mean of the middle two of an even number, 0 of none.
func median(sorted []float64) float64 {
	n := len(sorted)
	if n == 0 {
		return 0
	}
	return (sorted[(n-1)/2] + sorted[n/2]) / 2
}
