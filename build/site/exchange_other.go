//go:build !linux

package site

import (
	"errors"
	"io/fs"
	"os"
)

func (pl *placing) swap(fresh string) (before string, err error) { return pl.moveAside(fresh) }

// syncAll writes every file of a folder through to the disk.
func (pl *placing) syncAll(folder string) error {
	return fs.WalkDir(pl.root.FS(), folder, func(p string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		f, err := pl.root.OpenFile(p, os.O_RDWR, 0)
		if err != nil {
			return err
		}
		return errors.Join(f.Sync(), f.Close())
	})
}
