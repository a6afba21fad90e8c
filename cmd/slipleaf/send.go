package main

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"slipleaf/build/block"
	"slipleaf/build/change"
	"slipleaf/build/journal"
)

type sendCmd struct {
	Who  string   `arg:"" help:"Whom the plants go to: a name or part of one, or a record, code, link or lot of theirs."`
	Lots []string `arg:"" optional:"" name:"lot:count" help:"What goes out, as in HZ-0418:6 (default: all that is reserved for them)."`
	giving
}

// Help gives examples.
func (sendCmd) Help() string {
	return `All that is reserved for Ada:        slipleaf send Ada --how post
Six that were not reserved:          slipleaf send "Bo Example" HZ-0418:6
Ada gets two more in a second bag:   slipleaf send Ada HZ-0418:2 --more
It never arrived:                    slipleaf report Ada lost-in-post`
}

// Run records plants going out. What was reserved keeps its record.
func (c sendCmd) Run(ctx context.Context, w world) error {
	wants, err := wantedOf(c.Lots)
	if err != nil {
		return err
	}
	about, err := c.about(w, wants)
	if err == nil && len(wants) > 0 {
		about, err = c.askRest(w, about)
	}
	if err != nil {
		return err
	}
	var out dispatch
	err = atDesk(ctx, w, c.In, c.On, func(d *desk) error {
		changes, err := c.changes(d, wants, about)
		if err != nil {
			return err
		}
		out, err = d.give(ctx, changes, true)
		return err
	})
	if err != nil {
		return err
	}
	return c.print(w, out)
}

// changes are the records as they will be: those of reservations completed, and new ones for the rest.
func (c sendCmd) changes(d *desk, wants []wanted, about block.Block) ([]change.File, error) {
	found := those(d.find(c.Who), open)
	if len(wants) == 0 {
		return c.allReserved(d, found, about)
	}
	var out []change.File
	for _, want := range wants {
		var p *journal.Parcel
		var err error
		if !c.More {
			p, err = d.reservation(c.Who, want, found)
		}
		if err != nil {
			return nil, err
		}
		var made change.File
		if p != nil {
			made, err = c.complete(d, p, want.count, about)
		} else {
			made, err = c.fresh(d, want, about, out)
		}
		if err != nil {
			return nil, err
		}
		out = append(out, made)
	}
	return out, nil
}

// allReserved completes every reservation of one person.
func (c sendCmd) allReserved(d *desk, found []*journal.Parcel, about block.Block) ([]change.File, error) {
	if len(found) == 0 {
		if len(d.find(c.Who)) == 0 {
			return nil, nobody(c.Who)
		}
		if out, err := d.sentToday(d.find(c.Who)); len(out) > 0 || err != nil {
			return out, err
		}
		return nil, wrongUse("nothing is reserved for %q; say what goes out, as in: slipleaf send %q HZ-0418:6", c.Who, c.Who)
	}
	if err := d.samePerson(c.Who, found); err != nil {
		return nil, err
	}
	var out []change.File
	for _, p := range found {
		made, err := c.complete(d, p, p.Count, about)
		if err != nil {
			return nil, err
		}
		out = append(out, made)
	}
	return out, nil
}

// sentToday are the records of one person that were sent on the day to act for: sending them again changes nothing.
func (d *desk) sentToday(found []*journal.Parcel) ([]change.File, error) {
	sent := those(found, func(p *journal.Parcel) bool { return p.Sent == d.on })
	if len(sent) == 0 || slices.ContainsFunc(sent, func(p *journal.Parcel) bool { return person(p) != person(sent[0]) }) {
		return nil, nil
	}
	var out []change.File
	for _, p := range sent {
		d.sentAlready(p)
		f, err := d.asItIs(p)
		if err != nil {
			return nil, err
		}
		out = append(out, f)
	}
	return out, nil
}

func (d *desk) sentAlready(p *journal.Parcel) {
	fmt.Fprintf(d.w.Err, "%s: %d of %s sent already, on %s; nothing was changed (for a second one add --more)\n", shownPath(d.dir, p.Path), p.Count, p.Lot, p.Sent)
}

// reservation is the record that holds plants of a lot for WHO; nil for none. Of several, it is the one of that count.
func (d *desk) reservation(who string, want wanted, found []*journal.Parcel) (*journal.Parcel, error) {
	of := those(found, func(p *journal.Parcel) bool { return strings.EqualFold(p.Lot, want.lot) })
	if len(of) > 1 {
		if err := d.samePerson(who, of); err != nil {
			return nil, err
		}
		if same := those(of, func(p *journal.Parcel) bool { return p.Count == want.count }); len(same) > 0 {
			of = same[:1]
		}
	}
	switch len(of) {
	case 0:
		return nil, nil
	case 1:
		return of[0], nil
	}
	return nil, d.several(who, of)
}

// fresh is a record for plants that were not reserved.
func (c sendCmd) fresh(d *desk, want wanted, about block.Block, taken []change.File) (change.File, error) {
	name, err := d.newName(c.Who, about)
	if err != nil {
		return change.File{}, err
	}
	same := d.theirs(name, want.lot, func(p *journal.Parcel) bool { return p.Sent == d.on && p.Count == want.count })
	if len(same) > 0 && !c.More {
		d.sentAlready(same[0])
		return d.asItIs(same[0])
	}
	return c.parcel(d, name, want, about, true, taken)
}

// complete is the record of a reservation with its plants sent.
func (c sendCmd) complete(d *desk, p *journal.Parcel, count int, about block.Block) (change.File, error) {
	lot, err := d.lot(p.Lot, count, p, true)
	if err != nil {
		return change.File{}, err
	}
	region := about.Region
	if region == "" {
		region = p.Region
	}
	if err := c.lawful(d, lot, region); err != nil {
		return change.File{}, err
	}
	return d.sentRecord(p, count, about)
}
