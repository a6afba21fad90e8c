package compose

import (
	"slices"

	"slipleaf/build/format"
)

// InOrder sorts readings as the format lists them.
func InOrder(readings []Reading) []Reading {
	m, _ := format.Find("parameters")
	order := m.Names()
	slices.SortStableFunc(readings, func(a, b Reading) int { return slices.Index(order, a.Key) - slices.Index(order, b.Key) })
	return readings
}
