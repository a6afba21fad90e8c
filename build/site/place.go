package site

import (
	"bytes"
	"context"
	"encoding/hex"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"

	"slipleaf/build/journal"
	"slipleaf/build/page"
)

// marker is the file by which a site's folder is known to be ours: one line for each file, its hash and its path.
const marker = ".slipleaf-site"

// markerHead is the marker's first line.
const markerHead = "slipleaf site 1: this folder is remade by `slipleaf publish`; what you put here is removed\n"

// ErrNotOurs is returned for a target that holds something else than a site of ours.
var ErrNotOurs = errors.New("the folder holds something else")

// Placed says what putting a site in place did.
type Placed struct{ Written, Unchanged, Removed int }

// Place puts files at target in one step: a new folder beside it, in which what did not change is the same file as
// before, then an exchange of the two. If anything fails the old site stands untouched. A target that is not empty
// and not ours is refused with [ErrNotOurs].
func Place(ctx context.Context, target string, files []page.File) (Placed, error) {
	pieces := make([]piece, len(files))
	for i, f := range files {
		pieces[i] = piece{File: f, size: int64(len(f.Data))}
	}
	pl := &placing{target: resolved(target), pieces: pieces}
	return pl.run(ctx)
}

// resolved is a target's own path, whatever links lead to it.
func resolved(target string) string {
	if abs, err := filepath.Abs(target); err == nil {
		target = abs
	}
	if real, err := filepath.EvalSymlinks(target); err == nil {
		target = real
	}
	return target
}

// piece is a file of the site that is to stand at a target: made, or kept as it stands there.
type piece struct {
	page.File
	from journal.Print // of what it was made from; zero: not said
	kept *stood        // it need not be made, as long as the file at the target is this one
	make func() ([]byte, error)
	sum  journal.Print // of its bytes
	size int64
	same bool // the target has it already
}

// ready makes a piece that was to be kept after all.
func (p *piece) ready() (err error) {
	if p.kept == nil {
		return nil
	}
	p.kept = nil
	p.Data, err = p.make()
	p.size = int64(len(p.Data))
	return err
}

// placing is one putting of a site in place.
type placing struct {
	target string
	pieces []piece // by path once run has begun
	was    *store  // what is known of the target; nil: nothing
	next   *store  // is filled and left for the next publish; nil: nothing is left
	roomy  int     // from how many files on the old site is kept to become the next one
	old    map[string]bool
	gone   []string // paths of the old site that the new one has not
}

// run puts the site in place, alone.
func (pl *placing) run(ctx context.Context) (Placed, error) {
	if err := os.MkdirAll(filepath.Dir(pl.target), 0o755); err != nil {
		return Placed{}, err
	}
	unlock, err := lock(besides(pl.target, "lock"))
	if err != nil {
		return Placed{}, err
	}
	defer unlock()
	if err := mend(pl.target); err != nil {
		return Placed{}, err
	}
	if pl.was != nil && pl.was.generation != generationOf(pl.target) {
		pl.was = nil // another publish came between
	}
	if err := pl.standing(ctx); err != nil {
		return Placed{}, err
	}
	if err := pl.compare(ctx); err != nil {
		return Placed{}, err
	}
	if err := pl.addMarker(); err != nil {
		return Placed{}, err
	}
	p := pl.count()
	if p.Written == 0 && p.Removed == 0 {
		return p, pl.leave(ctx, nil)
	}
	return p, pl.exchange(ctx)
}

// addMarker sorts the pieces and adds the marker. Two files of one path, or a path that leaves the site, are bugs.
func (pl *placing) addMarker() error {
	var list bytes.Buffer
	list.WriteString(markerHead)
	for i := range pl.pieces {
		p := &pl.pieces[i]
		fmt.Fprintf(&list, "%s %s\n", hex.EncodeToString(p.sum[:12]), p.Path)
	}
	m := piece{File: page.File{Path: marker, Data: list.Bytes()}, sum: journal.PrintOf(list.Bytes()), size: int64(list.Len())}
	m.same = pl.old[marker] && pl.stands(&m)
	pl.pieces = append(pl.pieces, m)
	return nil
}

