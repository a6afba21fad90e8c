package main

import (
	"context"
	"slices"
	"strconv"
	"strings"

	"slipleaf/build/journal"
	"slipleaf/build/record"
)

type cancelCmd struct {
	Who  string   `arg:"" help:"Whose plants are no longer wanted: a name or part of one, or a record, code, link or lot of theirs."`
	Lots []string `arg:"" optional:"" name:"lot" help:"Only these lots (default: all that is reserved or asked for)."`
	In   string   `placeholder:"DIR" help:"The journal (default: content, or the current folder)."`
	On   string   `placeholder:"DATE" help:"Treat this date as today."`
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
		if err := x.commit(ctx, "cancel "+countedPlants(waiting), func(was, now *journal.Parcel) bool {
			return !now.Cancelled.IsZero() || !slices.Equal(now.Record(), was.Record())
		}); err != nil {
			return err
		}
		for _, p := range waiting {
			if p.Lot == "" {
				w.says("said.waits-no-more", "{file}: waits no more for {plant}", "file", shownPath(d.dir, p.Path), "plant", d.species(p.Plant))
				continue
			}
			w.says("said.cancelled", "{file}: {n} of {lot} cancelled; {lot} has {left} left", "file", shownPath(d.dir, p.Path), "n", p.Count, "lot", p.Lot, "left", d.left(p.Lot, nil))
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
		return declined("said.cancel-sent", "what fits \"{who}\" was sent on {day} and can't be cancelled; if it never arrived: slipleaf report {arg} {lost}",
			"who", who, "day", sent[len(sent)-1].Sent, "arg", strconv.Quote(who), "lost", journal.LostInPost)
	}
	for _, p := range found {
		d.w.says("said.cancelled-already", "{file}: {state} already; nothing was changed", "file", shownPath(d.dir, p.Path), "state", stateOf(p))
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
		var err error
		if len(left) == 0 {
			err = x.edit(p, p.Record(), "add this line by hand: cancelled: "+d.on.String(), record.WithKey("cancelled", d.on.String(), "reserved"))
		} else {
			err = x.edit(p, left, "delete its item by hand", record.WithPlants(p.Record(), left))
		}
		if err != nil {
			return nil, err
		}
	}
	return x, nil
}
