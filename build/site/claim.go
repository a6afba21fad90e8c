package site

import (
	"cmp"
	"context"
	"crypto/rand"
	"encoding/hex"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"path"
	"slices"
	"strings"

	"slipleaf/build/disk"
	"slipleaf/build/fingerprint"
)

// besideMark is a file in every folder that lies beside a target for a while: it holds the generation of the target's list,
// by which the folder is known for ours.
const besideMark = ".slipleaf-beside"

// lock keeps other publishes to the target out, and clears the build cache of what they were writing when they were killed.
func (pl *placing) lock(ctx context.Context) (unlock func(), err error) {
	cache := pl.sibling(buildCache)
	if err := pl.root.Mkdir(cache, 0o700); err != nil && !errors.Is(err, fs.ErrExist) {
		return nil, err
	}
	unlock, err = disk.Lock(ctx, pl.siblingPath(buildCache))
	if err != nil {
		return nil, err
	}
	if err := pl.check(pl.keep); err != nil { // what it was before the wait counts for nothing
		unlock()
		return nil, err
	}
	disk.ClearTemp(pl.root, cache)
	return unlock, nil
}

// claim makes sure that all at the target is ours, or is to stay, before anything is changed; then it clears away what a
// publish that was cut off left beside it.
func (pl *placing) claim(ctx context.Context) error {
	k, err := pl.known()
	if err != nil {
		return err
	}
	if p := pl.list.clash(pl.outputs); p != "" {
		return fmt.Errorf("%s has a file that is to stay where the site has one of its own; move it away", inFolder(pl.path(), p))
	}
	if err := pl.survey(ctx, k); err != nil {
		return err
	}
	changed, err := pl.recover()
	if err == nil {
		err = pl.endCutOff()
	}
	if err == nil && changed {
		err = pl.survey(ctx, k)
	}
	if err == nil && pl.lost {
		err = pl.writeList(listName, pl.list, pl.surveyed())
	}
	return err
}

// endCutOff makes the list of a publish that was cut off behind its exchange that of the target. This publish is about to write
// another in its place, and were it cut off too, before its own exchange, no list would be that of the site that stands
// there. Any file that the two sites do not share tells which of them does, since they are exchanged as one.
func (pl *placing) endCutOff() error {
	next, err := pl.readList(listNextName)
	if err != nil || next == nil || next.generation != pl.list.generation {
		return err
	}
	was, err := pl.readList(listName)
	if err != nil || was == nil {
		return err
	}
	for p, sum := range next.files {
		if was.files[p] != sum {
			data, err := disk.Read(pl.root, at(pl.name, p), MaxOutputBytes)
			if is := fingerprint.Of(data); err != nil || hex.EncodeToString(is[:sumListed]) != sum {
				return nil // it is the site before, or not known; the publish goes on as if it were
			}
			return pl.commitList()
		}
	}
	for p := range was.files {
		if _, both := next.files[p]; !both {
			if _, err := pl.root.Lstat(at(pl.name, p)); err == nil {
				return nil
			}
			return pl.commitList()
		}
	}
	return nil
}

// known are the files that are ours, and the folders that hold any.
type known struct{ files, folders map[string]bool }

func (k known) add(files map[string]string) {
	for f := range files {
		k.files[f] = true
		for dir := path.Dir(f); !k.folders[dir]; dir = path.Dir(dir) {
			k.folders[dir] = true
		}
	}
}

// known reads the lists of the target. Where there is none, because the cache was deleted, only what the new site has as
// well is taken for ours.
func (pl *placing) known() (known, error) {
	k := known{map[string]bool{marker: true, besideMark: true}, map[string]bool{".": true}}
	now, err := pl.readList(listName)
	if err != nil {
		return k, err
	}
	next, err := pl.readList(listNextName)
	if err != nil {
		return k, err
	}
	pl.lost = now == nil
	if now = cmp.Or(now, next, &list{generation: rand.Text(), files: map[string]string{}}); pl.lost {
		for i := range pl.outputs {
			now.files[pl.outputs[i].Path] = ""
		}
	}
	k.add(now.files)
	if next != nil && next.generation == now.generation {
		k.add(next.files)
	}
	if err := pl.sameJournal(now.journal); err != nil {
		return k, err
	}
	now.journal = cmp.Or(pl.journal, now.journal)
	now.keep = append(now.keep, pl.keep...)
	slices.Sort(now.keep)
	now.keep = slices.Compact(now.keep)
	pl.list = now
	return k, nil
}

// sameJournal refuses a site that was made from another journal, unless it is to be replaced.
func (pl *placing) sameJournal(from string) error {
	if from == "" || pl.journal == "" || from == pl.journal || pl.replace {
		return nil
	}
	if _, err := pl.root.Lstat(pl.name); errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	return fmt.Errorf("%s holds the site of another journal, in %s; name another folder with --to, or add --replace", pl.path(), from)
}

