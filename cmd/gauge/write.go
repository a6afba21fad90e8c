package main

import (
	"os"
	"path/filepath"
)

// writeJournal makes a journal up and writes it to dir.
func writeJournal(dir string, s size) error {
	files, err := planJournal(s)
	if err != nil {
		return err
	}
	for _, f := range files {
		name := filepath.Join(dir, filepath.FromSlash(f.path))
		if err := os.MkdirAll(filepath.Dir(name), 0o755); err != nil {
			return err
		}
		if err := os.WriteFile(name, []byte(f.text), 0o644); err != nil {
			return err
		}
	}
	return nil
}
