package main

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"slipleaf/build/change"
	"slipleaf/build/journal"
	"slipleaf/build/quantity"
	"slipleaf/build/record"
)

type cancelCmd struct {
	Who  string   `arg:"" help:"Whose plants are no longer wanted: a name or part of one, or a record, code, link or lot of theirs."`
	Lots []string `arg:"" optional:"" name:"lot" help:"Only these lots (default: all that is reserved or asked for)."`
	In   string   `placeholder:"DIR" help:"The journal (default: content, or the current folder)."`
	On   string   `placeholder:"DATE" help:"Treat this date as today."`
}

// Help gives examples.
func (cancelCmd) Help() string {
	return `The plants are free again; the record stays, with the day.

  Somebody changed their mind:       slipleaf cancel Ada
  about one of two lots:             slipleaf cancel Ada HZ-0418
  and wants 5 instead of 3:          slipleaf reserve Ada HZ-0418:5 --instead
  What was sent can't be cancelled:  slipleaf report Ada lost-in-post`
}

// Run frees what is reserved or asked for.
func (c cancelCmd) Run(ctx context.Context, w world) error {
	return atDesk(ctx, w, c.In, c.On, func(d *desk) error {
		found, err := c.chosen(d)
		if err != nil {
			return err
		}
		waiting := those(found, waits)
		if len(waiting) == 0 {
			return d.nothingToCancel(c.Who, found)
		}
		if err := d.samePerson(c.Who, waiting); err != nil {
			return err
		}
		x, err := d.cancelled(waiting)
		if err != nil {
			return err
		}
		changes := x.files
		j, err := d.holds(ctx, changes...)
		if err != nil {
			return err
		}
		for _, f := range changes {
			if p := recordIn(j, f.Path); p == nil || p.Cancelled.IsZero() && slices.Equal(x.meant[f.Path], recordIn(d.journal, f.Path).Record()) || !slices.Equal(p.Record(), x.meant[f.Path]) {
				return wrongUse("I can't edit %s safely; add this line by hand: cancelled: %s", shownPath(d.dir, f.Path), d.on)
			}
		}
		freed := "cancel " + countedPlants(waiting)
		if err := d.write(ctx, freed, changes); err != nil {
			return err
		}
		d.journal = j
		d.account()
		for _, p := range waiting {
			if p.Lot == "" {
				fmt.Fprintf(w.Out, "%s: waits no more for %s\n", shownPath(d.dir, p.Path), d.plantName(p.Plant))
				continue
			}
			fmt.Fprintf(w.Out, "%s: %d of %s cancelled; %s has %d left\n", shownPath(d.dir, p.Path), p.Count, p.Lot, p.Lot, d.left(p.Lot, nil))
		}
		return nil
	})
}

// chosen are the records of WHO, of the named lots only.
func (c cancelCmd) chosen(d *desk) ([]*journal.Parcel, error) {
	found := d.find(c.Who)
	if len(found) == 0 {
		return nil, nobody(c.Who)
	}
	for _, lot := range c.Lots {
		if !slices.ContainsFunc(found, func(p *journal.Parcel) bool { return strings.EqualFold(p.Lot, lot) }) {
			return nil, wrongUse("%q has nothing of lot %s", c.Who, lot)
		}
	}
	return those(found, func(p *journal.Parcel) bool {
		return len(c.Lots) == 0 || slices.ContainsFunc(c.Lots, func(lot string) bool { return strings.EqualFold(p.Lot, lot) })
	}), nil
}

// waits reports whether p is reserved or asked for, and neither sent nor cancelled.
func waits(p *journal.Parcel) bool { return p.Sent.IsZero() && p.Cancelled.IsZero() }

// nothingToCancel says why: what is cancelled already is no fault.
func (d *desk) nothingToCancel(who string, found []*journal.Parcel) error {
	if sent := those(found, func(p *journal.Parcel) bool { return !p.Sent.IsZero() }); len(sent) > 0 {
		return wrongUse("what fits %q was sent on %s and can't be cancelled; if it never arrived: slipleaf report %q %s", who, sent[len(sent)-1].Sent, who, journal.LostInPost)
	}
	for _, p := range found {
		fmt.Fprintf(d.w.Out, "%s: %s already; nothing was changed\n", shownPath(d.dir, p.Path), stateOf(p))
	}
	return nil
}

// cancelled are the records with the day on which they were cancelled. Where one plant of several is no longer wanted, the
// others keep their record, and it is taken out.
func (d *desk) cancelled(of []*journal.Parcel) (*draft, error) {
	x := newDraft(d)
	for _, p := range of {
		if _, done := x.meant[p.Path]; done {
			continue
		}
		left := slices.DeleteFunc(p.Record(), func(i journal.Item) bool {
			return slices.ContainsFunc(of, func(o *journal.Parcel) bool { return o.Path == p.Path && o.Lot == i.Lot })
		})
		if len(left) == 0 {
			f, err := d.withDay(p, "cancelled", d.on)
			if err != nil {
				return nil, err
			}
			x.put(f, p.Record())
			continue
		}
		old, err := d.bytesOf(p)
		if err != nil {
			return nil, err
		}
		data, ok := record.WithPlants(old, p.Record(), left)
		if !ok {
			return nil, wrongUse("I can't edit %s safely; delete its item by hand", shownPath(d.dir, p.Path))
		}
		x.put(change.File{Path: p.Path, Before: old, After: data}, left)
	}
	return x, nil
}

// withDay is a record with one more day; every other byte stays.
func (d *desk) withDay(p *journal.Parcel, key string, day quantity.Date) (change.File, error) {
	old, err := d.bytesOf(p)
	if err != nil {
		return change.File{}, err
	}
	data, ok := record.WithKey(old, key, day.String(), "reserved")
	if !ok {
		return change.File{}, wrongUse("I can't edit %s safely; add this line by hand: %s: %s", shownPath(d.dir, p.Path), key, day)
	}
	return change.File{Path: p.Path, Before: old, After: data}, nil
}
