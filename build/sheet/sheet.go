// Package sheet works out a care sheet: one parcel, its lot and species, the water that it grew in and the tank that it
// goes into, turned into what will suit it, what to change, what to do on which day and what to expect. It holds figures
// and keys, no sentences: pages find the words. It is pure.
package sheet

import (
	"strings"

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
	// Others is how the species did for others with water like theirs; nil when none was sent there.
	Others *ledger.OutcomeCounts
	// Quarantine is how long the giver asks to keep plants apart, in days; 0: 14.
	Quarantine int
}

// Sheet is a care sheet in figures.
type Sheet struct {
	Case
	Kind      Kind // of plant, as far as handling goes
	Verdicts  []Verdict
	Summary   Summary
	Reasons   []Verdict // what weighs against it, the heaviest first
	Change    Change    // the one change; zero when there is none
	Brackish  bool      // the water is too salty for any plant of this almanac
	Forbidden bool      // a list that was read forbids the plant where they live

	Step  Step
	Light Light
	Melt  Melt
	Place Place
	Trim  Trim
	Water WaterPlan
	CO2   CO2Plan
	Tabs  Tabs
	Hours []HourStep
	Days  []CheckDay

	Quarantine int // days
	Day0       quantity.Date
	// Guessed says that Day0 is the sending day and two days of post, since nobody has told of its arrival.
	Guessed bool
	Unknown []string // what is not known: parameters and tank, volume, substrate, light, growth, region, day
}

// New works a sheet out. Nothing of it fails: what cannot be reckoned is named in Unknown.
func New(c Case) Sheet {
	s := Sheet{Case: c, Kind: KindOf(c.Species), Quarantine: c.Quarantine}
	if s.Quarantine <= 0 {
		s.Quarantine = 14
	}
	s.Light = lightOf(c)
	s.Place = s.place()
	s.Step = stepOf(c, s.Light)
	f := Fit(fitting(c, s))
	s.Verdicts, s.Summary, s.Reasons, s.Change, s.Brackish = f.Verdicts, f.Summary, f.Reasons, f.Change, f.Brackish
	for _, n := range c.Notices {
		s.Forbidden = s.Forbidden || c.Parcel.Region != "" && n.Firm()
	}
	s.Melt = meltOf(c, s.Kind, s.Step)
	s.arrival()
	s.Water = s.waterPlan()
	s.CO2 = s.co2Plan()
	s.Tabs = s.tabs()
	s.Trim = s.trim()
	s.Hours = s.hours()
	s.Days = s.days()
	s.Unknown = s.unknown()
	return s
}

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
		s.Day0, s.Guessed = p.Sent.Add(postDays), true
	default:
		s.Day0 = p.Sent
	}
}

const postDays = 2

// unknown names what nobody knows, parameters first.
func (s *Sheet) unknown() []string {
	var out []string
	for _, v := range s.Verdicts {
		if v.Outcome == NotKnown {
			out = append(out, string(v.Parameter))
		}
	}
	t := s.Parcel.Tank
	add := func(name string, missing bool) {
		if missing {
			out = append(out, name)
		}
	}
	add("tank", t == nil || !t.Inside.Length.Known() || !t.Inside.Width.Known())
	add("volume", s.Water.Volume.Best == 0)
	add("substrate", t == nil || len(t.Substrate) == 0)
	add("region", s.Parcel.Region == "")
	add("growth", s.From.Growth.N == 0)
	add("day", s.Day0.IsZero())
	return out
}

// Misses tells whether the named thing is unknown.
func (s *Sheet) Misses(name string) bool {
	for _, u := range s.Unknown {
		if u == name {
			return true
		}
	}
	return false
}

// Kind is how a plant is handled: its habit, with ferns and crypts put where their handling belongs.
type Kind string

// The kinds.
const (
	Stem     Kind = "stem"
	Rosette  Kind = "rosette"
	Crypt    Kind = "crypt"
	Rhizome  Kind = "rhizome"
	Carpet   Kind = "carpet"
	Moss     Kind = "moss"
	Floating Kind = "floating"
	Bulb     Kind = "bulb"
	AnyPlant Kind = "any" // habit not known
)

// KindOf puts a species into a kind. A fern on wood or stone is handled as a rhizome, any other as a rosette.
func KindOf(s almanac.Species) Kind {
	switch s.Habit {
	case "rosette":
		if strings.HasPrefix(s.Taxon, "Cryptocoryne") {
			return Crypt
		}
		return Rosette
	case "fern":
		if s.Placement == "hardscape" {
			return Rhizome
		}
		return Rosette
	case "stem", "rhizome", "carpet", "moss", "floating", "bulb":
		return Kind(s.Habit)
	}
	return AnyPlant
}

// Rooted tells whether the kind stands in the ground.
func (k Kind) Rooted() bool {
	return k == Stem || k == Rosette || k == Crypt || k == Carpet || k == Bulb || k == AnyPlant
}
