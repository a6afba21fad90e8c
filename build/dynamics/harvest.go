package dynamics

import (
	"cmp"
	"math"

	"slipleaf/build/reckon"
)

// Regrowth is how a stand grows back after a cut, for sums about how much to leave. The days of rest that a cut costs are
// part of the rate.
type Regrowth struct {
	Rate     float64 // r per day while small, above 0 and up to [FastestRate]
	Capacity float64 // what the space holds, K; 0: no sign of slowing yet
	Most     float64 // where Capacity is 0: the largest size seen or wanted
}

// HarvestPlan is a habit of trimming: how much to leave, how often to cut, and what it gives.
type HarvestPlan struct {
	Every   float64 // days between cuts
	Leave   float64 // size to leave
	TrimAt  float64 // size at which to cut
	Harvest float64 // taken at each cut
	Weekly  float64 // taken per week
	OfBest  float64 // Weekly as a share of the most that any habit gives
}

// limit is the size that the stand is not let above: K or Most.
func (g Regrowth) limit() (float64, error) {
	k := cmp.Or(g.Capacity, g.Most)
	err := reckon.FirstError(reckon.Inside("rate", g.Rate, 1e-5, FastestRate, "growth per day"), reckon.Inside("holds", g.Capacity, 0, 1e12, "a size"), reckon.Inside("most", g.Most, 0, 1e12, "a size"))
	if err == nil && k < 1e-9 {
		err = &reckon.InputError{Kind: reckon.Missing, Name: "holds", Why: "how much to leave depends on the largest size"}
	}
	return k, err
}

// MaximumSustainableYield is the most that any habit gives per week: 7 r K/4, in many small cuts at half of what the space holds
// (Schaefer 1954, Bull. Inter-Am. Trop. Tuna Comm. 1:27–56); 7 r Most where K is not known.
func (g Regrowth) MaximumSustainableYield() (float64, error) {
	k, err := g.limit()
	if err != nil || g.Capacity == 0 {
		return 7 * g.Rate * k, err
	}
	return 7 * g.Rate * k / 4, nil
}

// HarvestPlan is the best habit with cuts every so many days, 1 to 365. With K known it is symmetric about K/2: cut at
// K/(1 + e^(−rT/2)), take K tanh(rT/4), where T is the time between cuts. With K not known: cut at Most,
// leave what grows back by the next cut, but no less than half. Derived.
func (g Regrowth) HarvestPlan(every float64) (HarvestPlan, error) {
	k, err := g.limit()
	if err = reckon.FirstError(err, reckon.Inside("every", every, 1, 365, "days between cuts")); err != nil {
		return HarvestPlan{}, err
	}
	out := HarvestPlan{Every: every}
	if g.Capacity > 0 {
		out.TrimAt = k / (1 + math.Exp(-g.Rate*every/2))
		out.Leave = k - out.TrimAt
	} else {
		out.TrimAt = k
		out.Leave = k * max(0.5, math.Exp(-g.Rate*every))
	}
	out.Harvest = out.TrimAt - out.Leave
	out.Weekly = 7 * out.Harvest / every
	best, err := g.MaximumSustainableYield()
	out.OfBest = out.Weekly / best
	return out, err
}

// BestHarvestPlan is the habit with the greatest weekly harvest among whole days from 3 to 60 between cuts whose harvest is at
// least the smallest worth cutting; and, to show how little the interval matters beside the size kept, the habits of
// one to four weeks.
func (g Regrowth) BestHarvestPlan(smallest float64) (best HarvestPlan, weeks []HarvestPlan, err error) {
	for days := 3.0; days <= 60; days++ {
		k, err := g.HarvestPlan(days)
		if err := reckon.FirstError(err, reckon.Inside("smallest", smallest, 0, 1e12, "a size")); err != nil {
			return HarvestPlan{}, nil, err
		}
		if k.Harvest >= smallest && k.Weekly > best.Weekly {
			best = k
		}
		if days == 7 || days == 14 || days == 21 || days == 28 {
			weeks = append(weeks, k)
		}
	}
	if best.Every == 0 {
		return best, weeks, &reckon.InputError{Kind: reckon.OutOfRange, Name: "smallest", Value: reckon.Figure(smallest),
			Range: "what grows in 60 days", Why: "no cut within 60 days gives so much"}
	}
	return best, weeks, nil
}
