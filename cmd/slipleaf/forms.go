package main

import (
	"bytes"
	"context"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"

	"slipleaf/build/almanac"
	"slipleaf/build/change"
	"slipleaf/build/journal"
)

// formWriter writes what the desk's forms say, as the commands write: under the journal's lock, judged before, all or
// nothing, and kept for undo.
type formWriter struct {
	w       world
	dir, on string
	fsys    fs.FS
	publish publishCmd
	names   func() (*almanac.Almanac, error)
}

func newFormWriter(w world, dir, on string, fsys fs.FS, publish publishCmd) *formWriter {
	return &formWriter{w, dir, on, fsys, publish, sync.OnceValues(almanac.Open)}
}

// open calls f with the journal's folder, alone.
func (f *formWriter) open(ctx context.Context, do func(files *change.Desk) error) error {
	unlock, err := lockJournal(ctx, f.dir)
	if err != nil {
		return err
	}
	defer unlock()
	files, err := change.Open(f.dir)
	if err != nil {
		return err
	}
	defer files.Close()
	return do(files)
}

// Write implements desk.Writer. A journal that has errors already can be added to; new ones are refused.
func (f *formWriter) Write(ctx context.Context, what string, choose func(now fs.FS) ([]change.File, error)) (wrong journal.Complaints, err error) {
	err = f.open(ctx, func(d *change.Desk) error {
		files, err := choose(f.fsys)
		if err != nil {
			return err
		}
		if wrong, err = f.judged(ctx, files); err != nil || len(wrong) > 0 {
			return err
		}
		return d.Make(ctx, change.Change{What: what, Files: files}, f.w.Now())
	})
	return wrong, err
}

// judged lists the errors that a change would bring into the journal.
func (f *formWriter) judged(ctx context.Context, files []change.File) (journal.Complaints, error) {
	names, err := f.names()
	if err != nil {
		return nil, err
	}
	on, err := f.w.day(f.on, f.fsys)
	if err != nil {
		return nil, err
	}
	after, err := f.errors(ctx, change.With(f.fsys, files), names, journal.Options{On: on, Zone: knownZone})
	if err != nil || len(after) == 0 {
		return nil, err
	}
	before, err := f.errors(ctx, f.fsys, names, journal.Options{On: on, Zone: knownZone})
	if err != nil {
		return nil, err
	}
	return slices.DeleteFunc(after, func(c journal.Complaint) bool {
		return !slices.ContainsFunc(files, func(x change.File) bool { return x.Path == c.File }) && slices.Contains(before, c)
	}), nil
}

func (f *formWriter) errors(ctx context.Context, fsys fs.FS, names *almanac.Almanac, o journal.Options) (journal.Complaints, error) {
	_, cs, err := journal.Read(ctx, fsys, names, o)
	return slices.DeleteFunc(cs, func(c journal.Complaint) bool { return c.Severity != journal.Error }), err
}

// Last implements desk.Writer.
func (f *formWriter) Last(ctx context.Context) (last change.Past, err error) {
	err = f.open(ctx, func(d *change.Desk) error {
		last, err = d.Last()
		return err
	})
	return last, err
}

// Undo implements desk.Writer.
func (f *formWriter) Undo(ctx context.Context, meant func(change.Past) bool) error {
	return f.open(ctx, func(d *change.Desk) error {
		last, err := d.Last()
		switch {
		case err != nil:
			return err
		case !meant(last):
			return fmt.Errorf("another change was made meanwhile: %s", last.What)
		}
		return d.Undo(ctx, last)
	})
}

// Publish implements desk.Writer.
func (f *formWriter) Publish(ctx context.Context) (string, error) {
	var said bytes.Buffer
	w := f.w
	w.Out, w.Err = &said, &said
	c := f.publish
	c.Dir, c.On = f.dir, f.on
	err := c.Run(ctx, w)
	return strings.TrimSpace(said.String()), err
}

// deskCmd is the preview, opened at the grower's own pages.
type deskCmd struct {
	Dir  string `arg:"" optional:"" help:"The journal (default: content, or the current folder)."`
	Port int    `default:"7417" help:"Port to use; 0 picks a free one (default: 7417)."`
	On   string `placeholder:"DATE" help:"Treat this date as today."`
	Look string `placeholder:"DIR" help:"A look of your own: a folder of templates, styles and words."`
	To   string `placeholder:"DIR" help:"Where Publish puts the site (default: www)."`
	Open bool   `default:"true" negatable:"" help:"Open it in the browser (default); --no-open only prints the address."`
}

// Run serves the desk until it is interrupted.
func (c deskCmd) Run(ctx context.Context, w world) error {
	return previewCmd{Dir: c.Dir, Port: c.Port, On: c.On, Look: c.Look, Open: c.Open, atDesk: true, to: c.To}.Run(ctx, w)
}

// clicked tells whether the program was started without a command line: there is no terminal, or one that was opened for
// it alone.
func clicked(w world, args []string) bool {
	if len(args) > 0 {
		return false
	}
	return !w.terminal(w.In) && !w.terminal(w.Out) && !w.terminal(w.Err) || ownTerminal()
}

// besideProgram is the journal in the folder that the program lies in; "" where there is none.
func besideProgram() string {
	program, err := os.Executable()
	if err != nil {
		return ""
	}
	for _, dir := range []string{filepath.Join(filepath.Dir(program), "content"), filepath.Dir(program)} {
		if _, err := os.Stat(filepath.Join(dir, "journal.yaml")); err == nil {
			return dir
		}
	}
	return ""
}
