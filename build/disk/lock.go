package disk

import (
	"context"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"time"

	"github.com/gofrs/flock"
)

// lockFile is locked where the system cannot lock a folder. It stays: a lock goes with the process, not with the file.
const lockFile = ".slipleaf-lock"

// between is how long a wait for a lock pauses before it tries again: too short to notice (our choice).
const between = 10 * time.Millisecond

// Lock keeps all others who call it out of a folder until unlock is called or the process ends, however that ends. A wait
// ends with ctx.
func Lock(ctx context.Context, dir string) (unlock func(), err error) {
	for {
		l, err := lockEither(func(l *flock.Flock) (bool, error) { return l.TryLockContext(ctx, between) }, dir)
		if err != nil {
			return nil, err
		}
		held, err := l.Stat()
		named, err2 := os.Stat(l.Path())
		if err := errors.Join(err, err2); err != nil && !errors.Is(err, fs.ErrNotExist) {
			_ = l.Unlock()
			return nil, err
		}
		if err == nil && err2 == nil && os.SameFile(held, named) {
			return func() { _ = l.Unlock() }, nil
		}
		_ = l.Unlock() // what was waited for has been removed, and made again by somebody else
	}
}

// TryLock is Lock without a wait: ok is false where somebody else has it.
func TryLock(dir string) (unlock func(), ok bool) {
	l, err := lockEither((*flock.Flock).TryLock, dir)
	if err != nil || !l.Locked() {
		return nil, false
	}
	return func() { _ = l.Unlock() }, true
}

// lockEither locks a folder itself, which leaves nothing behind, or else a file in it: some systems lock files alone.
func lockEither(try func(*flock.Flock) (bool, error), dir string) (*flock.Flock, error) {
	l := flock.New(dir, flock.SetFlag(os.O_RDONLY))
	_, err := try(l)
	if err == nil || errors.Is(err, context.Canceled) || errors.Is(err, context.DeadlineExceeded) || errors.Is(err, fs.ErrNotExist) {
		return l, err
	}
	l = flock.New(filepath.Join(dir, lockFile), flock.SetFlag(os.O_CREATE|os.O_RDWR|noWait))
	_, err = try(l)
	return l, err
}
