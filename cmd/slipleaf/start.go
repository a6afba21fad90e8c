package main

import (
	"bytes"
	"context"
	"embed"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"strings"

	"slipleaf/build/change"
	"slipleaf/build/disk"
	"slipleaf/build/quantity"
)

//go:embed first
var first embed.FS

type startCmd struct {
	Dir string `arg:"" help:"The folder of the new journal."`
	On  string `placeholder:"DATE" help:"Date of the first entry (default: today)."`

	Hosted string `placeholder:"SOURCE" help:"Also write netlify.toml, by which a host builds the site from a repository of this journal alone; SOURCE is the address of the repository with this program's source. A journal that is there already gets that file alone."`
}

// Run writes a small journal that publishes at once. A folder that holds anything but an empty repository is left alone.
func (c startCmd) Run(ctx context.Context, w world) error {
	day, err := w.day(c.On, nil)
	if err != nil {
		return err
	}
	var more []change.File
	if c.Hosted != "" {
		f, err := hostedFile(c.Hosted)
		if err != nil {
			return err
		}
		if _, err := os.Stat(filepath.Join(c.Dir, "journal.yaml")); err == nil {
			return c.addHosted(ctx, w, f)
		}
		more = append(more, f)
	}
	if err := writeFirst(ctx, w, c.Dir, day, more...); err != nil {
		return err
	}
	fmt.Fprintf(w.Out, "%s: created a journal with one tank and one entry. Build it with:\n  slipleaf publish %s\n", c.Dir, shellWord(c.Dir))
	return nil
}

// addHosted writes the host's file beside a journal that is there already.
func (c startCmd) addHosted(ctx context.Context, w world, f change.File) error {
	name := filepath.Join(c.Dir, f.Path)
	err := alone(ctx, c.Dir, func(files *change.Desk) error { return files.Put(f.Path, f.After, true) })
	var there *change.MeanwhileError
	if errors.As(err, &there) {
		return wrongUse("%s is there already; take it away for a new one", name)
	}
	if err == nil {
		fmt.Fprintf(w.Out, "%s: written; commit it with the journal\n", name)
	}
	return err
}

// ignored keeps what undo holds, and what is built, out of a history that may be shared.
const ignored = "# kept for slipleaf undo; it may hold names\n.undo/\n# the page for paper names people\ntoday.html\n# built by slipleaf publish\nwww/\n.www.*\n.slipleaf-*\n"

// shellWord is a name as it is typed at a prompt: in quotes where it has more than plain letters.
func shellWord(s string) string {
	if plainName.MatchString(s) {
		return s
	}
	return `"` + s + `"`
}

var plainName = regexp.MustCompile(`^[A-Za-z0-9._/\\:~-]+$`)

// writeFirst copies the embedded journal, with the day in place of {today} and in the entry's name: all of it or nothing.
func writeFirst(ctx context.Context, w world, dir string, day quantity.Date, more ...change.File) error {
	files, err := firstFiles(day)
	if err != nil {
		return err
	}
	return writeNew(ctx, w, dir, append(files, more...))
}

// writeNew writes a journal into a folder where none is: all of it or nothing.
func writeNew(ctx context.Context, w world, dir string, files []change.File) error {
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return err
	}
	unlock, err := disk.Lock(ctx, dir)
	if err != nil {
		return err
	}
	defer unlock()
	notEmpty := wrongUse("%s is not empty; name a new folder", dir)
	if _, err := os.Lstat(filepath.Join(dir, ".undo")); err != nil && !free(dir) { // nothing of others is touched
		return notEmpty
	}
	desk, err := change.Open(dir)
	if err != nil {
		return err
	}
	defer desk.Close()
	if !free(dir) {
		return notEmpty
	}
	if err := desk.Put(".gitignore", []byte(ignored), false); err != nil {
		return err
	}
	return desk.Make(ctx, change.Change{What: "start the journal", Files: files}, w.Now())
}

// free reports whether a folder holds no file, but for a repository and what a killed start leaves.
func free(dir string) bool {
	none := true
	err := fs.WalkDir(os.DirFS(dir), ".", func(p string, e fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case e.IsDir() && (p == ".undo" || p == ".git"):
			return fs.SkipDir
		case e.Type().IsRegular() && strings.HasPrefix(e.Name(), disk.TempPrefix):
			return nil
		case e.IsDir() && p != "." && strings.HasPrefix(p, "."), !e.IsDir() && (p != ".gitignore" || !e.Type().IsRegular() || !isIgnored(filepath.Join(dir, p))):
			none = false
			return fs.SkipAll
		}
		return nil
	})
	return err == nil && none
}

func isIgnored(name string) bool {
	info, err := os.Lstat(name)
	if err != nil || info.Size() != int64(len(ignored)) { // a file of somebody else's may be of any size
		return false
	}
	data, err := os.ReadFile(name)
	return err == nil && string(data) == ignored
}

// firstFiles are those of the embedded journal.
func firstFiles(day quantity.Date) (files []change.File, err error) {
	err = fs.WalkDir(first, "first", func(p string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		text, err := first.ReadFile(p)
		if err != nil {
			return err
		}
		rel := strings.TrimPrefix(p, "first/")
		if path.Base(rel) == "entry.md" {
			rel = path.Join(path.Dir(rel), day.String()+".md")
		}
		files = append(files, change.File{Path: rel, After: bytes.ReplaceAll(text, []byte("{today}"), []byte(day.String()))})
		return nil
	})
	return files, err
}
