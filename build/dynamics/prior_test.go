package dynamics

import (
	"math"
	"math/rand/v2"
	"testing"

	"slipleaf/build/reckon"
)

// What is known of a plant before its counts makes the interval of its rate narrower, and it still holds: on made-up plants whose rates
// differ by 30 % from tank to tank, by class (medium or fast, as the almanac would say) a quarter at three counts and an eighth
// at four, with two other tanks of 15 counts each over a third and a fifth. Windows foretell no worse by it.
func TestPriorsNarrowWithoutLying(t *testing.T) {
	for _, c := range []struct {
		counts     int
		class, kin float64 // how much narrower at least
	}{{3, 0.20, 0.33}, {4, 0.10, 0.18}} {
		rng := rand.New(rand.NewPCG(12, uint64(c.counts)))
		var width, held, score, n [3]float64
		for range 300 {
			species := 0.02 + 0.06*rng.Float64()
			class := Prior{0.035, 0.03}
			if species > 0.045 {
				class = Prior{0.06, 0.04}
			}
			tank := func(counts int) life {
				return makeLifeAt(rng, Plain, counts, species*math.Exp(0.3*rng.NormFloat64()))
			}
			var kin []reckon.Interval
			for range 2 {
				d, err := FitStateSpace(seriesOf(tank(15)), 0.95)
				if err != nil {
					t.Fatal(err)
				}
				kin = append(kin, d.Average)
			}
			l := tank(c.counts)
			s := seriesOf(l)
			for i, p := range []Prior{{rateMean, rateSD}, class, class.With(kin)} {
				s.Prior = p
				d, err := FitEarly(s, 0.95)
				if err != nil {
					t.Fatal(err)
				}
				ahead := d.passage(l.Goal, 0, 1)
				n[i]++
				width[i] += d.Rate.High - d.Rate.Low
				held[i] += one(d.Rate.Low <= l.Rate && l.Rate <= d.Rate.High)
				score[i] += crps(ahead, min(l.Reach-d.Last, ahead.far))
			}
		}
		narrower := func(i int) float64 { return 1 - width[i]/width[0] }
		t.Logf("%d counts: by class %.2f narrower, holds %.3f, score %.3f; with other tanks %.2f, %.3f, %.3f; score without %.3f",
			c.counts, narrower(1), held[1]/n[1], score[1]/n[1], narrower(2), held[2]/n[2], score[2]/n[2], score[0]/n[0])
		if narrower(1) < c.class || narrower(2) < c.kin {
			t.Errorf("%d counts: only %.2f and %.2f narrower", c.counts, narrower(1), narrower(2))
		}
		for i := range n {
			if held[i]/n[i] < 0.93 || score[i] > 1.03*score[0] {
				t.Errorf("%d counts, prior %d: holds %.3f, score %.3f", c.counts, i, held[i]/n[i], score[i]/n[i])
			}
		}
	}
}
