package chart

import (
	"testing"

	"pgregory.net/rapid"
)

// What stays the same within a fiftieth is drawn as staying the same: its dots lie within a tenth of the plot.
func TestSteadyReadingsLookSteady(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		at := rapid.Float64Range(0.5, 800).Draw(t, "value")
		c := TimeSeries{Caption: Caption{"r", "T"}, Words: english(), Decimals: 2}
		for i := range rapid.IntRange(2, 20).Draw(t, "readings") {
			c.Readings = append(c.Readings, Reading{Day: 20000 + 7*i, Value: at * (1 + rapid.Float64Range(-0.01, 0.01).Draw(t, "noise"))})
		}
		p := c.Draw()
		lo, hi := 1e9, -1e9
		for _, m := range marksOf(t, p.Broad, "pt") {
			lo, hi = min(lo, m.y0), max(hi, m.y0)
		}
		const high = 70
		if hi-lo > high*0.1 {
			t.Fatalf("readings of %g within 1 %% climb %g of %v", at, hi-lo, high)
		}
	})
}
