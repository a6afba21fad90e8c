package growth_test

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"slipleaf/build/growth"
	"slipleaf/build/ledger"
)

func demoSpace(t *testing.T) []*growth.Place {
	t.Helper()
	j, a := demo(t)
	f := growth.New(j, lookUp(j, a), demoDay)
	return f.Space(ledger.New(j, demoDay, f.Forecast), lookUp(j, a))
}

// The score is the product of its parts, and its interval holds it.
func TestSpaceIsTheProductOfItsParts(t *testing.T) {
	seen := 0
	for _, p := range demoSpace(t) {
		if !p.Known {
			if p.Why == "" {
				t.Errorf("%s in %s has neither score nor reason", p.Plant, p.Tank)
			}
			continue
		}
		seen++
		want := p.Yield.Weekly() * p.Claim.Posterior.Value * p.Established.Value
		if math.Abs(p.Score.Value-want) > 1e-9 {
			t.Errorf("%s in %s: score %v, product %v", p.Plant, p.Tank, p.Score.Value, want)
		}
		if !(p.Score.Low >= 0 && p.Score.Low < p.Score.Value && p.Score.Value < p.Score.High) {
			t.Errorf("%s in %s: interval %+v does not hold its value", p.Plant, p.Tank, p.Score)
		}
	}
	if seen < 8 {
		t.Errorf("only %d places have a score", seen)
	}
}

func TestSpaceIsSortedAndKnownFirst(t *testing.T) {
	ps := demoSpace(t)
	if !slices.IsSortedFunc(ps, func(a, b *growth.Place) int {
		switch {
		case a.Known && !b.Known:
			return -1
		case b.Known && !a.Known:
			return 1
		case a.Score.Value > b.Score.Value:
			return -1
		case a.Score.Value < b.Score.Value:
			return 1
		}
		return 0
	}) {
		t.Error("the ranking is not sorted")
	}
}

// The gain's interval by a second sampler, cruder than ours: it must come out near.
func TestGainAgreesWithAnotherSampler(t *testing.T) {
	ps := demoSpace(t)
	g, ok := growth.GainOf(ps)
	if !ok {
		t.Fatal("no gain in the demonstration")
	}
	if want := g.Area * (g.First.Score.Value - g.Last.Score.Value); math.Abs(g.Weekly.Value-want) > 1e-9 {
		t.Errorf("gain %v, want %v", g.Weekly.Value, want)
	}
	if g.Chance != (g.Weekly.Low <= 0) {
		t.Error("chance is not said where the interval holds 0")
	}
	r := rand.New(rand.NewPCG(7, 7))
	var draws []float64
	for range 20000 {
		draws = append(draws, g.Area*(second(g.First, r)-second(g.Last, r)))
	}
	slices.Sort(draws)
	lo, hi := draws[500], draws[19500]
	width := hi - lo
	if math.Abs(lo-g.Weekly.Low) > 0.08*width || math.Abs(hi-g.Weekly.High) > 0.15*width {
		t.Errorf("interval %v to %v, by the other sampler %v to %v", g.Weekly.Low, g.Weekly.High, lo, hi)
	}
}

// second draws a place's score: the log-normal spread of its yield, and each share from a normal with the beta's own
// mean and variance, read back from its 95 % interval.
func second(p *growth.Place, r *rand.Rand) float64 {
	sd := math.Min(1/math.Sqrt(float64(max(p.Yield.Cuts, 1))), 1)
	y := p.Yield.Weekly() * math.Exp(sd*r.NormFloat64())
	return y * share(p.Claim.Posterior.Value, p.Claim.Posterior.Low, p.Claim.Posterior.High, r) * share(p.Established.Value, p.Established.Low, p.Established.High, r)
}

func share(v, lo, hi float64, r *rand.Rand) float64 {
	for {
		if x := v + (hi-lo)/3.92*r.NormFloat64(); x >= 0 && x <= 1 {
			return x
		}
	}
}

func TestNoGainWithoutTwoScores(t *testing.T) {
	if _, ok := growth.GainOf([]*growth.Place{{Plant: "a"}, {Plant: "b"}}); ok {
		t.Error("a gain from nothing")
	}
}
