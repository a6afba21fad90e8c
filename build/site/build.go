package site

import (
	"context"
	"fmt"
	"slices"
	"sync/atomic"

	"slipleaf/build/facts"
	"slipleaf/build/page"
)

// outputsOf are the outputs that are wanted.
func outputsOf(b *page.Site, o Options) []page.Output {
	if o.only == nil {
		return b.Outputs()
	}
	return slices.DeleteFunc(b.Outputs(), func(x page.Output) bool { return !o.only(x) })
}

// makeAll makes every output but those that are kept, whose size it is told, and hands over what it made, with what that was made from.
func makeAll(ctx context.Context, outputs []page.Output, o Options, keep func(i int) (int64, bool), take func(i int, data []byte, read []facts.Key) error) error {
	faults := make([]error, len(outputs))
	var done atomic.Int64
	all := newAmount(o)
	err := each(ctx, len(outputs), o.Workers, func(i int) error {
		size, kept := keep(i)
		if !kept {
			data, read, err := outputs[i].Record()
			if err != nil {
				faults[i] = fmt.Errorf("%s: %w", outputs[i].Addr, err)
				return faults[i]
			}
			if err := take(i, data, read); err != nil {
				return err
			}
			size = int64(len(data))
		}
		if err := all.add(page.PathOf(outputs[i].Addr), size); err != nil {
			return err
		}
		o.progress("pages", int(done.Add(1)), len(outputs))
		return nil
	})
	for _, f := range faults { // the first in order, not the first to fail
		if f != nil {
			return f
		}
	}
	return err
}
