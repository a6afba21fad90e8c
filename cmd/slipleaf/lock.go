package main

import (
	"context"

	"slipleaf/build/change"
	"slipleaf/build/disk"
)

// alone calls do with the folder of a journal to write to, while no other command writes there. The lock
// goes with the process, however that ends.
func alone(ctx context.Context, dir string, do func(files *change.Desk) error) error {
	unlock, err := disk.Lock(ctx, dir)
	if err != nil {
		return err
	}
	defer unlock()
	files, err := change.Open(dir)
	if err != nil {
		return err
	}
	defer files.Close()
	return do(files)
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
