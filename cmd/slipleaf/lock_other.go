//go:build !unix

package main

import (
	"fmt"
	"os"
	"path/filepath"
)

// lockJournal keeps two commands that write to one journal apart. A lock left by a crash is named in the error.
func lockJournal(dir string) (unlock func(), err error) {
	name := filepath.Join(dir, ".slipleaf-lock")
	f, err := os.OpenFile(name, os.O_CREATE|os.O_EXCL|os.O_RDWR, 0o600)
	if err != nil {
		return nil, fmt.Errorf("another command seems to be writing; if none is, remove %s: %w", name, err)
	}
	return func() { f.Close(); os.Remove(name) }, nil
}
