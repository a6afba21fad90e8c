package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"strings"
	"sync"
	"time"
)

// step is one check. It returns how many things it checked and how many of them failed; an error counts as one.
type step struct {
	name string
	run  func(ctx context.Context, c *checker) (passed, failed int, err error)
}

// errMissing says that a step could not run for want of a tool. With CI=true that is a failure.
var errMissing = errors.New("not here and not installable")

// errOutOfReach says that a step needs a list that only the open network has. It is said, and is neither pass nor failure.
var errOutOfReach = errors.New("out of reach from here")

// checker runs the steps in order and keeps their results.
type checker struct {
	out    io.Writer
	ci     bool
	long   bool
	only   string
	fuzz   time.Duration                         // how long each fuzz target runs; negative: as -long has it
	target string                                // a word in the names of those that do
	tried  func(target string, inputs int) error // is told how many inputs a target tried; nil: nobody asks
	tmp    string                                // a folder for what the steps make; removed at the end
}

// steps lists the checks in the order in which they run.
func steps() []step {
	return []step{
		{"install", install},
		{"gofmt", gofmt},
		{"vet", vet},
		{"staticcheck", staticcheck},
		{"modules", modules},
		{"vulnerable", vulnerable},
		{"tests", tests},
		{"race", race},
		{"browser", browser},
		{"fuzz", fuzz},
	}
}

// whole writes what one step says at a time, for those that do several things at once.
type whole struct {
	mu sync.Mutex
	to io.Writer
}

func (w *whole) Write(b []byte) (int, error) {
	w.mu.Lock()
	defer w.mu.Unlock()
	return w.to.Write(b)
}

type result struct {
	step           string
	passed, failed int
	took           time.Duration
	err            error
}

// run runs every step, prints the summary, and reports whether all is well.
func (c *checker) run(ctx context.Context) bool {
	tmp, err := os.MkdirTemp("", "slipleaf-check-")
	if err != nil {
		fmt.Fprintln(c.out, err)
		return false
	}
	defer os.RemoveAll(tmp)
	c.tmp, c.out = tmp, &whole{to: c.out}
	var results []result
	for _, s := range steps() {
		if ctx.Err() != nil {
			break
		}
		if c.only != "" && !strings.Contains(s.name, c.only) && s.name != "install" {
			continue
		}
		fmt.Fprintf(c.out, "== %s\n", s.name)
		began := time.Now()
		r := result{step: s.name}
		r.passed, r.failed, r.err = s.run(ctx, c)
		r.took = time.Since(began)
		if r.err != nil {
			fmt.Fprintf(c.out, "   %v\n", r.err)
		}
		results = append(results, r)
	}
	return c.summary(ctx, results)
}

// summary prints a line for each step and, last, the count.
func (c *checker) summary(ctx context.Context, results []result) bool {
	passed, failed := 0, 0
	fmt.Fprintln(c.out, "\nsummary")
	for _, r := range results {
		word := "ok"
		switch {
		case errors.Is(r.err, errOutOfReach), errors.Is(r.err, errMissing) && !c.ci:
			word = "could not run"
		case r.err != nil:
			word = "FAILED"
			r.failed++
		case r.failed > 0:
			word = "FAILED"
		}
		fmt.Fprintf(c.out, "  %-14s %-22s %6d passed %4d failed %8.1f s\n", word, r.step, r.passed, r.failed, r.took.Seconds())
		passed, failed = passed+r.passed, failed+r.failed
	}
	if ctx.Err() != nil {
		fmt.Fprintln(c.out, "  stopped before the end")
		failed++
	}
	fmt.Fprintf(c.out, "\n%d passed, %d failed\n", passed, failed)
	return failed == 0
}
