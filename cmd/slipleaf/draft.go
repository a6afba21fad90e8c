package main

import (
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
	d     *desk
	files []change.File
	meant map[string][]journal.Item // by file
	gone  []change.File             // places on the waiting list that end
}

func newDraft(d *desk) *draft { return &draft{d: d, meant: map[string][]journal.Item{}} }

// put takes a record as it will be, in place of an earlier state of it.
func (x *draft) put(f change.File, items []journal.Item) {
	if i := slices.IndexFunc(x.files, func(y change.File) bool { return y.Path == f.Path }); i >= 0 {
		x.files[i] = f
	} else {
		x.files = append(x.files, f)
	}
	x.meant[f.Path] = items
}

// stays takes a record as it is.
func (x *draft) stays(p *journal.Parcel) error {
	old, err := x.d.bytesOf(p)
	if err == nil {
		x.put(change.File{Path: p.Path, Before: old, After: old}, p.Record())
	}
	return err
}

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
	file, err := x.d.freeName(x.files)
	if err != nil {
		return err
	}
	about.Name = name
	x.put(change.File{Path: file, After: record.Record{Items: items, On: x.d.on, State: stateKey(sent), Code: code, About: about}.Text()}, items)
	return nil
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

func (d *desk) bytesOf(p *journal.Parcel) ([]byte, error) {
	return fs.ReadFile(d.fsys, p.Path)
}

// sends is the record of a reservation with its plants sent: the date, the plants, a code where it has none, and what has
// become known of the recipient. Every other byte of the file stays.
func (x *draft) sends(p *journal.Parcel, items []journal.Item, about block.Block) error {
	d := x.d
	old, err := d.bytesOf(p)
	if err != nil {
		return err
	}
	data, ok := record.WithKey(old, "sent", d.on.String(), "reserved")
	if ok {
		data, ok = record.WithPlants(data, p.Record(), items)
	}
	if ok {
		data, ok = d.withCode(p, data, "sent")
	}
	if ok {
		data, ok = corrected(p, data, about)
	}
	if !ok {
		return wrongUse("I can't edit %s safely; add this line by hand: sent: %s", shownPath(d.dir, p.Path), d.on)
	}
	x.put(change.File{Path: p.Path, Before: old, After: data}, items)
	return nil
}

// withCode is a record with a code, which one that was written by hand may lack.
func (d *desk) withCode(p *journal.Parcel, data []byte, behind string) ([]byte, bool) {
	if p.Code != "" || record.HasKey(data, "code") {
		return data, true
	}
	code, err := record.NewCode(d.w.Random, record.CodeLength)
	if err != nil {
		return nil, false
	}
	return record.WithKey(data, "code", code, behind)
}
