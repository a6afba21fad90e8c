package facts

import (
	"cmp"
	"slices"
	"strconv"

	"slipleaf/build/almanac"
	"slipleaf/build/growth"
	"slipleaf/build/journal"
	"slipleaf/build/ledger"
	"slipleaf/build/quantity"
)

// Reader lends one page the facts that it asks for, and notes each, also where there is none. A page that holds nothing
// else of the journal cannot read what is not noted. A Reader is for one goroutine; what it lends is shared: read it only.
type Reader struct {
	all   *Linked
	seen  map[Key]bool
	order []Key
	mute  bool
}

// Read begins the reading of one page. The frame is noted from the start.
func (l *Linked) Read() *Reader {
	r := &Reader{all: l, seen: map[Key]bool{}}
	r.note(Key{Kind: Frame})
	return r
}

// Look is a reader that notes nothing, for what is no page of the site. It is safe for concurrent use.
func (l *Linked) Look() *Reader { return &Reader{all: l, mute: true} }

// Again begins another reading.
func (r *Reader) Again() *Reader { return r.all.Read() }

// Noted lists what was lent, in the order of the first asking.
func (r *Reader) Noted() []Key { return r.order }

// Note takes over what another reader was lent, for a page that uses what was worked out of it.
func (r *Reader) Note(keys []Key) {
	for _, k := range keys {
		r.note(k)
	}
}

func (r *Reader) note(k Key) {
	if !r.mute && !r.seen[k] {
		r.seen[k] = true
		r.order = append(r.order, k)
	}
}

// Outline is what the frame of every page holds: journal.yaml, the tanks without their entries, the grower's own plants and
// pages. It has no lots, parcels or files of friends.
func (r *Reader) Outline() *journal.Journal { return r.all.outline }

// Species is a plant as this journal knows it: the almanac's with the grower's own columns. The frame holds them all.
func (r *Reader) Species(id string) almanac.Species { return r.all.species[id] }

// Knows reports whether a plant has a page.
func (r *Reader) Knows(id string) bool { _, ok := r.all.species[id]; return ok }

// PlantIDs lists the plants that have a page, sorted.
func (r *Reader) PlantIDs() []string { return r.all.PlantIDs() }

// Day is the day of the site. Whatever is lent without it is the same on every day, or its own fact says how it stands on this one.
func (r *Reader) Day() quantity.Date {
	r.note(Key{Kind: Day})
	return r.all.On
}

// Dated reports whether what was lent so far rests on the day of the site itself.
func (r *Reader) Dated() bool { return r.seen[Key{Kind: Day}] }

// Heads is the whole journal. Its texts are lent by [Reader.Text] alone.
func (r *Reader) Heads() *journal.Journal {
	r.note(Key{Kind: Heads})
	return r.all.Journal
}

// today notes what a whole that was linked for the day of the site rests on.
func (r *Reader) today() {
	r.note(Key{Kind: Heads})
	r.note(Key{Kind: Day})
}

// Ledger is the account of all lots.
func (r *Reader) Ledger() *ledger.Ledger {
	r.today()
	return r.all.Ledger
}

// Entries lists all entries, newest first.
func (r *Reader) Entries() []*journal.Entry {
	r.note(Key{Kind: Heads})
	return r.all.entries()
}

// Gathered are the files of friends.
func (r *Reader) Gathered() []journal.GatheredFile {
	r.note(Key{Kind: Friends})
	return r.all.Journal.Gathered
}

// Years are the years that have entries, newest first.
func (r *Reader) Years() []int {
	r.note(Key{Kind: Years})
	return r.all.Years()
}

// ReviewYears are the years that have a review.
func (r *Reader) ReviewYears() []int {
	r.note(Key{Kind: Years})
	return r.all.reviewYears()
}

// EntriesOf lists the entries of a year, newest first.
func (r *Reader) EntriesOf(year int) []*journal.Entry {
	r.note(Key{Kind: Year, Name: strconv.Itoa(year)})
	return pick(r.all.entries(), func(e *journal.Entry) bool { return e.Date.Year == year })
}

// EntriesIn lists the entries of a tank, oldest first.
func (r *Reader) EntriesIn(tank string) []*journal.Entry {
	r.note(Key{Kind: Tank, Name: tank})
	t, ok := r.all.Journal.Tank(tank)
	if !ok {
		return nil
	}
	return t.Entries
}

// SoFar lists the entries by the day of the site, newest first.
func (r *Reader) SoFar() []*journal.Entry {
	r.note(Key{Kind: SoFar})
	return r.all.soFar()
}

// SoFarIn lists the entries of a tank by the day of the site, oldest first.
func (r *Reader) SoFarIn(tank string) []*journal.Entry {
	r.note(Key{Kind: SoFar, Name: tank})
	return r.all.soFarIn(tank)
}

