package main

import (
	"cmp"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path"
	"slices"
	"strings"
	"time"

	"slipleaf/build/change"
	"slipleaf/build/disk"
	"slipleaf/build/journal"
	"slipleaf/build/site"
)

type publishCmd struct {
	Dir  string   `arg:"" optional:"" help:"The journal (default: content, or the current folder)."`
	To   string   `placeholder:"DIR" help:"Output folder (default: www)."`
	On   string   `placeholder:"DATE" help:"Treat this date as today."`
	Look string   `placeholder:"DIR" help:"A look of your own: a folder of templates, styles and words."`
	Disk bool     `name:"no-server" help:"Write links that work straight from a folder or USB stick, with no server."`
	Keep []string `placeholder:"NAME" sep:"none" help:"Leave a file or folder of yours in the output folder, such as CNAME; it is remembered."`
	Some bool     `name:"without-broken" help:"Leave out entries, records, plants and pages that have errors, and publish the rest; which are said, and the exit status is 1."`
	Over bool     `name:"replace" help:"Replace a site that was made from another journal."`
	Anew bool     `help:"Rebuild every page, whatever was built last time."`
	JSON bool     `name:"json" help:"Print what was done as JSON."`
}

// defaultTarget is where a site is put, in the folder that the command runs in.
const defaultTarget = "www"

// published is what publish --json prints.
type published struct {
	Pages     int                `json:"pages"`
	Written   int                `json:"written"`
	Unchanged int                `json:"unchanged"`
	Removed   int                `json:"removed"`
	Warnings  int                `json:"warnings"`
	LeftOut   []string           `json:"leftOut,omitempty"` // files, with --without-broken
	Seconds   float64            `json:"seconds"`
	Phases    map[string]float64 `json:"phases"`
}

// Run makes the site.
func (c publishCmd) Run(ctx context.Context, w world) error {
	began := time.Now()
	in, err := w.open(c.Dir, c.On)
	if err != nil {
		return err
	}
	defer in.close()
	dir, fsys := in.dir, in.fsys
	o := site.Options{On: in.on, Zone: knownZone, Dir: dir, ThemeDir: c.Look, Named: c.To != "", Keep: c.Keep, Replace: c.Over, Anew: c.Anew}
	c.To = cmp.Or(c.To, defaultTarget)
	o.OnDisk = c.Disk
	if o.Theme, err = themeFS(c.Look); err != nil {
		return err
	}
	bar := newProgress(w)
	o.Progress = bar.tell
	defer bar.stop()
	var left []string
	if c.Some {
		if fsys, left, err = withoutBroken(ctx, w, dir, fsys, c.To, o); err != nil {
			return err
		}
	}
	var complaints journal.Complaints
	done, err := site.Publish(ctx, fsys, c.To, o, func(cs journal.Complaints) {
		bar.stop()
		complaints = cs
		showComplaints(w, dir, fsys, cs, "nothing was published")
	})
	if done.Written+done.Removed > 0 {
		w.note(c.To)
	}
	if err != nil {
		return err
	}
	bar.stop()
	if wrong := complaints.Only(journal.Error); len(wrong) > 0 {
		return useError{journalWrong, wrong}
	}
	r := published{Pages: done.Pages, Written: done.Written, Unchanged: done.Unchanged, Removed: done.Removed,
		Warnings: complaints.Count(journal.Warning), Seconds: time.Since(began).Seconds(), Phases: done.Phases, LeftOut: left}
	if c.JSON {
		return errors.Join(json.NewEncoder(w.Out).Encode(r), someBroken(left))
	}
	w.says("said.built", "built {to}: {pages} pages as of {day}; {written} files written, {unchanged} unchanged, {removed} removed, in {seconds} s",
		"to", c.To, "pages", r.Pages, "day", o.On, "written", r.Written, "unchanged", r.Unchanged, "removed", r.Removed, "seconds", fmt.Sprintf("%.2f", r.Seconds))
	for _, file := range left {
		fmt.Fprintf(w.Out, "left out, because it has errors: %s\n", file)
	}
	return someBroken(left)
}

func someBroken(left []string) error {
	if len(left) > 0 {
		return errJournal
	}
	return nil
}

// withoutBroken is the journal without the files that have errors, and those that depend on them: a record of a lot whose
// entry is left out. What all depends on, journal.yaml and a tank.md, stays, and its errors stop publishing as ever.
func withoutBroken(ctx context.Context, w world, dir string, fsys fs.FS, to string, o site.Options) (fs.FS, []string, error) {
	var err error
	if o.Photos, err = site.OpenPhotoCache(to, o); err != nil {
		return nil, nil, err
	}
	o.Memory = new(site.Memory) // each reading after the first is of the few files that have gone
	var gone []change.File
	var left []string
	for view := fsys; ; view = change.With(fsys, gone) {
		_, cs, err := site.Load(ctx, view, o)
		if err != nil {
			return nil, nil, err
		}
		more := false
		var bad journal.Complaints
		for _, c := range cs {
			if c.Severity != journal.Error || !canLeaveOut(c.File) {
				continue
			}
			bad = append(bad, c)
			if !slices.Contains(left, shownPath(dir, c.File)) {
				gone, left, more = append(gone, change.File{Path: c.File}), append(left, shownPath(dir, c.File)), true
			}
		}
		showAll(w.Err, dir, view, bad, w.colour())
		if !more {
			slices.Sort(left)
			return view, left, nil
		}
	}
}

// canLeaveOut reports whether the rest of a journal means the same without a file.
func canLeaveOut(file string) bool {
	folder, _, ok := strings.Cut(file, "/")
	return ok && path.Base(file) != "tank.md" && slices.Contains([]string{"tanks", "sent", "plants", "pages"}, folder)
}

func themeFS(dir string) (fs.FS, error) {
	if dir == "" {
		return nil, nil
	}
	if info, err := os.Stat(dir); err != nil || !info.IsDir() {
		return nil, wrongUse("--look: %s is not a folder", dir)
	}
	root, err := os.OpenRoot(dir)
	if err != nil {
		return nil, err
	}
	return disk.FS(root, site.MaxThemeFile), nil
}

// showComplaints prints every complaint with its line on stderr, and what was not done for an error.
func showComplaints(w world, dir string, fsys fs.FS, cs journal.Complaints, undone string) {
	showAll(w.Err, dir, fsys, cs, w.colour())
	if cs.Errors() > 0 {
		fmt.Fprintln(w.Err, tally(cs)+": "+undone)
	}
}

// tally is how many errors and warnings there are; a note is neither.
func tally(cs journal.Complaints) string {
	return counted(cs.Errors(), "error") + ", " + counted(cs.Count(journal.Warning), "warning")
}
