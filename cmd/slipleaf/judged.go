package main

import (
	"context"
	"io/fs"
	"slices"

	"slipleaf/build/almanac"
	"slipleaf/build/change"
	"slipleaf/build/journal"
	"slipleaf/build/quantity"
)

// errorsOn are the errors of a journal on a day and, of its lots, later.
func errorsOn(ctx context.Context, fsys fs.FS, day quantity.Date) (journal.Complaints, error) {
	names, err := almanac.Open()
	if err != nil {
		return nil, err
	}
	_, cs, err := journal.Read(ctx, fsys, names, journal.Options{On: day, Also: day, Zone: knownZone})
	return cs.Only(journal.Error), err
}

// takeBack undoes a change, unless plants would then be given twice: what it freed may have gone to somebody else since.
// Other errors do not keep it from being undone: the grower may want the file as it was.
func takeBack(ctx context.Context, in folder, files *change.Desk, last change.Past) error {
	back := last.Back()
	before, err := errorsOn(ctx, in.fsys, in.on)
	if err != nil {
		return err
	}
	after, err := errorsOn(ctx, change.With(in.fsys, back), in.on)
	if err != nil {
		return err
	}
	for _, c := range after {
		if (c.Rule == "overgiven" || c.Rule == "limit") && !slices.Contains(before, c) {
			return declined("said.undo-given", "nothing was taken back: the plants have gone elsewhere since ({file}: {why})", "file", c.File, "why", c.Message)
		}
	}
	return files.Undo(ctx, last)
}
