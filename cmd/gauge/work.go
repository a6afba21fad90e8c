package main

import (
	"context"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"time"

	"slipleaf/build/journal"
	"slipleaf/build/site"
)

// work is one piece of work for a child process.
type work struct {
	From string // the journal
	To   string // where the site goes
	Like string // where it isn't empty: a site whose files the baseline equals in number, place and size
	Days int    // after the newest entries: the day that the site is made for
}

// took is what a piece of work took.
type took struct {
	Seconds float64
	CPU     float64 // seconds of the processors, by this process and the system for it; 0: not known
	Peak    int64   // bytes of memory at the most; 0: not known
	Files   int
	Made    int // of these, made anew
	Bytes   int64
}

// ownChild does the work in a process of its own, so that its memory is its own.
func ownChild(ctx context.Context, w work) (t took, err error) {
	self, err := os.Executable()
	if err != nil {
		return t, err
	}
	text, err := json.Marshal(w)
	if err != nil {
		return t, err
	}
	cmd := exec.CommandContext(ctx, self, "-child", string(text))
	cmd.Stderr = os.Stderr
	out, err := cmd.Output()
	if err != nil {
		return t, err
	}
	return t, json.Unmarshal(out, &t)
}

func asChild(ctx context.Context, text string) error {
	var w work
	if err := json.Unmarshal([]byte(text), &w); err != nil {
		return err
	}
	t, err := do(ctx, w)
	if err != nil {
		return err
	}
	return json.NewEncoder(os.Stdout).Encode(t)
}

// do does the work in this process.
func do(ctx context.Context, w work) (t took, err error) {
	began, spent := time.Now(), processor()
	if w.Like != "" {
		t, err = baseline(ctx, w)
	} else {
		t, err = build(ctx, w)
	}
	t.Seconds = time.Since(began).Seconds()
	t.CPU, t.Peak = processor()-spent, peak()
	return t, err
}

// build makes the site as publish does.
func build(ctx context.Context, w work) (t took, err error) {
	root, err := os.OpenRoot(w.From)
	if err != nil {
		return t, err
	}
	defer root.Close()
	errors := 0
	o := site.Options{On: lastDay.Add(w.Days), Named: true}
	done, err := site.Publish(ctx, root.FS(), w.To, o, func(cs journal.Complaints) { errors = cs.Errors() })
	if err == nil && errors > 0 {
		err = fmt.Errorf("the journal has %d errors; proof shows them", errors)
	}
	return took{Files: done.Files, Made: done.Made, Bytes: done.Bytes}, err
}
