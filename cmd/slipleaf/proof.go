package main

import (
	"cmp"
	"context"
	"fmt"
	"io"
	"io/fs"
	"path"
	"slices"
	"strings"

	"slipleaf/build/console"
	"slipleaf/build/journal"
	"slipleaf/build/site"
	"slipleaf/build/spelling"
)

type proofCmd struct {
	Dir  string `arg:"" optional:"" help:"The journal (default: content, or the current folder)."`
	On   string `placeholder:"DATE" help:"Treat this date as today."`
	JSON bool   `name:"json" help:"Print the complaints as JSON."`
	Fix  bool   `help:"Write what was understood in its usual form; the difference is shown first, and undo takes it back."`
	Yes  bool   `help:"With --fix: write without being asked."`
}

// Run prints complaints, and fails when one of them is an error.
func (c proofCmd) Run(ctx context.Context, w world) error {
	in, err := w.open(c.Dir, c.On)
	if err != nil {
		return err
	}
	defer in.close()
	dir, fsys := in.dir, in.fsys
	if c.Fix {
		if err := notDemonstration(c.Dir, dir, ""); err != nil {
			return err
		}
		if err := c.fix(ctx, w, in); err != nil {
			return err
		}
		if in.on, err = w.day(c.On, fsys); err != nil { // what was fixed may say at which day the journal is held
			return err
		}
	}
	o := site.Options{On: in.on, Zone: knownZone, Dir: dir}
	if o.Photos, err = site.OpenPhotoCache(defaultTarget, o); err != nil {
		return err
	}
	_, cs, err := site.Load(ctx, fsys, o)
	if err != nil {
		return err
	}
	if c.JSON {
		list := make(journal.Complaints, len(cs)) // never null
		for i, x := range cs {
			x.File = shownPath(dir, x.File)
			list[i] = x
		}
		if err := w.printJSON(list); err != nil {
			return err
		}
	} else {
		showAll(w.Out, dir, fsys, cs, w.terminal(w.Out) && w.Env("NO_COLOR") == "")
	}
	if cs.Errors() > 0 {
		fmt.Fprintln(w.Err, tally(cs))
		return errJournal
	}
	return nil
}

// shownPath is a journal's file as the grower sees it from where they stand. A name may be of somebody else's choice.
func shownPath(dir, file string) string {
	if dir != "." {
		file = path.Join(dir, file)
	}
	return spelling.Clean(file)
}

// beginning reads as much of a file as may be shown of it: what is complained of may be anything.
func beginning(fsys fs.FS, name string) ([]byte, error) {
	f, err := fsys.Open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return io.ReadAll(io.LimitReader(f, site.MaxThemeFile))
}

// mostShown is how many complaints are shown: more are no help, and may be of a journal that was made to have them.
const mostShown = 500

// showAll shows complaints in their order; where there are too many, the errors among them first, and how many are left.
func showAll(to io.Writer, dir string, fsys fs.FS, cs journal.Complaints, colour bool) {
	rest := len(cs) - mostShown
	if rest > 0 {
		cs = slices.Clone(cs)
		slices.SortStableFunc(cs, func(a, b journal.Complaint) int { return cmp.Compare(a.Severity, b.Severity) })
		cs = cs[:mostShown]
	}
	for _, c := range cs {
		fmt.Fprint(to, shown(dir, fsys, c, colour))
	}
	if rest > 0 {
		fmt.Fprintf(to, "%d more problems are not listed: fix the ones above first\n", rest)
	}
}

// shown is a complaint as a terminal shows it: the file as the grower would type it, the line, and what to do.
func shown(dir string, fsys fs.FS, c journal.Complaint, colour bool) string {
	line := ""
	if data, err := beginning(fsys, c.File); err == nil { // a file that cannot be read has no line to show
		line = journal.Excerpt(c.File, data, c.Line)
	}
	c.File = shownPath(dir, c.File)
	var b strings.Builder
	_ = console.Show(&b, c, line, colour) // a Builder takes everything
	return b.String()
}
