package page

import (
	"bytes"
	"fmt"
	"slices"
	"sync"

	"slipleaf/build/fingerprint"
	"slipleaf/build/growth"
	"slipleaf/build/journal"
	"slipleaf/build/quantity"
)

// What an output is made from is a small graph. Its leaves are the heads and bodies of files; the nodes between are
// parts of the journal, each with the fingerprint of all that it rests on; an output names the nodes that it reads. Two
// outputs of one address and one fingerprint are the same bytes, so that the older may stand for the newer. A node may
// hold more than an output needs, which only costs time, but never less.
//
//	frame    what every page has: program, theme, day, journal.yaml, the heads of tanks, plants and pages, the photos
//	heads    frame and every head: all that is counted, offered and sent
//	all      heads and every body
//	tank     the heads of a tank's entries; with bodies: those too
//	water    the heads of a tank's entries that read the water, up to a day
//	plant    the tanks that name a plant, its lots and parcels
//	entry    one entry with its neighbours
//	parcel   a parcel with its lot, the water of the day and how the plant grows there
type dependencies struct {
	b                 *Site
	frame, heads, all func() fingerprint.Sum
	tank, withBodies  map[string]func() fingerprint.Sum // by tank id; told is with bodies
	water             map[string]func() []watered
	year              map[int]func() fingerprint.Sum
	plant             map[string]func() fingerprint.Sum // by plant id
	elsewhere         map[string]func() fingerprint.Sum
	naming            func() map[string][]*journal.Tank // the tanks that name a plant, in the journal's order
	neighbours        func() map[*journal.Entry][2]*journal.Entry
	given             func() map[string][]*journal.Parcel // by plant
}

// adder takes an output in.
type adder = func(addr string, from func() fingerprint.Sum, make func() ([]byte, error))

// watered is the fingerprint of a tank's readings up to a day.
type watered struct {
	on    quantity.Date
	print fingerprint.Sum
}

// blend makes one fingerprint of several.
func blend(parts ...fingerprint.Sum) fingerprint.Sum {
	var buf [8 * len(fingerprint.Sum{})]byte
	all := buf[:0]
	for _, p := range parts {
		all = append(all, p[:]...)
	}
	return fingerprint.Of(all)
}

// sum makes one fingerprint of many things as they are found.
type sum struct{ buf bytes.Buffer }

func (s *sum) file(src journal.Source, body bool) {
	s.buf.WriteString(src.Path)
	s.buf.WriteByte(0)
	s.buf.Write(src.HeadSum[:])
	if body {
		s.buf.Write(src.BodySum[:])
	}
}

func (s *sum) add(p fingerprint.Sum) { s.buf.Write(p[:]) }

func (s *sum) print() fingerprint.Sum { return fingerprint.Of(s.buf.Bytes()) }

// dependenciesOf lays the graph out. Nothing is reckoned before it is asked for.
func (b *Site) dependenciesOf(program string) *dependencies {
	r := &dependencies{b: b, tank: map[string]func() fingerprint.Sum{}, withBodies: map[string]func() fingerprint.Sum{}, water: map[string]func() []watered{},
		year: map[int]func() fingerprint.Sum{}, plant: map[string]func() fingerprint.Sum{}, elsewhere: map[string]func() fingerprint.Sum{}}
	r.frame = sync.OnceValue(func() fingerprint.Sum { return b.framePrint(program) })
	r.heads = sync.OnceValue(func() fingerprint.Sum { return b.filesPrint(r.frame(), false) })
	r.all = sync.OnceValue(func() fingerprint.Sum { return b.filesPrint(r.heads(), true) })
	r.naming = sync.OnceValue(b.tanksNaming)
	r.neighbours = sync.OnceValue(b.neighbourhood)
	r.given = sync.OnceValue(b.parcelsOfPlants)
	for _, t := range b.Journal.Tanks {
		r.tank[t.ID] = sync.OnceValue(func() fingerprint.Sum { return entriesPrint(t.Entries, false) })
		r.withBodies[t.ID] = sync.OnceValue(func() fingerprint.Sum { return blend(r.withFigures(t.Source), entriesPrint(t.Entries, true)) })
		r.water[t.ID] = sync.OnceValue(func() []watered { return readingsOf(t) })
	}
	for _, y := range b.diaryYears() {
		r.year[y] = sync.OnceValue(func() fingerprint.Sum { return b.yearPrint(r.frame(), y) })
	}
	for id := range b.species {
		r.elsewhere[id] = sync.OnceValue(func() fingerprint.Sum { return r.farePrint(id) })
		r.plant[id] = sync.OnceValue(func() fingerprint.Sum { return r.plantPrint(id) })
	}
	return r
}

