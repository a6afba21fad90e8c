package main

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io/fs"
	"path"

	"slipleaf/build/journal"
	"slipleaf/build/site"
)

type proofCmd struct {
	Dir  string `arg:"" optional:"" help:"The journal (default: content, or the current folder)."`
	On   string `placeholder:"DATE" help:"The day to act for (default: today)."`
	JSON bool   `name:"json" help:"Print the complaints as JSON."`
}

// Run prints complaints, and fails when one of them is an error.
func (c proofCmd) Run(ctx context.Context, w world) error {
	dir, err := journalDir(c.Dir)
	if err != nil {
		return err
	}
	on, err := w.day(c.On)
	if err != nil {
		return err
	}
	fsys, closeFS, err := journalFS(dir)
	if err != nil {
		return err
	}
	defer closeFS()
	_, cs, err := site.Load(ctx, fsys, site.Options{On: on, Zone: knownZone, Darkroom: site.NewDarkroom(site.PhotoCache("www"))})
	if err != nil {
		return err
	}
	if c.JSON {
		shown := make(journal.Complaints, len(cs)) // never null
		for i, x := range cs {
			x.File = shownPath(dir, x.File)
			shown[i] = x
		}
		e := json.NewEncoder(w.Out)
		e.SetIndent("", "  ")
		if err := e.Encode(shown); err != nil {
			return err
		}
	} else {
		for _, x := range cs {
			line := sourceLine(fsys, x)
			x.File = shownPath(dir, x.File)
			journal.Show(w.Out, x, line, w.terminal(w.Out) && w.Env("NO_COLOR") == "")
		}
	}
	if n := cs.Errors(); n > 0 {
		fmt.Fprintf(w.Err, "%d %s, %d %s\n", n, plural(n, "error"), len(cs)-n, plural(len(cs)-n, "warning"))
		return errJournal
	}
	return nil
}

// shownPath is a journal's file as the grower sees it from where they stand.
func shownPath(dir, file string) string {
	if dir == "." {
		return file
	}
	return path.Join(dir, file)
}

// sourceLine is the line that a complaint is about; "" when the file cannot be read. What stands under private is
// not repeated, since terminals are looked at by others and their text is pasted into mails.
func sourceLine(fsys fs.FS, c journal.Complaint) string {
	b, err := fs.ReadFile(fsys, c.File)
	if err != nil {
		return ""
	}
	lines := bytes.SplitN(b, []byte("\n"), c.Line+1)
	if c.Line < 1 || c.Line > len(lines) {
		return ""
	}
	for i := c.Line - 1; i >= 0; i-- {
		l := lines[i]
		if len(bytes.TrimSpace(l)) == 0 || l[0] == ' ' || l[0] == '\t' {
			continue // a line of the value above it
		}
		if bytes.HasPrefix(l, []byte("private:")) {
			return "private: [not shown]"
		}
		break
	}
	return string(bytes.TrimRight(lines[c.Line-1], "\r"))
}
