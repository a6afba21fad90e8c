package change

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path"
	"slices"
	"strings"
	"time"

	"slipleaf/build/disk"
)

// File is one file of a change, by its path in the journal with slashes.
type File struct {
	Path   string
	Before []byte // what it holds as the change is made; nil: it is not there
	After  []byte // what it is to hold; nil: it is to go
}

// Change is files that belong together.
type Change struct {
	What  string // in a few words, for whoever takes it back: "reserve 6 of HZ-0418"
	Files []File
}

// MeanwhileError says that a file no longer holds what the change was made from.
type MeanwhileError struct {
	Path string
	New  bool // it was not to be there
}

// Error names the file.
func (e *MeanwhileError) Error() string {
	if e.New {
		return e.Path + " is there already"
	}
	return e.Path + " was changed meanwhile, and is left as it is"
}

// ErrNothing says that there is no change to take back.
var ErrNothing = errors.New("there is no change to take back")

// Desk is a journal's folder, open for one change at a time. Whoever opens it holds the journal's lock. Nothing outside of
// the folder is reached through it, whatever links lie there.
type Desk struct {
	root *os.Root
	dir  string // as it was opened, for errors
}

// Open opens a journal's folder and takes back what a killed program had begun. It clears what was left half written.
func Open(dir string) (*Desk, error) {
	root, err := os.OpenRoot(dir)
	if err != nil {
		return nil, err
	}
	d := &Desk{root, dir}
	if err := d.recover(); err != nil {
		root.Close()
		return nil, d.located(err)
	}
	return d, nil
}

// Close closes the folder.
func (d *Desk) Close() error { return d.root.Close() }

// Make writes a change. Every file must still hold its Before; a [*MeanwhileError] names the one that does not. After an error nothing is written, or, where the disk fails again as that is taken back, the next [Open] does it. at is the moment, for the list of changes.
func (d *Desk) Make(ctx context.Context, c Change, at time.Time) error {
	if err := ctx.Err(); err != nil {
		return err
	}
	return d.located(d.make(c, at))
}

// located says in which journal the disk failed.
func (d *Desk) located(err error) error {
	var m *MeanwhileError
	if err == nil || errors.As(err, &m) || errors.Is(err, ErrNothing) || strings.Contains(err.Error(), d.dir) {
		return err
	}
	return fmt.Errorf("%s: %w", d.dir, err)
}

func (d *Desk) make(c Change, at time.Time) error {
	if err := d.asBefore(c.Files); err != nil {
		return err
	}
	r := record{What: c.What, At: at.UTC(), Files: c.Files}
	name, err := d.begin(r)
	if err != nil {
		return err
	}
	if err := d.carryOut(c.Files); err != nil {
		return errors.Join(err, d.restore(name, r))
	}
	r.Done = true
	if err := d.keep(name, r); err != nil {
		return fmt.Errorf("the change is made, but cannot be taken back: %w", err)
	}
	return d.trim()
}

// Put writes one file that nobody takes back: what was fetched, or a journal that begins. With fresh, none may be there.
func (d *Desk) Put(name string, data []byte, fresh bool) error {
	before, err := d.read(name)
	switch {
	case err != nil:
		return d.located(err)
	case fresh && before != nil:
		return &MeanwhileError{name, true}
	}
	return d.located(d.write(name, data, modeOf(name)))
}

// asBefore looks whether all files are as the change expects them.
func (d *Desk) asBefore(files []File) error {
	if len(files) == 0 {
		return errors.New("a change of no file")
	}
	seen := map[string]bool{}
	for _, f := range files {
		if !ofJournal(f.Path) || seen[f.Path] {
			return fmt.Errorf("%q is no name for a file of the journal", f.Path)
		}
		seen[f.Path] = true
		now, err := d.read(f.Path)
		if err != nil {
			return err
		}
		if !same(now, f.Before) {
			return &MeanwhileError{f.Path, f.Before == nil}
		}
	}
	return nil
}

// ofJournal reports whether a file of a journal may have that path: it leads out of nowhere, and no part of it is hidden.
func ofJournal(p string) bool {
	return fs.ValidPath(p) && p != "." && !slices.ContainsFunc(strings.Split(p, "/"), func(part string) bool { return strings.HasPrefix(part, ".") })
}

// same compares contents; an absent file is no empty one.
func same(a, b []byte) bool { return (a == nil) == (b == nil) && bytes.Equal(a, b) }

// mostRead is the most that a file of a change may hold, and a kept change with a photo in it (our choice).
const mostRead = 128 << 20

// read gives what a file holds; nil: it is not there.
func (d *Desk) read(name string) ([]byte, error) {
	data, err := disk.Read(d.root, name, mostRead)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err == nil && data == nil {
		data = []byte{}
	}
	return data, err
}

// carryOut writes and removes files, those that are to go last.
func (d *Desk) carryOut(files []File) error {
	for _, f := range files {
		if f.After == nil {
			continue
		}
		if err := d.write(f.Path, f.After, modeOf(f.Path)); err != nil {
			return err
		}
	}
	for _, f := range files {
		if f.After != nil {
			continue
		}
		if err := d.remove(f.Path); err != nil {
			return err
		}
	}
	return nil
}

// modeOf is who may read a file: records of parcels hold names and addresses.
func modeOf(name string) fs.FileMode {
	if strings.HasPrefix(name, "sent/") || strings.HasPrefix(name, undoDir+"/") {
		return disk.Private
	}
	return disk.Public
}

// write puts a whole file in the place of what was there. One that is there keeps its mode.
func (d *Desk) write(name string, data []byte, mode fs.FileMode) error {
	folders := fs.FileMode(0o755)
	if path.Dir(name) == undoDir {
		folders = 0o700
	}
	if err := disk.MakeFolders(d.root, path.Dir(name), folders); err != nil {
		return err
	}
	if info, err := d.root.Lstat(name); err == nil && !strings.HasPrefix(name, "sent/") {
		mode = info.Mode().Perm()
	}
	return disk.Replace(d.root, name, data, mode)
}

// remove takes a file away; one that is gone is no fault.
func (d *Desk) remove(name string) error {
	if err := d.root.Remove(name); errors.Is(err, fs.ErrNotExist) {
		return nil
	} else if err != nil {
		return err
	}
	return disk.SyncDir(d.root, path.Dir(name))
}
