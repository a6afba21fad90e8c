package main

import (
	"bytes"
	"context"
	"io/fs"
	"slices"
	"strings"

	"slipleaf/build/block"
	"slipleaf/build/change"
	"slipleaf/build/journal"
	"slipleaf/build/record"
)

// draft gathers what becomes of records: each file once, with the plants that it is to hold.
type draft struct {
	d      *desk
	files  []change.File
	meant  map[string][]journal.Item // by file
	byHand map[string]string         // by file: what to do where it can't be edited
	gone   []change.File             // places on the waiting list that end
}

func newDraft(d *desk) *draft {
	return &draft{d: d, meant: map[string][]journal.Item{}, byHand: map[string]string{}}
}

// put takes a record as it will be, in place of an earlier state of it.
func (x *draft) put(f change.File, items []journal.Item) {
	if i := x.at(f.Path); i >= 0 {
		x.files[i] = f
	} else {
		x.files = append(x.files, f)
	}
	x.meant[f.Path] = items
}

func (x *draft) at(file string) int {
	return slices.IndexFunc(x.files, func(f change.File) bool { return f.Path == file })
}

// edit takes a record with changes made to it, on top of those that it has here, so that it holds these plants. byHand says
// what to do where its way of writing is not known. No changes: the record as it is.
func (x *draft) edit(p *journal.Parcel, items []journal.Item, byHand string, edits ...record.Edit) error {
	f := change.File{Path: p.Path}
	if i := x.at(p.Path); i >= 0 {
		f = x.files[i]
	} else {
		old, err := x.d.bytesOf(p)
		if err != nil {
			return err
		}
		f.Before, f.After = old, old
	}
	x.byHand[p.Path] = byHand
	data, ok := record.Edited(f.After, edits...)
	if !ok {
		return x.unsafe(p.Path)
	}
	f.After = data
	x.put(f, items)
	return nil
}

func (x *draft) unsafe(file string) error {
	if x.byHand[file] == "" {
		return declined("said.by-hand-new", "I can't write that record safely")
	}
	return declined("said.by-hand", "I can't edit {file} safely; {how}", "file", shownPath(x.d.dir, file), "how", x.byHand[file])
}

// judged is the journal as it would be, if it holds and every record that changes says what is meant: a text may hold lines
// that look like keys.
func (x *draft) judged(ctx context.Context, asMeant func(was, now *journal.Parcel) bool) (*journal.Journal, error) {
	j, err := x.d.holds(ctx, x.all()...)
	if err != nil {
		return nil, err
	}
	for _, f := range x.files {
		if bytes.Equal(f.Before, f.After) {
			continue
		}
		if now := recordIn(j, f.Path); now == nil || !slices.Equal(now.Record(), x.meant[f.Path]) || !asMeant(recordIn(x.d.journal, f.Path), now) {
			return nil, x.unsafe(f.Path)
		}
	}
	return j, nil
}

// commit writes what was judged, and goes on from the journal as it then is.
func (x *draft) commit(ctx context.Context, what string, asMeant func(was, now *journal.Parcel) bool) error {
	j, err := x.judged(ctx, asMeant)
	if err != nil {
		return err
	}
	if err := x.d.write(ctx, what, x.all()); err != nil {
		return err
	}
	x.d.journal = j
	x.d.account()
	return nil
}

// all are the changes with what is gone.
func (x *draft) all() []change.File { return slices.Concat(x.files, x.gone) }

// stays takes a record as it is.
func (x *draft) stays(p *journal.Parcel) error { return x.edit(p, p.Record(), "") }

// fresh is a record of its own for some plants.
func (x *draft) fresh(c giving, name string, items []journal.Item, about block.Block, sent bool) error {
	for i, item := range items {
		lot, err := c.free(x.d, item, nil, about.Region, sent)
		if err != nil {
			return err
		}
		items[i].Lot = lot.ID
	}
	if waited, err := x.outOfWaiting(name, items, about, sent); waited || err != nil {
		return err
	}
	code, err := record.NewCode(x.d.w.Random, record.CodeLength)
	if err != nil {
		return err
	}
	about.Name = name
	return x.add(record.Record{Items: items, On: x.d.on, State: stateKey(sent), Code: code, About: about})
}

// add takes a new record.
func (x *draft) add(r record.Record) error {
	file, err := x.d.freeName(x.files)
	if err == nil {
		if len(r.Items) == 0 { // who waits has no lot yet
			r.Items = []journal.Item{{Count: r.Count}}
		}
		x.put(change.File{Path: file, After: r.Text()}, r.Items)
	}
	return err
}

// free is the lot of an item where so many plants can be given and may be given there.
func (c giving) free(d *desk, item journal.Item, but *journal.Parcel, region string, sent bool) (*journal.Lot, error) {
	lot, err := d.lot(item.Lot, item.Count, but, sent)
	if err != nil {
		return nil, err
	}
	return lot, c.lawful(d, lot, region)
}

// held is the plant of a lot in the record of p; nil where it holds none of it.
func held(p *journal.Parcel, lot string) *journal.Parcel {
	i := slices.IndexFunc(p.Plants(), func(one *journal.Parcel) bool { return strings.EqualFold(one.Lot, lot) })
	if i < 0 {
		return nil
	}
	return p.Plants()[i]
}

// sends is the record of a reservation with its plants sent: the date, the plants, a code where it has none, and what has
// become known of the recipient.
func (x *draft) sends(p *journal.Parcel, items []journal.Item, about block.Block) error {
	code, err := x.d.code(p, "sent")
	if err != nil {
		return err
	}
	return x.edit(p, items, "add this line by hand: sent: "+x.d.on.String(),
		record.WithKey("sent", x.d.on.String(), "reserved"), record.WithPlants(p.Record(), items), code, record.WithAll(corrected(p, about)...))
}

// code gives a record a code, which one that was written by hand may lack.
func (d *desk) code(p *journal.Parcel, behind string) (record.Edit, error) {
	if p.Code != "" {
		return record.WithAll(), nil
	}
	code, err := record.NewCode(d.w.Random, record.CodeLength)
	return record.WithKey("code", code, behind), err
}

func (d *desk) bytesOf(p *journal.Parcel) ([]byte, error) { return fs.ReadFile(d.fsys, p.Path) }
