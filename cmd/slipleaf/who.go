package main

import (
	"fmt"
	"path"
	"slices"
	"strings"

	"slipleaf/build/journal"
)

// find lists the records that WHO means: the one of a sheet's link, a code or a record's file, else those that a name or
// the beginning of a word of one, the first letters of a code, or a lot leads to. A whole name beats a part of one; Ann Lee is not
// Joann Lee.
func (d *desk) find(who string) []*journal.Parcel {
	if p := d.exactly(who); p != nil {
		return p.Plants()
	}
	var whole, partly []*journal.Parcel
	for _, p := range d.journal.Parcels {
		name := folded(nameIn(p))
		switch {
		case name != "" && name == folded(who):
			whole = append(whole, p)
		case folded(who) != "" && strings.Contains(" "+name, " "+folded(who)), strings.EqualFold(p.Lot, who), beginsCode(p.Code, who):
			partly = append(partly, p)
		}
	}
	if len(whole) > 0 {
		return whole
	}
	return partly
}

// findWords is find, but a name counts by its whole words alone: where plants may be for somebody new, Ann is not Anna.
func (d *desk) findWords(who string) []*journal.Parcel {
	return those(d.find(who), func(p *journal.Parcel) bool {
		name := " " + folded(nameIn(p)) + " "
		return !strings.Contains(name, " "+folded(who)) || strings.Contains(name, " "+folded(who)+" ")
	})
}

// exactly is the one record of a sheet's link, a whole code or a file under sent/.
func (d *desk) exactly(who string) *journal.Parcel {
	if _, after, ok := strings.Cut(who, "/sheets/"); ok {
		who, _, _ = strings.Cut(after, "/")
	}
	if p, ok := d.journal.ParcelByCode(strings.ToLower(strings.TrimSpace(who))); ok {
		return p
	}
	for _, p := range d.journal.Parcels {
		if file := path.Clean(who); file == p.Path || file == shownPath(d.dir, p.Path) || file == path.Base(p.Path) || file == p.Name {
			return p
		}
	}
	return nil
}

// leastCode is how many letters of a code name a parcel: a million codes share no four letters by design, so that more
// may be needed, but fewer would be a guess.
const leastCode = 4

func beginsCode(code, who string) bool {
	return len(who) >= leastCode && strings.HasPrefix(code, strings.ToLower(who))
}

// folded is a name without regard to capitals and spaces.
func folded(name string) string { return strings.ToLower(strings.Join(strings.Fields(name), " ")) }

func nameIn(p *journal.Parcel) string {
	name, _ := p.Private.Reveal("name")
	return name
}

// person is what records of one person have in common: the name, or the record itself where it has none.
func person(p *journal.Parcel) string {
	if name := folded(nameIn(p)); name != "" {
		return name
	}
	return p.Path
}

// open reports whether p is reserved, and neither sent nor cancelled.
func open(p *journal.Parcel) bool {
	return !p.Reserved.IsZero() && p.Sent.IsZero() && p.Cancelled.IsZero()
}

func those(all []*journal.Parcel, want func(*journal.Parcel) bool) []*journal.Parcel {
	return slices.DeleteFunc(slices.Clone(all), func(p *journal.Parcel) bool { return !want(p) })
}

// samePerson refuses records of several people.
func (d *desk) samePerson(who string, found []*journal.Parcel) error {
	if slices.ContainsFunc(found, func(p *journal.Parcel) bool { return person(p) != person(found[0]) }) {
		return d.several(who, found)
	}
	return nil
}

// several lists what WHO may mean. It shows files, not names: others may see the terminal.
func (d *desk) several(who string, found []*journal.Parcel) error {
	var b strings.Builder
	records := map[string]bool{}
	for _, p := range found {
		if records[p.Path] {
			continue
		}
		records[p.Path] = true
		fmt.Fprintf(&b, "\n  %s: %s, %s", shownPath(d.dir, p.Path), countedPlants(p.Plants()), stateOf(p))
		if p.Code != "" {
			fmt.Fprintf(&b, ", code %s…", p.Code[:min(leastCode+2, len(p.Code))])
		}
	}
	return declined("said.who-several", "\"{who}\" fits {n} records; give one of them by its file or the first letters of its code:{records}", "who", who, "n", len(records), "records", b.String())
}

func stateOf(p *journal.Parcel) string {
	switch {
	case !p.Cancelled.IsZero():
		return "cancelled " + p.Cancelled.String()
	case !p.Sent.IsZero():
		return "sent " + p.Sent.String()
	case !p.Reserved.IsZero():
		return "reserved " + p.Reserved.String()
	}
	if p.Lot == "" {
		return "waits since " + p.Asked.String()
	}
	return "asked for"
}

// nobody says what was looked for in vain.
func nobody(who string) error {
	return declined("said.nobody", "nothing found for \"{who}\": looked for a name or part of one, a file in sent/, a code or its first {n} letters, a care-sheet link, and a lot", "who", who, "n", leastCode)
}
