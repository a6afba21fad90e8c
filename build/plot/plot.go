// Package plot draws how plants grow and how the water changes, and says in words what the charts show. It reads the
// journal by a page's own reader.
package plot

import (
	"slipleaf/build/facts"
	"slipleaf/build/journal"
	"slipleaf/build/words"
)

// Kit is what charts are made with.
type Kit struct {
	words.Locale
	Facts               *facts.Reader
	Href                func(from, to string) string
	PlantAddr, TankAddr func(id string) string
	ForecastsAddr       string // the page on how often forecasts hold
	PlantName, TankName func(id string) string
	Standing            func(t *journal.Tank) []string // the plants that grow in a tank
}
