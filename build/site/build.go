package site

import (
	"context"
	"fmt"
	"slices"
	"sync/atomic"

	"slipleaf/build/page"
)

// Make makes every file of the site. The same book gives the same bytes in the same order. A site above its bounds is
// refused with [ErrTooMuch] before all of it is made.
func Make(ctx context.Context, b *page.Book, o Options) ([]page.File, error) {
	pieces, err := makePieces(ctx, b, o, func(*piece) bool { return false })
	if err != nil {
		return nil, err
	}
	files := make([]page.File, len(pieces))
	for i := range pieces {
		files[i] = pieces[i].File
	}
	return files, nil
}

// makePieces makes every file of the site that need not be kept as it stands.
func makePieces(ctx context.Context, b *page.Book, o Options, keep func(*piece) bool) ([]piece, error) {
	outputs := b.Outputs()
	if o.Outputs != nil {
		outputs = slices.DeleteFunc(outputs, func(x page.Output) bool { return !o.Outputs(x) })
	}
	pieces := make([]piece, len(outputs))
	faults := make([]error, len(outputs))
	var done atomic.Int64
	all := newAmount(o)
	err := each(ctx, len(outputs), o.Workers, func(i int) error {
		out, p := &outputs[i], &pieces[i]
		p.Path, p.from, p.make = page.PathOf(out.Addr), out.Print(), out.Make
		if !keep(p) {
			data, err := out.Make()
			if err != nil {
				faults[i] = fmt.Errorf("%s: %w", out.Addr, err)
				return faults[i]
			}
			p.Data, p.size = data, int64(len(data))
		}
		if err := all.add(p.Path, p.size); err != nil {
			return err
		}
		o.progress("pages", int(done.Add(1)), len(outputs))
		return nil
	})
	for _, f := range faults { // the first in order, not the first to fail
		if f != nil {
			return nil, f
		}
	}
	return pieces, err
}
