package site

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"slipleaf/build/listing"
)

// resolve finds the folder that a target lies in, whatever links lead to it, and its name there. A target that is a link is
// followed only where somebody named it; a link among its parents that lies in the journal is somebody else's, and is not.
func resolve(to string, o Options) (dir, name string, err error) {
	abs, err := filepath.Abs(to)
	if err != nil {
		return "", "", err
	}
	if err := o.noLinkTo(abs); err != nil {
		return "", "", err
	}
	info, err := os.Lstat(abs)
	if err == nil && info.Mode()&fs.ModeSymlink != 0 {
		if !o.Named {
			return "", "", fmt.Errorf("%s is a link: nothing was written; name the folder with --to", to)
		}
		if abs, err = filepath.EvalSymlinks(abs); err != nil {
			return "", "", err
		}
	}
	if dir, err = realPath(filepath.Dir(abs)); err != nil {
		return "", "", err
	}
	if name = filepath.Base(abs); name == string(filepath.Separator) || name == "." {
		return "", "", fmt.Errorf("%s cannot be the folder of a site; choose another with --to", to)
	}
	return dir, name, o.apart(filepath.Join(dir, name))
}

// realPath resolves links in a path, of which the end need not exist yet.
func realPath(p string) (string, error) {
	real, err := filepath.EvalSymlinks(p)
	if !errors.Is(err, fs.ErrNotExist) || filepath.Dir(p) == p {
		return real, err
	}
	above, err := realPath(filepath.Dir(p))
	return filepath.Join(above, filepath.Base(p)), err
}

// noLinkTo refuses a target that is reached through a link of the journal.
func (o Options) noLinkTo(abs string) error {
	if o.Dir == "" {
		return nil
	}
	top, err := filepath.Abs(o.Dir)
	if err != nil {
		return err
	}
	rel, err := filepath.Rel(top, abs)
	if err != nil || rel == ".." || strings.HasPrefix(rel, ".."+string(filepath.Separator)) {
		return nil
	}
	parts := strings.Split(rel, string(filepath.Separator))
	for i := range parts[:len(parts)-1] {
		at := filepath.Join(top, filepath.Join(parts[:i+1]...))
		if info, err := os.Lstat(at); err == nil && info.Mode()&fs.ModeSymlink != 0 {
			return fmt.Errorf("%s is a link in the journal: nothing was written; name the folder that it leads to with --to", at)
		}
	}
	return nil
}

// apart refuses a target that holds what the build reads, or lies among it.
func (o Options) apart(target string) error {
	var texts []string
	if o.Dir != "" {
		for _, f := range append(listing.Folders(), ".undo") {
			texts = append(texts, filepath.Join(o.Dir, f))
		}
	}
	for _, dir := range []string{o.Dir, o.ThemeDir} {
		if dir != "" && within(dir, target) {
			return fmt.Errorf("%s: %w: it holds %s, from which the site is made; choose another with --to", target, ErrNotOurs, dir)
		}
	}
	if o.ThemeDir != "" {
		texts = append(texts, o.ThemeDir)
	}
	for _, dir := range texts {
		if within(target, dir) {
			return fmt.Errorf("%s: %w: it lies in %s, from which the site is made; choose another with --to", target, ErrNotOurs, dir)
		}
	}
	return nil
}

// within reports whether a path is a folder or lies below it, by the folders that are there and not by their names. One that
// is not there yet, as sent/ in a new journal, is known by its name in the folder that it would be in.
func within(p, dir string) bool {
	for _, x := range []*string{&p, &dir} {
		if abs, err := filepath.Abs(*x); err == nil {
			*x = abs
		}
	}
	if real, err := realPath(p); err == nil {
		p = real
	}
	for ; ; p = filepath.Dir(p) {
		if sameFolder(p, dir) || strings.EqualFold(filepath.Base(p), filepath.Base(dir)) && sameFolder(filepath.Dir(p), filepath.Dir(dir)) {
			return true
		}
		if filepath.Dir(p) == p {
			return false
		}
	}
}

func sameFolder(a, b string) bool {
	is, err := os.Stat(a)
	was, err2 := os.Stat(b)
	return err == nil && err2 == nil && os.SameFile(is, was)
}
