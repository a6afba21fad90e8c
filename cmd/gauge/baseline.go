package main

import (
	"bytes"
	"context"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"

	"github.com/yuin/goldmark"
	"golang.org/x/sync/errgroup"
)

// baseline does the least that any build must: it reads every file, turns each body into HTML with the parser that the
// build rests on, and writes as many files of as many bytes to a fresh folder, with as many workers as the build has
// and one sync at the end. It knows no heads, links, sums or templates.
func baseline(ctx context.Context, w work) (t took, err error) {
	var names []string
	if err := listed(w.From, func(rel string, _ fs.FileInfo) { names = append(names, rel) }); err != nil {
		return t, err
	}
	m := goldmark.New()
	if err := each(ctx, len(names), func(i int) error {
		text, err := os.ReadFile(filepath.Join(w.From, names[i]))
		if err != nil {
			return err
		}
		return m.Convert(bodyOf(text), io.Discard)
	}); err != nil {
		return t, err
	}
	var to []sized
	if err := listed(w.Like, func(rel string, info fs.FileInfo) { to = append(to, sized{rel, info.Size()}) }); err != nil {
		return t, err
	}
	for _, f := range to {
		t.Files++
		t.Bytes += f.size
	}
	return t, writeLike(ctx, w.To, to)
}

// sized is a file to be written.
type sized struct {
	rel  string
	size int64
}

func writeLike(ctx context.Context, dir string, files []sized) error {
	most := int64(0)
	made := map[string]bool{}
	for _, f := range files {
		most = max(most, f.size)
		if sub := filepath.Dir(f.rel); !made[sub] {
			made[sub] = true
			if err := os.MkdirAll(filepath.Join(dir, sub), 0o755); err != nil {
				return err
			}
		}
	}
	filling := bytes.Repeat([]byte("the same leaf again\n"), int(most)/20+1)
	if err := each(ctx, len(files), func(i int) error {
		return os.WriteFile(filepath.Join(dir, files[i].rel), filling[:files[i].size], 0o644)
	}); err != nil {
		return err
	}
	return syncDisk(dir)
}

// each does n things, as many at once as there are processors.
func each(ctx context.Context, n int, f func(i int) error) error {
	g, ctx := errgroup.WithContext(ctx)
	g.SetLimit(runtime.GOMAXPROCS(0))
	for i := range n {
		g.Go(func() error {
			if err := ctx.Err(); err != nil {
				return err
			}
			return f(i)
		})
	}
	return g.Wait()
}

// bodyOf is what follows a head.
func bodyOf(text []byte) []byte {
	if rest, ok := bytes.CutPrefix(text, []byte("---\n")); ok {
		if _, body, ok := bytes.Cut(rest, []byte("\n---\n")); ok {
			return body
		}
	}
	return text
}
