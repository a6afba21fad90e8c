package site

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"sync"

	"slipleaf/build/disk"
	"slipleaf/build/facts"
	"slipleaf/build/fingerprint"
)

// marker is the file by which a site's folder is known to be ours. It lists nothing: it is uploaded with the rest.
const marker = ".slipleaf-site"

// markerText is all that the marker holds.
const markerText = "slipleaf site 2: this folder is remade by `slipleaf publish`\n"

// ErrNotOurs is returned for a target that holds something else than a site of ours.
var ErrNotOurs = errors.New("the folder holds something else")

// Placed says what putting a site in place did.
type Placed struct{ Written, Unchanged, Removed int }

// output is a file of the site that is to be at a target.
type output struct {
	Path string
	read []facts.Key     // what it was made from
	kept bool            // of that all is as it was
	was  int             // where the file before is in the store; where it is kept
	sum  fingerprint.Sum // of its bytes
	size int64
	same bool  // the target has it already
	mod  int64 // its time there, where it is known by the store
}

// placing is one putting of a site in place. It is begun when the outputs are named, takes each as it is made, so that they
// need not all be held in memory, and is finished when all are there.
type placing struct {
	swapped bool // the new site is in its place
	*target
	outputs []output
	keep    []string    // names of files and folders of others that are to stay, besides those that the list knows
	journal string      // the folder of the journal; "" where it is not known
	replace bool        // a site that was made from another journal
	list    *list       // of what is at the target
	lost    bool        // there was no list
	was     *store      // what is known of the target; nil: nothing
	from    *facts.Made // what its files were made from; nil: not known
	sum     func(facts.Key) fingerprint.Sum
	next    *store // is filled and left for the next publish; nil: nothing is left
	roomy   int    // from how many files on the old site is kept to become the next one
	old     map[string]bool
	gone    []string // paths of the old site that the new one has not
	made    sync.Map // folders of the new site that are there
}

// at is the path of a file of a folder beside the target, or of the target itself.
func at(folder, p string) string { return folder + "/" + p }

// begin keeps other publishes out until unlock, makes sure of whose folder the target is, and only then clears away what a
// publish that was cut off left.
func (pl *placing) begin(ctx context.Context) (unlock func(), err error) {
	if err := pl.named(); err != nil {
		return nil, err
	}
	release, err := pl.lock(ctx)
	if err != nil {
		return nil, err
	}
	if pl.was != nil && pl.was.generation != pl.storeGeneration() { // another publish came between
		pl.was, _ = readStore(pl.target)
	}
	if err = pl.claim(ctx); err == nil {
		err = pl.makeBeside(stageFolder, pl.list.generation)
	}
	if err != nil {
		release()
		return nil, err
	}
	return func() {
		_, _ = pl.discard(pl.sibling(stageFolder))
		release()
	}, nil
}

// keepAsIs keeps an output as it is at the target, if it was made there from the same.
func (pl *placing) keepAsIs(p *output) bool {
	i, ok := pl.was.file(p.Path)
	if !ok || pl.from == nil || !pl.from.Stays(i) || !pl.old[p.Path] || !pl.was.Files[i].unchanged(pl.path()) {
		return false
	}
	was := &pl.was.Files[i]
	copy(p.sum[:], was.Sum)
	p.size, p.mod, p.same, p.kept, p.was = was.Size, was.Mod, true, true, i
	return true
}

// take takes in what an output was made to: it is written, unless the target has it byte for byte.
func (pl *placing) take(p *output, data []byte) error {
	p.sum, p.size = fingerprint.Of(data), int64(len(data))
	if p.same = pl.old[p.Path] && pl.isThere(p, data); p.same {
		return nil
	}
	if err := pl.folder(path.Dir(p.Path)); err != nil {
		return err
	}
	return pl.write(at(pl.sibling(stageFolder), p.Path), data)
}

// write makes a file of a site, which must not be there yet.
func (pl *placing) write(name string, data []byte) error {
	f, err := pl.root.OpenFile(name, os.O_CREATE|os.O_EXCL|os.O_WRONLY, 0o644)
	if err != nil {
		return err
	}
	_, err = f.Write(data)
	return errors.Join(err, f.Close())
}

// folder makes a folder of the new site, once. It is safe for concurrent use.
func (pl *placing) folder(dir string) error {
	if _, there := pl.made.Load(dir); there {
		return nil
	}
	err := pl.root.MkdirAll(at(pl.sibling(stageFolder), dir), 0o755)
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
	slices.SortFunc(pl.outputs, func(a, b output) int { return strings.Compare(a.Path, b.Path) })
	m := output{Path: marker}
	err := pl.take(&m, []byte(markerText))
	if err != nil {
		return Placed{}, err
	}
	pl.outputs = append(pl.outputs, m)
	p := pl.count()
	if p.Written == 0 && p.Removed == 0 {
		err := pl.writeList(listNextName, pl.list, pl.outputs)
		if err == nil {
			err = pl.commitList()
		}
		return p, errors.Join(err, pl.leave(ctx, nil))
	}
	err = pl.exchange(ctx)
	if err != nil && !pl.swapped {
		return Placed{}, err // the old site is where it was
	}
	return p, err
}

