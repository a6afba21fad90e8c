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
	texts, err := listed(w.From)
	if err != nil {
		return t, err
	}
	m := goldmark.New()
	if err := each(ctx, texts, func(f sized) error {
		text, err := os.ReadFile(filepath.Join(w.From, f.rel))
		if err != nil {
			return err
		}
		return m.Convert(bodyOf(text), io.Discard)
	}); err != nil {
		return t, err
	}
	to, err := listed(w.Like)
	if err != nil {
		return t, err
	}
	for _, f := range to {
		t.Files++
		t.Bytes += f.size
	}
	return t, writeLike(ctx, w.To, to)
}

// sized is a file by its place in a folder and its bytes.
type sized struct {
	rel  string
	size int64
}

// listed are the regular files of a folder.
func listed(dir string) (files []sized, err error) {
	err = fs.WalkDir(os.DirFS(dir), ".", func(p string, d fs.DirEntry, err error) error {
		if err != nil || !d.Type().IsRegular() {
			return err
		}
		info, err := d.Info()
		if err != nil {
			return err
		}
		files = append(files, sized{p, info.Size()})
		return nil
	})
	return files, err
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
	if err := each(ctx, files, func(f sized) error {
		return os.WriteFile(filepath.Join(dir, f.rel), filling[:f.size], 0o644)
	}); err != nil {
		return err
	}
	return syncDisk(dir)
}

// each does something with every file, as many at once as there are processors.
func each(ctx context.Context, files []sized, do func(sized) error) error {
	g, ctx := errgroup.WithContext(ctx)
	g.SetLimit(runtime.GOMAXPROCS(0))
	for _, f := range files {
		g.Go(func() error {
			if err := ctx.Err(); err != nil {
				return err
			}
			return do(f)
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
