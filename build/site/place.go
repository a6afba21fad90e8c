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
	"sync"

	"slipleaf/build/fingerprint"
	"slipleaf/build/theme"
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
func Place(ctx context.Context, target string, files []theme.File) (Placed, error) {
	pl := &placing{target: resolved(target)}
	unlock, err := pl.begin(ctx)
	if err != nil {
		return Placed{}, err
	}
	defer unlock()
	pl.outputs = make([]output, len(files))
	for i, f := range files {
		pl.outputs[i].Path = f.Path
	}
	if err := pl.named(); err != nil {
		return Placed{}, err
	}
	if err := each(ctx, len(files), 0, func(i int) error { return pl.take(&pl.outputs[i], files[i].Data) }); err != nil {
		return Placed{}, err
	}
	return pl.finish(ctx)
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

// output is a file of the site that is to stand at a target.
type output struct {
	Path string
	from fingerprint.Sum // of what it was made from; zero: not said
	sum  fingerprint.Sum // of its bytes
	size int64
	same bool  // the target has it already
	mod  int64 // its time there, where it is known by the store
}

// placing is one putting of a site in place. It is begun before the outputs are made, takes each as it is made, so that
// they need not all be held in memory, and is finished when all are there.
type placing struct {
	target  string
	outputs []output
	was     *store // what is known of the target; nil: nothing
	next    *store // is filled and left for the next publish; nil: nothing is left
	roomy   int    // from how many files on the old site is kept to become the next one
	old     map[string]bool
	gone    []string // paths of the old site that the new one has not
	made    sync.Map // folders of the new site that are there
}

// stage is the folder in which the new site is made.
func (pl *placing) stage() string { return sibling(pl.target, "new") }

// begin keeps other publishes out until unlock, mends what a crash left, and looks at what stands at the target.
func (pl *placing) begin(ctx context.Context) (unlock func(), err error) {
	if err := os.MkdirAll(filepath.Dir(pl.target), 0o755); err != nil {
		return nil, err
	}
	release, err := lock(sibling(pl.target, "lock"))
	if err != nil {
		return nil, err
	}
	if err = recoverTarget(pl.target); err == nil {
		if pl.was != nil && pl.was.generation != generationOf(pl.target) { // another publish came between
			if pl.was, err = readStore(pl.target); err != nil {
				pl.was, err = nil, nil
			}
		}
		err = pl.standing(ctx)
	}
	if err != nil {
		release()
		return nil, err
	}
	return func() {
		_ = os.RemoveAll(pl.stage())
		release()
	}, nil
}

// keep keeps an output as it stands at the target, if it was made there from the same.
func (pl *placing) keep(p *output) bool {
	was, ok := pl.was.file(p.Path)
	if !ok || was.From != p.from || !pl.old[p.Path] || !was.standsAt(pl.target) {
		return false
	}
	p.sum, p.size, p.mod, p.same = was.Sum, was.Size, was.Mod, true
	return true
}

// take takes in what an output was made to: it is written, unless the target has it byte for byte.
func (pl *placing) take(p *output, data []byte) error {
	p.sum, p.size = fingerprint.Of(data), int64(len(data))
	if p.same = pl.old[p.Path] && pl.stands(p, data); p.same {
		return nil
	}
	if err := pl.folder(path.Dir(p.Path)); err != nil {
		return err
	}
	return os.WriteFile(inside(pl.stage(), p.Path), data, 0o644)
}

// inside is the path of a file of the site below a folder.
func inside(dir, p string) string { return filepath.Join(dir, filepath.FromSlash(p)) }

// folder makes a folder of the new site, once.
func (pl *placing) folder(dir string) error {
	if _, there := pl.made.Load(dir); there {
		return nil
	}
	err := os.MkdirAll(inside(pl.stage(), dir), 0o755)
	if err == nil {
		pl.made.Store(dir, true)
	}
	return err
}

// finish puts the site in place when all outputs are there.
func (pl *placing) finish(ctx context.Context) (Placed, error) {
	if err := ctx.Err(); err != nil {
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

// addMarker adds the marker, which lists the outputs by path.
func (pl *placing) addMarker() error {
	slices.SortFunc(pl.outputs, func(a, b output) int { return strings.Compare(a.Path, b.Path) })
	var list bytes.Buffer
	list.WriteString(markerHead)
	for i := range pl.outputs {
		p := &pl.outputs[i]
		fmt.Fprintf(&list, "%s %s\n", hex.EncodeToString(p.sum[:12]), p.Path)
	}
	m := output{Path: marker}
	err := pl.take(&m, list.Bytes())
	pl.outputs = append(pl.outputs, m)
	return err
}

// named looks for bugs among the paths: two files of one path, or one that leaves the site.
func (pl *placing) named() error {
	order := make([]string, len(pl.outputs))
	for i, p := range pl.outputs {
		if !fs.ValidPath(p.Path) || p.Path == "." || p.Path == marker {
			return fmt.Errorf("%q is no path of a site", p.Path)
		}
		order[i] = p.Path
	}
	slices.Sort(order)
	for i := range order {
		if i > 0 && order[i-1] == order[i] {
			return fmt.Errorf("two pages have the address %s", order[i])
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
		return fmt.Errorf("%s: %w: it is not empty and was not made by Slipleaf (no %s in it); choose another with --to", pl.target, ErrNotOurs, marker)
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

// stands tells whether the file at the target holds the bytes of an output.
func (pl *placing) stands(p *output, data []byte) bool {
	name := inside(pl.target, p.Path)
	info, err := os.Lstat(name)
	if err != nil || !info.Mode().IsRegular() || info.Size() != p.size {
		return false
	}
	if was, ok := pl.was.file(p.Path); ok && was.Sum == p.sum && info.ModTime().UnixNano() == was.Mod {
		p.mod = was.Mod
		return true
	}
	b, err := os.ReadFile(name)
	return err == nil && bytes.Equal(b, data)
}

// count sums up what is to be done.
func (pl *placing) count() Placed {
	var p Placed
	here := make(map[string]bool, len(pl.outputs))
	for i := range pl.outputs {
		here[pl.outputs[i].Path] = true
		if pl.outputs[i].same {
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

// exchange completes the new folder and swaps it with the old one.
func (pl *placing) exchange(ctx context.Context) error {
	fresh, err := pl.prepare(ctx)
	if err != nil {
		return err
	}
	defer os.RemoveAll(fresh)
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
	return pl.leave(ctx, &exchanged{fresh, pl.changed()})
}

// exchanged is the old site after an exchange: where it lies, and in which paths it differs from the new one.
type exchanged struct {
	at    string
	paths []string
}

// changed lists the paths in which the old site and the new one differ.
func (pl *placing) changed() []string {
	out := slices.Clone(pl.gone)
	for i := range pl.outputs {
		if !pl.outputs[i].same {
			out = append(out, pl.outputs[i].Path)
		}
	}
	slices.Sort(out)
	return out
}

// fill links the outputs that are the same as at the target into the new folder, in which all others lie already.
func (pl *placing) fill(ctx context.Context) error {
	return each(ctx, len(pl.outputs), 0, func(i int) error {
		p := &pl.outputs[i]
		if !p.same {
			return nil
		}
		if err := pl.folder(path.Dir(p.Path)); err != nil {
			return err
		}
		return link(inside(pl.target, p.Path), inside(pl.stage(), p.Path))
	})
}

// link gives a file a second name, or copies it with its time on a disk that has no hard links.
func link(from, to string) error {
	if os.Link(from, to) == nil {
		return nil
	}
	data, err := os.ReadFile(from)
	if err != nil {
		return err
	}
	if err := os.WriteFile(to, data, 0o644); err != nil {
		return err
	}
	if info, err := os.Stat(from); err == nil {
		_ = os.Chtimes(to, info.ModTime(), info.ModTime())
	}
	return nil
}

// sibling names a companion of target: a hidden file or folder next to it.
func sibling(target, what string) string {
	if abs, err := filepath.Abs(target); err == nil {
		target = abs
	}
	return filepath.Join(filepath.Dir(target), "."+filepath.Base(target)+"."+what)
}

// recoverTarget cleans up after a publish that was cut off: a half-made folder goes, and an old site that had been moved
// aside comes back when nothing stands in its place.
func recoverTarget(target string) error {
	for _, half := range []string{"new", "next"} {
		if err := os.RemoveAll(sibling(target, half)); err != nil {
			return err
		}
	}
	aside := sibling(target, "old")
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
	old := sibling(target, "old")
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
