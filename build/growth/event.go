package growth

import (
	"cmp"
	"slices"

	"slipleaf/build/journal"
	"slipleaf/build/quantity"
)

// Kind is what happened to a stand.
type Kind uint8

// The kinds, in the order of a day: a count is before all changes of its day.
const (
	Count Kind = iota
	Trim
	Loss
	Planting
)

// String is the word that growth.csv uses.
func (k Kind) String() string {
	return [...]string{"count", "trim", "loss", "planting"}[min(k, Planting)]
}

// event is one line of the diary about one plant in one tank.
type event struct {
	on       quantity.Date
	kind     Kind
	amount   journal.Amount // of a trim: what was removed
	area     quantity.Reading[quantity.Area]
	cuttings *int // of a trim
	back     int  // of these, planted again in the same place
	length   float64
	by       string // who counted
	all      bool   // a loss of all that is there
}

// nothing reports whether a count found none of the plant.
func (e event) nothing() bool {
	a := e.amount
	for _, n := range []*int{a.Stems, a.Plantlets, a.Leaves} {
		if n != nil && *n > 0 {
			return false
		}
	}
	return e.kind == Count && !(a.Cover.High() > 0) && !(a.Mass.High() > 0)
}

// eventsOf gathers what the entries of a tank, up to a day, say about each plant: by day, counts first, then in the
// order of the entries. Entries may come in any order.
func eventsOf(t *journal.Tank, on quantity.Date) map[string][]event {
	out := map[string][]event{}
	entries := slices.Clone(t.Entries)
	slices.SortStableFunc(entries, func(a, b *journal.Entry) int {
		return cmp.Or(a.Date.Compare(b.Date), cmp.Compare(a.Slug, b.Slug))
	})
	for _, e := range entries {
		if e.Date.After(on) {
			continue
		}
		for _, c := range e.Counts {
			out[c.Plant] = append(out[c.Plant], event{on: e.Date, kind: Count, amount: c.Amount, area: c.Area, by: c.By})
		}
		for _, c := range e.Trims {
			out[c.Plant] = append(out[c.Plant], trimEvent(e, c))
		}
		for _, c := range e.Losses {
			if c.Lot != "" { // stock for giving away has left the tank before
				continue
			}
			out[c.Plant] = append(out[c.Plant], event{on: e.Date, kind: Loss, amount: c.Amount, area: c.Area, all: c.All != ""})
		}
		for _, c := range e.Plantings {
			out[c.Plant] = append(out[c.Plant], event{on: e.Date, kind: Planting, amount: c.Amount, area: c.Area})
		}
	}
	for _, es := range out {
		slices.SortStableFunc(es, func(a, b event) int { return cmp.Or(a.on.Compare(b.on), cmp.Compare(a.kind, b.kind)) })
	}
	return out
}

func trimEvent(e *journal.Entry, c journal.Trim) event {
	t := event{on: e.Date, kind: Trim, amount: c.Removed, cuttings: c.Cuttings, length: float64(c.Length.Mid())}
	if c.Replanted != nil {
		t.back = *c.Replanted
	}
	if c.Length.Known() || c.Cuttings == nil {
		return t
	}
	for _, l := range e.Lots { // cuttings without a length are as long as the lot that was made of them
		if l.Plant == c.Plant && l.Length.Known() {
			t.length = float64(l.Length.Mid())
		}
	}
	return t
}

// change is what an event that is no count adds to the size, in the measure: negative taken out. Length and area are
// those of the nearest count. ok is false when the event does not tell it in this measure.
func (e event) change(m Measure, length, area float64) (amount float64, ok bool) {
	size, ok := m.size(e.amount, e.area, length, area)
	switch {
	case e.kind == Planting:
		return size, ok
	case ok:
		return -size, true
	case e.kind != Trim || e.cuttings == nil:
		return 0, false
	}
	taken := float64(*e.cuttings - e.back)
	switch m {
	case StemLength:
		if e.length > 0 {
			length = e.length
		}
		return -taken * length, length > 0
	case Stems, Plantlets:
		return -taken, true
	}
	return 0, false
}
