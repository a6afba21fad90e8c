package main

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"slipleaf/build/block"
	"slipleaf/build/journal"
	"slipleaf/build/record"
)

type reserveCmd struct {
	Who     string   `arg:"" help:"Whom the plants are for: a name, or a record, code or link of theirs. It stays in the private part of the record."`
	Lots    []string `arg:"" optional:"" name:"lot:count" help:"What is set aside, as in HZ-0418:6, or 'java fern:6' where one lot of it has plants (default: what the message of --from asks for)."`
	Instead bool     `help:"This count replaces the one that is reserved for them."`
	giving
}

// Run sets plants aside for somebody.
func (c reserveCmd) Run(ctx context.Context, w world) error {
	wants, err := itemsOf(c.Lots)
	if err != nil {
		return err
	}
	if len(wants) == 0 && c.From == "" {
		return errNothing // before their tank is asked about
	}
	about, err := c.about(w, wants)
	if err == nil {
		about, err = c.askRest(w, about)
	}
	if err != nil {
		return err
	}
	return atDesk(ctx, w, c.In, c.On, func(d *desk) error {
		wants, err := c.askedFor(d, wants)
		if err == nil {
			wants, err = d.lots(wants, about.Region)
		}
		if err != nil {
			return err
		}
		who, err := d.newName(c.Who, about)
		if err != nil {
			return err
		}
		x, fresh := newDraft(d), []journal.Item(nil)
		for _, want := range wants {
			have := d.theirs(who, want.Lot, open)
			if c.More || len(have) == 0 {
				fresh = append(fresh, want)
			} else if err := c.again(x, who, want, about, have); err != nil {
				return err
			}
		}
		if len(fresh) > 0 {
			if err := x.fresh(c.giving, who, fresh, about, false); err != nil {
				return err
			}
		}
		return c.give(ctx, d, x, false)
	})
}

// again is for a lot that the person has plants of already. The same count changes nothing.
func (c reserveCmd) again(x *draft, who string, want journal.Item, about block.Block, have []*journal.Parcel) error {
	switch {
	case len(have) > 1 && c.Instead:
		return x.d.several(who, have)
	case c.Instead:
		return x.instead(have[0], want.Count)
	}
	i := slices.IndexFunc(have, func(p *journal.Parcel) bool { return p.Count == want.Count })
	if i < 0 {
		return declined("said.reserved-other", "{has} of {lot} are reserved for them already: add --more for {n} on top of these, or --instead to hold {n} and no more",
			"has", have[0].Count, "lot", have[0].Lot, "n", want.Count)
	}
	if changed, err := x.corrects(have[i], about); changed || err != nil {
		return err
	}
	fmt.Fprintf(x.d.w.Err, "%s: reserved already, on %s; nothing was changed (for more plants add --more)\n", shownPath(x.d.dir, have[i].Path), have[i].Reserved)
	return x.stays(have[i])
}

// theirs are the plants of a lot for the person of that name, in one state.
func (d *desk) theirs(name, lot string, state func(*journal.Parcel) bool) []*journal.Parcel {
	return those(d.journal.Parcels, func(p *journal.Parcel) bool {
		return folded(name) != "" && folded(nameIn(p)) == folded(name) && strings.EqualFold(p.Lot, lot) && state(p)
	})
}

// instead is a reservation of another count, held from the day to act for.
func (x *draft) instead(p *journal.Parcel, count int) error {
	d := x.d
	if _, err := d.lot(p.Lot, count, p, false); err != nil {
		return err
	}
	code, err := d.code(p, "reserved")
	if err != nil {
		return err
	}
	was := p.Record()
	if meant, ok := x.meant[p.Path]; ok { // another plant of it
		was = meant
	}
	items := slices.Clone(was)
	items[slices.IndexFunc(items, func(i journal.Item) bool { return i.Lot == p.Lot })].Count = count
	return x.edit(p, items, fmt.Sprintf("set by hand: count: %d", count), record.WithKey("reserved", d.on.String(), "reserved"), record.WithPlants(was, items), code)
}

// newName is the name that a new record gets: that of the record which WHO points at, the name as it was written before,
// the fuller one of the message, else WHO itself.
func (d *desk) newName(who string, about block.Block) (string, error) {
	if _, isLot := d.journal.Lot(who); isLot {
		return "", declined("said.who-lot", "{who} is a lot; say first whom the plants are for, then LOT:COUNT", "who", who)
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
	return d.knownBy(strings.TrimSpace(who))
}

// knownBy is the one name on record of which WHO is a word, as the first name is; who is on record by no such name is new.
func (d *desk) knownBy(who string) (string, error) {
	found := those(d.journal.Parcels, func(p *journal.Parcel) bool { return slices.Contains(strings.Fields(folded(nameIn(p))), folded(who)) })
	if len(found) == 0 {
		return who, nil
	}
	if err := d.samePerson(who, found); err != nil {
		return "", fmt.Errorf("%w\nfor somebody new give the full name", err)
	}
	fmt.Fprintf(d.w.Err, "note: %q is taken for the person of %s; for somebody else give the full name\n", who, shownPath(d.dir, found[0].Path))
	return nameIn(found[0]), nil
}
