package growth

import (
	"slipleaf/build/journal"
)

// GoalFrom says where the size at which a plant is trimmed comes from.
type GoalFrom uint8

// The sources of a goal, the nearest first.
const (
	NoGoal      GoalFrom = iota
	TankGoal             // trim-when of the tank for this plant
	PlantGoal            // trim-when of the plant's file
	JournalGoal          // trim-when of the journal
	UsualGoal            // the median size before earlier trims
)

// String is the source in a word.
func (g GoalFrom) String() string {
	return [...]string{"none", "tank", "plant", "journal", "usual"}[min(g, UsualGoal)]
}

// goal finds the size at which the stand is trimmed, in the measure of the series.
func goal(j *journal.Journal, s *Series) (size float64, from GoalFrom) {
	if t, ok := j.Tank(s.Tank); ok {
		if size = s.wanted(t.TrimWhen[s.Plant]); size > 0 {
			return size, TankGoal
		}
	}
	if p, ok := j.Plant(s.Plant); ok {
		if size = s.wanted(p.TrimWhen); size > 0 {
			return size, PlantGoal
		}
	}
	if size = s.wanted(j.TrimWhen); size > 0 {
		return size, JournalGoal
	}
	if size, ok := s.sums.UsualTrim(); ok {
		return size, UsualGoal
	}
	return 0, NoGoal
}

// wanted gives a habit of trimming as a size of the series; 0 when it says nothing in this measure. A length of stems is
// multiplied by the stems that stand there now.
func (s *Series) wanted(w journal.TrimWhen) float64 {
	switch s.Measure {
	case Mass:
		return float64(w.Mass.Mid())
	case StemLength:
		if w.TotalLength.Known() {
			return float64(w.TotalLength.Mid())
		}
		return float64(w.StemLength.Mid()) * float64(s.Stems)
	case Plantlets:
		return float64(w.Plantlets)
	case Leaves:
		return float64(w.Leaves)
	case Cover:
		return float64(w.Cover.Mid()) * s.ground()
	}
	return float64(w.Stems)
}

// ground is what a cover is a share of, in dm²: the area of the last count, else the tank's floor.
func (s *Series) ground() float64 {
	if s.Area > 0 {
		return s.Area
	}
	return s.floor
}
