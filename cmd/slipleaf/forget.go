package main

import (
	"bytes"
	"context"
	"fmt"
	"io/fs"
	"path"
	"slices"
	"strings"

	"slipleaf/build/change"
	"slipleaf/build/journal"
	"slipleaf/build/record"
)

type forgetCmd struct {
	Who string `arg:"" help:"Whose name, address and notes are to go: a name, or a record, code or link of theirs."`
	In  string `placeholder:"DIR" help:"The journal (default: content, or the current folder)."`
	On  string `placeholder:"DATE" help:"Treat this date as today."`
	Yes bool   `help:"Erase without being asked."`
}

// Run erases what is private of one person.
func (c forgetCmd) Run(ctx context.Context, w world) error {
	return atDesk(ctx, w, c.In, c.On, func(d *desk) error {
		found := d.find(c.Who)
		if len(found) == 0 {
			return nobody(c.Who)
		}
		if err := d.samePerson(c.Who, found); err != nil {
			return err
		}
		name := nameIn(found[0])
		all := those(d.journal.Parcels, func(p *journal.Parcel) bool { return person(p) == person(found[0]) })
		changes, err := d.unnamed(all)
		if err != nil {
			return err
		}
		j, err := d.holds(ctx, changes...)
		if err != nil {
			return err
		}
		if err := d.onlyForgot(j, all); err != nil {
			return err
		}
		for _, p := range all {
			fmt.Fprintf(w.Out, "%s: %s, %s\n", shownPath(d.dir, p.Path), countedPlants([]*journal.Parcel{p}), stateOf(p))
		}
		ok, err := w.agreed(c.Yes, w.terminal(w.In), "Erase the private part of these? It can't be taken back.", "nothing was erased; it can't be taken back, so add --yes")
		if !ok {
			return err
		}
		return d.erase(ctx, name, all, changes)
	})
}

// erase drops the kept changes first: were it killed between, the name would still lead here again.
func (d *desk) erase(ctx context.Context, name string, all []*journal.Parcel, changes []change.File) error {
	var paths []string
	for _, p := range all {
		paths = append(paths, p.Path)
	}
	dropped, err := d.files.Forget(func(f change.File) bool {
		return slices.Contains(paths, f.Path) || name != "" && strings.HasPrefix(f.Path, "sent/") && (holdsName(f.Before, name) || holdsName(f.After, name))
	})
	if err != nil {
		return err
	}
	erased := 0
	for _, f := range changes {
		if bytes.Equal(f.Before, f.After) {
			continue
		}
		if err := ctx.Err(); err != nil {
			return err
		}
		if err := d.files.Put(f.Path, f.After, false); err != nil {
			return err
		}
		d.w.note(shownPath(d.dir, f.Path))
		erased++
	}
	if erased+dropped == 0 {
		d.w.says("said.forget-none", "There is nothing private in it; nothing was changed.")
	} else {
		d.w.says("said.forgot", "Erased the private part of {records}, and {changes} of undo.", "records", counted(erased, "record"), "changes", counted(dropped, "kept change"), "n", erased)
	}
	if err := d.elsewhere(name); err != nil {
		return err
	}
	d.w.says("said.forget-rest", "Not reached: the history of git or another archive, backups, published copies, pages for paper and your mails. "+
		"Their care sheets stay at their links; they hold no name.")
	return nil
}

// unnamed are the records without their private part.
func (d *desk) unnamed(all []*journal.Parcel) ([]change.File, error) {
	var out []change.File
	for _, p := range all {
		if slices.ContainsFunc(out, func(f change.File) bool { return f.Path == p.Path }) {
			continue
		}
		old, err := d.bytesOf(p)
		if err != nil {
			return nil, err
		}
		out = append(out, change.File{Path: p.Path, Before: old, After: record.Without(old, "private")})
	}
	return out, nil
}

// onlyForgot looks whether the records say what they said, the private part aside.
func (d *desk) onlyForgot(j *journal.Journal, all []*journal.Parcel) error {
	for _, p := range all {
		now := recordIn(j, p.Path)
		if now == nil || !now.Private.Empty() || now.Code != p.Code || now.Count != recordIn(d.journal, p.Path).Count ||
			stateOf(now) != stateOf(p) || len(now.Reports) != len(p.Reports) {
			return declined("said.by-hand", "I can't edit {file} safely; delete its private part by hand. Nothing was erased", "file", shownPath(d.dir, p.Path))
		}
	}
	return nil
}

// elsewhere names the places of the journal that still have the name: in words of the grower's own, which nothing edits.
func (d *desk) elsewhere(name string) error {
	if name == "" {
		return nil
	}
	return fs.WalkDir(d.fsys, ".", func(file string, e fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case e.IsDir() && file != "." && strings.HasPrefix(e.Name(), "."):
			return fs.SkipDir
		case !e.Type().IsRegular() || !slices.Contains([]string{".md", ".yaml", ".html", ".txt"}, path.Ext(file)):
			return nil
		}
		data, err := beginning(d.fsys, file)
		if err != nil {
			return err
		}
		for i, l := range bytes.Split(data, []byte("\n")) {
			if holdsName(l, name) {
				d.w.says("said.forget-still", "The name is still in {file}:{line}: take it out by hand.", "file", shownPath(d.dir, file), "line", i+1)
			}
		}
		return nil
	})
}

func holdsName(text []byte, name string) bool {
	return strings.Contains(folded(string(text)), folded(name))
}
