package page

import (
	"fmt"
	"html/template"
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
	var out []byte
	for _, t := range b.Journal.Tanks {
		all := b.facts.GrowthOf(t.ID, plant)
		if len(args) > 1 && args[1] != t.ID || len(all) == 0 {
			continue
		}
		c, err := b.plots().GrowthChart(from, all[len(all)-1], len(all))
		if err != nil {
			return "", err
		}
		if out, err = b.part(out, "part-chart-block", c); err != nil {
			return "", err
		}
	}
	if len(out) == 0 {
		return "", fmt.Errorf("%s has not been counted there yet, so there is no growth to draw", plant)
	}
	return template.HTML(out), nil
}
