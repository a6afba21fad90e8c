package ledger

import (
	"maps"
	"slices"
	"strings"

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

// The numbers of results at which more is said, and the share of parcels that must have a result for silence not to be shown
// as a doubt of its own (our choices).
const (
	fewestResults  = 5
	percentResults = 10
	knownEnough    = 0.7
)

// SettleDays is how long after sending a parcel enters the share, whatever its result: plants that die do so within weeks, and
// those that establish are told of later, so that young parcels would make a journal look worse than it is. Eight weeks (our
// choice).
const SettleDays = 56

// lossesReported is how often a loss is reported, for each success that is: the assumption of [OutcomeCounts].Guess (our choice).
const lossesReported = 0.5

// Level is that of every interval about how plants do elsewhere.
const Level quantity.Share = 0.95

// OutcomeCounts is how the parcels of one kind of water fared.
type OutcomeCounts struct {
	Water       WaterClass
	Sent        int // parcels
	Plants      int // in them, and
	Seeds       int
	Heard       int // parcels with a report
	Established int // results: established, trimmed or passed on
	Lost        int // results: none alive
	PassedOn    int // of the established: passed on again

	Settled Settled // the parcels that are old enough to enter the share

	Say Say
	// Share is the established among the results of the settled parcels with Wilson's interval, wider by Effect; zero
	// without results.
	Share reckon.Interval
	// Effect is how many times fewer parcels tell as much, because those of a lot fare alike: 1 where they do not, or where there
	// are too few lots to say.
	Effect float64
	// Quiet says that under 70 % of the settled parcels have a result. Least and Most are then the shares if every silent one
	// had been lost, and if it had established; Guess is the share if a loss is reported half as often as a success.
	Quiet              bool
	Least, Guess, Most float64
}

// Settled are parcels that were sent at least [SettleDays] days ago.
type Settled struct {
	Sent, Established, Lost int

	lots []lotTally // of those with a result, by lot
}

// lotTally is how the parcels of one lot fared.
type lotTally struct {
	lot string
	reckon.Tally
}

// Results counts the settled parcels that were decided.
func (s Settled) Results() int { return s.Established + s.Lost }

// Silent counts those that were not.
func (s Settled) Silent() int { return s.Sent - s.Results() }

// Results counts the parcels that were decided.
func (f OutcomeCounts) Results() int { return f.Established + f.Lost }

// NoResult counts those that were not: silent ones and those on their way.
func (f OutcomeCounts) NoResult() int { return f.Sent - f.Results() }

// Plus counts the parcels of two plants together; it says nothing of shares.
func (f OutcomeCounts) Plus(o OutcomeCounts) OutcomeCounts {
	return OutcomeCounts{Sent: f.Sent + o.Sent, Plants: f.Plants + o.Plants, Seeds: f.Seeds + o.Seeds, Heard: f.Heard + o.Heard, Established: f.Established + o.Established, Lost: f.Lost + o.Lost, PassedOn: f.PassedOn + o.PassedOn}
}

// Tally is the established among the results of settled parcels.
func (f OutcomeCounts) Tally() reckon.Tally {
	return reckon.Tally{Yes: f.Settled.Established, Of: f.Settled.Results()}
}

// Outcomes is how one species does for others.
type Outcomes struct {
	Plant string
	All   OutcomeCounts
	// ByWater holds the classes that have parcels, soft first, unsaid last.
	ByWater []OutcomeCounts

	// CumulativeIncidence is the share established by each day after sending, losses competing and silence censored at the last
	// report (Aalen & Johansen 1978).
	CumulativeIncidence reckon.Curve
	// Median is the first day by which half had established; MedianKnown is false where that has not come.
	Median      quantity.Span
	MedianKnown bool

	Common Common // what the lost had in common
}

// Outcomes gathers how every species that was sent does for others, by plant id. Prior is that of all species
// together; ok is false while no parcel has a result.
func (l *Ledger) Outcomes() (all map[string]Outcomes, prior reckon.Prior, ok bool) {
	watched := map[string][]observed{}
	for _, p := range l.journal.Parcels {
		lot, known := l.journal.Lot(p.Lot)
		if !known || p.Sent.IsZero() || p.Sent.After(l.On) || p.Lost(l.On) { // what never came says nothing of the plant
			continue
		}
		w := observe(p, l.On)
		w.plants, w.seeds = lot.Split(p.Count)
		watched[lot.Plant] = append(watched[lot.Plant], w)
	}
	all = map[string]Outcomes{}
	var groups []reckon.Tally
	for _, id := range slices.Sorted(maps.Keys(watched)) {
		e := outcomesOf(id, watched[id])
		all[id] = e
		groups = append(groups, e.All.Tally())
	}
	prior, err := reckon.PriorOf(groups)
	return all, prior, err == nil
}

// observed is what became of one parcel.
type observed struct {
	parcel   *journal.Parcel
	lot      string
	settled  bool
	water    WaterClass
	plants   int
	seeds    int
	heard    bool
	passedOn bool
	reckon.Observation
}

// observe follows a parcel until its first result or its last report.
func observe(p *journal.Parcel, on quantity.Date) observed {
	w := observed{parcel: p, lot: p.Lot, settled: !p.Sent.IsZero() && on.Since(p.Sent) >= SettleDays, water: ClassOf(p.Water.KH)}
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

// StatusOf is what is known of a parcel: the first result among its reports up to a day.
func StatusOf(p *journal.Parcel, on quantity.Date) reckon.Status { return observe(p, on).Status }

// outcomesOf sums up the parcels of one species.
func outcomesOf(plant string, ws []observed) Outcomes {
	e := Outcomes{Plant: plant, All: countOutcomes(AnyWater, ws), Common: commonOf(ws)}
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
		e.CumulativeIncidence = sooner
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
		f.Seeds += w.seeds
		f.Heard += one(w.heard)
		f.Established += one(w.Status == reckon.Established)
		f.Lost += one(w.Status == reckon.Died)
		f.PassedOn += one(w.passedOn)
		f.Settled.add(w, 1)
	}
	f.judge()
	return f
}

// add counts a parcel that is old enough, or takes it off again (by −1).
func (s *Settled) add(w observed, by int) {
	if !w.settled {
		return
	}
	established, lost := by*one(w.Status == reckon.Established), by*one(w.Status == reckon.Died)
	s.Sent, s.Established, s.Lost = s.Sent+by, s.Established+established, s.Lost+lost
	if established+lost == 0 {
		return
	}
	i, found := slices.BinarySearchFunc(s.lots, w.lot, func(t lotTally, lot string) int { return strings.Compare(t.lot, lot) })
	if !found {
		s.lots = slices.Insert(s.lots, i, lotTally{lot: w.lot})
	}
	s.lots[i].Yes += established
	if s.lots[i].Of += established + lost; s.lots[i].Of == 0 {
		if s.lots = slices.Delete(s.lots, i, i+1); len(s.lots) == 0 {
			s.lots = nil
		}
	}
}

// effect is the design effect of lots: the variance of the share, with the lot as the unit, over that of as many parcels on
// their own (Kish 1965, Survey Sampling, section 5.4; the ratio estimator for lots of unequal size). It is no less than 1.
func (s Settled) effect() float64 {
	const fewestLots = 3
	n, k := float64(s.Results()), float64(len(s.lots))
	p := float64(s.Established) / n
	if k < fewestLots || p == 0 || p == 1 {
		return 1
	}
	sum := 0.0
	for _, l := range s.lots {
		off := float64(l.Yes) - p*float64(l.Of)
		sum += off * off
	}
	return max(1, sum*k/(k-1)*(n-1)/n/(n*p*(1-p)))
}

func one(b bool) int {
	if b {
		return 1
	}
	return 0
}

// Without is how all parcels of f but this one fared by a day, as that parcel's own sheet tells it; what was in them is not counted. A parcel that was not
// sent by then, or whose water is of another class, is not among them.
func (f OutcomeCounts) Without(p *journal.Parcel, on quantity.Date) OutcomeCounts {
	w := observe(p, on)
	if p.Sent.IsZero() || p.Sent.After(on) || p.Lost(on) || f.Water != AnyWater && f.Water != w.water || f.Sent == 0 {
		return f
	}
	g := OutcomeCounts{Water: f.Water, Sent: f.Sent - 1, Heard: f.Heard - one(w.heard), PassedOn: f.PassedOn - one(w.passedOn),
		Established: f.Established - one(w.Status == reckon.Established), Lost: f.Lost - one(w.Status == reckon.Died), Settled: f.Settled}
	g.Settled.lots = slices.Clone(f.Settled.lots)
	g.Settled.add(w, -1)
	g.judge()
	return g
}

// Beside is how the species did for others than the recipient of a parcel, as that parcel's own sheet tells it: for those with
// water like theirs, or for all where too few of those have it; nil where it was sent to nobody else.
func (o Outcomes) Beside(p *journal.Parcel, on quantity.Date) *OutcomeCounts {
	all := o.All.Without(p, on)
	if all.Sent == 0 {
		return nil
	}
	class := ClassOf(p.Water.KH)
	for _, f := range o.ByWater {
		if f.Water == class && class != UnsaidWater {
			if like := f.Without(p, on); like.Results() > 0 {
				return &like
			}
		}
	}
	return &all
}

// judge works out the shares and how much of them may be said.
func (f *OutcomeCounts) judge() {
	s := f.Settled
	if s.Sent > 0 {
		f.Quiet = float64(s.Results()) < knownEnough*float64(s.Sent)
		f.Least = float64(s.Established) / float64(s.Sent)
		f.Most = float64(s.Established+s.Silent()) / float64(s.Sent)
	}
	n := s.Results()
	if n == 0 {
		return
	}
	f.Guess = max(f.Least, float64(s.Established)/(float64(s.Established)+float64(s.Lost)/lossesReported))
	f.Effect = s.effect()
	f.Share, _ = reckon.WilsonOf(f.Tally(), f.Effect, Level) // counts of at least one hold
	switch {
	case n >= percentResults:
		f.Say = Percent
	case n >= fewestResults:
		f.Say = CountsAndInterval
	}
}