// survey lists the files of the site at the target, none where there is no site yet, and refuses a target with others.
func (pl *placing) survey(ctx context.Context, k known) error {
	pl.old = nil
	if _, err := pl.root.Lstat(pl.name); errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	pl.old = map[string]bool{}
	if pl.was != nil && foldersUnchanged(ctx, pl.path(), pl.was.Folders) {
		for i := range pl.was.Files {
			pl.old[pl.was.Files[i].Path] = true
		}
		return nil
	}
	pl.was = pl.was.withoutSpare() // what else lies in the folder would come back with it
	var foreign []string
	err := fs.WalkDir(pl.root.FS(), pl.name, func(p string, d fs.DirEntry, err error) error {
		rel := strings.TrimPrefix(p, pl.name+"/")
		switch {
		case err != nil || ctx.Err() != nil:
			return errors.Join(err, ctx.Err())
		case p == pl.name || d.IsDir() && k.folders[rel]:
			return nil
		case pl.list.kept(rel):
		case d.Type().IsRegular() && k.files[rel]:
			pl.old[rel] = true
		default:
			foreign = append(foreign, rel)
		}
		if len(foreign) > mostForeign {
			return fs.SkipAll
		}
		if d.IsDir() {
			return fs.SkipDir
		}
		return nil
	})
	delete(pl.old, besideMark)
	if err == nil && len(foreign) > 0 {
		err = pl.notOurs(foreign)
	}
	return err
}

// mostForeign is how many files of others are named.
const mostForeign = 5

// notOurs says which files at the target are somebody else's.
func (pl *placing) notOurs(foreign []string) error {
	more, s := "", slices.Clone(foreign)
	if len(s) > mostForeign {
		more, s = " and more", s[:mostForeign]
	}
	for i := range s {
		s[i] = fmt.Sprintf("%q", s[i])
	}
	lost := ""
	if pl.lost {
		lost = " (the list of what publish put there, in " + pl.siblingPath(buildCache) + ", is gone)"
	}
	return fmt.Errorf("%s: %w: publish did not put %s%s there%s; nothing was changed: move them away, or let them stay with --keep NAME", pl.path(), ErrNotOurs, strings.Join(s, ", "), more, lost)
}

// recover clears away what a publish that was cut off left: a half-made folder goes, and an old site that had been moved
// aside comes back when nothing is in its place. Only folders of this target's generation are touched; another one in
// their place is an error. changed reports whether the target is another than before.
func (pl *placing) recover() (changed bool, err error) {
	for _, what := range []string{stageFolder, nextFolder, asideFolder, spareFolder} {
		if err := pl.checkBeside(what); err != nil {
			return false, err
		}
	}
	if _, err := pl.root.Lstat(pl.name); errors.Is(err, fs.ErrNotExist) && pl.has(asideFolder) {
		if err := pl.root.Rename(pl.sibling(asideFolder), pl.name); err != nil {
			return false, err
		}
		changed = true
	}
	for _, what := range []string{stageFolder, nextFolder, asideFolder} {
		moved, err := pl.discard(pl.sibling(what))
		if changed = changed || moved; err != nil {
			return changed, err
		}
	}
	if _, err := pl.root.Lstat(at(pl.name, besideMark)); err == nil {
		return true, pl.root.Remove(at(pl.name, besideMark))
	}
	return changed, nil
}

// discard removes a folder beside the target. What is to stay, and was in it when it was the site, moves to the one that is
// in its place first; moved reports whether any did.
func (pl *placing) discard(folder string) (moved bool, err error) {
	if moved, err = pl.bringBack(folder); err != nil {
		return moved, err
	}
	return moved, pl.removeBeside(folder)
}

// removeBeside removes a folder beside the target, its mark last, so that one that is half removed is still known for ours.
func (t *target) removeBeside(folder string) error {
	d, err := t.root.Open(folder)
	if err != nil {
		return ignoreMissing(err)
	}
	names, err := d.Readdirnames(-1)
	d.Close()
	for _, n := range names {
		if n != besideMark {
			err = errors.Join(err, t.root.RemoveAll(at(folder, n)))
		}
	}
	if err != nil {
		return err
	}
	return t.root.RemoveAll(folder)
}

// bringBack moves what is to stay from a site that was taken out of its place into the one that is in it.
func (pl *placing) bringBack(from string) (moved bool, err error) {
	for _, k := range pl.list.keep {
		old, now := at(from, k), at(pl.name, k)
		if _, err := pl.root.Lstat(old); err != nil {
			continue
		}
		if err := pl.root.MkdirAll(path.Dir(now), 0o755); err != nil {
			return moved, err
		}
		if err := pl.root.Rename(old, now); err != nil {
			return moved, err
		}
		moved = true
	}
	return moved, nil
}

// surveyed are the files at the target as outputs, of which no more is known than their names.
func (pl *placing) surveyed() []output {
	var out []output
	for _, p := range slices.Sorted(maps.Keys(pl.old)) {
		out = append(out, output{Path: p})
	}
	return out
}

// makeBeside makes a folder beside the target that is known for ours.
func (pl *placing) makeBeside(what, generation string) error {
	if err := pl.root.Mkdir(pl.sibling(what), 0o755); err != nil {
		return err
	}
	return pl.markBeside(pl.sibling(what), generation)
}

func (pl *placing) markBeside(folder, generation string) error {
	return disk.Leave(pl.root, at(folder, besideMark), []byte(generation+"\n"), disk.Public)
}

// checkBeside refuses a folder beside the target that is not ours. An empty one is as good as none, and goes.
func (pl *placing) checkBeside(what string) error {
	if !pl.has(what) {
		return nil
	}
	disk.ClearTemp(pl.root, pl.sibling(what))    // a mark that was being written
	if pl.root.Remove(pl.sibling(what)) == nil { // fails where anything is in it
		return nil
	}
	mark, err := disk.Read(pl.root, at(pl.sibling(what), besideMark), 100)
	if err == nil && string(mark) == pl.list.generation+"\n" {
		return nil
	}
	return fmt.Errorf("%s: %w: it is in the way, and was not left by a publish to %s; move it away", pl.siblingPath(what), ErrNotOurs, pl.path())
}

func ignoreMissing(err error) error {
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	return err
}
