// Package site is the build: it reads a journal, links it, makes every page and swaps the finished site in atomically.
package site

import (
	"cmp"
	"context"
	"errors"
	"io/fs"
	"path"
	"path/filepath"
	"slices"
	"time"

	"slipleaf/build/almanac"
	"slipleaf/build/journal"
	"slipleaf/build/page"
	"slipleaf/build/prose"
	"slipleaf/build/quantity"
	"slipleaf/build/theme"
	"slipleaf/build/words"
)

// Options say how a site is made. On is required; the rest is right when zero.
type Options struct {
	On      quantity.Date
	OnDisk  bool  // links name index.html, for a site that is read from a disk
	Theme   fs.FS // lies over the default; nil: the journal's own, if it has one
	Workers int   // 0: one for each processor
	// MaxFiles and MaxBytes bound the site; 0: [MaxOutputFiles], [MaxOutputBytes].
	MaxFiles int
	MaxBytes int64
	// Photos makes photos ready and keeps them for the next build; nil: they are made anew.
	Photos *PhotoCache
	// Dir is the journal's folder and ThemeDir that of Theme: no site is put into them or around them. "": not known.
	Dir, ThemeDir string
	// Named tells that somebody named the target, so that it may be a link.
	Named bool
	// Keep names files and folders in the target that are not the site's and stay there. They are remembered.
	Keep []string
	// Replace lets a site that was made from another journal be replaced.
	Replace bool
	// Anew takes nothing for unchanged: every file is read and every page made.
	Anew bool
	// Program tells the program from others, where what they made may meet.
	Program string
	// Zone reports whether there is a timezone of that name; nil: only its shape is looked at.
	Zone func(name string) bool
	// Memory is what the build before left; nil: nothing is known.
	Memory *Memory
	// Changed, where it is not nil, lists the files of the journal that may have changed since Memory last read it.
	Changed []string
	// Progress gets of the work done so far; nil: silent. It may be called from several goroutines.
	Progress func(phase string, done, all int)

	only      func(page.Output) bool // which outputs a test wants; nil: all
	spareFrom int                    // files from which a site keeps a spare; 0: roomySite
}

func (o Options) progress(phase string, done, all int) {
	if o.Progress != nil {
		o.Progress(phase, done, all)
	}
}

// phase is the progress of one phase; nil where nobody asks.
func (o Options) phase(name string) func(done, all int) {
	if o.Progress == nil {
		return nil
	}
	return func(done, all int) { o.Progress(name, done, all) }
}

// Load reads and checks a journal and links it for its pages. The site is nil when complaints hold an error, since
// no site may come of that; err is for what is no fault of the journal.
func Load(ctx context.Context, fsys fs.FS, o Options) (*page.Site, journal.Complaints, error) {
	m := o.Memory
	if m == nil {
		m = new(Memory)
	}
	if err := m.open(); err != nil {
		return nil, nil, err
	}
	j, complaints, err := m.reader.Read(ctx, fsys, journal.Options{On: o.On, Workers: o.Workers, Zone: o.Zone, Progress: o.phase("files")}, journal.Changes{Now: time.Now(), Only: o.Changed})
	if err != nil {
		return nil, complaints, err
	}
	if j == nil || complaints.Errors() > journal.MostListed { // what else is wrong would not be listed
		return nil, complaints, nil
	}
	look, err := m.themeOf(fsys, j, o)
	var none *words.NoWordsError
	if errors.As(err, &none) {
		line, column := new(journal.Places).AtKey(j.Source, "language")
		complaints = append(complaints, journal.Complaint{File: j.Path, Line: line, Column: column, Severity: journal.Error, Rule: "bad-language", Message: err.Error(), Hint: "write one of these"})
		complaints.Sort()
		return nil, complaints, nil
	}
	if err != nil {
		return nil, complaints, err
	}
	photos := o.Photos
	if photos == nil {
		photos = NewPhotoCache()
	}
	made, faults, err := photos.prepare(ctx, fsys, j, m.reader.Listed, o)
	if err != nil {
		return nil, complaints, err
	}
	made.OnDisk, made.Growth, made.Program = o.OnDisk, &m.diary, o.Program
	b := page.NewSite(j, m.almanac, look, o.On, made)
	all := new(journal.Pile)
	if err := m.proseComplaints(ctx, b, o, all); err != nil {
		return nil, complaints, err
	}
	all.Add(slices.Concat(complaints, faults, speechless(j, look), m.lookComplaints(j, o), friendComplaints(b))...)
	complaints = all.List()
	if complaints.Errors() > 0 {
		return nil, complaints, nil
	}
	return b, complaints, nil
}

// speechless complains of recipients whose sheet is wanted in a language that the theme has no words in.
func speechless(j *journal.Journal, t *theme.Theme) journal.Complaints {
	var out journal.Complaints
	var places journal.Places
	for _, p := range j.Parcels {
		if err := t.Speaks(p.Language); err != nil && p.First() {
			line, column := places.AtKey(p.Source, "language")
			out = append(out, journal.Complaint{File: p.Path, Line: line, Column: column, Severity: journal.Error, Rule: "bad-language", Message: err.Error(), Hint: "leave language out for the journal's own"})
		}
	}
	return out
}

// lookComplaints warns of words and colours of a look that do nothing or can't be read.
func (m *Memory) lookComplaints(j *journal.Journal, o Options) (out journal.Complaints) {
	at := j.Look
	if o.ThemeDir != "" { // as it is seen from the journal
		if rel, err := filepath.Rel(o.Dir, o.ThemeDir); err == nil {
			at = filepath.ToSlash(rel)
		}
	}
	for _, f := range m.slips() {
		out = append(out, journal.Complaint{File: path.Join(at, f.File), Line: f.Line, Column: f.Column, Severity: journal.Warning, Rule: "look", Message: f.Message, Hint: cmp.Or(f.Hint, "delete it, or name what the look's own templates and styles use")})
	}
	return out
}

// Link links a journal that has been read and holds, for what its pages say; no photo is made ready.
func Link(fsys fs.FS, j *journal.Journal, a *almanac.Almanac, o Options) (*page.Site, error) {
	t, err := cmp.Or(o.Memory, new(Memory)).themeOf(fsys, j, o)
	if err != nil {
		return nil, err
	}
	return page.NewSite(j, a, t, o.On, page.Options{}), nil
}

// codeStyles colours code blocks on the grounds of the default theme.
func codeStyles() string { return prose.CodeCSS(prose.DayInks(), prose.NightInks()) }

// friendComplaints warns of friends' files that do not hold and are left out.
func friendComplaints(b *page.Site) (out journal.Complaints) {
	for _, f := range b.FriendFaults() {
		out = append(out, journal.Complaint{File: f.File, Line: 1, Column: 1, Severity: journal.Warning, Rule: "friend-file", Message: f.Message + "; it is left out", Hint: "gather fetches it anew"})
	}
	return out
}
