package site

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"slipleaf/build/disk"
)

// What lies beside a site's folder, as .www.build.cache beside www.
const (
	buildCache  = "build.cache"  // what the next publish need not do again, and the list of the site's files
	photoCache  = "photos.cache" // photos that were made ready
	spareFolder = "spare"        // the folder of the site before, see spare.go
	stageFolder = "new"          // a site while it is being made
	nextFolder  = "next"         // a spare that is being made the new site
	asideFolder = "old"          // the site before, for a moment, where two folders cannot be exchanged in one step
)

var companions = []string{buildCache, photoCache, spareFolder, stageFolder, nextFolder, asideFolder}

// Beside lists where the cache and the spare of the site at a target lie, the photos aside: delete both or neither.
func Beside(to string) []string {
	t := target{dir: filepath.Dir(to), name: filepath.Base(to)}
	return []string{t.siblingPath(buildCache), t.siblingPath(spareFolder)}
}

// target is the folder of a site and what we keep beside it. All are reached through the folder that they lie in, and none
// through a link: a journal from elsewhere may hold anything under these names.
type target struct {
	root *os.Root // the folder in which they lie
	dir  string   // its path
	name string   // of the site's folder
}

// openTarget opens the folder in which a site lies or is to lie, makes it where there is none, and refuses a target that
// cannot be ours, before anything else is done.
func openTarget(path string, o Options) (*target, error) {
	dir, name, err := resolve(path, o)
	if err != nil {
		return nil, err
	}
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return nil, err
	}
	root, err := os.OpenRoot(dir)
	if err != nil {
		return nil, err
	}
	t := &target{root, dir, name}
	if err := t.check(o.Keep); err != nil {
		t.close()
		return nil, err
	}
	return t, nil
}

func (t *target) close() { t.root.Close() }

// sibling names a companion in the folder that both lie in.
func (t *target) sibling(what string) string { return "." + t.name + "." + what }

// siblingPath is the path of a companion.
func (t *target) siblingPath(what string) string { return filepath.Join(t.dir, t.sibling(what)) }

// path is the path of the site's folder.
func (t *target) path() string { return filepath.Join(t.dir, t.name) }

// check refuses companions that are no folders, and a site's folder that is none or not ours.
func (t *target) check(keep []string) error {
	for _, what := range companions {
		info, err := t.root.Lstat(t.sibling(what))
		if errors.Is(err, fs.ErrNotExist) {
			continue
		}
		if err != nil {
			return err
		}
		if !info.IsDir() {
			return fmt.Errorf("%s is %s, where a publish keeps a folder of its own: nothing was written; move it away", t.siblingPath(what), disk.KindOf(info.Mode()))
		}
	}
	empty, err := t.isEmpty(keep)
	if err != nil || empty || t.ours() {
		return err
	}
	return fmt.Errorf("%s: %w: it is not empty and was not made by Slipleaf (no %s in it); choose another with --to", t.path(), ErrNotOurs, marker)
}

// isEmpty reports whether nothing is at the target yet but what is to stay.
func (t *target) isEmpty(keep []string) (bool, error) {
	info, err := t.root.Lstat(t.name)
	if errors.Is(err, fs.ErrNotExist) {
		return true, nil
	}
	if err != nil {
		return false, err
	}
	if !info.IsDir() {
		return false, fmt.Errorf("%s is %s, and a site is a folder; choose another with --to", t.path(), disk.KindOf(info.Mode()))
	}
	d, err := t.root.Open(t.name)
	if err != nil {
		return false, err
	}
	defer d.Close()
	names, err := d.Readdirnames(len(keep) + 1)
	if errors.Is(err, io.EOF) {
		err = nil
	}
	others := slices.ContainsFunc(names, func(n string) bool { return !slices.Contains(keep, n) })
	return !others, err
}

// ours reports whether the folder is a site of ours.
func (t *target) ours() bool {
	head, err := disk.Read(t.root, t.name+"/"+marker, 1<<20)
	return err == nil && strings.HasPrefix(string(head), "slipleaf site ")
}

// has reports whether there is something at a name beside the target.
func (t *target) has(what string) bool {
	_, err := t.root.Lstat(t.sibling(what))
	return err == nil
}

// leftovers reports whether a publish was cut off here.
func (t *target) leftovers() bool {
	return slices.ContainsFunc([]string{stageFolder, nextFolder, asideFolder}, t.has)
}
