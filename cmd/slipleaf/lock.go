package main

import (
	"context"

	"slipleaf/build/change"
	"slipleaf/build/disk"
)

// lockJournal keeps two commands that write to one journal apart. The lock goes with the process, however that ends.
func lockJournal(ctx context.Context, dir string) (unlock func(), err error) {
	return disk.Lock(ctx, dir)
}

// tidy takes back what a killed command had begun, and clears what it left half written, unless one is at work: it may hold
// somebody's name. What fails is said by the command that writes.
func tidy(dir string) {
	unlock, ok := disk.TryLock(dir)
	if !ok {
		return
	}
	defer unlock()
	if files, err := change.Open(dir); err == nil {
		_ = files.Close()
	}
}
