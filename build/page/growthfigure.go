package page

import (
	"fmt"
	"html/template"

	"slipleaf/build/journal"
	"slipleaf/build/plot"
)

// growthFigure draws how a plant grows: the series that counts, in one tank or in every one.
func (b *Site) growthFigure(from string, args []string) (template.HTML, error) {
	if len(args) == 0 {
		return "", fmt.Errorf("growth of which plant?")
	}
	plant := args[0]
	if !b.facts.Knows(plant) {
		return "", fmt.Errorf("%q is no plant of this journal", plant)
	}
	return b.tankCharts(args[1:], fmt.Errorf("%s has not been counted there yet, so there is no growth to draw", plant), func(t *journal.Tank) *plot.ChartBlock {
		all := b.facts.GrowthOf(t.ID, plant)
		if len(all) == 0 {
			return nil
		}
		return new(b.plots().GrowthChart(from, all[len(all)-1], len(all)))
	})
}
