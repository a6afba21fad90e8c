package journal

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"slipleaf/build/almanac"
	"slipleaf/build/quantity"
)

// linker joins the files into one journal and finds what is wrong between them.
type linker struct {
	names  *almanac.Almanac
	opts   Options
	photos []string // sorted
	out    Complaints

	journal *Journal
	dates   []dated         // entries in the order of their dates
	plantOK map[string]bool // plants asked about so far
	taxa    map[string]string
	noticed map[[2]string][]almanac.Notice // by plant and region
}

// dated is an entry in its tank.
type dated struct {
	tank  *Tank
	entry *Entry
}

func (l *linker) complain(r rule, s Source, path, message, hint string) {
	line, column := s.At(path)
	l.place(r, s, line, column, message, hint)
}

func (l *linker) place(r rule, s Source, line, column int, message, hint string) {
	l.out = append(l.out, Complaint{s.Path, line, column, rules[r].Severity, rules[r].Name, message, hint})
}

// link builds the journal out of its parts.
func (l *linker) link(parts []part) *Journal {
	l.plantOK, l.taxa, l.noticed = map[string]bool{}, map[string]string{}, map[[2]string][]almanac.Notice{}
	slices.Sort(l.photos)
	l.journal = collect(parts)
	l.sort()
	l.orphans(parts)
	l.header()
	for _, t := range l.journal.Tanks {
		l.tank(t)
	}
	for _, p := range l.journal.Plants {
		l.plant(p)
	}
	for _, p := range l.journal.Pages {
		l.pictures(p.Source, p.Photos)
	}
	l.lots()
	l.parcels()
	return l.journal
}

// collect sorts the parts by what they are.
func collect(parts []part) *Journal {
	j := &Journal{}
	for i := range parts {
		if parts[i].journal != nil {
			*j = *parts[i].journal
		}
	}
	j.tanks, j.plants = map[string]*Tank{}, map[string]*Plant{}
	j.lots, j.parcel = map[string]*Lot{}, map[string]*Parcel{}
	for i := range parts {
		switch p := &parts[i]; {
		case p.tank != nil:
			j.Tanks = append(j.Tanks, p.tank)
			j.tanks[p.tank.ID] = p.tank
		case p.plant != nil:
			j.Plants = append(j.Plants, p.plant)
			j.plants[p.plant.ID] = p.plant
		case p.parcel != nil:
			j.Parcels = append(j.Parcels, p.parcel)
		case p.page != nil:
			j.Pages = append(j.Pages, p.page)
		case p.friend != nil:
			j.Gathered = append(j.Gathered, *p.friend)
		}
	}
	for i := range parts {
		if e := parts[i].entry; e != nil && j.tanks[e.Tank] != nil {
			t := j.tanks[e.Tank]
			t.Entries = append(t.Entries, e)
		}
	}
	return j
}

