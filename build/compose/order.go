package compose

import (
	"slices"

	"slipleaf/build/format"
)

// AllReadings are the parameters of the water as the format lists them, which is the order of an entry and of its form.
func AllReadings() []string {
	m, _ := format.Find("parameters")
	return m.Names()
}

// InOrder sorts readings as the format lists them.
func InOrder(readings []Reading) []Reading {
	order := AllReadings()
	slices.SortStableFunc(readings, func(a, b Reading) int { return slices.Index(order, a.Key) - slices.Index(order, b.Key) })
	return readings
}
