package page

import "slipleaf/build/feed"

// growthJSON is growth.json of a plant: the figures of its page for machines.
func (b *Site) growthJSON(id string) ([]byte, error) {
	e, sent := b.outcomes()[id]
	if !sent {
		return b.Facts.GrowthJSON(id, nil)
	}
	return b.Facts.GrowthJSON(id, feed.ElsewhereOf(e))
}

// growthOutputs lists the machine files beside a plant's page.
func (b *Site) growthOutputs(add adder, id string) {
	add(PlantAddr(id)+"growth.json", b.deps.plant[id], func() ([]byte, error) { return b.growthJSON(id) })
	add(PlantAddr(id)+"growth.csv", b.deps.plant[id], func() ([]byte, error) { return b.Facts.GrowthCSV(id), nil })
}