// sort puts everything in its fixed order, and fills in what files leave to the journal or to their names.
func (l *linker) sort() {
	j := l.journal
	slices.SortFunc(j.Tanks, func(a, b *Tank) int { return cmp.Compare(a.ID, b.ID) })
	slices.SortFunc(j.Plants, func(a, b *Plant) int { return cmp.Compare(a.ID, b.ID) })
	slices.SortFunc(j.Parcels, func(a, b *Parcel) int { return cmp.Compare(a.Name, b.Name) })
	slices.SortFunc(j.Pages, func(a, b *Page) int { return cmp.Compare(a.ID, b.ID) })
	slices.SortFunc(j.Gathered, func(a, b GatheredFile) int { return cmp.Compare(a.Name, b.Name) })
	for _, t := range j.Tanks {
		t.Name = cmp.Or(t.Name, t.ID)
		t.Grown = cmp.Or(t.Grown, "submersed")
		slices.SortFunc(t.Entries, func(a, b *Entry) int {
			return cmp.Or(a.Date.Compare(b.Date), cmp.Compare(a.Slug, b.Slug))
		})
		for _, e := range t.Entries {
			l.dates = append(l.dates, dated{t, e})
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

// orphans complains, once a folder, of entries without a tank.
func (l *linker) orphans(parts []part) {
	seen := map[string]bool{}
	for i := range parts {
		e := parts[i].entry
		if e == nil || seen[e.Tank] || l.journal.tanks[e.Tank] != nil {
			continue
		}
		seen[e.Tank] = true
		hint := ""
		if near := nearest(e.Tank, l.tankIDs()); near != "" {
			hint = "did you mean the tank " + near + "?"
		}
		l.place(ruleNoTankFile, e.Source, 1, 1, fmt.Sprintf("unknown tank %q: there is no tanks/%s/tank.md, so its entries are not read", e.Tank, e.Tank), hint)
	}
}

func (l *linker) tankIDs() []string {
	var ids []string
	for _, t := range l.journal.Tanks {
		ids = append(ids, t.ID)
	}
	return ids
}

// header checks what journal.yaml names outside itself.
func (l *linker) header() {
	j := l.journal
	if j.Timezone != "" && l.opts.Zone != nil && !l.opts.Zone(j.Timezone) {
		l.complain(ruleBadTimezone, j.Source, "timezone", fmt.Sprintf("unknown timezone %q; names are those of the IANA list, such as Europe/London", clip(j.Timezone)), "")
	}
}

// future warns of a day that is still to come.
func (l *linker) future(d quantity.Date, s Source, path string) {
	if !d.IsZero() && !l.opts.On.IsZero() && d.After(l.opts.On) {
		l.complain(ruleFutureDate, s, path, fmt.Sprintf("%s is in the future: the site is made for %s", d, l.opts.On), "")
	}
}

// tank checks a tank and its entries.
func (l *linker) tank(t *Tank) {
	l.future(t.Began, t.Source, "began")
	l.future(t.Ended, t.Source, "ended")
	for _, id := range sortedKeys(t.TrimWhen) {
		if !l.known(id) {
			line, column := t.AtKey("trim-when." + id)
			l.unknownPlant(t.Source, line, column, id)
		}
	}
	for _, e := range t.Entries {
		l.entry(t, e)
	}
	l.measures(t)
	l.overTrimmed(t)
}

func sortedKeys[V any](m map[string]V) []string {
	keys := make([]string, 0, len(m))
	for k := range m {
		keys = append(keys, k)
	}
	slices.Sort(keys)
	return keys
}

// entry checks one entry against its tank, the almanac and the photos.
func (l *linker) entry(t *Tank, e *Entry) {
	switch {
	case e.Date.Before(t.Began):
		l.place(ruleBeforeTank, e.Source, 1, 1, fmt.Sprintf("the entry is of %s, but the tank began on %s", e.Date, t.Began), "")
	case !t.Ended.IsZero() && !t.Ended.Before(t.Began) && e.Date.After(t.Ended):
		l.place(ruleAfterTank, e.Source, 1, 1, fmt.Sprintf("the entry is of %s, but the tank ended on %s", e.Date, t.Ended), "")
	}
	if on := l.opts.On; !on.IsZero() && e.Date.After(on) {
		l.place(ruleFutureDate, e.Source, 1, 1, fmt.Sprintf("%s is in the future: the site is made for %s", e.Date, on), "")
	}
	for i := range e.Counts {
		l.plantAt(e.Source, "counts", i, e.Counts[i].Plant)
	}
	for i := range e.Plantings {
		l.plantAt(e.Source, "plantings", i, e.Plantings[i].Plant)
	}
	for i := range e.Trims {
		l.plantAt(e.Source, "trims", i, e.Trims[i].Plant)
	}
	for i := range e.Losses {
		l.plantAt(e.Source, "losses", i, e.Losses[i].Plant)
	}
	for i := range e.Lots {
		l.plantAt(e.Source, "lots", i, e.Lots[i].Plant)
	}
	l.pictures(e.Source, e.Photos)
}

// plant checks a plant's own file.
func (l *linker) plant(p *Plant) {
	if _, known := l.names.Species(p.ID); !known && p.Taxon == "" {
		l.complain(ruleMissingKey, p.Source, "", fmt.Sprintf("the almanac does not know %q, so its file needs taxon", p.ID), l.nearPlant(p.ID))
	}
	l.pictures(p.Source, p.Photos)
}

// plantAt checks the plant of one part of a list.
func (l *linker) plantAt(s Source, list string, i int, id string) {
	if id == "" || l.known(id) {
		return
	}
	line, column := s.At(fmt.Sprintf("%s[%d].plant", list, i))
	l.unknownPlant(s, line, column, id)
}

// known tells whether there is a plant of that id.
func (l *linker) known(id string) bool {
	ok, asked := l.plantOK[id]
	if !asked {
		if _, ok = l.journal.plants[id]; !ok {
			_, ok = l.names.Species(id)
		}
		l.plantOK[id] = ok
	}
	return ok
}

func (l *linker) unknownPlant(s Source, line, column int, id string) {
	l.place(ruleUnknownPlant, s, line, column, fmt.Sprintf("unknown plant %q: neither the almanac nor plants/ has it", clip(id)), l.nearPlant(id))
}

// nearPlant is the hint for an unknown plant.
func (l *linker) nearPlant(id string) string {
	near := nearest(id, sortedKeys(l.journal.plants))
	if near == "" {
		near = l.names.Nearest(id)
	}
	if near == "" || near == id {
		return "a plant is named by its scientific name, as in heteranthera-zosterifolia; one of your own gets a file under plants/"
	}
	return "did you mean " + near + "?"
}

// pictures checks that photos are there.
func (l *linker) pictures(s Source, photos []Photo) {
	for i, p := range photos {
		if p.File == "" {
			continue
		}
		if _, ok := slices.BinarySearch(l.photos, p.File); ok {
			continue
		}
		hint := "put it into photos/"
		if near := nearest(strings.TrimPrefix(p.File, "photos/"), l.photos); near != "" {
			hint = "did you mean " + near + "?"
		}
		l.complain(ruleNoPhoto, s, fmt.Sprintf("photos[%d].file", i), fmt.Sprintf("there is no photos/%s", clip(p.File)), hint)
	}
}
