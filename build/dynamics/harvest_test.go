package dynamics

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"

	"slipleaf/build/reckon"
)

// sizeAfter is the size that w grows to in some days: W(t) = K/(1 + ((K − w)/w) e^(−rt)), or w eʳᵗ where K is not known
// (Verhulst 1838).
func (g Regrowth) sizeAfter(w, days float64) float64 {
	if g.Capacity == 0 {
		return w * math.Exp(g.Rate*days)
	}
	return g.Capacity / (1 + (g.Capacity-w)/w*math.Exp(-g.Rate*days))
}

// Leaving what the sum says gives back, after the days it says, the size at which to cut.
func TestKeepComesRound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := Regrowth{Rate: rapid.Float64Range(0.005, 0.3).Draw(t, "r")}
		every := rapid.Float64Range(6, 40).Draw(t, "every")
		if size := rapid.Float64Range(1, 1000).Draw(t, "size"); rapid.Bool().Draw(t, "levels off") {
			g.Capacity = size
		} else {
			g.Most = size
		}
		k, err := g.HarvestPlan(every)
		if err != nil {
			t.Fatal(err)
		}
		back := g.sizeAfter(k.Leave, every)
		grows := g.Capacity > 0 || k.Leave > g.Most*0.5000001 // else it is back before the next cut
		if grows && math.Abs(back-k.TrimAt) > 1e-6*k.TrimAt || back < k.TrimAt*(1-1e-6) {
			t.Fatalf("%v grows to %v, want %v", k.Leave, back, k.TrimAt)
		}
		if k.OfBest < 0 || k.OfBest > 1+1e-9 || math.Abs(k.Weekly*every/7-k.Harvest) > 1e-9*(1+k.Harvest) {
			t.Fatalf("%+v", k)
		}
	})
}

// No other size to leave gives more than half of what the space holds, at any interval.
func TestNoOtherSizeGivesMore(t *testing.T) {
	g := Regrowth{Rate: 0.08, Capacity: 100}
	for _, every := range []float64{7, 14, 28, 60} {
		k, err := g.HarvestPlan(every)
		if err != nil {
			t.Fatal(err)
		}
		for leave := 1.0; leave < 100; leave++ {
			if grown := g.sizeAfter(leave, every); grown-leave > k.Harvest+1e-9 {
				t.Errorf("every %v days: leaving %v gives %v, more than %v by leaving %v", every, leave, grown-leave, k.Harvest, k.Leave)
			}
		}
	}
}

func TestBestKeep(t *testing.T) {
	g := Regrowth{Rate: 0.06, Capacity: 100}
	best, weeks, err := g.BestHarvestPlan(0)
	if err != nil || best.Every != 3 || len(weeks) != 4 {
		t.Errorf("%+v, %d weeks, %v: small cuts often give most", best, len(weeks), err)
	}
	if weeks[1].OfBest < 0.98 || weeks[3].OfBest < 0.94 {
		t.Errorf("the interval matters much: %+v", weeks)
	}
	wanted, _, err := g.BestHarvestPlan(30)
	if err != nil || wanted.Harvest < 30 || wanted.Every < 20 {
		t.Errorf("a cut of 30 or more: %+v, %v", wanted, err)
	}
	var in *reckon.InputError
	if _, _, err := g.BestHarvestPlan(150); !errors.As(err, &in) {
		t.Errorf("a cut of more than the space holds: %v", err)
	}
}

func TestRegrowthRefusals(t *testing.T) {
	good := Regrowth{Rate: 0.05, Capacity: 100}
	keep := func(g Regrowth, every float64) error { _, err := g.HarvestPlan(every); return err }
	for name, err := range map[string]error{
		"no size":                  keep(Regrowth{Rate: 0.05}, 14),
		"no growth":                keep(Regrowth{Capacity: 100}, 14),
		"too fast":                 keep(Regrowth{Rate: 0.7, Capacity: 100}, 14),
		"not a number":             keep(Regrowth{Rate: math.NaN(), Capacity: 100}, 14),
		"a cut a year and a day":   keep(good, 366),
		"a space that is infinite": keep(Regrowth{Rate: 0.05, Capacity: math.Inf(1)}, 14),
	} {
		var in *reckon.InputError
		if !errors.As(err, &in) {
			t.Errorf("%s: %v", name, err)
		}
	}
}
