package main

import (
	"bytes"
	"cmp"
	"context"
	"embed"
	"errors"
	"fmt"
	"html/template"
	"io"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"sync"
	"time"

	"slipleaf/build/almanac"
	"slipleaf/build/change"
	grower "slipleaf/build/desk"
	"slipleaf/build/disk"
	"slipleaf/build/journal"
	"slipleaf/build/preview"
	"slipleaf/build/quantity"
	"slipleaf/build/words"
	"slipleaf/content"
)

// formWriter writes what the desk's forms say, as the commands write: under the journal's lock, judged before, all or
// nothing, and kept for undo.
type formWriter struct {
	w       world
	dir, on string
	fsys    fs.FS
	publish publishCmd
	after   string // what is run after each publish; "" for nothing
	reading sync.Mutex
	reader  *journal.Reader // of the last judgement, so that the next reads only what has changed
}

// Write implements desk.Writer. A journal that has errors already can be added to; new ones are refused.
func (f *formWriter) Write(ctx context.Context, what string, choose func(now fs.FS) ([]change.File, error)) (wrong journal.Complaints, err error) {
	err = alone(ctx, f.dir, func(d *change.Desk) error {
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

// Judge implements desk.Writer.
func (f *formWriter) Judge(ctx context.Context, choose func(now fs.FS) ([]change.File, error)) (journal.Complaints, error) {
	files, err := choose(f.fsys)
	if err != nil {
		return nil, err
	}
	return f.judged(ctx, files)
}

// judged lists the errors that a change would bring into the journal.
func (f *formWriter) judged(ctx context.Context, files []change.File) (journal.Complaints, error) {
	names, err := almanac.Open()
	if err != nil {
		return nil, err
	}
	on, err := f.w.day(f.on, f.fsys)
	if err != nil {
		return nil, err
	}
	f.reading.Lock()
	defer f.reading.Unlock()
	if f.reader == nil {
		f.reader = journal.NewReader(names)
	}
	after, err := f.errors(ctx, change.With(f.fsys, files), on)
	if err != nil || len(after) == 0 {
		return nil, err
	}
	before, err := f.errors(ctx, f.fsys, on)
	if err != nil {
		return nil, err
	}
	return slices.DeleteFunc(after, func(c journal.Complaint) bool {
		return !slices.ContainsFunc(files, func(x change.File) bool { return x.Path == c.File }) && slices.Contains(before, c)
	}), nil
}

func (f *formWriter) errors(ctx context.Context, fsys fs.FS, on quantity.Date) (journal.Complaints, error) {
	_, cs, err := f.reader.Read(ctx, fsys, journal.Options{On: on, Zone: knownZone}, journal.Changes{Now: time.Now()})
	return cs.Only(journal.Error), err
}

// Last implements desk.Writer.
func (f *formWriter) Last(ctx context.Context) (last change.Past, err error) {
	err = alone(ctx, f.dir, func(d *change.Desk) error {
		last, err = lastAtDesk(d)
		return err
	})
	return last, err
}

// lastAtDesk is the newest change that a desk takes back. That the journal began is not one: the desk cannot go on without it.
func lastAtDesk(d *change.Desk) (change.Past, error) {
	last, err := d.Last()
	if slices.ContainsFunc(last.Files, func(f change.File) bool { return f.Path == "journal.yaml" && f.Before == nil }) {
		return change.Past{}, change.ErrNothing
	}
	return last, err
}

// Undo implements desk.Writer.
func (f *formWriter) Undo(ctx context.Context, meant func(change.Past) bool) error {
	return refusal(alone(ctx, f.dir, func(d *change.Desk) error {
		last, err := lastAtDesk(d)
		switch {
		case err != nil:
			return err
		case !meant(last):
			return declined("said.undo-other", "another change was made meanwhile: {what}", "what", last.What)
		}
		on, err := f.w.day(f.on, f.fsys)
		if err != nil {
			return err
		}
		return takeBack(ctx, folder{fsys: f.fsys, on: on}, d, last)
	}))
}

// Command implements desk.Writer.
func (f *formWriter) Command(ctx context.Context, args []string, in string) (out string, said []words.Said, err error) {
	var printed bytes.Buffer
	w := f.w
	w.In, w.Out, w.Err, w.said = strings.NewReader(in), &printed, io.Discard, &said
	more := []string{args[0], "--in", f.dir}
	if f.on != "" {
		more = append(more, "--on", f.on)
	}
	_, err = obey(ctx, append(more, args[1:]...), w)
	return printed.String(), said, refusal(err)
}

// refusal is why something was not done, for somebody who asked for it there.
func refusal(err error) error {
	var use useError
	switch {
	case err == nil:
		return nil
	case errors.As(err, &use):
		return &grower.Refusal{Said: use.said, Wrong: use.wrong}
	}
	return errors.New(cleaned(err))
}

// Published implements desk.Writer.
func (f *formWriter) Published() fs.FS { return os.DirFS(f.publish.To) }

// Publish implements desk.Writer.
func (f *formWriter) Publish(ctx context.Context) (said []words.Said, after string, err error) {
	w := f.w
	w.Out, w.Err, w.said = io.Discard, io.Discard, &said
	c := f.publish
	c.Dir, c.On = f.dir, f.on
	if err = c.Run(ctx, w); err == nil && f.after != "" {
		after, err = runAfter(ctx, f.after)
	}
	return said, after, refusal(err)
}

// runAfter runs a command line of the grower's own by the system's shell, and gives it with what it prints.
func runAfter(ctx context.Context, line string) (string, error) {
	cmd := exec.CommandContext(ctx, "sh", "-c", line)
	if runtime.GOOS == "windows" {
		cmd = exec.CommandContext(ctx, "cmd", "/C", line)
	}
	printed, err := cmd.CombinedOutput()
	if err != nil {
		err = declined("said.after", "the site is published, but {line}: {why}", "line", line, "why", err)
	}
	return line + "\n" + strings.TrimSpace(string(printed)), err
}

// deskCmd is the preview, opened at the grower's own pages.
type deskCmd struct {
	serving
	To    string `placeholder:"DIR" help:"Where Publish puts the site (default: www)."`
	After string `placeholder:"COMMAND" help:"Run this after each Publish, as in 'git push' or a copy to a server. It belongs on the command line, never into a journal."`
	Phone bool   `help:"Let phones in your network use it that scan a code first; shows the code."`
	Open  bool   `default:"true" negatable:"" help:"Open it in the browser (default); --no-open only prints the address."`
}

// Run serves the desk until it is interrupted.
func (c deskCmd) Run(ctx context.Context, w world) error {
	p := previewCmd{serving: c.serving, Open: c.Open, atDesk: true, to: c.To, phone: c.Phone, after: c.After}
	if _, err := journalDir(c.Dir); err != nil {
		p.Dir = cmp.Or(c.Dir, "content")
		if _, no := os.Lstat(p.Dir); no == nil && !free(p.Dir) {
			return err
		}
		if err := c.begin(ctx, w, &p); err != nil {
			return err
		}
	}
	return p.Run(ctx, w)
}

// begin shows the page that begins a journal in the folder that p is to open, until one is there; p goes on from it.
func (c deskCmd) begin(ctx context.Context, w world, p *previewCmd) error {
	dir := p.Dir
	whole, err := filepath.Abs(dir)
	if err != nil {
		return err
	}
	on, err := w.day(c.On, nil)
	if err != nil {
		return err
	}
	p.begun, err = preview.Begin(ctx, c.Port, whole, func(asked grower.Begin) (then string, faults []template.HTML) {
		var err error
		if asked.Demonstration {
			demo := filepath.Join(filepath.Dir(dir), "demonstration")
			if err = copyDemonstration(demo); err == nil {
				p.Dir, p.to = demo, cmp.Or(c.To, filepath.Join(demo, defaultTarget))
				return "", nil
			}
		} else if then, faults, err = beginJournal(ctx, w, dir, asked, on); err == nil {
			return "tank/" + then + "/", faults
		}
		return "", asked.Failed(cleaned(err))
	}, func(port int, desk string) {
		addr := fmt.Sprintf("http://localhost:%d/%s", port, desk)
		fmt.Fprintf(w.Out, "there is no journal yet; begin one at %s; press Ctrl-C to stop\n", addr)
		if c.Open {
			if err := browse(addr); err != nil {
				fmt.Fprintf(w.Err, "no browser could be opened (%v); open that address yourself\n", err)
			}
		}
	})
	p.Port = p.begun.Port
	return err
}

// copyDemonstration puts the demonstration into a folder: whole or not at all. One that was put there before is left as it
// is by now, and nothing else is touched.
func copyDemonstration(dir string) error {
	if _, err := os.Stat(filepath.Join(dir, "journal.yaml")); err == nil {
		return nil
	}
	if _, err := os.Lstat(dir); err == nil {
		return wrongUse("%s is there already, and holds no journal; rename it first", dir)
	}
	whole := filepath.Join(filepath.Dir(dir), disk.TempPrefix+"demonstration")
	defer os.RemoveAll(whole)
	if err := os.RemoveAll(whole); err != nil { // what a copy that was killed left
		return err
	}
	if err := os.CopyFS(whole, content.Demonstration()); err != nil {
		return err
	}
	if err := os.WriteFile(filepath.Join(whole, ".gitignore"), []byte(ignored), 0o644); err != nil {
		return err
	}
	return os.Rename(whole, dir)
}

// beginJournal writes the journal that a filled form begins, unless the reader finds an error in it.
func beginJournal(ctx context.Context, w world, dir string, asked grower.Begin, on quantity.Date) (tank string, faults []template.HTML, err error) {
	files, tank := asked.Files(on)
	names, err := almanac.Open()
	if err != nil {
		return "", nil, err
	}
	_, cs, err := journal.Read(ctx, change.With(embed.FS{}, files), names, journal.Options{On: on, Zone: knownZone})
	if err != nil {
		return "", nil, err
	}
	for _, c := range cs {
		if c.Severity == journal.Error {
			faults = append(faults, asked.Fault(c, files))
		}
	}
	if len(faults) > 0 {
		return "", faults, nil
	}
	return tank, nil, writeNew(ctx, w, dir, files)
}

// atProgram goes to the folder that the program lies in, where somebody who starts it by a double click looks for what it
// writes.
func atProgram() error {
	program, err := os.Executable()
	if err != nil {
		return err
	}
	return os.Chdir(filepath.Dir(program))
}

// clicked reports whether the program was started without a command line: there is no terminal, or one that was opened for
// it alone.
func clicked(w world, args []string) bool {
	if len(args) > 0 {
		return false
	}
	return !w.terminal(w.In) && !w.terminal(w.Out) && !w.terminal(w.Err) || ownTerminal()
}
