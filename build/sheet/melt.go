package sheet

import (
	"strconv"

	"slipleaf/build/quantity"
	"slipleaf/build/reckon"
)

// Melt is what will happen to the old leaves.
type Melt struct {
	Level int // 0 none, 1 a few, 2 many, 3 all or nearly
	Judge int // the day before which nobody should give it up
	// Rest is how long it does not grow first, in days.
	Rest reckon.Range[float64]
	Air  bool // leaves made in air or in culture go first
	Seed bool // seeds have no leaves to lose
}

// meltOf raises the species' own melt by one for leaves made in air or in culture, to many at the least but where they are
// leathery, and by one for a large step.
func meltOf(c Case, k Kind, s Step) Melt {
	m := Melt{Level: melts(c), Judge: k.handling().judge, Air: c.FromAir(), Seed: c.Lot.Form == "seeds"}
	if k.Set() == Afloat || k.Set() == InAir {
		m.Air = false
	}
	if m.Air {
		m.Level++
		if k.Firm() != OnRoot { // whose leathery leaves live on under water for months
			m.Level = max(m.Level, 2)
		}
	}
	if s.Class >= LargeStep {
		m.Level++
	}
	m.Level = min(m.Level, 3)
	m.Rest = [...]reckon.Range[float64]{{Low: 2, Best: 5, High: 10}, {Low: 5, Best: 9, High: 14}, {Low: 8, Best: 14, High: 28}, {Low: 14, Best: 28, High: 49}}[m.Level]
	return m
}

// CheckDay is one of the seven days to look.
type CheckDay struct {
	Day     int
	Date    quantity.Date // zero when day 0 is not known
	Report  []string      // the outcomes that answer it; none on day 3
	Nothing bool          // nothing to tell unless there is an alarm
}

// checkDays are the days after arrival and the words that answer them.
var checkDays = [...]struct {
	day    int
	report []string
}{{0, []string{"arrived"}}, {1, []string{"planted"}}, {3, nil}, {7, []string{"melting"}}, {14, []string{"rooted"}}, {30, []string{"growing"}}, {60, []string{"established", "lost"}}}

// Wait is where a plant stays before it comes into its place.
type Wait string

// The places, and the check day by which it has left them.
const (
	AtOnce Wait = ""
	InJar  Wait = "jar"  // of mixed water, four days: day 7
	InWarm Wait = "warm" // a jar in the room, a day: day 1
	InBowl Wait = "bowl" // until the water is measured, two days at the most: day 3
	InTub  Wait = "tub"  // of copper, two weeks: day 14
)

// Waits is where the plant stays first.
func (s *Sheet) Waits() Wait {
	switch {
	case s.Summary == CannotSay && !s.NoProfile():
		return InBowl
	case s.CopperRisk():
		return InTub
	case s.Slow != nil && s.Slow.Warm:
		return InWarm
	case s.Slow != nil:
		return InJar
	}
	return AtOnce
}

// set is the check day by which it is in its place.
func (w Wait) set() int { return map[Wait]int{InJar: 7, InBowl: 3, InTub: 14}[w] }

// In reports whether it is still there on a check day.
func (w Wait) In(day int) bool { return day < w.set() || w == InWarm && day < 1 }

// days writes the seven days. That it is planted is told on the day by which it is.
func (s *Sheet) days() []CheckDay {
	var out []CheckDay
	set := s.Waits().set()
	for _, c := range checkDays {
		d := CheckDay{Day: c.day, Report: c.report}
		switch {
		case set == 0:
		case c.day == 1:
			d.Report = nil
		case c.day == set:
			d.Report = append([]string{"planted"}, c.report...)
		}
		d.Nothing = d.Report == nil
		if !s.Day0.IsZero() {
			d.Date = s.Day0.Add(c.day)
		}
		out = append(out, d)
	}
	return out
}

// three prints a number to three significant digits for a working.
func three(f float64) string { return strconv.FormatFloat(f, 'g', 3, 64) }

func threeOf(r reckon.Range[float64]) string {
	return three(r.Best) + " (" + three(r.Low) + " to " + three(r.High) + ")"
}
