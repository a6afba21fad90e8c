package growth

import (
	"cmp"
	"maps"
	"math"
	"math/rand/v2"
	"slices"

	"gonum.org/v1/gonum/mathext"

	"slipleaf/build/almanac"
	"slipleaf/build/ledger"
	"slipleaf/build/reckon"
)

// ClaimDays is how soon a lot must be asked for to count as claimed.
const ClaimDays = 28

// The propagation behind the ranking: as many draws as reckon.UsualDraws from a fixed seed.
var spaceDraws = reckon.Draws{Seed: 20}

// Claim is how the lots of a plant were asked for.
type Claim struct {
	Tally     reckon.Tally    // lots of which half or more was asked for within [ClaimDays] days, of the lots old enough to tell
	Posterior reckon.Interval // drawn toward all lots of the journal
}

// Place is what the ground under a plant in a tank gives: successful slips per dm² and week, with its parts.
type Place struct {
	Tank, Plant string
	Yield       Rate // over the last weeks, or over all where the last say too little
	Recent      bool // Yield is that of the last weeks
	Claim       Claim
	Established reckon.Interval // drawn toward all species of the journal
	Results     reckon.Tally
	Ease        almanac.Ease

	Product reckon.Interval // slips that were asked for and established, per dm² and week
	Score   reckon.Interval // the same with the yield drawn toward the others: the first of a ranking is partly first by luck
	Working reckon.Working
	Known   bool // there is a score; else Why
	Why     Lack // what is missing

	ownVar, plantVar float64 // variances of ln Product: of the yield; of what all places of the plant share
	scoreVar         float64 // the variance of the yield in Score
}

// Lack is what keeps a place from having a score.
type Lack string

// What can be missing.
const (
	NoArea  Lack = "no-area"  // no count says how much floor it takes
	NoSlips Lack = "no-slips" // nothing was cut yet, or for too short a time
	Few     Lack = "few"      // no verdict of any parcel of the journal yet
)

// Gain is what would be gained by giving the ground of the last of the ranking to the first.
type Gain struct {
	First, Last *Place
	Area        float64         // dm²: the last one's
	Weekly      reckon.Interval // successful slips a week, first less last
	Chance      bool            // the interval holds 0: the difference may be chance
}

// Space ranks what is in the tanks on a day by what its ground gives, best first; places without a score come last,
// by plant. The parts are the yield, the share of lots claimed and the share established elsewhere; the interval comes
// from drawing each from its own uncertainty.
func (f *Facts) Space(l *ledger.Ledger, species func(id string) almanac.Species) []*Place {
	elsewhere, prior, told := l.Outcomes()
	claims := claimsOf(l)
	var out []*Place
	for key, all := range f.byKey {
		if !all[len(all)-1].Standing() {
			continue
		}
		p := &Place{Tank: key.Tank, Plant: key.Plant, Claim: claims[key.Plant], Ease: almanac.EaseOf(species(key.Plant))}
		p.Results = elsewhere[key.Plant].All.Tally()
		y := f.yields[key]
		p.Yield, p.Recent = y.Recent, true
		if !y.Recent.Known() || y.Recent.Cuts < 2 {
			p.Yield, p.Recent = y.All, false
		}
		out = append(out, p)
	}
	usual, claimed := usualUnevenness(out), loose(claimPrior(claims))
	for _, p := range out {
		p.score(loose(prior), claimed, usual, told)
	}
	shrink(out)
	slices.SortFunc(out, func(a, b *Place) int {
		if a.Known != b.Known {
			return map[bool]int{true: -1, false: 1}[a.Known]
		}
		return cmp.Or(-cmp.Compare(a.Score.Value, b.Score.Value), cmp.Compare(a.Plant, b.Plant), cmp.Compare(a.Tank, b.Tank))
	})
	return out
}

// score works out the product of a place, or says what it lacks.
func (p *Place) score(established, claimed reckon.Prior, usual float64, told bool) {
	switch {
	case p.Yield.Area <= 0:
		p.Why = NoArea
		return
	case !p.Yield.Known() || p.Yield.Slips == 0:
		p.Why = NoSlips
		return
	case !told:
		p.Why = Few
		return
	}
	p.ownVar = p.Yield.variance(usual)
	yield, err := reckon.SpreadPart("yield", p.Yield.Weekly(), math.Sqrt(p.ownVar))
	asked, err1 := reckon.SharePart("claimed", p.Claim.Tally, claimed)
	does, err2 := reckon.SharePart("established", p.Results, established)
	if reckon.FirstError(err, err1, err2) != nil {
		p.Why = Few
		return
	}
	p.Established, _ = established.Shrink(p.Results, Level)
	p.Claim.Posterior, _ = claimed.Shrink(p.Claim.Tally, Level)
	p.plantVar = logVar(claimed, p.Claim.Tally) + logVar(established, p.Results)
	p.Product, p.Working, err = reckon.Product(spaceDraws, Level, yield, asked, does)
	if p.Known = err == nil; !p.Known {
		p.Why = Few
	}
}

