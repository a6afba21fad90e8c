package main

import (
	"context"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"

	"slipleaf/build/site"
)

// measured is what was measured of a journal, by kind of work.
type measured struct {
	Journal size
	Files   int // of the site
	Bytes   int64
	Rounds  map[string][]took
}

// span is the least, the middle and the most of some figures.
type span struct{ Min, Median, Max float64 }

// spread is by how much the most is more than the least, as a share of the middle.
func (s span) spread() float64 { return (s.Max - s.Min) / s.Median }

func spanOf(x []float64) span {
	x = slices.Sorted(slices.Values(x))
	return span{x[0], (x[(len(x)-1)/2] + x[len(x)/2]) / 2, x[len(x)-1]}
}

// kinds are the kinds of work, in the order in which each round does them. The first change after a full build lays the
// whole site out beside itself; the one after it has a spare.
var kinds = []string{"baseline", "full", "unchanged", "one entry", "another entry", "another day"}

// measure makes a journal and does all kinds of work in turn, so that what else the machine does meets all alike.
func measure(ctx context.Context, s size, rounds int, by func(context.Context, work) (took, error)) (measured, error) {
	r := measured{Journal: s, Rounds: map[string][]took{}}
	dir, err := os.MkdirTemp("", "gauge-")
	if err != nil {
		return r, err
	}
	defer os.RemoveAll(dir)
	from, like := filepath.Join(dir, "journal"), filepath.Join(dir, "like")
	if err := writeJournal(from, s); err != nil {
		return r, err
	}
	first, err := by(ctx, work{From: from, To: like}) // also warms the disk's cache
	if err != nil {
		return r, err
	}
	r.Files, r.Bytes = first.Files, first.Bytes
	for i := range rounds {
		for _, kind := range kinds {
			t, err := piece(ctx, dir, kind, i, by)
			if err != nil {
				return r, err
			}
			r.Rounds[kind] = append(r.Rounds[kind], t)
		}
	}
	return r, nil
}

// piece does one kind of work, with the disk at rest before it.
func piece(ctx context.Context, dir, kind string, round int, by func(context.Context, work) (took, error)) (took, error) {
	w := work{From: filepath.Join(dir, "journal"), To: filepath.Join(dir, "www")}
	switch kind {
	case "baseline":
		w.Like, w.To = filepath.Join(dir, "like"), filepath.Join(dir, "baseline")
		defer os.RemoveAll(w.To)
	case "full":
		for _, x := range append(site.Beside(w.To), w.To) {
			if err := os.RemoveAll(x); err != nil {
				return took{}, err
			}
		}
	case "one entry", "another entry":
		if err := touch(w.From, round); err != nil {
			return took{}, err
		}
	case "another day":
		w.Days = 1
	}
	if err := syncDisk(dir); err != nil {
		return took{}, err
	}
	return by(ctx, w)
}

// touch adds a sentence to the first entry of the first tank.
func touch(journal string, round int) error {
	found, err := filepath.Glob(filepath.Join(journal, "tanks", tankID(0), "2*.md"))
	if err != nil || len(found) == 0 {
		return fmt.Errorf("no entry to change: %v", err)
	}
	f, err := os.OpenFile(found[0], os.O_APPEND|os.O_WRONLY, 0)
	if err != nil {
		return err
	}
	defer f.Close()
	_, err = fmt.Fprintf(f, "\nLooked at again, for time %d.\n", round+1)
	return err
}

// noisy is a spread of the baseline's processor time above which the machine has other work, so that figures say little.
const noisy = 0.2

// of are the seconds by the clock and of the processors, and the most memory, of one kind of work.
func (r measured) of(kind string) (clock, processors span, peak int64) {
	var by, cpu []float64
	for _, t := range r.Rounds[kind] {
		by, cpu, peak = append(by, t.Seconds), append(cpu, t.CPU), max(peak, t.Peak)
	}
	return spanOf(by), spanOf(cpu), peak
}

// print shows the least of all rounds: what else a machine does only adds to it.
func (r measured) print(w io.Writer) {
	s := r.Journal
	fmt.Fprintf(w, "%d entries, %d species, %d parcels, %d tanks: %d files, %.1f MB; %d rounds\n\n",
		s.Entries, s.Species, s.Parcels, s.Tanks, r.Files, float64(r.Bytes)/1e6, len(r.Rounds["baseline"]))
	baseClock, baseCPU, _ := r.of("baseline")
	if spread := baseCPU.spread(); spread > noisy {
		fmt.Fprintf(w, "A noisy machine: the processor time of the baseline differs by %.0f %% between rounds. Measure again when it is quiet.\n\n", 100*spread)
	}
	fmt.Fprintln(w, "| work | seconds: least (median, most) | × baseline | processor seconds | × baseline | processors busy | peak memory |\n|---|---|---|---|---|---|---|")
	for _, kind := range kinds {
		clock, cpu, peak := r.of(kind)
		fmt.Fprintf(w, "| %s | %.2f (%.2f, %.2f) | %.2f | %.2f (%.2f, %.2f) | %.2f | %.1f | %d MB |\n",
			kind, clock.Min, clock.Median, clock.Max, clock.Min/baseClock.Min,
			cpu.Min, cpu.Median, cpu.Max, cpu.Min/baseCPU.Min, cpu.Median/clock.Median, peak>>20)
	}
}
