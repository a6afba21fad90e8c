package site

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"

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
	target, err := filepath.Abs(target)
	if err != nil {
		return Placed{}, err
	}
	if real, err := filepath.EvalSymlinks(target); err == nil {
		target = real
	}
	if err := os.MkdirAll(filepath.Dir(target), 0o755); err != nil {
		return Placed{}, err
	}
	unlock, err := lock(besides(target, "lock"))
	if err != nil {
		return Placed{}, err
	}
	defer unlock()
	if err := mend(target); err != nil {
		return Placed{}, err
	}
	old, err := standing(target)
	if err != nil {
		return Placed{}, err
	}
	files, err = withMarker(ctx, files)
	if err != nil {
		return Placed{}, err
	}
	p, same, err := compare(ctx, target, old, files)
	if err != nil {
		return Placed{}, err
	}
	if p.Written == 0 && p.Removed == 0 {
		return p, nil
	}
	return p, exchange(ctx, target, files, same, old != nil)
}

// withMarker sorts the files and adds the marker. Two files of one path, or a path that leaves the site, are bugs.
func withMarker(ctx context.Context, files []page.File) ([]page.File, error) {
	files = slices.Clone(files)
	slices.SortFunc(files, func(a, b page.File) int { return strings.Compare(a.Path, b.Path) })
	sums := make([][sha256.Size]byte, len(files))
	if err := each(ctx, len(files), 0, func(i int) error { sums[i] = sha256.Sum256(files[i].Data); return nil }); err != nil {
		return nil, err
	}
	var list bytes.Buffer
	list.WriteString(markerHead)
	for i, f := range files {
		if !fs.ValidPath(f.Path) || f.Path == "." {
			return nil, fmt.Errorf("%q is no path of a site", f.Path)
		}
		if i > 0 && files[i-1].Path == f.Path {
			return nil, fmt.Errorf("two pages want the address %s", f.Path)
		}
		fmt.Fprintf(&list, "%s %s\n", hex.EncodeToString(sums[i][:12]), f.Path)
	}
	return append(files, page.File{Path: marker, Data: list.Bytes()}), nil
}

// standing lists the files of the site at target; nil when there is none yet.
func standing(target string) (map[string]fs.FileInfo, error) {
	entries, err := os.ReadDir(target)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, nil
	case err != nil:
		return nil, err
	case len(entries) == 0:
		return map[string]fs.FileInfo{}, nil
	}
	if b, err := os.ReadFile(filepath.Join(target, marker)); err != nil || !strings.HasPrefix(string(b), "slipleaf site ") {
		return nil, fmt.Errorf("%s: %w: it is not empty and no site of ours (no %s in it); name another with --to", target, ErrNotOurs, marker)
	}
	old := map[string]fs.FileInfo{}
	err = filepath.WalkDir(target, func(p string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		rel, err := filepath.Rel(target, p)
		if err != nil {
			return err
		}
		info, err := d.Info()
		old[filepath.ToSlash(rel)] = info
		return err
	})
	return old, err
}

// compare tells which of files stand at target already, byte for byte.
func compare(ctx context.Context, target string, old map[string]fs.FileInfo, files []page.File) (Placed, []bool, error) {
	same := make([]bool, len(files))
	err := each(ctx, len(files), 0, func(i int) error {
		f := files[i]
		if info, ok := old[f.Path]; ok && info.Mode().IsRegular() && info.Size() == int64(len(f.Data)) {
			b, err := os.ReadFile(filepath.Join(target, filepath.FromSlash(f.Path)))
			same[i] = err == nil && bytes.Equal(b, f.Data)
		}
		return nil
	})
	p := Placed{Removed: len(old)}
	for i, f := range files {
		if _, ok := old[f.Path]; ok {
			p.Removed--
		}
		if same[i] {
			p.Unchanged++
		} else {
			p.Written++
		}
	}
	return p, same, err
}

// exchange builds the new folder and swaps it with the old one.
func exchange(ctx context.Context, target string, files []page.File, same []bool, exists bool) error {
	fresh := besides(target, "new")
	if err := os.RemoveAll(fresh); err != nil {
		return err
	}
	defer os.RemoveAll(fresh)
	if err := fill(ctx, fresh, target, files, same); err != nil {
		return err
	}
	if err := syncAll(fresh); err != nil {
		return err
	}
	if exists {
		if err := swap(fresh, target); err != nil {
			return err
		}
	} else if err := os.Rename(fresh, target); err != nil {
		return err
	}
	return SyncDir(filepath.Dir(target))
}

// fill writes the files below fresh, or links those that are the same as at target.
func fill(ctx context.Context, fresh, target string, files []page.File, same []bool) error {
	made := map[string]bool{}
	for _, f := range files {
		if dir := path.Dir(f.Path); !made[dir] {
			if err := os.MkdirAll(filepath.Join(fresh, filepath.FromSlash(dir)), 0o755); err != nil {
				return err
			}
			made[dir] = true
		}
	}
	return each(ctx, len(files), 0, func(i int) error {
		f := files[i]
		to, at := filepath.Join(fresh, filepath.FromSlash(f.Path)), filepath.Join(target, filepath.FromSlash(f.Path))
		if same[i] && os.Link(at, to) == nil {
			return nil
		}
		if err := os.WriteFile(to, f.Data, 0o644); err != nil {
			return err
		}
		if same[i] { // a disk without hard links: copy, and keep the time
			if info, err := os.Stat(at); err == nil {
				_ = os.Chtimes(to, info.ModTime(), info.ModTime())
			}
		}
		return nil
	})
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
