package main

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"slipleaf/build/site"
)

// errTaken says that the name has a file already.
var errTaken = errors.New("there is a file of that name")

// tempPrefix begins the names of the hidden files that become a file of the journal in one step.
const tempPrefix = ".slipleaf-new-"

// writeNew makes a file that was not there, whole or not at all: nothing is ever overwritten, and when it returns the
// file lasts through a power cut. Whoever calls it holds the journal's lock.
func writeNew(name string, data []byte) error {
	if err := makeFolder(filepath.Dir(name)); err != nil {
		return err
	}
	temp, err := writeTemp(name, data, 0o644)
	if err != nil {
		return err
	}
	defer os.Remove(temp)
	err = os.Link(temp, name) // fails where there is such a file
	if err != nil && !errors.Is(err, fs.ErrExist) {
		err = renameNew(temp, name) // a disk without hard links
	}
	switch {
	case errors.Is(err, fs.ErrExist):
		return errTaken
	case err != nil:
		return err
	}
	return site.SyncDir(filepath.Dir(name))
}

// replaceFile puts new contents in the place of a file in one step. Whoever calls it holds the journal's lock.
func replaceFile(name string, data []byte) error {
	info, err := os.Stat(name)
	if err != nil {
		return err
	}
	temp, err := writeTemp(name, data, info.Mode().Perm())
	if err != nil {
		return err
	}
	defer os.Remove(temp)
	if err := os.Rename(temp, name); err != nil {
		return err
	}
	return site.SyncDir(filepath.Dir(name))
}

// makeFolder makes a folder of the journal and those above it, if they are not there, so that they last: what is written into it is lost with it.
func makeFolder(dir string) error {
	if _, err := os.Stat(dir); err == nil {
		return nil
	}
	if err := makeFolder(filepath.Dir(dir)); err != nil {
		return err
	}
	if err := os.Mkdir(dir, 0o755); err != nil && !errors.Is(err, fs.ErrExist) {
		return err
	}
	return site.SyncDir(filepath.Dir(dir))
}

// renameNew is for disks without hard links: a look and a rename, between which no other command comes, since the
// journal is locked.
func renameNew(temp, name string) error {
	if _, err := os.Lstat(name); !errors.Is(err, fs.ErrNotExist) {
		return errors.Join(err, fs.ErrExist)
	}
	return os.Rename(temp, name)
}

// clearTemp removes what killed commands left in a folder: it may hold somebody's name.
func clearTemp(dir string) {
	entries, err := os.ReadDir(dir)
	if err != nil {
		return // said by whoever writes there
	}
	for _, e := range entries {
		if strings.HasPrefix(e.Name(), tempPrefix) {
			_ = os.Remove(filepath.Join(dir, e.Name()))
		}
	}
}

// writeTemp writes a hidden file beside name, through to the disk.
func writeTemp(name string, data []byte, mode fs.FileMode) (string, error) {
	clearTemp(filepath.Dir(name))
	f, err := os.CreateTemp(filepath.Dir(name), tempPrefix+"*")
	if err != nil {
		return "", err
	}
	_, err = f.Write(data)
	err = errors.Join(err, f.Chmod(mode), f.Sync(), f.Close())
	if err != nil {
		os.Remove(f.Name())
		return "", err
	}
	return f.Name(), nil
}
