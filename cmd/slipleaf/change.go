package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"slipleaf/build/journal"
)

// change is a file of the journal as a command leaves it.
type change struct {
	name string // slash path within the journal
	old  []byte // as it was read; nil: the file is new
	data []byte
}

// holds reads the journal as it would be with the changes made, on every day on which they are judged, and refuses them
// where it would have an error. What is wrong is shown.
func (d *desk) holds(ctx context.Context, changes ...change) (*journal.Journal, error) {
	with := withFiles{d.fsys, changes}
	j, complaints, err := journal.Read(ctx, with, d.names, journal.Options{On: d.on, Also: d.days, Zone: knownZone})
	if err != nil {
		return nil, err
	}
	if complaints.Errors() > 0 {
		d.show(complaints, with)
		return nil, wrongUse("nothing was written: the record would not be valid")
	}
	return j, nil
}

// write puts the changes on the disk, each file whole or not at all. Where one fails after others, the error says which
// are written.
func (d *desk) write(changes []change) error {
	var done []string
	for _, c := range changes {
		if err := d.writeOne(c); err != nil {
			if len(done) > 0 {
				return fmt.Errorf("%w (written before that: %v)", err, done)
			}
			return err
		}
		done = append(done, shownPath(d.dir, c.name))
	}
	return nil
}

func (d *desk) writeOne(c change) error {
	file := filepath.Join(d.dir, filepath.FromSlash(c.name))
	if c.old == nil {
		return writeNew(file, c.data)
	}
	if now, err := os.ReadFile(file); err != nil || !bytes.Equal(now, c.old) { // an editor knows nothing of the lock
		return errors.Join(err, fmt.Errorf("%s was changed just now by another program, and nothing was added: try again", shownPath(d.dir, c.name)))
	}
	return replaceFile(file, c.data)
}

// freeName is a name of the day under sent/ that no file has.
func (d *desk) freeName(taken []change) (string, error) {
	if err := makeFolder(filepath.Join(d.dir, "sent")); err != nil {
		return "", err
	}
	for letters := 2; ; letters++ {
		tail, err := mint(d.w.Random, letters)
		if err != nil {
			return "", err
		}
		name := path.Join("sent", d.on.String()+"-"+tail+".md")
		_, err = os.Lstat(filepath.Join(d.dir, filepath.FromSlash(name)))
		free := errors.Is(err, fs.ErrNotExist) && !slices.ContainsFunc(taken, func(c change) bool { return c.name == name })
		if free || letters == 12 { // then writeNew refuses
			return name, nil
		}
	}
}

// withFiles is a file system with files in place of what is there, or beside it.
type withFiles struct {
	fs.FS
	changes []change
}

// Open implements fs.FS.
func (w withFiles) Open(name string) (fs.File, error) {
	for _, c := range w.changes {
		if c.name == name {
			return &openFile{bytes.NewReader(c.data), c}, nil
		}
	}
	return w.FS.Open(name)
}

// ReadDir implements fs.ReadDirFS.
func (w withFiles) ReadDir(name string) ([]fs.DirEntry, error) {
	list, err := fs.ReadDir(w.FS, name)
	if err != nil {
		return list, err
	}
	for _, c := range w.changes {
		if path.Dir(c.name) != name {
			continue
		}
		entry := fs.FileInfoToDirEntry(fileInfo{c})
		i, there := slices.BinarySearchFunc(list, entry.Name(), func(e fs.DirEntry, to string) int { return strings.Compare(e.Name(), to) })
		if there {
			list[i] = entry
		} else {
			list = slices.Insert(list, i, entry)
		}
	}
	return list, nil
}

type openFile struct {
	*bytes.Reader
	of change
}

func (f *openFile) Stat() (fs.FileInfo, error) { return fileInfo{f.of}, nil }
func (f *openFile) Close() error               { return nil }

type fileInfo struct{ of change }

func (i fileInfo) Name() string       { return path.Base(i.of.name) }
func (i fileInfo) Size() int64        { return int64(len(i.of.data)) }
func (i fileInfo) Mode() fs.FileMode  { return 0o644 }
func (i fileInfo) ModTime() time.Time { return time.Time{} }
func (i fileInfo) IsDir() bool        { return false }
func (i fileInfo) Sys() any           { return nil }
