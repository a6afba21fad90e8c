package page

import (
	"html/template"
	"slices"
	"sync"

	"slipleaf/build/draw"
	"slipleaf/build/facts"
	"slipleaf/build/journal"
	"slipleaf/build/prose"
	"slipleaf/build/sharing"
	"slipleaf/build/sheet"
	"slipleaf/build/words"
)

// memo is what many pages ask of one tank or parcel, each worked out when first asked for and then kept: a plant's page
// asks every tank what is in it, and a parcel has up to four files. Nothing of it may depend on OnDisk, of which a copy of the site may differ.
type memo struct {
	standing byKey[*journal.Tank, []journal.Stand]
	values   byKey[*journal.Tank, map[string]tankValue]
	sheets   byKey[*journal.Parcel, sheet.Sheet]
	sprigs   byKey[string, template.HTML] // by plant id
	texts    byKey[*journal.Entry, prose.Document]
	drawings byKey[string, draw.Care]          // of care sheets
	codes    byKey[[2]string, template.HTML]   // by text and name
	gathered byKey[struct{}, []sharing.Friend] // the files of friends, read
}

// byKey holds what was worked out for each key, with what was read for it: whoever uses it has read that too. The zero
// byKey is empty; it is safe for concurrent use.
type byKey[K comparable, V any] struct{ all sync.Map }

// found is a value with what was read for it.
type found[V any] struct {
	value V
	read  []facts.Key
}

// of is the value of a key for the page that b makes. Find works it out when it is first asked for, and reads by the site
// that it is given.
func (k *byKey[K, V]) of(b *Site, key K, find func(b *Site) V) V {
	f := k.find(b, key, find)
	b.facts.Note(f.read)
	return f.value
}

// find is of for a page that notes itself what it uses of the value.
func (k *byKey[K, V]) find(b *Site, key K, find func(b *Site) V) found[V] {
	known, ok := k.all.Load(key)
	if !ok {
		known, _ = k.all.LoadOrStore(key, sync.OnceValue(func() found[V] {
			own := b.reading()
			value := find(own)
			return found[V]{value, own.facts.Noted()}
		}))
	}
	return known.(func() found[V])()
}

// sprigOf is a plant's drawing for labels.
func (b *Site) sprigOf(id string) template.HTML {
	return b.memo.sprigs.of(b, id, func(b *Site) template.HTML { return Sprig(b.facts.Species(id)) })
}

// standing lists what was last counted in a tank, by plant id, leaving out what was counted as none or has left since.
func (b *Site) standing(t *journal.Tank) []journal.Stand {
	// The drawing puts it in an order of its own.
	return slices.Clone(b.memo.standing.of(b, t, func(b *Site) []journal.Stand { return b.findStanding(t) }))
}

// valuesOf are a tank's last readings of each parameter, in the units of v.
func (b *Site) valuesOf(v words.Locale, t *journal.Tank) map[string]tankValue {
	if v.Units != b.Journal.Units {
		return b.findValues(v, t)
	}
	return b.memo.values.of(b, t, func(b *Site) map[string]tankValue { return b.findValues(b.Locale(), t) })
}

// sheetOf is the sheet of a parcel. It is shared: read it only.
func (b *Site) sheetOf(p *journal.Parcel) sheet.Sheet {
	return b.memo.sheets.of(b, p, func(b *Site) sheet.Sheet { return b.findSheet(p) })
}
