// Package almanac is reference data on aquatic plants: profiles with their tolerances,
// names with synonyms, and the lists that regulate species, each row with its source and basis.
package almanac

import (
	"slices"

	"slipleaf/build/quantity"
)

// Profile is what a species tolerates and does. An absent reading or "" means not known. Tolerances are the water in
// which it keeps growing for months, not short survival.
type Profile struct {
	Temperature quantity.Reading[quantity.Temperature]
	PH          quantity.Reading[quantity.PH]
	GH          quantity.Reading[quantity.Hardness]
	KH          quantity.Reading[quantity.Alkalinity]
	Light       quantity.Reading[quantity.PhotonFlux] // lives and slowly grows .. bleaching or algae are usual
	LightGood   quantity.Reading[quantity.PhotonFlux] // grows well and compact
	CO2         string                                // none | helps | needed
	Height      quantity.Reading[quantity.Length]
	Spread      quantity.Reading[quantity.Length]
	Spacing     quantity.Reading[quantity.Length]
	Growth      string // slow | medium | fast | very-fast
	Melts       *int   // 0 none … 3 all leaves
	Feeding     string // water | root | both
	Placement   string // back | middle | front | hardscape | surface
	Habit       string // stem | rosette | rhizome | carpet | floating | moss | bulb | fern
	Propagation string
	Weediness   *int // 0 … 3
}

// columnNames are the keys of a profile, in the order of the format.
var columnNames = [...]string{"temperature", "ph", "gh", "kh", "light", "light-good", "co2", "height", "spread", "spacing",
	"growth", "melts", "feeding", "placement", "habit", "propagation", "weediness"}

// values are the places of a profile's values, in the order of the columns.
func (p *Profile) values() []any {
	return []any{&p.Temperature, &p.PH, &p.GH, &p.KH, &p.Light, &p.LightGood, &p.CO2, &p.Height, &p.Spread, &p.Spacing,
		&p.Growth, &p.Melts, &p.Feeding, &p.Placement, &p.Habit, &p.Propagation, &p.Weediness}
}

// given reports whether a value of a profile is there, which "unknown" is too.
func given(value any) bool {
	switch v := value.(type) {
	case interface{ Written() bool }:
		return v.Written()
	case *string:
		return *v != ""
	}
	return *value.(**int) != nil
}

// Columns names the keys of a profile as the journal format spells them, in its order.
func Columns() []string { return slices.Clone(columnNames[:]) }