// priorCuts and priorUnevenness stand for what is known of a plant's cuts before there are any: as much as so many cuts that
// differ by half of what they give (our choices).
const priorCuts, priorUnevenness = 4, 0.25

// usualUnevenness is how much the cuts of a plant differ in this journal.
func usualUnevenness(ps []*Place) float64 {
	sum, n := priorCuts*priorUnevenness, float64(priorCuts)
	for _, p := range ps {
		if k := float64(p.Yield.Cuts - 1); k >= 1 {
			sum, n = sum+k*p.Yield.Unevenness, n+k
		}
	}
	return sum / n
}

// free are the degrees of freedom of how uneven its cuts are: their own and those of what is usual.
func (r Rate) free() float64 { return float64(max(r.Cuts, 1) - 1 + priorCuts) }

// variance is that of the logarithm of the yield: of its cuts, drawn toward what is usual, over their number.
func (r Rate) variance(usual float64) float64 {
	k := float64(max(r.Cuts, 1))
	return min(((k-1)*r.Unevenness+priorCuts*usual)/r.free()/k, 1)
}

// logVar is the variance of the logarithm of a share that is known by a tally and a prior: ψ₁(a) − ψ₁(a + b) of its beta.
func logVar(p reckon.Prior, t reckon.Tally) float64 {
	a, n := float64(t.Yes)+p.A, float64(t.Of)+p.A+p.B
	return mathext.Zeta(2, a) - mathext.Zeta(2, n)
}

func knownOf(ps []*Place) []*Place {
	return slices.DeleteFunc(slices.Clone(ps), func(p *Place) bool { return !p.Known })
}

// spreads are by how much the yields of places may truly differ: standard deviations of their logarithms from 0.05 to 2.5; and
// usualSpread that of the half-normal distribution which is held of them before (Röver et al. 2021, Research Synthesis Methods
// 12:448–474; the figure is our choice: a third of all plants give more than twice as much as others, or less than half).
const spreads, spreadStep, usualSpread = 50, 0.05, 1

// shrink draws the logarithms of the yields toward each other, as far as chance explains how they differ. By how much they do
// is known badly from a few places, so it is integrated out (Gelman et al. 2013, Bayesian Data Analysis, section 5.4): where none
// seem to differ, that is not certain either. The shares are drawn toward those of the journal already.
func shrink(ps []*Place) {
	known := knownOf(ps)
	log := func(p *Place) float64 { return math.Log(p.Yield.Weekly()) }
	var at, precision, weight [spreads]float64 // of the mean of all places, for each spread
	top := math.Inf(-1)
	for i := range at {
		spread := spreadStep * float64(i+1)
		sum, squares := 0.0, 0.0
		for _, p := range known {
			k := 1 / (p.ownVar + spread*spread)
			at[i], precision[i] = at[i]+k*log(p), precision[i]+k
			sum, squares = sum+math.Log(k)/2, squares+k*log(p)*log(p)
		}
		at[i] /= precision[i]
		weight[i] = sum - math.Log(precision[i])/2 - (squares-precision[i]*at[i]*at[i])/2 - spread*spread/(2*usualSpread*usualSpread)
		top = max(top, weight[i])
	}
	for _, p := range known {
		var all, mean, square float64
		for i := range at {
			w, between := math.Exp(weight[i]-top), math.Pow(spreadStep*float64(i+1), 2)
			pull := between / (between + p.ownVar)
			here := at[i] + pull*(log(p)-at[i])
			all, mean = all+w, mean+w*here
			square += w * (here*here + pull*p.ownVar + (1-pull)*(1-pull)/precision[i])
		}
		mean, square = mean/all, square/all
		z := reckon.NormalQuantile((1 + Level) / 2)
		// how uneven cuts are is known from few of them, so that the yield is as uncertain as Student's t makes it
		p.scoreVar = (square - mean*mean) * math.Pow(reckon.StudentQuantile(p.Yield.free(), (1+Level)/2)/z, 2)
		value, half := p.Product.Value*math.Exp(mean-log(p)), z*math.Sqrt(p.scoreVar+p.plantVar)
		p.Score = reckon.Interval{Value: value, Low: value * math.Exp(-half), High: value * math.Exp(half), Level: Level}
	}
}

