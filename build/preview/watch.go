package preview

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"time"

	"slipleaf/build/listing"

	"github.com/fsnotify/fsnotify"
)

// pollEvery is how often folders are looked through where the system cannot tell of changes.
const pollEvery = time.Second

// siteMarker lies in a folder that publish made: what changes there is no save.
const siteMarker = ".slipleaf-site"

// watch tells of changes below folders until ctx ends; then it closes the channel. What changed is noted in files first.
// open makes the system's watcher, which fails where there are too many. say is told, once, when the system cannot watch
// all folders and they are looked through instead.
func watch(ctx context.Context, open func() (*fsnotify.Watcher, error), dirs []string, files *touched, after func(time.Duration) <-chan time.Time, say func(string)) <-chan struct{} {
	out := make(chan struct{}, 1)
	w, err := open()
	if err == nil {
		err = addAll(w, dirs)
	}
	go func() {
		defer close(out)
		if err == nil {
			err = follow(ctx, w, dirs, files, out)
		}
		if w != nil {
			_ = w.Close()
		}
		if err != nil && ctx.Err() == nil {
			say(fmt.Sprintf("the system cannot watch every folder (%v); they are looked through every %v instead", err, pollEvery))
			files.add("")
			note(out) // what was saved in between
			poll(ctx, dirs, files, after, out)
		}
	}()
	return out
}

// note tells of a change; one that waits to be taken stands for all.
func note(out chan<- struct{}) {
	select {
	case out <- struct{}{}:
	default:
	}
}

// follow passes on what the system tells. It returns an error when folders can no longer be watched.
func follow(ctx context.Context, w *fsnotify.Watcher, dirs []string, files *touched, out chan<- struct{}) error {
	for {
		select {
		case <-ctx.Done():
			return nil
		case e, ok := <-w.Events:
			if !ok {
				return fsnotify.ErrClosed
			}
			if e.Op == fsnotify.Chmod || passing(e.Name) {
				continue
			}
			// A new folder may have files already: it is watched first and told of then, so that none is missed. One that
			// was moved has lost its watch when the system tells of it, and what is in it is watched by its old name.
			again := []string{}
			switch {
			case e.Has(fsnotify.Rename):
				again = dirs
			case e.Has(fsnotify.Create):
				again = []string{e.Name}
			}
			if err := addAll(w, again); err != nil {
				return err
			}
			files.add(e.Name)
			note(out)
		case err, ok := <-w.Errors:
			if !ok {
				return fsnotify.ErrClosed
			}
			if !errors.Is(err, fsnotify.ErrEventOverflow) {
				return err
			}
			if err := addAll(w, dirs); err != nil { // more came than the system keeps: some may be new folders
				return err
			}
			files.add("")
			note(out)
		}
	}
}

// addAll watches folders and all that is in them. What has gone in the meantime is left out.
func addAll(w *fsnotify.Watcher, dirs []string) error {
	for _, dir := range dirs {
		err := folders(dir, func(p string, _ fs.DirEntry) error {
			if err := w.Add(p); err != nil && !errors.Is(err, fs.ErrNotExist) {
				return err
			}
			return nil
		}, nil)
		if err != nil {
			return err
		}
	}
	return nil
}

// folders walks through a folder, calling dir for each folder and file for each file that counts.
func folders(root string, dir, file func(p string, d fs.DirEntry) error) error {
	return filepath.WalkDir(root, func(p string, d fs.DirEntry, err error) error {
		switch {
		case errors.Is(err, fs.ErrNotExist), errors.Is(err, fs.ErrPermission):
			return nil
		case err != nil:
			return err
		case p != root && passing(p) && d.IsDir():
			return fs.SkipDir
		case d.IsDir():
			if _, err := os.Lstat(filepath.Join(p, siteMarker)); err == nil {
				return fs.SkipDir
			}
			if dir != nil {
				return dir(p, d)
			}
		case file != nil && !passing(p):
			return file(p, d)
		}
		return nil
	})
}

// passing reports whether a name is none of the journal's: hidden, or what editors write for a moment.
func passing(name string) bool {
	base := filepath.Base(name)
	return listing.Hidden(base) || base == "4913" // by which one editor tries whether it may write
}

// poll looks through folders again and again.
func poll(ctx context.Context, dirs []string, files *touched, after func(time.Duration) <-chan time.Time, out chan<- struct{}) {
	old := filesState(dirs)
	for {
		select {
		case <-ctx.Done():
			return
		case <-after(pollEvery):
		}
		if now := filesState(dirs); now != old {
			old = now
			files.add("")
			note(out)
		}
	}
}

// filesState is the names, sizes and times of all files.
func filesState(dirs []string) string {
	var b strings.Builder
	for _, dir := range dirs {
		_ = folders(dir, nil, func(p string, d fs.DirEntry) error {
			if info, err := d.Info(); err == nil {
				fmt.Fprintf(&b, "%s\x00%d\x00%d\n", p, info.Size(), info.ModTime().UnixNano())
			}
			return nil
		})
	}
	return b.String()
}

// Saves are taken together: an editor writes a file in several steps, and many files may change at once. An edition is
// begun when nothing has changed for quiet, or for longest since the first change (common practice).
const (
	quiet   = 4 * time.Millisecond
	longest = 500 * time.Millisecond
)

// settle turns changes into saves. It closes the channel when changes close.
func settle(changes <-chan struct{}, after func(time.Duration) <-chan time.Time) <-chan struct{} {
	out := make(chan struct{}, 1)
	go func() {
		defer close(out)
		var still, enough <-chan time.Time
		for {
			select {
			case _, ok := <-changes:
				if !ok {
					return
				}
				if enough == nil {
					enough = after(longest)
				}
				still = after(quiet)
				continue
			case <-still:
			case <-enough:
			}
			still, enough = nil, nil
			note(out)
		}
	}()
	return out
}
