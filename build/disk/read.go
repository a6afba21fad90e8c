package disk

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
)

// ErrTooLarge is returned for a file above the limit.
var ErrTooLarge = errors.New("the file is too large")

// Open opens a plain file for reading. It looks before it opens: opening a pipe would wait for its other end, and opening
// a device may do something. The last part of name is not followed where it is a link.
func Open(root *os.Root, name string) (*os.File, error) {
	info, err := root.Lstat(name)
	if err != nil {
		return nil, err
	}
	if !info.Mode().IsRegular() {
		return nil, notPlain(root.Name(), name, info.Mode())
	}
	f, err := root.OpenFile(name, os.O_RDONLY|noWait, 0)
	if err != nil {
		return nil, err
	}
	if err := sameAs(f, info); err != nil { // exchanged in between
		f.Close()
		return nil, fmt.Errorf("%s: %w", filepath.Join(root.Name(), name), err)
	}
	return f, nil
}

// Read reads a plain file of at most limit bytes.
func Read(root *os.Root, name string, limit int64) ([]byte, error) {
	f, err := Open(root, name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	var data bytes.Buffer
	if info, err := f.Stat(); err == nil {
		data.Grow(int(min(info.Size(), limit)) + bytes.MinRead) // else a large file is copied again and again
	}
	_, err = data.ReadFrom(io.LimitReader(f, limit+1))
	if err == nil && int64(data.Len()) > limit {
		return nil, fmt.Errorf("%s: %w: more than %d bytes", filepath.Join(root.Name(), name), ErrTooLarge, limit)
	}
	return data.Bytes(), err
}

// Folder opens a folder of root's own, never one that a link leads to.
func Folder(root *os.Root, name string) (*os.Root, error) {
	info, err := root.Lstat(name)
	if err != nil {
		return nil, err
	}
	if !info.IsDir() {
		return nil, notPlain(root.Name(), name, info.Mode())
	}
	sub, err := root.OpenRoot(name)
	if err != nil {
		return nil, err
	}
	now, err := sub.Stat(".")
	if err == nil && !os.SameFile(info, now) {
		err = notPlain(root.Name(), name, fs.ModeSymlink)
	}
	if err != nil {
		sub.Close()
		return nil, err
	}
	return sub, nil
}

// sameAs reports whether an opened file is the one that was looked at.
func sameAs(f *os.File, info fs.FileInfo) error {
	now, err := f.Stat()
	if err == nil && !os.SameFile(info, now) {
		err = ErrNotPlain
	}
	return err
}
