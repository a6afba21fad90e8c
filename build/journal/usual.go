package journal

import (
	"bytes"
	"context"
	"errors"
	"io/fs"

	"slipleaf/build/head"
	"slipleaf/build/listing"
	"slipleaf/build/usual"
)

// Usual is a file of a journal and the usual form of its name and text, which mean the same.
type Usual struct {
	Path, Name    string // Name is Path where that is in its usual form
	Before, After []byte
}

// InUsualForm lists the files of a journal that are read otherwise than they are written, as they would be in the usual
// form. The ends of lines and a byte order mark stay.
func InUsualForm(ctx context.Context, fsys fs.FS, limits Limits) ([]Usual, error) {
	limits = limits.orDefault()
	w, err := listing.Of(ctx, fsys, limits.Files)
	switch {
	case err != nil:
		return nil, err
	case !w.Whole:
		return nil, errors.New("too many files")
	}
	var out []Usual
	scan := new(head.Scanner)
	for _, f := range w.Files {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		data, _, whole, err := slurp(fsys, f.Path, limits.FileBytes)
		if err != nil {
			return nil, err
		}
		d := &decoder{file: f.Path, limits: limits, scan: scan}
		u := Usual{Path: f.Path, Name: f.Path, Before: data, After: data}
		if clean, ok := d.clean(data); ok && whole && f.Kind != listing.FriendFile {
			p := &part{File: f}
			p.meant(d, clean)
			u.After = usual.Into(data, string(clean), string(p.usual))
		}
		if f.Name != "" {
			u.Name = f.Name
		}
		if u.Name != u.Path || !bytes.Equal(u.Before, u.After) {
			out = append(out, u)
		}
	}
	return out, nil
}
