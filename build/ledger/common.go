package ledger

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"slipleaf/build/journal"
	"slipleaf/build/quantity"
	"slipleaf/build/reckon"
)

// Common is what the lost parcels of a species had in common: of the circumstances that differ among its settled parcels, the
// one under which losses were most clearly more frequent.
type Common struct {
	Lost         int    // settled parcels that were lost
	Circumstance string // "" where too few have a result, or nothing differs
	With         reckon.Tally
	Without      reckon.Tally // lost of those with a result, under the circumstance and not
	// More is by how much the share lost is greater under it. Its level allows for as many comparisons as were made, by
	// Bonferroni's inequality: all of them hold together at [Level]. Parcels of a lot that fare alike tell as little here as in a share.
	More   reckon.Interval
	Looked int // circumstances that were compared
	Causes []Cause
}

// Cause is what recipients gave as the reason of a loss, as they wrote it but in small letters. It may name somebody: pages show
// only the reasons that their words know.
type Cause struct {
	Name string
	N    int
}

// fewestLost is how many losses must be there before it is asked what they had in common, and fewestEachWay how many parcels
// with a result must be on each side of a comparison (our choices).
const (
	fewestLost    = 3
	fewestEachWay = 2
)

// circumstances are what a parcel may have met. Holds is false, false where it is not known.
var circumstances = []struct {
	name  string
	holds func(p *journal.Parcel) (yes, known bool)
}{
	{"soft", inWater(Soft)},
	{"hard", inWater(Hard)},
	{"no-co2", func(p *journal.Parcel) (bool, bool) {
		return p.Tank != nil && p.Tank.CO2 == journal.No, p.Tank != nil && p.Tank.CO2 != journal.NotSaid
	}},
	{"cool", func(p *journal.Parcel) (bool, bool) {
		return p.Water.Temperature.Mid() < CoolBelow, p.Water.Temperature.Known()
	}},
	{"warm", func(p *journal.Parcel) (bool, bool) {
		return p.Water.Temperature.Mid() > WarmAbove, p.Water.Temperature.Known()
	}},
	{"poor-soil", poorSoil},
	{"small", smallTank},
	{"post", func(p *journal.Parcel) (bool, bool) { return p.How == "post", p.How != "" }},
	{"slow-post", slowPost},
}

// Where water is cool or warm, a tank small and a parcel slow (our choices; the temperatures are common practice for tropical tanks).
const (
	CoolBelow quantity.Temperature = 22
	WarmAbove quantity.Temperature = 27
	SmallTank quantity.Volume      = 40
	SlowDays                       = 4
)

func inWater(c WaterClass) func(*journal.Parcel) (bool, bool) {
	return func(p *journal.Parcel) (bool, bool) {
		class := ClassOf(p.Water.KH)
		return class == c, class != UnsaidWater
	}
}

func poorSoil(p *journal.Parcel) (yes, known bool) {
	if p.Tank == nil {
		return false, false
	}
	yes = true
	for _, l := range p.Tank.Substrate {
		known = known || l.Nutrients != ""
		yes = yes && l.Nutrients == "none"
	}
	return yes && known, known
}

func smallTank(p *journal.Parcel) (yes, known bool) {
	if p.Tank == nil {
		return false, false
	}
	in := p.Tank.Inside
	if !in.Length.Known() || !in.Width.Known() || !in.Height.Known() {
		return false, false
	}
	return float64(in.Length.Mid()*in.Width.Mid()*in.Height.Mid())/1000 < float64(SmallTank), true
}

func slowPost(p *journal.Parcel) (yes, known bool) {
	for _, r := range p.Reports {
		if r.DaysInPost != nil {
			return *r.DaysInPost >= SlowDays, true
		}
	}
	return false, p.How == "by-hand"
}

// commonOf compares the settled parcels of a species.
func commonOf(ws []observed) Common {
	var c Common
	results := slices.DeleteFunc(slices.Clone(ws), func(w observed) bool { return !w.settled || w.Status == reckon.Censored })
	causes := map[string]int{}
	for _, w := range results {
		if w.Status == reckon.Died {
			c.Lost++
			for _, r := range w.parcel.Reports {
				if r.Outcome == "lost" && r.Cause != "" {
					causes[strings.ToLower(r.Cause)]++
				}
			}
		}
	}
	for name, n := range causes {
		c.Causes = append(c.Causes, Cause{name, n})
	}
	slices.SortFunc(c.Causes, func(a, b Cause) int { return cmp.Or(b.N-a.N, cmp.Compare(a.Name, b.Name)) })
	if c.Lost < fewestLost {
		return c
	}
	var all []Common
	for _, k := range circumstances {
		if with, without := tallies(results, k.holds); min(with.Of, without.Of) >= fewestEachWay {
			all = append(all, Common{Circumstance: k.name, With: with, Without: without})
		}
	}
	var settled Settled
	for _, w := range results {
		settled.add(w, 1)
	}
	c.Looked = len(all)
	least, effect := math.Inf(-1), settled.effect()
	for _, k := range all {
		more, err := reckon.Newcombe(k.With, k.Without, effect, 1-(1-Level)/quantity.Share(len(all)))
		if err == nil && more.Value > 0 && more.Low > least {
			least = more.Low
			c.Circumstance, c.With, c.Without, c.More = k.Circumstance, k.With, k.Without, more
		}
	}
	return c
}

// tallies counts how many were lost of those under a circumstance and of those not.
func tallies(results []observed, holds func(*journal.Parcel) (yes, known bool)) (with, without reckon.Tally) {
	for _, w := range results {
		yes, known := holds(w.parcel)
		switch {
		case yes:
			with.Of++
			with.Yes += one(w.Status == reckon.Died)
		case known:
			without.Of++
			without.Yes += one(w.Status == reckon.Died)
		}
	}
	return with, without
}
