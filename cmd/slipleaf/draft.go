package main

import (
	"io/fs"
	"slices"
	"strconv"
	"strings"

	"slipleaf/build/block"
	"slipleaf/build/change"
	"slipleaf/build/journal"
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
	code, err := mint(x.d.w.Random, codeLength)
	if err != nil {
		return err
	}
	file, err := x.d.freeName(x.files)
	if err != nil {
		return err
	}
	about.Name = name
	x.put(change.File{Path: file, After: record{items, x.d.on, sent, code, about}.text()}, items)
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

// withPlants is a record with other plants in it. A record that stays one of the same lot keeps every other byte; else the
// lines of its lots and counts are written anew.
func withPlants(data []byte, was, items []journal.Item) ([]byte, bool) {
	switch {
	case slices.Equal(was, items):
		return data, true
	case len(was) == 1 && len(items) == 1 && was[0].Lot == items[0].Lot && !hasKey(data, "items"):
		return withKey(data, "count", strconv.Itoa(items[0].Count), "lot")
	}
	return replaceKeys(data, plantsText(items), "lot", "count", "items")
}

// plantsText writes the plants of a record.
func plantsText(items []journal.Item) string {
	if len(items) == 1 {
		return "lot: " + items[0].Lot + "\ncount: " + strconv.Itoa(items[0].Count) + "\n"
	}
	var b strings.Builder
	b.WriteString("items:\n")
	for _, i := range items {
		b.WriteString("  - {lot: " + i.Lot + ", count: " + strconv.Itoa(i.Count) + "}\n")
	}
	return b.String()
}
