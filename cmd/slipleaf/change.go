package main

import (
	"bytes"
	"context"
	"errors"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"

	"slipleaf/build/change"
	"slipleaf/build/journal"
	"slipleaf/build/record"
	"slipleaf/build/words"
)

// holds reads the journal as it would be with the changes made, on every day on which they are judged, and refuses them
// where it would have an error. What is wrong is shown.
func (d *desk) holds(ctx context.Context, files ...change.File) (*journal.Journal, error) {
	with := change.With(d.fsys, files)
	j, complaints, err := journal.Read(ctx, with, d.names, journal.Options{On: d.on, Also: d.today, Zone: knownZone})
	if err != nil {
		return nil, err
	}
	if wrong := d.show(complaints, with); len(wrong) > 0 {
		return nil, useError{words.Said{Key: "said.record-wrong", English: "nothing was written: the record would not be valid"}, wrong}
	}
	return j, nil
}

// write puts the changes on the disk, all of them or none, and keeps them for undo under a few words.
func (d *desk) write(ctx context.Context, what string, files []change.File) error {
	files = slices.DeleteFunc(slices.Clone(files), func(f change.File) bool { return f.Before != nil && bytes.Equal(f.Before, f.After) })
	if len(files) == 0 {
		return nil
	}
	err := d.files.Make(ctx, change.Change{What: what, Files: files}, d.w.Now())
	var meanwhile *change.MeanwhileError
	if errors.As(err, &meanwhile) { // an editor knows nothing of the lock
		return declined("desk.meanwhile", "{file} was changed just now by another program, and nothing was written: try again", "file", shownPath(d.dir, meanwhile.Path))
	}
	if err == nil {
		for _, f := range files {
			d.w.note(shownPath(d.dir, f.Path))
		}
	}
	return err
}

// freeName is a name of the day under sent/ that no file has.
func (d *desk) freeName(taken []change.File) (string, error) {
	for letters := 2; ; letters++ {
		tail, err := record.NewCode(d.w.Random, letters)
		if err != nil {
			return "", err
		}
		name := path.Join("sent", d.on.String()+"-"+tail+".md")
		_, err = os.Lstat(filepath.Join(d.dir, filepath.FromSlash(name)))
		free := errors.Is(err, fs.ErrNotExist) && !slices.ContainsFunc(taken, func(f change.File) bool { return f.Path == name })
		if free || letters == 12 { // then the writer refuses
			return name, nil
		}
	}
}
