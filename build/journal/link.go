package journal

import (
	"cmp"
	"fmt"
	"maps"
	"slices"

	"golang.org/x/sync/errgroup"

	"slipleaf/build/almanac"
	"slipleaf/build/spelling"
)

// linker joins the files into one journal and finds what is wrong between them.
type linker struct {
	names  *almanac.Almanac
	opts   Options
	photos []string // sorted
	out    *Pile
	told   map[string]int // complaints so far, by file
	places Places

	said  map[string]bool // names that a note was made of
	asked map[string]bool // names that may mean several plants: asked about, so not unknown too

	journal          *Journal
	lotIDs, plantIDs []string           // sorted, for hints
	meanings         map[string]Meaning // of names as they are written
	hints            int                // looked for so far

	now     clean           // what the next reading may know of this one
	dates   []dated         // entries that tell of lots, in the order of their dates
	spelt   map[string]*Lot // by the name in small letters
	plantOK map[string]bool // plants asked about so far
	taxa    map[string]string
	noticed map[[2]string][]almanac.Notice // by plant and region
}

// dated is an entry in its tank.
type dated struct {
	tank  *Tank
	entry *Entry
}

func newLinker(a *almanac.Almanac, opts Options, photos []string, out *Pile) *linker {
	return &linker{out: out, told: map[string]int{}, meanings: map[string]Meaning{}, names: a, said: map[string]bool{}, asked: map[string]bool{}, opts: opts, photos: photos, spelt: map[string]*Lot{}, plantOK: map[string]bool{}, taxa: map[string]string{}, noticed: map[[2]string][]almanac.Notice{}}
}

// What is looked for at most: each search takes a millisecond, and no grower has so many plants or slips.
const (
	mostMeanings = 2000
	mostHints    = 500
)

// hint looks for the hint of a complaint where that is worth a search: it is listed, and there were few so far.
func (l *linker) hint(s Source, look func() string) string {
	if l.told[s.Path] >= maxComplaints || l.hints >= mostHints {
		return ""
	}
	l.hints++
	return look()
}

func (l *linker) complain(r rule, s Source, path, message, hint string) {
	line, column := l.at(s, path)
	l.place(r, s, line, column, message, hint)
}

// at is a place in a head, as long as complaints of the file are listed.
func (l *linker) at(s Source, path string) (line, column int) {
	if l.told[s.Path] >= maxComplaints {
		return max(s.HeadLine, 1), 1
	}
	return l.places.At(s, path)
}

func (l *linker) place(r rule, s Source, line, column int, message, hint string) {
	if l.told[s.Path]++; l.told[s.Path] > maxComplaints {
		l.out.drop(rules[r].Severity)
		return
	}
	line, column = l.places.within(s, line, column)
	l.out.Add(complaint(r, s.Path, line, column, message, hint))
}

// link builds the journal out of its parts, and tells which tanks are clean, as known tells of the reading before.
func (l *linker) link(parts []*part, known clean) (*Journal, clean) {
	l.now = cleanOf(parts, l.opts, l.photos)
	l.now.take(&known)
	l.journal = l.now.collect()
	l.naming()
	l.sort()
	l.orphans()
	l.header()
	l.checkTanks()
	for _, p := range l.journal.Plants {
		l.plant(p)
	}
	for _, p := range l.journal.Pages {
		l.pictures(p.Source, p.Photos)
	}
	l.lots()
	l.parcels()
	l.shownCodes(parts)
	return l.journal, l.now
}

// checkTanks checks the tanks side by side: none depends on another. Those that are known to be clean are left out.
func (l *linker) checkTanks() {
	var g errgroup.Group
	g.SetLimit(l.opts.workers())
	told := make([]map[string]int, len(l.journal.Tanks))
	for i, t := range l.journal.Tanks {
		if in := l.now.tanks[t.ID]; in != nil && in.clean {
			continue
		}
		apart := newLinker(l.names, l.opts, l.photos, l.out)
		apart.journal, apart.asked, told[i] = l.journal, l.asked, apart.told
		g.Go(func() error { apart.tank(t); return nil })
	}
	_ = g.Wait() // a fault of the journal is a complaint
	for i, t := range l.journal.Tanks {
		if in := l.now.tanks[t.ID]; in != nil { // a name that is asked about is not complained of as unknown
			in.clean = len(told[i]) == 0 && len(l.asked) == 0
		}
	}
}

