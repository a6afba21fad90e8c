package growth

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"slipleaf/build/quantity"
	"slipleaf/build/reckon"
)

// row is a place of a made-up ranking, and what it truly gives.
type row struct {
	*Place
	yield, score float64
}

// ranking makes up a journal's ranking: 8 plants, of which two stand in two tanks; cuts every 10 to 30 days that give what grew since,
// more or less (by 35 %); lots and parcels of which some are asked for and establish. The second tank of the first plant gives
// as many times as much as said, that of the second plant the same.
func ranking(rng *rand.Rand, times float64) (rows []row) {
	tallyOf := func(n int, p float64) reckon.Tally {
		t := reckon.Tally{Of: n}
		for range n {
			if rng.Float64() < p {
				t.Yes++
			}
		}
		return t
	}
	var asked, does []reckon.Tally
	for plant := range 8 {
		yield := 0.6 * math.Exp(0.6*rng.NormFloat64())
		a, d := 0.5+0.45*rng.Float64(), 0.4+0.55*rng.Float64()
		claim, result := tallyOf(3+rng.IntN(8), a), tallyOf(4+rng.IntN(12), d)
		asked, does = append(asked, claim), append(does, result)
		tanks := 1
		if plant < 2 {
			tanks = 2
		}
		for tank := range tanks {
			y := yield
			if plant == 0 && tank == 1 {
				y *= times
			}
			p := &Place{Plant: fmt.Sprint(plant), Tank: fmt.Sprint(tank), Yield: cuts(rng, y), Results: result}
			p.Claim.Tally = claim
			rows = append(rows, row{p, y, y * a * d})
		}
	}
	prior, err1 := reckon.PriorOf(does)
	claimed, err2 := reckon.PriorOf(asked)
	if err1 != nil || err2 != nil {
		panic(err1)
	}
	var ps []*Place
	for _, r := range rows {
		ps = append(ps, r.Place)
	}
	usual := usualUnevenness(ps)
	for _, p := range ps {
		p.score(prior, claimed, usual, true)
	}
	shrink(ps)
	return rows
}

// cuts makes up what was cut of 10 dm² in half a year, at so many pieces per dm² and week.
func cuts(rng *rand.Rand, yield float64) Rate {
	begin := quantity.Date{Year: 2026, Month: 1, Day: 1}
	r := Rate{Area: 10}
	var all []taking
	day := 0
	for {
		gap := 10 + rng.IntN(21)
		if day+gap > 180 {
			break
		}
		day += gap
		n := int(math.Round(yield * 10 * float64(gap) / 7 * math.Exp(0.35*rng.NormFloat64()-0.35*0.35/2)))
		all = append(all, taking{begin.Add(day), n})
		r.Slips += n
		r.Cuts++
	}
	r.Weeks = float64(day) / 7
	r.Unevenness = unevenness(all, begin)
	return r
}

// The ranking, on made-up journals: 95 % intervals hold about that often, the first place is no better than it says, a plant
// that does double in another tank is found, and one that does the same seldom is.
func TestRankingHoldsWhatItSays(t *testing.T) {
	rng := rand.New(rand.NewPCG(2026, 20))
	runs := 400.0
	if testing.Short() {
		runs = 100
	}
	var held, all, first, found, alarms float64
	for range int(runs) {
		rows := ranking(rng, 2)
		var ps []*Place
		best := rows[0]
		for _, r := range rows {
			ps = append(ps, r.Place)
			if !r.Known {
				continue
			}
			all++
			if r.Score.Low <= r.score && r.score <= r.Score.High {
				held++
			}
			if r.Score.Value > best.Score.Value {
				best = r
			}
		}
		first += math.Log(best.Score.Value / best.score)
		for _, twin := range TwinsOf(ps) {
			if twin.Better.Plant == "0" && twin.Better.Tank == "1" {
				found++
			} else {
				alarms++
			}
		}
	}
	t.Logf("intervals hold in %.3f; the first says %.2f times what it gives; doubles found %.2f, false alarms %.3f", held/all, math.Exp(first/runs), found/runs, alarms/runs)
	if share := held / all; share < 0.93 || share > 0.97 {
		t.Errorf("95 %% intervals hold in %.3f", share)
	}
	if ratio := math.Exp(first / runs); ratio < 0.92 || ratio > 1.08 {
		t.Errorf("the first place says %.2f times what it gives", ratio)
	}
	if found/runs < 0.79 || alarms/runs > 0.08 {
		t.Errorf("of plants that do double elsewhere %.2f are found, of those that do the same %.3f", found/runs, alarms/runs)
	}
}
