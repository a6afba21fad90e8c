package site

import (
	"context"
	"runtime"
	"sync/atomic"

	"golang.org/x/sync/errgroup"
)

// each does f for every number below n with some workers (0: one for each processor). The error is one of those that f
// gave; after the first no more is begun.
func each(ctx context.Context, n, workers int, f func(i int) error) error {
	if workers <= 0 {
		workers = runtime.GOMAXPROCS(0)
	}
	g, ctx := errgroup.WithContext(ctx)
	var next atomic.Int64
	for range min(workers, n) {
		g.Go(func() error {
			for {
				i := int(next.Add(1)) - 1
				if i >= n {
					return nil
				}
				if err := ctx.Err(); err != nil {
					return err
				}
				if err := f(i); err != nil {
					return err
				}
			}
		})
	}
	return g.Wait()
}
