package site

import (
	"context"
	"errors"
	"io/fs"
	"os"
	"path"
	"slices"
)

// A large site is not laid out anew for every change: the folder that an exchange took out of its place is kept beside
// the target, and the next exchange brings it up to date and puts it back. The two share every file that is the same in
// both, and a file is never written to in place, so that the spare takes little room and what is done to it does not
// show.

// roomySite is the number of files from which a spare is kept: below it a new folder is as quick (our choice).
const roomySite = 2000

// prepare completes the folder that is to take the target's place, and tells which it is.
func (pl *placing) prepare(ctx context.Context) (fresh string, err error) {
	stand, next := sibling(pl.target, "spare"), sibling(pl.target, "next")
	if s := pl.was.spareOf(); s != nil && pl.old != nil && foldersStand(ctx, stand, s.Folders) && os.Rename(stand, next) == nil {
		// From here on it is no spare any more, so that one that is half made is never taken for one.
		return next, pl.update(ctx, next, s.Differs)
	}
	if err := os.RemoveAll(stand); err != nil {
		return "", err
	}
	return pl.stage(), pl.fill(ctx)
}

// update turns a spare that differs from the target in some files into the new site.
func (pl *placing) update(ctx context.Context, fresh string, differs []string) error {
	all := append(pl.changed(), differs...)
	slices.Sort(all)
	all = slices.Compact(all)
	at := make(map[string]*output, len(pl.outputs))
	for i := range pl.outputs {
		at[pl.outputs[i].Path] = &pl.outputs[i]
	}
	var put []*output
	for _, p := range all {
		if err := os.Remove(inside(fresh, p)); err != nil && !errors.Is(err, fs.ErrNotExist) {
			return err
		}
		if x, ok := at[p]; ok {
			put = append(put, x)
			continue
		}
		for dir := path.Dir(p); dir != "."; dir = path.Dir(dir) {
			if os.Remove(inside(fresh, dir)) != nil {
				break // not empty
			}
		}
	}
	for _, x := range put { // folders after all removals: what was a file may be a folder now
		if err := os.MkdirAll(inside(fresh, path.Dir(x.Path)), 0o755); err != nil {
			return err
		}
	}
	return each(ctx, len(put), 0, func(i int) error {
		if put[i].same {
			return link(inside(pl.target, put[i].Path), inside(fresh, put[i].Path))
		}
		return os.Rename(inside(pl.stage(), put[i].Path), inside(fresh, put[i].Path))
	})
}

// leave writes down what stands at the target now, and puts the old site by. A nil exchange is none.
func (pl *placing) leave(ctx context.Context, x *exchanged) error {
	stand := sibling(pl.target, "spare")
	if pl.next == nil {
		if x == nil {
			return nil
		}
		return os.RemoveAll(stand) // it differs from this site in more than is noted
	}
	n := pl.next
	keep := false
	switch {
	case x == nil:
		n.Spare = pl.was.spareOf()
	case len(pl.outputs) >= pl.roomy && pl.old != nil && pl.was != nil && len(pl.was.Folders) > 0:
		if _, err := os.Lstat(x.at); err == nil { // where folders cannot be exchanged, the old one is gone
			n.Spare, keep = &spare{Differs: x.paths, Folders: pl.was.Folders}, true
		}
	}
	if err := pl.describe(ctx, n); err != nil {
		return err
	}
	n.write(pl.target)
	if keep {
		return os.Rename(x.at, stand)
	}
	return nil
}

// describe notes the files and folders of the target as they are.
func (pl *placing) describe(ctx context.Context, n *store) error {
	n.Files = make([]fileState, len(pl.outputs))
	folders := map[string]bool{".": true}
	for i := range pl.outputs {
		p := &pl.outputs[i]
		n.Files[i] = fileState{Path: p.Path, From: p.from, Sum: p.sum, Size: p.size, Mod: p.mod}
		for dir := path.Dir(p.Path); !folders[dir]; dir = path.Dir(dir) {
			folders[dir] = true
		}
	}
	slices.SortFunc(n.Files, byPath)
	n.Folders = make([]fileState, 0, len(folders))
	for dir := range folders {
		n.Folders = append(n.Folders, fileState{Path: dir})
	}
	slices.SortFunc(n.Folders, byPath)
	all := make([]*fileState, 0, len(n.Files)+len(n.Folders))
	for i := range n.Files {
		if n.Files[i].Mod == 0 {
			all = append(all, &n.Files[i])
		}
	}
	for i := range n.Folders {
		all = append(all, &n.Folders[i])
	}
	return each(ctx, len(all), 0, func(i int) error {
		info, err := os.Lstat(inside(pl.target, all[i].Path))
		if err == nil {
			all[i].Mod = info.ModTime().UnixNano()
		}
		return err
	})
}

func byPath(a, b fileState) int {
	switch {
	case a.Path < b.Path:
		return -1
	case a.Path > b.Path:
		return 1
	}
	return 0
}

// file looks a file of the site up.
func (s *store) file(p string) (*fileState, bool) {
	if s == nil {
		return nil, false
	}
	i, ok := slices.BinarySearchFunc(s.Files, fileState{Path: p}, byPath)
	if !ok {
		return nil, false
	}
	return &s.Files[i], true
}

func (s *store) spareOf() *spare {
	if s == nil {
		return nil
	}
	return s.Spare
}

// withoutSpare is a store that knows no spare.
func (s *store) withoutSpare() *store {
	if s == nil || s.Spare == nil && s.Folders == nil {
		return s
	}
	bare := *s
	bare.Spare, bare.Folders = nil, nil
	return &bare
}

// standsAt tells, by size and time, whether a file stands at a target as it was left.
func (f *fileState) standsAt(target string) bool {
	info, err := os.Lstat(inside(target, f.Path))
	return err == nil && info.Mode().IsRegular() && info.Size() == f.Size && info.ModTime().UnixNano() == f.Mod
}

// errChanged ends a look at a folder at the first change.
var errChanged = errors.New("changed")

// foldersStand tells, by their times, whether nothing came into the folders of a site or left them.
func foldersStand(ctx context.Context, dir string, folders []fileState) bool {
	if len(folders) == 0 {
		return false
	}
	return each(ctx, len(folders), 0, func(i int) error {
		info, err := os.Lstat(inside(dir, folders[i].Path))
		if err != nil || !info.IsDir() || info.ModTime().UnixNano() != folders[i].Mod {
			return errChanged
		}
		return nil
	}) == nil
}

// intact tells whether the site at a target is as it was put there.
func (s *store) intact(ctx context.Context, target string) bool {
	return ours(target) && foldersStand(ctx, target, s.Folders) && each(ctx, len(s.Files), 0, func(i int) error {
		if !s.Files[i].standsAt(target) {
			return errChanged
		}
		return nil
	}) == nil
}
