package main

import (
	"cmp"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"time"
	_ "time/tzdata" // the journal's time zone must be known on machines without a zone database

	"github.com/mattn/go-isatty"

	"slipleaf/build/disk"
	"slipleaf/build/journal"
	"slipleaf/build/quantity"
	"slipleaf/build/site"
	"slipleaf/build/words"
)

// world is what a command may touch besides its files: a test passes its own.
type world struct {
	In       io.Reader
	Out, Err io.Writer
	Now      func() time.Time
	Random   io.Reader
	Env      func(string) string

	memory *site.Memory // of earlier commands of the same process; nil: none

	wrote *[]string     // what the command has put on the disk so far, for saying so where it is stopped
	said  *[]words.Said // what it says to the desk; nil: nobody is there
}

// says prints a line: english for a terminal, and for the desk under key in the words.
func (w world) says(key, english string, of ...any) {
	s := words.Said{Key: key, English: english, Of: of}
	fmt.Fprintln(w.Out, s)
	if w.said != nil {
		*w.said = append(*w.said, s)
	}
}

// note keeps in mind that a file or folder was written.
func (w world) note(what string) {
	if w.wrote != nil {
		*w.wrote = append(*w.wrote, what)
	}
}

// terminal reports whether w is one, so that colours and progress make sense.
func (w world) terminal(x any) bool {
	f, ok := x.(*os.File)
	return ok && isatty.IsTerminal(f.Fd())
}

// colour reports whether complaints may be coloured: on a terminal, unless NO_COLOR is set.
func (w world) colour() bool { return w.terminal(w.Err) && w.Env("NO_COLOR") == "" }

// day is the day that --on names, else today where the journal is: a grower who travels, or a server elsewhere, acts for
// the day at the tanks. Without a timezone, or a journal, it is the machine's day. A journal that is made for a day is held
// there on every later one.
func (w world) day(on string, fsys fs.FS) (quantity.Date, error) {
	day, err := w.unheld(on, fsys)
	if fsys == nil || err != nil {
		return day, err
	}
	if held := journal.HeldAt(fsys); !held.IsZero() && day.After(held) {
		return held, nil
	}
	return day, nil
}

func (w world) unheld(on string, fsys fs.FS) (quantity.Date, error) {
	if on == "" {
		now := w.Now()
		if fsys != nil {
			if zone, err := time.LoadLocation(cmp.Or(journal.Timezone(fsys), "Local")); err == nil {
				now = now.In(zone)
			}
		}
		return quantity.DateOf(now), nil
	}
	d, err := quantity.ParseDate(on)
	if err != nil {
		return d, wrongUse("--on: %v", err)
	}
	return d, nil
}

// journalDir is the journal's folder: the one named, else content where that holds a journal, else the current one.
func journalDir(named string) (string, error) {
	dirs := []string{named}
	if named == "" {
		dirs = []string{"content", "."}
	}
	for _, dir := range dirs {
		if _, err := os.Stat(filepath.Join(dir, "journal.yaml")); err == nil {
			return dir, nil
		} else if errors.Is(err, fs.ErrPermission) {
			return "", err
		}
	}
	return "", noJournal(dirs)
}

// otherwise is how editors and phones name a journal's own file.
var otherwise = regexp.MustCompile(`(?i)^journal\.ya?ml(\.txt)?$`)

// noJournal says what to do where none of some folders holds a journal.
func noJournal(dirs []string) error {
	for _, dir := range dirs {
		list, _ := os.ReadDir(dir) // one that is not there holds nothing
		for _, e := range list {
			if otherwise.MatchString(e.Name()) {
				return wrongUse("no journal.yaml in %s, but %s: name it journal.yaml", dir, e.Name())
			}
		}
	}
	if len(dirs) > 1 {
		return wrongUse("no journal.yaml here or in content/; start a journal with: slipleaf start DIR")
	}
	if _, err := os.Stat(dirs[0]); err == nil && !free(dirs[0]) {
		return wrongUse("no journal.yaml in %s, which holds something else; start a journal in a new folder with: slipleaf start DIR", dirs[0])
	}
	return wrongUse("no journal.yaml in %s; start a journal with: slipleaf start %s", dirs[0], shellWord(dirs[0]))
}

// folder is a journal that a command reads: its folder, and the day to act for.
type folder struct {
	dir   string
	fsys  fs.FS
	on    quantity.Date
	close func() error
}

// open opens the journal that was named, or the one that lies here.
func (w world) open(named, on string) (o folder, err error) {
	if o.dir, err = journalDir(named); err != nil {
		return o, err
	}
	if o.fsys, o.close, err = journalFS(o.dir); err != nil {
		return o, err
	}
	if o.on, err = w.day(on, o.fsys); err != nil {
		_ = o.close()
	}
	return o, err
}

// printJSON prints what a command did, for programs.
func (w world) printJSON(v any) error {
	e := json.NewEncoder(w.Out)
	e.SetIndent("", "  ")
	e.SetEscapeHTML(false)
	return e.Encode(v)
}

// journalFS opens a journal so that no name or link in it leads out of it, and nothing but plain files is read.
func journalFS(dir string) (fs.FS, func() error, error) {
	root, err := os.OpenRoot(dir)
	if err != nil {
		return nil, nil, err
	}
	tidy(dir)
	return disk.FS(root, site.MaxThemeFile), root.Close, nil
}
