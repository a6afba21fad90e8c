package site

import (
	"context"

	"slipleaf/build/facts"
	"slipleaf/build/page"
	"slipleaf/build/theme"
)

// Make makes every file of the site at once. The same site gives the same bytes in the same order. A site above its bounds is
// refused with [ErrTooMuch] before all of it is made.
func Make(ctx context.Context, b *page.Site, o Options) ([]theme.File, error) {
	outputs := outputsOf(b, o)
	files := make([]theme.File, len(outputs))
	for i, out := range outputs {
		files[i].Path = page.PathOf(out.Addr)
	}
	err := makeAll(ctx, outputs, o, func(int) (int64, bool) { return 0, false }, func(i int, data []byte, _ []facts.Key) error {
		files[i].Data = data
		return nil
	})
	if err != nil {
		return nil, err
	}
	return files, nil
}

// Place puts files at a target in one step: a new folder beside it, in which what did not change is the same file as
// before, then an exchange of the two. If anything fails the old site stays untouched. A target that holds anything that
// is not ours is refused with [ErrNotOurs].
func Place(ctx context.Context, to string, files []theme.File) (Placed, error) {
	t, err := openTarget(to, Options{Named: true})
	if err != nil {
		return Placed{}, err
	}
	defer t.close()
	pl := &placing{target: t, outputs: make([]output, len(files))}
	for i, f := range files {
		pl.outputs[i].Path = f.Path
	}
	unlock, err := pl.begin(ctx)
	if err != nil {
		return Placed{}, err
	}
	defer unlock()
	if err := each(ctx, len(files), 0, func(i int) error { return pl.take(&pl.outputs[i], files[i].Data) }); err != nil {
		return Placed{}, err
	}
	return pl.finish(ctx)
}
