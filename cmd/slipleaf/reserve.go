package main

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"slipleaf/build/block"
	"slipleaf/build/change"
	"slipleaf/build/journal"
)

type reserveCmd struct {
	Who     string   `arg:"" help:"Whom the plants are for: a name, or a record, code or link of theirs. It stays in the private part of the record."`
	Lots    []string `arg:"" name:"lot:count" help:"What is set aside, as in HZ-0418:6."`
	Instead bool     `help:"This count replaces the one that is reserved for them."`
	giving
}

// Help gives examples.
func (reserveCmd) Help() string {
	return `Two lots for one person:             slipleaf reserve "Ada Example" HZ-0418:3 VS-0601:2
Ada wants two more:                  slipleaf reserve Ada HZ-0418:2 --more
Ada wants 5, not 3:                  slipleaf reserve Ada HZ-0418:5 --instead
Ada changed her mind:                slipleaf cancel Ada`
}

// Run sets plants aside for somebody.
func (c reserveCmd) Run(ctx context.Context, w world) error {
	wants, err := wantedOf(c.Lots)
	if err != nil {
		return err
	}
	about, err := c.about(w, wants)
	if err == nil {
		about, err = c.askRest(w, about)
	}
	if err != nil {
		return err
	}
	var out dispatch
	err = atDesk(ctx, w, c.In, c.On, func(d *desk) error {
		who, err := d.newName(c.Who, about)
		if err != nil {
			return err
		}
		var changes []change.File
		for _, want := range wants {
			made, err := c.wanted(d, who, want, about, changes)
			if err != nil {
				return err
			}
			changes = append(changes, made)
		}
		out, err = d.give(ctx, changes, false)
		return err
	})
	if err != nil {
		return err
	}
	return c.print(w, out)
}

// wanted is the record of a count of a lot: a new one, or the one that the person has. The same again changes nothing.
func (c reserveCmd) wanted(d *desk, name string, want wanted, about block.Block, taken []change.File) (change.File, error) {
	have := d.theirs(name, want.lot, open)
	switch {
	case c.More || len(have) == 0:
		return c.parcel(d, name, want, about, false, taken)
	case len(have) > 1 && c.Instead:
		return change.File{}, d.several(name, have)
	case c.Instead:
		return d.otherCount(have[0], want.count)
	}
	i := slices.IndexFunc(have, func(p *journal.Parcel) bool { return p.Count == want.count })
	if i < 0 {
		return change.File{}, wrongUse("%d of %s are reserved for them already: add --more for %d on top of these, or --instead to hold %d and no more",
			have[0].Count, have[0].Lot, want.count, want.count)
	}
	fmt.Fprintf(d.w.Err, "%s: reserved already, on %s; nothing was changed (for more plants add --more)\n", shownPath(d.dir, have[i].Path), have[i].Reserved)
	return d.asItIs(have[i])
}

// theirs are the records of a lot for the person of that name, in one state.
func (d *desk) theirs(name, lot string, state func(*journal.Parcel) bool) []*journal.Parcel {
	return those(d.journal.Parcels, func(p *journal.Parcel) bool {
		return folded(name) != "" && folded(nameIn(p)) == folded(name) && strings.EqualFold(p.Lot, lot) && state(p)
	})
}

// asItIs is a record that stays.
func (d *desk) asItIs(p *journal.Parcel) (change.File, error) {
	old, err := os.ReadFile(filepath.Join(d.dir, filepath.FromSlash(p.Path)))
	d.counts[p.Path] = p.Count
	return change.File{Path: p.Path, Before: old, After: old}, err
}

// otherCount is a reservation of another count, held from the day to act for.
func (d *desk) otherCount(p *journal.Parcel, count int) (change.File, error) {
	if _, err := d.lot(p.Lot, count, p, false); err != nil {
		return change.File{}, err
	}
	f, err := d.withDay(p, "reserved", d.on)
	if err != nil {
		return f, err
	}
	data, ok := withKey(f.After, "count", strconv.Itoa(count), "lot")
	if !ok {
		return f, wrongUse("I can't edit %s safely; set by hand: count: %d", shownPath(d.dir, p.Path), count)
	}
	f.After, d.counts[p.Path] = data, count
	return f, nil
}

// parcel is a new record of a count of a lot for a person.
func (c giving) parcel(d *desk, name string, want wanted, about block.Block, sent bool, taken []change.File) (change.File, error) {
	lot, err := d.lot(want.lot, want.count, nil, sent)
	if err != nil {
		return change.File{}, err
	}
	if err := c.lawful(d, lot, about.Region); err != nil {
		return change.File{}, err
	}
	about.Name = name
	return d.newParcel(record{lot: lot.ID, count: want.count, on: d.on, sent: sent, about: about}, taken)
}

// newName is the name that a new record gets: that of the record which WHO points at, the name as it was written before,
// the fuller one of the message, else WHO itself.
func (d *desk) newName(who string, about block.Block) (string, error) {
	if _, isLot := d.journal.Lot(who); isLot {
		return "", wrongUse("%s is a lot; say first whom the plants are for, then LOT:COUNT", who)
	}
	if p := d.exactly(who); p != nil {
		return nameIn(p), nil
	}
	if strings.Contains(who, "/sheets/") || strings.HasSuffix(who, ".md") {
		return "", nobody(who)
	}
	if strings.Contains(folded(about.Name), folded(who)) {
		return about.Name, nil
	}
	for _, p := range d.journal.Parcels {
		if name := nameIn(p); name != "" && folded(name) == folded(who) {
			return name, nil
		}
	}
	return strings.TrimSpace(who), nil
}
