package journal

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
	"strings"

	"slipleaf/build/listing"
	"slipleaf/build/quantity"
	"slipleaf/build/spelling"
)

// header checks what journal.yaml names outside itself.
func (l *linker) header() {
	j := l.journal
	if j.Timezone != "" && l.opts.Zone != nil && !l.opts.Zone(j.Timezone) {
		l.complain(ruleBadTimezone, j.Source, "timezone", fmt.Sprintf("unknown timezone %q", spelling.Clip(j.Timezone)), "")
	}
}

// future warns of a day that is still to come.
func (l *linker) future(d quantity.Date, s Source, path string) {
	if !d.IsZero() && !l.opts.On.IsZero() && d.After(l.opts.On) {
		l.complain(ruleFutureDate, s, path, fmt.Sprintf("%s is in the future (today is %s)", d, l.opts.On), "")
	}
}

// tank checks a tank and its entries.
func (l *linker) tank(t *Tank) {
	l.future(t.Began, t.Source, "began")
	l.future(t.Ended, t.Source, "ended")
	for _, id := range slices.Sorted(maps.Keys(t.TrimWhen)) {
		if !l.known(id) {
			line, column := l.places.AtKey(t.Source, "trim-when."+id)
			l.unknownPlant(t.Source, line, column, id)
		}
	}
	l.formerly(t)
	for _, e := range t.Entries {
		l.entry(t, e)
	}
	l.measures(t)
	l.countedTwice(t)
	l.overTrimmed(t)
	l.doubtful(t)
}

// formerly checks the names that a tank had before: pages there are only free for leading on where no tank is.
func (l *linker) formerly(t *Tank) {
	for i, name := range t.Formerly {
		at := fmt.Sprintf("formerly[%d]", i)
		if !listing.ID.MatchString(name) {
			l.complain(ruleBadName, t.Source, at, fmt.Sprintf("%q is no name of a folder under tanks/", spelling.Clip(name)), "write it as the folder was called, as in formerly: [kitchen]")
			continue
		}
		for _, o := range l.journal.Tanks {
			if o.ID == name || o.ID < t.ID && slices.Contains(o.Formerly, name) || slices.Contains(t.Formerly[:i], name) {
				l.complain(ruleTakenName, t.Source, at, fmt.Sprintf("/tanks/%s/ is already %s's", name, o.ID), "leave it out here: an address can lead to one tank only")
				break
			}
		}
	}
}

// entry checks one entry against its tank, the almanac and the photos.
func (l *linker) entry(t *Tank, e *Entry) {
	switch {
	case e.Date.Before(t.Began):
		l.place(ruleBeforeTank, e.Source, 1, 1, fmt.Sprintf("the entry is dated %s, before the tank was set up on %s", e.Date, t.Began), "")
	case !t.Ended.IsZero() && !t.Ended.Before(t.Began) && e.Date.After(t.Ended):
		l.place(ruleAfterTank, e.Source, 1, 1, fmt.Sprintf("the entry is dated %s, after the tank was taken down on %s", e.Date, t.Ended), "")
	}
	if on := l.opts.On; !on.IsZero() && e.Date.After(on) {
		l.place(ruleFutureDate, e.Source, 1, 1, fmt.Sprintf("%s is in the future (today is %s)", e.Date, on), "")
	}
	for at, id := range e.plants() {
		if !l.known(*id) {
			line, column := l.at(e.Source, at.plant())
			l.unknownPlant(e.Source, line, column, *id)
		}
	}
	l.pictures(e.Source, e.Photos)
}

// plant checks a plant's own file.
func (l *linker) plant(p *Plant) {
	if _, known := l.names.Species(p.ID); !known && p.Taxon == "" && !l.asked[p.ID] {
		l.complain(ruleMissingKey, p.Source, "", fmt.Sprintf("%q is not in the almanac, so its file needs a taxon (scientific name)", p.ID), cmp.Or(l.nearPlant(p.ID), "add its scientific name, as in taxon: Anubias barteri"))
	}
	l.pictures(p.Source, p.Photos)
}

// known reports whether there is a plant of that id.
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
	if l.asked[id] {
		return
	}
	hint := cmp.Or(l.hint(s, func() string { return l.nearPlant(id) }),
		"use the scientific name, as in heteranthera-zosterifolia; for a plant of your own, add a file in plants/")
	l.place(ruleUnknownPlant, s, line, column, fmt.Sprintf("unknown plant %q: not in the almanac or in plants/", spelling.Clip(id)), hint)
}

// nearPlant is the hint for an unknown plant; "" where nothing is near.
func (l *linker) nearPlant(id string) string {
	if l.plantIDs == nil { // a cultivar that comes later is no misspelling
		l.plantIDs = slices.Sorted(maps.Keys(l.journal.plants))
	}
	near := spelling.Nearest(id, l.plantIDs)
	if near == "" {
		near = l.journal.Meant(l.names, id).ID
	}
	if near == "" || near == id {
		return ""
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
		hint := cmp.Or(l.hint(s, func() string { return spelling.Hint(strings.TrimPrefix(p.File, "photos/"), l.photos) }), "put it into photos/")
		l.complain(ruleNoPhoto, s, fmt.Sprintf("photos[%d].file", i), fmt.Sprintf("photos/%s not found", spelling.Clip(p.File)), hint)
	}
}
