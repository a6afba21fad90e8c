package main

import (
	"context"
	"encoding/json"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"runtime/pprof"
	"time"

	"slipleaf/build/journal"
	"slipleaf/build/site"
)

// work is one piece of work for a child process.
type work struct {
	Kind string `json:"kind"` // baseline | build | saves
	From string `json:"from"` // the journal
	To   string `json:"to"`   // where the site goes
	// Like is a site whose files the baseline equals in number, place and size.
	Like string `json:"like,omitempty"`
}

// took is what a piece of work took.
type took struct {
	Seconds float64            `json:"seconds"`
	CPU     float64            `json:"cpu"` // seconds of the processors, by this process and the system for it; 0: not known
	Phases  map[string]float64 `json:"phases,omitempty"`
	Saves   []float64          `json:"saves,omitempty"` // seconds from each write to the answer
	Peak    int64              `json:"peak"`            // bytes of memory at the most
	Files   int                `json:"files"`
	Made    int                `json:"made"`    // of these, made anew
	Written int                `json:"written"` // and written, since they came out differently
	Bytes   int64              `json:"bytes"`
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
		return t, fmt.Errorf("%s: %w", w.Kind, err)
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
	switch w.Kind {
	case "baseline":
		t, err = baseline(ctx, w)
	case "saves":
		t, err = saves(ctx, w)
	default:
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
	o := site.Options{On: lastDay, Named: true}
	done, err := site.Publish(ctx, root.FS(), w.To, o, func(cs journal.Complaints) { errors = cs.Errors() })
	if err == nil && errors > 0 {
		err = fmt.Errorf("the journal has %d errors; proof shows them", errors)
	}
	t.Phases, t.Files, t.Bytes, t.Made, t.Written = done.Phases, done.Files, done.Bytes, done.Made, done.Written
	return t, err
}

// profile builds once and writes where the processor's time went.
func profile(ctx context.Context, from, to string) error {
	f, err := os.Create(to)
	if err != nil {
		return err
	}
	defer f.Close()
	target, err := os.MkdirTemp(filepath.Dir(to), "gauge-")
	if err != nil {
		return err
	}
	defer os.RemoveAll(target)
	if err := pprof.StartCPUProfile(f); err != nil {
		return err
	}
	t, err := do(ctx, work{Kind: "build", From: from, To: filepath.Join(target, "www")})
	pprof.StopCPUProfile()
	fmt.Fprintf(os.Stderr, "%.2f s %v, %d files, %d bytes, peak %d MB\n", t.Seconds, t.Phases, t.Files, t.Bytes, t.Peak>>20)
	return err
}

// listed walks the regular files of a folder.
func listed(dir string, f func(rel string, info fs.FileInfo)) error {
	return filepath.WalkDir(dir, func(p string, d fs.DirEntry, err error) error {
		if err != nil || !d.Type().IsRegular() {
			return err
		}
		info, err := d.Info()
		if err != nil {
			return err
		}
		rel, err := filepath.Rel(dir, p)
		f(rel, info)
		return err
	})
}
