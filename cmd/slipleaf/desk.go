package main

import (
	"bytes"
	"context"
	"fmt"
	"io/fs"
	"path"
	"slices"
	"time"

	"slipleaf/build/almanac"
	"slipleaf/build/journal"
	"slipleaf/build/ledger"
	"slipleaf/build/quantity"
)

// desk is an open journal that a command writes to: read once, under a lock, so that what it decides still holds when
// it writes.
type desk struct {
	w       world
	dir     string
	on      quantity.Date
	fsys    fs.FS
	names   *almanac.Almanac
	journal *journal.Journal
	ledger  *ledger.Ledger
}

// atDesk opens the journal that --in names, waits for its turn, and calls f. A journal with errors is shown and left
// alone: an unread entry may hold the lot that is asked for.
func atDesk(ctx context.Context, w world, in, on string, f func(d *desk) error) error {
	dir, err := journalDir(in)
	if err != nil {
		return err
	}
	day, err := w.day(on)
	if err != nil {
		return err
	}
	fsys, closeFS, err := journalFS(dir)
	if err != nil {
		return err
	}
	defer closeFS()
	unlock, err := lockJournal(dir)
	if err != nil {
		return err
	}
	defer unlock()
	d := &desk{w: w, dir: dir, on: day, fsys: fsys}
	if d.names, err = almanac.Open(); err != nil {
		return fmt.Errorf("almanac: %w", err)
	}
	j, complaints, err := journal.Read(ctx, fsys, d.names, journal.Options{On: day, Zone: knownZone})
	if err != nil {
		return err
	}
	if complaints.Errors() > 0 {
		d.show(complaints, fsys)
		fmt.Fprintln(w.Err, "nothing was written: mend the journal first")
		return errJournal
	}
	d.journal, d.ledger = j, ledger.New(j, day, nil)
	return f(d)
}

func (d *desk) show(cs journal.Complaints, fsys fs.FS) {
	for _, c := range cs {
		if c.Severity != journal.Error {
			continue
		}
		fmt.Fprint(d.w.Err, shown(d.dir, fsys, c, d.w.colour()))
	}
}

// holds reads the journal as it would be with a file written, and tells whether it would hold. What is wrong is shown.
func (d *desk) holds(ctx context.Context, name string, data []byte) (*journal.Journal, error) {
	with := withFile{d.fsys, name, data}
	j, complaints, err := journal.Read(ctx, with, d.names, journal.Options{On: d.on, Zone: knownZone})
	if err != nil {
		return nil, err
	}
	if complaints.Errors() > 0 {
		d.show(complaints, with)
		return nil, wrongUse("nothing was written: the record would not hold")
	}
	return j, nil
}

// withFile is a file system with one file in place of what stands there, or beside it.
type withFile struct {
	fs.FS
	name string
	data []byte
}

// Open implements fs.FS.
func (w withFile) Open(name string) (fs.File, error) {
	if name == w.name {
		return &openFile{bytes.NewReader(w.data), w}, nil
	}
	return w.FS.Open(name)
}

// ReadDir implements fs.ReadDirFS.
func (w withFile) ReadDir(name string) ([]fs.DirEntry, error) {
	list, err := fs.ReadDir(w.FS, name)
	if err != nil || name != path.Dir(w.name) {
		return list, err
	}
	i := slices.IndexFunc(list, func(e fs.DirEntry) bool { return e.Name() >= path.Base(w.name) })
	entry := fs.FileInfoToDirEntry(fileInfo{w})
	switch {
	case i < 0:
		return append(list, entry), nil
	case list[i].Name() == entry.Name():
		list[i] = entry
		return list, nil
	}
	return slices.Insert(list, i, entry), nil
}

type openFile struct {
	*bytes.Reader
	of withFile
}

func (f *openFile) Stat() (fs.FileInfo, error) { return fileInfo{f.of}, nil }
func (f *openFile) Close() error               { return nil }

type fileInfo struct{ of withFile }

func (i fileInfo) Name() string       { return path.Base(i.of.name) }
func (i fileInfo) Size() int64        { return int64(len(i.of.data)) }
func (i fileInfo) Mode() fs.FileMode  { return 0o644 }
func (i fileInfo) ModTime() time.Time { return time.Time{} }
func (i fileInfo) IsDir() bool        { return false }
func (i fileInfo) Sys() any           { return nil }
