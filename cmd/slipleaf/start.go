package main

import (
	"bytes"
	"embed"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path"
	"regexp"
	"strings"

	"slipleaf/build/change"
	"slipleaf/build/quantity"
)

//go:embed first
var first embed.FS

type startCmd struct {
	Dir string `arg:"" help:"The folder of the new journal."`
	On  string `placeholder:"DATE" help:"Date of the first entry (default: today)."`
}

// Run writes a small journal that publishes at once. A folder that holds anything is left alone.
func (c startCmd) Run(w world) error {
	day, err := w.day(c.On, nil)
	if err != nil {
		return err
	}
	held, err := os.ReadDir(c.Dir)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	if len(held) > 0 {
		return wrongUse("%s is not empty; name a new folder", c.Dir)
	}
	if err := writeFirst(c.Dir, day); err != nil {
		return err
	}
	fmt.Fprintf(w.Out, "%s: created a journal with one tank and one entry. Build it with:\n  slipleaf publish %s\n", c.Dir, shellWord(c.Dir))
	return nil
}

// ignored keeps what undo holds, and what is built, out of a history that may be shared.
const ignored = "# kept for slipleaf undo; it may hold names\n.undo/\n# built by slipleaf publish\nwww/\n.www.*\n.slipleaf-*\n"

// shellWord is a name as it is typed at a prompt: in quotes where it has more than plain letters.
func shellWord(s string) string {
	if plainName.MatchString(s) {
		return s
	}
	return `"` + s + `"`
}

var plainName = regexp.MustCompile(`^[A-Za-z0-9._/\\:~-]+$`)

// writeFirst copies the embedded journal, with the day in place of {today} and in the entry's name.
func writeFirst(dir string, day quantity.Date) error {
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return err
	}
	desk, err := change.Open(dir)
	if err != nil {
		return err
	}
	defer desk.Close()
	if err := desk.Put(".gitignore", []byte(ignored), true); err != nil {
		return err
	}
	return fs.WalkDir(first, "first", func(p string, d fs.DirEntry, err error) error {
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
		return desk.Put(rel, bytes.ReplaceAll(text, []byte("{today}"), []byte(day.String())), true)
	})
}
