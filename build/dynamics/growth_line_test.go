package dynamics

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// The interval of a fitted line is checked against its textbook form, from sums worked out here: s² (1/n + (x − x̄)²/Sxx)
// with Student's t (Hunt 1982).
func TestLineInterval(t *testing.T) {
	days, sizes := []float64{0, 7, 14, 21, 28}, []float64{10, 14, 17, 26, 30}
	var s Series
	for i := range days {
		s.Counts = append(s.Counts, Count{Day: days[i], Size: sizes[i]})
	}
	l, err := FitLine(s, 0.95)
	if err != nil {
		t.Fatal(err)
	}
	n := float64(len(days))
	var sx, sy, sxx, sxy, rss float64
	for i := range days {
		sx, sy = sx+days[i]/n, sy+math.Log(sizes[i])/n
	}
	for i := range days {
		sxx += (days[i] - sx) * (days[i] - sx)
		sxy += (days[i] - sx) * (math.Log(sizes[i]) - sy)
	}
	slope := sxy / sxx
	for i := range days {
		miss := math.Log(sizes[i]) - sy - slope*(days[i]-sx)
		rss += miss * miss
	}
	const student3 = 3.182446305284263 // of 0.975 with 3 degrees of freedom: any table
	for _, day := range []float64{0, 10, 14, 28} {
		fit := sy + slope*(day-sx)
		half := student3 * math.Sqrt(rss/3*(1/n+(day-sx)*(day-sx)/sxx))
		got := l.SizeRange(0, day)
		for _, pair := range [][2]float64{{got.Value, math.Exp(fit)}, {got.Low, math.Exp(fit - half)}, {got.High, math.Exp(fit + half)}} {
			if math.Abs(pair[0]/pair[1]-1) > 1e-9 {
				t.Errorf("on day %v: %v, by the book %v ± %v", day, got, fit, half)
			}
		}
	}
}

// Whole plants that lie on a line exactly, as those that stay the same do, show no rate without error: each may lie half a plant
// off what it is counted as.
func TestWholePlantsOnALineHaveAnError(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n, doubles := rapid.IntRange(4, 12).Draw(t, "counts"), rapid.Bool().Draw(t, "doubles")
		s := Series{Step: 1}
		size := float64(rapid.IntRange(1, 40).Draw(t, "size"))
		for i := range n {
			s.Counts = append(s.Counts, Count{Day: 7 * float64(i), Size: size})
			if doubles {
				size *= 2
			}
		}
		l, err := FitLine(s, 0.95)
		if err != nil {
			t.Fatal(err)
		}
		if !(l.Rate.Low < l.Rate.Value-1e-6) || l.SizeRange(0, 7).Low >= l.Size(0, 7) {
			t.Fatalf("%+v", l.Rate)
		}
	})
}
