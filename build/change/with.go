package change

import (
	"bytes"
	"io/fs"
	"path"
	"slices"
	"strings"
	"time"
)

// With is a journal's files as they would be after a change, for a reader to judge.
func With(fsys fs.FS, files []File) fs.FS {
	w := with{fsys, map[string][]byte{}}
	for _, f := range files {
		w.files[f.Path] = f.After
	}
	return w
}

// with lays files over a file system; nil ones are gone.
type with struct {
	fs.FS
	files map[string][]byte
}

// Open implements fs.FS.
func (w with) Open(name string) (fs.File, error) {
	data, ok := w.files[name]
	switch {
	case !ok && w.below(name):
		f, err := w.FS.Open(name)
		if err != nil {
			return &openFile{bytes.NewReader(nil), info{name: path.Base(name), dir: true}}, nil // a folder that the change makes
		}
		return f, nil
	case !ok:
		return w.FS.Open(name)
	case data == nil:
		return nil, &fs.PathError{Op: "open", Path: name, Err: fs.ErrNotExist}
	}
	return &openFile{bytes.NewReader(data), info{name: path.Base(name), size: int64(len(data))}}, nil
}

// below reports whether a file of the change lies in a folder.
func (w with) below(dir string) bool {
	for name, data := range w.files {
		if data != nil && (dir == "." || strings.HasPrefix(name, dir+"/")) {
			return true
		}
	}
	return false
}

// ReadDir implements fs.ReadDirFS.
func (w with) ReadDir(dir string) ([]fs.DirEntry, error) {
	list, err := fs.ReadDir(w.FS, dir)
	if err != nil && !w.below(dir) {
		return nil, err
	}
	for name, data := range w.files {
		rest, inside := strings.CutPrefix(name, dir+"/")
		if dir == "." {
			rest, inside = name, true
		}
		if !inside {
			continue
		}
		first, _, isDir := strings.Cut(rest, "/")
		at, found := slices.BinarySearchFunc(list, first, func(e fs.DirEntry, name string) int { return strings.Compare(e.Name(), name) })
		entry := fs.FileInfoToDirEntry(info{name: first, size: int64(len(data)), dir: isDir})
		switch {
		case found && isDir: // the folder is there
		case found && data == nil:
			list = slices.Delete(list, at, at+1)
		case found:
			list[at] = entry
		case data != nil:
			list = slices.Insert(list, at, entry)
		}
	}
	return list, nil
}

type openFile struct {
	*bytes.Reader
	info info
}

// Stat implements fs.File.
func (f *openFile) Stat() (fs.FileInfo, error) { return f.info, nil }

// Close implements fs.File.
func (f *openFile) Close() error { return nil }

type info struct {
	name string
	size int64
	dir  bool
}

func (i info) Name() string       { return i.name }
func (i info) Size() int64        { return i.size }
func (i info) ModTime() time.Time { return time.Time{} }
func (i info) IsDir() bool        { return i.dir }
func (i info) Sys() any           { return nil }
func (i info) Mode() fs.FileMode {
	if i.dir {
		return fs.ModeDir | 0o755
	}
	return 0o644
}