// NewestIn lists the entries of a tank by the day of the site, newest first.
func (r *Reader) NewestIn(tank string) []*journal.Entry {
	r.note(Key{Kind: SoFar, Name: tank})
	return pick(r.all.soFar(), func(e *journal.Entry) bool { return e.Tank == tank })
}

// ReadingsNow lists the entries of a tank by the day of the site that read its water, oldest first.
func (r *Reader) ReadingsNow(tank string) []*journal.Entry {
	r.note(Key{Kind: Water, Name: tank})
	return pick(r.all.soFarIn(tank), func(e *journal.Entry) bool { return e.Parameters != journal.Parameters{} })
}

// WaterOn is a tank's water as known on a day that is not the site's.
func (r *Reader) WaterOn(tank string, by quantity.Date) journal.Water {
	r.note(Key{Water, tank, by.String()})
	if t, ok := r.all.Journal.Tank(tank); ok {
		return t.WaterOn(by)
	}
	return journal.Water{}
}

// WaterNow is a tank's water as known on the day of the site.
func (r *Reader) WaterNow(tank string) journal.Water {
	r.note(Key{Kind: Water, Name: tank})
	return once(&r.all.now.waterNow, tank, func() journal.Water { return journal.WaterOf(r.all.soFarIn(tank)) })
}

// Standing lists the plants in a tank on the day of the site, by id.
func (r *Reader) Standing(tank string) []journal.Stand {
	return journal.Standing(r.SoFarIn(tank), r.all.On)
}

// AgeOf is how old what was read of the law of a place is.
func (r *Reader) AgeOf(c almanac.Coverage) almanac.Age {
	r.note(Key{Age, c.AsOf, c.Held})
	return c.Age(r.all.On)
}

// Begun reports whether a tank has entries by the day of the site.
func (r *Reader) Begun(tank string) bool {
	r.note(Key{Kind: Begun, Name: tank})
	return r.all.begun(tank)
}

// Naming lists the tanks whose entries name a plant, in the journal's order.
func (r *Reader) Naming(plant string) []*journal.Tank {
	r.note(Key{Kind: Naming, Name: plant})
	return r.all.naming()[plant]
}

// Entry notes that the head of an entry is read.
func (r *Reader) Entry(e *journal.Entry) *journal.Entry {
	r.note(Key{Kind: Entry, Name: e.Path})
	return e
}

// FindEntry finds an entry by its tank and id.
func (r *Reader) FindEntry(tank, id string) (*journal.Entry, bool) {
	t, ok := r.all.Journal.Tank(tank)
	if !ok {
		return nil, false
	}
	e, ok := entryIn(t, id)
	if !ok {
		r.note(Key{Kind: Tank, Name: tank}) // it may come
		return nil, false
	}
	return r.Entry(e), true
}

// entryIn finds an entry by its name. A tank's entries are in the order of their dates.
func entryIn(t *journal.Tank, id string) (*journal.Entry, bool) {
	day, err := quantity.ParseDate(id[:min(len(id), len("2026-04-18"))])
	if err != nil {
		return nil, false
	}
	for i := firstOn(t, day); i < len(t.Entries) && t.Entries[i].Date == day; i++ {
		if t.Entries[i].ID() == id {
			return t.Entries[i], true
		}
	}
	return nil, false
}

// firstOn is the index of a tank's first entry of a day, or of the first after it.
func firstOn(t *journal.Tank, day quantity.Date) int {
	i, _ := slices.BinarySearchFunc(t.Entries, day, func(e *journal.Entry, day quantity.Date) int { return e.Date.Compare(day) })
	return i
}

// Around are path and title of the entries before and after one in its tank; nil where there is none.
func (r *Reader) Around(e *journal.Entry) (earlier, later *journal.Entry) {
	r.note(Key{Kind: Neighbours, Name: e.Path})
	near := r.all.around(e)
	return titled(near[0]), titled(near[1])
}

// titled is what a link to an entry needs of it.
func titled(e *journal.Entry) *journal.Entry {
	if e == nil {
		return nil
	}
	return &journal.Entry{Tank: e.Tank, Date: e.Date, Slug: e.Slug, Title: e.Title}
}

// Text is the Markdown of a file.
func (r *Reader) Text(src journal.Source) []byte {
	r.note(Key{Kind: Body, Name: src.Path})
	return src.Body
}

// Brief notes that no more is shown of an entry's text than its first paragraph.
func (r *Reader) Brief(e *journal.Entry) { r.note(Key{Kind: Brief, Name: e.Path}) }