// framePrint is the fingerprint of what every page has.
func (b *Site) framePrint(program string) fingerprint.Sum {
	var s sum
	fmt.Fprintf(&s.buf, "%s\x00%x\x00%v\x00%t\x00%s\x00%s\x00", program, b.Theme.Sum, b.On, b.OnDisk, b.Theme.Styles.Path, b.Theme.Words.Lang)
	s.file(b.Journal.Source, true)
	for _, t := range b.Journal.Tanks {
		s.file(t.Source, false)
	}
	for _, p := range b.Journal.Plants {
		s.file(p.Source, false)
	}
	for _, p := range b.Journal.Pages {
		s.file(p.Source, false)
	}
	for _, f := range b.photoFiles {
		fmt.Fprintf(&s.buf, "%s\x00%d\x00", f.Path, len(f.Data)) // the path holds the hash of the original
	}
	for _, name := range sortedNames(b.photos) {
		fmt.Fprintf(&s.buf, "%s\x00%v\x00", name, b.photos[name])
	}
	return s.print()
}

func sortedNames[V any](m map[string]V) []string {
	out := make([]string, 0, len(m))
	for k := range m {
		out = append(out, k)
	}
	slices.Sort(out)
	return out
}

// filesPrint adds every file to what is known of them.
func (b *Site) filesPrint(known fingerprint.Sum, bodies bool) fingerprint.Sum {
	var s sum
	s.add(known)
	for _, t := range b.Journal.Tanks {
		s.file(t.Source, bodies)
		s.add(entriesPrint(t.Entries, bodies))
	}
	for _, p := range b.Journal.Plants {
		s.file(p.Source, bodies)
	}
	for _, p := range b.Journal.Parcels {
		s.file(p.Source, bodies)
	}
	for _, p := range b.Journal.Pages {
		s.file(p.Source, bodies)
	}
	for _, f := range b.Journal.Gathered {
		s.buf.WriteString(f.Name)
		s.add(fingerprint.Of(f.Data))
	}
	return s.print()
}

func entriesPrint(entries []*journal.Entry, bodies bool) fingerprint.Sum {
	var s sum
	for _, e := range entries {
		s.file(e.Source, bodies)
	}
	return s.print()
}

// yearPrint is of a year's entries and of what the lists of years link to.
func (b *Site) yearPrint(frame fingerprint.Sum, year int) fingerprint.Sum {
	var s sum
	s.add(frame)
	fmt.Fprintf(&s.buf, "%d %v %v", year, b.diaryYears(), growth.Years(b.Journal, b.On))
	for _, e := range b.entries {
		if e.Date.Year == year {
			s.file(e.Source, true)
		}
	}
	return s.print()
}

// readingsOf are a tank's readings of the water, each with all before it.
func readingsOf(t *journal.Tank) []watered {
	var out []watered
	before := fingerprint.Of(nil)
	for _, e := range t.Entries {
		if e.Parameters != (journal.Parameters{}) {
			before = blend(before, e.HeadSum)
			out = append(out, watered{e.Date, before})
		}
	}
	return out
}

// waterBy is the fingerprint of a tank's readings up to a day.
func (r *dependencies) waterBy(tank string, day quantity.Date) fingerprint.Sum {
	find, ok := r.water[tank]
	if !ok {
		return fingerprint.Sum{}
	}
	all := find()
	n, _ := slices.BinarySearchFunc(all, day, func(x watered, day quantity.Date) int {
		if x.on.After(day) {
			return 1
		}
		return -1 // past all of that day
	})
	if n == 0 {
		return fingerprint.Sum{}
	}
	return all[n-1].print
}

// tanksNaming finds the tanks whose entries name each plant.
func (b *Site) tanksNaming() map[string][]*journal.Tank {
	out := map[string][]*journal.Tank{}
	for _, t := range b.Journal.Tanks {
		for _, id := range b.Facts.Named(t.ID) {
			out[id] = append(out[id], t)
		}
	}
	return out
}

// neighbourhood finds the entries before and after each in its tank.
func (b *Site) neighbourhood() map[*journal.Entry][2]*journal.Entry {
	out := make(map[*journal.Entry][2]*journal.Entry, len(b.entries))
	for _, t := range b.Journal.Tanks {
		for i, e := range t.Entries {
			var near [2]*journal.Entry
			if i > 0 {
				near[0] = t.Entries[i-1]
			}
			if i+1 < len(t.Entries) {
				near[1] = t.Entries[i+1]
			}
			out[e] = near
		}
	}
	return out
}

