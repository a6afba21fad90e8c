// Package site is the build: it reads a journal, links it, makes every page and puts the site in place in one step.
package site

import (
	"context"
	"fmt"
	"io/fs"
	"slices"

	"slipleaf/build/almanac"
	"slipleaf/build/journal"
	"slipleaf/build/page"
	"slipleaf/build/prose"
	"slipleaf/build/quantity"
	"slipleaf/themes"
)

// Options say how a site is made. On is required; the rest is right when zero.
type Options struct {
	On      quantity.Date
	OnDisk  bool  // links name index.html, for a site that is read from a disk
	Theme   fs.FS // lies over the default; nil: the journal's own, if it has one
	Workers int   // 0: one for each processor
	// Darkroom makes photos ready and keeps them for the next build; nil: they are made anew.
	Darkroom *Darkroom
	// Zone tells whether there is a timezone of that name; nil: only its shape is looked at.
	Zone func(name string) bool
	// Progress is told of the work done so far; nil: silent. It may be called from several goroutines.
	Progress func(phase string, done, all int)
}

func (o Options) progress(phase string, done, all int) {
	if o.Progress != nil {
		o.Progress(phase, done, all)
	}
}

// Load reads and checks a journal and links it for its pages. The book is nil when complaints hold an error, since
// no site may come of that; err is for what is no fault of the journal.
func Load(ctx context.Context, fsys fs.FS, o Options) (*page.Book, journal.Complaints, error) {
	a, err := almanac.Open()
	if err != nil {
		return nil, nil, fmt.Errorf("almanac: %w", err)
	}
	j, complaints, err := journal.Read(ctx, fsys, a, journal.Options{On: o.On, Workers: o.Workers, Zone: o.Zone})
	if err != nil {
		return nil, complaints, err
	}
	if j == nil {
		return nil, complaints, nil
	}
	theme, err := loadTheme(fsys, j, o)
	if err != nil {
		return nil, complaints, err
	}
	room := o.Darkroom
	if room == nil {
		room = NewDarkroom("")
	}
	made, faults, err := room.develop(ctx, fsys, j, o)
	if err != nil {
		return nil, complaints, err
	}
	made.OnDisk = o.OnDisk
	b := page.NewBook(j, a, theme, o.On, made)
	words, err := proseComplaints(ctx, b, o)
	if err != nil {
		return nil, complaints, err
	}
	complaints = append(append(complaints, faults...), words...)
	strangers, err := friendComplaints(b)
	if err != nil {
		return nil, complaints, err
	}
	complaints = append(complaints, strangers...)
	complaints.Sort()
	if complaints.Errors() > 0 {
		return nil, complaints, nil
	}
	return b, complaints, nil
}

func loadTheme(fsys fs.FS, j *journal.Journal, o Options) (*page.Theme, error) {
	look := o.Theme
	if look == nil && j.Theme != "" {
		sub, err := themeIn(fsys, j.Theme)
		if err != nil {
			return nil, err
		}
		look = sub
	}
	look = Over(look, themes.Bench())
	lang := j.Language
	if lang == "" {
		lang = "en"
	}
	return page.LoadTheme(look, lang, codeStyles())
}

// codeStyles colours code blocks on the grounds of the default theme.
func codeStyles() string { return prose.CodeCSS(prose.DayInks(), prose.NightInks()) }

// friendComplaints warns of friends' files that do not hold and are left out.
func friendComplaints(b *page.Book) (journal.Complaints, error) {
	faults, err := b.FriendFaults()
	var out journal.Complaints
	for _, f := range faults {
		out = append(out, journal.Complaint{File: f.File, Line: 1, Column: 1, Severity: journal.Warning, Rule: "friend-file", Message: f.Message + "; it is left out", Hint: "gather fetches it anew"})
	}
	return out, err
}

// proseComplaints checks the links and figures in every body, side by side and told in order.
func proseComplaints(ctx context.Context, b *page.Book, o Options) (journal.Complaints, error) {
	texts := b.Texts()
	found := make([]journal.Complaints, len(texts))
	err := each(ctx, len(texts), o.Workers, func(i int) error {
		t := texts[i]
		for _, f := range b.Faults(t.Addr, t.Source) {
			sev := journal.Error
			if f.Warning {
				sev = journal.Warning
			}
			found[i] = append(found[i], journal.Complaint{File: t.Source.Path, Line: t.Source.BodyLine + f.Line - 1, Column: f.Column, Severity: sev, Rule: f.Rule, Message: f.Message, Hint: f.Hint})
		}
		return nil
	})
	return slices.Concat(found...), err
}