// named looks for bugs among the paths: two files of one path, or one that leaves the site.
func (pl *placing) named() error {
	order := make([]string, len(pl.outputs))
	for i, p := range pl.outputs {
		if !fs.ValidPath(p.Path) || p.Path == "." || p.Path == marker || p.Path == besideMark || strings.ContainsAny(p.Path, "\n\\") {
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

// isThere reports whether the file at the target holds the bytes of an output.
func (pl *placing) isThere(p *output, data []byte) bool {
	name := at(pl.name, p.Path)
	info, err := pl.root.Lstat(name)
	if err != nil || !info.Mode().IsRegular() || info.Size() != p.size {
		return false
	}
	if i, ok := pl.was.file(p.Path); ok && pl.was.Files[i].Sum == string(p.sum[:]) && info.ModTime().UnixNano() == pl.was.Files[i].Mod {
		p.mod = pl.was.Files[i].Mod
		return true
	}
	b, err := disk.Read(pl.root, name, p.size)
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

// exchange completes the new folder and swaps it with the old one. From the swap on nothing stops it: the site is another.
func (pl *placing) exchange(ctx context.Context) error {
	fresh, err := pl.prepare(ctx)
	if err == nil {
		err = pl.syncAll(fresh)
	}
	if err == nil {
		err = pl.writeList(listNextName, pl.list, pl.outputs)
	}
	before := "" // where the old site is
	if err == nil {
		before, err = pl.swapIn(fresh)
	}
	if err != nil {
		return errors.Join(err, pl.removeBeside(fresh))
	}
	pl.swapped = true
	if err = pl.settle(before); err == nil {
		err = pl.leave(context.WithoutCancel(ctx), &exchanged{before, pl.changed()})
	}
	if err != nil {
		return fmt.Errorf("the new site is in place, but the old one could not be cleared away; publish again: %w", err)
	}
	return nil
}

// swapIn puts a folder in the target's place, and tells where the old site is then; "" where there was none.
func (pl *placing) swapIn(fresh string) (before string, err error) {
	if pl.old == nil {
		return "", pl.root.Rename(fresh, pl.name)
	}
	if err := pl.markBeside(pl.name, pl.list.generation); err != nil {
		return "", err
	}
	before, err = pl.swap(fresh)
	if err != nil {
		err = fmt.Errorf("%s could not be exchanged for the new site (%w): it is a disk of its own, or open in another program; name a folder within it, as in --to %s", pl.path(), err, filepath.Join(pl.path(), "site"))
		err = errors.Join(err, pl.root.Remove(at(pl.name, besideMark)))
	}
	return before, err
}

// settle makes the site at the target, which was beside it a moment ago, a site like any other.
func (pl *placing) settle(before string) error {
	if err := pl.root.Remove(at(pl.name, besideMark)); err != nil {
		return err
	}
	if before != "" {
		if _, err := pl.bringBack(before); err != nil {
			return err
		}
	}
	if err := disk.SyncDir(pl.root, "."); err != nil {
		return err
	}
	return pl.commitList()
}

// commitList makes the list that was written for the new site that of the target.
func (pl *placing) commitList() error {
	return pl.root.Rename(at(pl.sibling(buildCache), listNextName), at(pl.sibling(buildCache), listName))
}

// exchanged is the old site after an exchange: where it lies, "" for nowhere, and in which paths it differs from the new.
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
		return pl.link(at(pl.name, p.Path), at(pl.sibling(stageFolder), p.Path))
	})
}

// link gives a file a second name, or copies it with its time on a disk that has no hard links.
func (pl *placing) link(from, to string) error {
	if pl.root.Link(from, to) == nil {
		return nil
	}
	data, err := disk.Read(pl.root, from, MaxOutputBytes)
	if err != nil {
		return err
	}
	if err := pl.write(to, data); err != nil {
		return err
	}
	if info, err := pl.root.Lstat(from); err == nil {
		_ = pl.root.Chtimes(to, info.ModTime(), info.ModTime())
	}
	return nil
}

// moveAside swaps two folders where the system cannot do it in one step, and tells where the old site is then.
func (pl *placing) moveAside(fresh string) (before string, err error) {
	aside := pl.sibling(asideFolder)
	if err := pl.root.Rename(pl.name, aside); err != nil {
		return "", err
	}
	if err := pl.root.Rename(fresh, pl.name); err != nil {
		return "", errors.Join(err, pl.root.Rename(aside, pl.name))
	}
	return aside, nil
}

// inFolder is the path of a file below a folder of the disk.
func inFolder(dir, p string) string { return filepath.Join(dir, filepath.FromSlash(p)) }
