// Package facts holds a whole journal linked for a day, and lends each page what it may read of it. What was lent is noted,
// so that a page is made again when, and only when, one of these facts has changed.
package facts

import (
	"cmp"
	"maps"
	"path"
	"slices"
	"strings"
	"sync"

	"slipleaf/build/almanac"
	"slipleaf/build/fingerprint"
	"slipleaf/build/growth"
	"slipleaf/build/journal"
	"slipleaf/build/ledger"
	"slipleaf/build/quantity"
)

// Linked is a journal linked with the almanac: lots are counted and growth is fitted. Make it with [Link]; it is
// read-only afterwards and safe for concurrent use. No page holds one: see [Reader].
type Linked struct {
	Journal *journal.Journal
	Almanac *almanac.Almanac
	Ledger  *ledger.Ledger
	Growth  *growth.Facts
	On      quantity.Date

	outline *journal.Journal
	species map[string]almanac.Species // by plant id, with the grower's own columns

	entries func() []*journal.Entry             // newest first
	naming  func() map[string][]*journal.Tank   // those of the outline, by plant
	given   func() map[string][]*journal.Parcel // by plant

	outcomes           func() map[string]ledger.Outcomes
	sources            func() map[string]*journal.Source // but for those of entries
	years, reviewYears func() []int                      // newest first
	now                nodes
}

// Options for [Link].
type Options struct {
	// Made tells apart what else pages are made with: program, theme, language, photos.
	Made string
	// Growth remembers the fits of the journal before; nil: all are made anew.
	Growth *growth.Memory
}

// Link links a journal for a day.
func Link(j *journal.Journal, a *almanac.Almanac, on quantity.Date, o Options) *Linked {
	l := &Linked{Journal: j, Almanac: a, On: on, outline: j.Outline(), species: map[string]almanac.Species{}}
	for _, p := range j.Plants {
		l.know(p.ID)
	}
	l.Growth = o.Growth.Facts(j, func(id string) almanac.Species { l.know(id); return l.species[id] }, on)
	for _, t := range j.Tanks {
		for _, id := range l.Growth.Named(t.ID) {
			l.know(id)
		}
	}
	l.Ledger = ledger.New(j, on, l.Growth.Forecast)
	l.entries, l.years, l.naming, l.given = sync.OnceValue(l.newestFirst), sync.OnceValue(l.findYears), sync.OnceValue(l.tanksNaming), sync.OnceValue(l.parcelsOfPlants)
	l.sources = sync.OnceValue(l.sourcesByPath)
	l.reviewYears = sync.OnceValue(func() []int { return growth.Years(j, on) })
	l.outcomes = sync.OnceValue(func() map[string]ledger.Outcomes {
		all, _, _ := l.Ledger.Outcomes()
		return all
	})
	l.now.frame = sync.OnceValue(func() fingerprint.Sum { return l.frameSum(o.Made) })
	l.now.heads = sync.OnceValue(l.headsSum)
	return l
}

// know looks a plant up once: the almanac's species with the grower's own columns, or the grower's own file alone.
func (l *Linked) know(id string) {
	if _, ok := l.species[id]; ok {
		return
	}
	s, listed := l.Almanac.Species(id)
	own, file := l.Journal.Plant(id)
	switch {
	case file:
		s = l.Almanac.Introduce(id, own.Taxon, strings.ReplaceAll(own.Common, "'", "’"), own.Profile)
		if own.Common == "" {
			s = s.Spoken(l.Journal.Language)
		}
	case !listed:
		return
	default:
		s = s.Spoken(l.Journal.Language)
	}
	s.ID = id
	l.species[id] = s
}

// PlantIDs lists the plants that have a page, sorted.
func (l *Linked) PlantIDs() []string { return slices.Sorted(maps.Keys(l.species)) }

// newestFirst lists all entries.
func (l *Linked) newestFirst() []*journal.Entry {
	var out []*journal.Entry
	for _, t := range l.Journal.Tanks {
		out = append(out, t.Entries...)
	}
	slices.SortFunc(out, func(x, y *journal.Entry) int { // no two are the same in all three
		return cmp.Or(y.Date.Compare(x.Date), strings.Compare(x.Tank, y.Tank), strings.Compare(x.Slug, y.Slug))
	})
	return out
}

// Years are the years that have entries, newest first.
func (l *Linked) Years() []int { return l.years() }

func (l *Linked) findYears() []int {
	seen := map[int]bool{}
	for _, t := range l.Journal.Tanks {
		for i, e := range t.Entries {
			if i == 0 || t.Entries[i-1].Date.Year != e.Date.Year {
				seen[e.Date.Year] = true
			}
		}
	}
	out := slices.Sorted(maps.Keys(seen))
	slices.Reverse(out)
	return out
}

