package ledger

import (
	"maps"
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

// MediumFrom and HardFrom are the alkalinities, in dKH, at which the classes begin.
const (
	MediumFrom = 4
	HardFrom   = 8
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
	case d < MediumFrom-slack:
		return Soft
	case d < HardFrom-slack:
		return Medium
	}
	return Hard
}

// Say is how much may be said about a share.
type Say uint8

// The steps: under five results counts alone, from five on the interval too, from ten on the percentage as well.
const (
	TooFew Say = iota
	CountsAndInterval
	Percent
)

// The numbers of results at which more is said, and the share of parcels that must have been heard of for silence not
// to be shown as a doubt of its own (our choices).
const (
	fewestResults  = 5
	percentResults = 10
	heardEnough    = 0.7
)

// Level is that of every interval about how plants do elsewhere.
const Level quantity.Share = 0.95

// OutcomeCounts is how the parcels of one kind of water fared.
type OutcomeCounts struct {
	Water       WaterClass
	Sent        int // parcels
	Plants      int // in them
	Heard       int // parcels with a report
	Established int // results: established, trimmed or passed on
	Lost        int // results: none alive
	PassedOn    int // of the established: passed on again

	Say Say
	// Share is the established among the results with Wilson's interval; zero without results.
	Share reckon.Interval
	// Jeffreys is the same by the quantiles of a beta, as a check.
	Jeffreys reckon.Interval
	// Quiet says that under 70 % were heard of. Least and Most are then the shares if every parcel without a result
	// had been lost, and if it had established.
	Quiet       bool
	Least, Most float64
}

// Results counts the parcels that were decided.
func (f OutcomeCounts) Results() int { return f.Established + f.Lost }

// NoResult counts those that were not: silent ones and those on their way.
func (f OutcomeCounts) NoResult() int { return f.Sent - f.Results() }

// Tally is the established among the results.
func (f OutcomeCounts) Tally() reckon.Tally { return reckon.Tally{Yes: f.Established, Of: f.Results()} }

// Outcomes is how one species does for others.
type Outcomes struct {
	Plant string
	All   OutcomeCounts
	// ByWater holds the classes that have parcels, soft first, unsaid last.
	ByWater []OutcomeCounts

	// CumulativeIncidence is the share established by each day after sending, losses competing and silence censored at the last
	// report (Aalen & Johansen 1978); Timed tells whether there was any parcel to follow.
	CumulativeIncidence reckon.Curve
	Timed               bool
	// Median is the first day by which half had established; MedianKnown is false where that has not come.
	Median      quantity.Span
	MedianKnown bool

	// Posterior is the share drawn toward that of all species of the journal, for sorting; zero where no species has a
	// result.
	Posterior reckon.Interval
}

// Outcomes gathers how every species that was sent does for others, by plant id. Prior is that of all species
// together; ok is false while no parcel has a result.
func (l *Ledger) Outcomes() (all map[string]Outcomes, prior reckon.Prior, ok bool) {
	watched := map[string][]observed{}
	for _, p := range l.journal.Parcels {
		lot, known := l.journal.Lot(p.Lot)
		if !known || p.Sent.IsZero() || p.Sent.After(l.On) {
			continue
		}
		watched[lot.Plant] = append(watched[lot.Plant], observe(p, l.On))
	}
	all = map[string]Outcomes{}
	var groups []reckon.Tally
	for _, id := range slices.Sorted(maps.Keys(watched)) {
		e := outcomesOf(id, watched[id])
		all[id] = e
		groups = append(groups, e.All.Tally())
	}
	prior, err := reckon.PriorOf(groups)
	if err != nil {
		return all, prior, false
	}
	for id, e := range all {
		e.Posterior, _ = prior.Shrink(e.All.Tally(), Level) // a tally of counts and a prior of PriorOf hold
		all[id] = e
	}
	return all, prior, true
}

// observed is what became of one parcel.
type observed struct {
	water    WaterClass
	plants   int
	heard    bool
	passedOn bool
	reckon.Observation
}