// parcelsOfPlants sorts the parcels by the plant of their lots.
func (b *Site) parcelsOfPlants() map[string][]*journal.Parcel {
	out := map[string][]*journal.Parcel{}
	for _, p := range b.Journal.Parcels {
		if lot, ok := b.Journal.Lot(p.Lot); ok {
			out[lot.Plant] = append(out[lot.Plant], p)
		}
	}
	return out
}

// withFigures is a text and what it may read: one with a fenced figure reads the whole diary.
func (r *dependencies) withFigures(src journal.Source) fingerprint.Sum {
	if bytes.Contains(src.Body, []byte("```")) || bytes.Contains(src.Body, []byte("~~~")) {
		return blend(src.HeadSum, src.BodySum, r.heads())
	}
	return blend(src.HeadSum, src.BodySum)
}

// entry is what the page of an entry reads.
func (r *dependencies) entry(e *journal.Entry) fingerprint.Sum {
	var s sum
	s.add(r.frame())
	s.buf.WriteString(e.Path)
	s.add(r.withFigures(e.Source))
	for _, n := range r.neighbours()[e] {
		if n != nil {
			fmt.Fprintf(&s.buf, "\x00%s\x00%s", n.Path, n.Title)
		}
	}
	for i := range e.Lots {
		s.lot(&e.Lots[i])
	}
	for _, l := range e.Losses {
		if lot, ok := r.b.Journal.Lot(l.Lot); ok {
			fmt.Fprintf(&s.buf, "\x00%s\x00%s", l.Lot, lot.Plant)
		}
	}
	return s.print()
}

// lot adds what the journal as a whole says of a lot, beside its own entry.
func (s *sum) lot(l *journal.Lot) {
	fmt.Fprintf(&s.buf, "\x00%s %s %d %v", l.ID, l.Path, l.Index, l.Announced)
	for _, x := range l.Losses {
		fmt.Fprintf(&s.buf, " %v %d", x.On, x.Count)
	}
}

// farePrint is how a plant did for others, which the parcels of every other plant weigh on too.
func (r *dependencies) farePrint(plant string) fingerprint.Sum {
	e, ok := r.b.outcomes()[plant]
	return fingerprint.Of(fmt.Appendf(nil, "%t %+v", ok, e))
}

// plantPrint is what a plant's page and files read beside the frame: its own text, what the tanks that name it tell, the
// water of all tanks, and its lots and parcels.
func (r *dependencies) plantPrint(id string) fingerprint.Sum {
	var s sum
	s.add(r.frame())
	s.buf.WriteString(id)
	if own, ok := r.b.Journal.Plant(id); ok {
		s.add(r.withFigures(own.Source))
	}
	for _, t := range r.naming()[id] {
		s.buf.WriteString(t.ID)
		s.add(r.tank[t.ID]())
	}
	for _, t := range r.b.Journal.Tanks {
		s.add(r.waterBy(t.ID, r.b.On))
	}
	for _, l := range r.b.Ledger.LotsOf(id) {
		s.lot(l.Lot)
	}
	for _, p := range r.given()[id] {
		s.file(p.Source, false)
	}
	s.add(r.elsewhere[id]())
	return s.print()
}

// parcel is what the papers of a parcel read.
func (r *dependencies) parcel(p *journal.Parcel) fingerprint.Sum {
	var s sum
	s.add(r.frame())
	s.file(p.Source, false)
	s.add(r.withFigures(p.Source))
	lot, ok := r.b.Journal.Lot(p.Lot)
	if !ok {
		return r.all()
	}
	s.lot(lot)
	if e, ok := r.b.entryOf(lot); ok {
		s.add(e.HeadSum)
	}
	s.add(r.waterBy(lot.Tank, r.b.sendingDay(p)))
	s.add(r.b.Facts.Sum(lot.Tank, lot.Plant))
	if other, ok := r.elsewhere[lot.Plant]; ok {
		s.add(other())
	}
	return s.print()
}

// entryOf is the entry that gives a lot.
func (b *Site) entryOf(l *journal.Lot) (*journal.Entry, bool) {
	t, ok := b.Journal.Tank(l.Tank)
	if !ok {
		return nil, false
	}
	i := slices.IndexFunc(t.Entries, func(e *journal.Entry) bool { return e.Path == l.Path })
	if i < 0 {
		return nil, false
	}
	return t.Entries[i], true
}
