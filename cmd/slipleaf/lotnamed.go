package main

import (
	"slices"
	"strings"

	"slipleaf/build/journal"
)

// lots finds the lots that plants are wanted of: by a lot's name, or by a name of the plant where one lot of it has plants.
func (d *desk) lots(wants []journal.Item, region string) ([]journal.Item, error) {
	out := slices.Clone(wants)
	for i, want := range wants {
		id, err := d.lotOf(want.Lot, region)
		if err != nil {
			return nil, err
		}
		if slices.ContainsFunc(out[:i], func(x journal.Item) bool { return strings.EqualFold(x.Lot, id) }) {
			return nil, wrongUse("lot %s is given twice; add the two counts up", id)
		}
		out[i].Lot = id
	}
	return out, nil
}

// lotOf is the lot of a name: itself, or the only one with plants left of the plant that the name means, here and where the
// recipient lives.
func (d *desk) lotOf(name, region string) (string, error) {
	if slices.ContainsFunc(d.lotIDs(), func(id string) bool { return strings.EqualFold(id, name) }) {
		return name, nil
	}
	plant, err := d.plantCalled(name, region)
	if err != nil {
		return "", err
	}
	if plant == "" {
		return name, nil
	}
	var of []string
	for _, l := range d.journal.Lots() {
		if l.Plant == plant && (l.Expected || d.left(l.ID, nil) > 0) {
			of = append(of, l.ID)
		}
	}
	switch len(of) {
	case 0:
		return "", wrongUse("no lot of %s has plants left; for the waiting list: slipleaf wait WHO %q", d.plantName(plant), name)
	case 1:
		return of[0], nil
	}
	return "", wrongUse("which lot of %s? there are: %s", d.plantName(plant), strings.Join(of, ", "))
}

// plantCalled is the plant that a name means here and where the recipient lives: "" for none. Where it may mean several, the
// error asks which.
func (d *desk) plantCalled(name, region string) (string, error) {
	m := d.journal.Meant(d.names, name, region)
	if len(m.Asks) > 0 {
		return "", declined("desk.which-plant", "which plant is \"{name}\"? ({how}) write {plants}", "name", name, "how", m.How, "plants", strings.Join(m.Apart(""), "; or "))
	}
	return m.ID, nil
}
