//go:build unix

package main

import (
	"fmt"
	"os"

	"golang.org/x/sys/unix"
)

// lockJournal keeps two commands that write to one journal apart. It locks the folder itself, so that no file is left
// behind, and goes with the process, however that ends.
func lockJournal(dir string) (unlock func(), err error) {
	f, err := os.Open(dir)
	if err != nil {
		return nil, err
	}
	for {
		err = unix.Flock(int(f.Fd()), unix.LOCK_EX)
		if err != unix.EINTR {
			break
		}
	}
	if err != nil {
		f.Close()
		return nil, fmt.Errorf("%s: %w", dir, err)
	}
	return func() { f.Close() }, nil
}
