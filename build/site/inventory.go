package site

import (
	"context"
	"errors"
	"io/fs"
	"path"
	"slices"
	"strings"
	"sync"
	"time"

	"golang.org/x/sync/errgroup"

	"slipleaf/build/fingerprint"
	"slipleaf/build/journal"
	"slipleaf/build/listing"
	"slipleaf/build/picture"
)

// inventory lists all that a build may read of a journal, without reading it: names, kinds, sizes and times. Two of them
// that are equal are of the same journal.
type inventory []item

// item is a file or folder of a journal.
type item struct {
	Path string
	Kind fs.FileMode // its type bits
	Size int64
	Mod  int64 // nanoseconds since 1970; 0: none
	// Print is of the bytes of a file that was so young that its time alone could not tell of a later change; "" for
	// all others.
	Print string
}

// mostItems is how much of a journal is listed: more than one may have. errFull tells that there is more.
const mostItems = 250_000

var errFull = errors.New("the journal holds too many files")

// takeInventory lists a journal's own folders and the theme's, at a moment.
func takeInventory(ctx context.Context, fsys fs.FS, theme string, now time.Time) (inventory, error) {
	top, err := fs.ReadDir(fsys, ".")
	if err != nil {
		return nil, err
	}
	var mu sync.Mutex
	var all inventory
	ctx, stop := context.WithCancel(ctx)
	defer stop()
	g, ctx := errgroup.WithContext(ctx)
	g.SetLimit(4) // bound by the disk
	add := func(found inventory) {
		mu.Lock()
		defer mu.Unlock()
		if all = append(all, found...); len(all) > mostItems {
			stop()
		}
	}
	var later []func() error
	for _, e := range top {
		if listing.Hidden(e.Name()) {
			continue
		}
		one, err := itemOf(fsys, e.Name(), e, now)
		if err != nil {
			return nil, err
		}
		if !e.IsDir() {
			add(inventory{one})
			continue
		}
		add(inventory{{Path: e.Name(), Kind: fs.ModeDir}}) // of a folder that no build reads, its name is all that counts
		if slices.Contains(listing.Folders(), e.Name()) || e.Name() == firstFolder(theme) {
			subs, err := branches(fsys, e.Name())
			if err != nil {
				return nil, err
			}
			for _, s := range subs {
				later = append(later, func() error {
					found, err := listBelow(ctx, fsys, s, now)
					add(found)
					return err
				})
			}
		}
	}
	for _, f := range later {
		g.Go(f)
	}
	err = g.Wait()
	if len(all) > mostItems {
		return nil, errFull // the reader says so, with the place
	}
	if err != nil {
		return nil, err
	}
	slices.SortFunc(all, func(a, b item) int { return strings.Compare(a.Path, b.Path) })
	return slices.CompactFunc(all, func(a, b item) bool { return a.Path == b.Path }), nil
}

func firstFolder(p string) string { first, _, _ := strings.Cut(path.Clean(p), "/"); return first }

// branch is a folder to be listed, with or without the folders in it.
type branch struct {
	dir  string
	deep bool
}

// branches parts a folder into parts that are listed side by side.
func branches(fsys fs.FS, dir string) ([]branch, error) {
	entries, err := fs.ReadDir(fsys, dir)
	if err != nil {
		return nil, err
	}
	out := []branch{{dir, false}}
	for _, e := range entries {
		if e.IsDir() && !listing.Hidden(e.Name()) {
			out = append(out, branch{path.Join(dir, e.Name()), true})
		}
	}
	return out, nil
}

func listBelow(ctx context.Context, fsys fs.FS, b branch, now time.Time) (inventory, error) {
	var out inventory
	err := fs.WalkDir(fsys, b.dir, func(p string, d fs.DirEntry, err error) error {
		switch {
		case errors.Is(err, fs.ErrNotExist):
			return nil // gone while it was listed, as the next inventory will show
		case err != nil:
			return err
		case ctx.Err() != nil:
			return ctx.Err()
		case p != b.dir && listing.Hidden(d.Name()):
			if d.IsDir() {
				return fs.SkipDir
			}
			return nil
		case d.IsDir():
			out = append(out, item{Path: p, Kind: fs.ModeDir})
			if p != b.dir && !b.deep {
				return fs.SkipDir
			}
			return nil
		}
		one, err := itemOf(fsys, p, d, now)
		out = append(out, one)
		return err
	})
	return out, err
}

// itemOf describes a file by its folder's listing.
func itemOf(fsys fs.FS, p string, d fs.DirEntry, now time.Time) (item, error) {
	one := item{Path: p, Kind: d.Type()}
	if !d.Type().IsRegular() {
		return one, nil
	}
	info, err := d.Info()
	if errors.Is(err, fs.ErrNotExist) {
		return one, nil
	}
	if err != nil {
		return one, err
	}
	one.Size, one.Mod = info.Size(), info.ModTime().UnixNano()
	if info.ModTime().IsZero() || now.Sub(info.ModTime()) <= journal.Settled && info.Size() <= picture.MaxBytes {
		one.Print = bytesPrint(fsys, p)
	}
	return one, nil
}

// bytesPrint is the fingerprint of a file; "" where it cannot be read, which is for the build to say.
func bytesPrint(fsys fs.FS, p string) string {
	f, err := fsys.Open(p)
	if err != nil {
		return ""
	}
	defer f.Close()
	print, err := fingerprint.From(f)
	if err != nil {
		return ""
	}
	return string(print[:])
}

// same reports whether a journal is as it was when the older inventory was taken.
func (now inventory) same(fsys fs.FS, old inventory) bool {
	return slices.EqualFunc(now, old, func(a, b item) bool {
		if a.Path != b.Path || a.Kind != b.Kind || a.Size != b.Size || a.Mod != b.Mod {
			return false
		}
		if b.Print == "" || a.Print == b.Print {
			return true
		}
		return bytesPrint(fsys, a.Path) == b.Print // it was young then and has settled since
	})
}

// reports whether a reading found just what the inventory lists: a file may have been away for the moment of either, and
// come back with the time that it had.
func (now inventory) tells(r *journal.Reader, photos *PhotoCache) bool {
	names, files := r.Seen()
	if names == nil {
		return false
	}
	at := make(map[string]*item, len(now))
	listed := map[string]int{}
	for i := range now {
		at[now[i].Path] = &now[i]
		listed[path.Dir(now[i].Path)]++
	}
	for dir, in := range names {
		if listed[dir] != len(in) || slices.ContainsFunc(in, func(n string) bool { return at[path.Join(dir, n)] == nil }) {
			return false
		}
	}
	asRead := func(p string, as journal.Stamp) bool {
		one := at[p]
		return one != nil && one.Size == as.Size && one.Mod == as.Mod.UnixNano()
	}
	for p, as := range files {
		if !asRead(p, as) {
			return false
		}
	}
	return photos.asRead(asRead)
}
