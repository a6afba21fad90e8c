package ledger

import (
	"slices"

	"slipleaf/build/journal"
	"slipleaf/build/quantity"
	"slipleaf/build/reckon"
)

// WaterClass is how hard a recipient's water is, by its alkalinity.
type WaterClass uint8

// The classes: soft is under 4 dKH, medium under 8, hard from there on (common practice in keepers' lists: 4 to 7 is
// called medium and 8 to 14 hard). AnyWater is all parcels together, those of unsaid water too.
const (
	AnyWater WaterClass = iota
	Soft
	Medium
	Hard
	UnsaidWater
)

// String is the class in one word.
func (w WaterClass) String() string {
	return [...]string{"any", "soft", "medium", "hard", "unsaid"}[min(w, UnsaidWater)]
}

// ClassOf is the class of a water by its alkalinity; UnsaidWater where that is not known.
func ClassOf(kh quantity.Reading[quantity.Alkalinity]) WaterClass {
	const slack = 1e-6 // 4 dKH written in other units is still 4 dKH
	switch d := kh.Mid().DKH(); {
	case !kh.Known():
		return UnsaidWater
	case d < 4-slack:
		return Soft
	case d < 8-slack:
		return Medium
	}
	return Hard
}

// Say is how much may be said about a share.
type Say uint8

// The steps: under five verdicts counts alone, from five on the interval too, from ten on the percentage as well.
const (
	TooFew Say = iota
	CountsAndInterval
	Percent
)

// The numbers of verdicts at which more is said, and the share of parcels that must have been heard of for silence not
// to be shown as a doubt of its own (our choices).
const (
	fewestVerdicts  = 5
	percentVerdicts = 10
	heardEnough     = 0.7
)

// Level is that of every interval about how plants do elsewhere.
const Level quantity.Share = 0.95

// Fare is how the parcels of one kind of water fared.
type Fare struct {
	Water       WaterClass
	Sent        int // parcels
	Plants      int // in them
	Heard       int // parcels with a report
	Established int // verdicts: established, trimmed or passed on
	Lost        int // verdicts: none alive
	PassedOn    int // of the established: passed on again

	Say Say
	// Share is the established among the verdicts with Wilson's interval; zero without verdicts.
	Share reckon.Interval
	// Jeffreys is the same by the quantiles of a beta, as a check.
	Jeffreys reckon.Interval
	// Quiet says that under 70 % were heard of. Least and Most are then the shares if every parcel without a verdict
	// had been lost, and if it had established.
	Quiet       bool
	Least, Most float64
}

// Verdicts counts the parcels that were decided.
func (f Fare) Verdicts() int { return f.Established + f.Lost }

// NoVerdict counts those that were not: silent ones and those on their way.
func (f Fare) NoVerdict() int { return f.Sent - f.Verdicts() }

// Tally is the established among the verdicts.
func (f Fare) Tally() reckon.Tally { return reckon.Tally{Yes: f.Established, Of: f.Verdicts()} }

// Elsewhere is how one species does for others.
type Elsewhere struct {
	Plant string
	All   Fare
	// ByWater holds the classes that have parcels, soft first, unsaid last.
	ByWater []Fare

	// Sooner is the share established by each day after sending, losses competing and silence censored at the last
	// report (Aalen & Johansen 1978); Timed tells whether there was any parcel to follow.
	Sooner reckon.Curve
	Timed  bool
	// HalfBy is the first day by which half had established; HalfKnown is false where that has not come.
	HalfBy    quantity.Span
	HalfKnown bool

	// Shrunk is the share drawn toward that of all species of the journal, for sorting; zero where no species has a
	// verdict.
	Shrunk reckon.Interval
}

// Elsewhere gathers how every species that was sent does for others, by plant id. Prior is that of all species
// together; ok is false while no parcel has a verdict.
func (l *Ledger) Elsewhere() (all map[string]Elsewhere, prior reckon.Prior, ok bool) {
	watched := map[string][]watched{}
	for _, p := range l.journal.Parcels {
		lot, known := l.journal.Lot(p.Lot)
		if !known || p.Sent.IsZero() || p.Sent.After(l.On) {
			continue
		}
		watched[lot.Plant] = append(watched[lot.Plant], watch(p, l.On))
	}
	all = map[string]Elsewhere{}
	var groups []reckon.Tally
	for _, id := range sortedPlants(watched) {
		e := elsewhere(id, watched[id])
		all[id] = e
		groups = append(groups, e.All.Tally())
	}
	prior, err := reckon.PriorOf(groups)
	if err != nil {
		return all, prior, false
	}
	for id, e := range all {
		e.Shrunk, _ = prior.Shrink(e.All.Tally(), Level) // a tally of counts and a prior of PriorOf hold
		all[id] = e
	}
	return all, prior, true
}