// sorted sorts the pieces by path and looks for bugs among the paths.
func (pl *placing) sorted() error {
	slices.SortFunc(pl.pieces, func(a, b piece) int { return strings.Compare(a.Path, b.Path) })
	for i, f := range pl.pieces {
		if !fs.ValidPath(f.Path) || f.Path == "." {
			return fmt.Errorf("%q is no path of a site", f.Path)
		}
		if i > 0 && pl.pieces[i-1].Path == f.Path {
			return fmt.Errorf("two pages want the address %s", f.Path)
		}
	}
	return nil
}

// standing lists the files of the site at the target; none where there is no site yet.
func (pl *placing) standing(ctx context.Context) error {
	entries, err := os.ReadDir(pl.target)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil
	case err != nil:
		return err
	case len(entries) == 0:
		pl.old = map[string]bool{}
		return nil
	}
	if !ours(pl.target) {
		return fmt.Errorf("%s: %w: it is not empty and no site of ours (no %s in it); name another with --to", pl.target, ErrNotOurs, marker)
	}
	pl.old = map[string]bool{}
	if pl.was != nil && foldersStand(ctx, pl.target, pl.was.Folders) {
		for i := range pl.was.Files {
			pl.old[pl.was.Files[i].Path] = true
		}
		return nil
	}
	pl.was = pl.was.withoutSpare() // what else lies in the folder would come back with it
	return filepath.WalkDir(pl.target, func(p string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		rel, err := filepath.Rel(pl.target, p)
		pl.old[filepath.ToSlash(rel)] = true
		return err
	})
}

// ours tells whether a folder is a site of ours.
func ours(target string) bool {
	f, err := os.Open(filepath.Join(target, marker))
	if err != nil {
		return false
	}
	defer f.Close()
	head := make([]byte, len("slipleaf site "))
	n, _ := f.Read(head)
	return string(head[:n]) == "slipleaf site "
}

// compare finds which pieces stand at the target already, byte for byte.
func (pl *placing) compare(ctx context.Context) error {
	if err := pl.sorted(); err != nil {
		return err
	}
	return each(ctx, len(pl.pieces), 0, func(i int) error {
		p := &pl.pieces[i]
		if p.kept != nil && pl.old[p.Path] && p.kept.standsAt(pl.target) {
			p.same, p.sum, p.size = true, p.kept.Sum, p.kept.Size
			return nil
		}
		if err := p.ready(); err != nil {
			return err
		}
		p.sum = journal.PrintOf(p.Data)
		p.same = pl.old[p.Path] && pl.stands(p)
		return nil
	})
}

// stands tells whether the file at the target holds the bytes of a piece.
func (pl *placing) stands(p *piece) bool {
	name := filepath.Join(pl.target, filepath.FromSlash(p.Path))
	info, err := os.Lstat(name)
	if err != nil || !info.Mode().IsRegular() || info.Size() != p.size {
		return false
	}
	if was, ok := pl.was.file(p.Path); ok && was.Sum == p.sum && info.ModTime().UnixNano() == was.Mod {
		return true
	}
	b, err := os.ReadFile(name)
	return err == nil && bytes.Equal(b, p.Data)
}

// count sums up what is to be done.
func (pl *placing) count() Placed {
	var p Placed
	here := make(map[string]bool, len(pl.pieces))
	for i := range pl.pieces {
		here[pl.pieces[i].Path] = true
		if pl.pieces[i].same {
			p.Unchanged++
		} else {
			p.Written++
		}
	}
	for path := range pl.old {
		if !here[path] {
			pl.gone = append(pl.gone, path)
		}
	}
	slices.Sort(pl.gone)
	p.Removed = len(pl.gone)
	return p
}

