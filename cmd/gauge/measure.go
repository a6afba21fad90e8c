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

// measured is what gauge prints.
type measured struct {
	Journal size             `json:"journal"`
	Files   int              `json:"files"` // of the site
	Bytes   int64            `json:"bytes"`
	Rounds  int              `json:"rounds"`
	Work    map[string]spent `json:"work"`
	Saves   waits            `json:"saves"` // of the preview
}

// spent is what one kind of work took over the rounds.
type spent struct {
	Seconds  span            `json:"seconds"`
	CPU      span            `json:"cpu"`       // seconds of the processors: steadier where the machine has other work
	Ratio    span            `json:"ratio"`     // seconds to those of the baseline of the same round
	CPURatio span            `json:"cpu-ratio"` // the same of the processors' seconds
	Busy     span            `json:"busy"`      // processors at work, on average
	Phases   map[string]span `json:"phases,omitempty"`
	Peak     int64           `json:"peak"` // bytes, the most of all rounds
}

// span is the least, the middle and the most of some figures.
type span struct {
	Min    float64 `json:"min"`
	Median float64 `json:"median"`
	Max    float64 `json:"max"`
}

// spread is by how much the most is more than the least, as a share of the middle.
func (s span) spread() float64 { return (s.Max - s.Min) / s.Median }

func spanOf(x []float64) span {
	x = slices.Sorted(slices.Values(x))
	return span{x[0], (x[(len(x)-1)/2] + x[len(x)/2]) / 2, x[len(x)-1]}
}

// kinds are the kinds of work, in the order in which each round does them. The first change after a full build lays the
// whole site out beside itself; those after it have a spare.
var kinds = []string{"baseline", "full", "unchanged", "one entry", "another entry", "preview"}

// measure makes a journal and does all kinds of work in turn, so that what else the machine does meets all alike.
func measure(ctx context.Context, s size, rounds int, by func(context.Context, work) (took, error)) (measured, error) {
	r := measured{Journal: s, Rounds: rounds, Work: map[string]spent{}}
	dir, err := os.MkdirTemp("", "gauge-")
	if err != nil {
		return r, err
	}
	defer os.RemoveAll(dir)
	from, like := filepath.Join(dir, "journal"), filepath.Join(dir, "like")
	if err := writeJournal(from, s); err != nil {
		return r, err
	}
	first, err := by(ctx, work{Kind: "build", From: from, To: like}) // also warms the disk's cache
	if err != nil {
		return r, err
	}
	r.Files, r.Bytes = first.Files, first.Bytes
	all := map[string][]took{}
	for i := range rounds {
		for _, kind := range kinds {
			t, err := piece(ctx, dir, kind, i, by)
			if err != nil {
				return r, err
			}
			all[kind] = append(all[kind], t)
		}
	}
	r.sum(all)
	return r, nil
}

// piece does one kind of work, with the disk at rest before it.
func piece(ctx context.Context, dir, kind string, round int, by func(context.Context, work) (took, error)) (took, error) {
	w := work{Kind: "build", From: filepath.Join(dir, "journal"), To: filepath.Join(dir, "www")}
	switch kind {
	case "baseline":
		w.Kind, w.Like, w.To = kind, filepath.Join(dir, "like"), filepath.Join(dir, "baseline")
		defer os.RemoveAll(w.To)
	case "full":
		for _, x := range append(site.Beside(w.To), w.To) {
			if err := os.RemoveAll(x); err != nil {
				return took{}, err
			}
		}
	case "preview":
		w.Kind = "saves"
	case "one entry", "another entry":
		if err := touch(w.From, round); err != nil {
			return took{}, err
		}
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

func (r *measured) sum(all map[string][]took) {
	var served []float64
	for _, t := range all["preview"] {
		served = append(served, t.Saves...)
	}
	r.Saves = waitsOf(served)
	for kind, ts := range all {
		of := func(f func(i int) float64) span {
			x := make([]float64, len(ts))
			for i := range ts {
				x[i] = f(i)
			}
			return spanOf(x)
		}
		base := all["baseline"]
		s := spent{Phases: map[string]span{},
			Seconds:  of(func(i int) float64 { return ts[i].Seconds }),
			CPU:      of(func(i int) float64 { return ts[i].CPU }),
			Ratio:    of(func(i int) float64 { return ts[i].Seconds / base[i].Seconds }),
			CPURatio: of(func(i int) float64 { return ts[i].CPU / base[i].CPU }),
			Busy:     of(func(i int) float64 { return ts[i].CPU / ts[i].Seconds })}
		for _, t := range ts {
			s.Peak = max(s.Peak, t.Peak)
		}
		for p := range ts[0].Phases {
			s.Phases[p] = of(func(i int) float64 { return ts[i].Phases[p] })
		}
		r.Work[kind] = s
	}
}

// noisy is a spread of the baseline's processor time above which the machine has other work, so that figures say little.
const noisy = 0.2

func (r measured) print(w io.Writer) {
	fmt.Fprintf(w, "%d entries, %d species, %d parcels, %d tanks: %d files, %.1f MB; %d rounds\n\n", r.Journal.Entries, r.Journal.Species, r.Journal.Parcels, r.Journal.Tanks, r.Files, float64(r.Bytes)/1e6, r.Rounds)
	if spread := r.Work["baseline"].CPU.spread(); spread > noisy {
		fmt.Fprintf(w, "A noisy machine: the processor time of the baseline differs by %.0f %% between rounds. Measure again when it is quiet.\n\n", 100*spread)
	}
	fmt.Fprintf(w, "| work | seconds: least (median, most) | × baseline | processor seconds | × baseline | processors busy | peak memory |\n|---|---|---|---|---|---|---|\n")
	for _, k := range kinds {
		if k == "preview" {
			continue // its time is that of its saves
		}
		x := r.Work[k]
		fmt.Fprintf(w, "| %s | %.2f (%.2f, %.2f) | %.2f | %.2f (%.2f, %.2f) | %.2f | %.1f | %d MB |\n", k, x.Seconds.Min, x.Seconds.Median, x.Seconds.Max, x.Ratio.Min,
			x.CPU.Min, x.CPU.Median, x.CPU.Max, x.CPURatio.Min, x.Busy.Median, x.Peak>>20)
	}
	p := r.Work["full"].Phases
	fmt.Fprintf(w, "\nfull: read %.2f s, make %.2f s, write %.2f s (medians)\n", p["read"].Median, p["make"].Median, p["write"].Median)
	fmt.Fprintf(w, "preview: a save is served after %.0f ms (median of %d; %.0f–%.0f, 95 %% within %.0f ms); peak memory %d MB\n",
		1000*r.Saves.Median, r.Saves.N, 1000*r.Saves.Min, 1000*r.Saves.Max, 1000*r.Saves.P95, r.Work["preview"].Peak>>20)
}