func sortedPlants(m map[string][]watched) []string {
	var ids []string
	for id := range m {
		ids = append(ids, id)
	}
	slices.Sort(ids)
	return ids
}

// watched is what became of one parcel.
type watched struct {
	water    WaterClass
	plants   int
	heard    bool
	passedOn bool
	reckon.Watch
}

// watch follows a parcel until its first verdict or its last report.
func watch(p *journal.Parcel, on quantity.Date) watched {
	w := watched{water: ClassOf(p.Water.KH), plants: p.Count}
	reports := slices.Clone(p.Reports)
	slices.SortStableFunc(reports, func(a, b journal.Report) int { return a.Date.Compare(b.Date) })
	for _, r := range reports {
		if r.Date.After(on) || r.Date.Before(p.Sent) {
			continue
		}
		w.heard = true
		w.passedOn = w.passedOn || r.Outcome == "passed-on"
		if w.Fate != reckon.NoNews {
			continue
		}
		w.Days = quantity.Span(r.Date.Since(p.Sent))
		w.Fate = fate(r.Outcome)
	}
	return w
}

// fate is what a report decides. Whoever trims or passes on has an established plant.
func fate(outcome string) reckon.Fate {
	switch outcome {
	case "established", "trimmed", "passed-on":
		return reckon.Established
	case "lost":
		return reckon.Died
	}
	return reckon.NoNews
}

// Verdict is what is known of a parcel: nothing yet, that its plants established, or that they died.
type Verdict uint8

// The verdicts.
const (
	NoVerdict Verdict = iota
	Does
	Died
)

// VerdictOf is the first verdict of a parcel among its reports up to a day.
func VerdictOf(p *journal.Parcel, on quantity.Date) Verdict {
	switch watch(p, on).Fate {
	case reckon.Established:
		return Does
	case reckon.Died:
		return Died
	}
	return NoVerdict
}

// elsewhere sums up the parcels of one species.
func elsewhere(plant string, ws []watched) Elsewhere {
	e := Elsewhere{Plant: plant, All: fare(AnyWater, ws)}
	for _, c := range []WaterClass{Soft, Medium, Hard, UnsaidWater} {
		if f := fare(c, ws); f.Sent > 0 {
			e.ByWater = append(e.ByWater, f)
		}
	}
	watches := make([]reckon.Watch, len(ws))
	for i, w := range ws {
		watches[i] = w.Watch
	}
	if sooner, _, err := reckon.AalenJohansen(watches, Level); err == nil {
		e.Sooner, e.Timed = sooner, true
		e.HalfBy, e.HalfKnown = sooner.Median()
	}
	return e
}

// fare counts the parcels of one class of water.
func fare(class WaterClass, ws []watched) Fare {
	f := Fare{Water: class}
	for _, w := range ws {
		if class != AnyWater && w.water != class {
			continue
		}
		f.Sent++
		f.Plants += w.plants
		f.Heard += one(w.heard)
		f.Established += one(w.Fate == reckon.Established)
		f.Lost += one(w.Fate == reckon.Died)
		f.PassedOn += one(w.passedOn)
	}
	f.judge()
	return f
}

func one(b bool) int {
	if b {
		return 1
	}
	return 0
}

// Without is how all parcels of f but this one fared by a day, as that parcel's own sheet tells it. A parcel that was not
// sent by then, or whose water is of another class, is not among them.
func (f Fare) Without(p *journal.Parcel, on quantity.Date) Fare {
	w := watch(p, on)
	if p.Sent.IsZero() || p.Sent.After(on) || f.Water != AnyWater && f.Water != w.water || f.Sent == 0 {
		return f
	}
	g := Fare{Water: f.Water, Sent: f.Sent - 1, Plants: f.Plants - w.plants, Heard: f.Heard - one(w.heard), PassedOn: f.PassedOn - one(w.passedOn),
		Established: f.Established - one(w.Fate == reckon.Established), Lost: f.Lost - one(w.Fate == reckon.Died)}
	g.judge()
	return g
}

// judge works out the shares and how much of them may be said.
func (f *Fare) judge() {
	if f.Sent > 0 {
		f.Quiet = float64(f.Heard) < heardEnough*float64(f.Sent)
		f.Least = float64(f.Established) / float64(f.Sent)
		f.Most = float64(f.Established+f.NoVerdict()) / float64(f.Sent)
	}
	n := f.Verdicts()
	if n == 0 {
		return
	}
	f.Share, _ = reckon.Wilson(f.Tally(), Level) // counts of at least one hold
	f.Jeffreys, _ = reckon.Jeffreys(f.Tally(), Level)
	switch {
	case n >= percentVerdicts:
		f.Say = Percent
	case n >= fewestVerdicts:
		f.Say = CountsAndInterval
	}
}
