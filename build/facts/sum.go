package facts

import (
	"bytes"
	"fmt"
	"slices"
	"sync"
	"unicode"
	"unicode/utf8"

	"slipleaf/build/almanac"
	"slipleaf/build/fingerprint"
	"slipleaf/build/journal"
	"slipleaf/build/quantity"
)

// nodes are fingerprints that are worked out when they are first asked for.
type nodes struct {
	frame, heads func() fingerprint.Sum
	known        sync.Map // of Key: func() fingerprint.Sum
	water        sync.Map // by tank id: func() []watered
	waterNow     sync.Map // by tank id: func() journal.Water
}

// once is what make gives for a key, made when it is first asked for.
func once[K comparable, T any](all *sync.Map, key K, make func() T) T {
	find, ok := all.Load(key)
	if !ok {
		find, _ = all.LoadOrStore(key, sync.OnceValue(make))
	}
	return find.(func() T)()
}

// Sum is the fingerprint of facts as they are now: two of one fingerprint are the same facts, and what is made of them
// is the same bytes.
func (l *Linked) Sum(keys []Key) fingerprint.Sum {
	all := make([]byte, 0, len(fingerprint.Sum{})*len(keys))
	for _, k := range keys {
		p := l.SumOf(k)
		all = append(all, p[:]...)
	}
	return fingerprint.Of(all)
}

// SumOf is the fingerprint of one fact.
func (l *Linked) SumOf(k Key) fingerprint.Sum {
	switch k.Kind {
	case Frame:
		return l.now.frame()
	case Heads:
		return l.now.heads()
	case Body, Brief, Entry, Parcel:
		s, ok := l.sourceAt(k.Name)
		switch {
		case !ok:
			return fingerprint.Sum{}
		case k.Kind == Body:
			return s.BodySum
		case k.Kind == Brief:
			return fingerprint.Of(brief(s.Body))
		}
		return s.HeadSum
	case Water:
		return l.waterBy(k.Name, k.More)
	}
	find, ok := l.now.known.Load(k)
	if !ok {
		find, _ = l.now.known.LoadOrStore(k, sync.OnceValue(func() fingerprint.Sum { return l.findSum(k) }))
	}
	return find.(func() fingerprint.Sum)()
}

// findSum works out a fingerprint that many pages ask for.
func (l *Linked) findSum(k Key) fingerprint.Sum {
	var s digest
	switch k.Kind {
	case Day:
		fmt.Fprint(&s.buf, l.On)
	case Friends:
		for _, f := range l.Journal.Gathered {
			s.buf.WriteString(f.Name)
			s.add(fingerprint.Of(f.Data))
		}
	case Years:
		fmt.Fprintf(&s.buf, "%v %v", l.Years(), l.reviewYears())
	case Year:
		for _, e := range l.entries() {
			if fmt.Sprint(e.Date.Year) == k.Name {
				s.file(e.Source)
			}
		}
	case Tank:
		if t, ok := l.Journal.Tank(k.Name); ok {
			for _, e := range t.Entries {
				s.file(e.Source)
			}
		}
	case SoFar:
		by := l.soFar
		if k.Name != "" {
			by = func() []*journal.Entry { return l.soFarIn(k.Name) }
		}
		for _, e := range by() {
			s.file(e.Source)
		}
	case Age:
		fmt.Fprint(&s.buf, almanac.Coverage{AsOf: k.Name, Held: k.More}.Age(l.On))
	case Begun:
		fmt.Fprint(&s.buf, l.begun(k.Name))
	case Naming:
		for _, t := range l.naming()[k.Name] {
			fmt.Fprintf(&s.buf, "%s\x00", t.ID)
		}
	case Neighbours:
		if e, ok := l.entryAt(k.Name); ok {
			for _, n := range l.around(e) {
				if n != nil {
					fmt.Fprintf(&s.buf, "\x00%s\x00%s", n.Path, n.Title)
				}
			}
		}
	case Lot:
		if lot, ok := l.Journal.Lot(k.Name); ok {
			l.sumLot(&s, lot)
		}
	case LotsOf:
		l.sumLots(&s, k.Name)
	case Outcomes:
		e, ok := l.outcomes()[k.Name]
		fmt.Fprintf(&s.buf, "%t %+v", ok, e)
	case Others:
		if i := slices.IndexFunc(l.given()[k.Name], func(p *journal.Parcel) bool { return nameOf(p) == k.More }); i >= 0 {
			fmt.Fprintf(&s.buf, "%+v", l.others(k.Name, l.given()[k.Name][i]))
		}
	case Counted, Grown:
		l.sumGrowth(&s, k)
	}
	return s.sum()
}

