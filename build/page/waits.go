package page

import (
	"slices"

	"slipleaf/build/journal"
	"slipleaf/build/ledger"
)

// Wait is somebody on the waiting list of a plant. It leads to private parts: pages that are published must not use it.
type Wait struct {
	Parcel *journal.Parcel
	Lot    *ledger.Lot // ready, and this person is next for it; nil: none is
	Count  int         // that it can give them
	Says   string      // what the care sheet would say
	match  int         // how well their tank suits, 0 best
}

// How a verdict ranks where the best match goes first. Nobody is named for a plant that the law or their tank forbids.
var matches = map[string]int{"good-match": 0, "one-change": 1, "cannot-say": 2}

const noMatch = 9

// Waits lists who waits for a plant, by plant, whoever asked first first. For a lot that is ready the first who fits is
// named: the best match where the journal says so, else the oldest.
func (b *Site) Waits() []Wait {
	j := b.facts.Heads()
	var out []Wait
	for _, plant := range j.WaitedFor(b.facts.Day()) {
		first := len(out)
		for _, p := range j.Waiting(plant, b.facts.Day()) {
			out = append(out, Wait{Parcel: p})
		}
		for _, lot := range b.facts.Ledger().LotsOf(plant) {
			if lot.State == ledger.Ready && !lot.Withheld {
				b.next(out[first:], lot)
			}
		}
	}
	return out
}

// next names those who come first for a lot, until its plants are gone.
func (b *Site) next(waits []Wait, lot *ledger.Lot) {
	var order []*Wait
	for i := range waits {
		w := &waits[i]
		if w.Lot != nil {
			continue
		}
		if w.judge(b, lot); w.match != noMatch {
			order = append(order, w)
		}
	}
	if b.Journal.WhoGets == "best-match" {
		slices.SortStableFunc(order, func(x, y *Wait) int { return x.match - y.match })
	}
	left := lot.Left
	for _, w := range order {
		if left <= 0 {
			return
		}
		w.Lot, w.Count = lot, min(max(w.Parcel.Count, 1), left)
		left -= w.Count
	}
}

// judge finds what the care sheet of a lot would say to somebody who waits. First come, first served heeds the law alone.
func (w *Wait) judge(b *Site, lot *ledger.Lot) {
	as := *w.Parcel
	as.Lot, as.Count, as.Reserved = lot.ID, max(as.Count, 1), b.facts.Day()
	look := b.Papers(&as).Outlooks()[0]
	match, known := matches[look.Summary]
	if !known {
		match = noMatch
	}
	if b.Journal.WhoGets == "first-come" && look.Summary != "forbidden" {
		match = 0
	}
	w.match, w.Says = match, look.Sentence
}
