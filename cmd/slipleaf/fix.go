package main

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"strings"

	"slipleaf/build/change"
	"slipleaf/build/journal"
	"slipleaf/build/spelling"
)

// fix writes the files of a journal that were read otherwise than they are written in their usual form.
func (c proofCmd) fix(ctx context.Context, w world, in folder) error {
	return alone(ctx, in.dir, func(files *change.Desk) error {
		list, err := journal.InUsualForm(ctx, in.fsys, journal.Limits{})
		if err != nil {
			return err
		}
		out := w.Out
		if c.JSON {
			out = w.Err
		}
		if len(list) == 0 {
			fmt.Fprintln(out, "nothing to fix: every line that could be read is in its usual form")
			return nil
		}
		for _, u := range list {
			showUsual(out, in.dir, u)
		}
		ok, err := w.agreed(c.Yes, !c.JSON && w.terminal(w.In), "Write these?", "nothing was written; add --yes to write these")
		if !ok {
			return err
		}
		if err := files.Make(ctx, change.Change{What: "the usual form of " + counted(len(list), "file"), Files: asFiles(list)}, w.Now()); err != nil {
			return err
		}
		fmt.Fprintln(out, "written; to take it back: slipleaf undo")
		return nil
	})
}

// asFiles are the files of a change; one that gets another name goes and comes.
func asFiles(list []journal.Usual) []change.File {
	var out []change.File
	for _, u := range list {
		if u.Name == u.Path {
			out = append(out, change.File{Path: u.Path, Before: u.Before, After: u.After})
			continue
		}
		out = append(out, change.File{Path: u.Name, After: u.After}, change.File{Path: u.Path, Before: u.Before})
	}
	return out
}

// showUsual shows what would become of a file: its name, and the lines that differ, without what is private.
func showUsual(w io.Writer, dir string, u journal.Usual) {
	fmt.Fprintln(w, spelling.Clean(shownPath(dir, u.Path)))
	if u.Name != u.Path {
		fmt.Fprintf(w, "  renamed %s\n", shownPath(dir, u.Name))
	}
	was, is := bytes.Split(u.Before, []byte("\n")), bytes.Split(u.After, []byte("\n"))
	for i := range was {
		if i < len(is) && !bytes.Equal(was[i], is[i]) {
			for _, side := range []struct {
				sign string
				data []byte
			}{{"-", u.Before}, {"+", u.After}} {
				fmt.Fprintf(w, "  %d %s %s\n", i+1, side.sign, spelling.Clean(strings.ReplaceAll(journal.Excerpt(u.Path, side.data, i+1), "\t", "  ")))
			}
		}
	}
}
