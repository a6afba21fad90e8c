package site

import (
	"errors"

	"golang.org/x/sys/unix"
)

// swap exchanges a folder beside the target with it in one step, and tells where the old site is then.
func (pl *placing) swap(fresh string) (before string, err error) {
	dir, err := pl.root.Open(".")
	if err != nil {
		return "", err
	}
	defer dir.Close()
	err = unix.Renameat2(int(dir.Fd()), fresh, int(dir.Fd()), pl.name, unix.RENAME_EXCHANGE)
	if errors.Is(err, unix.EINVAL) || errors.Is(err, unix.ENOSYS) { // a file system without it
		return pl.moveAside(fresh)
	}
	return fresh, err
}

// syncAll writes all that lies on the disk of a folder through to it: one call instead of one for each file.
func (pl *placing) syncAll(folder string) error {
	d, err := pl.root.Open(folder)
	if err != nil {
		return err
	}
	defer d.Close()
	return unix.Syncfs(int(d.Fd()))
}
