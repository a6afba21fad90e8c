package main

import (
	"cmp"
	"context"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"slipleaf/build/block"
	"slipleaf/build/change"
	"slipleaf/build/journal"
	"slipleaf/build/record"
)

type waitCmd struct {
	Who   string `arg:"" help:"Who waits: a name, or a record of theirs. It stays in the private part of the record."`
	Plant string `arg:"" name:"plant[:count]" help:"What they wait for, by any name of the plant, as in 'java fern' or anubias-barteri:3."`
	giving
}

// Run puts somebody on the waiting list of a plant.
func (c waitCmd) Run(ctx context.Context, w world) error {
	name, count, err := plantAndCount(c.Plant)
	if err != nil {
		return err
	}
	about, err := c.about(w, nil)
	if err != nil {
		return err
	}
	return atDesk(ctx, w, c.In, c.On, func(d *desk) error {
		plant, err := d.plantMeant(name, about.Region)
		if err != nil {
			return err
		}
		who, err := d.newName(c.Who, about)
		if err != nil {
			return err
		}
		if have := d.waitingFor(who, plant); len(have) > 0 {
			w.says("said.waits-already", "{file}: waits for {plant} already, since {day}; nothing was changed", "file", shownPath(d.dir, have[0].Path), "plant", d.species(plant), "day", have[0].Asked)
			return nil
		}
		about.Name = who
		x := newDraft(d)
		if err := x.add(record.Record{Plant: plant, Count: count, State: "asked", On: d.on, About: about}); err != nil {
			return err
		}
		if _, err := x.judged(ctx, func(_, now *journal.Parcel) bool { return now.Waits(d.on) && now.Plant == plant }); err != nil {
			return err
		}
		before := len(d.journal.Waiting(plant, d.on))
		if c.DryRun {
			fmt.Fprintf(w.Out, "%d wait for %s already. Nothing was written.\n", before, d.plantName(plant))
			return nil
		}
		if err := c.confirmed(w); err != nil {
			return err
		}
		if err := d.write(ctx, "waiting for "+plant, x.files); err != nil {
			return err
		}
		w.says("said.waits", "record  {file}\nwaits for {plant}, number {n} on the list", "file", shownPath(d.dir, x.files[0].Path), "plant", d.species(plant), "n", before+1)
		d.sayReady(plant)
		return nil
	})
}

// plantAndCount reads PLANT or PLANT:COUNT; a count of 0 was not said.
func plantAndCount(s string) (name string, count int, err error) {
	name, number, ok := strings.Cut(s, ":")
	if !ok {
		return s, 0, nil
	}
	count, err = strconv.Atoi(strings.TrimSpace(number))
	if err != nil || count < 1 {
		return "", 0, declined("said.count", "\"{lot}:{n}\" is not PLANT:COUNT; write it like anubias-barteri:3", "lot", name, "n", number)
	}
	return strings.TrimSpace(name), count, nil
}

// plantMeant is the plant that a name means here and where the recipient lives.
func (d *desk) plantMeant(name, region string) (string, error) {
	if lot, ok := d.journal.Lot(name); ok {
		return "", declined("said.wait-lot", "{lot} is a lot of {plant}: to set plants of it aside: slipleaf reserve WHO {lot}:COUNT", "lot", name, "plant", d.species(lot.Plant))
	}
	if s, ok := d.names.Species(name); ok {
		return s.ID, nil
	}
	plant, err := d.plantCalled(name, region)
	if err == nil && plant == "" {
		err = declined("desk.unknown-plant", "no plant is called \"{name}\"; see: slipleaf name {arg}", "name", name, "arg", strconv.Quote(name))
	}
	return plant, err
}

// waitingFor are the records by which the person of that name waits for a plant.
func (d *desk) waitingFor(name, plant string) []*journal.Parcel {
	return those(d.journal.Waiting(plant, d.on), func(p *journal.Parcel) bool { return folded(name) != "" && folded(nameIn(p)) == folded(name) })
}

// sayReady says which lots of a plant have plants now.
func (d *desk) sayReady(plant string) {
	for _, l := range d.ledger.Offered() {
		if l.Plant == plant && l.Left > 0 && !l.Expected {
			d.w.says("said.ready", "{lot} has {n} left now: slipleaf reserve WHO {lot}:COUNT", "lot", l.ID, "n", l.Left)
		}
	}
}

// askedFor are the records of the person of that name that ask for these lots and no others, and hold nothing yet.
func (d *desk) askedFor(name string, items []journal.Item) []*journal.Parcel {
	return those(d.journal.Parcels, func(p *journal.Parcel) bool {
		other := slices.ContainsFunc(p.Record(), func(i journal.Item) bool {
			return !slices.ContainsFunc(items, func(x journal.Item) bool { return x.Lot == i.Lot })
		})
		return p.First() && p.Lot != "" && waits(p) && p.Reserved.IsZero() && !p.Asked.After(d.on) && !other && folded(name) != "" && folded(nameIn(p)) == folded(name)
	})
}

// outOfWaiting is the record of somebody who asked or waited for one of these plants, now that they are theirs: the same file
// with lots in place of the plant. Further records that the plants end are gone. ok is false where the person asked for none
// of them.
func (x *draft) outOfWaiting(name string, items []journal.Item, about block.Block, sent bool) (ok bool, err error) {
	d := x.d
	waited := d.askedFor(name, items)
	for _, i := range items {
		if lot, ok := d.journal.Lot(i.Lot); ok {
			waited = append(waited, those(d.waitingFor(name, lot.Plant), waits)...) // not who has cancelled on a later day
		}
	}
	if len(waited) == 0 {
		return false, nil
	}
	p := slices.MinFunc(waited, func(a, b *journal.Parcel) int { return cmp.Or(a.Asked.Compare(b.Asked), cmp.Compare(a.Path, b.Path)) })
	code, err := d.code(p, stateKey(sent))
	if err != nil {
		return false, err
	}
	if err := x.edit(p, items, "put lot: and count: in place of plant: there by hand", record.Replace(record.PlantsText(items), "plant", "lot", "count", "items"),
		record.WithAll(record.About(about)...), record.WithKey(stateKey(sent), d.on.String(), "asked"), code); err != nil {
		return false, err
	}
	for _, other := range waited {
		if other.Path == p.Path {
			continue
		}
		old, err := d.bytesOf(other)
		if err != nil {
			return false, err
		}
		x.gone = append(x.gone, change.File{Path: other.Path, Before: old})
	}
	return true, nil
}
