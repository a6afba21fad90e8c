package page

import "slipleaf/build/feed"

// growthJSON is growth.json of a plant: the figures of its page for machines.
func (b *Site) growthJSON(id string) ([]byte, error) {
	e, sent := b.facts.Outcomes(id)
	if !sent {
		return b.facts.GrowthJSON(id, nil)
	}
	return b.facts.GrowthJSON(id, feed.ElsewhereOf(e))
}

// growthOutputs lists the machine files beside a plant's page.
func (b *Site) growthOutputs(add adder, id string) {
	add(PlantAddr(id)+"growth.json", func(b *Site) ([]byte, error) { return b.growthJSON(id) })
	add(PlantAddr(id)+"growth.csv", func(b *Site) ([]byte, error) { return b.facts.GrowthCSV(id), nil })
}
