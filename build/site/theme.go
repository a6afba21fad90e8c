package site

import (
	"errors"
	"fmt"
	"io/fs"
	"path"
	"slices"
	"strings"
)

// MaxThemeFile is how large a file of a look may be, in bytes (our choice).
const MaxThemeFile = 4 << 20

// overlay is a theme that lies over another one: a file of the upper one hides that of the same name beneath, and
// words are added key by key (see Layers). So a theme holds only what differs.
type overlay struct{ upper, lower fs.FS }

// Over lays a theme over another; files that neither has do not exist. A nil upper is the lower one itself.
func Over(upper, lower fs.FS) fs.FS {
	if upper == nil {
		return lower
	}
	return overlay{upper, lower}
}

// Layers lists the two, the lower first, for readers that add them up.
func (o overlay) Layers() []fs.FS { return []fs.FS{o.lower, o.upper} }

// Open opens a file of the upper theme, or else of the lower one. Folders are listed by ReadDir.
func (o overlay) Open(name string) (fs.File, error) {
	f, err := o.upper.Open(name)
	if err == nil || !isMissing(err) {
		return f, err
	}
	return o.lower.Open(name)
}

// ReadDir lists what is in a folder of either, sorted by name.
func (o overlay) ReadDir(name string) ([]fs.DirEntry, error) {
	over, err := fs.ReadDir(o.upper, name)
	if err != nil && !isMissing(err) {
		return nil, err
	}
	under, lowerErr := fs.ReadDir(o.lower, name)
	if err != nil && lowerErr != nil {
		return nil, lowerErr
	}
	all := append(over, under...) // a stable sort keeps the upper one first
	slices.SortStableFunc(all, func(a, b fs.DirEntry) int { return strings.Compare(a.Name(), b.Name()) })
	return slices.CompactFunc(all, func(a, b fs.DirEntry) bool { return a.Name() == b.Name() }), nil
}

func isMissing(err error) bool { return errors.Is(err, fs.ErrNotExist) }

// themeIn is the theme in a folder of the journal.
func themeIn(journal fs.FS, folder string) (fs.FS, error) {
	folder = path.Clean(folder)
	info, err := fs.Stat(journal, folder)
	if err != nil {
		return nil, fmt.Errorf("the theme that journal.yaml names: %w", err)
	}
	if !info.IsDir() {
		return nil, fmt.Errorf("the theme that journal.yaml names is no folder: %s", folder)
	}
	return fs.Sub(journal, folder)
}