// draw is a score that the place may have; the plant's luck is a standard normal that all its places share.
func (p *Place) draw(luck float64, r *rand.Rand) float64 {
	return p.Score.Value * math.Exp(math.Sqrt(p.scoreVar)*r.NormFloat64()+math.Sqrt(p.plantVar)*luck)
}

// Twin is a plant that gives surely more in one tank than in another.
type Twin struct {
	Better, Worse *Place
	Times         reckon.Interval // the yield of the one over that of the other
}

// TwinsOf compares the places of each plant. What they share, how many ask for it and how it does for others, is the same in
// both, so that their yields alone are compared. Only those are listed whose interval lies above 1; its level allows for as
// many comparisons as were made, by Bonferroni's inequality: all of them hold together at [Level].
func TwinsOf(ranked []*Place) []Twin {
	var pairs []Twin
	for i, a := range ranked {
		for _, b := range ranked[i+1:] {
			switch {
			case !a.Known || !b.Known || a.Plant != b.Plant:
			case b.Yield.Weekly() > a.Yield.Weekly():
				pairs = append(pairs, Twin{Better: b, Worse: a})
			default:
				pairs = append(pairs, Twin{Better: a, Worse: b})
			}
		}
	}
	var out []Twin
	for _, t := range pairs {
		a, b := t.Better, t.Worse
		far := reckon.StudentQuantile(a.Yield.free()+b.Yield.free()-priorCuts, 1-(1-Level)/2/float64(len(pairs)))
		times, half := a.Yield.Weekly()/b.Yield.Weekly(), far*math.Sqrt(a.ownVar+b.ownVar)
		t.Times = reckon.Interval{Value: times, Low: times * math.Exp(-half), High: times * math.Exp(half), Level: Level}
		if t.Times.Low > 1 {
			out = append(out, t)
		}
	}
	return out
}

// loosest is the most reports that a prior is worth: our choice, by which 95 % intervals of a share held in 92 to 98 % of made-up
// journals, whether plants differed or not.
const loosest = 8

// loose is a prior that is not surer than it can be: how much plants differ is known badly from a few of them, and where they
// seem alike that may be chance. So what is known of one of them rests on its own reports and a few more.
func loose(p reckon.Prior) reckon.Prior {
	if !p.Pooled && p.Weight() <= loosest {
		return p
	}
	fixed, err := reckon.FixedPrior(p.Mean, loosest)
	if err != nil {
		return p
	}
	return fixed
}

// claimsOf counts for each plant the lots that were asked for in time. A lot younger than [ClaimDays] does not count, whatever
// came of it: those that are claimed are known sooner than those that are not. Nor does one that was withheld or has no count or day.
func claimsOf(l *ledger.Ledger) map[string]Claim {
	out := map[string]Claim{}
	for _, lot := range l.Lots {
		asked, end := 0, lot.Ready.Add(ClaimDays)
		if lot.Withheld || lot.Count == 0 || lot.Ready.IsZero() || end.After(l.On) {
			continue
		}
		for _, t := range lot.Takings {
			if t.Takes > 0 && !cmp.Or(t.Parcel.Asked, t.Parcel.Reserved, t.On).After(end) {
				asked += t.Takes
			}
		}
		c := out[lot.Plant]
		c.Tally.Of++
		if 2*asked >= lot.Count {
			c.Tally.Yes++
		}
		out[lot.Plant] = c
	}
	return out
}

func claimPrior(claims map[string]Claim) reckon.Prior {
	var tallies []reckon.Tally
	for _, plant := range slices.Sorted(maps.Keys(claims)) {
		tallies = append(tallies, claims[plant].Tally)
	}
	p, err := reckon.PriorOf(tallies)
	if err != nil { // no lot is old enough: nothing is known, and either is as likely
		p, _ = reckon.FixedPrior(0.5, 2)
	}
	return p
}

// GainOf says what would be gained by giving the ground of the last with a score to the first; ok is false with fewer
// than two.
func GainOf(ranked []*Place) (g Gain, ok bool) {
	known := knownOf(ranked)
	if len(known) < 2 {
		return g, false
	}
	g.First, g.Last = known[0], known[len(known)-1]
	g.Area = g.Last.Yield.Area
	best := g.Area * (g.First.Score.Value - g.Last.Score.Value)
	var err error
	g.Weekly, err = reckon.Propagate(spaceDraws, Level, best, func(r *rand.Rand) float64 {
		luck := r.NormFloat64()
		other := luck
		if g.First.Plant != g.Last.Plant {
			other = r.NormFloat64()
		}
		return g.Area * (g.First.draw(luck, r) - g.Last.draw(other, r))
	})
	g.Chance = g.Weekly.Low <= 0
	return g, err == nil
}
