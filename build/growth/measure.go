package growth

import (
	"slices"

	"slipleaf/build/journal"
	"slipleaf/build/quantity"
)

// Measure is what a series counts.
type Measure uint8

// The measures, best first. Sizes are in g, cm of stem, plantlets, leaves, dm² covered, stems.
const (
	Mass Measure = iota
	StemLength
	Plantlets
	Leaves
	Cover
	Stems
)

// String is the measure as files for machines name it.
func (m Measure) String() string {
	return [...]string{"mass", "stem-length", "plantlets", "leaves", "cover", "stems"}[min(m, Stems)]
}

// Unit is the unit of sizes, in the spelling of the journal format; things that are counted are their own unit.
func (m Measure) Unit() string {
	return [...]string{"g", "cm", "plantlets", "leaves", "dm2", "stems"}[min(m, Stems)]
}

// Counted reports whether sizes are whole numbers of things.
func (m Measure) Counted() bool { return m == Plantlets || m == Leaves || m == Stems }

// size gives an amount in the measure. Length is used where the amount gives none, area where a cover has none of its
// own. ok is false when the amount does not tell.
func (m Measure) size(a journal.Amount, own quantity.Reading[quantity.Area], length float64, area float64) (size float64, ok bool) {
	switch m {
	case Mass:
		return float64(a.Mass.Mid()), a.Mass.Known()
	case StemLength:
		if a.Length.Known() {
			length = float64(a.Length.Mid())
		}
		if a.Stems == nil || length <= 0 && *a.Stems > 0 {
			return 0, false
		}
		return float64(*a.Stems) * length, true
	case Cover:
		if own.Known() {
			area = float64(own.Mid())
		}
		return float64(a.Cover.Mid()) * area, a.Cover.Known() && area > 0
	}
	n := a.Stems
	switch m {
	case Plantlets:
		n = a.Plantlets
	case Leaves:
		n = a.Leaves
	}
	if n == nil {
		return 0, false
	}
	return float64(*n), true
}

// given lists the measures in which a count tells how much there is, best first.
func given(e event, floor float64) []Measure {
	var out []Measure
	for m := Mass; m <= Stems; m++ {
		if _, ok := m.size(e.amount, e.area, 0, floor); ok {
			out = append(out, m)
		}
	}
	return out
}

// shared keeps those of a that b has too.
func shared(a, b []Measure) []Measure {
	return slices.DeleteFunc(slices.Clone(a), func(m Measure) bool { return !slices.Contains(b, m) })
}
