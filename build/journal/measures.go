package journal

import (
	"fmt"
	"maps"
	"slices"
	"strings"
)

// Measure is how much of a plant there is is told.
type Measure uint8

// The measures, best first.
const (
	ByMass Measure = iota
	ByLength
	ByPlantlets
	ByLeaves
	ByCover
	ByStems
	measureCount
)

// String names a measure as complaints do.
func (m Measure) String() string {
	return [...]string{"mass", "stems with length", "plantlets", "leaves", "cover", "stems"}[m]
}

// Measures lists the measures that a gives, best first.
func (a Amount) Measures() []Measure {
	var out []Measure
	for m, has := range [measureCount]bool{a.Mass.Known(), a.Stems != nil && a.Length.Known(), a.Plantlets != nil,
		a.Leaves != nil, a.Cover.Known(), a.Stems != nil} {
		if has {
			out = append(out, Measure(m))
		}
	}
	return out
}

// settled is how many counts in a row by another measure make a deliberate change of it: three, our choice.
const settled = 3

// switched is where the counts of a plant went over to another measure, and how many have been made by it since.
type switched struct {
	entry         *Entry
	index, counts int
	from, to      []Measure
}

// measures warns where the counts of a plant in a tank share no measure: they make no series. A count of no stems, or of
// nothing by any measure, fits every one. A change of measure that is kept up is meant.
func (l *linker) measures(t *Tank) {
	shared := map[string][]Measure{}
	over := map[string]*switched{}
	warned := map[string]bool{}
	warn := func(plant string) {
		if s := over[plant]; s != nil && s.counts < settled && !warned[plant] {
			warned[plant] = true
			l.complain(ruleMixedMeasure, s.entry.Source, fmt.Sprintf("counts[%d].plant", s.index),
				fmt.Sprintf("%s is counted by %s here but by %s before: its growth chart starts afresh here", l.called(plant), words(s.to), words(s.from)),
				fmt.Sprintf("count it by %s throughout; after %d counts by %s that is taken as meant", s.from[0], settled, s.to[0]))
		}
	}
	for _, e := range t.Entries {
		for i := range e.Counts {
			c := &e.Counts[i]
			has := c.Measures()
			if len(has) == 0 || c.Nothing() {
				continue
			}
			before, seen := shared[c.Plant]
			both := slices.DeleteFunc(slices.Clone(before), func(m Measure) bool { return !slices.Contains(has, m) })
			switch {
			case !seen:
				shared[c.Plant] = has
			case len(both) == 0:
				warn(c.Plant)
				shared[c.Plant], over[c.Plant] = has, &switched{e, i, 1, before, has}
			default:
				shared[c.Plant] = both
				if s := over[c.Plant]; s != nil {
					s.counts++
				}
			}
		}
	}
	for _, plant := range slices.Sorted(maps.Keys(over)) {
		warn(plant)
	}
}

// countedTwice warns where one person counted a plant twice on a day: the two make no growth.
func (l *linker) countedTwice(t *Tank) {
	type count struct{ day, plant, by string }
	first := map[count]*Entry{}
	for _, e := range t.Entries {
		for i := range e.Counts {
			c := &e.Counts[i]
			if len(c.Measures()) == 0 { // said already
				continue
			}
			key := count{e.Date.String(), c.Plant, c.By}
			if was := first[key]; was != nil && c.Plant != "" {
				where := "above"
				if was != e {
					where = "in " + was.Path
				}
				l.complain(ruleCountedTwice, e.Source, fmt.Sprintf("counts[%d].plant", i), fmt.Sprintf("%s is counted on %s already, %s", l.called(c.Plant), e.Date, where), "")
				continue
			}
			first[key] = e
		}
	}
}

func words(ms []Measure) string {
	var out []string
	for _, m := range ms {
		out = append(out, m.String())
	}
	return strings.Join(out, " and ")
}
