package sheet

import (
	"cmp"
	"strings"

	"slipleaf/build/journal"
	"slipleaf/build/livestock"
	"slipleaf/build/quantity"
	"slipleaf/build/reckon"
)

// Packing is how plants travel.
type Packing string

// The packings.
const (
	Damp Packing = "damp"  // in damp paper or dry: there is no water of its own
	Wet  Packing = "water" // in a bag of water
	Cup  Packing = "cup"   // from tissue culture, on jelly
)

// PackedOf is how a parcel is packed: as its record says, else damp by post and in water by hand (common practice).
func (c Case) packing() Packing {
	switch {
	case c.Grown == "culture":
		return Cup
	case c.Parcel.How == "post":
		return Damp
	}
	return Wet
}

// Task is a thing to do in the first hour.
type Task string

// The tasks.
const (
	OpenPaper    Task = "open-damp"
	OpenCup      Task = "open-culture"
	MixInBowl    Task = "mix"       // an hour in the bag's water, theirs added
	BagWater     Task = "bag-water" // into a bucket, scalded, then away
	RinseFeel    Task = "rinse"
	WashJelly    Task = "rinse-culture"
	PestFork     Task = "tub"        // pests were seen: a tub first, or accept them
	CopperTub    Task = "tub-copper" // copper was used and they keep what dies of it
	GoSlowly     Task = "slowly"     // days in a jar, then plant
	GoWarm       Task = "warm"       // a great change of temperature alone
	PlantIt      Task = "plant"
	KeepInBowl   Task = "bowl"
	PlainBowl    Task = "bowl-plain" // of plain tap water: theirs is brackish
	WriteFirst   Task = "write"
	MeasureFirst Task = "measure"
	AskPost      Task = "post" // it was lost there
	ShutAway     Task = "shut"
	AskAuthority Task = "authority"
	KeepDry      Task = "seeds-dry"
	Sow          Task = "sow"
)

// tasks are the first hour, four at the most, in the order in which they are done.
func (s *Sheet) tasks() []Task {
	switch {
	case s.NeverCame:
		return []Task{AskPost}
	case s.Forbidden:
		return []Task{ShutAway, AskAuthority, WriteFirst}
	case s.Melt.Seed:
		return []Task{KeepDry, Sow}
	}
	out := s.opening()
	switch {
	case s.Brackish && s.Summary == PoorMatch:
		return append(out, PlainBowl, WriteFirst)
	case s.Summary == PoorMatch:
		return append(out, KeepInBowl, WriteFirst)
	case s.Summary == CannotSay && !s.NoProfile():
		return append(out, KeepInBowl, MeasureFirst)
	case s.CopperRisk(): // the tub is for what was seen, too, and its water is changed slowly
		return append(out, CopperTub, PlantIt)
	case s.Pests:
		out = append(out, PestFork)
	}
	switch {
	case s.Slow == nil:
		return append(out, PlantIt)
	case s.Slow.Warm:
		return append(out, GoWarm)
	}
	return append(out, GoSlowly)
}

const (
	harmfulNitrite quantity.Concentration = 0.5 // mg/L: common practice; soft water makes it worse, salt milder
	usualPH        quantity.PH            = 8   // where it is not told: high, since the harm grows with it (our choice)
)

// Foul names what their readings tell of in the water that harms animals: ammonia, nitrite. What is below a test's limit was not
// found.
func (s *Sheet) Foul() []string {
	var out []string
	w := s.Parcel.Water
	ph, t := cmp.Or(w.PH.High(), usualPH), cmp.Or(w.Temperature.High(), 25)
	if a, err := reckon.UnionisedAmmonia(w.Ammonia.High(), ph, t); err == nil && a.AsNH3 > reckon.HarmfulNH3 && !w.Ammonia.Below() {
		out = append(out, "ammonia")
	}
	if w.Nitrite.High() >= harmfulNitrite && !w.Nitrite.Below() {
		out = append(out, "nitrite")
	}
	return out
}

// opening is how the parcel is opened and rinsed.
func (s *Sheet) opening() []Task {
	switch s.Packing {
	case Cup:
		return []Task{OpenCup, WashJelly}
	case Damp:
		return []Task{OpenPaper, RinseFeel}
	}
	medium := s.Step.ByWater() == MediumStep && !s.Step.Once && !s.Pests && !s.CopperRisk() && s.Summary != PoorMatch && (s.Summary != CannotSay || s.NoProfile())
	if medium {
		return []Task{MixInBowl, BagWater, RinseFeel}
	}
	return []Task{BagWater, RinseFeel}
}

// Slow is how a plant is brought over a large change of water: some days in a jar that starts with water of the giver's
// hardness, mixed afresh: what came damp has none of its own, and a bag's is spent.
type Slow struct {
	Warm bool           // it is the temperature alone
	Soft quantity.Share // of rain or demineralised water, the rest theirs; 0: see Salt
	Salt *Raise         // what to add to a jar of [JarVolume], where the giver's water is the harder
}

// JarVolume is the jar that salts are weighed for.
const JarVolume quantity.Volume = 2

// slow finds how to bring it over. A crypt goes straight to its place: it minds a second move more than the first.
func (s *Sheet) slow() *Slow {
	if s.Step.Once || s.Step.ByWater() < LargeStep {
		return nil
	}
	worst := s.Step.Of(KH)
	if gh := s.Step.Of(GH); gh.Class > worst.Class {
		worst = gh
	}
	if worst.Class < MediumStep {
		return &Slow{Warm: true}
	}
	value := properties[worst.Parameter].value
	from, to := value(s.From.Water).Best, value(s.Parcel.Water).Best
	switch {
	case worst.Change > 0:
		return &Slow{Soft: quantity.Share(1 - from/to)}
	case worst.Parameter == GH:
		return &Slow{Salt: raiseGH(to, from, JarVolume)}
	}
	return &Slow{Salt: raiseKH(to, from, JarVolume)}
}

// PestsSeen reports whether a lot's words on pests name any: "none", "none seen" and the like name none.
func PestsSeen(words string) bool {
	for part := range strings.FieldsFuncSeq(strings.ToLower(words), func(r rune) bool { return r == ',' || r == ';' }) {
		first, _, _ := strings.Cut(strings.TrimSpace(part), " ")
		switch strings.Trim(first, ".") {
		case "", "none", "no", "nothing", "keine", "keiner", "nichts", "?":
			continue
		}
		return true
	}
	return false
}

// CopperRisk reports whether copper was used on the plant and they keep what dies of it.
func (s *Sheet) CopperRisk() bool { return s.Copper && s.Animals.Invertebrates }

// copperUsed reports whether a lot's words on copper name a time.
func copperUsed(words string) bool {
	w := strings.ToLower(strings.TrimSpace(words))
	return w != "" && PestsSeen(w) && w != "never" && w != "nie"
}

// Animals is what their livestock means for a plant.
type Animals struct {
	Eat, Dig      []livestock.Animal
	Invertebrates bool // shrimp, snails and others that copper kills
}

func animalsOf(list []journal.Livestock) Animals {
	var a Animals
	for _, l := range list {
		one, _ := livestock.Of(l.Kind, l.Count)
		a.Invertebrates = a.Invertebrates || one.Invertebrate
		if one.Eats {
			a.Eat = append(a.Eat, one)
		}
		if one.Digs {
			a.Dig = append(a.Dig, one)
		}
	}
	return a
}
