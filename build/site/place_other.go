//go:build !linux

package site

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
)

func swap(fresh, target string) error { return moveAside(fresh, target) }

// syncAll writes every file of dir through to the disk.
func syncAll(dir string) error {
	return filepath.WalkDir(dir, func(p string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		f, err := os.OpenFile(p, os.O_RDWR, 0)
		if err != nil {
			return err
		}
		return errors.Join(f.Sync(), f.Close())
	})
}

// lock keeps two publishes to one target apart. A lock left by a crash is named in the error.
func lock(name string) (unlock func(), err error) {
	f, err := os.OpenFile(name, os.O_CREATE|os.O_EXCL|os.O_RDWR, 0o644)
	if err != nil {
		return nil, fmt.Errorf("another publish seems to be at work; if none is, remove %s: %w", name, err)
	}
	return func() { f.Close(); os.Remove(name) }, nil
}