// exchange builds the new folder and swaps it with the old one.
func (pl *placing) exchange(ctx context.Context) error {
	fresh := besides(pl.target, "new")
	defer os.RemoveAll(fresh)
	if err := pl.prepare(ctx, fresh); err != nil {
		return err
	}
	if err := syncAll(fresh); err != nil {
		return err
	}
	if pl.old != nil {
		if err := swap(fresh, pl.target); err != nil {
			return err
		}
	} else if err := os.Rename(fresh, pl.target); err != nil {
		return err
	}
	if err := SyncDir(filepath.Dir(pl.target)); err != nil {
		return err
	}
	return pl.leave(ctx, pl.changed())
}

// changed lists the paths in which the old site and the new one differ.
func (pl *placing) changed() []string {
	out := slices.Clone(pl.gone)
	for i := range pl.pieces {
		if !pl.pieces[i].same {
			out = append(out, pl.pieces[i].Path)
		}
	}
	slices.Sort(out)
	return out
}

// fill writes the pieces below fresh, or links those that are the same as at the target.
func (pl *placing) fill(ctx context.Context, fresh string) error {
	made := map[string]bool{}
	for i := range pl.pieces {
		if dir := path.Dir(pl.pieces[i].Path); !made[dir] {
			if err := os.MkdirAll(filepath.Join(fresh, filepath.FromSlash(dir)), 0o755); err != nil {
				return err
			}
			made[dir] = true
		}
	}
	return each(ctx, len(pl.pieces), 0, func(i int) error { return pl.pieces[i].writeTo(fresh, pl.target) })
}

// writeTo writes a piece below fresh, or links it where it is the same as at the target.
func (p *piece) writeTo(fresh, target string) error {
	to, at := filepath.Join(fresh, filepath.FromSlash(p.Path)), filepath.Join(target, filepath.FromSlash(p.Path))
	if !p.same {
		return os.WriteFile(to, p.Data, 0o644)
	}
	if os.Link(at, to) == nil {
		return nil
	}
	data := p.Data // a disk without hard links: copy, and keep the time
	if p.kept != nil {
		var err error
		if data, err = os.ReadFile(at); err != nil {
			return err
		}
	}
	if err := os.WriteFile(to, data, 0o644); err != nil {
		return err
	}
	if info, err := os.Stat(at); err == nil {
		_ = os.Chtimes(to, info.ModTime(), info.ModTime())
	}
	return nil
}

// besides names a companion of target: a hidden file or folder next to it.
func besides(target, what string) string {
	return filepath.Join(filepath.Dir(target), "."+filepath.Base(target)+"."+what)
}

// mend cleans up after a publish that was cut off: a half-made folder goes, and an old site that had been moved
// aside comes back when nothing stands in its place.
func mend(target string) error {
	if err := os.RemoveAll(besides(target, "new")); err != nil {
		return err
	}
	aside := besides(target, "old")
	if _, err := os.Lstat(aside); err != nil {
		return nil
	}
	if _, err := os.Lstat(target); errors.Is(err, fs.ErrNotExist) {
		return os.Rename(aside, target)
	}
	return os.RemoveAll(aside)
}

// moveAside swaps two folders where the system cannot do it in one step.
func moveAside(fresh, target string) error {
	old := besides(target, "old")
	if err := os.Rename(target, old); err != nil {
		return err
	}
	if err := os.Rename(fresh, target); err != nil {
		return errors.Join(err, os.Rename(old, target))
	}
	return os.RemoveAll(old)
}

// SyncDir makes a new name in dir last through a power cut; where the system cannot, the file itself is safe already.
func SyncDir(dir string) error {
	d, err := os.Open(dir)
	if err != nil {
		return err
	}
	defer d.Close()
	if err := d.Sync(); err != nil && !errors.Is(err, errors.ErrUnsupported) && !errors.Is(err, fs.ErrInvalid) && !os.IsPermission(err) {
		return err
	}
	return nil
}
