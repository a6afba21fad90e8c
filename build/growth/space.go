package growth

import (
	"cmp"
	"maps"
	"math"
	"math/rand/v2"
	"slices"

	"slipleaf/build/almanac"
	"slipleaf/build/ledger"
	"slipleaf/build/quantity"
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

	Score   reckon.Interval // slips that were asked for and established, per dm² and week
	Working reckon.Working
	Known   bool // there is a score; else Why
	Why     Lack // what is missing
	parts   []reckon.Part
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

// Space ranks what stands in the tanks on a day by what its ground gives, best first; places without a score come last,
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
		p.score(prior, claimPrior(claims), told)
		out = append(out, p)
	}
	slices.SortFunc(out, func(a, b *Place) int {
		if a.Known != b.Known {
			return map[bool]int{true: -1, false: 1}[a.Known]
		}
		return cmp.Or(-cmp.Compare(a.Score.Value, b.Score.Value), cmp.Compare(a.Plant, b.Plant), cmp.Compare(a.Tank, b.Tank))
	})
	return out
}

// score fills the score of a place, or says what it lacks.
func (p *Place) score(established, claimed reckon.Prior, told bool) {
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
	// What one cut gives differs from the next: the spread of a sum of so many cuts, each about as uncertain as its size
	// (our choice; it is the coefficient of variation of an exponential).
	yield, err := reckon.SpreadPart("yield", p.Yield.Weekly(), math.Min(1/math.Sqrt(float64(max(p.Yield.Cuts, 1))), 1))
	if err != nil {
		p.Why = NoSlips
		return
	}
	asked, err1 := reckon.SharePart("claimed", p.Claim.Tally, loose(claimed))
	does, err2 := reckon.SharePart("established", p.Results, loose(established))
	if err1 != nil || err2 != nil {
		p.Why = Few
		return
	}
	p.Established, _ = loose(established).Shrink(p.Results, Level)
	p.Claim.Posterior, _ = loose(claimed).Shrink(p.Claim.Tally, Level)
	p.parts = []reckon.Part{yield, asked, does}
	score, w, err := reckon.Product(spaceDraws, Level, p.parts...)
	if err != nil {
		p.Why = Few
		return
	}
	p.Score, p.Working, p.Known = score, w, true
}

// loose gives a prior that all groups share the weight of four reports: even where plants seem not to differ, what is
// known of one of them is no more certain than its own few reports and those four make it (our choice).
func loose(p reckon.Prior) reckon.Prior {
	if !p.Pooled {
		return p
	}
	fixed, err := reckon.FixedPrior(p.Mean, 4)
	if err != nil {
		return p
	}
	return fixed
}

// claimsOf counts for each plant the lots that were asked for in time. A lot younger than [ClaimDays] counts only once
// it has been claimed; one that was withheld or has no count or day does not count.
func claimsOf(l *ledger.Ledger) map[string]Claim {
	out := map[string]Claim{}
	for _, lot := range l.Lots {
		if lot.Withheld || lot.Count == 0 || lot.Ready.IsZero() || lot.Ready.After(l.On) {
			continue
		}
		asked, end := 0, lot.Ready.Add(ClaimDays)
		for _, t := range lot.Takings {
			if t.Takes > 0 && !askedOn(t.Parcel.Asked, t.Parcel.Reserved, t.On).After(end) {
				asked += t.Takes
			}
		}
		claimed := 2*asked >= lot.Count
		if !claimed && end.After(l.On) {
			continue
		}
		c := out[lot.Plant]
		c.Tally.Of++
		if claimed {
			c.Tally.Yes++
		}
		out[lot.Plant] = c
	}
	return out
}

// askedOn is the first day on which a parcel was asked for, as far as it is written.
func askedOn(asked, reserved, taken quantity.Date) quantity.Date {
	switch {
	case !asked.IsZero():
		return asked
	case !reserved.IsZero():
		return reserved
	}
	return taken
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
	var known []*Place
	for _, p := range ranked {
		if p.Known {
			known = append(known, p)
		}
	}
	if len(known) < 2 {
		return g, false
	}
	g.First, g.Last = known[0], known[len(known)-1]
	g.Area = g.Last.Yield.Area
	best := g.Area * (g.First.Score.Value - g.Last.Score.Value)
	var err error
	g.Weekly, err = reckon.Propagate(spaceDraws, Level, best, func(r *rand.Rand) float64 {
		return g.Area * (drawAll(g.First.parts, r) - drawAll(g.Last.parts, r))
	})
	g.Chance = g.Weekly.Low <= 0
	return g, err == nil
}

func drawAll(parts []reckon.Part, r *rand.Rand) float64 {
	v := 1.0
	for _, p := range parts {
		v *= p.Draw(r)
	}
	return v
}
