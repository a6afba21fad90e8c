// Package sheet works out a care sheet: one parcel, its lot and species, the water that it grew in and the tank that it
// goes into, turned into what will suit it, what to change, what to do on which day and what to expect. It holds figures
// and keys, no sentences: pages find the words. It is pure.
package sheet

import (
	"slices"

	"slipleaf/build/almanac"
	"slipleaf/build/journal"
	"slipleaf/build/ledger"
	"slipleaf/build/quantity"
	"slipleaf/build/reckon"
)

// Growth is how fast the plant grows for its giver: the relative growth rate per day with its 95 % interval, and how many
// counts stand behind it. The zero Growth says that nobody knows.
type Growth struct {
	Low, Best, High float64
	N               int
}

// Giver is where the plant comes from, on the day on which it was sent.
type Giver struct {
	Tank  string             // its name
	Water journal.Parameters // the latest reading of each parameter by that day
	On    quantity.Date      // of the newest of them
	CO2   journal.Tristate
	Light reckon.Range[quantity.PhotonFlux] // at the substrate; zero when not known
	// LightHours is the longest day of its lamps; 0: not known.
	LightHours float64
	Growth     Growth
}

// Case is everything that a sheet is made from.
type Case struct {
	Parcel  *journal.Parcel
	Lot     *journal.Lot
	Grown   string // submersed | emersed | culture | mixed: the lot's own word or its tank's
	Species almanac.Species
	From    Giver
	// Notices are the rows that name the species where the recipient lives; where that is not known, those of every
	// jurisdiction. Lists is the day on which they were looked up.
	Notices []almanac.Notice
	Lists   quantity.Date
	// Looked are rows of the lists that were looked at for where they live, one of each, and OwnList says that the place's own
	// is among them.
	Looked []almanac.Notice
	// Coverage says how much of the law there was read, and whom to ask.
	Coverage []almanac.Coverage
	OwnList  bool
	// Borders are the rules for plants in the post from the giver to them.
	Borders []almanac.Border
	// Others is how the species did for others with water like theirs; nil when none was sent there.
	Others *ledger.OutcomeCounts
	// Quarantine is how long the giver asks to keep plants apart, in days; 0: 14.
	Quarantine int
}

// Sheet is a care sheet in figures.
type Sheet struct {
	Case
	Kind      Kind // of plant, as far as handling goes
	Verdicts  Verdicts
	Summary   Summary
	Reasons   []Verdict // what weighs against it, the heaviest first
	Change    Change    // the one change; zero when there is none
	Brackish  bool      // the water is too salty for it
	NeverCame bool      // it was lost in the post
	Forbidden bool      // a list that was read forbids the plant where they live

	Packing Packing
	Pests   bool // some were seen
	Copper  bool // it was used on the plant
	Animals Animals
	Slow    *Slow // how to bring it over; nil: straight into its place
	Tasks   []Task

	Step    Step
	Light   Light
	Melt    Melt
	Place   Place
	Trim    Trim
	Water   WaterPlan
	CO2     CO2Plan
	Tabs    Tabs
	Hours   []HourStep // empty: as their lamp has been
	Days    []CheckDay
	Breaker Breaker

	Quarantine int // days
	Day0       quantity.Date
	Unknown    []Gap
}

// New works a sheet out. Nothing of it fails: what cannot be worked out is named in Unknown.
func New(c Case) Sheet {
	s := Sheet{Case: c, Kind: Kind(c.Species.Kind), Quarantine: c.Quarantine, Packing: c.packing(), Breaker: BreakerIn(c.Parcel.Region)}
	if s.Quarantine <= 0 {
		s.Quarantine = 14
	}
	if c.Parcel.Tank != nil {
		s.Animals = animalsOf(c.Parcel.Tank.Livestock)
	}
	s.Pests, s.Copper = PestsSeen(c.Lot.Pests), copperUsed(c.Lot.Copper)
	s.NeverCame = c.Parcel.Lost(quantity.Date{})
	s.Light = lightOf(c)
	s.Place = s.place()
	s.Step = stepOf(c, s.Light, s.Place.Row)
	f := Fit(fitting(c, s))
	s.Verdicts, s.Summary, s.Reasons, s.Change, s.Brackish = f.Verdicts, f.Summary, f.Reasons, f.Change, f.Brackish
	s.Forbidden = c.Parcel.Region != "" && slices.ContainsFunc(c.Notices, almanac.Notice.Firm)
	s.Melt = meltOf(c, s.Kind, s.Step)
	s.arrival()
	s.Water = s.waterPlan()
	s.CO2 = s.co2Plan()
	s.Tabs = s.tabs()
	s.Hours = s.hours()
	s.Trim = s.trim()
	s.Slow = s.slow()
	s.Tasks = s.tasks()
	if s.Planted() {
		s.Days = s.days()
	}
	s.Unknown = s.unknown()
	return s
}

