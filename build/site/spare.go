package site

import (
	"context"
	"errors"
	"os"
	"path"
	"slices"
	"strings"

	"slipleaf/build/facts"
)

// A large site is not laid out anew for every change: the folder that an exchange took out of its place is kept beside
// the target, and the next exchange brings it up to date and puts it back. The two share every file that is the same in
// both, and a file is never written to in place, so that the spare takes little room and what is done to it does not
// show.

// roomySite is the number of files from which a spare is kept: below it a new folder is as quick (our choice).
const roomySite = 2000

// prepare completes the folder that is to take the target's place, and tells which it is.
func (pl *placing) prepare(ctx context.Context) (fresh string, err error) {
	held, next := pl.sibling(spareFolder), pl.sibling(nextFolder)
	if s := pl.was.spareOf(); s != nil && pl.old != nil && foldersUnchanged(ctx, pl.siblingPath(spareFolder), s.Folders) && pl.root.Rename(held, next) == nil {
		// From here on it is no spare any more, so that one that is half made is never taken for one.
		return next, pl.update(ctx, next, s.Lacks)
	}
	if err := pl.removeBeside(held); err != nil {
		return "", err
	}
	return pl.sibling(stageFolder), pl.fill(ctx)
}

// update turns a spare that lacks some files of the target into the new site.
func (pl *placing) update(ctx context.Context, fresh string, lacks []string) error {
	all := append(pl.changed(), lacks...)
	slices.Sort(all)
	all = slices.Compact(all)
	byPath := make(map[string]*output, len(pl.outputs))
	for i := range pl.outputs {
		byPath[pl.outputs[i].Path] = &pl.outputs[i]
	}
	var put []*output
	for _, p := range all {
		if err := pl.takeOut(fresh, p); err != nil {
			return err
		}
		if x, ok := byPath[p]; ok {
			put = append(put, x)
		}
	}
	for _, x := range put { // folders after all removals: what was a file may be a folder now
		if err := pl.root.MkdirAll(path.Dir(at(fresh, x.Path)), 0o755); err != nil {
			return err
		}
	}
	return each(ctx, len(put), 0, func(i int) error {
		if put[i].same {
			return pl.link(at(pl.name, put[i].Path), at(fresh, put[i].Path))
		}
		return pl.root.Rename(at(pl.sibling(stageFolder), put[i].Path), at(fresh, put[i].Path))
	})
}

// takeOut removes a file of a folder, if it is there, and the folders that are empty then.
func (pl *placing) takeOut(folder, p string) error {
	if err := ignoreMissing(pl.root.Remove(at(folder, p))); err != nil {
		return err
	}
	for dir := path.Dir(p); dir != "."; dir = path.Dir(dir) {
		if pl.root.Remove(at(folder, dir)) != nil {
			break // not empty
		}
	}
	return nil
}

// leave writes down what is at the target now, and puts the old site by. A nil exchange is none.
func (pl *placing) leave(ctx context.Context, x *exchanged) error {
	if x == nil && pl.next == nil {
		return nil
	}
	held := pl.sibling(spareFolder)
	if x != nil {
		if err := pl.removeBeside(held); err != nil { // it differs from this site in more than is noted
			return err
		}
	}
	keep := false
	if n := pl.next; n != nil {
		switch {
		case x == nil:
			n.Spare = pl.was.spareOf()
		case len(pl.outputs) >= pl.roomy && x.at != "" && pl.was != nil && len(pl.was.Folders) > 0:
			var err error
			if n.Spare, err = pl.strip(ctx, x); err != nil {
				return err
			}
			keep = true
		}
		if err := pl.describe(ctx, n); err != nil {
			return err
		}
		n.write(pl.target)
	}
	if x == nil || x.at == "" {
		return nil
	}
	if keep {
		return pl.root.Rename(x.at, held)
	}
	return pl.removeBeside(x.at)
}

// strip takes out of the old site all that the new one has not, or has otherwise: what was withdrawn is gone from the
// spare as soon as from the site.
func (pl *placing) strip(ctx context.Context, x *exchanged) (*spare, error) {
	for _, p := range x.paths {
		if err := pl.takeOut(x.at, p); err != nil {
			return nil, err
		}
	}
	s := &spare{Lacks: x.paths, Folders: slices.Clone(pl.was.Folders)}
	changed := map[string]bool{".": true} // for its mark
	for _, p := range x.paths {
		for dir := path.Dir(p); !changed[dir]; dir = path.Dir(dir) {
			changed[dir] = true
		}
	}
	s.Folders = slices.DeleteFunc(s.Folders, func(f fileState) bool {
		if !changed[f.Path] {
			return false
		}
		_, err := pl.root.Lstat(at(x.at, f.Path))
		return err != nil
	})
	for i := range s.Folders {
		if f := &s.Folders[i]; changed[f.Path] {
			info, err := pl.root.Lstat(at(x.at, f.Path))
			if err != nil {
				return nil, err
			}
			f.Mod = info.ModTime().UnixNano()
		}
	}
	return s, nil
}

// describe notes the files and folders of the target as they are.
func (pl *placing) describe(ctx context.Context, n *store) error {
	slices.SortFunc(pl.outputs, func(a, b output) int { return strings.Compare(a.Path, b.Path) })
	n.Files = make([]fileState, len(pl.outputs))
	made := facts.NewRecording(pl.sum, pl.from)
	folders := map[string]bool{".": true}
	for i := range pl.outputs {
		p := &pl.outputs[i]
		if p.kept {
			made.Keep(p.was)
		} else {
			made.Add(p.read)
		}
		n.Files[i] = fileState{Path: p.Path, Sum: string(p.sum[:]), Size: p.size, Mod: p.mod}
		for dir := path.Dir(p.Path); !folders[dir]; dir = path.Dir(dir) {
			folders[dir] = true
		}
	}
	n.Made = made.Done()
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
		info, err := os.Lstat(inFolder(pl.path(), all[i].Path))
		if err == nil {
			all[i].Mod = info.ModTime().UnixNano()
		}
		return err
	})
}

func byPath(a, b fileState) int { return strings.Compare(a.Path, b.Path) }

// file looks a file of the site up.
func (s *store) file(p string) (at int, ok bool) {
	if s == nil {
		return 0, false
	}
	return slices.BinarySearchFunc(s.Files, fileState{Path: p}, byPath)
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

// unchanged tells, by size and time, whether a file of a folder is as it was left.
func (f *fileState) unchanged(dir string) bool {
	info, err := os.Lstat(inFolder(dir, f.Path))
	return err == nil && info.Mode().IsRegular() && info.Size() == f.Size && info.ModTime().UnixNano() == f.Mod
}

// errChanged ends a look at a folder at the first change.
var errChanged = errors.New("changed")

// foldersUnchanged tells, by their times, whether nothing came into the folders of a site or left them.
func foldersUnchanged(ctx context.Context, dir string, folders []fileState) bool {
	if len(folders) == 0 {
		return false
	}
	return each(ctx, len(folders), 0, func(i int) error {
		info, err := os.Lstat(inFolder(dir, folders[i].Path))
		if err != nil || !info.IsDir() || info.ModTime().UnixNano() != folders[i].Mod {
			return errChanged
		}
		return nil
	}) == nil
}

// intact reports whether the site at a target is as it was put there.
func (s *store) intact(ctx context.Context, t *target) bool {
	dir := t.path()
	return t.ours() && foldersUnchanged(ctx, dir, s.Folders) && each(ctx, len(s.Files), 0, func(i int) error {
		if !s.Files[i].unchanged(dir) {
			return errChanged
		}
		return nil
	}) == nil
}
