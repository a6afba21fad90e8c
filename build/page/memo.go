package page

import (
	"html/template"
	"slices"
	"sync"

	"slipleaf/build/journal"
	"slipleaf/build/ledger"
	"slipleaf/build/prose"
	"slipleaf/build/sheet"
	"slipleaf/build/words"
)

// memo is what many pages ask of one tank or parcel, each worked out when first asked for and then kept: a plant's page
// asks every tank what stands in it, and a parcel has up to six papers. Nothing of it may depend on OnDisk, of which a copy of the site may differ.
type memo struct {
	standing byKey[*journal.Tank, []Standing]
	values   byKey[*journal.Tank, map[string]tankValue]
	sheets   byKey[*journal.Parcel, sheet.Sheet]
	sprigs   byKey[string, template.HTML] // by plant id
	texts    byKey[*journal.Entry, outcome[prose.Document]]
	codes    byKey[[2]string, outcome[template.HTML]] // by text and name
	gathered func() ([]fetched, error)                // the files of friends, read
	outcomes func() map[string]ledger.Outcomes
}

// outcome is what was made, or why it could not be.
type outcome[T any] struct {
	made T
	err  error
}

func (b *Site) memoOf() *memo {
	return &memo{gathered: sync.OnceValues(b.readGathered), outcomes: sync.OnceValue(func() map[string]ledger.Outcomes {
		all, _, _ := b.Ledger.Outcomes()
		return all
	})}
}

// byKey holds what was worked out for each key. The zero byKey is empty; it is safe for concurrent use.
type byKey[K comparable, V any] struct{ all sync.Map }

// of is the value of a key, which find works out when it is first asked for.
func (k *byKey[K, V]) of(key K, find func() V) V {
	value, ok := k.all.Load(key)
	if !ok {
		value, _ = k.all.LoadOrStore(key, sync.OnceValue(find))
	}
	return value.(func() V)()
}

// outcomes is how each species that was sent does for others, by plant id.
func (b *Site) outcomes() map[string]ledger.Outcomes { return b.memo.outcomes() }

// sprigOf is a plant's drawing for labels.
func (b *Site) sprigOf(id string) template.HTML {
	return b.memo.sprigs.of(id, func() template.HTML { return sprig(b.species[id]) })
}

// standing lists what was last counted in a tank, by plant id, leaving out what was counted as none or has left since.
func (b *Site) standing(t *journal.Tank) []Standing {
	// The drawing puts it in an order of its own.
	return slices.Clone(b.memo.standing.of(t, func() []Standing { return b.findStanding(t) }))
}

// valuesOf are a tank's last readings of each parameter, in the units of v.
func (b *Site) valuesOf(v words.Locale, t *journal.Tank) map[string]tankValue {
	if v.Units != b.Journal.Units {
		return b.findValues(v, t)
	}
	return b.memo.values.of(t, func() map[string]tankValue { return b.findValues(b.Locale(), t) })
}

// sheetOf is the sheet of a parcel. It is shared: read it only.
func (b *Site) sheetOf(p *journal.Parcel) sheet.Sheet {
	return b.memo.sheets.of(p, func() sheet.Sheet { return b.findSheet(p) })
}
