package main

import (
	"cmp"
	"context"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"slipleaf/build/block"
	"slipleaf/build/journal"
)

type sendCmd struct {
	Who  string   `arg:"" help:"Whom the plants go to: a name or part of one, or a record, code, link or lot of theirs."`
	Lots []string `arg:"" optional:"" name:"lot:count" help:"What goes out, as in HZ-0418:6 (default: all that is reserved for them)."`
	giving
}

// Run records plants going out. What was reserved keeps its record.
func (c sendCmd) Run(ctx context.Context, w world) error {
	wants, err := itemsOf(c.Lots)
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
	return atDesk(ctx, w, c.In, c.On, func(d *desk) error {
		wants, err := d.lots(wants, about.Region)
		if err != nil {
			return err
		}
		x := newDraft(d)
		if err := c.fill(x, wants, about); err != nil {
			return err
		}
		return c.give(ctx, d, x, true)
	})
}

// fill drafts the records: reservations completed, and one new record for the rest. Where one bag holds both, the rest goes
// into the record that was reserved.
func (c sendCmd) fill(x *draft, wants []journal.Item, about block.Block) error {
	if len(wants) == 0 {
		return c.allReserved(x, those(x.d.find(c.Who), open), about)
	}
	found := those(x.d.findWords(c.Who), open)
	var reserved []*journal.Parcel // a plant of each record
	going, fresh := map[string][]journal.Item{}, []journal.Item(nil)
	for _, want := range wants {
		p, err := c.reservation(x.d, want, found)
		switch {
		case err != nil:
			return err
		case p == nil:
			fresh = append(fresh, want)
			continue
		case going[p.Path] == nil:
			reserved = append(reserved, p)
		}
		going[p.Path] = append(going[p.Path], journal.Item{Lot: p.Lot, Count: want.Count})
	}
	fresh, err := c.notYetSent(x, fresh)
	if err != nil {
		return err
	}
	if len(reserved) > 0 && len(fresh) > 0 {
		first := reserved[0].Path
		going[first], fresh = append(going[first], fresh...), nil
	}
	for _, p := range reserved {
		if err := c.complete(x, p, going[p.Path], about); err != nil {
			return err
		}
	}
	if len(fresh) == 0 {
		return nil
	}
	name, err := x.d.newName(c.Who, about)
	if err != nil {
		return err
	}
	return x.fresh(c.giving, name, fresh, about, true)
}

// allReserved completes every reservation of one person.
func (c sendCmd) allReserved(x *draft, found []*journal.Parcel, about block.Block) error {
	if len(found) == 0 {
		all := x.d.find(c.Who)
		if len(all) == 0 {
			return nobody(c.Who)
		}
		if err := x.sentToday(all); len(x.files) > 0 || err != nil {
			return err
		}
		return declined("said.none-reserved", "nothing is reserved for \"{who}\"; say what goes out, as in: slipleaf send {arg} HZ-0418:6", "who", c.Who, "arg", strconv.Quote(c.Who))
	}
	if err := x.d.samePerson(c.Who, found); err != nil {
		return err
	}
	for _, p := range found {
		if _, done := x.meant[p.Path]; done {
			continue
		}
		if err := c.complete(x, p, p.Record(), about); err != nil {
			return err
		}
	}
	return nil
}

// sentToday takes the records of one person that were sent on the day to act for: sending them again changes nothing.
func (x *draft) sentToday(found []*journal.Parcel) error {
	sent := those(found, func(p *journal.Parcel) bool { return p.Sent == x.d.on })
	if len(sent) == 0 || slices.ContainsFunc(sent, func(p *journal.Parcel) bool { return person(p) != person(sent[0]) }) {
		return nil
	}
	for _, p := range sent {
		if err := x.sentAlready(p); err != nil {
			return err
		}
	}
	return nil
}

func (x *draft) sentAlready(p *journal.Parcel) error {
	fmt.Fprintf(x.d.w.Err, "%s: %d of %s sent already, on %s; nothing was changed (for a second one add --more)\n", shownPath(x.d.dir, p.Path), p.Count, p.Lot, p.Sent)
	return x.stays(p)
}

// notYetSent leaves out what went out to them on the same day in the same count.
func (c sendCmd) notYetSent(x *draft, fresh []journal.Item) ([]journal.Item, error) {
	sent := those(x.d.findWords(c.Who), func(p *journal.Parcel) bool { return p.Sent == x.d.on })
	if c.More || len(sent) == 0 || x.d.samePerson(c.Who, sent) != nil {
		return fresh, nil
	}
	var out []journal.Item
	for _, want := range fresh {
		i := slices.IndexFunc(sent, func(p *journal.Parcel) bool {
			one := held(p, want.Lot)
			return one != nil && one.Count == want.Count
		})
		if i < 0 {
			out = append(out, want)
		} else if err := x.sentAlready(held(sent[i], want.Lot)); err != nil {
			return nil, err
		}
	}
	return out, nil
}

// reservation is the plant of a record that is held for WHO; nil for none. Of several, it is the one of that count.
func (c sendCmd) reservation(d *desk, want journal.Item, found []*journal.Parcel) (*journal.Parcel, error) {
	of := those(found, func(p *journal.Parcel) bool { return held(p, want.Lot) != nil })
	if len(of) > 1 {
		if err := d.samePerson(c.Who, of); err != nil {
			return nil, err
		}
		if same := those(of, func(p *journal.Parcel) bool { return held(p, want.Lot).Count == want.Count }); len(same) > 0 {
			of = same[:1]
		}
	}
	switch {
	case len(of) == 0 || c.More:
		return nil, nil
	case len(of) == 1 || sameRecord(of):
		return held(of[0], want.Lot), nil
	}
	return nil, d.several(c.Who, of)
}

// complete is the record of a reservation with its plants sent. All that it holds goes out: what stays behind would lose
// its record.
func (c sendCmd) complete(x *draft, p *journal.Parcel, items []journal.Item, about block.Block) error {
	for _, one := range p.Plants() {
		if !slices.ContainsFunc(items, func(i journal.Item) bool { return strings.EqualFold(i.Lot, one.Lot) }) {
			return declined("said.holds-too", "{file} holds {n} of {lot} too: name it as well, or take it out first: slipleaf cancel {arg} {lot}",
				"file", shownPath(x.d.dir, p.Path), "n", one.Count, "lot", one.Lot, "arg", strconv.Quote(c.Who))
		}
	}
	region := cmp.Or(about.Region, p.Region)
	for i, item := range items {
		lot, err := c.free(x.d, item, held(p, item.Lot), region, true)
		if err != nil {
			return err
		}
		items[i].Lot = lot.ID
	}
	return x.sends(p, items, about)
}