// sumLot adds all that the journal says of a lot.
func (l *Linked) sumLot(s *digest, lot *journal.Lot) {
	s.lot(lot)
	if e, ok := l.entryAt(lot.Path); ok {
		s.add(e.HeadSum)
	}
}

// sumLots adds a plant's lots, how they stand, and what was taken from them.
func (l *Linked) sumLots(s *digest, plant string) {
	for _, lot := range l.Ledger.LotsOf(plant) {
		l.sumLot(s, lot.Lot)
		for _, t := range lot.Takings {
			fmt.Fprintf(&s.buf, " %v %d %t %t", t.On, t.Takes, t.Sent, t.Over)
		}
		stands := *lot
		stands.Lot, stands.Takings = nil, nil // these lead on
		fmt.Fprintf(&s.buf, " %+v", stands)
	}
	for _, p := range l.given()[plant] {
		s.file(p.Source)
	}
}

// sumGrowth adds the series of a tank, of a plant, or of both.
func (l *Linked) sumGrowth(s *digest, k Key) {
	for _, t := range l.Journal.Tanks {
		if k.Name != "" && k.Name != t.ID {
			continue
		}
		for _, plant := range l.Growth.Named(t.ID) {
			if k.More == "" || k.More == plant {
				fmt.Fprintf(&s.buf, "\x00%s\x00%s\x00", t.ID, plant)
				s.add(l.Growth.Sum(t.ID, plant, k.Kind == Grown))
			}
		}
	}
}

// digest makes one fingerprint of many things as they are found.
type digest struct{ buf bytes.Buffer }

func (s *digest) add(p fingerprint.Sum) { s.buf.Write(p[:]) }

func (s *digest) sum() fingerprint.Sum { return fingerprint.Of(s.buf.Bytes()) }

func (s *digest) file(src journal.Source) {
	s.buf.WriteString(src.Path)
	s.buf.WriteByte(0)
	s.add(src.HeadSum)
}

// lot adds what the journal as a whole says of a lot, beside its own entry.
func (s *digest) lot(l *journal.Lot) {
	fmt.Fprintf(&s.buf, "\x00%s %s %d %v", l.ID, l.Path, l.Index, l.Announced)
	for _, x := range l.Losses {
		fmt.Fprintf(&s.buf, " %v %d %v", x.On, x.Count, x.All)
	}
}

func (l *Linked) frameSum(made string) fingerprint.Sum {
	var s digest
	fmt.Fprintf(&s.buf, "%s\x00%q\x00", made, l.PlantIDs())
	s.file(l.Journal.Source)
	for _, t := range l.Journal.Tanks {
		s.file(t.Source)
	}
	for _, p := range l.Journal.Plants {
		s.file(p.Source)
	}
	for _, p := range l.Journal.Pages {
		s.file(p.Source)
	}
	return s.sum()
}

// headsSum is of every head. That of the journal, of tanks, plants and pages is in the frame.
func (l *Linked) headsSum() fingerprint.Sum {
	var s digest
	s.add(l.now.frame())
	for _, e := range l.entries() {
		s.file(e.Source)
	}
	for _, p := range l.Journal.Parcels {
		s.file(p.Source)
	}
	return s.sum()
}

// brief is as much of a text as its first paragraph rests on, which is what lists show of it: all of the text, unless it
// plainly begins with a paragraph. A link's address may be written further down.
func brief(body []byte) []byte {
	body = bytes.TrimLeft(body, "\n")
	first, rest, _ := bytes.Cut(body, []byte("\n\n"))
	for line := range bytes.Lines(first) {
		if c, _ := utf8.DecodeRune(line); !unicode.IsLetter(c) { // a list, a table, the line below a heading
			return body
		}
	}
	if bytes.Contains(rest, []byte("]:")) {
		return body
	}
	return first
}

// watered is the fingerprint of a tank's readings up to a day.
type watered struct {
	on  quantity.Date
	sum fingerprint.Sum
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
func (l *Linked) waterBy(tank, day string) fingerprint.Sum {
	t, known := l.Journal.Tank(tank)
	by, err := l.On, error(nil)
	if day != "" {
		by, err = quantity.ParseDate(day)
	}
	if !known || err != nil {
		return fingerprint.Sum{}
	}
	all := once(&l.now.water, tank, func() []watered { return readingsOf(t) })
	n, _ := slices.BinarySearchFunc(all, by, func(x watered, by quantity.Date) int {
		if x.on.After(by) {
			return 1
		}
		return -1 // past all of that day
	})
	if n == 0 {
		return fingerprint.Sum{}
	}
	return all[n-1].sum
}
