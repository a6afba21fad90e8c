package page

import (
	"html/template"
	"slices"
	"sync"

	"slipleaf/build/journal"
	"slipleaf/build/sheet"
)

// once is what many pages ask of one tank or parcel, each worked out when first asked for and then kept: a plant's page
// asks every tank what stands in it, and a parcel has up to six papers.
type once struct {
	standing map[*journal.Tank]func() []Standing
	values   map[*journal.Tank]func() map[string]tankValue
	sheets   map[*journal.Parcel]func() sheet.Sheet
	sprigs   map[string]func() template.HTML // by plant id
	gathered func() ([]fetched, error)       // the files of friends, read
}

func (b *Book) onceOf(j *journal.Journal) once {
	o := once{map[*journal.Tank]func() []Standing{}, map[*journal.Tank]func() map[string]tankValue{}, map[*journal.Parcel]func() sheet.Sheet{}, map[string]func() template.HTML{}, sync.OnceValues(b.readGathered)}
	for _, t := range j.Tanks {
		o.standing[t] = sync.OnceValue(func() []Standing { return b.findStanding(t) })
		o.values[t] = sync.OnceValue(func() map[string]tankValue { return b.findValues(b.Voice(), t) })
	}
	for _, p := range j.Parcels {
		o.sheets[p] = sync.OnceValue(func() sheet.Sheet { return b.findSheet(p) })
	}
	for id, s := range b.species {
		o.sprigs[id] = sync.OnceValue(func() template.HTML { return sprig(s) })
	}
	return o
}

// sprigOf is a plant's drawing for labels.
func (b *Book) sprigOf(id string) template.HTML {
	if drawn, ok := b.once.sprigs[id]; ok {
		return drawn()
	}
	return sprig(b.species[id])
}

// standing lists what was last counted in a tank, by plant id, leaving out what was counted as none or has left since.
func (b *Book) standing(t *journal.Tank) []Standing {
	if found, ok := b.once.standing[t]; ok {
		return slices.Clone(found()) // the drawing puts it in an order of its own
	}
	return b.findStanding(t)
}

// valuesOf are a tank's last readings of each parameter, in the units of v.
func (b *Book) valuesOf(v Voice, t *journal.Tank) map[string]tankValue {
	if found, ok := b.once.values[t]; ok && v.Units == b.Journal.Units {
		return found()
	}
	return b.findValues(v, t)
}

// sheetOf is the sheet of a parcel. It is shared: read it only.
func (b *Book) sheetOf(p *journal.Parcel) sheet.Sheet {
	if found, ok := b.once.sheets[p]; ok {
		return found()
	}
	return b.findSheet(p)
}
