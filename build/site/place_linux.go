package site

import (
	"errors"
	"fmt"
	"os"

	"golang.org/x/sys/unix"
)

// swap exchanges two folders in one step; afterwards the old site is at fresh.
func swap(fresh, target string) error {
	err := unix.Renameat2(unix.AT_FDCWD, fresh, unix.AT_FDCWD, target, unix.RENAME_EXCHANGE)
	if errors.Is(err, unix.EINVAL) || errors.Is(err, unix.ENOSYS) { // a file system without it
		return moveAside(fresh, target)
	}
	return err
}

// syncAll writes all that lies on the disk of dir through to it: one call instead of one for each file.
func syncAll(dir string) error {
	d, err := os.Open(dir)
	if err != nil {
		return err
	}
	defer d.Close()
	return unix.Syncfs(int(d.Fd()))
}

// lock keeps two publishes to one target apart. The lock goes with the process, however it ends. Whoever waited may
// find that the file it holds is no longer the one that has the name, since its holder removed it: then again.
func lock(name string) (unlock func(), err error) {
	for {
		f, err := os.OpenFile(name, os.O_CREATE|os.O_RDWR, 0o644)
		if err != nil {
			return nil, err
		}
		if err := unix.Flock(int(f.Fd()), unix.LOCK_EX); err != nil {
			f.Close()
			return nil, fmt.Errorf("%s: %w", name, err)
		}
		held, err := f.Stat()
		if named, err2 := os.Stat(name); err == nil && err2 == nil && os.SameFile(held, named) {
			return func() { os.Remove(name); f.Close() }, nil
		}
		f.Close()
	}
}
