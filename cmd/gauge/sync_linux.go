package main

import (
	"os"

	"golang.org/x/sys/unix"
)

// syncDisk writes all that lies on the disk of dir through to it.
func syncDisk(dir string) error {
	d, err := os.Open(dir)
	if err != nil {
		return err
	}
	defer d.Close()
	return unix.Syncfs(int(d.Fd()))
}