// Sheets lists the parcels that have a sheet: those with a code that were not cancelled; of several plants
// in one, the first.
func (l *Linked) Sheets() []*journal.Parcel {
	var out []*journal.Parcel
	for _, p := range l.Journal.Parcels {
		if _, ok := l.Journal.Lot(p.Lot); ok && p.Code != "" && p.Cancelled.IsZero() && p.First() {
			out = append(out, p)
		}
	}
	return out
}

// begun reports whether a tank has entries by the day of the site.
func (l *Linked) begun(tank string) bool {
	t, ok := l.Journal.Tank(tank)
	return ok && len(t.Entries) > 0 && !t.Entries[0].Date.After(l.On)
}

// tanksNaming finds the tanks whose entries name each plant.
func (l *Linked) tanksNaming() map[string][]*journal.Tank {
	out := map[string][]*journal.Tank{}
	for _, t := range l.outline.Tanks {
		for _, id := range l.Growth.Named(t.ID) {
			out[id] = append(out[id], t)
		}
	}
	return out
}

// soFar lists the entries by the day of the site, newest first.
func (l *Linked) soFar() []*journal.Entry {
	all := l.entries()
	ahead := slices.IndexFunc(all, func(e *journal.Entry) bool { return !e.Date.After(l.On) })
	if ahead < 0 {
		return nil
	}
	return slices.Clip(all[ahead:])
}

// soFarIn lists the entries of a tank by the day of the site, oldest first.
func (l *Linked) soFarIn(tank string) []*journal.Entry {
	t, ok := l.Journal.Tank(tank)
	if !ok {
		return nil
	}
	n := firstOn(t, l.On.Add(1))
	return t.Entries[:n:n]
}

// others is how a plant does for others than the recipient of a parcel; nil where it was sent to nobody else.
func (l *Linked) others(plant string, but *journal.Parcel) *ledger.OutcomeCounts {
	all, ok := l.outcomes()[plant]
	if !ok {
		return nil
	}
	return all.Beside(but, l.On)
}

// around finds the entries before and after one in its tank; nil where there is none.
func (l *Linked) around(e *journal.Entry) (near [2]*journal.Entry) {
	t, ok := l.Journal.Tank(e.Tank)
	if !ok {
		return near
	}
	i := firstOn(t, e.Date)
	for i < len(t.Entries) && t.Entries[i].Slug != e.Slug {
		i++
	}
	if i == len(t.Entries) {
		return near
	}
	if i > 0 {
		near[0] = t.Entries[i-1]
	}
	if i+1 < len(t.Entries) {
		near[1] = t.Entries[i+1]
	}
	return near
}

// parcelsOfPlants sorts the parcels by the plant of their lots.
func (l *Linked) parcelsOfPlants() map[string][]*journal.Parcel {
	out := map[string][]*journal.Parcel{}
	for _, p := range l.Journal.Parcels {
		if lot, ok := l.Journal.Lot(p.Lot); ok {
			out[lot.Plant] = append(out[lot.Plant], p)
		}
	}
	return out
}

// entryAt finds an entry by the path of its file.
func (l *Linked) entryAt(file string) (*journal.Entry, bool) {
	dir, name := path.Split(file)
	if t, ok := l.Journal.Tank(path.Base(dir)); ok {
		if e, ok := entryIn(t, strings.TrimSuffix(name, ".md")); ok && e.Path == file {
			return e, true
		}
		if i := slices.IndexFunc(t.Entries, func(e *journal.Entry) bool { return e.Path == file }); i >= 0 {
			return t.Entries[i], true // its name is not quite as usual
		}
	}
	return nil, false
}

// sourceAt finds a file that was read by its path.
func (l *Linked) sourceAt(file string) (*journal.Source, bool) {
	if e, ok := l.entryAt(file); ok {
		return &e.Source, true
	}
	s, ok := l.sources()[file]
	return s, ok
}

// sourcesByPath are all but the entries.
func (l *Linked) sourcesByPath() map[string]*journal.Source {
	j := l.Journal
	out := make(map[string]*journal.Source, len(j.Tanks)+len(j.Plants)+len(j.Pages)+len(j.Parcels))
	add := func(s *journal.Source) { out[s.Path] = s }
	for _, t := range j.Tanks {
		add(&t.Source)
	}
	for _, p := range j.Plants {
		add(&p.Source)
	}
	for _, p := range j.Pages {
		add(&p.Source)
	}
	for _, p := range j.Parcels {
		add(&p.Source)
	}
	return out
}
