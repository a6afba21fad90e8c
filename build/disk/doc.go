// Package disk reads and writes files in folders that somebody else may have filled. Everything is reached through an
// opened folder ([os.Root]), so that no name and no link leads out of it; what is read is a plain file of bounded size; what
// is written is there whole or not at all.
package disk

import (
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"
)

// ErrNotPlain is returned for what should be a file or folder and is a link, device, pipe or socket.
var ErrNotPlain = errors.New("not a plain file or folder")

// kinds names what is no plain file, by its type bits.
var kinds = []struct {
	bit  fs.FileMode
	name string
}{{fs.ModeSymlink, "a link"}, {fs.ModeNamedPipe, "a pipe"}, {fs.ModeSocket, "a socket"}, {fs.ModeDevice, "a device"}, {fs.ModeDir, "a folder"}}

// KindOf says in words what lies at a name.
func KindOf(mode fs.FileMode) string {
	for _, k := range kinds {
		if mode&k.bit != 0 {
			return k.name
		}
	}
	if mode.IsRegular() {
		return "a file"
	}
	return "neither a file nor a folder"
}

// notPlain is the error for something at a path that is not what it should be.
func notPlain(dir, name string, mode fs.FileMode) error {
	return fmt.Errorf("%s is %s: %w", filepath.Join(dir, filepath.FromSlash(name)), KindOf(mode), ErrNotPlain)
}