// collect sorts the parts by what they are. A part belongs to its reader: what linking fills in is copied first.
func (c *clean) collect() *Journal {
	j := &Journal{}
	for _, p := range c.rest {
		if p.journal != nil {
			*j = *p.journal
		}
	}
	j.tanks, j.plants = map[string]*Tank{}, map[string]*Plant{}
	j.lots, j.parcel = map[string]*Lot{}, map[string]*Parcel{}
	for _, p := range c.rest {
		switch {
		case p.tank != nil:
			t := *p.tank
			j.Tanks = append(j.Tanks, &t)
			j.tanks[t.ID] = &t
		case p.plant != nil:
			j.Plants = append(j.Plants, p.plant)
			j.plants[p.plant.ID] = p.plant
		case p.parcel != nil:
			parcel := *p.parcel
			j.Parcels = append(j.Parcels, parcel.plants()...)
		case p.page != nil:
			page := *p.page
			j.Pages = append(j.Pages, &page)
		case p.friend != nil:
			j.Gathered = append(j.Gathered, *p.friend)
		}
	}
	for _, t := range j.Tanks {
		if in := c.tanks[t.ID]; in != nil {
			t.Entries = make([]*Entry, 0, len(in.entries))
			for _, p := range in.entries {
				if !p.entry.untouched {
					t.Entries = append(t.Entries, p.entry)
				}
			}
		}
	}
	return j
}

// sort puts everything in its fixed order, and fills in what files leave to the journal or to their names.
func (l *linker) sort() {
	j := l.journal
	slices.SortFunc(j.Tanks, func(a, b *Tank) int { return cmp.Compare(a.ID, b.ID) })
	slices.SortFunc(j.Plants, func(a, b *Plant) int { return cmp.Compare(a.ID, b.ID) })
	slices.SortStableFunc(j.Parcels, func(a, b *Parcel) int { return cmp.Compare(a.Name, b.Name) })
	slices.SortFunc(j.Pages, func(a, b *Page) int { return cmp.Compare(a.ID, b.ID) })
	slices.SortFunc(j.Gathered, func(a, b GatheredFile) int { return cmp.Compare(a.Name, b.Name) })
	for _, t := range j.Tanks {
		t.Name = cmp.Or(t.Name, t.ID)
		t.Grown = cmp.Or(t.Grown, "submersed")
		slices.SortFunc(t.Entries, func(a, b *Entry) int {
			return cmp.Or(a.Date.Compare(b.Date), cmp.Compare(a.Slug, b.Slug))
		})
		for _, e := range t.Entries {
			if len(e.Lots)+len(e.Losses)+len(e.StillThere) > 0 {
				l.dates = append(l.dates, dated{t, e})
			}
		}
	}
	slices.SortStableFunc(l.dates, func(a, b dated) int { return a.entry.Date.Compare(b.entry.Date) })
	for _, p := range j.Pages {
		p.Title = cmp.Or(p.Title, p.ID)
	}
	for _, p := range j.Parcels {
		if !p.UnitsSaid {
			p.Units = j.Units
		}
	}
}

// orphans complains of entries that are left out: of blank ones, and once a folder of those without a tank.
func (l *linker) orphans() {
	for id, in := range l.now.tanks {
		for _, p := range in.entries {
			if p.entry.untouched {
				l.place(ruleUntouched, p.entry.Source, 1, 1, "nothing is filled in yet: this entry is not published", "")
			}
		}
		if l.journal.tanks[id] != nil {
			continue
		}
		hint := ""
		if near := spelling.Nearest(id, slices.Sorted(maps.Keys(l.journal.tanks))); near != "" {
			hint = "did you mean the tank " + near + "?"
		}
		l.place(ruleNoTankFile, in.entries[0].entry.Source, 1, 1, fmt.Sprintf("no tank %q: tanks/%s/tank.md is missing, so its entries are ignored", id, id), hint)
	}
}