// Planted reports whether the plant goes into their tank: not where it would not live, where a list forbids it, or
// where it never came.
func (s *Sheet) Planted() bool { return !s.Forbidden && s.Summary != PoorMatch && !s.NeverCame }

// ReadWhole reports whether every list that is known to hold where they live was read whole: only then is not being on one
// worth saying.
func (s *Sheet) ReadWhole() bool {
	part := func(c almanac.Coverage) bool { return c.Held != "whole" }
	return len(s.Coverage) > 0 && !slices.ContainsFunc(s.Coverage, part)
}

// NoProfile reports whether nobody knows what the plant tolerates in temperature and hardness: then their measuring would tell
// nothing, and the step from the giver's water is all that there is to go by.
func (s *Sheet) NoProfile() bool {
	return s.Verdicts.Of(Temperature).NoBand && s.Verdicts.Of(GH).NoBand && s.Verdicts.Of(KH).NoBand
}

// Evidence is how it did for others in such water, from three results on; Against says that at least half of them were
// lost, which a verdict must not pass over.
func (s *Sheet) Evidence() (f ledger.OutcomeCounts, ok, against bool) {
	if s.Others == nil || s.Others.Results() < leastEvidence {
		return ledger.OutcomeCounts{}, false, false
	}
	return *s.Others, true, 2*s.Others.Lost >= s.Others.Results()
}

const leastEvidence = 3 // results: fewer are counts without a meaning (our choice)

// arrival finds day 0: the day on which arrival was reported, the sending day of plants given by hand, or two days after
// posting (one to two days are usual, and the day of posting does not count: common practice).
func (s *Sheet) arrival() {
	p := s.Parcel
	for _, r := range p.Reports {
		if r.Outcome == "arrived" && !r.Date.IsZero() {
			s.Day0 = r.Date
			return
		}
	}
	switch {
	case p.Sent.IsZero():
	case p.How == "post":
		s.Day0 = p.Sent.Add(postDays)
	default:
		s.Day0 = p.Sent
	}
}

const postDays = 2

// Gap is something that is not known: a parameter, or one of these.
type Gap string

// The gaps.
const (
	NoTank      Gap = "tank" // its length and width
	NoVolume    Gap = "volume"
	NoSubstrate Gap = "substrate"
	NoRegion    Gap = "region"
	NoGrowth    Gap = "growth"
	NoDay       Gap = "day"
)

// unknown names what nobody knows, parameters first.
func (s *Sheet) unknown() []Gap {
	var out []Gap
	for _, v := range s.Verdicts {
		if v.Outcome == NotKnown {
			out = append(out, Gap(v.Parameter))
		}
	}
	t := s.Parcel.Tank
	for _, g := range []struct {
		gap     Gap
		missing bool
	}{
		{NoTank, t == nil || !t.Inside.Length.Known() || !t.Inside.Width.Known()}, {NoVolume, s.Water.Volume.Best == 0}, {NoSubstrate, t == nil || len(t.Substrate) == 0},
		{NoRegion, s.Parcel.Region == ""}, {NoGrowth, s.From.Growth.N == 0}, {NoDay, s.Day0.IsZero()},
	} {
		if g.missing {
			out = append(out, g.gap)
		}
	}
	return out
}

// Misses reports whether something is unknown.
func (s *Sheet) Misses(g Gap) bool { return slices.Contains(s.Unknown, g) }
