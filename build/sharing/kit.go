// Package sharing says what became of the plants that were given away: how a species does for others, from hand to hand,
// and what friends offer in turn. It reads the journal by a page's own reader.
package sharing

import (
	"slipleaf/build/almanac"
	"slipleaf/build/facts"
	"slipleaf/build/journal"
	"slipleaf/build/theme"
	"slipleaf/build/words"
)

// Kit is what the pages are filled with.
type Kit struct {
	words.Locale
	Facts     *facts.Reader
	Journal   *journal.Journal // the outline
	Almanac   *almanac.Almanac
	Friends   func() []Friend
	PlantLink func(id string) theme.PlantName // with the link from the page that is filled
	PlantName func(id string) string
	Withheld  func(id string) bool
}
