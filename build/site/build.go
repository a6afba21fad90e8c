package site

import (
	"context"
	"fmt"
	"runtime"
	"slices"
	"sync/atomic"

	"golang.org/x/sync/errgroup"

	"slipleaf/build/page"
)

// Make makes every file of the site. The same book gives the same bytes in the same order. A site above its bounds is
// refused with [ErrTooMuch] before all of it is made.
func Make(ctx context.Context, b *page.Book, o Options) ([]page.File, error) {
	outputs := b.Outputs()
	if o.Outputs != nil {
		outputs = slices.DeleteFunc(outputs, func(x page.Output) bool { return !o.Outputs(x) })
	}
	files := make([]page.File, len(outputs))
	workers := o.Workers
	if workers <= 0 {
		workers = runtime.GOMAXPROCS(0) // pages are bound by the processor
	}
	g, ctx := errgroup.WithContext(ctx)
	g.SetLimit(workers)
	faults := make([]error, len(outputs))
	var done atomic.Int64
	all := newAmount(o)
	for i, out := range outputs {
		g.Go(func() error {
			if err := ctx.Err(); err != nil {
				return err
			}
			data, err := out.Make()
			if err != nil {
				faults[i] = fmt.Errorf("%s: %w", out.Addr, err)
				return faults[i]
			}
			files[i] = page.File{Path: page.PathOf(out.Addr), Data: data}
			if err := all.add(files[i]); err != nil {
				return err
			}
			o.progress("pages", int(done.Add(1)), len(outputs))
			return nil
		})
	}
	err := g.Wait()
	for _, f := range faults { // the first in order, not the first to fail
		if f != nil {
			return nil, f
		}
	}
	return files, err
}