// Lot is what the journal says of a lot.
func (r *Reader) Lot(id string) (*journal.Lot, bool) {
	r.note(Key{Kind: Lot, Name: id})
	return r.all.Journal.Lot(id)
}

// GrownAs is how a lot grew: its own word, else its tank's.
func (r *Reader) GrownAs(lot *journal.Lot) string {
	r.note(Key{Kind: Lot, Name: lot.ID})
	if l, ok := r.all.Ledger.Lot(lot.ID); ok {
		return l.Grown
	}
	return lot.Grown
}

// LotsOf lists the lots of a plant with all that was taken from them.
func (r *Reader) LotsOf(plant string) []*ledger.Lot {
	r.note(Key{Kind: LotsOf, Name: plant})
	return r.all.Ledger.LotsOf(plant)
}

// Parcel notes that the head of a record is read.
func (r *Reader) Parcel(p *journal.Parcel) *journal.Parcel {
	r.note(Key{Kind: Parcel, Name: p.Path})
	return p
}

// Outcomes is how a plant does for others; ok is false where it was sent to nobody.
func (r *Reader) Outcomes(plant string) (ledger.Outcomes, bool) {
	r.note(Key{Kind: Outcomes, Name: plant})
	e, ok := r.all.outcomes()[plant]
	return e, ok
}

// Others is how a plant does for others than the recipient of a parcel; nil where it was sent to nobody else.
func (r *Reader) Others(plant string, but *journal.Parcel) *ledger.OutcomeCounts {
	r.note(Key{Others, plant, nameOf(but)})
	return r.all.others(plant, but)
}

// AllOutcomes is how every plant that was sent does for others, by its id.
func (r *Reader) AllOutcomes() map[string]ledger.Outcomes {
	r.today()
	return r.all.outcomes()
}

// nameOf tells a parcel from the others in its record, which each have a lot of their own.
func nameOf(p *journal.Parcel) string { return p.Path + " " + p.Lot }

// Pace is how fast a plant that is in a tank grows by its counts; ok is false where they do not tell.
func (r *Reader) Pace(tank, plant string) (growth.Pace, bool) {
	r.note(Key{Counted, tank, plant})
	return r.all.Growth.Pace(tank, plant)
}

// GrowthOf lists the series of a plant in a tank in the order of time.
func (r *Reader) GrowthOf(tank, plant string) []*growth.Growth {
	return r.grown(tank, plant).Of(tank, plant)
}

// GrowthIn lists the series of a tank, by plant and time.
func (r *Reader) GrowthIn(tank string) []*growth.Growth { return r.grown(tank, "").InTank(tank) }

// Gone reports whether a plant was counted in a tank and has left it.
func (r *Reader) Gone(tank, plant string) bool {
	r.note(Key{Counted, tank, plant})
	return r.all.Growth.Gone(tank, plant)
}

// Yield is what a plant in a tank gives.
func (r *Reader) Yield(tank, plant string) growth.Yield {
	return r.grown(tank, plant).Yield(tank, plant)
}

// GrowthOfPlant lists the series of a plant, by tank and time.
func (r *Reader) GrowthOfPlant(plant string) []*growth.Growth {
	return r.grown("", plant).OfPlant(plant)
}

// GrowthJSON is growth.json of a plant.
func (r *Reader) GrowthJSON(plant string, elsewhere any) ([]byte, error) {
	r.note(Key{Kind: Day}) // it says of which day it is
	return r.grown("", plant).GrowthJSON(plant, elsewhere)
}

// GrowthCSV is growth.csv of a plant.
func (r *Reader) GrowthCSV(plant string) []byte {
	r.note(Key{Counted, "", plant})
	return r.all.Growth.GrowthCSV(plant)
}

// grown is for how the plants of a tank grow, or one plant, by what its counts say on the day of the site.
func (r *Reader) grown(tank, plant string) *growth.Facts {
	r.note(Key{Grown, tank, plant})
	return r.all.Growth
}

// AllGrowth is how all plants grow.
func (r *Reader) AllGrowth() *growth.Facts {
	r.today()
	return r.all.Growth
}

func pick[T any](all []T, wanted func(T) bool) []T {
	return slices.DeleteFunc(slices.Clone(all), func(x T) bool { return !wanted(x) })
}

// ByAge sorts tanks by the day on which they were set up, those without one last.
func ByAge(tanks []*journal.Tank) []*journal.Tank {
	out := slices.Clone(tanks)
	slices.SortStableFunc(out, func(x, y *journal.Tank) int {
		undated := func(t *journal.Tank) int {
			if t.Began.IsZero() {
				return 1
			}
			return 0
		}
		return cmp.Or(undated(x)-undated(y), x.Began.Compare(y.Began))
	})
	return out
}
