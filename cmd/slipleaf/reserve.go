package main

import (
	"context"
	"strings"

	"slipleaf/build/block"
	"slipleaf/build/change"
)

type reserveCmd struct {
	Who  string   `arg:"" help:"Whom the plants are for: a name, or a record, code or link of theirs. It stays in the private part of the record."`
	Lots []string `arg:"" name:"lot:count" help:"What is set aside, as in HZ-0418:6."`
	giving
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
			made, err := c.parcel(d, who, want, about, false, changes)
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
