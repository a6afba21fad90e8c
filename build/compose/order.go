package compose

import "slices"

// order is that of the readings in the format.
var order = [...]string{"temperature", "ph", "gh", "kh", "conductivity", "light", "lux", "co2", "ammonia", "nitrite", "nitrate",
	"phosphate", "potassium", "calcium", "magnesium", "iron", "oxygen"}

// InOrder sorts readings as the format lists them.
func InOrder(readings []Reading) []Reading {
	slices.SortStableFunc(readings, func(a, b Reading) int { return slices.Index(order[:], a.Key) - slices.Index(order[:], b.Key) })
	return readings
}
