package journal

import (
	"bytes"
	"context"
	"io/fs"

	"slipleaf/build/head"
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
	w := &walk{fsys: fsys, limits: limits.orDefault()}
	if err := w.all(ctx); err != nil {
		return nil, err
	}
	var out []Usual
	scan := new(head.Scanner)
	for _, f := range w.files {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		data, _, whole, err := slurp(fsys, f.path, w.limits.FileBytes)
		if err != nil {
			return nil, err
		}
		d := &decoder{file: f.path, limits: w.limits, scan: scan}
		u := Usual{Path: f.path, Name: f.path, Before: data, After: data}
		if clean, ok := d.clean(data); ok && whole && f.kind != friendFile {
			p := &part{found: f}
			p.meant(d, clean)
			u.After = usual.Into(data, string(clean), string(p.usual))
		}
		if f.name != "" {
			u.Name = f.name
		}
		if u.Name != u.Path || !bytes.Equal(u.Before, u.After) {
			out = append(out, u)
		}
	}
	return out, nil
}
