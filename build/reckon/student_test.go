package reckon

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"
	"pgregory.net/rapid"
)

// Student's t is gonum's to the last bit, and a share that is drawn lies below each of its quantiles as often as that says.
func TestQuantilesAreThoseOfTheDistributions(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		free, p := rapid.Float64Range(1, 300).Draw(t, "free"), rapid.Float64Range(0.51, 0.9999).Draw(t, "p")
		if got, want := StudentQuantile(free, p), (distuv.StudentsT{Sigma: 1, Nu: free}).Quantile(p); got != want {
			t.Fatalf("%g, not %g", got, want)
		}
	})
	for _, c := range []struct{ a, b float64 }{{5, 2.5}, {0.5, 3}, {1, 1}, {30, 0.2}} {
		part, err := SharePart("share", Tally{}, Prior{A: c.a, B: c.b})
		if err != nil {
			t.Fatal(err)
		}
		r, below := rand.New(rand.NewPCG(1, 2)), [9]int{}
		for range 20_000 {
			tenth := int(10 * distuv.Beta{Alpha: c.a, Beta: c.b}.CDF(part.draw(r)))
			for i := tenth; i < len(below); i++ {
				below[i]++
			}
		}
		for i, n := range below {
			if want := 2000 * (i + 1); math.Abs(float64(n-want)) > 300 { // over four standard errors
				t.Errorf("beta %v: %d of 20,000 lie below the quantile %.1f", c, n, float64(i+1)/10)
			}
		}
	}
}

func BenchmarkSharePart(b *testing.B) {
	part, err := SharePart("share", Tally{Yes: 3, Of: 4}, Prior{A: 2, B: 1.5})
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if _, err := Propagate(Draws{Seed: 1}, 0.8, part.Best, part.draw); err != nil {
			b.Fatal(err)
		}
	}
}