// observe follows a parcel until its first result or its last report.
func observe(p *journal.Parcel, on quantity.Date) observed {
	w := observed{water: ClassOf(p.Water.KH), plants: p.Count}
	reports := slices.Clone(p.Reports)
	slices.SortStableFunc(reports, func(a, b journal.Report) int { return a.Date.Compare(b.Date) })
	for _, r := range reports {
		if r.Date.After(on) || r.Date.Before(p.Sent) {
			continue
		}
		w.heard = true
		w.passedOn = w.passedOn || r.Outcome == "passed-on"
		if w.Status != reckon.Censored {
			continue
		}
		w.Days = quantity.Span(r.Date.Since(p.Sent))
		w.Status = statusOf(r.Outcome)
	}
	return w
}

// statusOf is what a report decides. Whoever trims or passes on has an established plant.
func statusOf(outcome string) reckon.Status {
	switch outcome {
	case "established", "trimmed", "passed-on":
		return reckon.Established
	case "lost":
		return reckon.Died
	}
	return reckon.Censored
}

// Result is what is known of a parcel: nothing yet, that its plants established, or that they died.
type Result uint8

// The results.
const (
	NoResult Result = iota
	Established
	Died
)

// ResultOf is the first result of a parcel among its reports up to a day.
func ResultOf(p *journal.Parcel, on quantity.Date) Result {
	switch observe(p, on).Status {
	case reckon.Established:
		return Established
	case reckon.Died:
		return Died
	}
	return NoResult
}

// outcomesOf sums up the parcels of one species.
func outcomesOf(plant string, ws []observed) Outcomes {
	e := Outcomes{Plant: plant, All: countOutcomes(AnyWater, ws)}
	for _, c := range []WaterClass{Soft, Medium, Hard, UnsaidWater} {
		if f := countOutcomes(c, ws); f.Sent > 0 {
			e.ByWater = append(e.ByWater, f)
		}
	}
	watches := make([]reckon.Observation, len(ws))
	for i, w := range ws {
		watches[i] = w.Observation
	}
	if sooner, _, err := reckon.AalenJohansen(watches, Level); err == nil {
		e.CumulativeIncidence, e.Timed = sooner, true
		e.Median, e.MedianKnown = sooner.Median()
	}
	return e
}

// countOutcomes counts the parcels of one class of water.
func countOutcomes(class WaterClass, ws []observed) OutcomeCounts {
	f := OutcomeCounts{Water: class}
	for _, w := range ws {
		if class != AnyWater && w.water != class {
			continue
		}
		f.Sent++
		f.Plants += w.plants
		f.Heard += one(w.heard)
		f.Established += one(w.Status == reckon.Established)
		f.Lost += one(w.Status == reckon.Died)
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
func (f OutcomeCounts) Without(p *journal.Parcel, on quantity.Date) OutcomeCounts {
	w := observe(p, on)
	if p.Sent.IsZero() || p.Sent.After(on) || f.Water != AnyWater && f.Water != w.water || f.Sent == 0 {
		return f
	}
	g := OutcomeCounts{Water: f.Water, Sent: f.Sent - 1, Plants: f.Plants - w.plants, Heard: f.Heard - one(w.heard), PassedOn: f.PassedOn - one(w.passedOn),
		Established: f.Established - one(w.Status == reckon.Established), Lost: f.Lost - one(w.Status == reckon.Died)}
	g.judge()
	return g
}

// judge works out the shares and how much of them may be said.
func (f *OutcomeCounts) judge() {
	if f.Sent > 0 {
		f.Quiet = float64(f.Heard) < heardEnough*float64(f.Sent)
		f.Least = float64(f.Established) / float64(f.Sent)
		f.Most = float64(f.Established+f.NoResult()) / float64(f.Sent)
	}
	n := f.Results()
	if n == 0 {
		return
	}
	f.Share, _ = reckon.Wilson(f.Tally(), Level) // counts of at least one hold
	f.Jeffreys, _ = reckon.Jeffreys(f.Tally(), Level)
	switch {
	case n >= percentResults:
		f.Say = Percent
	case n >= fewestResults:
		f.Say = CountsAndInterval
	}
}
